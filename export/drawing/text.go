package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"runnel/analysis/finding"
	"runnel/export/caution"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/palette"
)

// Limit is the sentence that stands on every sheet.
const Limit = "This does not say that the roof can carry the water. That is for a structural engineer."

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
		l.Texts = append(l.Texts, text(scene.Point{X: c.room.X + indent, Y: hundredth(c.y - 0.25*size)}, s, size, bold, scene.Start))
	}
}

// paragraph writes a text, broken into lines.
func (c *column) paragraph(s string, size, indent float64, bold bool) {
	c.lines(typeface.Wrap(typeface.Clean(s), size, c.room.W-indent, bold), size, indent, bold)
}

// heading begins a section.
func (c *column) heading(s string) {
	c.y += 1
	c.lines([]string{s}, 2.7, 0, true)
	c.y += 0.4
	c.p.layer("texts").Line(palette.Ink, 0.25, nil, scene.Point{X: c.room.X, Y: hundredth(c.y)}, scene.Point{X: c.room.X + c.room.W, Y: hundredth(c.y)})
	c.y += 0.5
}

// texts fills the panel: what is wrong first, then the key, the title block and the cautions.
func (p *plan) texts() {
	for i := range p.s.Findings {
		p.usesSeverity(p.s.Findings[i].Severity)
	}
	upper, lower := p.panel, p.panel
	if p.below {
		upper.W = p.panel.W*0.54 - gap/2
		lower.X, lower.W = p.panel.X+upper.W+gap, p.panel.W-upper.W-gap
	} else {
		lower.H = p.lowerHeight(lower)
		lower.Y = p.panel.Y + p.panel.H - lower.H
		upper.H -= lower.H + 1
	}
	p.findings(&column{p: p, room: upper, y: upper.Y})
	c := &column{p: p, room: lower, y: lower.Y}
	p.key(c)
	p.block(c)
	p.cautions(c)
}

// lowerHeight measures key, title block and cautions.
func (p *plan) lowerHeight(room scene.Rect) float64 {
	l := p.layer("texts")
	k := p.layer("key")
	texts, shapes, keys, symbols := len(l.Texts), len(l.Shapes), len(k.Texts), len(k.Shapes)
	c := &column{p: p, room: room, y: room.Y}
	p.key(c)
	p.block(c)
	p.cautions(c)
	l.Texts, l.Shapes, k.Texts, k.Shapes = l.Texts[:texts], l.Shapes[:shapes], k.Texts[:keys], k.Shapes[:symbols]
	return c.y - room.Y
}

// headline says in one sentence where water stands.
func (p *plan) headline() string {
	s := p.s
	switch n := len(s.Listed); n {
	case 0:
		return fmt.Sprintf("No ponds that %s, about %s apart, can show.", p.spots(), p.u.SayLength(s.Survey.Spacing))
	default:
		worst := &s.Listed[0]
		pond := &s.Ponds.Ponds[worst.Pond]
		text := "1 pond"
		if n > 1 {
			text = fmt.Sprintf("%d ponds, the worst %s", n, worst.ID)
		}
		return superscript(fmt.Sprintf("%s: %s deep over %s, %s of water, %s where it is deepest.", text, p.u.SayDepth(pond.Depth), p.u.SayArea(pond.Area), p.u.SayMass(worst.Weight), p.u.SayPressure(worst.Load)))
	}
}

// spots counts the spots in words.
func (p *plan) spots() string {
	n := p.s.Survey.Spots
	if n == 1 {
		return "1 spot"
	}
	return p.u.Say(finding.Number("", n)) + " spots"
}

// findings lists what is wrong, numbered as on the plan, as far as there is room.
func (p *plan) findings(c *column) {
	r := p.s.Roof
	name := typeface.Clean(r.Name)
	if name == "" {
		name = p.b.Names.Roof
	}
	c.lines([]string{typeface.Cut(name, 4.2, c.room.W, true)}, 4.2, 0, true)
	c.y += 0.6
	c.paragraph(p.headline(), 2.6, 0, true)
	c.heading("What to do")
	if len(p.s.Findings) == 0 {
		c.paragraph("Nothing that this survey asks for. Look again after rain: no water should stand after 48 hours.", textEm, 0, false)
	}
	list := p.listHeight(c)
	for i := range p.s.Findings {
		head, body := p.entry(i, c.room.W-6)
		if c.y+float64(len(head)+len(body))*textEm*leading+1 > c.room.Y+c.room.H-list-textEm*leading {
			c.paragraph(fmt.Sprintf("and %d more in the page and the summary", len(p.s.Findings)-i), textEm, 6, false)
			break
		}
		c.y += 0.8
		t := tag{number: strconv.Itoa(i + 1), severity: p.s.Findings[i].Severity}
		t.draw(p.layer("key"), p.layer("key"), scene.Point{X: c.room.X + tagHalf, Y: hundredth(c.y + tagHalf)})
		c.lines(head, textEm, 6, true)
		c.lines(body, textEm, 6, false)
	}
	p.listLeft(c)
}

// mostWords is how long what and do of one finding may be on the sheet [lines].
const mostWords = 5

// entry returns what is written of a finding.
func (p *plan) entry(i int, width float64) (head, body []string) {
	f := &p.s.Findings[i]
	title := strings.ToUpper(f.Severity.String()[:1]) + f.Severity.String()[1:]
	if f.Severity == finding.Urgent {
		title = "URGENT"
	}
	for k := range p.s.Listed {
		if int(p.s.Listed[k].Pond) == f.Pond {
			title += "  " + p.s.Listed[k].ID
		}
	}
	if where := strings.TrimSuffix(p.u.SayText(f.Where), "."); where != "" {
		title += ", " + where
	}
	head = typeface.Wrap(typeface.Clean(title), textEm, width, true)
	what := superscript(p.u.SayText(f.What) + " " + p.u.SayText(f.Do) + " Decides: the " + f.Decides + ".")
	body = typeface.Wrap(typeface.Clean(what), textEm, width, false)
	return head[:min(len(head), 2)], shorten(body, mostWords, width)
}

// shorten keeps that many lines and marks that there were more.
func shorten(lines []string, most int, width float64) []string {
	if len(lines) <= most {
		return lines
	}
	lines = lines[:most:most]
	lines[most-1] = typeface.Cut(lines[most-1]+" …", textEm, width, false)
	if !strings.HasSuffix(lines[most-1], "…") {
		lines[most-1] += "…"
	}
	return lines
}

// mostLeft is how many labels that found no room are listed.
const mostLeft = 8

func (p *plan) listHeight(c *column) float64 {
	if len(p.left) == 0 {
		return 0
	}
	return min(float64(min(len(p.left), mostLeft)+1)*textEm*leading+6, c.left()/2)
}

// listLeft lists the labels that found no room on the plan.
func (p *plan) listLeft(c *column) {
	if len(p.left) == 0 {
		return
	}
	c.heading("Labels that found no room")
	for i, s := range p.left {
		if c.left() < 2*textEm*leading && i < len(p.left)-1 {
			c.lines([]string{fmt.Sprintf("and %d more in the page and the summary", len(p.left)-i)}, textEm, 0, false)
			return
		}
		c.lines([]string{typeface.Cut(fmt.Sprintf("L%d  %s", i+1, s), textEm, c.room.W, false)}, textEm, 0, false)
	}
}

// block writes the title block.
func (p *plan) block(c *column) {
	c.heading("Drawing")
	s := &p.s.Survey
	survey := fmt.Sprintf("%s, about %s apart", p.spots(), p.u.SayLength(s.Spacing))
	if s.Sigma > 0 {
		survey += ", good to " + p.u.SayDepth(s.Sigma)
	}
	for _, row := range [][2]string{
		{"Roof", p.s.Roof.Name + " (" + p.b.Names.Roof + ")"},
		{"Building", p.s.Roof.Building},
		{"Surveyed", p.s.Roof.Surveyed},
		{"Survey", survey},
		{"Area", superscript(p.u.SayArea(p.s.Surface.Area))},
		{"Scale", p.scale.Say(p.u) + " on " + p.o.Sheet.Name},
		{"Sheet", "roof plan as found, 1 of 1"},
	} {
		value := typeface.Clean(row[1])
		if value == "" {
			continue
		}
		y := c.y
		c.lines([]string{row[0]}, textEm, 0, false)
		c.y = y
		c.lines([]string{typeface.Cut(value, textEm, c.room.W-16, true)}, textEm, 16, true)
	}
}

// cautions writes what the sheet does not say, and the short cautions.
func (p *plan) cautions(c *column) {
	c.y += 1
	c.paragraph(Limit, textEm, 0, true)
	for _, s := range caution.Plan() {
		c.paragraph(s, 2.0, 0, false)
	}
}
