package drawing

import (
	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
	"runnel/export/record"
)

// pictureEm is the size of the labels on a picture [mm].
const pictureEm = 2.5

// Picture draws the roof, at most that wide and high [mm], as large as it fits and so to no usual scale: ponds, curbs, edges,
// outlets, lips and the findings' numbers, with the plan's symbols, a scale bar and the north arrow. Labels that find no room
// are left out; the plan has them. A long roof takes less height.
func Picture(b *record.Book, w, h float64) *scene.Scene {
	p := newPicture(b, w, h, roomSide, roomTop)
	p.picture = true // no list says what L1 is
	p.labelled()
	return p.scene
}

// mostNamed is how many ponds a small picture names, the worst first, and with how many it shows where they spill: more of them hide the water.
const mostNamed = 12

// Brief draws the roof for a small screen, likewise: the worst ponds with their depths, each outlet with its name, the storm's greatest water
// where there is a storm, no more. A label that finds no room is left out.
func Brief(b *record.Book, w, h float64) *scene.Scene {
	const side, top = 4.0, 4.0
	p := newPicture(b, w, h, side, top)
	if b.Study.Storm != nil {
		p.shadeFlood()
	}
	p.outlets()
	if len(p.s.Listed) <= mostNamed {
		p.lips()
	}
	for i := range p.s.Listed[:min(mostNamed, len(p.s.Listed))] {
		p.pondLabel(i, p.s.Listed[i].ID+"  "+b.SayPondDepth(i))
	}
	for i := range p.s.Surface.Outlets {
		o := &p.s.Surface.Outlets[i]
		half := choose.If(o.Type == roof.EdgeOutlet, 1, outletHalf)
		lines := []string{typeface.Clean(o.Label)}
		if b.Study.Storm != nil && p.deepestOutlet() == i {
			lines = append(lines, p.deep(b.DesignWater()))
		}
		p.put(p.v.point(o.Plan), half, lines...)
	}
	return p.scene
}

// shadeFlood fills the greatest water by depth, in the ponds' layer.
func (p *plan) shadeFlood() {
	classes := p.classes()
	for i, c := range classes {
		var rings [][]scene.Point
		for _, a := range c.areas {
			rings = append(rings, p.area(a)...)
		}
		p.layer("ponds").Add(scene.Shape{Paths: rings, Closed: true, Fill: palette.Tint(palette.Water, 0.2+float64(0.6*float64(i+1)/float64(len(classes))))})
	}
}

// newPicture draws ponds, curbs and edges, and the scale bar and the north arrow at the foot; side and top are what is left free beside and
// over the roof [mm].
func newPicture(b *record.Book, w, h, side, top float64) *plan {
	p := &plan{b: b, s: b.Study, u: b.Units, em: pictureEm, v: newView(b.Study.Roof), keyed: map[string]bool{}, picture: true}
	const strip = 10.0
	below := top + 5 // for labels of what stands on the lower edge
	roomH := top + below + strip
	h = scene.Hundredth(min(h, float64((w-2*side)*(p.v.h/p.v.w))+roomH))
	p.scene = &scene.Scene{Width: w, Height: h, Title: p.title()}
	p.field = scene.Rect{W: w, H: h}
	p.Room = p.field
	p.v.fit(scene.Rect{X: side, Y: top, W: w - 2*side, H: h - roomH})
	for _, name := range []string{"ponds", "curbs", "edges", "leaders", "symbols", "labels", "frame"} {
		p.scene.Layer(name)
	}
	p.ponds()
	p.curbs()
	p.edges()
	foot := scene.Rect{Y: h - strip, W: w, H: strip}
	p.Take(foot)
	p.scaleBar(4, foot.Y+5)
	p.north(scene.Point{X: w - 6, Y: foot.Y + strip/2})
	return p
}

// fit makes the roof as large as a rectangle takes, in its middle.
func (v *view) fit(r scene.Rect) {
	v.k = min(r.W/v.w, r.H/v.h)
	v.at = scene.Point{X: scene.Hundredth(r.X + r.W/2), Y: scene.Hundredth(r.Y + r.H/2)}
}
