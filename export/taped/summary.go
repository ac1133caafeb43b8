package taped

import (
	"io"
	"strconv"

	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/offset"
	"runnel/analysis/roof"
	"runnel/analysis/tape"
	"runnel/export/caution"
	"runnel/export/model"
	"runnel/export/record"
)

// Schema names the layout of the summary; it changes when a name or a meaning does.
const Schema = "runnel-tape-1"

// verdicts are the words for what holds a pond.
var verdicts = map[hold.Verdict]string{
	hold.NotResolved: "not resolved", hold.OutletHigh: "outlet high", hold.RiseBefore: "rise before the outlet", hold.Both: "both", hold.Neither: "neither",
}

// WriteSummary writes the summary, indented.
func WriteSummary(w io.Writer, b *Book) error { return b.summary().WriteJSON(w) }

func (b *Book) summary() *record.Object {
	s, u := b.Survey, b.Units
	o := &record.Object{}
	o.Text("schema", Schema)
	o.Text("roof", s.Roof.Name)
	o.Text("building", s.Roof.Building)
	o.Text("surveyed", s.Roof.Surveyed)
	record.Visit(o, &s.Roof.Visit)
	o.Text("tier", s.Tier.String())
	o.Text("units", u.String())
	o.Bool("keep_off", s.KeepOff.Is())
	o.Text("headline", b.Lead().Text)
	o.Text("worst", worst(s.Findings))
	o.Texts("steps", b.Steps())
	o.Text("held_by", b.Held())
	o.Text("can_say", b.canSay())
	o.Text("cannot_say", b.CannotSay())
	o.Text("next_tier", b.NextTier())
	u.Area(o, "area", s.Area)
	o.Int("heights", s.Heights)
	u.Depth(o, "sigma", record.Where(s.Heights > 0, s.Sigma))
	b.lists(o)
	o.Texts("assumptions", b.assumptions())
	o.Texts("warnings", s.Roof.Warnings)
	o.Texts("cautions", caution.Texts(s.Cautions))
	return o
}

// lists adds what there may be several of.
func (b *Book) lists(o *record.Object) {
	s, u := b.Survey, b.Units
	o.List("walls", len(s.Walls), b.wallObject)
	o.List("outlets", len(s.Exits), b.exitObject)
	o.List("ponds", len(s.Ponds), func(p *record.Object, i int) {
		p.Text("id", s.Ponds[i].ID)
		b.pondObject(p, &s.Ponds[i])
	})
	o.List("slopes", len(s.Slopes), func(p *record.Object, i int) {
		g := &s.Slopes[i]
		p.Text("where", u.SayText(g.Where))
		p.Text("toward", offset.Names[offset.Point(g.Gap.Toward[0], g.Gap.Toward[1])])
		u.Slope(p, "slope", g.Slope)
		u.Slope(p, "error", g.Error)
	})
	o.List("cores", len(s.Cores.Cores), func(p *record.Object, i int) {
		p.Text("id", s.Cores.Cores[i].ID)
		p.Text("layers", model.Layers(u, &s.Cores.Cores[i]))
		b.coreObject(p, i)
	})
	o.List("next_spots", len(s.Next), func(p *record.Object, i int) {
		p.Text("id", "X"+strconv.Itoa(i+1))
		p.Text("place", b.Place(&s.Next[i]))
		p.Text("code", s.Next[i].Code)
		p.Text("for", u.SayText(s.Next[i].For))
	})
	o.List("findings", len(s.Findings), func(p *record.Object, i int) {
		p.Text("id", FindingID(i))
		b.findingObject(p, &s.Findings[i])
	})
}

// coreObject adds what core i says by itself.
func (b *Book) coreObject(o *record.Object, i int) {
	c := &b.Survey.Cores.Cores[i]
	o.Text("where", b.Units.SayText(b.Survey.Where(c.Plan)))
	if c.HasThickness {
		b.Units.Depth(o, "thickness", c.Thickness)
		b.Units.Depth(o, "thickness_sigma", c.Sigma)
	}
	if len(c.Flags) > 0 {
		o.Text("flags", model.Flags(c))
	}
}

func (b *Book) wallObject(o *record.Object, i int) {
	w := &b.Survey.Walls[i]
	o.Int("wall", w.Number)
	o.Text("faces", offset.Names[w.Faces])
	b.Units.Length(o, "length", w.Length)
}

func (b *Book) exitObject(o *record.Object, i int) {
	e := &b.Survey.Exits[i]
	o.Text("label", e.Name)
	o.Text("duty", map[roof.Duty]string{roof.Primary: "primary", roof.Overflow: "overflow"}[e.Duty])
	if e.Outlet < 0 {
		o.Text("type", map[roof.EdgeType]string{roof.Gutter: "gutter", roof.Free: "free"}[e.Edge])
		return
	}
	out := &b.Survey.Roof.Outlets[e.Outlet]
	o.Text("type", map[roof.OutletType]string{roof.Drain: "drain", roof.Scupper: "scupper"}[out.Type])
	o.Text("where", b.Units.SayText(b.Survey.Where(out.Plan)))
	b.Units.Length(o, "invert", record.Where(out.HasInvert, out.Invert))
}

// pondObject adds what is known of a pond.
func (b *Book) pondObject(o *record.Object, p *tape.Pond) {
	u := b.Units
	o.Bool("seen", p.Water != nil)
	o.Text("where", u.SayText(p.Where))
	if p.Exit >= 0 {
		o.Text("outlet", b.Survey.Exits[p.Exit].Name)
		u.Length(o, "distance", p.Distance)
	}
	if p.Water != nil {
		u.Area(o, "area", p.Bowl.Area)
		o.Int("depths_read", len(p.Bowl.Soundings))
		o.Number("hours_since_rain", record.Where(p.Water.HoursSinceRain >= 0, p.Water.HoursSinceRain), 2)
	}
	if p.Depth > 0 {
		u.Depth(o, "depth_read", p.Depth)
		u.Depth(o, "lip_at_least", p.Depth)
		u.Volume(o, "volume_least", p.Bowl.Least)
		u.Volume(o, "volume_likely", p.Bowl.Volume)
		u.Volume(o, "volume_most", p.Bowl.Most)
		u.Mass(o, "weight_least", p.WeightLeast)
		u.Mass(o, "weight_likely", p.Weight)
		u.Mass(o, "weight_most", p.WeightMost)
		u.Pressure(o, "load", p.Load)
	}
	o.Text("held_by", verdicts[p.Holding.Verdict])
	if h := &p.Holding; h.Outlet.Sigma > 0 {
		u.Depth(o, "outlet_over_low", h.Outlet.Value)
		u.Depth(o, "outlet_over_low_error", h.Outlet.Sigma)
		if h.Highest >= 0 {
			u.Depth(o, "rise", h.Rise.Value)
			u.Depth(o, "rise_error", h.Rise.Sigma)
		}
	}
	o.Text("why", u.SayText(b.Survey.Holds(p)))
}

func (b *Book) findingObject(o *record.Object, f *finding.Finding) {
	u := b.Units
	o.Text("kind", string(f.Kind))
	o.Text("severity", f.Severity.String())
	o.Text("what", u.SayText(f.What))
	o.Text("where", u.SayText(f.Where))
	o.Text("measured", u.SayAll(f.Measured))
	o.Text("why", u.SayText(f.Why))
	o.Text("do", u.SayText(f.Do))
	o.Text("decides", f.Decides)
	o.Text("confidence", sure(f))
	if f.Pond >= 0 {
		o.Text("pond", b.Survey.Ponds[f.Pond].ID)
	}
}
