package record

import (
	"encoding/json"

	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// Storm adds what the design storm did: the storm, the first case in full, and every case beside it. There must
// be one.
func (b *Book) Storm(o *Object) {
	s := b.Study.Storm
	u := b.Units
	o.Text("pattern", s.Pattern.Name)
	o.Text("pattern_source", s.Pattern.Source.Text)
	u.Depth(o, "depth", s.Rain.Depth())
	o.Number("duration_h", s.Rain.Duration()/3600, 6)
	u.Rain(o, "peak_rate", s.Rain.Peak())
	o.Flag("wet", s.Wet)
	u.Depth(o, "evaporation_a_day", Positive(s.Evaporation)*24*3600)
	o.Texts("unsized", s.Unsized)
	b.StormCase(o, &s.Cases[0])
	o.Text("worst", s.Cases[s.Worst].Name)
	cases := make([]Object, len(s.Cases))
	for i := range cases {
		b.StormCase(&cases[i], &s.Cases[i])
	}
	o.Objects("cases", cases)
}

// StormCase adds what one case did.
func (b *Book) StormCase(o *Object, c *study.Case) {
	u := b.Units
	o.Text("case", c.Name)
	o.Texts("blocked", c.Labels)
	u.Depth(o, "max_depth", c.Deepest.Depth)
	u.Pressure(o, "max_load", c.Load)
	if c.Deepest.Vertex >= 0 {
		u.Length(o, "max_level", c.Deepest.Level)
		o.Number("max_depth_at_h", c.Deepest.Time/3600, 6)
		o.Text("deepest_near", b.OutletNear(int(c.Deepest.Vertex)))
	}
	u.Volume(o, "rain", c.Fallen)
	u.Volume(o, "from_above", Positive(c.Let))
	u.Volume(o, "before", Positive(c.Before))
	u.Volume(o, "out", c.Out)
	u.Volume(o, "evaporated", Positive(c.Evaporated))
	u.Volume(o, "held_at_end", c.HeldAtEnd)
	u.Volume(o, "left_after_48h", c.Left)
	o.Number("time_to_drain_h", Where(c.Drains(), c.DrainTime/3600), 6)
	o.Number("mass_error", c.MassError, 10)
	o.Flag("covered", c.Covered)
	outlets := make([]Object, len(c.Outlets))
	for k := range c.Outlets {
		b.stormOutlet(&outlets[k], c, k)
	}
	o.Objects("outlets", outlets)
}

// stormOutlet adds what outlet k did in a case.
func (b *Book) stormOutlet(o *Object, c *study.Case, k int) {
	s := &b.Study.Surface.Outlets[k]
	r := &c.Outlets[k]
	u := b.Units
	o.Text("id", b.Names.Outlets[k])
	o.Text("label", s.Label)
	o.Text("duty", s.Duty.String())
	o.Flag("blocked", r.Blocked)
	u.Depth(o, "peak_head", Where(s.Type != roof.EdgeOutlet, r.PeakHead))
	u.flow(o, "peak_flow", r.PeakFlow)
	o.Number("peak_at_h", Where(r.PeakFlow > 0, r.PeakTime/3600), 6)
	u.Volume(o, "out", r.Volume)
	if r.Start >= 0 {
		o.Number("starts_h", r.Start/3600, 6)
		o.Number("stops_h", r.Stop/3600, 6)
	}
	u.Volume(o, "passed_over", Positive(r.Passed))
	if g := b.Study.Drainage.Outlets[k].Rating; g != nil {
		o.Flag("above_tested", g.High > 0 && r.PeakHead > g.High)
	}
}

// OutletNear returns the label of the drain or scupper nearest to a vertex of the cut surface, empty without any.
func (b *Book) OutletNear(v int) string {
	t := b.Study.Surface.Cut
	best, label := -1.0, ""
	for i := range b.Study.Surface.Outlets {
		o := &b.Study.Surface.Outlets[i]
		if o.Type == roof.EdgeOutlet {
			continue
		}
		dx, dy := t.X[v]-o.Plan[0], t.Y[v]-o.Plan[1]
		if d := float64(dx*dx) + float64(dy*dy); best < 0 || d < best {
			best, label = d, o.Label
		}
	}
	return label
}

// Objects adds a list of objects; an empty list is left out.
func (o *Object) Objects(name string, list []Object) {
	if len(list) == 0 {
		return
	}
	text := []byte{'['}
	for i := range list {
		if i > 0 {
			text = append(text, ',')
		}
		text = list[i].Append(text)
	}
	o.Raw(name, json.RawMessage(append(text, ']')))
}
