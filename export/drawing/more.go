package drawing

import (
	"fmt"
	"strconv"

	"runnel/export/caution"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

const (
	columnW = 84.0 // least width of a column of a sheet of lists [mm]
	footH   = 6.0  // of the line at the foot of a sheet of lists [mm]
	listEm  = 2.7  // typeface of a sheet of lists [mm]
)

func number(n int) string { return strconv.Itoa(n) }

// name is the roof's name, or else its id.
func (p *plan) name() string {
	if name := typeface.Clean(p.s.Roof.Name); name != "" {
		return name
	}
	return p.b.Names.Roof
}

// onward draws the sheets on which the lists go on from a place.
func (p *plan) onward(at place) []*scene.Scene {
	var more []*scene.Scene
	first, em := p.scene, p.textEm
	defer func() { p.scene, p.textEm = first, em }()
	p.textEm = listEm
	for at != p.whole() {
		p.scene = &scene.Scene{Width: first.Width, Height: first.Height, Title: first.Title}
		at = p.lists(at)
		more = append(more, p.scene)
	}
	return more
}

// lists fills one sheet with columns of what is left of the lists.
func (p *plan) lists(at place) place {
	room := scene.Rect{X: margin, Y: margin, W: p.scene.Width - 2*margin, H: p.scene.Height - 2*margin - footH}
	head := &column{p: p, room: room, y: room.Y}
	head.lines([]string{typeface.Cut(p.name(), 4.2, room.W, true)}, 4.2, 0, true)
	n := max(1, int((room.W+gap)/(columnW+gap)))
	w := (room.W - float64(n-1)*gap) / float64(n)
	for i := range n {
		c := &column{p: p, room: scene.Rect{X: scene.Hundredth(room.X + float64(i)*(w+gap)), Y: head.y, W: w, H: room.Y + room.H - head.y}, y: head.y}
		if at.finding < len(p.s.Findings) {
			c.heading(findingsTitle + ", continued")
			at.finding = p.findings(c, at.finding, true)
		}
		if at.finding == len(p.s.Findings) && at.label < len(p.left) && c.left() > 4*p.textEm*leading {
			c.heading(listTitle)
			at.label = p.listed(c, at.label)
		}
	}
	return at
}

// foot numbers a sheet of lists.
func (p *plan) foot(s *scene.Scene, sheet, sheets int) {
	y := s.Height - margin
	l := s.Layer("texts")
	of := text(scene.Point{X: s.Width - margin, Y: y}, fmt.Sprintf("sheet %d of %d", sheet, sheets), listEm, true, scene.End)
	l.Line(palette.Ink, 0.25, nil, scene.Point{X: margin, Y: y - footH + 1.5}, scene.Point{X: s.Width - margin, Y: y - footH + 1.5})
	l.Texts = append(l.Texts, of, text(scene.Point{X: margin, Y: y}, typeface.Cut(caution.Off+" "+Limit, listEm, s.Width-2*margin-of.Width-gap, false), listEm, false, scene.Start))
}
