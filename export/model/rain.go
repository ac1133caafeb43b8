package model

import (
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/drainage"
	"runnel/analysis/gather"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/export/record"
)

// Rain is what the outlets do under the design rain. Its tables are empty where no rain is stated.
type Rain struct {
	Outlets     Table    // the notes under it name the methods with their sources
	Load        []string // with every primary outlet blocked; empty where no load is said
	LoadHeading string
	Waters      Table
	Sills       Table
	Volumes     []Chart // how much water stands at which level
	MoreVolumes string  // says how many are not drawn
}

// VolumesNote says what the charts of volumes are.
const VolumesNote = "Each curve is that of the surveyed shape: the depth over the lowest point against all water that stands below that level."

func (t *teller) rain() *Rain {
	s := t.b.Study
	r := &Rain{LoadHeading: "Water with every primary outlet blocked"}
	if d := s.Drainage; d.Primary > 0 || d.Overflow > 0 {
		r.Outlets = demandTable(t.b)
		r.Outlets.Notes = slices.Concat(t.demandNotes(), unstated(t.b), methods(t.b))
	}
	if l := s.RainLoad; l != nil && l.Deepest >= 0 {
		r.Load, r.Waters = t.rainLoad(), waterTable(t.b)
	}
	r.Sills = sillTable(t.b)
	if s.Storm != nil || s.Drainage.Overflow > 0 {
		more := 0
		if r.Volumes, more = volumes(t.b); more > 0 {
			r.MoreVolumes = "And " + record.Plural(more, "smaller one") + "."
		}
	}
	return r
}

// demandNotes says what the table of outlets compares, and what a roof does not show.
func (t *teller) demandNotes() []string {
	s := t.b.Study
	var notes []string
	if slices.ContainsFunc(s.Surface.Outlets, func(o surface.Outlet) bool { return o.Duty == roof.Overflow }) {
		rules := standard.ArrangementOf(s.Criteria.Practice)
		notes = append(notes, "Also required, and not visible from a roof: "+rules.Separate.What+" ("+rules.Separate.Source.Text+").")
	}
	return append(notes, "An overflow is compared with every primary outlet blocked. Strainers are assumed to be clean; the head with the strainer half clogged stands beside it. Walls that shed rain count by the rule \""+s.Drainage.WallRule+"\". The local code says which rain to use.")
}

// rainLoad says how deep and heavy the water is with every primary outlet blocked. There must be a load.
func (t *teller) rainLoad() []string {
	s := t.b.Study
	l := s.RainLoad
	text := "At least " + t.u.SayDepth(l.Depth) + " deep, " + t.u.SayPressure(l.Load) + ", " + t.b.AtVertex(int(l.Deepest)) + "; " +
		t.u.SayMass(l.Weight) + " over " + t.u.SayArea(l.Area) + " in all."
	if len(l.Waters) > 0 {
		w := &l.Waters[0]
		text += " Static head " + t.u.SayDepth(w.StaticHead)
		if w.HeadKnown {
			text += ", hydraulic head " + t.u.SayDepth(w.Head) + " at " + t.u.SayFlow(w.Inflow)
		} else {
			text += "; the depth that the flow itself adds is not included: " + whyNoHead(s.Drainage.Overflow)
		}
		text += "."
	}
	all := []string{record.Short(text)}
	if l.Enclosed {
		all = append(all, "Some of it has no way out at any level. It rises to the top of what holds it.")
	}
	if slices.ContainsFunc(l.Waters, func(w rainload.Water) bool { return w.OverEdge }) {
		all = append(all, "Where the water reaches an open edge, no head over the edge is added ("+standard.FreeEdgeHead.Text+").")
	}
	rules := standard.ArrangementOf(s.Criteria.Practice)
	return append(all, standard.AtLeast+" ("+rules.RainLoad.Text+". "+rules.Sag+".) Whether the roof can carry it is for a structural engineer.")
}

func whyNoHead(rate float64) string {
	if rate <= 0 {
		return "no rain_overflow was stated"
	}
	return "an outlet there takes less than what comes, or its size was not stated"
}

// demandTable lists what comes to each outlet and what it takes.
func demandTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{ID: "demand", More: "more outlets", Heading: "Outlets under the design rain", Columns: aside(heads(
		"outlet", "duty", "rain", "comes", "head it needs", "half clogged", "by the lower figure", "least behind it", "method",
	), "by the lower figure")}
	for i := range s.Drainage.Outlets {
		d, o := &s.Drainage.Outlets[i], &s.Surface.Outlets[i]
		if d.Rate <= 0 {
			continue
		}
		row := Row{Cells: []Cell{
			{Text: o.Label}, {Text: o.Duty.String()}, say(u.SayRain(d.Rate), d.Rate), say(u.SayFlow(d.Demand), d.Demand),
		}}
		switch {
		case o.Type == roof.EdgeOutlet:
			row.Cells = append(row.Cells, none, none, none, Cell{Text: "-"}, Cell{Text: "open edge"})
		case d.Rating == nil:
			row.Cells = append(row.Cells, none, none, none, Cell{Text: "-"}, Cell{Text: "sizes not stated"})
		default:
			row.Cells = append(row.Cells, rated(b, d)...)
		}
		t.Rows = append(t.Rows, row)
	}
	return t.without("half clogged").without("by the lower figure")
}

// rated returns the cells of an outlet whose capacity is known.
func rated(b *record.Book, d *drainage.Outlet) []Cell {
	u := b.Units
	head, clogged, lower, least := none, none, none, Cell{Text: "-"}
	if d.Demand > 0 {
		head = say(u.SayDepth(d.Head), d.Head)
		if !d.Takes {
			head = say("takes only "+u.SayFlow(d.Rating.Flow(d.Head)), 1e9)
		}
		switch {
		case d.Clogged > 0:
			clogged = say(u.SayDepth(d.Clogged), d.Clogged)
		case d.Clogged < 0:
			clogged = say("does not take it", 1e9)
		}
		if l := d.Rating.Lower; l != nil {
			if h, err := l.Head(d.Demand); err == nil {
				lower = say(u.SayDepth(h)+", "+l.Method, h)
			} else {
				lower = say("does not take it, "+l.Method, 1e9)
			}
		}
	}
	if l := d.Rating.Least(); l != nil {
		least = Cell{Text: l.Name + " " + u.SayFlow(l.Capacity)}
	}
	method := d.Rating.Method
	if d.Range != nil {
		method += "; outside what was tested"
	}
	return []Cell{head, clogged, lower, least, {Text: method}}
}

// unstated names for each outlet the links behind it that nobody stated; outlets that lack the same stand together.
func unstated(b *record.Book) []string {
	var lacks []string
	of := map[string][]string{}
	for i := range b.Study.Drainage.Outlets {
		d := &b.Study.Drainage.Outlets[i]
		if d.Rate <= 0 || d.Rating == nil || len(d.Rating.Unknown) == 0 {
			continue
		}
		what := strings.Join(d.Rating.Unknown, ", ")
		if of[what] == nil {
			lacks = append(lacks, what)
		}
		of[what] = append(of[what], b.Study.Surface.Outlets[i].Label)
	}
	for i, what := range lacks {
		lacks[i] = "Not stated, and so not counted, behind " + strings.Join(of[what], ", ") + ": " + what + "."
	}
	return lacks
}

// methods names the source of every method that the table shows, each once, and whether it was read.
func methods(b *record.Book) []string {
	var out []string
	seen := map[string]bool{}
	add := func(method string, source standard.Source) {
		if key := method + source.Text; seen[key] || method == "" {
			return
		} else {
			seen[key] = true
		}
		how := choose.If(source.Read, "read", "from memory")
		out = append(out, record.Capital(method)+": "+source.Text+" ("+how+").")
	}
	for i := range b.Study.Drainage.Outlets {
		d := &b.Study.Drainage.Outlets[i]
		if d.Rate <= 0 || d.Rating == nil {
			continue
		}
		add(d.Rating.Method, d.Rating.Source)
		if l := d.Rating.Lower; l != nil {
			add(l.Method, l.Source)
		}
		if l := d.Rating.Least(); l != nil {
			add(l.Name, l.Source)
		}
	}
	return out
}

// waterTable lists the waters at outlets with every primary outlet blocked.
func waterTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{ID: "waters", More: "more waters", Columns: heads("held by", "level", "static head", "hydraulic head", "deep", "load", "area", "weighs")}
	for i := range s.RainLoad.Waters {
		w := &s.RainLoad.Waters[i]
		names := gather.Each(w.Outlets, func(k int32) string { return s.Surface.Outlets[s.Drainage.Blocked.Of[k]].Label })
		head := choose.If(w.HeadKnown, say(u.SayDepth(w.Head), w.Head), none)
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: strings.Join(names, ", ")},
			say(u.SayElevation(w.Level), w.Level), say(u.SayDepth(w.StaticHead), w.StaticHead), head,
			say(u.SayDepth(w.Depth), w.Depth), say(u.SayPressure(w.Load), w.Load), say(u.SayArea(w.Area), w.Area), say(u.SayMass(w.Weight), w.Weight),
		}})
	}
	return t
}

// sillTable lists how far below each sill the water stays.
func sillTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{ID: "sills", More: "more rows", Heading: "Where water would get in", Columns: heads("sill", "elevation", "with", "water level", "below the sill")}
	for i := range s.Sills {
		w := &s.Sills[i]
		sill := &s.Roof.Sills[w.Sill]
		name, margin := sill.Label, "water gets in"
		if name == "" {
			name = sill.ID
		}
		if w.Margin > 0 {
			margin = u.SayDepth(w.Margin)
		}
		t.Rows = append(t.Rows, Row{b.Names.Input("sill", sill.ID), []Cell{
			{Text: name}, say(u.SayElevation(sill.Z), sill.Z), {Text: s.Cases[w.Case].Name}, say(u.SayElevation(w.Level), w.Level), say(margin, w.Margin),
		}})
	}
	return t
}
