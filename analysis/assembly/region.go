package assembly

import (
	"math"
	"slices"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
)

// Of says what the cores of a roof tell. A roof without cores has no regions, and for each pond where to cut first.
func Of(in *Input) *Result {
	f := newFinder(in)
	r := &Result{Cores: f.cores(), finder: f}
	f.ponds(r)
	r.Regions = f.regionsOf(r.Cores)
	f.index(r.Regions)
	for i := range r.Regions {
		g := &r.Regions[i]
		g.mark(r.Cores)
		f.plan(r, g)
		say(g, r.Cores)
	}
	for i := range r.Ponds {
		f.compare(r, &r.Ponds[i])
	}
	r.Wet, r.Unknown, r.Load = wet(r.Cores), unknown(r.Cores), loads(r.Cores)
	r.R = resistanceOf(r, in.Method)
	return r
}

// usable reports whether a core tells a thickness and a deck on the surface.
func (c *Core) usable() bool { return c.HasThickness && c.HasSurface && c.Plane >= 0 }

// regionsOf makes the regions: planes that carry a fit; then catchments for the cores of the other planes; then the roof; then
// what is left of the planes, of which only the cores themselves can be told.
func (f *finder) regionsOf(cores []Core) []Region {
	byPlane := map[int32][]int{}
	var planes []int32
	left := map[int]bool{}
	for i := range cores {
		if p := cores[i].Plane; cores[i].usable() {
			if byPlane[p] == nil {
				planes = append(planes, p)
			}
			byPlane[p] = append(byPlane[p], i)
			left[i] = cores[i].Pond < 0
		}
	}
	if wetOnly(left) {
		for i := range left {
			left[i] = true
		}
	}
	slices.Sort(planes)
	var fitted, bare []Region
	for _, p := range planes {
		g := Region{Kind: OnPlane, Index: p, Cores: byPlane[p]}
		f.fitPlane(cores, &g)
		if !g.fitted {
			bare = append(bare, g)
			continue
		}
		fitted = append(fitted, g)
		take(left, g.Cores)
	}
	fitted = f.widen(fitted, cores, left)
	for _, g := range bare {
		if slices.ContainsFunc(g.Cores, func(i int) bool { return left[i] }) {
			fitted = append(fitted, g)
		}
	}
	slices.SortStableFunc(fitted, func(a, b Region) int {
		return choose.If(a.Kind != b.Kind, int(a.Kind)-int(b.Kind), int(a.Index)-int(b.Index))
	})
	return fitted
}

// widen adds catchments, then the roof, for the cores that are left.
func (f *finder) widen(fitted []Region, cores []Core, left map[int]bool) []Region {
	try := func(g Region) {
		open := slices.ContainsFunc(g.Cores, func(i int) bool { return left[i] })
		if !open {
			return
		}
		if f.fitShare(cores, &g); g.fitted {
			fitted = append(fitted, g)
			take(left, g.Cores)
		}
	}
	if f.in.Catchments != nil {
		for i := range f.in.Catchments.Full {
			outline := f.in.Catchments.Full[i].Outline
			try(Region{Kind: OnCatchment, Index: int32(i), Cores: pick(cores, func(c *Core) bool {
				return planar.MultiPolygonContains(outline, c.Plan)
			})})
		}
	}
	try(Region{Kind: OnRoof, Index: -1, Cores: pick(cores, func(*Core) bool { return true })})
	return fitted
}

// wetOnly reports whether fewer than three cores are left that are not in ponds: then those in ponds count as well.
func wetOnly(left map[int]bool) bool {
	dry := 0
	for _, is := range left {
		if is {
			dry++
		}
	}
	return dry < 3
}

func take(left map[int]bool, cores []int) {
	for _, i := range cores {
		delete(left, i)
	}
}

// pick returns the usable cores that keep takes.
func pick(cores []Core, keep func(*Core) bool) []int {
	var out []int
	for i := range cores {
		if cores[i].usable() && keep(&cores[i]) {
			out = append(out, i)
		}
	}
	return out
}

// inField returns the cores of a region that lie in no listed pond, or all where fewer than three are left: what is low in a pond
// is not the fall of the roof.
func inField(cores []Core, of []int) []int {
	dry := gather.Where(of, func(i int) bool { return cores[i].Pond < 0 })
	return choose.If(len(dry) < 3, of, dry)
}

// fitPlane fits thickness and deck over a plane of the surface and passes the verdict.
func (f *finder) fitPlane(cores []Core, g *Region) {
	p := &f.in.Slopes.Planes[g.Index]
	e := p.Error()
	g.Surface = Gradient{X: p.Gradient[0], Y: p.Gradient[1], XX: e * e, YY: e * e, Known: true}
	solve := func(s *sample) (model, bool) {
		t, ok := fitPlane(s.thickness)
		return &t, ok
	}
	s := sampleOf(cores, inField(cores, g.Cores))
	if _, ok := solve(s); !ok {
		s = sampleOf(cores, g.Cores)
	}
	s = g.leaveOut(s, solve)
	var ok bool
	if g.thickness, ok = fitPlane(s.thickness); !ok {
		return
	}
	g.deck, _ = fitPlane(s.deck)
	g.Thickness, g.Deck = g.thickness.gradient(), g.deck.gradient()
	if s := g.Surface.Slope(); s > math.Max(sure*g.Surface.Sigma(), flatSlope) {
		q := part(g.Surface, g.Thickness)
		g.Share, g.ShareSigma, g.HasShare = q.X, math.Sqrt(q.XX), true
	}
	g.settle(s, &g.thickness, solve, func(m model) Verdict {
		t, _ := m.(*fit)
		return judge(g.Surface, t.gradient())
	})
}

// fitShare fits thickness against elevation and passes the verdict.
func (f *finder) fitShare(cores []Core, g *Region) {
	solve := func(s *sample) (model, bool) {
		l, ok := fitShare(s.thickness, s.z)
		return &l, ok
	}
	s := g.leaveOut(sampleOf(cores, inField(cores, g.Cores)), solve)
	var ok bool
	if g.line, ok = fitShare(s.thickness, s.z); !ok {
		return
	}
	k := g.line.inflate()
	g.Share, g.ShareSigma, g.HasShare = g.line.k, math.Sqrt(g.line.varK*k), true
	g.settle(s, &g.line, solve, func(m model) Verdict {
		l, _ := m.(*shareFit)
		return judgePart(Gradient{X: l.k, XX: l.varK * l.inflate()})
	})
}

// settle passes the verdict on a fit, unless the cores disagree or a flute that one of them may have reached would change it.
func (g *Region) settle(s *sample, m model, solve func(*sample) (model, bool), verdict func(model) Verdict) {
	g.fitted = true
	chi2, free := m.misfit()
	g.disagree = free > 0 && chi2 > limit(free)
	if g.disagree {
		g.Verdict = s.whichever(solve, verdict)
		return
	}
	g.Verdict = verdict(m)
	if g.Verdict != NotResolved && !s.stands(g.Verdict, solve, verdict) {
		g.Verdict, g.flute = NotResolved, true
	}
}

// leaveOut returns the sample without its odd core, and notes mean and spread of the rest.
func (g *Region) leaveOut(s *sample, solve func(*sample) (model, bool)) *sample {
	if who := s.odd(solve); who >= 0 {
		g.odd = append(g.odd, s.cores[who])
		s = s.without(who)
	}
	g.Used = s.cores
	least, most := math.Inf(1), math.Inf(-1)
	for _, r := range s.thickness {
		least, most = math.Min(least, r.value), math.Max(most, r.value)
		g.Mean += r.value / float64(len(s.cores))
	}
	g.Spread = most - least
	return s
}

// mark flags the odd cores of a region: too thick by what a flute would explain where nobody said that it did not reach one, or odd.
func (g *Region) mark(cores []Core) {
	for _, i := range g.odd {
		c := &cores[i]
		c.Flags = append(c.Flags, Odd)
		if over := c.Thickness - g.expected(c); c.mayBeFlute && fluteWould(over, c.Sigma) {
			c.Flags = append(c.Flags, FluteUnsaid)
		}
	}
}

// expected returns the thickness that a region's fit gives at a core.
func (g *Region) expected(c *Core) float64 {
	if g.Kind == OnPlane {
		t, _ := g.thickness.at(c.Plan)
		return t
	}
	t, _ := g.line.at(c.Surface)
	return t
}
