package settle_test

import (
	"testing"

	"runnel/analysis/geometry/shape"
)

// By hand: nine spots on 100 m2 have a square of 10/3 m to themselves, 1.25 of that are 4.17 m, so each of the four that stand 3 m from two walls gives both a foot; of 16 spots it
// is 3.13 m; of 37 it is 2.06 m, and none stands so near.
func TestSpotsFartherThanASpacingGiveNoFeet(t *testing.T) {
	for _, c := range []struct{ more, want int }{{5, 4 + 4 + 5 + 8}, {12, 4 + 4 + 12 + 8}, {33, 4 + 4 + 33}} {
		r := bare()
		for i := range c.more { // all in the middle, which is not near any wall
			shape.Spot(r, 4.6+0.13*float64(i%7), 4.6+0.15*float64(i/7), 1)
		}
		if s := build(t, r); len(s.TIN.X) != c.want || s.AssumedShare != 0.84 {
			t.Errorf("%d spots: %d vertices, assumed share %g, want %d and 0.84", 4+c.more, len(s.TIN.X), s.AssumedShare, c.want)
		}
	}
}
