package drawing

import (
	"runnel/export/drawing/scene"
	"runnel/export/record"
)

// pictureEm is the size of the labels on a picture [mm].
const pictureEm = 2.5

// Picture draws the roof, at most that wide and high [mm], as large as it fits and so to no usual scale: ponds, curbs, edges,
// outlets, lips and the findings' numbers, with the plan's symbols, a scale bar and the north arrow. Labels that find no room
// are left out; the plan has them. A long roof takes less height.
func Picture(b *record.Book, w, h float64) *scene.Scene {
	p := &plan{b: b, s: b.Study, u: b.Units, em: pictureEm, v: newView(b.Study.Roof), keyed: map[string]bool{}}
	const (
		strip = 10.0
		below = 13.0 // for labels of what stands on the lower edge
		roomH = roomTop + below + strip
	)
	h = hundredth(min(h, float64((w-2*roomSide)*(p.v.h/p.v.w))+roomH))
	p.scene = &scene.Scene{Width: w, Height: h, Title: p.title()}
	p.field = scene.Rect{W: w, H: h}
	p.room = p.field
	p.v.fit(scene.Rect{X: roomSide, Y: roomTop, W: w - 2*roomSide, H: h - roomH})
	for _, name := range []string{"ponds", "curbs", "edges", "leaders", "symbols", "labels", "frame"} {
		p.scene.Layer(name)
	}
	p.ponds()
	p.curbs()
	p.edges()
	foot := scene.Rect{Y: h - strip, W: w, H: strip}
	p.take(foot)
	p.scaleBar(4, foot.Y+5)
	p.north(scene.Point{X: w - 6, Y: foot.Y + strip/2})
	p.symbols()
	for i := range p.s.Listed {
		p.pondLabel(i)
	}
	for i := range p.s.Surface.Outlets {
		p.outletLabel(i)
	}
	return p.scene
}

// fit makes the roof as large as a rectangle takes, in its middle.
func (v *view) fit(r scene.Rect) {
	v.k = min(r.W/v.w, r.H/v.h)
	v.at = scene.Point{X: hundredth(r.X + r.W/2), Y: hundredth(r.Y + r.H/2)}
}
