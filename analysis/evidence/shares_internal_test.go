package evidence

import (
	"math"
	"testing"

	"runnel/analysis/surface"
)

// By hand: a corner has all of itself, the middle a third of each, the middle of a side half of its ends; a place outside counts as on the nearest side's share.
func TestSharesOfAFacet(t *testing.T) {
	tin := &surface.TIN{X: []float64{0, 6, 0}, Y: []float64{0, 0, 3}}
	for _, c := range []struct {
		x, y float64
		want [3]float64
	}{
		{0, 0, [3]float64{1, 0, 0}},
		{6, 0, [3]float64{0, 1, 0}},
		{0, 3, [3]float64{0, 0, 1}},
		{2, 1, [3]float64{1. / 3, 1. / 3, 1. / 3}},
		{3, 1.5, [3]float64{0, 0.5, 0.5}},
		{3, 0, [3]float64{0.5, 0.5, 0}},
		{1.5, 0.75, [3]float64{0.5, 0.25, 0.25}},
		{3, -0.5, [3]float64{4. / 7, 3. / 7, 0}},
	} {
		got := shares(tin, []int32{0, 1, 2}, c.x, c.y)
		for i := range got {
			if !(math.Abs(got[i]-c.want[i]) <= 1e-12) {
				t.Errorf("(%g, %g): %v, want %v", c.x, c.y, got, c.want)
				break
			}
		}
	}
}
