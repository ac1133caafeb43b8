package drawing_test

import (
	"math"
	"strings"
	"testing"

	"runnel/cmd/demo"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
)

// On a small picture a pond's label stands nearest to its own water, so that nobody reads the depth of one pond at another.
func TestLabelsStandAtTheirOwnPonds(t *testing.T) {
	compared := 0
	for _, d := range demo.Roofs() {
		b := book(t, read(t, d))
		s := drawing.Brief(b, 90, 80)
		var water [][]scene.Point // the outline of each listed pond, in order
		for _, shape := range s.Layer("ponds").Shapes {
			if shape.Stroke == palette.Water && shape.Width == 0.45 {
				var all []scene.Point
				for _, path := range shape.Paths {
					all = append(all, path...)
				}
				water = append(water, all)
			}
		}
		for i, l := range b.Study.Listed {
			for _, label := range s.Layer("labels").Texts {
				if !strings.HasPrefix(label.String, l.ID+"  ") {
					continue
				}
				own := apartFrom(label, water[i])
				for k := range water {
					if other := apartFrom(label, water[k]); k != i {
						if compared++; other < own {
							t.Errorf("%s: %q is %.1f mm from its own pond and %.1f mm from %s", d.Stem(), label.String, own, other, b.Study.Listed[k].ID)
						}
					}
				}
			}
		}
	}
	if compared < 10 {
		t.Errorf("compared %d labels with other ponds", compared)
	}
}

// apartFrom returns how far the ends of a line of text are from the nearest of some points [mm].
func apartFrom(label scene.Text, points []scene.Point) float64 {
	w := label.Width
	from, to := label.At.X, label.At.X+w
	switch label.Anchor {
	case scene.End:
		from, to = label.At.X-w, label.At.X
	case scene.Middle:
		from, to = label.At.X-w/2, label.At.X+w/2
	case scene.Start:
	}
	least := math.Inf(1)
	for _, q := range points {
		least = min(least, math.Hypot(q.X-max(from, min(q.X, to)), q.Y-label.At.Y))
	}
	return least
}
