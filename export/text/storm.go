package text

import (
	"fmt"
	"strings"

	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/export/record"
)

// headline says how deep the storm's water gets, where there is a storm: the worst case, and beside it the roof with
// every outlet at work and with all primary outlets blocked.
func (p *page) headline() {
	s := p.book.Study.Storm
	if s == nil {
		return
	}
	text := p.worst(s)
	for i := range s.Cases {
		c := &s.Cases[i]
		if i == s.Worst || c.Deepest.Vertex < 0 || i > 0 && c.Name != study.AllPrimaryName {
			continue
		}
		text += " With " + c.Name + ": at least " + p.u.SayDepth(c.Deepest.Depth) + ", " + p.u.SayPressure(c.Load) + "."
	}
	if len(s.Unsized) > 0 {
		text += " " + unsized(s.Unsized)
	}
	p.entry("STORM", text)
}

// storm describes the storm and compares the cases.
func (p *page) storm() {
	s := p.book.Study.Storm
	if s == nil {
		return
	}
	p.heading("storm")
	p.stormFacts()
	p.line()
	p.cases(s)
	p.line()
	p.entry("OUTLETS", "What each did with "+s.Cases[0].Name+":")
	p.stormOutlets(&s.Cases[0])
}

// stormFacts says what comes down, what is left, and what was taken for granted. There must be a storm.
func (p *page) stormFacts() {
	s := p.book.Study.Storm
	p.entry("RAIN", p.rain(s))
	p.entry("LEFT", p.left(s))
	if len(s.Unsized) > 0 {
		p.entry("UNSIZED", unsized(s.Unsized)+" Measure what is missing.")
	}
	p.entry("DEPTHS", standard.AtLeast+" Rain runs off at once.")
}

// unsized says which outlets count as blocked.
func unsized(labels []string) string {
	if len(labels) == 1 {
		return labels[0] + " counts as blocked: no size is stated."
	}
	return record.Some(labels) + " count as blocked: no size is stated."
}

// rain says what comes down.
func (p *page) rain(s *study.Storm) string {
	text := p.u.SayDepth(s.Rain.Depth()) + " in " + record.SayTime(s.Rain.Duration()) + ", " + s.Pattern.Name + " (" + s.Pattern.Source.Text + "), at most " + p.u.SayRain(s.Rain.Peak()) + ": your figures. The local code says which storm to use"
	if s.Wet {
		text += "; ponds stand full when it begins"
	}
	return text + "."
}

// worst describes the case with the deepest water.
func (p *page) worst(s *study.Storm) string {
	c := &s.Cases[s.Worst]
	if c.Deepest.Vertex < 0 {
		return "No water stands in any case. How deep it runs over an open edge is not computed."
	}
	text := "With " + c.Name + " water stands at least " + p.u.SayDepth(c.Deepest.Depth) + " deep, " + p.u.SayPressure(c.Load)
	text += ", " + p.book.AtVertex(int(c.Deepest.Vertex))
	text += fmt.Sprintf(", %s after the rain begins.", record.SayTime(c.Deepest.Time))
	if c.Covered {
		text += " It covers part of the roof to its highest point and would keep rising between the walls. Check whether it would run over a wall first."
	}
	return text
}

// near names the outlet nearest to the deepest water of a case.
func (p *page) near(c *study.Case) string {
	if c.Deepest.Vertex < 0 {
		return ""
	}
	return p.book.OutletNear(int(c.Deepest.Vertex))
}

// left says how long the roof drains and what stays, with the outlets of the first case.
func (p *page) left(s *study.Storm) string {
	c := &s.Cases[0]
	text := "With " + c.Name + " nothing drains"
	if c.Drains() {
		text = "With " + c.Name + " the roof drains for " + record.SayTime(c.DrainTime) + " after the rain"
	}
	text += fmt.Sprintf("; after 48 hours %s of %s are left", p.u.SayVolume(c.Left), p.u.SayVolume(c.Came()))
	if s.Evaporation > 0 {
		return text + ", " + p.u.SayVolume(c.Evaporated) + " have dried at your " + p.u.SayDepth(s.Evaporation*24*3600) + " a day."
	}
	return text + ". No drying is counted: none was stated."
}

// cases is the table of cases.
func (p *page) cases(s *study.Storm) {
	rows := [][]string{{"case", "deepest", "load", "near", "overflow starts", "left after 48 h"}}
	for i := range s.Cases {
		c := &s.Cases[i]
		depth, load := "-", "-"
		if c.Deepest.Vertex >= 0 {
			depth, load = p.u.SayDepth(c.Deepest.Depth), p.u.SayPressure(c.Load)
		}
		rows = append(rows, []string{c.Name, depth, load, dash(p.near(c)), p.overflowStarts(c), p.u.SayVolume(c.Left)})
	}
	p.table(rows)
}

// overflowStarts says when which overflow first takes water.
func (p *page) overflowStarts(c *study.Case) string {
	var words []string
	for i := range c.Outlets {
		if o := &p.book.Study.Surface.Outlets[i]; o.Duty == roof.Overflow && o.Type != roof.EdgeOutlet && c.Outlets[i].Start >= 0 {
			words = append(words, o.Label+" "+record.SayTime(c.Outlets[i].Start))
		}
	}
	if len(words) == 0 {
		return "-"
	}
	return record.Some(words)
}

// stormOutlets is the table of outlets in one case.
func (p *page) stormOutlets(c *study.Case) {
	rows := [][]string{{"outlet", "duty", "most flow", "at", "head", "in all", ""}}
	for i := range c.Outlets {
		o, r := &p.book.Study.Surface.Outlets[i], &c.Outlets[i]
		head, at, remark := "-", "-", ""
		if o.Type != roof.EdgeOutlet && r.PeakHead > 0 {
			head = p.u.SayDepth(r.PeakHead)
		}
		if r.PeakFlow > 0 {
			at = record.SayTime(r.PeakTime)
		}
		if g := p.book.Study.Drainage.Outlets[i].Rating; g != nil && g.High > 0 && r.PeakHead > g.High {
			remark = "head above what was tested"
		}
		if r.Blocked {
			remark = "blocked"
		}
		rows = append(rows, []string{o.Label, record.Duty(o.Duty), p.u.SayFlow(r.PeakFlow), at, head, p.u.SayVolume(r.Volume), remark})
	}
	p.table(rows)
}

func dash(s string) string {
	if strings.TrimSpace(s) == "" {
		return "-"
	}
	return s
}
