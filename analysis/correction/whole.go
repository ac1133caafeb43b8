package correction

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// clear leaves the surface alone: outlets are cleared and the roof is watched.
func (d *designer) clear([]Option) ([]Option, error) {
	o := Option{
		Possible: true, Roof: d.roof, Study: d.in.Study, Decides: []string{"roofer"},
		Why: finding.Say("Clear outlets and strainers, let water run through each, and look again 48 hours after rain. Ponds that the shape of the roof holds stay."),
	}
	o.count()
	o.Meets = o.PondsLeft == 0 && o.FlatLeft == 0
	return []Option{o}, nil
}

// fillSlopes are the slopes that a fill is tried at, over that of the criterion as found: its valleys fall at 0.707 of it.
func (d *designer) fillSlopes() []float64 {
	if d.in.Steering.Slope > 0 {
		return []float64{d.in.Steering.Slope}
	}
	return []float64{1.5 * d.in.Study.Criteria.MinSlope, math.Max(d.slope, 2*d.in.Study.Criteria.MinSlope)}
}

// fill builds the low places up on the surface as it is, with saddles where they lie between outlets: the least that falls
// at a slope. The flatter is taken where it is enough.
func (d *designer) fill([]Option) ([]Option, error) {
	if len(d.sources) == 0 {
		return []Option{{Why: noOutlet}}, nil
	}
	var best *Option
	for _, slope := range d.fillSlopes() {
		o := d.filled(d.roof, d.s, d.domain, d.sources, slope)
		if !o.Possible {
			return []Option{*o}, nil
		}
		d.judge(o, 0)
		if best == nil || o.Meets || !best.Meets && o.nearer(best) {
			best = o
		}
		if o.Meets {
			break
		}
	}
	return []Option{*best}, nil
}

// filled returns a roof built up to fall at a slope.
func (d *designer) filled(r *roof.Roof, s *surface.Surface, domain *taper.Domain, sources []taper.Source, slope float64) *Option {
	o := &Option{Possible: true, Slope: slope, Decides: []string{"roofer"}}
	p := &taper.Problem{Domain: domain, Base: taper.Existing(s.TIN), Sources: sources, Gauge: taper.FourWay(domain.Axis), Slope: slope}
	z := taper.Clear(p, taper.Seeds(s, p.Sources))
	for _, v := range z {
		if math.IsInf(v, 1) {
			return &Option{Why: finding.Say("a part of the roof is cut off from every outlet")}
		}
	}
	o.Design = taper.Raised(domain, p.Base, z)
	if o.Design.Fill.Volume < 1e-6 {
		return &Option{Why: finding.Say("no spot is too low")}
	}
	o.Changes = []Change{{
		What: finding.Say("build up the low places, {0} at most, so that each spot falls to an outlet at {1}",
			finding.MM("thickness", o.Design.Fill.Thickest), finding.Fall("slope", slope)),
		At: o.Design.Fill.At,
	}}
	o.Roof = o.Design.Roof(r, s)
	return o
}

var noOutlet = finding.Say("the roof has no primary outlet to drain to; see where one can be added")

// addOutlets sets a drain at the lowest place of each pond.
func (d *designer) addOutlets([]Option) ([]Option, error) {
	if len(d.ponds) == 0 {
		return nil, nil
	}
	o := Option{Possible: true, Decides: []string{"plumber", "engineer"}}
	n := *d.roof
	n.Outlets = append([]roof.Outlet(nil), d.roof.Outlets...)
	for i := range d.ponds {
		p := &d.ponds[i]
		out := roof.Outlet{Plan: p.pit, Type: roof.Drain, Invert: p.low, HasInvert: true, Bowl: standard.Bowl, Label: "new at " + p.id}
		out.ID = "new-" + p.id
		out.Origin = roof.Origin{File: "design", Feature: i + 1, ID: out.ID}
		n.Outlets = append(n.Outlets, out)
		o.Changes = append(o.Changes, Change{
			What: finding.Say("a new drain at the lowest place of "+p.id+", {0}: its leader, its overflow and the opening in the deck are to be designed", finding.Level("invert", p.low)),
			At:   p.pit,
		})
	}
	o.Roof = &n
	o.Unknown = []Limit{{
		Name: "way for a leader and room for an opening in the deck", Decides: "plumber, engineer", Source: "a survey of the surface does not show what lies below; " + standard.LocalCode,
	}}
	d.judge(&o, 0)
	return []Option{o}, nil
}

// ratios are the widths of crickets between outlets over their length that are tried, narrowest first: widen before steepen.
// 1/sqrt(3) is a valley at 30 degrees, 1 one at 45. Own choice.
var ratios = [...]float64{0.5, 1 / math.Sqrt(3), 0.75, 1}

// layouts are the gauges that a taper is tried with.
func (d *designer) layouts() []taper.Gauge {
	axis := d.domain.Axis
	across := orb.Point{-axis[1], axis[0]}
	out := []taper.Gauge{taper.FourWay(axis), taper.EightWay(axis)}
	for _, ratio := range ratios {
		out = append(out, taper.TwoWay(axis, ratio), taper.TwoWay(across, ratio))
	}
	return out
}

// slopes are the slopes of new planes that a taper is tried with: the one that is asked for, else those in stock from the criterion for new work on.
func (d *designer) slopes() []float64 {
	if d.in.Steering.Slope > 0 {
		return []float64{d.slope}
	}
	var out []float64
	for _, r := range d.in.Rates {
		if r >= d.slope-1e-9 && r <= standard.SumpRate+1e-9 {
			out = append(out, r)
		}
	}
	if len(out) == 0 {
		return []float64{d.slope}
	}
	return out
}

// overlay tapers the whole roof on the existing surface.
func (d *designer) overlay([]Option) ([]Option, error) {
	thickness := d.in.Steering.Thickness
	if thickness == 0 {
		thickness = standard.OverlayThickness
	}
	return d.tapered(d.base, thickness, d.sources)
}

// replace takes the insulation off and tapers new on the deck.
func (d *designer) replace([]Option) ([]Option, error) {
	thickness := d.in.Steering.Thickness
	if thickness == 0 {
		thickness = standard.DeckThickness
	}
	deck, ok := d.deck()
	if !ok {
		return []Option{{Why: finding.Say("The deck is not known. Three cores or more that are not on one line give its elevation.")}}, nil
	}
	sources := append([]taper.Source(nil), d.sources...)
	for i, s := range sources {
		if s.Line == nil && !d.kept(s.Outlet) {
			sources[i].Z = math.Inf(-1) // as low as the thickness on the deck allows
		}
	}
	return d.tapered(deck, thickness, sources)
}

// deck returns the deck under every vertex of the surface.
func (d *designer) deck() (taper.Base, bool) {
	b := taper.Base{TIN: d.base.TIN, Z: make([]float64, len(d.base.Z))}
	if d.in.Deck == nil {
		return b, false
	}
	for v := range b.Z {
		z, _, ok := d.in.Deck(orb.Point{b.TIN.X[v], b.TIN.Y[v]})
		if !ok {
			return b, false
		}
		b.Z[v] = z
	}
	return b, true
}

// tapered tries all layouts at all slopes, least fill first, and returns the first that meets; where none does, the one that comes nearest.
func (d *designer) tapered(base taper.Base, thickness float64, sources []taper.Source) ([]Option, error) {
	if len(sources) == 0 {
		return []Option{{Why: noOutlet}}, nil
	}
	tries, err := d.tries(base, thickness, sources)
	if err != nil {
		return []Option{{Why: finding.Say(err.Error())}}, nil
	}
	var best *Option
	runs, drawn := 0, 0
	for _, t := range tries {
		if drawn++; drawn > mostDrawn || runs == mostRuns {
			break
		}
		o, err := d.layout(t.p, best)
		if err != nil {
			return nil, err
		}
		if o == nil {
			continue
		}
		runs++
		if best == nil || o.Meets || o.nearer(best) {
			best = o
		}
		if o.Meets {
			break
		}
	}
	if best == nil {
		return []Option{{Why: finding.Say("no layout has valleys that fall enough")}}, nil
	}
	best.Tried = len(tries)
	return []Option{*best}, nil
}

// try is one layout with its fill [m3].
type try struct {
	p    *taper.Problem
	fill float64
}

// tries returns all layouts at all slopes whose valleys fall enough, least fill first.
func (d *designer) tries(base taper.Base, thickness float64, sources []taper.Source) ([]try, error) {
	var out []try
	for _, slope := range d.slopes() {
		for _, g := range d.layouts() {
			if g.Valley()*slope < d.in.Study.Criteria.MinValleySlope-1e-9 {
				continue
			}
			p := d.problem(base, sources, g, slope, thickness)
			fill, err := taper.Volume(p)
			if err != nil {
				return nil, err
			}
			out = append(out, try{p, fill})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].fill < out[j].fill })
	return out, nil
}

// mostRuns is how many layouts of a taper are analysed, mostDrawn how many are drawn for it.
const mostRuns, mostDrawn = 4, 10

// mostCricket is the greatest share of a roof on which planes may fall less than the design slope: crickets are a small part of a roof. Own choice.
const mostCricket = 0.25

// layout draws one taper and runs the analysis on it; nil where too much of it is cricket, or where it breaks more heights than best does.
func (d *designer) layout(p *taper.Problem, best *Option) (*Option, error) {
	design, err := taper.Least(p)
	if err != nil {
		return nil, err
	}
	flatter := 0.0
	for _, f := range design.Facets {
		if math.Sqrt(float64(f.DX*f.DX)+float64(f.DY*f.DY)) < p.Slope-1e-9 {
			flatter += f.Area
		}
	}
	if flatter > mostCricket*design.Fill.Area {
		return nil, nil
	}
	o := &Option{Possible: true, Gauge: p.Gauge.Name, Slope: p.Slope, Design: design, Decides: []string{"engineer", "owner"}}
	if v := design.Valleys(); len(v) > 0 {
		o.Valley = v[0].Slope
	}
	if best != nil && best.PondsLeft+best.FlatLeft == 0 {
		heights := Option{Design: design}
		if d.flashings(&heights); len(heights.Limits) >= max(1, len(only(best.Limits, flashingHeight))) {
			return nil, nil
		}
	}
	for _, l := range design.Outlets {
		out := &d.s.Outlets[l.Outlet]
		if out.Source < 0 || math.Abs(l.Top-out.Invert) < tellable {
			continue
		}
		o.Changes = append(o.Changes, Change{
			What: finding.Say("set "+out.Label+" from {0} to {1}", finding.Level("invert", out.Invert), finding.Level("new invert", l.Top)), At: out.Plan,
		})
	}
	o.Roof = design.Roof(d.roof, d.s)
	d.judge(o, p.Thickness)
	o.Least = math.Min(o.Fill, d.least(p))
	return o, nil
}

// least returns the fill of the lowest surface on p's base that needs no boards, on the survey's own spots.
func (d *designer) least(p *taper.Problem) float64 {
	return taper.Raised(d.domain, p.Base, taper.Clear(p, taper.Seeds(d.s, p.Sources))).Fill.Volume
}

// structure names what only an engineer may look at.
func (d *designer) structure([]Option) ([]Option, error) {
	return []Option{{
		Decides: []string{"engineer"},
		Why:     finding.Say("Re-sloping, jacking or stiffening the structure is " + standard.ForEngineer + ". It is not designed here."),
	}}, nil
}
