package place

import (
	"testing"

	"github.com/paulmach/orb"
)

// By hand: twice the area of the triangle from (1, 1) over (3, 2) to (2, 4) is 2 x 3 - 1 x 1 = 5, and of its mirror image -5.
func TestSide(t *testing.T) {
	if got := side(orb.Point{1, 1}, orb.Point{3, 2}, orb.Point{2, 4}); got != 5 {
		t.Errorf("%g, want 5", got)
	}
	if got := side(orb.Point{1, 1}, orb.Point{2, 4}, orb.Point{3, 2}); got != -5 {
		t.Errorf("%g, want -5", got)
	}
}
