package scenetest

import (
	"strings"
	"testing"

	"runnel/export/drawing/scene"
)

// What is told of a sheet, by hand: a rectangle of 4 by 3 mm is 14 mm long and has 12 mm2, an open line of 3 and 4 mm at a right angle 7 mm and, closed by the reader, 6 mm2.
func TestTold(t *testing.T) {
	s := &scene.Scene{Width: 210, Height: 297, Title: "Roof", Marks: []scene.Mark{{Text: "Ponds", Y: 12.34}}}
	l := s.Layer("ponds")
	l.Box(scene.Rect{X: 1, Y: 2, W: 4, H: 3}, "#112233", "#445566", 0.25)
	l.Line("#000000", 1, []float64{2, 1}, scene.Point{X: 0, Y: 0}, scene.Point{X: 3, Y: 0}, scene.Point{X: 3, Y: 4})
	l.Add(scene.Shape{Paths: [][]scene.Point{{{X: 5, Y: 0}, {X: 9, Y: 0}}, {{X: 0, Y: 0}, {X: 2, Y: 0}}}, Stroke: "#000000", Butt: true}, scene.Shape{Fill: "#FFFFFF"})
	l.Texts = []scene.Text{
		{At: scene.Point{X: 1, Y: 2}, String: `a "b"`, Size: 2.5, Width: 10, Colour: "#000000"},
		{At: scene.Point{X: -0.01, Y: 2}, String: "c", Size: 2.5, Width: 10, Colour: "#000000", Bold: true, Turned: true, Anchor: scene.Middle},
		{At: scene.Point{X: 1, Y: 2}, String: "d", Size: 2.5, Width: 10, Colour: "#000000", Anchor: scene.End},
	}
	want := []string{
		"page 1, 210.0 by 297.0: Roof",
		" layer ponds",
		"  filled #112233 line #445566 0.25[] closed 4 in 1: from 1.0 2.0, box 1.0 2.0 5.0 5.0, 14 long, area 12",
		"  line #000000 1.00[2 1] 3 in 1: from 0.0 0.0, box 0.0 0.0 3.0 4.0, 7 long, area 6",
		"  line #000000 0.00[] butt 4 in 2: from 5.0 0.0, box 0.0 0.0 9.0 0.0, 6 long, area 0",
		"  filled #FFFFFF nothing",
		`  1.0 2.0 "a \"b\"" #000000 10.0 2.50`,
		`  -0.0 2.0 "c" #000000 10.0 2.50 bold turned middle`,
		`  1.0 2.0 "d" #000000 10.0 2.50 end`,
		" mark 12.3 Ponds",
		"",
	}
	got := strings.Split(Told([]*scene.Scene{s}), "\n")
	for i := range max(len(want), len(got)) {
		if i >= len(want) || i >= len(got) || got[i] != want[i] {
			t.Errorf("line %d of %d: %q, want %q", i+1, len(got), got[min(i, len(got)-1)], want[min(i, len(want)-1)])
		}
	}
}
