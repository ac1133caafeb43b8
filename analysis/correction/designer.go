package correction

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/cause"
	"runnel/analysis/finding"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/halt"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// designer holds what all options are made from.
type designer struct {
	line    *halt.Line
	in      *Input
	roof    *roof.Roof
	s       *surface.Surface
	domain  *domain.Domain
	base    taper.Base
	sources []taper.Source
	ponds   []pond
	foam    *standard.Material
	locate  *surface.Locator
	star    [][]int32 // per vertex of the TIN: its neighbours
	before  *state
	found   *roof.Roof // as it was surveyed
	made    []Change   // overflows that an engineer has allowed and that every answer builds
	whole   Kind       // of the taper that is being laid over the whole roof
	layings *layings

	slope, flashing float64
}

// pond is a listed pond as the options need it.
type pond struct {
	id      string
	index   int       // into designer.ponds
	pit     orb.Point // its lowest place
	low     float64   // elevation there
	level   float64
	lip     orb.Point // where it spills; its lowest place where an outlet holds it
	held    int       // index into Surface.Outlets of the outlet whose inlet holds it, -1 none
	depth   float64
	size    float64 // plan area [m2]
	outlet  int     // index into Surface.Outlets that it should drain to, -1 none
	pits    []orb.Point
	lows    []float64
	causes  []cause.Candidate
	finding finding.Kind // leading cause
	sags    bool         // it is bent down like a dish, and no engineer has answered that the deck is sound
	place   orb.MultiPolygon
}

// Of works out the three answers and runs the analysis on each roof that it tries.
//
// It fails where the surface cannot be laid out in plan; an option that cannot be made is an Option that says so.
func Of(in *Input) (r *Result, err error) {
	defer halt.Caught(&err)
	d, err := newDesigner(in)
	if err != nil {
		return nil, err
	}
	d = d.withOverflows()
	r = &Result{Best: -1, Preference: in.Steering.preference()}
	d.first(r)
	if err := d.answer(r); err != nil {
		return nil, fmt.Errorf("correction: %w", err)
	}
	d.bound(r)
	r.choose()
	return r, nil
}

func newDesigner(in *Input) (*designer, error) {
	st := in.Study
	own := *in
	d := &designer{
		line: halt.Of(in.Options.Context), in: &own, roof: folded(st.Roof, st.Surface.TIN), s: st.Surface, base: taper.Existing(st.Surface.TIN).Prepared(), sources: taper.Sources(st.Surface),
		slope: in.Steering.Slope, flashing: in.Steering.Flashing, locate: surface.NewLocator(st.Surface.TIN),
	}
	if d.slope == 0 {
		d.slope = st.Criteria.MinSlopeNew
	}
	if d.flashing == 0 {
		d.flashing = standard.FlashingHeight
	}
	if b := &d.in.Boards; b.Step == 0 {
		b.Thin, b.Step, b.Area = standard.OverlayThickness, standard.BoardFillStep, standard.BoardLength*standard.BoardWidth
	}
	d.foam, _ = standard.FindMaterial("polyiso")
	var err error
	if d.domain, err = domain.New(st.Surface.TIN); err != nil {
		return nil, fmt.Errorf("correction: %w", err)
	}
	d.star = neighbours(st.Surface.TIN)
	for i, l := range st.Listed {
		p := d.pond(l.ID, l.Pond, &st.Causes[i])
		p.index = i
		d.ponds = append(d.ponds, p)
	}
	d.before, d.layings, d.found = stateOf(st), &layings{}, st.Roof
	return d, nil
}

// designed stands for a file where what a design adds has its origin.
const designed = "design"

// folded returns r with the folds that nobody coded and that were found on its surface t as breaklines: a design keeps them, whatever spots it adds.
func folded(r *roof.Roof, t *surface.TIN) *roof.Roof {
	n := *r
	n.Breaklines = slices.Clip(r.Breaklines)
	at := func(v int32) roof.Position {
		return roof.Position{Plan: orb.Point{t.X[v], t.Y[v]}, Z: t.Z[v], HasZ: true}
	}
	for e := range t.V {
		if t.Flag[e]&surface.FoldEdge == 0 || t.Twin[e] >= 0 && t.Twin[e] < int32(e) {
			continue
		}
		b := roof.Breakline{Line: []roof.Position{at(t.V[e]), at(t.V[surface.Next(int32(e))])}}
		b.ID = fmt.Sprintf("found-%d", len(n.Breaklines)-len(r.Breaklines)+1)
		b.Origin = roof.Origin{File: designed, Feature: e + 1, ID: b.ID}
		n.Breaklines = append(n.Breaklines, b)
	}
	return &n
}

// neighbours returns for every vertex of t those that an edge joins it with.
func neighbours(t *surface.TIN) [][]int32 {
	out := make([][]int32, len(t.X))
	for e := range t.V {
		a, b := t.V[e], t.V[surface.Next(int32(e))]
		out[a] = append(out[a], b)
		if t.Twin[e] < 0 {
			out[b] = append(out[b], a)
		}
	}
	return out
}

func (d *designer) pond(id string, index int32, c *cause.Diagnosis) pond {
	p := &d.in.Study.Ponds.Ponds[index]
	out := pond{
		id: id, level: p.Level, held: int(p.HeldBy), depth: p.Depth, size: p.Area, outlet: int(c.Outlet), causes: c.Causes, finding: c.Causes[0].Kind, place: d.in.Study.Ponds.Outline(index),
	}
	t := d.s.Cut
	for _, v := range p.Pits {
		out.pits = append(out.pits, orb.Point{t.X[v], t.Y[v]})
		out.lows = append(out.lows, t.Z[v])
	}
	out.pit, out.low = out.pits[0], out.lows[0]
	out.sags = out.finding == finding.Dish && !d.in.Study.Roof.Sound(out.pit, out.place)
	out.lip = out.pit
	if p.Lip >= 0 {
		out.lip = orb.Point{t.X[p.Lip], t.Y[p.Lip]}
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
			at = vector.Nearest(s.Line, q)
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
	if a := d.in.Study.Roof.AnsweredAt(roof.AskLower, o.Plan, nil); a != nil && !a.Yes {
		return true // the plumber said that it cannot be set down
	}
	return slices.ContainsFunc(d.in.Steering.Keep, func(name string) bool {
		return strings.EqualFold(name, o.ID) || strings.EqualFold(name, o.Label) ||
			o.Source >= 0 && strings.EqualFold(name, d.roof.Outlets[o.Source].ID)
	})
}

// problem is the design problem over a base with given sources.
func (d *designer) problem(base taper.Base, sources []taper.Source, g domain.Gauge, slope, thickness float64) *taper.Problem {
	return &taper.Problem{Domain: d.domain, Base: base, Sources: sources, Gauge: g, Slope: slope, Thickness: thickness}
}

func (d *designer) fourWay() domain.Gauge { return domain.FourWay(d.domain.Axis) }

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

// choose says which option the first answer that meets is, and else what limit stands in the way, first of the answers, then of what was tried.
func (r *Result) choose() {
	for i := range r.Answers {
		if r.Answers[i].Meets {
			r.Best = r.Answers[i].Option
			return
		}
	}
	all := gather.Each(r.Answers, func(x Answer) *Option { return &r.Options[x.Option] })
	for i := range r.Options {
		all = append(all, &r.Options[i])
	}
	for _, o := range all {
		for _, list := range [][]Limit{o.Limits, o.Worse} {
			if len(list) > 0 {
				l := list[0]
				r.InTheWay = &l
				return
			}
		}
	}
}

// refused reports whether an option makes anything worse or breaks a limit.
func (o *Option) refused() bool { return len(o.Worse)+len(o.Limits) > 0 }

// nearer reports whether o is to be taken before u: one that is not refused, then what leaves less undone: ponds, then what is
// worse, then mends that are no local ones, then flat planes, then limits.
func (o *Option) nearer(u *Option) bool {
	switch {
	case o.Possible != u.Possible:
		return o.Possible
	case o.refused() != u.refused():
		return u.refused()
	case o.PondsLeft != u.PondsLeft:
		return o.PondsLeft < u.PondsLeft
	case len(o.Worse) != len(u.Worse):
		return len(o.Worse) < len(u.Worse)
	case o.wide != u.wide:
		return o.wide < u.wide
	case o.FlatLeft != u.FlatLeft:
		return o.FlatLeft < u.FlatLeft
	}
	if len(o.Limits) != len(u.Limits) {
		return len(o.Limits) < len(u.Limits)
	}
	return o.alike(u) && o.Opened < u.Opened
}

// alike reports whether two options are of the same kinds: of such the one that opens less comes first.
func (o *Option) alike(u *Option) bool {
	a, b := append([]Kind{o.Kind}, o.Parts...), append([]Kind{u.Kind}, u.Parts...)
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(a, b)
}

// options returns how studies are run: as the first, without a clock and without its storm, and no wider than what options are compared by.
func (d *designer) options() study.Options {
	o := d.in.Options
	o.Clock, o.Storm, o.Narrow = nil, nil, true
	return o
}
