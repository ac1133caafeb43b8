// Package takeoff writes the quantities of a correction as CSV: the boards by their two thicknesses, and everything else that is counted.
//
// Heads carry their unit; numbers are numbers. Texts go through cell.Text, so that no spreadsheet runs one.
package takeoff

import (
	"encoding/csv"
	"io"
	"strings"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/takeoff"
	"runnel/export/caution"
	"runnel/export/cell"
	"runnel/export/record"
)

// sheet is a CSV file under construction: rows of as many cells as its heads.
type sheet struct {
	heads []string
	rows  [][]string
}

// note adds a row with a text in its second column.
func (s *sheet) note(kind, text string) {
	row := make([]string, len(s.heads))
	row[0], row[1] = kind, cell.Text(text)
	s.rows = append(s.rows, row)
}

func (s *sheet) write(out io.Writer) error {
	w := csv.NewWriter(out)
	if err := w.Write(s.heads); err != nil {
		return err
	}
	if err := w.WriteAll(s.rows); err != nil {
		return err
	}
	return w.Error()
}

// number writes a number with that many decimals at most.
func number(v float64, decimals int) string { return string(record.AppendNumber(nil, v, decimals)) }

// scale is a unit in which a file counts.
type scale struct {
	suffix   string
	size     float64 // in SI
	decimals int
}

func (s scale) of(v float64) string { return number(v/s.size, s.decimals) }

// scales are the units of one file.
type scales struct{ depth, length, area, solid scale }

func scalesOf(u record.Units) scales {
	if u == record.US {
		return scales{
			scale{"_in", float64(quantity.Inch), 4},
			scale{"_ft", float64(quantity.Foot), 3},
			scale{"_ft2", quantity.SquareFoot, 2},
			scale{"_board_ft", standard.BoardFoot, 1},
		}
	}
	return scales{scale{"_mm", 0.001, 2}, scale{"_m", 1, 3}, scale{"_m2", 1, 3}, scale{"_m3", 1, 4}}
}

// WriteBoards writes the schedule of boards: one row for each pair of thicknesses, tapered boards first; then the status.
func WriteBoards(w io.Writer, u record.Units, t *takeoff.TakeOff) error {
	k := scalesOf(u)
	s := &sheet{heads: []string{
		"kind", "board", "thin" + k.depth.suffix, "thick" + k.depth.suffix, "whole", "cut", "to_order", "area" + k.area.suffix, "in_place" + k.solid.suffix,
	}}
	if t.Boards != nil {
		for _, r := range t.Boards.Schedule {
			kind, name := "tapered", u.SayDepth(r.Kind.Thin)+" to "+u.SayDepth(r.Kind.Thick)
			if r.Kind.Flat() {
				kind, name = "flat", u.SayDepth(r.Kind.Thin)
			}
			s.rows = append(s.rows, []string{
				kind, cell.Text(name), k.depth.of(r.Kind.Thin), k.depth.of(r.Kind.Thick), number(float64(r.Whole), 0), number(float64(r.Cut), 0),
				number(float64(r.Boards), 0), k.area.of(r.Area), k.solid.of(r.Volume),
			})
		}
		s.note("board", u.SayLength(float64(t.Stock.Length))+" along the fall by "+u.SayLength(float64(t.Stock.Width))+"; to order: pieces and "+record.SayShare(t.Waste)+" on top")
	}
	for i := range t.Measured {
		m := &t.Measured[i]
		if m.Volume < nought { // a cut alone takes no insulation
			continue
		}
		row := make([]string, len(s.heads))
		row[0], row[1] = "cut to measure", cell.Text(string(m.Use)+": "+u.SayText(m.Why))
		row[2], row[3], row[7], row[8] = k.depth.of(m.Thinnest), k.depth.of(m.Thickest), k.area.of(m.Area), k.solid.of(m.Volume)
		s.rows = append(s.rows, row)
	}
	if n := &t.Leveller; n.Poured > nought {
		row := make([]string, len(s.heads))
		row[0], row[1] = "leveller", cell.Text("in low places under the boards, as laid; the flat boards there stand above")
		row[3], row[7], row[8] = k.depth.of(n.Deepest), k.area.of(n.Area), k.solid.of(n.Poured)
		s.rows = append(s.rows, row)
	}
	if len(s.rows) == 0 {
		s.note("none", "no new insulation is laid")
	}
	s.note("status", caution.Design)
	return s.write(w)
}

// nought is the volume under which nothing is built [m3]: rounding stays below it.
const nought = 1e-6

// WriteQuantities writes everything that is counted, resistance and weight, what is allowed for and left out, approvals, and the status.
func WriteQuantities(w io.Writer, u record.Units, t *takeoff.TakeOff) error {
	s := &sheet{heads: []string{"kind", "what", "quantity", "unit", "note", "price", "price_per", "cost", "currency"}}
	k := scalesOf(u)
	unit := func(c scale) string { return strings.ReplaceAll(strings.TrimPrefix(c.suffix, "_"), "_", " ") }
	for i := range t.Items {
		it := &t.Items[i]
		row := make([]string, len(s.heads))
		row[0], row[1], row[4] = "quantity", cell.Text(u.SayText(it.What)), cell.Text(u.SayText(it.Note))
		c := map[takeoff.Measure]scale{takeoff.Pieces: {"_pieces", 1, 0}, takeoff.Area: k.area, takeoff.Solid: k.solid, takeoff.Length: k.length}[it.Measure]
		row[2], row[3] = c.of(it.Value), unit(c)
		if it.Priced {
			row[5], row[6], row[7], row[8] = number(it.Unit, 4), it.Per, number(it.Cost, 2), cell.Text(t.Money)
		}
		s.rows = append(s.rows, row)
	}
	add := func(kind, what, value, unit string) {
		row := make([]string, len(s.heads))
		row[0], row[1], row[2], row[3] = kind, what, value, unit
		s.rows = append(s.rows, row)
	}
	if t.Priced {
		row := make([]string, len(s.heads))
		row[0], row[1], row[7], row[8] = "sum", "what has a price, by the user's prices", number(t.Cost, 2), cell.Text(t.Money)
		s.rows = append(s.rows, row)
	}
	if t.Volume > nought {
		add("thickness", "average", k.depth.of(t.Average), unit(k.depth))
		add("thickness", "greatest", k.depth.of(t.Greatest), unit(k.depth))
		mass, load := scale{"_kg", 1, 1}, scale{"_kPa", 1000, 4}
		if u == record.US {
			mass, load = scale{"_lb", pound, 1}, scale{"_psf", quantity.PoundPerSquareFoot, 3}
		}
		add("weight", t.Material+" alone", mass.of(t.Mass), unit(mass))
		add("weight", "average load of it", load.of(t.Load), unit(load))
		add("weight", "greatest load of it", load.of(t.GreatestLoad), unit(load))
	}
	if t.Area > 0 {
		resistances(add, u, t)
	}
	for _, group := range []struct {
		kind  string
		texts []finding.Text
	}{{"allowed for", t.Allowances}, {"left out", t.Exclusions}} {
		for _, text := range group.texts {
			s.note(group.kind, u.SayText(text))
		}
	}
	for _, a := range t.Approvals {
		s.note("approval", a.Who+": "+u.SayText(a.Why))
	}
	s.note("status", caution.Design)
	return s.write(w)
}

// pound is the avoirdupois pound [kg].
const pound = 0.45359237

// resistances adds the thermal resistance by every way to say it; of new insulation where some is laid.
func resistances(add func(kind, what, value, unit string), u record.Units, t *takeoff.TakeOff) {
	size, unit := 1.0, "m2 K/W"
	if u == record.US {
		size, unit = quantity.RUnit, "ft2 h degF/Btu"
	}
	for _, r := range []struct {
		name string
		r    *takeoff.Resistance
	}{{"roof before", &t.Thermal.Before}, {"roof after", &t.Thermal.After}, {"new insulation alone", &t.Thermal.New}} {
		if r.r == &t.Thermal.New && !r.r.Known {
			continue
		}
		if !r.r.Known {
			add("resistance", r.name+": not known, "+r.r.Why, "", "")
			continue
		}
		add("resistance", r.name+", thinnest place", number(r.r.Least/size, 3), unit)
		add("resistance", r.name+", average thickness", number(r.r.Average/size, 3), unit)
		add("resistance", r.name+", from the area-weighted U", number(r.r.True/size, 3), unit)
	}
}
