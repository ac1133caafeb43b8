package content

import (
	"slices"
	"strings"

	"runnel/analysis/drainage"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/export/record"
	"runnel/export/text"
)

// Rain is what the outlets do under the design rain. Its tables are empty where no rain is stated.
type Rain struct {
	Outlets     Table
	OutletNotes []string // under the table, the methods with their sources among them
	Load        []string // with every primary outlet blocked; empty where no load is said
	Waters      Table
	Sills       Table
	Volumes     []Chart // how much water stands at which level
	MoreVolumes int     // that are not drawn
}

// VolumesNote says what the charts of volumes are.
const VolumesNote = "Each curve is that of the surveyed shape: the depth over the lowest point against all water that stands below that level."

func rainOf(b *record.Book) *Rain {
	s := b.Study
	r := &Rain{}
	if d := s.Drainage; d.Primary > 0 || d.Overflow > 0 {
		r.Outlets = demandTable(b)
		r.OutletNotes = slices.Concat(text.Demand(b), unstated(b), methods(b))
	}
	if l := s.RainLoad; l != nil && l.Deepest >= 0 {
		r.Load, r.Waters = text.RainLoad(b), waterTable(b)
	}
	r.Sills = sillTable(b)
	if s.Storm != nil || s.Drainage.Overflow > 0 {
		r.Volumes, r.MoreVolumes = volumes(b)
	}
	return r
}

// demandTable lists what comes to each outlet and what it takes.
func demandTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{ID: "demand", Heads: []string{
		"outlet", "duty", "rain", "comes", "head it needs", "half clogged", "by the lower figure", "least behind it", "method",
	}}
	for i := range s.Drainage.Outlets {
		d, o := &s.Drainage.Outlets[i], &s.Surface.Outlets[i]
		if d.Rate <= 0 {
			continue
		}
		row := Row{Cells: []Cell{
			{Text: o.Label}, {Text: record.Duty(o.Duty)}, say(u.SayRain(d.Rate), d.Rate), say(u.SayFlow(d.Demand), d.Demand),
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

// without returns the table without a column that says nothing in any row.
func (t Table) without(head string) Table {
	k := slices.Index(t.Heads, head)
	if slices.ContainsFunc(t.Rows, func(r Row) bool { return r.Cells[k] != none }) {
		return t
	}
	t.Heads = slices.Delete(t.Heads, k, k+1)
	for i := range t.Rows {
		t.Rows[i].Cells = slices.Delete(t.Rows[i].Cells, k, k+1)
	}
	return t
}

// none stands where a number is not known or not asked for.
var none = say("-", -1)

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
		how := "from memory"
		if source.Read {
			how = "read"
		}
		out = append(out, capital(method)+": "+source.Text+" ("+how+").")
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

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// waterTable lists the waters at outlets with every primary outlet blocked.
func waterTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{ID: "waters", Heads: []string{"held by", "level", "static head", "hydraulic head", "deep", "load", "area", "weighs"}}
	for i := range s.RainLoad.Waters {
		w := &s.RainLoad.Waters[i]
		var names []string
		for _, k := range w.Outlets {
			names = append(names, s.Surface.Outlets[s.Drainage.Blocked.Of[k]].Label)
		}
		head := none
		if w.HeadKnown {
			head = say(u.SayDepth(w.Head), w.Head)
		}
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
	t := Table{ID: "sills", Heads: []string{"sill", "elevation", "with", "water level", "below the sill"}}
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
