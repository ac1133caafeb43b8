package drawing

import (
	"fmt"
	"strings"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

// column is a part of the panel that is filled from above.
type column struct {
	p    *plan
	room scene.Rect
	y    float64
}

// left returns how much room is left [mm].
func (c *column) left() float64 { return c.room.Y + c.room.H - c.y }

// lines writes lines of text, indented.
func (c *column) lines(lines []string, size, indent float64, bold bool) {
	l := c.p.layer("texts")
	for _, s := range lines {
		c.y += size * leading
		l.Texts = append(l.Texts, text(scene.Point{X: c.room.X + indent, Y: scene.Hundredth(c.y - 0.25*size)}, s, size, bold, scene.Start))
	}
}

// paragraph writes a text, broken into lines.
func (c *column) paragraph(s string, size float64, bold bool) {
	c.lines(typeface.Wrap(typeface.Clean(s), size, c.room.W, bold), size, 0, bold)
}

// mostFirst is how long the worst thing known and the first step may be: a name may be of any length [lines].
const mostFirst = 9

// first writes what stands first, bold, and cuts what is longer than mostFirst.
func (c *column) first(s string, size float64) {
	c.lines(c.p.shorten(typeface.Wrap(typeface.Clean(s), size, c.room.W, true), mostFirst, c.room.W), size, 0, true)
}

// heading begins a section.
func (c *column) heading(s string) {
	c.y += 1
	c.lines([]string{s}, c.p.textEm+0.4, 0, true)
	c.y += 0.4
	c.p.layer("texts").Line(palette.Ink, 0.25, nil, scene.Point{X: c.room.X, Y: scene.Hundredth(c.y)}, scene.Point{X: c.room.X + c.room.W, Y: scene.Hundredth(c.y)})
	c.y += 0.5
}

// textSizes are the sizes of the panel's texts [mm]: the largest at which all have room is taken.
var textSizes = []float64{3, 2.8, 2.6, 2.45, 2.3, 2.2}

// smallEm is the size of what is read once: key and cautions [mm].
func (p *plan) smallEm() float64 { return 0.87 * p.textEm }

// texts fills the panel: what is wrong first, then the key, the title block and the cautions. It returns the sheets on
// which the lists go on.
func (p *plan) texts() []*scene.Scene {
	for i := range p.s.Findings {
		p.usesSeverity(p.s.Findings[i].Severity)
	}
	upper, lower := p.fitted(func(l *column) { p.lower(l, 1) }, func(u *column) bool { return p.upper(u) == p.whole() })
	more := p.onward(p.upper(&upper))
	p.lower(&lower, 1+len(more))
	for i, s := range more {
		p.foot(s, i+2, 1+len(more))
	}
	return more
}

// fitted takes the largest size of texts at which both parts of the panel have room, else the smallest, and divides the panel for it; whole
// reports whether all went into the upper part.
func (p *plan) fitted(write func(lower *column), whole func(upper *column) bool) (upper, lower column) {
	for _, p.textEm = range textSizes {
		upper, lower = p.columns(write)
		fits := lower.left() >= 0
		p.try(func() { fits = whole(&upper) && fits })
		if fits {
			break
		}
	}
	upper, lower = p.columns(write)
	lower.y = lower.room.Y
	return upper, lower
}

// columns divides the panel. The lower part is as high as what write puts into it, which its y says.
func (p *plan) columns(write func(lower *column)) (upper, lower column) {
	upper, lower = column{p: p, room: p.panel, y: p.panel.Y}, column{p: p, room: p.panel, y: p.panel.Y}
	if p.below {
		upper.room.W = p.panel.W*0.54 - gap/2
		lower.room.X, lower.room.W = p.panel.X+upper.room.W+gap, p.panel.W-upper.room.W-gap
	}
	p.try(func() { write(&lower) })
	if !p.below {
		high := lower.y - lower.room.Y
		lower.room.Y, lower.room.H = p.panel.Y+p.panel.H-high, high
		lower.y = lower.room.Y + high
		upper.room.H -= high + 1
	}
	return upper, lower
}

// try draws texts, to measure them, and takes them away again.
func (p *plan) try(draw func()) {
	t, k := *p.layer("texts"), *p.layer("key")
	draw()
	*p.layer("texts"), *p.layer("key") = t, k
}

// lower writes what every sheet with a plan has.
func (p *plan) lower(c *column, sheets int) {
	p.key(c)
	p.block(c, p.surveyed(), fmt.Sprintf("roof plan %s, 1 of %d", p.state(), sheets))
	p.cautions(c, p.b.Proposed, p.textEm)
}

// place is how far the two lists have come.
type place struct{ finding, label int }

func (p *plan) whole() place { return place{len(p.s.Findings), len(p.left)} }

// upper writes the name, where water stands, what to do, and the labels that found no room, and returns how far it came.
func (p *plan) upper(c *column) place {
	name := p.name()
	c.lines([]string{typeface.Cut(name, 4.2, c.room.W, true)}, 4.2, 0, true)
	c.y += 0.6
	c.first(p.b.Lead().Text, p.textEm+0.3)
	rest := p.b.Unresolved()
	if ponds := p.b.Ponds(); ponds != p.b.Lead().Text {
		rest = strings.TrimSpace(ponds + " " + rest)
	}
	if rest != "" {
		c.paragraph(rest, p.textEm, false)
	}
	c.heading("What to do first")
	c.first(p.firstStep(), p.textEm)
	if len(p.s.Findings) > 0 {
		c.heading(findingsTitle)
	}
	line := p.textEm * leading
	whole, at := *c, place{}
	p.try(func() { at.finding = p.findings(&whole, 0, false) })
	if at.finding < len(p.s.Findings) {
		c.room.H -= line // for the line that says where the list goes on
		at.finding = p.findings(c, 0, false)
		last := number(len(p.s.Findings))
		if first := number(at.finding + 1); first != last {
			last = first + " to " + last
		}
		c.lines([]string{last + ": sheet 2"}, p.textEm, tagRoom, true)
		return at
	}
	p.findings(c, 0, false)
	if len(p.left) == 0 {
		return at
	}
	if high := float64(len(p.left))*line + 2.2*p.textEm; high <= c.left() {
		c.heading(listTitle)
		at.label = p.listed(c, 0)
	}
	return at
}

const findingsTitle = "Findings, numbered as on the plan"

const listTitle = "Labels that found no room"
