package compared

import (
	"encoding/csv"
	"io"
	"strconv"

	"runnel/analysis/change"
	"runnel/export/cell"
	"runnel/export/palette"
	"runnel/export/record"
)

// schema names the form of the JSON.
const schema = "runnel-change-1"

// WriteJSON writes what changed.
func (c *Comparison) WriteJSON(w io.Writer) error {
	var o record.Object
	o.Text("schema", schema)
	o.Text("roof", c.After.Names.Roof)
	o.Text("units", c.u().String())
	o.Int("spots_before", len(c.Before.Study.Roof.Spots))
	o.Int("spots_after", len(c.After.Study.Roof.Spots))
	o.Int("spots_compared", len(c.Result.Spots))
	o.Number("threshold_standard_errors", c.Result.Threshold, 3)
	c.u().Depth(&o, "between_spots_error", c.Result.Roughness)
	c.u().Depth(&o, "shift", c.Result.Shift.Median)
	c.u().Depth(&o, "shift_error", c.Result.Shift.Error)
	o.Bool("shift_shown", c.Result.Shift.Shown)
	o.Bool("shift_taken_off", c.Result.Shift.Taken)
	o.Raw("regions", array(len(c.Result.Regions), c.region))
	o.Raw("ponds", array(len(c.Result.Ponds), c.pond))
	if c.Acceptance != nil {
		c.u().Depth(&o, "limit", c.Limit)
		o.Raw("places", array(len(c.Places), c.place))
	}
	_, err := w.Write(append(o.Append(nil), '\n'))
	return err
}

func array(n int, fill func(o *record.Object, i int)) []byte {
	out := []byte{'['}
	for i := range n {
		if i > 0 {
			out = append(out, ',')
		}
		var o record.Object
		fill(&o, i)
		out = o.Append(out)
	}
	return append(out, ']')
}

func (c *Comparison) region(o *record.Object, i int) {
	g := &c.Result.Regions[i]
	o.Text("id", c.regionID(i))
	c.u().Depth(o, "rise", g.Rise)
	c.u().Depth(o, "rise_error", g.Error)
	c.u().Area(o, "area", g.Area)
	o.Int("spots", len(g.Spots))
	o.Text("where", c.where(c.Result.Spots[g.Spots[0]].Plan))
}

func (c *Comparison) pond(o *record.Object, i int) {
	p := &c.Result.Ponds[i]
	o.Text("state", string(p.State))
	o.Flag("unsure", p.Unsure)
	if p.Before >= 0 {
		o.Text("before", c.Before.Names.Ponds[c.Before.Study.Listed[p.Before].Pond])
		c.u().Depth(o, "depth_before", p.Depths[0])
	}
	if p.After >= 0 {
		o.Text("after", c.After.Names.Ponds[c.After.Study.Listed[p.After].Pond])
		c.u().Depth(o, "depth_after", p.Depths[1])
	}
}

// WriteCSV writes the places that were set out, a row each; the spots compared where nothing was planned.
func (c *Comparison) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	unit, number := inches(c.u())
	if c.Acceptance != nil {
		return c.writeCSV(out)
	}
	rows := [][]string{{"spot", "rise_" + unit, "error_" + unit, "changed", "same_place"}}
	for i := range c.Result.Spots {
		s := &c.Result.Spots[i]
		rows = append(rows, []string{
			cell.Text(c.After.Study.Roof.Spots[s.Spot].ID), number(s.Rise), number(s.Error), strconv.FormatBool(s.Significant), strconv.FormatBool(!s.Between),
		})
	}
	return out.WriteAll(rows)
}

// WriteGeoJSON writes the spots compared, the ponds of both surveys and the places that were set out, in the frame of the later survey.
func (c *Comparison) WriteGeoJSON(w io.Writer) error {
	m := newCollection(c.After.Study.Roof)
	for i := range c.Result.Spots {
		s := &c.Result.Spots[i]
		var o record.Object
		o.Text("layer", "change")
		o.Text("id", c.After.Study.Roof.Spots[s.Spot].ID)
		o.Text("title", "Spot "+c.After.Study.Roof.Spots[s.Spot].ID+" "+c.moved(s.Rise))
		c.u().Depth(&o, "rise", s.Rise)
		c.u().Depth(&o, "rise_error", s.Error)
		o.Bool("changed", s.Significant)
		o.Text("marker-color", changeColour(s))
		o.Text("marker-size", "small")
		m.point(s.Plan, &o)
	}
	c.ponds(m)
	c.draw(m, c.Before.Study.Roof)
	return m.write(w)
}

// changeColour is brown where the roof dropped, green where it rose, grey where nothing is shown.
func changeColour(s *change.Spot) string {
	switch {
	case !s.Significant:
		return palette.Level
	case s.Rise < 0:
		return palette.Urgent
	}
	return palette.Primary
}

// ponds adds the ponds' outlines, those that are gone too.
func (c *Comparison) ponds(m *collection) {
	for i := range c.Result.Ponds {
		p := &c.Result.Ponds[i]
		b, k := c.After, p.After
		if k < 0 {
			b, k = c.Before, p.Before
		}
		var o record.Object
		o.Text("layer", "pond-change")
		o.Text("title", "Pond "+b.Study.Listed[k].ID+": "+string(p.State))
		c.pond(&o, i)
		m.area(b.Study.Ponds.Outline(b.Study.Listed[k].Pond), b.Study.Roof, &o)
	}
}
