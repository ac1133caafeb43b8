package domain_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/taper/domain"
)

// TestValleysOfAGauge: where two planes that fall at s in directions a angle apart meet, the valley between them falls at s cos(angle/2): 1/sqrt(2) square to each other. Of a two-way gauge, whose planes fall ratio and 1
// along and across, it is ratio/sqrt(1 + ratio^2): the level-ridge cricket.
func TestValleysOfAGauge(t *testing.T) {
	axis := orb.Point{0.8, 0.6}
	four := domain.FourWay(axis)
	near(t, "four ways", four.Valley(), math.Sqrt(0.5), 1e-12)
	for _, ratio := range []float64{0.25, 0.5, 1} {
		two := domain.TwoWay(axis, ratio)
		near(t, "two ways", two.Valley(), ratio/math.Sqrt(1+ratio*ratio), 1e-12)
		near(t, "along", two.N(orb.Point{0.8 * 3, 0.6 * 3}), 3*ratio, 1e-12)
		near(t, "across", two.N(orb.Point{0.6 * 3, -0.8 * 3}), 3, 1e-12)
	}
	near(t, "N of 5 m along and 2 m across", four.N(orb.Point{5*0.8 + 2*0.6, 5*0.6 - 2*0.8}), 5, 1e-12)
}

// TestMainEdge: the direction of the longest edges, up to quarter turns, in the half from south-east (left out) to north-east. Edges within a degree of each other count together, and point where their sum does.
func TestMainEdge(t *testing.T) {
	box := func(l, w, cos, sin float64) orb.Ring {
		p := func(x, y float64) orb.Point { return orb.Point{cos*x - sin*y, sin*x + cos*y} }
		return orb.Ring{p(0, 0), p(l, 0), p(l, w), p(0, w), p(0, 0)}
	}
	r := math.Sqrt(0.5)
	for _, c := range []struct {
		name string
		ring orb.Ring
		want orb.Point
	}{
		{"along the axes", box(4, 9, 1, 0), orb.Point{1, 0}},
		{"3-4-5 to the north-east", box(20, 10, 0.8, 0.6), orb.Point{0.8, 0.6}},
		{"steeper than 45 degrees", box(20, 10, 0.6, 0.8), orb.Point{0.8, -0.6}},
		{"to the west", box(20, 10, -0.8, -0.6), orb.Point{0.8, 0.6}},
		{"to the south-east", box(20, 10, 0.8, -0.6), orb.Point{0.8, -0.6}},
		{"at 45 degrees", box(20, 10, r, r), orb.Point{r, r}},
		// A right triangle 3-4-5: 7 m of legs beat 5 m; with legs askew by 3 degrees the long side is one of its own.
		{"legs", orb.Ring{{0, 0}, {4, 0}, {4, 3}, {0, 0}}, orb.Point{1, 0}},
		{"none", nil, orb.Point{1, 0}},
	} {
		if got := domain.Axis(c.ring); !(math.Hypot(got[0]-c.want[0], got[1]-c.want[1]) <= 1e-9) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	// Half a degree askew counts with the rest, by its length: of 30 m along and 10 m askew by a in 1 the sum rises by 10 a in 40.
	a := 0.5 * math.Pi / 180
	ring := orb.Ring{{0, 0}, {30, 0}, {30 + 10*math.Cos(a), 10 * math.Sin(a)}, {20, 3}, {0, 0}}
	got := domain.Axis(ring)
	near(t, "half a degree askew", math.Atan2(got[1], got[0]), math.Atan2(10*math.Sin(a), 30+10*math.Cos(a)), 1e-9)
	// Two degrees askew does not.
	a = 2 * math.Pi / 180
	got = domain.Axis(orb.Ring{{0, 0}, {30, 0}, {30 + 10*math.Cos(a), 10 * math.Sin(a)}, {20, 3}, {0, 0}})
	near(t, "two degrees askew", got[1], 0, 1e-12)
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %.2g", what, got, want, tolerance)
	}
}
