package scene_test

import (
	"reflect"
	"testing"

	"runnel/export/drawing/scene"
)

// By hand, on a square from 0 to 10: of a square from 5 to 15 a quarter is left, its line in one piece of 10 mm with a corner that does not follow the border; a line
// that leaves and comes back falls into two.
func TestClip(t *testing.T) {
	r := scene.Rect{W: 10, H: 10}
	square := scene.Shape{Paths: [][]scene.Point{{{X: 5, Y: 5}, {X: 15, Y: 5}, {X: 15, Y: 15}, {X: 5, Y: 15}}}, Closed: true, Fill: "#FFFFFF", Stroke: "#000000"}
	got := scene.Clip(square, r)
	if len(got) != 2 || !got[0].Closed || got[0].Stroke != "" || got[1].Closed || got[1].Fill != "" {
		t.Fatalf("%+v", got)
	}
	area := 0.0
	for i, a := range got[0].Paths[0] {
		b := got[0].Paths[0][(i+1)%len(got[0].Paths[0])]
		area += (a.X*b.Y - b.X*a.Y) / 2
	}
	length := 0.0
	for _, p := range got[1].Paths {
		for i := 1; i < len(p); i++ {
			length += scene.Distance(p[i-1], p[i])
			if p[i-1].X == 10 && p[i].X == 10 || p[i-1].Y == 10 && p[i].Y == 10 {
				t.Errorf("a line along the border: %v", p)
			}
		}
	}
	if area != 25 || length != 10 {
		t.Errorf("area %g, line %g", area, length)
	}
	line := scene.Shape{Paths: [][]scene.Point{{{X: 1, Y: 5}, {X: 20, Y: 5}, {X: 20, Y: 6}, {X: 1, Y: 6}}}, Stroke: "#000000"}
	if got := scene.Clip(line, r); len(got) != 1 || len(got[0].Paths) != 2 || got[0].Paths[0][1].X != 10 || got[0].Paths[1][0].X != 10 {
		t.Errorf("%+v", got)
	}
	bent := scene.Shape{Paths: [][]scene.Point{{{X: 1, Y: 5}, {X: 5, Y: 5}, {X: 5, Y: 8}, {X: 20, Y: 8}}}, Stroke: "#000000"} // one line up to the side, so that its dashes go on round its corners
	if got := scene.Clip(bent, r); len(got) != 1 || !reflect.DeepEqual(got[0].Paths, [][]scene.Point{{{X: 1, Y: 5}, {X: 5, Y: 5}, {X: 5, Y: 8}, {X: 10, Y: 8}}}) {
		t.Errorf("%+v", got)
	}
	if got := scene.Clip(scene.Shape{Paths: [][]scene.Point{{{X: 11, Y: 1}, {X: 12, Y: 2}}}, Stroke: "#000000"}, r); len(got) != 0 {
		t.Errorf("what lies beyond is drawn: %+v", got)
	}
}
