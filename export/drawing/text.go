package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/export/caution"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/record"
)

// Limit is the sentence that stands on every sheet.
const Limit = "This does not say that the roof can carry the water. That is for a structural engineer."

// firstStep is the first of the steps of the page.
func (p *plan) firstStep() string {
	steps := p.b.Steps()
	if len(steps) == 0 {
		return record.NoStep
	}
	return steps[0].Say()
}

// findings lists what is wrong from number from on, numbered as on the plan, as far as there is room, and returns the
// number of the first that is not listed. whole says that none is shortened.
func (p *plan) findings(c *column, from int, whole bool) int {
	most := choose.If(whole, everyWord, mostWords)
	for i := from; i < len(p.s.Findings); i++ {
		head, body := p.entry(i, c.room.W-tagRoom, most)
		if c.y+float64(len(head)+len(body))*p.textEm*leading+1 > c.room.Y+c.room.H && (!whole || i > from) {
			return i
		}
		c.y += 0.8
		t := tag{number: strconv.Itoa(i + 1), severity: p.s.Findings[i].Severity}
		t.draw(p.layer("key"), p.layer("key"), scene.Point{X: c.room.X + tagHalf, Y: scene.Hundredth(c.y + tagHalf)})
		c.lines(head, p.textEm, tagRoom, true)
		c.lines(body, p.textEm, tagRoom, false)
	}
	return len(p.s.Findings)
}

const (
	tagRoom   = 6.0 // left of a finding's text, for its number [mm]
	mostPlace = 3   // how long its place may be [lines]
	mostWords = 5   // how long what and do of one finding may be beside the plan [lines]
	everyWord = 40  // and where there is room for all
)

// entry returns what is written of a finding.
func (p *plan) entry(i int, width float64, most int) (head, body []string) {
	f := &p.s.Findings[i]
	title := record.Capital(f.Severity.String())
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
	head = typeface.Wrap(typeface.Clean(title), p.textEm, width, true)
	what := p.u.SayText(f.What) + " " + p.u.SayText(f.Do) + " " + record.Decides(f.Decides)
	body = typeface.Wrap(typeface.Clean(what), p.textEm, width, false)
	return p.shorten(head, mostPlace, width), p.shorten(body, most, width)
}

// shorten keeps that many lines and marks that there were more.
func (p *plan) shorten(lines []string, most int, width float64) []string {
	if len(lines) <= most {
		return lines
	}
	lines = lines[:most:most]
	lines[most-1] = typeface.Cut(lines[most-1]+" …", p.textEm, width, false)
	return lines
}

// listed lists the labels that found no room on the plan, from one on as far as there is room, and returns the first that
// is not listed.
func (p *plan) listed(c *column, from int) int {
	for i := from; i < len(p.left); i++ {
		if c.left() < p.textEm*leading {
			return i
		}
		c.lines([]string{typeface.Cut(fmt.Sprintf("L%d  %s", i+1, p.left[i]), p.textEm, c.room.W, false)}, p.textEm, 0, false)
	}
	return len(p.left)
}

// mostRows is how many lines one entry of the title block may take.
const mostRows = 2

// surveyed says how many spots there are, how far apart and how good.
func (p *plan) surveyed() string {
	s := &p.s.Survey
	text := fmt.Sprintf("%s, about %s apart", p.b.Spots(), p.u.SayLength(s.Spacing))
	if s.Sigma > 0 {
		text += ", good to " + p.u.SayDepth(s.Sigma)
	}
	return text
}

// block writes the title block.
func (p *plan) block(c *column, survey, state string) {
	c.heading("Drawing")
	for _, row := range [][2]string{
		{"Roof", p.s.Roof.Name + " (" + p.b.Names.Roof + ")"},
		{"Building", p.s.Roof.Building},
		{"Surveyed", p.s.Roof.Surveyed},
		{"Survey", survey},
		{"Area", p.u.SayArea(p.s.Surface.Area)},
		{"Scale", p.scale.Say(p.u) + " on " + p.o.Sheet.Say()},
		{"Sheet", state},
	} {
		p.entryOfBlock(c, row[0], row[1])
	}
}

// entryOfBlock writes one line of the title block; an empty one is left out.
func (p *plan) entryOfBlock(c *column, name, value string) {
	value = typeface.Clean(value)
	if value == "" {
		return
	}
	y := c.y
	c.lines([]string{name}, p.textEm, 0, false)
	c.y = y
	words := typeface.Wrap(value, p.textEm, c.room.W-7*p.textEm, true)
	if len(words) > mostRows {
		words = append(words[:mostRows-1:mostRows-1], typeface.Cut(words[mostRows-1]+" …", p.textEm, c.room.W-7*p.textEm, true))
	}
	c.lines(words, p.textEm, 7*p.textEm, true)
}

// state says whether the plan shows the roof as it was surveyed.
func (p *plan) state() string { return choose.If(p.b.Proposed, "as proposed", "as found") }

// cautions writes what the sheet does not say, in letters of size em, and the short cautions.
func (p *plan) cautions(c *column, design bool, em float64) {
	c.y += 1
	if design {
		c.paragraph(caution.Design, p.textEm, true)
	}
	c.paragraph(Limit, em, true)
	for _, s := range caution.Plan() {
		c.paragraph(s, p.smallEm(), false)
	}
}
