package model

import (
	"fmt"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/export/record"
)

// Storm is what the design storm does.
type Storm struct {
	Facts     []Entry
	Cases     Table
	Outlets   Table   // in the cases that are drawn
	Flows     []Chart // an outlet each
	MoreFlows string  // says how many are not drawn
}

// storm gathers what the storm does, nil where there is none.
func (t *teller) storm() *Storm {
	s := t.b.Study.Storm
	if s == nil {
		return nil
	}
	out := &Storm{Facts: t.stormFacts(s), Cases: t.caseTable(), Outlets: flowTable(t.b)}
	shorten(out.Facts)
	more := 0
	if out.Flows, more = flows(t.b); more > 0 {
		out.MoreFlows = "And " + record.Plural(more, "outlet") + " with less flow in the table."
	}
	return out
}

// worstStorm says how deep the storm's water gets: the worst case, and beside it the roof with every outlet at work and with every primary
// outlet blocked; empty where there is no storm.
func (t *teller) worstStorm() string {
	s := t.b.Study.Storm
	if s == nil {
		return ""
	}
	text := t.worstCase(s)
	for i := range s.Cases {
		c := &s.Cases[i]
		if i == s.Worst || c.Deepest.Vertex < 0 || i > 0 && c.Name != study.EveryPrimaryBlocked {
			continue
		}
		text += " With " + c.Name + ": at least " + t.u.SayDepth(c.Deepest.Depth) + ", " + t.u.SayPressure(c.Load) + "."
	}
	if len(s.Unsized) > 0 {
		text += " " + unsized(s.Unsized)
	}
	return text
}

// stormFacts says what comes down, what is left, and what was taken for granted.
func (t *teller) stormFacts(s *study.Storm) []Entry {
	all := []Entry{{Word: "RAIN", Texts: []string{t.fallen(s)}}, {Word: "LEFT", Texts: []string{t.left(s)}}}
	if len(s.Unsized) > 0 {
		all = append(all, Entry{Word: "UNSIZED", Texts: []string{unsized(s.Unsized) + " Measure what is missing."}})
	}
	return append(all, Entry{Word: "DEPTHS", Texts: []string{standard.AtLeast + " Rain runs off at once."}})
}

// unsized says which outlets count as blocked.
func unsized(labels []string) string {
	if len(labels) == 1 {
		return labels[0] + " counts as blocked: no size is stated."
	}
	return record.Some(labels) + " count as blocked: no size is stated."
}

// fallen says what comes down.
func (t *teller) fallen(s *study.Storm) string {
	text := t.u.SayDepth(s.Rain.Depth()) + " in " + record.SayTime(s.Rain.Duration()) + ", " + s.Pattern.Name + " (" + s.Pattern.Source.Text + "), at most " + t.u.SayRain(s.Rain.Peak()) + ": your figures. The local code says which storm to use"
	if s.Wet {
		text += "; ponds stand full when it begins"
	}
	return text + "."
}

// worstCase describes the case with the deepest water.
func (t *teller) worstCase(s *study.Storm) string {
	c := &s.Cases[s.Worst]
	if c.Deepest.Vertex < 0 {
		return "No water stands in any case. How deep it runs over an open edge is not computed."
	}
	text := "With " + c.Name + " water stands at least " + t.u.SayDepth(c.Deepest.Depth) + " deep, " + t.u.SayPressure(c.Load)
	text += ", " + t.b.AtVertex(int(c.Deepest.Vertex))
	text += fmt.Sprintf(", %s after the rain begins.", record.SayTime(c.Deepest.Time))
	if c.Covered {
		text += " It covers part of the roof to its highest point and would keep rising between the walls. Check whether it would run over a wall first."
	}
	return text
}

// left says how long the roof drains and what stays, with the outlets of the first case.
func (t *teller) left(s *study.Storm) string {
	c := &s.Cases[0]
	text := "With " + c.Name + " nothing drains"
	if c.Drains() {
		text = "With " + c.Name + " the roof drains for " + record.SayTime(c.DrainTime) + " after the rain"
	}
	text += fmt.Sprintf("; after 48 hours %s of %s are left", t.u.SayVolume(c.Left), t.u.SayVolume(c.Came()))
	if s.Evaporation > 0 {
		return text + ", " + t.u.SayVolume(c.Evaporated) + " have dried at your " + t.u.SayDepth(s.Evaporation*24*3600) + " a day."
	}
	return text + ". No drying is counted: none was stated."
}

// overflowStarts says when which overflow first takes water.
func (t *teller) overflowStarts(c *study.Case) string {
	var words []string
	for i := range c.Outlets {
		if o := &t.b.Study.Surface.Outlets[i]; o.Duty == roof.Overflow && o.Type != roof.EdgeOutlet && c.Outlets[i].Start >= 0 {
			words = append(words, o.Label+" "+record.SayTime(c.Outlets[i].Start))
		}
	}
	return choose.If(len(words) == 0, none.Text, record.Some(words))
}

func (t *teller) caseTable() Table {
	s, u := t.b.Study.Storm, t.u
	out := Table{ID: "cases", More: "more cases", Columns: aside(heads("case", "deepest", "load", "near", "at", "overflow starts", "left after 48 h"), "at")}
	for i := range s.Cases {
		c := &s.Cases[i]
		row := Row{Cells: []Cell{{Text: c.Name}, none, none, {Text: none.Text}, none}}
		if v := c.Deepest.Vertex; v >= 0 {
			row.Cells[1], row.Cells[2] = say(u.SayDepth(c.Deepest.Depth), c.Deepest.Depth), say(u.SayPressure(c.Load), c.Load)
			if near := t.b.OutletNear(int(v)); near != "" {
				row.Cells[3] = Cell{Text: near}
			}
			row.Cells[4] = say(record.SayTime(c.Deepest.Time), c.Deepest.Time)
		}
		row.Cells = append(row.Cells, Cell{Text: t.overflowStarts(c)}, say(u.SayVolume(c.Left), c.Left))
		out.Rows = append(out.Rows, row)
	}
	return out
}

// flowTable lists what each outlet did in the cases that are shown.
func flowTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{
		ID: "flows", More: "more rows", Heading: "What each outlet did in the storm",
		Columns: aside(heads("outlet", "duty", "case", "most flow", "at", "head", "in all", "starts", "remark"), "duty", "starts"),
	}
	for i := range s.Surface.Outlets {
		o := &s.Surface.Outlets[i]
		for _, c := range b.StormCases() {
			r := &c.Outlets[i]
			at, head, starts, remark := none, none, none, ""
			if r.PeakFlow > 0 {
				at = say(record.SayTime(r.PeakTime), r.PeakTime)
			}
			if o.Type != roof.EdgeOutlet && r.PeakHead > 0 {
				head = say(u.SayDepth(r.PeakHead), r.PeakHead)
			}
			if r.Start >= 0 {
				starts = say(record.SayTime(r.Start), r.Start)
			}
			if g := s.Drainage.Outlets[i].Rating; g != nil && g.High > 0 && r.PeakHead > g.High {
				remark = "head above what was tested"
			}
			if r.Blocked {
				remark = "blocked"
			}
			t.Rows = append(t.Rows, Row{Cells: []Cell{
				{Text: o.Label},
				{Text: o.Duty.String()},
				{Text: c.Name},
				say(u.SayFlow(r.PeakFlow), r.PeakFlow), at, head,
				say(u.SayVolume(r.Volume), r.Volume), starts,
				{Text: remark},
			}})
		}
	}
	return t
}
