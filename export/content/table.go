package content

import (
	"strings"

	"runnel/analysis/standard"
	"runnel/export/record"
)

// Table is a table that a page can sort.
type Table struct {
	ID    string
	Heads []string
	Rows  []Row
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

func say(text string, value float64) Cell { return Cell{text, true, value} }

func pondTable(b *record.Book) Table {
	s := b.Study
	t := Table{ID: "ponds", Heads: []string{"id", "deep", "5 to 95 %", "area", "water", "weighs", "load at the deepest", "where", "then spills to"}}
	for i, l := range s.Listed {
		p := &s.Ponds.Ponds[l.Pond]
		to := strings.TrimPrefix(b.Names.End(p.ToOutlet, p.ToPond), b.Names.Roof+".")
		if to == "" {
			to = "nowhere"
		}
		t.Rows = append(t.Rows, Row{b.Names.Ponds[l.Pond], []Cell{
			{Text: l.ID},
			say(b.SayPondDepth(i), p.Depth),
			{Text: b.SayPondRange(i)},
			say(b.SayPondArea(i), p.Area), say(b.SayPondVolume(i), p.Volume),
			say(b.SayPondWeight(i), l.Weight), say(b.SayPondLoad(i), l.Load),
			{Text: string(l.Place)},
			{Text: to},
		}})
	}
	return t
}

func outletTable(b *record.Book) Table {
	s, u := b.Study, b.Units
	t := Table{ID: "outlets", Heads: []string{
		"id", "label", "type", "duty", "inlet level",
		"runs to it, low places full", "longest way", "before any low place overflows", "longest way then",
	}}
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
			{Text: o.ID},
			{Text: o.Label},
			{Text: record.OutletType(o)},
			{Text: record.Duty(o.Duty)},
			say(level, o.Invert),
			say(u.SayArea(b.Catchment(i)), b.Catchment(i)), way(b.Catchment(i), b.Travel(i)),
			say(u.SayArea(b.Direct(i)), b.Direct(i)), way(b.Direct(i), b.DirectTravel(i)),
		}})
	}
	return t
}

// criteriaTable lists the limits in force with their sources.
func criteriaTable(b *record.Book) Table {
	c, u := b.Study.Criteria, b.Units
	t := Table{ID: "criteria", Heads: []string{"criterion", "limit", "source"}}
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
