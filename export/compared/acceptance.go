package compared

import (
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"runnel/analysis/change"
	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/export/cell"
	"runnel/export/record"
	"runnel/export/setout"
	"runnel/export/text"
)

// Acceptance is the list of the places that were set out, with what was built.
type Acceptance struct {
	Places []Place
	Limit  float64 // [m]
	units  record.Units
}

// Place is a place of the planned roof's set-out sheet with what was built.
type Place struct {
	*setout.Point
	Inlet  bool    // the level from which an outlet takes water, not the roof there
	Wanted float64 // [m]
	change.Place
}

// accept compares the places of the planned roof's set-out sheet: surfaces and inlets, each by what the survey of the finished roof can say of it.
func accept(planned *record.Book, u record.Units, limit quantity.Length, surfaces func([]change.Wanted) []change.Place, inlet func(change.Wanted) change.Place) (*Acceptance, error) {
	sheet, err := setout.New(planned, "")
	if err != nil {
		return nil, err
	}
	c := &Acceptance{Limit: float64(limit), units: u}
	var wanted []change.Wanted
	for i := range sheet.Points {
		p := &sheet.Points[i]
		switch p.Kind {
		case setout.NextCore, setout.NextSpot, setout.Rim: // no places that somebody builds
			continue
		case setout.OutletPoint, setout.Deepest, setout.Lip, setout.ValleyEnd, setout.RidgeEnd, setout.CurbCorner:
		}
		if p.HasSurface {
			c.Places = append(c.Places, Place{Point: p, Wanted: p.Surface})
			wanted = append(wanted, change.Wanted{Plan: p.Plan, Z: p.Surface})
		}
	}
	for i, built := range surfaces(wanted) {
		c.Places[i].Place = built
	}
	for i := range sheet.Points {
		if p := &sheet.Points[i]; p.Kind == setout.OutletPoint && p.HasInlet {
			built := inlet(change.Wanted{Plan: p.Plan, Z: p.Inlet})
			c.Places = append(c.Places, Place{Point: p, Inlet: true, Wanted: p.Inlet, Place: built})
		}
	}
	return c, nil
}

// name says what stands at a place.
func (p *Place) name() string { return choose.If(p.Inlet, p.What+", inlet", p.What) }

// worst is what the list calls for: a place outside the limit is to be repaired, one that is not resolved or not measured is noted.
func (c *Acceptance) worst() (worst finding.Severity, ok bool) {
	if c == nil {
		return worst, false
	}
	for i := range c.Places {
		switch c.Places[i].Verdict {
		case change.Outside:
			return finding.Repair, true
		case change.NotResolved, change.NotMeasured:
			worst, ok = finding.Note, true
		case change.Within:
		}
	}
	return worst, ok
}

// accepted counts the places that were set out by their verdicts.
func (c *Acceptance) accepted() string {
	count := map[change.Verdict]int{}
	worst := -1
	for i := range c.Places {
		count[c.Places[i].Verdict]++
		if c.Places[i].Verdict == change.Outside && (worst < 0 || math.Abs(c.Places[i].Off) > math.Abs(c.Places[worst].Off)) {
			worst = i
		}
	}
	said := fmt.Sprintf("Of %s, %d within %s, %d outside", text.Plural(len(c.Places), "place"), count[change.Within], c.units.SayDepth(c.Limit), count[change.Outside])
	if n := count[change.NotResolved]; n > 0 {
		said += fmt.Sprintf(", %d not resolved: the survey's error reaches over the limit", n)
	}
	if n := count[change.NotMeasured]; n > 0 {
		said += fmt.Sprintf(", %d not measured", n)
	}
	said += "."
	if worst >= 0 {
		p := &c.Places[worst]
		said += fmt.Sprintf(" The worst is point %d, %s: %s.", p.Number, p.name(), c.offSaid(p))
	}
	return said
}

func (c *Acceptance) offSaid(p *Place) string {
	side := choose.If(p.Off < 0, "low", "high")
	return c.units.SayDepth(math.Abs(p.Off)) + " too " + side
}

func (c *Acceptance) placeRows() [][]string {
	rows := [][]string{{"point", "what", "wanted", "built", "off", "give or take", ""}}
	for i := range c.Places {
		p := &c.Places[i]
		row := []string{strconv.Itoa(p.Number), p.name(), c.units.SayElevation(p.Wanted), "-", "-", "-", string(p.Verdict)}
		if p.Verdict != change.NotMeasured {
			row[3], row[4], row[5] = c.units.SayElevation(p.Built), signed(c.units, p.Off), c.units.SayDepth(p.Error)
		}
		rows = append(rows, row)
	}
	return rows
}

func signed(u record.Units, v float64) string {
	sign := choose.If(v < 0, "-", "+")
	s := u.SayDepth(math.Abs(v))
	return choose.If(strings.HasPrefix(s, "less than") || s == u.SayDepth(0), s, sign+s)
}

// place adds what is known of a place.
func (c *Acceptance) place(o *record.Object, i int) {
	p := &c.Places[i]
	o.Int("point", p.Number)
	o.Text("what", p.name())
	c.units.Length(o, "wanted", p.Wanted)
	if p.Verdict != change.NotMeasured {
		c.units.Length(o, "built", p.Built)
		c.units.Depth(o, "off", p.Off)
		c.units.Depth(o, "off_error", p.Error)
	}
	o.Text("verdict", string(p.Verdict))
}

// writeCSV writes the list, a row a place.
func (c *Acceptance) writeCSV(out *csv.Writer) error {
	unit, number := inches(c.units)
	rows := [][]string{{"point", "what", "off_" + unit, "error_" + unit, "verdict"}}
	for i := range c.Places {
		p := &c.Places[i]
		row := []string{strconv.Itoa(p.Number), cell.Text(p.name()), "", "", string(p.Verdict)}
		if p.Verdict != change.NotMeasured {
			row[2], row[3] = number(p.Off), number(p.Error)
		}
		rows = append(rows, row)
	}
	return out.WriteAll(rows)
}

// inches returns the unit of small lengths in tables, and how one is written in it.
func inches(u record.Units) (unit string, number func(float64) string) {
	unit, size := "mm", 0.001
	if u == record.US {
		unit, size = "in", 0.0254
	}
	return unit, func(v float64) string { return strconv.FormatFloat(math.Round(100*v/size)/100+0, 'f', 2, 64) } // + 0: no -0.00
}

// setOut returns the places, none where nothing was planned.
func (c *Acceptance) setOut() []Place {
	if c == nil {
		return nil
	}
	return c.Places
}
