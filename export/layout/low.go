package layout

import (
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/taper"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/palette"
	"runnel/export/record"
)

// mostLow is how many low places the table lists; what is left is told as a number.
const mostLow = 30

// lowOf is the hatch of low places that are levelled.
const lowOf = palette.Water

// lows are the low places that are levelled before boards are laid.
func (h *sheets) lows() []taper.LowPlace { return h.TakeOff.Leveller.Places }

// lowPlaces hatches the low places that are levelled.
func (h *sheets) lowPlaces(c *drawing.Canvas) {
	if len(h.lows()) == 0 {
		return
	}
	l := c.Layer("sections")
	for i := range h.lows() {
		rings := c.Rings(orb.MultiPolygon{h.lows()[i].Outline})
		drawing.Hatch(l, rings, 1.6, lowOf)
		l.Add(scene.Shape{Paths: rings, Closed: true, Stroke: lowOf, Width: 0.2})
	}
	h.bandEdges(c, l)
	c.Key("low place: number, depth", func(l *scene.Layer, r scene.Rect) {
		drawing.Hatch(l, [][]scene.Point{r.Corners()}, 1.6, lowOf)
		l.Box(r, "", lowOf, 0.2)
	})
}

// bandEdges draws the edges of the flat boards in low places.
func (h *sheets) bandEdges(c *drawing.Canvas, l *scene.Layer) {
	n := &h.TakeOff.Leveller
	for i := range n.Bands {
		for _, e := range n.Bands[i].Edges {
			if c.InView(e[0]) && c.InView(e[1]) {
				l.Line(lowOf, 0.25, bandDash, c.Rings(orb.MultiPolygon{{orb.Ring(e)}})[0]...)
			}
		}
	}
	if len(n.Bands) > 0 {
		c.Key("edge of flat boards in it", func(l *scene.Layer, r scene.Rect) {
			l.Line(lowOf, 0.25, bandDash, scene.Point{X: r.X, Y: r.Y + r.H/2}, scene.Point{X: r.X + r.W, Y: r.Y + r.H/2})
		})
	}
}

// bandDash is the line of the edges of flat boards.
var bandDash = []float64{1, 0.6}

// lowName names a low place as on the layout and in the table.
func lowName(i int) string { return fmt.Sprintf("low %d", i+1) }

// lowLabels writes number and depth at the deepest place of each.
func (h *sheets) lowLabels(c *drawing.Canvas) {
	for i := range h.lows() {
		if p := &h.lows()[i]; i < mostLow && c.InView(p.At) {
			c.Near(p.At, lowName(i)+": "+h.u.SayDepth(p.Deepest))
		}
	}
}

// levelling sets what is levelled where, for the crew that does it before the boards come.
func (h *sheets) levelling(f *page.Flow) {
	if len(h.lows()) == 0 {
		return
	}
	f.Heading("Low places to level first", least)
	t := &page.Table{Size: tableEm, Columns: []page.Column{
		{Head: "no."}, {Head: "from wall A", Right: true}, {Head: "from wall B", Right: true}, {Head: "deepest there", Right: true}, {Head: "area", Right: true}, {Head: "fill", Right: true},
	}}
	for i := range h.lows()[:min(mostLow, len(h.lows()))] {
		p := &h.lows()[i]
		a, b := h.walls.square(p.At)
		t.Rows = append(t.Rows, []string{lowName(i), h.tape(a), h.tape(b), h.u.SayDepth(p.Deepest), h.u.SayArea(p.Area), h.u.SaySolid(p.Volume)})
	}
	f.Table(t)
	if left := len(h.lows()) - mostLow; left > 0 {
		f.Line("and "+record.Plural(left, "smaller place")+": the layout shows all.", page.Style{Size: textEm, Bold: true})
	}
	n := &h.TakeOff.Leveller
	text := "All: " + h.u.SaySolid(n.Poured) + " of leveller"
	if len(n.Bands) > 0 {
		text += " over " + h.u.SaySolid(n.Volume-n.Poured) + " of flat boards, cut to the lines on which a place is that deep"
	}
	f.Skip(1)
	from := choose.If(h.design.Stocked(), "the outlet", "the cut line")
	f.Paragraph(text+". Check with a string from "+from+" up: the boards fall "+h.rate(h.design.Fall)+" or more.", page.Style{Size: textEm})
}

// laidWord names what lies between old and new surface.
func (h *sheets) laidWord() string {
	return choose.If(h.TakeOff.Leveller.Volume > 0, "new insulation with the leveller under it", "new insulation")
}

// overflowPlaces rings where an overflow may stand on a roof that has none.
func (h *sheets) overflowPlaces(c *drawing.Canvas) {
	const radius = 0.2 // [m]
	for i := range h.option.Changes {
		x := &h.option.Changes[i]
		if x.Finding != finding.NoOverflow || x.Kind == mend.AddOutlet || !c.InView(x.At) {
			continue
		}
		ring := orb.Ring{}
		for _, k := range [][2]float64{{1, 0}, {0.7071, 0.7071}, {0, 1}, {-0.7071, 0.7071}, {-1, 0}, {-0.7071, -0.7071}, {0, -1}, {0.7071, -0.7071}, {1, 0}} {
			ring = append(ring, orb.Point{x.At[0] + float64(radius*k[0]), x.At[1] + float64(radius*k[1])})
		}
		c.Layer("sections").Add(scene.Shape{Paths: c.Rings(orb.MultiPolygon{{ring}}), Closed: true, Stroke: palette.Ink, Width: 0.35, Dash: bandDash})
		c.Key("place for an overflow", func(l *scene.Layer, r scene.Rect) {
			l.Add(scene.Shape{Paths: [][]scene.Point{disc(scene.Point{X: r.X + r.W/2, Y: r.Y + r.H/2}, 1.2)}, Closed: true, Stroke: palette.Ink, Width: 0.35, Dash: bandDash})
		})
	}
}
