package nextspot

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// By hand: the corners of a right triangle of 6 by 3 m lie on the circle about the middle of its longest side; its own middle is a third of the way
// up from both legs.
func TestMiddles(t *testing.T) {
	tin := &surface.TIN{X: []float64{1, 7, 1}, Y: []float64{2, 2, 5}, V: []int32{0, 1, 2}}
	p, r, ok := circle(tin, 0)
	if !ok || !(math.Abs(p[0]-4) <= 1e-12) || !(math.Abs(p[1]-3.5) <= 1e-12) || !(math.Abs(r-math.Sqrt(9+2.25)) <= 1e-12) {
		t.Errorf("circle about %v, %g m", p, r)
	}
	if m := middle(tin, 0); !(math.Abs(m[0]-3) <= 1e-12) || !(math.Abs(m[1]-3) <= 1e-12) {
		t.Errorf("middle %v", m)
	}
	for at, want := range map[orb.Point]bool{{3, 3}: true, {6.9, 2.01}: true, {5, 4}: false, {0.9, 3}: false, {3, 1.9}: false} {
		if holds(tin, 0, at) != want {
			t.Errorf("%v: in the facet %v", at, !want)
		}
	}
}
