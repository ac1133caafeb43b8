package drawing_test

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
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

// Where there are more ponds than a small picture can name, the worst are named, where they spill is not drawn, and nothing refers to a list
// that a picture does not have.
func TestManyPondsOnASmallPicture(t *testing.T) {
	r := &roof.Roof{Name: "dishes", Frame: roof.NewLocal(orb.Point{}, quantity.Metres), Units: quantity.Metres}
	corner := func(x, y float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}} }
	r.Outline.Rings = [][]roof.Position{{corner(0, 0), corner(60, 0), corner(60, 60), corner(0, 60), corner(0, 0)}}
	for x := 0.5; x < 60; x++ {
		for y := 0.5; y < 60; y++ {
			deep := 0.02 + 0.0005*math.Floor(x/10) + 0.003*math.Floor(y/10)
			z := 10 - deep*math.Max(0, 1-math.Hypot(math.Mod(x, 10)-5, math.Mod(y, 10)-5)/4)
			r.Spots = append(r.Spots, roof.Spot{Position: roof.Position{Plan: orb.Point{x, y}, Z: z + 0.0002*x, HasZ: true}})
		}
	}
	o := roof.Outlet{Label: "D-1", Type: roof.Drain, Plan: orb.Point{0.5, 30}, Bowl: 0.3}
	o.ID = o.Label
	r.Outlets = []roof.Outlet{o}
	b := book(t, r)
	if len(b.Study.Listed) < 30 {
		t.Fatalf("only %d ponds", len(b.Study.Listed))
	}
	s := drawing.Brief(b, 90, 80)
	var ponds, others []string
	for _, label := range s.Layer("labels").Texts {
		switch {
		case strings.HasPrefix(label.String, "P"):
			ponds = append(ponds, label.String)
		case label.String != "D-1":
			others = append(others, label.String)
		}
	}
	if len(ponds) == 0 || len(ponds) > 12 || len(others) > 0 {
		t.Errorf("%d ponds are named (%q), and there is %q", len(ponds), ponds, others)
	}
	if n := len(s.Layer("symbols").Shapes); n != 3 { // a disc with a cross of two lines
		t.Errorf("%d shapes of symbols", n)
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

// The lengths at a scale bar stand apart by half a letter's height (1.25 mm) or more, however long their numbers are: on a roof 800 m wide
// in a picture of 90 mm the bar is 40 mm long at the most.
func TestLengthsAtTheScaleBarStandApart(t *testing.T) {
	for _, wide := range []float64{8, 80, 300, 800, 4000} {
		r := &roof.Roof{Name: "bar", Frame: roof.NewLocal(orb.Point{}, quantity.Metres), Units: quantity.Metres}
		for _, c := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}} {
			r.Outline.Rings = append(r.Outline.Rings[:0], append(slices.Concat(r.Outline.Rings...), roof.Position{Plan: orb.Point{c[0] * wide, c[1] * wide}}))
		}
		for i := range 25 {
			x, y := float64(i%5)/4*wide, float64(i/5)/4*wide
			r.Spots = append(r.Spots, roof.Spot{Position: roof.Position{Plan: orb.Point{x, y}, Z: 10 + 0.02*x, HasZ: true}})
		}
		var said []scene.Text
		for _, label := range drawing.Brief(book(t, r), 90, 80).Layer("frame").Texts {
			if label.String != "north" {
				said = append(said, label)
			}
		}
		slices.SortFunc(said, func(a, b scene.Text) int { return cmp.Compare(a.At.X, b.At.X) })
		for i, label := range said {
			if i > 0 && !(label.At.X-label.Width/2 >= said[i-1].At.X+said[i-1].Width/2+1.24) {
				t.Errorf("%g m: %q touches %q", wide, label.String, said[i-1].String)
			}
		}
		if n := len(said); n < 3 || said[0].String != "0" || !strings.HasSuffix(said[n-1].String, " m") {
			t.Errorf("%g m: only %v", wide, said)
		}
	}
}
