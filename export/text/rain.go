package text

import (
	"slices"

	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/export/record"
)

// whileItRains compares the outlets with the design rain, and says how deep water stands with every primary
// outlet blocked.
func (p *page) whileItRains() {
	d := p.book.Study.Drainage
	if d.Primary > 0 || d.Overflow > 0 {
		p.heading("Outlets under the design rain")
		p.demand()
	}
	if l := p.book.Study.RainLoad; l != nil && l.Deepest >= 0 {
		p.heading("Water with every primary outlet blocked")
		p.rainLoad()
	}
	if len(p.book.Study.Sills) > 0 {
		p.heading("Where water would get in")
		p.sills()
	}
}

// demand is the table of what comes to each outlet and what it takes.
func (p *page) demand() {
	s := p.book.Study
	table := [][]string{{"outlet", "duty", "rain", "comes", "head it needs", "half clogged", "least behind it", "method"}}
	for i := range s.Drainage.Outlets {
		d, o := &s.Drainage.Outlets[i], &s.Surface.Outlets[i]
		if d.Rate <= 0 {
			continue
		}
		row := []string{o.Label, record.Duty(o.Duty), p.u.SayRain(d.Rate), p.u.SayFlow(d.Demand), "-", "-", "-", "-"}
		switch {
		case o.Type == roof.EdgeOutlet:
			row[7] = "open edge"
		case d.Rating == nil:
			row[7] = "sizes not stated"
		case d.Demand <= 0:
			row[7] = d.Rating.Method
		default:
			row[4], row[7] = p.u.SayDepth(d.Head), d.Rating.Method
			if !d.Takes {
				row[4] = "takes only " + p.u.SayFlow(d.Rating.Flow(d.Head))
			}
			row[5] = p.clogged(d.Clogged)
			if l := d.Rating.Least(); l != nil {
				row[6] = l.Name + " " + p.u.SayFlow(l.Capacity)
			}
		}
		table = append(table, row)
	}
	p.table(table)
	p.demandNotes()
}

// demandNotes says what the table of outlets compares, and what a roof does not show.
func (p *page) demandNotes() {
	s := p.book.Study
	rules := standard.ArrangementOf(s.Criteria.Practice)
	if slices.ContainsFunc(s.Surface.Outlets, func(o surface.Outlet) bool { return o.Duty == roof.Overflow }) {
		p.note("Also required, and not visible from a roof: " + rules.Separate.What + " (" + rules.Separate.Source.Text + ").")
	}
	p.note("An overflow is compared with every primary outlet blocked. Strainers are assumed to be clean; the head with the strainer half clogged stands beside it. Walls that shed rain count by the rule \"" + s.Drainage.WallRule + "\". The local code says which rain to use.")
}

// clogged says the head with a strainer half clogged: 0 stands for no strainer, -1 for none that does.
func (p *page) clogged(head float64) string {
	switch {
	case head < 0:
		return "does not take it"
	case head > 0:
		return p.u.SayDepth(head)
	}
	return "-"
}

// rainLoad says how deep and heavy the water is.
func (p *page) rainLoad() {
	s := p.book.Study
	l := s.RainLoad
	text := "At least " + p.u.SayDepth(l.Depth) + " deep, " + p.u.SayPressure(l.Load) + ", " + p.book.AtVertex(int(l.Deepest)) + "; " +
		p.u.SayMass(l.Weight) + " over " + p.u.SayArea(l.Area) + " in all."
	if len(l.Waters) > 0 {
		w := &l.Waters[0]
		text += " Static head " + p.u.SayDepth(w.StaticHead)
		if w.HeadKnown {
			text += ", hydraulic head " + p.u.SayDepth(w.Head) + " at " + p.u.SayFlow(w.Inflow)
		} else {
			text += "; the depth that the flow itself adds is not included: " + whyNoHead(s.Drainage.Overflow)
		}
		text += "."
	}
	p.note(text)
	if l.Enclosed {
		p.note("Some of it has no way out at any level. It rises to the top of what holds it.")
	}
	if slices.ContainsFunc(l.Waters, func(w rainload.Water) bool { return w.OverEdge }) {
		p.note("Where the water reaches an open edge, no head over the edge is added (" + standard.FreeEdgeHead.Text + ").")
	}
	rules := standard.ArrangementOf(p.book.Study.Criteria.Practice)
	p.note(standard.AtLeast + " (" + rules.RainLoad.Text + ". " + rules.Sag + ".) Whether the roof can carry it is for a structural engineer.")
}

func whyNoHead(rate float64) string {
	if rate <= 0 {
		return "no rain_overflow was stated"
	}
	return "an outlet there takes less than what comes, or its size was not stated"
}

// sills lists how far below each sill the water stays, worst case last.
func (p *page) sills() {
	s := p.book.Study
	table := [][]string{{"sill", "elevation", "with", "water level", "below the sill"}}
	for i := range s.Sills {
		w := &s.Sills[i]
		sill := &s.Roof.Sills[w.Sill]
		name, margin := sill.Label, "water gets in"
		if name == "" {
			name = sill.ID
		}
		if w.Margin > 0 {
			margin = p.u.SayDepth(w.Margin)
		}
		table = append(table, []string{name, p.u.SayElevation(sill.Z), s.Cases[w.Case].Name, p.u.SayElevation(w.Level), margin})
	}
	p.table(table)
}
