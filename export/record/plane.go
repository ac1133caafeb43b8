package record

import "runnel/analysis/slope"

// Plane adds the properties of plane i.
func (b *Book) Plane(o *Object, i int) {
	p := &b.Study.Slopes.Planes[i]
	b.Units.Slope(o, "slope", p.Slope)
	o.Bearing("aspect_deg", Where(!p.Level, p.Aspect))
	o.Number("slope_sigma_pct", Positive(p.Sigma)*100, 6)
	if c := b.Study.Bounds; c != nil && c.Planes[i].Known {
		r := &c.Planes[i]
		o.Number("slope_pct_5", r.Slope.Low*100, 6)
		o.Number("slope_pct_95", r.Slope.High*100, 6)
		o.Share("chance_below_min", r.BelowMin)
	}
	b.Units.Area(o, "area", p.Area)
	o.Bool("below_min", p.BelowMin)
	o.Share("assumed_share", Positive(p.Assumed))
}

// Line adds the properties of a valley or ridge.
func (b *Book) Line(o *Object, l *slope.Line) {
	b.Units.Slope(o, "slope", l.Slope)
	b.Units.Length(o, "length", l.Length)
	b.Units.Depth(o, "drop", l.Drop)
	b.Units.Depth(o, "back_fall", Positive(l.BackFall))
	if l.Named {
		o.Text("type", l.Type.String())
	}
}
