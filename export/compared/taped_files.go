package compared

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/bounds"
	"runnel/analysis/change"
	"runnel/export/cell"
	"runnel/export/record"
	"runnel/export/taped"
)

// WriteJSON writes what changed.
func (c *Taped) WriteJSON(w io.Writer) error {
	s, u := c.After.Survey, c.u()
	var o record.Object
	o.Text("schema", tapedSchema)
	o.Text("roof", s.Roof.Name)
	o.Text("units", u.String())
	if c.Before != nil {
		o.Text("tier_before", c.Before.Survey.Tier.String())
	}
	o.Text("tier_after", s.Tier.String())
	if c.Before != nil {
		o.Raw("ponds", array(len(c.Result.Waters), c.pondObject))
		o.Int("heights_shared", c.Result.Shared)
		o.Bool("heights_compared", len(c.Result.Readings) > 0)
		o.Raw("heights", array(len(c.Result.Readings), c.readingObject))
		u.Depth(&o, "shift", c.Result.Shift.Median)
		o.Bool("shift_taken_off", c.Result.Shift.Taken)
	}
	if c.Acceptance != nil {
		u.Depth(&o, "limit", c.Limit)
		o.Raw("places", array(len(c.Places), c.Acceptance.place))
	}
	_, err := w.Write(append(o.Append(nil), '\n'))
	return err
}

// tapedSchema names the form of the JSON.
const tapedSchema = "runnel-tape-change-1"

func (c *Taped) pondObject(o *record.Object, i int) {
	w := &c.Result.Waters[i]
	u := c.u()
	o.Text("state", string(w.State))
	o.Flag("unsure", w.Unsure)
	if w.Before >= 0 {
		o.Text("before", c.Before.Survey.Ponds[w.Before].ID)
	}
	if w.After >= 0 {
		o.Text("after", c.After.Survey.Ponds[w.After].ID)
	}
	o.Text("where", c.place(w))
	for _, m := range []struct {
		name string
		m    *change.Measure
		put  func(*record.Object, string, bounds.Range)
	}{
		{"area", &w.Area, u.AreaRange},
		{"depth_read", &w.Depth, u.DepthRange},
		{"weight", &w.Weight, u.MassRange},
		{"inlet_over_low", &w.Inlet, u.DepthRange},
		{"rise", &w.Rise, u.DepthRange},
		{"depth_full", &w.Full, u.DepthRange},
	} {
		if m.m.Known {
			m.put(o, m.name+"_before", m.m.Before)
			m.put(o, m.name+"_after", m.m.After)
			o.Text(m.name+"_change", map[int]string{1: "more", 0: "not resolved", -1: "less"}[m.m.Trend()])
		}
	}
}

func (c *Taped) readingObject(o *record.Object, i int) {
	p := &c.Result.Readings[i]
	o.Text("place", p.What)
	o.Text("where", c.where(p.Plan))
	c.u().Depth(o, "rise", p.Rise)
	c.u().Depth(o, "rise_error", p.Error)
	o.Bool("changed", p.Significant)
}

// WriteGeoJSON writes the ponds as they were and as they are, the heights that were read in both surveys and the places that were set out, in the frame of the
// later survey.
func (c *Taped) WriteGeoJSON(w io.Writer) error {
	m := newCollection(c.After.Survey.Roof)
	for i := range c.Result.Waters {
		p := &c.Result.Waters[i]
		for _, at := range []struct {
			when  string
			book  *taped.Book
			index int
		}{{"before", c.Before, p.Before}, {"after", c.After, p.After}} {
			if at.index < 0 || at.book.Survey.Ponds[at.index].Bowl == nil {
				continue
			}
			var o record.Object
			o.Text("layer", "pond-change")
			o.Text("seen", at.when)
			o.Text("title", "Pond "+c.name(p)+": "+string(p.State)+" ("+at.when+")")
			c.pondObject(&o, i)
			m.area(orb.MultiPolygon{{at.book.Survey.Ponds[at.index].Bowl.Ring}}, at.book.Survey.Roof, &o)
		}
	}
	for i := range c.Result.Readings {
		var o record.Object
		o.Text("layer", "change")
		o.Text("title", c.Result.Readings[i].What+" "+moved(c.u(), c.Result.Readings[i].Rise))
		c.readingObject(&o, i)
		m.point(c.Result.Readings[i].Plan, &o)
	}
	if c.planned != nil {
		c.draw(m, c.planned)
	}
	return m.write(w)
}

// WriteCSV writes the places that were set out, a row each; the ponds where nothing was planned.
func (c *Taped) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	if c.Acceptance != nil {
		return c.writeCSV(out)
	}
	units := [3]record.Unit{c.u().AreaUnit(), c.u().DepthUnit(), c.u().MassUnit()}
	head := []string{"before", "after", "state", "unsure", "where"}
	for k, name := range []string{"area", "depth_read", "weight"} {
		for _, when := range []string{"before", "after"} {
			head = append(head, name+"_"+when+"_"+units[k].Name+"_5", name+"_"+when+"_"+units[k].Name+"_95")
		}
	}
	rows := [][]string{head}
	for i := range c.Result.Waters {
		p := &c.Result.Waters[i]
		row := []string{"", "", string(p.State), strconv.FormatBool(p.Unsure), cell.Text(c.place(p))}
		if p.Before >= 0 {
			row[0] = cell.Text(c.Before.Survey.Ponds[p.Before].ID)
		}
		if p.After >= 0 {
			row[1] = cell.Text(c.After.Survey.Ponds[p.After].ID)
		}
		for k, m := range []*change.Measure{&p.Area, &p.Depth, &p.Weight} {
			row = append(row, rangeCells(m.Known, m.Before, units[k].Size)...)
			row = append(row, rangeCells(m.Known, m.After, units[k].Size)...)
		}
		rows = append(rows, row)
	}
	return out.WriteAll(rows)
}

// rangeCells writes the ends of a range in a unit of so many SI units, empty where they are not known.
func rangeCells(known bool, r bounds.Range, size float64) []string {
	if !known {
		return []string{"", ""}
	}
	cells := []string{strconv.FormatFloat(r.Low/size, 'f', 2, 64), ""}
	if !math.IsInf(r.High, 1) {
		cells[1] = strconv.FormatFloat(r.High/size, 'f', 2, 64)
	}
	return cells
}
