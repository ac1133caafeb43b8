package roof_test

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

// The deepest sounding stands for the place of a water, the first of equals; without any the mean of the marks: by hand (1 + 4 + 4 + 1) / 4 and
// (2 + 2 + 8 + 8) / 4.
func TestDeepestPlaceOfAWater(t *testing.T) {
	w := roof.Water{}
	for _, p := range []orb.Point{{1, 2}, {4, 2}, {4, 8}, {1, 8}} {
		w.Edge = append(w.Edge, roof.Position{Plan: p})
	}
	if got := w.Deepest(); got != (orb.Point{2.5, 5}) {
		t.Errorf("the middle of the marks is %v", got)
	}
	w.Soundings = []roof.Sounding{{Plan: orb.Point{2, 3}, Depth: 0.01}, {Plan: orb.Point{3, 4}, Depth: 0.02}, {Plan: orb.Point{2, 6}, Depth: 0.02}}
	if got := w.Deepest(); got != (orb.Point{3, 4}) {
		t.Errorf("the deepest is %v", got)
	}
}
