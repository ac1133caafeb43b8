package record

import (
	"runnel/analysis/gather"
	"runnel/analysis/roof"
)

// capacity adds what the design rain asks of outlet i and what it takes. Without rates it adds nothing.
func (b *Book) capacity(o *Object, i int) {
	d := &b.Study.Drainage.Outlets[i]
	u := b.Units
	if d.Rate <= 0 {
		return
	}
	u.Rain(o, "rain", d.Rate)
	u.Area(o, "walls", Positive(d.Walls))
	u.Area(o, "above", Positive(d.Above))
	u.flow(o, "demand", d.Demand)
	if b.Study.Surface.Outlets[i].Type == roof.EdgeOutlet {
		return
	}
	if d.Rating == nil {
		o.Text("unsized", d.Missing.Error())
		return
	}
	o.Text("method", d.Rating.Method)
	o.Text("method_source", d.Rating.Source.Text)
	o.Bool("takes_demand", d.Takes)
	u.Depth(o, "head", d.Head)
	o.Flag("beyond_tested", d.Range != nil)
	u.Depth(o, "head_half_clogged", Positive(d.Clogged))
	if l := d.Rating.Least(); l != nil {
		o.Text("least_link", l.Name)
		u.flow(o, "least_link", l.Capacity)
	}
	o.Texts("links_unknown", d.Rating.Unknown)
}

// RainLoad adds the water that stands with every primary outlet blocked. There must be a load.
func (b *Book) RainLoad(o *Object) {
	l := b.Study.RainLoad
	u := b.Units
	o.Text("case", "every primary outlet blocked")
	u.Depth(o, "max_depth", l.Depth)
	u.Pressure(o, "max_load", l.Load)
	u.Area(o, "area", l.Area)
	u.Volume(o, "volume", l.Volume)
	u.Mass(o, "weight", l.Weight)
	o.Flag("enclosed", l.Enclosed)
	o.Bool("head_included", l.Complete)
	waters := make([]Object, len(l.Waters))
	for i := range waters {
		w := &l.Waters[i]
		p := &waters[i]
		names := gather.Each(w.Outlets, func(k int32) string { return b.Names.Outlets[b.Study.Drainage.Blocked.Of[k]] })
		p.Texts("outlets", names)
		u.Length(p, "level", w.Level)
		u.Depth(p, "static_head", w.StaticHead)
		if w.HeadKnown {
			u.Depth(p, "hydraulic_head", w.Head)
			u.flow(p, "inflow", w.Inflow)
		}
		u.Depth(p, "depth", w.Depth)
		u.Pressure(p, "load", w.Load)
		u.Area(p, "area", w.Area)
		u.Mass(p, "weight", w.Weight)
	}
	o.Objects("waters", waters)
}

// Sill adds what comes to a sill in one case (index into Study.Sills).
func (b *Book) Sill(o *Object, i int) {
	w := &b.Study.Sills[i]
	s := &b.Study.Roof.Sills[w.Sill]
	u := b.Units
	o.Text("id", b.Names.Input("sill", s.ID))
	o.Text("label", s.Label)
	o.Text("case", b.Study.Cases[w.Case].Name)
	u.Length(o, "elevation", s.Z)
	u.Length(o, "water_level", w.Level)
	u.Depth(o, "margin", w.Margin)
}
