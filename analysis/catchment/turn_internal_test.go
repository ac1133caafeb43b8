package catchment

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// From straight back on the right over straight on to straight back on the left turns rise, however long the legs are and wherever they point; by hand a turn to the right is -1, straight on 0, to the left 1.
func TestTurnsRise(t *testing.T) {
	for k := range 16 {
		sin, cos := math.Sincos(2*math.Pi*float64(k)/16 + 0.1)
		b := orb.Point{3, -7}
		a := orb.Point{b[0] - 2.5*cos, b[1] - 2.5*sin}
		to := func(angle, length float64) float64 {
			s, c := math.Sincos(angle)
			return turnLeft(a, b, orb.Point{b[0] + length*(cos*c-sin*s), b[1] + length*(sin*c+cos*s)})
		}
		last := -2.1
		for i := 1; i < 72; i++ {
			got := to(math.Pi*(float64(i)/36-1), 0.3+float64(i%5))
			if !(got > last) || got < -2 || got > 2 {
				t.Fatalf("towards %d, turn %d: %g after %g", k, i, got, last)
			}
			last = got
		}
		for angle, want := range map[float64]float64{-math.Pi / 2: -1, 0: 0, math.Pi / 2: 1, math.Pi / 3: 0.5, -math.Pi / 3: -0.5} {
			if got := to(angle, 4); !(math.Abs(got-want) <= 1e-9) {
				t.Errorf("towards %d, a turn of %g: %g, want %g", k, angle, got, want)
			}
		}
	}
}

// The leading way of an outlet is the one with ponds full, the dry one where there is no other.
func TestLeadingWays(t *testing.T) {
	c := &Catchments{Longest: []Path{{Outlet: 0}, {Outlet: 1}, {Outlet: 1, Full: true}, {Outlet: 2, Full: true}, {Outlet: 4}, {Outlet: 5}}}
	for i, want := range []bool{true, false, true, true, true, true} {
		if got := c.Leading(i); got != want {
			t.Errorf("%d: %t", i, got)
		}
	}
	c.Longest = c.Longest[:2]
	if !c.Leading(1) {
		t.Error("a dry way that stands last leads")
	}
}
