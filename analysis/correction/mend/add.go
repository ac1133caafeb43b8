package mend

import (
	"cmp"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// addOutlet makes a drain in the low place of a pond, in a sump of whole boards, with an overflow drain beside it where the roof has walls all round.
//
// Near an open edge a way to the edge is shorter than a leader.
func (d *Designer) addOutlet(p *Pond) (Mend, bool) {
	for i := range d.Surface.Outlets {
		if line := d.Surface.Outlets[i].Line; line != nil && vector.DistanceSquared(vector.Nearest(line, p.Pit), p.Pit) < standard.MidBay*standard.MidBay {
			return Mend{}, false
		}
	}
	for _, width := range []float64{standard.SumpWidth, standard.SumpWidest} {
		for _, q := range d.lowPlaces(p, width/2) {
			o := d.newOutlet(p, roof.Drain, q)
			m, z, ok := d.sumpFor(p, &o, width)
			if !ok {
				continue
			}
			if d.add(&m, p, &o, d.roundAbout(q, standard.OutletClear+standard.SumpRing), z, width) {
				d.drainWords(&m, p, width)
				return m, true
			}
		}
	}
	return Mend{}, false
}

// addScupper makes a scupper through the parapet beside a pond, with an overflow scupper beside it.
func (d *Designer) addScupper(p *Pond) (Mend, bool) {
	for _, width := range []float64{standard.SumpWidth, standard.SumpWidest} {
		for _, at := range d.parapets(p, width/2) {
			o := d.newOutlet(p, roof.Scupper, at.plan)
			m, z, ok := d.sumpFor(p, &o, width)
			if !ok {
				continue
			}
			m.scupper = true
			if d.add(&m, p, &o, at.along(standard.OutletClear+float64(o.Width)), z, width) {
				d.scupperWords(&m, p, width)
				return m, true
			}
		}
	}
	return Mend{}, false
}

// add adds a new outlet to a mend, and its overflow at the first of some places that does. It reports whether the outlet has the overflow that it needs.
func (d *Designer) add(m *Mend, p *Pond, o *roof.Outlet, places []orb.Point, z, width float64) bool {
	m.Adds = append(m.Adds, *o)
	over, need, ok := d.overflowFor(p, o, places, z, width)
	if ok {
		m.Adds = append(m.Adds, over)
	}
	return ok || !need
}

// newOutlet returns a primary outlet of a pond: as large as the largest of its type on the roof, else as codes ask for at least.
func (d *Designer) newOutlet(p *Pond, kind roof.OutletType, at orb.Point) roof.Outlet {
	o := roof.Outlet{Plan: at, Type: kind, HasInvert: true, Label: "new drain " + p.ID}
	o.ID = "new-" + p.ID
	o.Origin = roof.Origin{File: Designed, Line: p.index + 1, ID: o.ID}
	o.Diameter, o.Bowl = quantity.Length(standard.NewDrain), standard.Bowl
	if kind == roof.Scupper {
		o.Label = "new scupper " + p.ID
		o.Diameter, o.Bowl = 0, 0
		o.Width, o.OpeningHeight = standard.ScupperWidth, quantity.Length(standard.NewScupperHeight)
	}
	switch w := d.largest(kind); {
	case w == nil:
	case kind == roof.Drain && w.Diameter > o.Diameter:
		o.Diameter, o.Leader = w.Diameter, w.Leader
		if w.Bowl > 0 {
			o.Bowl = w.Bowl
		}
	case kind == roof.Scupper && w.Width > o.Width:
		o.Width = w.Width
		o.OpeningHeight = max(o.OpeningHeight, w.OpeningHeight)
	}
	return o
}

// largest returns the largest primary outlet of a kind, of equals that with the largest leader, opening and bowl; nil where there is none. A width that was assumed is no measure.
func (d *Designer) largest(kind roof.OutletType) (best *roof.Outlet) {
	for i := range d.Roof.Outlets {
		w := &d.Roof.Outlets[i]
		if w.Duty == roof.Primary && w.Type == kind && !w.WidthAssumed && (best == nil || cmp.Or(
			cmp.Compare(w.Diameter, best.Diameter), cmp.Compare(w.Width, best.Width), cmp.Compare(w.Leader.Diameter, best.Leader.Diameter),
			cmp.Compare(w.OpeningHeight, best.OpeningHeight), cmp.Compare(w.Bowl, best.Bowl)) > 0) {
			best = w
		}
	}
	return best
}

// sumpFor sets the inlet of a new outlet and lays the sump that it stands in: as deep as lets the lowest places of the pond run to it. It returns the mend and
// the level of the inlet; ok is false where a sump of that width does not do.
func (d *Designer) sumpFor(p *Pond, o *roof.Outlet, width float64) (m Mend, z float64, ok bool) {
	ground, on := d.Locate.HeightAt(o.Plan[0], o.Plan[1])
	if !on {
		return m, 0, false
	}
	ring := choose.If(o.Type == roof.Scupper, float64(o.Width)/2+standard.SumpRing, float64(o.Bowl)/2+standard.SumpRing)
	s := surface.Outlet{Source: -1, Type: o.Type, Plan: o.Plan, Invert: ground, Low: ground}
	g := d.FourWay()
	if z, ok = d.needed(p, &s, &g, ring, width/2); !ok {
		return m, 0, false
	}
	z = math.Floor(z*1e4) / 1e4
	reach := width/2 + standard.SumpEdge
	side := math.Max(standard.SumpRate, (d.rim(&s, &g, reach)-z)/(reach-ring))
	if side > standard.SumpSteepest {
		return m, 0, false
	}
	o.Invert = z
	src := taper.Source{Plan: o.Plan, Z: z}
	m = Mend{Area: width * width, Sump: width, Apply: func(a *taper.Alteration) {
		a.Sump(d.Problem(d.Base, []taper.Source{src}, d.FourWay(), side, 0), ring, reach)
	}}
	m.Change.At = o.Plan
	return m, z, true
}

// overflowFor returns the overflow of a new outlet whose inlet stands at z: of its type and size, at the limit over it, at the first of some places that is
// clear and where the roof lies under its inlet. need is false where the roof has an open edge: water that is blocked rises no higher there than it does now.
func (d *Designer) overflowFor(p *Pond, o *roof.Outlet, places []orb.Point, z, width float64) (over roof.Outlet, need, ok bool) {
	for i := range d.Surface.Outlets {
		if d.Surface.Outlets[i].Line != nil {
			return over, false, false
		}
	}
	over = *o
	over.Duty, over.Invert = roof.Overflow, z+standard.OverflowHeight
	over.Label, over.ID = "new overflow "+p.ID, "new-overflow-"+p.ID
	over.Origin.ID = over.ID
	if o.Type == roof.Scupper {
		over.OpeningHeight = max(over.OpeningHeight, quantity.Length(standard.NewScupperHeight))
	}
	g, level := d.FourWay(), z+standard.OverflowHeight
	for _, q := range places {
		ground, on := d.Locate.HeightAt(q[0], q[1])
		if n := g.N(orb.Point{q[0] - o.Plan[0], q[1] - o.Plan[1]}); n < width/2 {
			ground = math.Min(ground, z+float64(standard.SumpRate*n))
		}
		if on && ground <= level-RaisedBy && d.clearFor(q, o.Type) && d.Domain.Sees(o.Plan, q) {
			over.Plan = q
			return over, true, true
		}
	}
	return over, true, false
}

// RaisedBy is how much a surface must rise at a wall, curb or sill before its height is looked at [m].
const RaisedBy = 0.001
