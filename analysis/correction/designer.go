package correction

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/cause"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// designer holds what all options are made from.
type designer struct {
	in      *Input
	roof    *roof.Roof
	s       *surface.Surface
	domain  *taper.Domain
	base    taper.Base
	sources []taper.Source
	ponds   []pond
	foam    *standard.Material
	locate  *surface.Locator

	slope, flashing float64
	kind            Kind    // that is being made
	width           float64 // of widths, that crickets are made with
}

// pond is a listed pond as the options need it.
type pond struct {
	id     string
	pit    orb.Point // its lowest place
	low    float64   // elevation there
	level  float64
	outlet int // index into Surface.Outlets that it should drain to, -1 none
	pits   []orb.Point
	lows   []float64
	causes []cause.Candidate
	place  orb.MultiPolygon
}

// Of designs every option that in allows and runs the analysis on each.
//
// It fails where the surface cannot be laid out in plan; an option that cannot be made is an Option that says so.
func Of(in *Input) (*Result, error) {
	d, err := newDesigner(in)
	if err != nil {
		return nil, err
	}
	r := &Result{Best: -1}
	makers := map[Kind]func(done []Option) ([]Option, error){
		Clear: d.clear, LowerOutlet: d.each(d.sump), LowerRise: d.each(d.channel), Fill: d.fill, Retaper: d.each(d.retaper),
		Cricket: d.crickets, AddOutlet: d.addOutlets, Combined: d.combine, Overlay: d.overlay, Replace: d.replace, Structure: d.structure,
	}
	for _, k := range Kinds() {
		if !in.Steering.allows(k) {
			continue
		}
		d.kind = k
		made, err := makers[k](r.Options)
		if err != nil {
			return nil, fmt.Errorf("correction: %s: %w", k, err)
		}
		for i := range made {
			made[i].Kind = k
			d.finish(&made[i])
		}
		r.Options = append(r.Options, made...)
	}
	d.bound(r)
	r.choose()
	return r, nil
}

// allows reports whether the user wants a kind looked at.
func (s *Steering) allows(k Kind) bool {
	return (len(s.Only) == 0 || slices.Contains(s.Only, k)) && !slices.Contains(s.Forbid, k)
}

func newDesigner(in *Input) (*designer, error) {
	st := in.Study
	d := &designer{
		in: in, roof: st.Roof, s: st.Surface, base: taper.Existing(st.Surface.TIN), sources: taper.Sources(st.Surface),
		slope: in.Steering.Slope, flashing: in.Steering.Flashing, locate: surface.NewLocator(st.Surface.TIN),
	}
	if d.slope == 0 {
		d.slope = st.Criteria.MinSlopeNew
	}
	if d.flashing == 0 {
		d.flashing = standard.FlashingHeight
	}
	d.foam, _ = standard.FindMaterial("polyiso")
	var err error
	if d.domain, err = taper.NewDomain(st.Surface.TIN); err != nil {
		return nil, fmt.Errorf("correction: %w", err)
	}
	for i, l := range st.Listed {
		d.ponds = append(d.ponds, d.pond(l.ID, l.Pond, &st.Causes[i]))
	}
	return d, nil
}

func (d *designer) pond(id string, index int32, c *cause.Diagnosis) pond {
	p := &d.in.Study.Ponds.Ponds[index]
	out := pond{id: id, level: p.Level, outlet: int(c.Outlet), causes: c.Causes, place: d.in.Study.Ponds.Outline(index)}
	t := d.s.Cut
	for _, v := range p.Pits {
		out.pits = append(out.pits, orb.Point{t.X[v], t.Y[v]})
		out.lows = append(out.lows, t.Z[v])
	}
	if len(out.pits) > 0 {
		out.pit, out.low = out.pits[0], out.lows[0]
	}
	if out.outlet < 0 || d.s.Outlets[out.outlet].Duty == roof.Overflow {
		out.outlet = d.nearest(out.pit)
	}
	return out
}

// nearest returns the primary outlet nearest to q in the four-way gauge, those in sight first; -1 where there is none.
func (d *designer) nearest(q orb.Point) int {
	g := d.fourWay()
	best, far, seen := -1, math.Inf(1), false
	for _, s := range d.sources {
		at := s.Plan
		if s.Line != nil {
			at = nearestOn(s.Line, q)
		}
		n, sees := g.N(orb.Point{q[0] - at[0], q[1] - at[1]}), d.domain.Sees(at, q)
		if sees && !seen || sees == seen && n < far {
			best, far, seen = s.Outlet, n, sees
		}
	}
	return best
}

// has reports whether one of the causes of p that fit is of a kind.
func (p *pond) has(k finding.Kind) bool {
	return slices.ContainsFunc(p.causes, func(c cause.Candidate) bool { return c.Kind == k })
}

// kept reports whether the user wants outlet i to stay.
func (d *designer) kept(i int) bool {
	o := &d.s.Outlets[i]
	names := d.in.Steering.Keep
	return slices.Contains(names, o.ID) || slices.Contains(names, o.Label) ||
		o.Source >= 0 && slices.Contains(names, d.roof.Outlets[o.Source].ID)
}

// problem is the design problem over a base with given sources.
func (d *designer) problem(base taper.Base, sources []taper.Source, g taper.Gauge, slope, thickness float64) *taper.Problem {
	return &taper.Problem{Domain: d.domain, Base: base, Sources: sources, Gauge: g, Slope: slope, Thickness: thickness}
}

func (d *designer) fourWay() taper.Gauge { return taper.FourWay(d.domain.Axis) }

// movable returns the drain or scupper that p should drain to and that may be set down; what stands in the way otherwise.
func (d *designer) movable(p *pond) (o *surface.Outlet, why finding.Text) {
	switch {
	case p.outlet < 0:
		return nil, finding.Say("no outlet lies on the way out of " + p.id)
	case d.s.Outlets[p.outlet].Type == roof.EdgeOutlet:
		return nil, finding.Say(p.id + " drains to an edge, which has no outlet to set down")
	case d.kept(p.outlet):
		return nil, finding.Say("the outlet of " + p.id + " is to stay")
	}
	return &d.s.Outlets[p.outlet], why
}

// setDown returns a copy of r whose outlets have new inverts.
func setDown(r *roof.Roof, inverts map[int]float64) *roof.Roof {
	n := *r
	n.Outlets = append([]roof.Outlet(nil), r.Outlets...)
	for i, z := range inverts {
		n.Outlets[i].Invert, n.Outlets[i].HasInvert = z, true
	}
	return &n
}

// bound computes what no option that only fills can undercut.
func (d *designer) bound(r *Result) {
	if len(d.sources) == 0 {
		return
	}
	r.Bound = Bound{Slope: d.slope}
	p := d.problem(d.base, d.sources, d.fourWay(), d.slope, 0)
	z := taper.Clear(p, taper.Seeds(d.s, p.Sources))
	if !slices.ContainsFunc(z, func(v float64) bool { return math.IsInf(v, 1) }) {
		r.Bound.Fill = taper.Raised(d.domain, d.base, z).Fill.Volume
	}
}

// rank orders options that meet: work on the roof's surface, then new insulation or a way through the deck, then a new roof.
func (o *Option) rank() int {
	switch {
	case o.Kind == Overlay:
		return 2
	case o.Kind == Replace:
		return 3
	case o.Kind == AddOutlet, o.Kind == Retaper, slices.Contains(o.Parts, Retaper):
		return 1
	}
	return 0
}

// better reports whether o, which meets, is to be taken before u: by what could not be compared, then by rank, then by the least fill and cut.
func (o *Option) better(u *Option) bool {
	if o.Doubt() != u.Doubt() {
		return o.Doubt() < u.Doubt()
	}
	if o.rank() != u.rank() {
		return o.rank() < u.rank()
	}
	return o.Fill+o.Cut < u.Fill+u.Cut
}

// choose picks the best option that meets, and else what stands in the way of the nearest.
func (r *Result) choose() {
	near := -1
	for i := range r.Options {
		o := &r.Options[i]
		if !o.Possible || o.Study == nil {
			continue
		}
		if o.Meets && (r.Best < 0 || o.better(&r.Options[r.Best])) {
			r.Best = i
		}
		if near < 0 || o.nearer(&r.Options[near]) {
			near = i
		}
	}
	if r.Best < 0 && near >= 0 && len(r.Options[near].Limits) > 0 {
		l := r.Options[near].Limits[0]
		r.InTheWay = &l
	}
}

// nearer reports whether o leaves less undone than u: ponds, then flat planes, then limits.
func (o *Option) nearer(u *Option) bool {
	switch {
	case o.Possible != u.Possible:
		return o.Possible
	case o.PondsLeft != u.PondsLeft:
		return o.PondsLeft < u.PondsLeft
	case o.FlatLeft != u.FlatLeft:
		return o.FlatLeft < u.FlatLeft
	}
	return len(o.Limits) < len(u.Limits)
}

// options returns how studies are run: as the first, without a clock and without its storm.
func (d *designer) options() study.Options {
	o := d.in.Options
	o.Clock, o.Storm = nil, nil
	return o
}
