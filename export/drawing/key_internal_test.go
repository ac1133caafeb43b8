package drawing

import (
	"math"
	"testing"

	"runnel/export/drawing/scene"
	"runnel/export/record"
)

// The samples of the key stand in their room, and reach over most of it where they are lines: nothing of a sample runs into the words beside it.
func TestSamplesStandInTheirRoom(t *testing.T) {
	for _, u := range []record.Units{record.SI, record.US} {
		p := &plan{u: u}
		rows := append(p.waterRows(), p.roofRows()...)
		if len(rows) < 20 {
			t.Fatalf("%d rows", len(rows))
		}
		for _, row := range rows {
			l := &scene.Layer{}
			r := scene.Rect{X: 30, Y: 40, W: 7, H: 3.5}
			row.draw(l, r)
			low, high := scene.Point{X: math.Inf(1), Y: math.Inf(1)}, scene.Point{X: math.Inf(-1), Y: math.Inf(-1)}
			add := func(q scene.Point) {
				low.X, low.Y, high.X, high.Y = math.Min(low.X, q.X), math.Min(low.Y, q.Y), math.Max(high.X, q.X), math.Max(high.Y, q.Y)
			}
			for _, s := range l.Shapes {
				for _, path := range s.Paths {
					for _, q := range path {
						add(q)
					}
				}
			}
			for _, text := range l.Texts {
				add(text.At)
			}
			const over = 0.35 // of a symbol that is larger than the room is high [mm]
			if low.X < r.X-over || high.X > r.X+r.W+over || low.Y < r.Y-over || high.Y > r.Y+r.H+over || high.X-low.X < 1 {
				t.Errorf("%s: from %.2f, %.2f to %.2f, %.2f in %+v", row.name, low.X, low.Y, high.X, high.Y, r)
			}
		}
	}
}
