package drawing

import (
	"math"
	"testing"

	"runnel/export/drawing/scene"
)

// By hand: along a line of 0.4, 0 and 0.8 mm, and no farther than its end.
func TestPointAlong(t *testing.T) {
	line := []scene.Point{{X: 0, Y: 0}, {X: 0.4, Y: 0}, {X: 0.4, Y: 0}, {X: 0.4, Y: 0.8}}
	for far, want := range map[float64]scene.Point{0.1: {X: 0.1}, 0.4: {X: 0.4}, 0.6: {X: 0.4, Y: 0.2}, 1.2: {X: 0.4, Y: 0.8}, 5: {X: 0.4, Y: 0.8}} {
		if got := pointAlong(line, far); !(scene.Distance(got, want) <= 1e-9) {
			t.Errorf("%v mm along: %v, want %v", far, got, want)
		}
	}
	for i, part := range alongParts { // tenths, from the middle outwards on both sides
		if want := 0.5 + 0.1*float64((i+1)/2)*float64(1-i%2*2); !(math.Abs(part-want) <= 1e-9) {
			t.Errorf("place %d on a line is at %v, want %v", i, part, want)
		}
	}
	if got := pointAlong([]scene.Point{{X: 3, Y: 2}, {X: 3, Y: 2}}, 0); got != (scene.Point{X: 3, Y: 2}) || math.IsNaN(got.X) {
		t.Errorf("along a line that is a point: %v", got)
	}
}
