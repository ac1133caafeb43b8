package drawing

import (
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/export/drawing/label"
	"runnel/export/drawing/scene"
	"runnel/export/palette"
)

// Half sizes of symbols on the sheet [mm].
const (
	outletHalf = label.MarkHalf
	lipHalf    = 1.0
	tagHalf    = 2.1
)

// symbols draws outlets, lips, cores, wanted spots and the numbers of findings, and keeps labels off them.
func (p *plan) symbols() {
	p.outlets()
	p.lips()
	p.cores()
	p.nextSpots()
	p.tagFindings()
}

// outlets draws what takes the water, and keeps labels off it.
func (p *plan) outlets() {
	l := p.layer("symbols")
	for i := range p.s.Surface.Outlets {
		o := &p.s.Surface.Outlets[i]
		at := p.v.point(o.Plan)
		if o.Type == roof.EdgeOutlet {
			continue
		}
		p.uses(outletName(o))
		outletSymbol(l, o, at)
		p.Take(square(at, outletHalf+0.2))
		p.Marks = append(p.Marks, at)
	}
}

// lips draws where ponds spill.
func (p *plan) lips() {
	l := p.layer("symbols")
	for i := range p.s.Listed {
		if lip, ok := p.lip(i); ok {
			p.uses("lip")
			at := p.v.point(lip)
			lipSymbol(l, at)
			if r := square(at, lipHalf); p.Free(r) {
				p.Take(r)
			}
		}
	}
}

func square(c scene.Point, half float64) scene.Rect {
	return scene.Rect{X: c.X - half, Y: c.Y - half, W: 2 * half, H: 2 * half}
}

// outletName returns the words for what an outlet is.
func outletName(o *surface.Outlet) string {
	name := choose.If(o.Duty == roof.Overflow, "overflow ", "")
	switch o.Type {
	case roof.Drain:
		return name + "drain"
	case roof.Scupper:
		return name + "scupper"
	case roof.EdgeOutlet:
	}
	return choose.If(o.Edge == roof.Gutter, name+"gutter", name+"free edge")
}

// outletSymbol draws a drain as a disc, a scupper as a square: dark with a white cross where it normally takes the
// water, pale in a double line where it is an overflow.
func outletSymbol(l *scene.Layer, o *surface.Outlet, at scene.Point) {
	ring := func(r float64) []scene.Point {
		if o.Type == roof.Scupper {
			return square(at, r*0.88).Corners()
		}
		return scene.Circle(at, r)
	}
	fill := choose.If(o.Duty == roof.Overflow, palette.Overflow, palette.Primary)
	l.Add(scene.Shape{Paths: [][]scene.Point{ring(outletHalf)}, Closed: true, Fill: fill, Stroke: palette.Ink, Width: 0.3})
	if o.Duty == roof.Overflow {
		l.Add(scene.Shape{Paths: [][]scene.Point{ring(outletHalf * 0.55)}, Closed: true, Fill: "#FFFFFF", Stroke: palette.Ink, Width: 0.3})
		return
	}
	const arm = 1.0
	l.Line("#FFFFFF", 0.45, nil, scene.Point{X: at.X - arm, Y: at.Y}, scene.Point{X: at.X + arm, Y: at.Y})
	l.Line("#FFFFFF", 0.45, nil, scene.Point{X: at.X, Y: at.Y - arm}, scene.Point{X: at.X, Y: at.Y + arm})
}

// lipSymbol draws where a full pond spills: a diamond.
func lipSymbol(l *scene.Layer, at scene.Point) {
	l.Add(scene.Shape{Paths: [][]scene.Point{{
		{X: at.X, Y: at.Y - lipHalf}, {X: at.X + lipHalf, Y: at.Y}, {X: at.X, Y: at.Y + lipHalf}, {X: at.X - lipHalf, Y: at.Y},
	}}, Closed: true, Fill: "#FFFFFF", Stroke: palette.Water, Width: 0.45})
}

type tag struct {
	number   string
	severity finding.Severity
}

// draw draws a finding's number: a dark square where urgent, a tinted disc for a repair, a white disc for a note.
func (t tag) draw(shapes, texts *scene.Layer, at scene.Point) {
	colour, fill := palette.Ink, "#FFFFFF"
	ring := scene.Circle(at, tagHalf-0.2)
	width := 0.2
	switch t.severity {
	case finding.Urgent:
		colour, fill, ring = "#FFFFFF", palette.Urgent, square(at, tagHalf-0.2).Corners()
	case finding.Repair:
		fill, width = palette.Repair, 0.4
	case finding.Note:
		fill = palette.Tint(palette.Note, 0.45)
	}
	shapes.Add(scene.Shape{Paths: [][]scene.Point{ring}, Closed: true, Fill: fill, Stroke: palette.Ink, Width: width})
	size := choose.If(len(t.number) > 2, 1.7, 2.4)
	label := text(scene.Point{X: at.X, Y: scene.Hundredth(at.Y + 0.365*size)}, t.number, size, true, scene.Middle)
	label.Colour = colour
	texts.Texts = append(texts.Texts, label)
}
