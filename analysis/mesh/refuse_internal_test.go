package mesh

import (
	"strings"
	"testing"
)

// Equal points are named, both of them, whichever order they are sorted into; so is a number of points that makes no triangle.
func TestEqualPointsAreNamed(t *testing.T) {
	x, y := []int32{0, 900, 900, 0, 333, 500, 333}, []int32{0, 0, 800, 800, 444, 100, 444}
	_, err := newBuilder(x, y, make([]int32, len(x)))
	if err == nil || err.Error() != "points 4 and 6 are equal" && err.Error() != "points 6 and 4 are equal" {
		t.Errorf("%v", err)
	}
	if _, err := newBuilder(x[:2], y[:2], make([]int32, 2)); err == nil || !strings.HasPrefix(err.Error(), "2 points") {
		t.Errorf("%v", err)
	}
	if _, err := newBuilder(x[:3], y[:3], make([]int32, 3)); err != nil {
		t.Errorf("three corners: %v", err)
	}
}

// By hand: round the triangle of half-edges 6, 7 and 8.
func TestRoundATriangle(t *testing.T) {
	for e, next := range map[int32]int32{6: 7, 7: 8, 8: 6, 0: 1, 2: 0} {
		if Next(e) != next || Prev(next) != e {
			t.Errorf("after %d comes %d, before %d %d", e, Next(e), next, Prev(next))
		}
	}
}
