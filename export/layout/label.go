package layout

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/board"
	"runnel/analysis/choose"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
)

// cornerLabels writes number and thickness at the corners of planes.
func (h *sheets) cornerLabels(c *drawing.Canvas) {
	drawn := false
	n := 0
	for i := range h.corners {
		if !c.InView(h.corners[i].plan) || n == most || i >= h.listed() {
			continue
		}
		n++
		drawn = c.Near(h.corners[i].plan, h.cornerText(i)) || drawn
	}
	if drawn {
		c.Key("corner: number, "+h.thicknessHead(), func(l *scene.Layer, r scene.Rect) {
			l.Add(scene.Shape{Paths: [][]scene.Point{disc(scene.Point{X: r.X + r.W/2, Y: r.Y + r.H/2}, 0.4)}, Closed: true, Fill: palette.Ink})
		})
	}
}

// flush is the thickness under which new work is said to join old [m].
const flush = 0.0005

// disc returns a small regular polygon.
func disc(c scene.Point, r float64) []scene.Point {
	const k = 0.7071
	return []scene.Point{
		{X: c.X + r, Y: c.Y},
		{X: c.X + k*r, Y: c.Y + k*r},
		{X: c.X, Y: c.Y + r},
		{X: c.X - k*r, Y: c.Y + k*r},
		{X: c.X - r, Y: c.Y},
		{X: c.X - k*r, Y: c.Y - k*r},
		{X: c.X, Y: c.Y - r},
		{X: c.X + k*r, Y: c.Y - k*r},
	}
}

// cornerText is a corner's number, with its thickness where new work is not flush there.
func (h *sheets) cornerText(i int) string {
	if math.Abs(h.corners[i].thickness) < flush {
		return fmt.Sprint(i + 1)
	}
	return fmt.Sprintf("%d: %s", i+1, strings.Replace(h.thickness(h.corners[i].thickness), "less than ", "<", 1))
}

// thickness writes a thickness; a cut says so.
func (h *sheets) thickness(t float64) string {
	switch {
	case math.Abs(t) < flush:
		return "0"
	case t < 0:
		return h.u.SayDepth(-t) + " cut"
	}
	return h.u.SayDepth(t)
}

// lineLabels writes the slope of valleys, ridges and hips on the longest of them.
func (h *sheets) lineLabels(c *drawing.Canvas) {
	if h.design == nil {
		return
	}
	for i := range h.design.Lines {
		l := &h.design.Lines[i]
		kind := h.kindOfLine(l)
		if ends := h.plan2(l.A, l.B); kind == "" || !c.InView(ends[0]) && !c.InView(ends[1]) {
			continue
		}
		text := kind + " " + c.Rate(l.Slope)
		if l.Slope < 1e-6 {
			text = kind + ", level"
		}
		c.Along(h.plan2(l.A, l.B), text, 26)
	}
}

func (h *sheets) curbLabels(c *drawing.Canvas) {
	for i := range h.Book.Study.Roof.Curbs {
		b := &h.Book.Study.Roof.Curbs[i]
		if b.Label == "" || len(b.Ring) < 3 {
			continue
		}
		ring := make(orb.Ring, len(b.Ring))
		for k := range ring {
			ring[k] = b.Ring[k].Plan
		}
		at, _ := planar.CentroidArea(orb.Polygon{ring})
		if !c.InView(at) {
			continue
		}
		if !c.Within([]orb.Point{at}, b.Label) {
			c.Label(at, 1, b.Label)
		}
	}
}

// courseLabels writes the two thicknesses of the boards, and the fill under them, on a piece of each course where there is room.
func (h *sheets) courseLabels(c *drawing.Canvas) {
	b := h.TakeOff.Boards
	if b == nil {
		return
	}
	type key struct{ field, course int }
	done, drawn := map[key]bool{}, false
	for i := range b.Pieces {
		k := key{b.Pieces[i].Field, b.Pieces[i].Course}
		if done[k] {
			continue
		}
		done[k] = true
		var places []orb.Point
		for n := i; n < len(b.Pieces) && b.Pieces[n].Field == k.field && b.Pieces[n].Course == k.course; n++ {
			if b.Pieces[n].Area > 0.5*float64(b.Stock.Length)*float64(b.Stock.Width) {
				at, _ := planar.CentroidArea(b.Pieces[n].Plan)
				places = append(places, at)
			}
		}
		drawn = c.Within(middleFirst(places), h.pieceText(&b.Pieces[i])) || drawn
	}
	if drawn {
		c.Key("board by its edges + fill", func(l *scene.Layer, r scene.Rect) { l.Box(r, laidOf, palette.Level, 0.1) })
	}
}

// middleFirst orders places from the middle one outward.
func middleFirst(p []orb.Point) []orb.Point {
	out := make([]orb.Point, 0, len(p))
	for k := range p {
		i := len(p)/2 + (k+1)/2
		if k%2 == 1 {
			i = len(p)/2 - (k+1)/2
		}
		if i >= 0 && i < len(p) {
			out = append(out, p[i])
		}
	}
	return out
}

// kindText names a board by its two thicknesses.
func (h *sheets) kindText(k board.Kind) string {
	return choose.If(k.Flat(), h.u.SayDepth(k.Thin)+" flat", h.u.SayDepth(k.Thin)+" to "+h.u.SayDepth(k.Thick))
}

func (h *sheets) pieceText(p *board.Piece) string {
	text := strings.NewReplacer(" to ", "–", " flat", "").Replace(h.kindText(p.Kind))
	for _, f := range p.Fill {
		text += " + " + h.u.SayDepth(f)
	}
	return text
}
