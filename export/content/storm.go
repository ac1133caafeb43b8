package content

import (
	"runnel/analysis/roof"
	"runnel/export/record"
	"runnel/export/text"
)

// Storm is what the design storm does.
type Storm struct {
	Facts     []Entry
	Cases     Table
	Outlets   Table   // in the cases that are drawn
	Flows     []Chart // an outlet each
	MoreFlows int     // that are not drawn
}

// stormOf gathers the storm, nil where there is none.
func stormOf(b *record.Book) *Storm {
	s := b.Study.Storm
	if s == nil {
		return nil
	}
	out := &Storm{Facts: entries(text.Storm(b)), Cases: caseTable(b), Outlets: flowTable(b)}
	out.Flows, out.MoreFlows = flows(b)
	return out
}

func caseTable(b *record.Book) Table {
	s, u := b.Study.Storm, b.Units
	t := Table{ID: "cases", Heads: []string{"case", "deepest", "load", "near", "at", "overflow starts", "left after 48 h"}}
	for i := range s.Cases {
		c := &s.Cases[i]
		row := Row{Cells: []Cell{{Text: c.Name}, none, none, {Text: "-"}, none}}
		if v := c.Deepest.Vertex; v >= 0 {
			row.Cells[1], row.Cells[2] = say(u.SayDepth(c.Deepest.Depth), c.Deepest.Depth), say(u.SayPressure(c.Load), c.Load)
			if near := b.OutletNear(int(v)); near != "" {
				row.Cells[3] = Cell{Text: near}
			}
			row.Cells[4] = say(record.SayTime(c.Deepest.Time), c.Deepest.Time)
		}
		row.Cells = append(row.Cells, Cell{Text: text.OverflowStarts(b, c)}, say(u.SayVolume(c.Left), c.Left))
		t.Rows = append(t.Rows, row)
	}
	return t
}

// flowTable lists what each outlet did in the cases that are shown.
func flowTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{ID: "flows", Heads: []string{"outlet", "duty", "case", "most flow", "at", "head", "in all", "starts", "remark"}}
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
				{Text: record.Duty(o.Duty)},
				{Text: c.Name},
				say(u.SayFlow(r.PeakFlow), r.PeakFlow), at, head,
				say(u.SayVolume(r.Volume), r.Volume), starts,
				{Text: remark},
			}})
		}
	}
	return t
}
