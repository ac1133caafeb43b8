package report

import (
	"strings"

	"runnel/export/record"
)

// table is a table that the page can sort.
type table struct {
	ID    string
	Heads []string
	Rows  []row
}

type row struct {
	Feature string // its id on the map, may be empty
	Cells   []cell
}

// cell is a text, and the number that it sorts by where it says one.
type cell struct {
	Text   string
	Number bool
	Value  float64
}

func say(text string, value float64) cell { return cell{text, true, value} }

func pondTable(b *record.Book) table {
	s, u := b.Study, b.Units
	t := table{ID: "ponds", Heads: []string{"id", "deep", "area", "water", "weighs", "load at the deepest", "where", "then spills to"}}
	for _, l := range s.Listed {
		p := &s.Ponds.Ponds[l.Pond]
		to := strings.TrimPrefix(b.Names.End(p.ToOutlet, p.ToPond), b.Names.Roof+".")
		if to == "" {
			to = "nowhere"
		}
		t.Rows = append(t.Rows, row{b.Names.Ponds[l.Pond], []cell{
			{Text: l.ID},
			say(u.SayDepth(p.Depth), p.Depth), say(u.SayArea(p.Area), p.Area), say(u.SayVolume(p.Volume), p.Volume),
			say(u.SayMass(l.Weight), l.Weight), say(u.SayPressure(l.Load), l.Load),
			{Text: string(l.Place)},
			{Text: to},
		}})
	}
	return t
}

func outletTable(b *record.Book) table {
	s, u := b.Study, b.Units
	t := table{ID: "outlets", Heads: []string{"id", "label", "type", "duty", "inlet level", "runs to it", "with ponds full", "longest way"}}
	for i := range s.Surface.Outlets {
		o := &s.Surface.Outlets[i]
		level := u.SayElevation(o.Invert)
		if o.InvertAssumed {
			level += " (assumed)"
		}
		longest, _ := b.Travel(i)
		way := say("none", -1)
		if b.Direct(i) > 0 {
			way = say(u.SayLength(longest), longest)
		}
		t.Rows = append(t.Rows, row{b.Names.Outlets[i], []cell{
			{Text: o.ID},
			{Text: o.Label},
			{Text: record.OutletType(o)},
			{Text: record.Duty(o.Duty)},
			say(level, o.Invert),
			say(u.SayArea(b.Direct(i)), b.Direct(i)), say(u.SayArea(b.Catchment(i)), b.Catchment(i)), way,
		}})
	}
	return t
}
