package correction

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// flashings compares the height left at curbs, walls and sills where the surface rises. Heights that nobody stated are named, not passed.
func (d *designer) flashings(o *Option) {
	for i := range d.Roof.Curbs {
		c := &d.Roof.Curbs[i]
		d.curb(o, c.Name(), mend.Plan(c.Ring), float64(c.Height))
	}
	stated := false
	for i := range d.Roof.Edges {
		if e := &d.Roof.Edges[i]; e.Type == roof.Wall {
			d.flashing1(o, mend.Named(e.Label, e.ID), mend.Plan(e.Line), float64(e.Height))
			stated = true
		}
	}
	if !stated && d.Roof.Outline.Edge == roof.Wall && len(d.Roof.Outline.Rings) > 0 {
		d.flashing1(o, "walls of the outline", mend.Plan(d.Roof.Outline.Rings[0]), 0)
	}
	for i := range d.Roof.Sills {
		s := &d.Roof.Sills[i]
		at := d.beside(s.Plan)
		up, ok := d.raise(o, at)
		if !ok {
			d.height(o, mend.Named(s.Label, s.ID), s.Plan, 0, false)
			continue
		}
		if z, on := o.Design.Height(at); on && up >= mend.RaisedBy {
			d.height(o, mend.Named(s.Label, s.ID), s.Plan, s.Z-z, s.HasZ)
		}
	}
}

// beside returns p, or the place on the roof's edge or a curb nearest to it where p stands in a wall or on a curb.
func (d *designer) beside(p orb.Point) orb.Point {
	if _, ok := d.Locate.HeightAt(p[0], p[1]); ok {
		return p
	}
	best, far := p, math.Inf(1)
	look := func(ring []roof.Position) {
		if len(ring) < 2 {
			return
		}
		q := vector.Nearest(mend.Plan(ring), p)
		if l := mend.LineLength(orb.LineString{p, q}); l < far {
			best, far = q, l
		}
	}
	for _, ring := range d.Roof.Outline.Rings {
		look(ring)
	}
	for i := range d.Roof.Curbs {
		look(d.Roof.Curbs[i].Ring)
	}
	return best
}

// flashingHeight names the limit on heights left.
const flashingHeight = "flashing height"

// lacking is what a flashing may lack of the height that is asked before anything is raised for it [m]: how well the foot and the top of a curb are measured. Own choice.
const lacking = 0.005

// curb compares the height left at a curb. One that is too low is raised before anything is built beside it, where the user allows that.
func (d *designer) curb(o *Option, name string, line orb.LineString, height float64) {
	at, up := d.highest(o, line)
	left := height - up
	if up < mend.RaisedBy || height == 0 || left >= d.Flashing-lacking || !d.Steering.Allows(mend.RaiseCurb) {
		d.flashing1(o, name, line, height)
		return
	}
	o.Flags = append(o.Flags, Limit{
		Name: "curb raised", Required: finding.MM("least", d.Flashing), Available: finding.MM("left without it", left),
		Where: name, At: at, Decides: finding.Roofer, Source: standard.FlashingHeightSource.Text,
	})
	pond := ""
	if i := slices.IndexFunc(o.Changes, func(c mend.Change) bool {
		return c.Kind == mend.Cricket && c.Pond != "" && vector.DistanceSquared(c.At, vector.Nearest(line, c.At)) < 1
	}); i >= 0 {
		pond = o.Changes[i].Pond
	}
	o.Changes = append(o.Changes, mend.Change{
		Kind: mend.RaiseCurb, Pond: pond, Decides: finding.Roofer, At: at,
		What: finding.Say("Raise the curb of {2} by {0} first, with its gas, power and duct, so that {1} of flashing are left", finding.MM("rise", d.Flashing-left), finding.MM("flashing", d.Flashing), finding.Called(name)),
	})
	o.addDecides(finding.Roofer, finding.Mechanical, finding.Electrical)
}

// flashing1 compares one thing along a line, of a height above the surface as it was.
func (d *designer) flashing1(o *Option, name string, line orb.LineString, height float64) {
	at, up := d.highest(o, line)
	if up < mend.RaisedBy {
		return
	}
	d.height(o, name, at, height-up, height > 0)
}

func (d *designer) height(o *Option, name string, at orb.Point, left float64, known bool) {
	l := Limit{
		Name: flashingHeight, Required: finding.MM("least", d.Flashing), Available: finding.MM("left", left),
		Where: name, At: at, Decides: "roofer", Source: standard.FlashingHeightSource.Text,
	}
	if !known {
		l.Available = finding.Quantity{}
		o.Unknown = append(o.Unknown, l)
		return
	}
	o.put(l, left >= d.Flashing-lacking)
}
