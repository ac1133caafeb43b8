package mend

import (
	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// OverflowBeside returns an overflow as large as primary outlet i, in the first place beside it that is clear and where the roof lies under its inlet: round a drain,
// on the wall of a scupper.
func (d *Designer) OverflowBeside(i int) (o roof.Outlet, ok bool) {
	p := &d.Surface.Outlets[i]
	if p.Duty != roof.Primary || p.Source < 0 || p.Type == roof.EdgeOutlet {
		return o, false
	}
	o = d.Roof.Outlets[p.Source]
	o.Duty, o.Label, o.ID = roof.Overflow, "new overflow "+p.Label, "new-overflow-"+Named(p.Label, p.ID)
	o.Origin = roof.Origin{File: Designed, Line: p.Source + 1, ID: o.ID}
	o.Invert, o.HasInvert = p.Invert+d.Study.Criteria.OverflowMost(), true
	o.DischargesTo, o.DamHeight, o.DamDiameter = "", 0, 0
	places := d.roundAbout(p.Plan, besideOutlet)
	if p.Type == roof.Scupper {
		o.OpeningHeight = max(o.OpeningHeight, quantity.Length(standard.NewScupperHeight))
		places = d.alongWall(p.Plan, standard.OutletClear+float64(o.Width))
	} else if o.Bowl == 0 {
		o.Bowl = quantity.Length(standard.Bowl)
	}
	for _, q := range places {
		if z, on := d.Locate.HeightAt(q[0], q[1]); on && z <= o.Invert-RaisedBy && d.clearFor(q, p.Type) {
			o.Plan = q
			return o, true
		}
	}
	return o, false
}

// alongWall returns the places at a distance on both sides of q, on the wall of the outline that q stands in; none where no wall is that near.
func (d *Designer) alongWall(q orb.Point, far float64) []orb.Point {
	best, off := parapet{}, standard.OutletClear
	for _, ring := range d.Roof.Outline.Rings[:min(1, len(d.Roof.Outline.Rings))] {
		line := corners(Plan(ring))
		for k := 1; k < len(line); k++ {
			a, b := line[k-1], line[k]
			n := vector.Nearest(orb.LineString{a, b}, q)
			if l := vector.Distance(a, b); vector.Distance(n, q) < off && l > 0 {
				off, best = vector.Distance(n, q), parapet{n, orb.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}}
			}
		}
	}
	if best.unit == (orb.Point{}) {
		return nil
	}
	return best.along(far)
}

// Named returns what a thing is called: its label, else its id.
func Named(label, id string) string { return choose.If(label != "", label, id) }
