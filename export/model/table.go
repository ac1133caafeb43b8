package model

import (
	"cmp"
	"slices"
	"strings"

	"runnel/analysis/choose"
	"runnel/analysis/inspection"
	"runnel/analysis/ponding"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/export/record"
)

// Table is a table with its heading and what stands under it.
type Table struct {
	ID      string // one word
	Heading string // empty where the section's heading says it
	Columns []Column
	Rows    []Row
	More    string   // what rows are called where a writer has no room for all: "smaller ponds"
	Small   int      // how many rows at the end are too small for a page: they stand in the files alone
	Notes   []string // under the table
	Empty   string   // what stands in place of no row where Nothing would say more than is known
}

// None is what stands where the table has no row.
func (t Table) None() string { return cmp.Or(t.Empty, Nothing) }

// Column is a column of a table.
type Column struct {
	Head     string
	Aside    bool // the first to be left out where there is little room
	Sentence bool // its cells hold sentences
}

// Row is a row of a table.
type Row struct {
	Feature string // its id on the map, may be empty
	Cells   []Cell
}

// Cell is a text, and the number that it sorts by where it says one.
type Cell struct {
	Text   string
	Number bool
	Value  float64
}

// Nothing stands where a table or a list has no row.
const Nothing = "None found in this survey."

// BlindPonds stands in place of ponds where nobody surveyed the outlets.
const BlindPonds = "None can be told before the outlets are surveyed."

// Rest says how many rows of a kind a writer has no room for; empty where it has room for all.
func Rest(n int, what string) string {
	if n <= 0 {
		return ""
	}
	if n == 1 {
		what = strings.TrimSuffix(what, "s")
	}
	return "And " + record.Count(float64(n)) + " " + what + " in the files."
}

// Page returns the rows of a table that a page of at most so many lists, and what it says of the others.
func (t *Table) Page(most int) ([]Row, string) {
	n := min(most, len(t.Rows)-t.Small)
	rest := Rest(len(t.Rows)-n, t.More)
	if n == 0 {
		rest = strings.TrimPrefix(rest, "And ")
	}
	return t.Rows[:n], rest
}

// FewerFindings is what findings are called that a writer has no room for.
const FewerFindings = "less severe or smaller findings"

func say(text string, value float64) Cell { return Cell{text, true, value} }

// none stands where a number is not known or not asked for.
var none = say("-", -1)

// orNone returns a text, or what stands where there is none.
func orNone(text string) string { return choose.If(strings.TrimSpace(text) == "", none.Text, text) }

func heads(names ...string) []Column {
	all := make([]Column, len(names))
	for i, n := range names {
		all[i].Head = n
	}
	return all
}

func sentences(names ...string) []Column {
	all := heads(names...)
	for i := range all {
		all[i].Sentence = true
	}
	return all
}

// aside marks the columns of these heads as the first to be left out.
func aside(all []Column, names ...string) []Column {
	for i := range all {
		all[i].Aside = slices.Contains(names, all[i].Head)
	}
	return all
}

// without returns the table without a column that says nothing in any row.
func (t Table) without(head string) Table {
	k := slices.IndexFunc(t.Columns, func(c Column) bool { return c.Head == head })
	if slices.ContainsFunc(t.Rows, func(r Row) bool { return r.Cells[k] != none }) {
		return t
	}
	return t.drop(k)
}

// drop returns the table without column k.
func (t Table) drop(k int) Table {
	t.Columns = slices.Delete(t.Columns, k, k+1)
	for i := range t.Rows {
		t.Rows[i].Cells = slices.Delete(t.Rows[i].Cells, k, k+1)
	}
	return t
}

func pondTable(b *record.Book) Table {
	s := b.Study
	t := Table{
		ID: "ponds", Heading: "Ponds, each full to its lip", More: "smaller ponds",
		Columns: heads("id", "deep", "5 to 95 %", "area", "water", "weighs", "at the deepest", "where", "then spills to"),
	}
	if s.LowPlaces != nil {
		t.Empty = BlindPonds
	}
	for i, l := range s.Listed {
		p := &s.Ponds.Ponds[l.Pond]
		t.Rows = append(t.Rows, Row{b.Names.Ponds[l.Pond], []Cell{
			{Text: l.ID},
			say(b.SayPondDepth(i), p.Depth),
			{Text: orNone(b.SayPondRange(i))},
			say(b.SayPondArea(i), p.Area), say(b.SayPondVolume(i), p.Volume),
			say(b.SayPondWeight(i), l.Weight), say(b.SayPondLoad(i), l.Load),
			{Text: string(l.Place)},
			{Text: spillsTo(b, p)},
		}})
	}
	if len(t.Rows) > 0 {
		t.Notes = append(t.Notes, "\"5 to 95 %\": with 95 % confidence the depth is over the one figure and not over the other, by the errors of the survey at its spots; "+
			"what lies between spots is not covered. A pond whose depth is a range is barely shown by the spots.")
	}
	if s.Shallow.Count > 0 {
		t.Notes = append(t.Notes, b.Shallow())
	}
	return t
}

// spillsTo names where a full pond runs over to. Low places too shallow to list have no name that a reader could find.
func spillsTo(b *record.Book, p *ponding.Pond) string {
	if p.ToOutlet < 0 && p.ToPond >= 0 && !b.Names.Lists(p.ToPond) {
		return "a shallow low place"
	}
	return cmp.Or(b.Names.Local(b.Names.End(p.ToOutlet, p.ToPond)), "nowhere")
}

func outletTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{
		ID: "outlets", Heading: "Outlets", More: "more outlets",
		Columns: heads("id", "label", "type", "duty", "inlet level", "runs to it", "longest way", "direct", "direct way"),
	}
	for i := range s.Surface.Outlets {
		o := &s.Surface.Outlets[i]
		level := u.SayElevation(o.Invert)
		if o.InvertAssumed {
			level += " (assumed)"
		}
		way := func(area float64, t record.Travel) Cell {
			if area <= 0 {
				return none
			}
			return say(u.SayLength(t.Longest), t.Longest)
		}
		t.Rows = append(t.Rows, Row{b.Names.Outlets[i], []Cell{
			{Text: b.Names.Local(b.Names.Outlets[i])},
			{Text: o.Label},
			{Text: record.OutletType(o)},
			{Text: o.Duty.String()},
			say(level, o.Invert),
			say(b.SayCatchment(i), b.Catchment(i)), way(b.Catchment(i), b.Travel(i)),
			say(u.SayArea(b.Direct(i)), b.Direct(i)), way(b.Direct(i), b.DirectTravel(i)),
		}})
	}
	if len(t.Rows) == 0 {
		return t
	}
	t.Notes = outletNotes(b)
	if !slices.ContainsFunc(t.Rows, func(r Row) bool { return r.Cells[0].Text != r.Cells[1].Text }) {
		return t.drop(0) // every outlet goes by its label
	}
	return t
}

// outletNotes says what the columns of the table mean, which outlets share a pond, and what runs to none.
func outletNotes(b *record.Book) []string {
	s, u := b.Study, b.Units
	notes := []string{"\"Runs to it\" and \"longest way\" are with every low place full; \"direct\" is before any low place overflows."}
	if anyOpen(b) {
		notes = append(notes, "Where \"runs to it\" is a range, the errors of the survey leave open to which outlet the water runs: with 95 % confidence it is over the one figure "+
			"and not over the other. A bucket of water, poured where the roof is all but level between them, shows which.")
	}
	for _, share := range s.Catchments.Shares {
		notes = append(notes, s.Surface.Outlets[share.Outlet].Label+" takes "+record.SayShare(share.Part)+" of what runs to "+
			b.Names.Local(b.Names.Ponds[share.Pond])+", which outlets of one level hold together.")
	}
	if b.Undrained > 0 {
		notes = append(notes, "No way out at any level: "+u.SayArea(b.Undrained)+".")
	}
	if share := s.Flow.Indeterminate / s.Surface.Area; share > 0.005 {
		notes = append(notes, "Level, so that water has no direction of its own: "+u.SayArea(s.Flow.Indeterminate)+" ("+shareOfRoof(share)+").")
	}
	return notes
}

// anyOpen reports whether the survey leaves open what runs to an outlet.
func anyOpen(b *record.Book) bool {
	for i := range b.Study.Surface.Outlets {
		if b.OpenCatchment(i) {
			return true
		}
	}
	return false
}

func planeTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{ID: "planes", Heading: "Planes", More: "smaller planes", Columns: heads("id", "area", "falls", "to the", "")}
	for i := range s.Slopes.Planes {
		p := &s.Slopes.Planes[i]
		slope, to, below := say(u.SaySlope(p.Slope), p.Slope), record.SayBearing(p.Aspect), ""
		if p.Level {
			slope, to = say("level", 0), none.Text
		}
		if p.BelowMin {
			below = "under the criterion"
		}
		id := b.Names.Plane(i)
		t.Rows = append(t.Rows, Row{id, []Cell{{Text: b.Names.Local(id)}, say(u.SayArea(p.Area), p.Area), slope, {Text: to}, {Text: below}}})
	}
	t.Small = planesTooSmall(s)
	t.Notes = []string{"Under the criterion of " + u.SaySlope(s.Criteria.MinSlope) + ": " + shareOfRoof(s.Slopes.BelowMinShare) + "."}
	return t
}

// smallPlane is the part of a roof under which a page lists no plane: an own choice. The sides of a dish or a ridge of laps are planes too, and tell nobody where
// water goes. The largest is listed whatever its size.
const smallPlane = 0.01

// planesTooSmall returns how many planes, which come in order of area, are too small for a page.
func planesTooSmall(s *study.Study) int {
	n := 0
	for i := len(s.Slopes.Planes) - 1; i > 0 && s.Slopes.Planes[i].Area < smallPlane*s.Surface.Area; i-- {
		n++
	}
	return n
}

// shortValley is the length, in spacings of the spots, under which a page lists no valley: an own choice. It is the fold between two neighbouring spots or three.
const shortValley = 2

func valleyTable(b *record.Book) Table {
	u := b.Units
	t := Table{ID: "valleys", Heading: "Valleys, from end to end", More: "more valleys", Columns: heads("id", "long", "drops", "falls", "")}
	var short []Row
	for i := range b.Study.Slopes.Valleys {
		l := &b.Study.Slopes.Valleys[i]
		var notes []string
		if l.BelowMin {
			notes = append(notes, "under the criterion")
		}
		if l.BackFall > 0.001 {
			notes = append(notes, "runs back up "+u.SayDepth(l.BackFall))
		}
		slope := choose.If(l.Slope < inspection.Level, say("level", 0), say(u.SaySlope(l.Slope), l.Slope))
		id := b.Names.Valley(i)
		row := Row{id, []Cell{
			{Text: b.Names.Local(id)}, say(u.SayLength(l.Length), l.Length), say(u.SayDepth(l.Drop), l.Drop), slope, {Text: strings.Join(notes, ", ")},
		}}
		if l.Length < shortValley*b.Study.Surface.Spacing {
			short = append(short, row)
		} else {
			t.Rows = append(t.Rows, row)
		}
	}
	t.Rows, t.Small = append(t.Rows, short...), len(short)
	if len(t.Rows) == t.Small {
		t.More = "short valleys"
	}
	return t
}

// criteriaTable lists the limits in force with their sources.
func criteriaTable(b *record.Book) Table {
	c, u := b.Study.Criteria, b.Units
	t := Table{ID: "criteria", More: "more criteria", Heading: "Criteria and their sources", Columns: append(heads("criterion", "limit"), sentences("source")...)}
	d := standard.DefaultsOf(c.Practice)
	add := func(name, label, value string, usual bool) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: label}, {Text: value}, {Text: b.CiteCriterion(name, usual)}}})
	}
	add("min_slope", "slope of planes, as found", u.SaySlope(c.MinSlope), c.MinSlope == d.MinSlope)
	add(standard.MinSlopeNewName, "slope of planes, new work", u.SaySlope(c.MinSlopeNew), c.MinSlopeNew == d.MinSlopeNew)
	add("min_valley_slope", "slope of valleys", u.SaySlope(c.MinValleySlope), c.MinValleySlope == d.MinValleySlope)
	add("pond_depth", "depth from which a pond is listed", u.SayDepth(c.PondDepth)+", or "+u.SayDepth(c.PondDepthWide)+" over "+u.SayArea(c.WideArea)+" or more", c.PondDepth == d.PondDepth)
	add("near_outlet", "near an outlet", u.SayLength(c.NearOutlet), c.NearOutlet == d.NearOutlet)
	if c.MaxTravel > 0 {
		add("max_travel", "longest travel", u.SayLength(c.MaxTravel), false)
	}
	return t
}
