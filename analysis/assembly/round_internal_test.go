package assembly

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// The places about one lie alike to all sides, as far as 3 m along either axis, nearest first.
func TestRoundIsTheSameToAllSides(t *testing.T) {
	var f finder
	steps := map[orb.Point]bool{}
	last, farthest := 0.0, 0.0
	for _, d := range f.round() {
		if far := math.Hypot(d[0], d[1]); far < last-1e-9 {
			t.Fatalf("%v comes after one %g m off", d, last)
		} else {
			last = far
		}
		farthest = math.Max(farthest, d[0])
		steps[d] = true
	}
	for d := range steps {
		if !steps[orb.Point{-d[0], d[1]}] || !steps[orb.Point{d[1], d[0]}] {
			t.Errorf("%v has no counterpart", d)
		}
	}
	if farthest != 3 {
		t.Errorf("as far as %g m", farthest)
	}
}
