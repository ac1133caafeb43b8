package correction

import (
	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// flashings compares the height left at curbs, walls and sills where the surface rises. Heights that nobody stated are named, not passed.
func (d *designer) flashings(o *Option) {
	for i := range d.roof.Curbs {
		c := &d.roof.Curbs[i]
		d.flashing1(o, named(c.Label, c.ID), plan(c.Ring), float64(c.Height))
	}
	stated := false
	for i := range d.roof.Edges {
		if e := &d.roof.Edges[i]; e.Type == roof.Wall {
			d.flashing1(o, named(e.Label, e.ID), plan(e.Line), float64(e.Height))
			stated = true
		}
	}
	if !stated && d.roof.Outline.Edge == roof.Wall && len(d.roof.Outline.Rings) > 0 {
		d.flashing1(o, "walls of the outline", plan(d.roof.Outline.Rings[0]), 0)
	}
	for i := range d.roof.Sills {
		s := &d.roof.Sills[i]
		up, ok := d.raise(o, s.Plan)
		z, on := o.Design.Height(s.Plan)
		if !ok || !on || up < raisedBy {
			continue
		}
		d.height(o, named(s.Label, s.ID), s.Plan, s.Z-z, s.HasZ)
	}
}

// flashing1 compares one thing along a line, of a height above the surface as it was.
func (d *designer) flashing1(o *Option, name string, line orb.LineString, height float64) {
	at, up := d.highest(o, line)
	if up < raisedBy {
		return
	}
	d.height(o, name, at, height-up, height > 0)
}

func (d *designer) height(o *Option, name string, at orb.Point, left float64, known bool) {
	l := Limit{
		Name: "flashing height", Required: finding.MM("least", d.flashing), Available: finding.MM("left", left),
		Where: name, At: at, Decides: "roofer", Source: standard.FlashingHeightSource.Text,
	}
	if !known {
		l.Available = finding.Quantity{}
		o.Unknown = append(o.Unknown, l)
		return
	}
	o.put(l, left >= d.flashing-1e-6)
}

func named(label, id string) string {
	if label != "" {
		return label
	}
	return id
}

func plan(line []roof.Position) orb.LineString {
	out := make(orb.LineString, len(line))
	for i, p := range line {
		out[i] = p.Plan
	}
	return out
}
