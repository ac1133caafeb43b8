package drainage

import (
	"runnel/analysis/catchment"
	"runnel/analysis/flow"
	"runnel/analysis/gather"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/rainfall"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// gather books roof, walls and roofs above to the outlets of either duty.
func (d *Drainage) gather(in *Input) error {
	whole := view{s: in.Surface, n: in.Flow, p: in.Ponds, c: in.Catchments}
	if err := d.book(in, &whole, roof.Primary, d.Primary); err != nil {
		return err
	}
	b := d.Blocked
	switch {
	case b == nil:
		return d.book(in, &whole, roof.Overflow, d.Overflow)
	case b.Flow == nil:
		return nil
	}
	return d.book(in, &view{s: b.Surface, n: b.Flow, p: b.Ponds, c: b.Catchments, of: b.Of}, roof.Overflow, d.Overflow)
}

// Inflow returns what comes to each working outlet of b at the overflow rate [m3/s]: to gutters and open edges and to
// overflows alike; nil where no rate is stated.
func (d *Drainage) Inflow(in *Input) ([]float64, error) {
	b := d.Blocked
	if b == nil || b.Flow == nil {
		return nil, nil
	}
	v := &view{s: b.Surface, n: b.Flow, p: b.Ponds, c: b.Catchments, of: b.Of}
	areas, err := v.areas(in, d.WallRule, len(d.Outlets))
	if err != nil {
		return nil, err
	}
	out := gather.Each(b.Of, func(o int32) float64 { return d.Overflow * areas[o].sum() })
	return out, nil
}

// areas are what drains to one outlet [m2].
type areas struct{ roof, walls, above float64 }

func (a areas) sum() float64 { return a.roof + a.walls + a.above }

// view is the roof with some outlets at work.
type view struct {
	s  *surface.Surface
	n  *flow.Network
	p  *ponding.Ponds
	c  *catchment.Catchments
	of []int32 // per outlet: its index in the whole surface; nil for the same
}

// whole returns the index of outlet o in the whole surface.
func (v *view) whole(o int32) int32 {
	if v.of == nil {
		return o
	}
	return v.of[o]
}

// book books what a view brings to the outlets of one duty.
func (d *Drainage) book(in *Input, v *view, duty roof.Duty, rate float64) error {
	areas, err := v.areas(in, d.WallRule, len(d.Outlets))
	if err != nil {
		return err
	}
	for i := range d.Outlets {
		if in.Surface.Outlets[i].Duty != duty {
			continue
		}
		o := &d.Outlets[i]
		o.Rate, o.Area, o.Walls, o.Above = rate, areas[i].roof, areas[i].walls, areas[i].above
		o.Demand = float64(rainfall.Flow(areas[i].sum(), quantity.Intensity(rate)))
	}
	d.together(in.Surface.Outlets, v, duty)
	return nil
}

// areas returns what drains to each of n outlets of the whole surface.
func (v *view) areas(in *Input, rule string, n int) ([]areas, error) {
	out := make([]areas, n)
	for i := range v.c.Full {
		if o := v.c.Full[i].Outlet; o >= 0 {
			out[v.whole(o)].roof += v.c.Full[i].Area
		}
	}
	walls, err := v.walls(in.Roof, rule, n)
	if err != nil {
		return nil, err
	}
	for i := range out {
		out[i].walls = walls[i]
	}
	for _, a := range in.Above {
		for _, e := range v.ends(a.X, a.Y) {
			out[v.whole(e.outlet)].above += float64(a.Area * e.part)
		}
	}
	return out, nil
}

// end is an outlet that takes a part of some water.
type end struct {
	outlet int32
	part   float64
}

// ends returns where water from x, y leaves with every pond full; nothing where it does not leave, or off the roof.
func (v *view) ends(x, y float64) []end {
	l, _ := v.n.At(x, y)
	if l == flow.Unlabelled {
		return nil
	}
	e := v.n.Ends[l]
	if e.Outlet >= 0 {
		if v.s.Outlets[e.Outlet].Dry() {
			return []end{{e.Outlet, 1}}
		}
		return nil
	}
	p := v.p.OfPit[e.Pit]
	for p >= 0 && v.p.Ponds[p].ToPond >= 0 {
		p = v.p.Ponds[p].ToPond
	}
	if p < 0 {
		return nil
	}
	var shared []end
	for i := range v.c.Shares {
		if s := &v.c.Shares[i]; s.Pond == p {
			shared = append(shared, end{s.Outlet, s.Part})
		}
	}
	if o := v.p.Ponds[p].ToOutlet; shared == nil && o >= 0 {
		return []end{{o, 1}}
	}
	return shared
}
