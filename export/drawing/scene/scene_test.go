package scene_test

import (
	"testing"

	"runnel/export/drawing/scene"
)

// By hand, on a square from 0 to 10.
func TestRect(t *testing.T) {
	r := scene.Rect{W: 10, H: 10}
	for _, c := range []struct {
		q                scene.Rect
		overlaps, within bool
	}{
		{scene.Rect{X: 2, Y: 2, W: 3, H: 3}, true, true},
		{scene.Rect{X: 10, Y: 2, W: 3, H: 3}, false, false},
		{scene.Rect{X: 9, Y: 9, W: 3, H: 3}, true, false},
		{scene.Rect{X: -5, Y: -5, W: 5, H: 20}, false, false},
	} {
		if c.q.Overlaps(r) != c.overlaps || r.Overlaps(c.q) != c.overlaps || c.q.Within(r) != c.within {
			t.Errorf("%+v", c.q)
		}
	}
	for _, c := range []struct {
		a, b scene.Point
		want bool
	}{
		{scene.Point{X: -5, Y: 5}, scene.Point{X: 15, Y: 5}, true},
		{scene.Point{X: 3, Y: 3}, scene.Point{X: 4, Y: 4}, true},
		{scene.Point{X: -5, Y: 0}, scene.Point{X: 0, Y: 20}, false},
		{scene.Point{X: -1, Y: 8}, scene.Point{X: 3, Y: 12}, true},
		{scene.Point{X: -3, Y: 8}, scene.Point{X: 1, Y: 12}, false},
		{scene.Point{X: 0, Y: -5}, scene.Point{X: 0, Y: 15}, false},
		{scene.Point{X: 12, Y: 5}, scene.Point{X: 15, Y: 5}, false},
	} {
		if got := r.Crosses(c.a, c.b); got != c.want {
			t.Errorf("%v to %v: %v", c.a, c.b, got)
		}
	}
}

func TestBoundsFollowTheAnchor(t *testing.T) {
	for anchor, x := range map[scene.Anchor]float64{scene.Start: 50, scene.Middle: 45, scene.End: 40} {
		text := scene.Text{At: scene.Point{X: 50, Y: 50}, Size: 2, Width: 10, Anchor: anchor}
		if got := text.Bounds(); got.X != x || got.W != 10 || got.H != 2 || !(got.Y < 50 && got.Y+got.H > 50) {
			t.Errorf("anchor %d: %+v", anchor, got)
		}
		text.Turned = true
		if got := text.Bounds(); got.W != 2 || got.H != 10 || got.Y != map[scene.Anchor]float64{scene.Start: 40, scene.Middle: 45, scene.End: 50}[anchor] {
			t.Errorf("turned, anchor %d: %+v", anchor, got)
		}
	}
}
