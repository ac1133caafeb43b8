// Package scene describes a drawing as polygons, lines and texts in sheet millimetres, so that every writer
// draws the same thing.
//
// The origin is the upper left corner of the sheet; x runs right, y down. Layers are drawn one over the other,
// in each the shapes before the texts. Colours are opaque: a tint is mixed with white beforehand, so that no
// writer needs transparency and the sheet prints alike everywhere. Texts hold only characters of the typeface.
package scene

import (
	"math"

	"runnel/analysis/geometry/vector"
)

// Point is a place on the sheet [mm].
type Point struct{ X, Y float64 }

// Rect is an upright rectangle on the sheet [mm].
type Rect struct{ X, Y, W, H float64 }

// Hundredth rounds a measure on the sheet to a hundredth of a millimetre.
func Hundredth(x float64) float64 { return math.Round(x*100) / 100 }

// Distance returns how far two places are apart [mm].
func Distance(a, b Point) float64 { return vector.Norm(a.X-b.X, a.Y-b.Y) }

// Shape is rings that are filled together by the even-odd rule, or lines.
type Shape struct {
	Paths  [][]Point
	Closed bool      // each path returns to its beginning
	Fill   string    // "#RRGGBB"; empty: not filled
	Stroke string    // "#RRGGBB"; empty: no line
	Width  float64   // of the line [mm]
	Dash   []float64 // lengths of strokes and gaps in turn [mm]; none: a whole line
	Butt   bool      // ends of lines are cut off at the point, not rounded
}

// Anchor says which part of a text stands at its place.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of text. At lies on its base line.
type Text struct {
	At     Point
	String string
	Size   float64 // of the typeface [mm]
	Width  float64 // as measured [mm]
	Bold   bool
	Anchor Anchor
	Colour string // "#RRGGBB"
	Turned bool   // reads upwards
}

// Layer is a part of the drawing that belongs together.
type Layer struct {
	Name   string // lower case, without blanks
	Shapes []Shape
	Texts  []Text
}

// Scene is one sheet.
type Scene struct {
	Width, Height float64 // [mm]
	Title         string  // of the document
	Layers        []*Layer
	Marks         []Mark // where its sections begin, for documents of many pages
}

// Mark is where a section begins.
type Mark struct {
	Text string
	Y    float64 // [mm]
}

// Layer returns the layer of that name, made on top of the others where there is none.
func (s *Scene) Layer(name string) *Layer {
	for _, l := range s.Layers {
		if l.Name == name {
			return l
		}
	}
	l := &Layer{Name: name}
	s.Layers = append(s.Layers, l)
	return l
}

// Add puts shapes on top of the layer.
func (l *Layer) Add(shapes ...Shape) { l.Shapes = append(l.Shapes, shapes...) }

// Line adds an open line.
func (l *Layer) Line(stroke string, width float64, dash []float64, points ...Point) {
	l.Add(Shape{Paths: [][]Point{points}, Stroke: stroke, Width: width, Dash: dash})
}

// Box adds a filled rectangle with a line round it; either colour may be empty.
func (l *Layer) Box(r Rect, fill, stroke string, width float64) {
	l.Add(Shape{Paths: [][]Point{r.Corners()}, Closed: true, Fill: fill, Stroke: stroke, Width: width})
}

// Corners returns the corners of r, from the upper left one clockwise.
func (r Rect) Corners() []Point {
	return []Point{{r.X, r.Y}, {r.X + r.W, r.Y}, {r.X + r.W, r.Y + r.H}, {r.X, r.Y + r.H}}
}

// Inset returns r made smaller by d on every side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// Overlaps reports whether r and q share more than a border.
func (r Rect) Overlaps(q Rect) bool {
	return r.X < q.X+q.W && q.X < r.X+r.W && r.Y < q.Y+q.H && q.Y < r.Y+r.H
}

// Within reports whether r lies inside q.
func (r Rect) Within(q Rect) bool {
	return r.X >= q.X && r.Y >= q.Y && r.X+r.W <= q.X+q.W && r.Y+r.H <= q.Y+q.H
}

// Crosses reports whether any part of the line from a to b lies inside r: the line is cut off at each side in turn.
func (r Rect) Crosses(a, b Point) bool {
	from, to := 0.0, 1.0
	for _, side := range [4][2]float64{
		{a.X - b.X, a.X - r.X}, {b.X - a.X, r.X + r.W - a.X}, {a.Y - b.Y, a.Y - r.Y}, {b.Y - a.Y, r.Y + r.H - a.Y},
	} {
		switch p, q := side[0], side[1]; {
		case p == 0:
			if q <= 0 {
				return false
			}
		case p < 0:
			from = max(from, q/p)
		default:
			to = min(to, q/p)
		}
	}
	return from < to
}

// Bounds returns the rectangle that a text covers: from its descenders to its capitals.
func (t *Text) Bounds() Rect {
	along := map[Anchor]float64{Start: 0, Middle: -t.Width / 2, End: -t.Width}[t.Anchor]
	if t.Turned {
		return Rect{t.At.X - float64(t.Size*ascent), t.At.Y - along - t.Width, t.Size * (ascent + descent), t.Width}
	}
	return Rect{t.At.X + along, t.At.Y - float64(t.Size*ascent), t.Width, t.Size * (ascent + descent)}
}

// Parts of a typeface's size above and below the base line.
const (
	ascent  = 0.76
	descent = 0.24
)
