package cause

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// An outlet whose inlet stands over the roof at it by more than a third of the depth holds the water itself: 11 mm of 30 mm do, 9 mm do not. Where an overflow holds it, or none does, no outlet is held high.
func TestOutletThatStandsHigh(t *testing.T) {
	for _, c := range []struct {
		held int32
		over float64
		duty roof.Duty
		want bool
	}{
		{0, 0.011, roof.Primary, true}, {0, 0.009, roof.Primary, false}, {0, 0.011, roof.Overflow, false}, {-1, 0.011, roof.Primary, false},
	} {
		v := halves(1)
		v.depth, v.p.HeldBy = 0.03, c.held
		v.s.Outlets = []surface.Outlet{{Duty: c.duty, Low: 5, Invert: 5 + c.over}}
		if got := v.heldHigh(); got != c.want {
			t.Errorf("%+v: %t", c, got)
		}
	}
}

// puddle is water over all of a rectangle of a level roof with drains at (2, 2) and (12, 2).
func puddle(t *testing.T, box orb.Bound) *view {
	t.Helper()
	v := terrain(t, func(float64, float64) float64 { return 0 }, orb.Point{2, 2}, orb.Point{12, 2})
	v.p.Level = 1
	for f := range int32(v.t.Facets()) {
		inside := true
		for _, c := range v.t.V[3*f : 3*f+3] {
			inside = inside && box.Contains(orb.Point{v.t.X[c], v.t.Y[c]})
		}
		if inside {
			v.p.Facets = append(v.p.Facets, f)
		}
	}
	return v
}

// Of crickets between outlets, by hand from the shares and distances that their scores are drawn between, each half way.
func TestScoresBetweenOutletsHalfWay(t *testing.T) {
	low := puddle(t, orb.Bound{Min: orb.Point{5, 8}, Max: orb.Point{6.5, 9}})
	least := low.c.MinValleySlope
	// 1.5 m of 10 m under water, half of 0.1 to 0.2; the crown lies at 0.265 of the length, half of 0.2 to 0.33, and falls 1.125 of the least, half of
	// 1.25 to 1; the deepest water is 2.25 m off, half of 3 to 1.5; crown and depth are half told from noise (1 to 2 of its root of two)
	crown := 1.125 * least * 2.65
	low.between = between{ok: true, a: 0, b: 1, length: 10, along: [2]float64{1, 0}, off: 2.25, crown: crown, at: 2.65}
	low.depth, low.noise = crown, crown/1.5/math.Sqrt2

	// 2.5 m of 100/9 m under water, half of 0.15 to 0.3; the wall's normal leans 0.2 along the line, half of 0.3 to 0.1; the crown has 3/8 of what the
	// least slope gives on half the length, half of 1/2 to 1/4; tilt and hang are 3/4 of the least; 0.55 of the water lies along the wall, half of 0.4 to
	// 0.7; it lies 3/4 of a spacing off. Across, 2.5 by 0.5 m measure 0.2 2.5 + 0.5 sqrt(0.96) m.
	wall := puddle(t, orb.Bound{Min: orb.Point{5, 8}, Max: orb.Point{7.5, 8.5}})
	length := 100 / 9.0
	wall.between = between{ok: true, a: 0, b: 1, length: length, along: [2]float64{1, 0}, off: 0.75 * wall.scale, crown: 3.0 / 8 * least * length / 2, at: 5, tilt: 0.75 * least}
	wall.depth = 0.375 * least * length
	wall.noise = wall.depth / 1.5 / math.Sqrt2
	wall.shore.wall, wall.shore.wallIn = 0.55*2.5, [2]float64{0.2, math.Sqrt(0.96)}
	across := (2.5/(0.5+0.5*math.Sqrt(0.96)) - 1.5) / 1.5

	for _, c := range []struct {
		name string
		rule func(v *view) (Candidate, bool)
		v    *view
		want float64
	}{
		{"low crown", crownLow, low, 0.85 / 64}, {"level wall", levelWall, wall, 0.9 / 256 * across},
	} {
		got, ok := c.rule(c.v)
		if !ok || !(math.Abs(got.Score-c.want) <= 1e-9) {
			t.Errorf("%s: %g, %t, want %g", c.name, got.Score, ok, c.want)
		}
	}
}
