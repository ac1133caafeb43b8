package assembly

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
)

// surePond is by how many standard errors a part of a drop must be beyond what it is compared with.
const surePond = 2.0

// ponds notes the listed ponds and which cores lie in their water.
func (f *finder) ponds(r *Result) {
	r.Ponds = make([]Pond, len(f.in.Listed))
	f.water = make([]int32, f.in.Surface.Cut.Facets())
	for k, p := range f.in.Listed {
		r.Ponds[k].Pond = p
		for _, facet := range f.in.Ponds.Ponds[p].Facets {
			f.water[facet] = choose.If(f.water[facet] == 0, int32(k+1), -1)
		}
	}
	for i := range r.Cores {
		c := &r.Cores[i]
		if !c.HasSurface || c.Plane < 0 {
			continue
		}
		if k := f.pondAt(c.Plan); k >= 0 {
			c.Pond = int32(k)
			r.Ponds[k].Inside = append(r.Ponds[k].Inside, i)
		}
	}
}

// pondAt returns the position in Listed of the pond whose water covers a place, -1 where none does.
func (f *finder) pondAt(at orb.Point) int {
	facet, ok := f.locate(at)
	if !ok {
		return -1
	}
	z, only := f.in.Surface.Cut.Height(facet, at[0], at[1]), int(f.water[facet])-1
	if only == -1 || only >= 0 && z >= f.in.Ponds.Ponds[f.in.Listed[only]].Level {
		return -1
	} else if only >= 0 {
		return only
	}
	for k, p := range f.in.Listed { // a facet between two ponds
		pond := &f.in.Ponds.Ponds[p]
		if _, in := slices.BinarySearch(pond.Facets, facet); in && z < pond.Level {
			return k
		}
	}
	return -1
}

// deepest returns the place of a pond's lowest vertex.
func (f *finder) deepest(k int) orb.Point {
	v := f.in.Ponds.Ponds[f.in.Listed[k]].Pits[0]
	return orb.Point{f.in.Surface.Cut.X[v], f.in.Surface.Cut.Y[v]}
}

// compare says whether deck or insulation is low under a pond: surface, deck and thickness at the cores inside against what the
// cores outside let expect there.
func (f *finder) compare(r *Result, p *Pond) {
	k := slices.Index(f.in.Listed, p.Pond)
	for _, i := range p.Inside {
		p.Soft = p.Soft || r.Cores[i].has(DeckSoft)
	}
	if g := f.reference(r, k, p); g != nil {
		f.against(r, p, g)
	} else {
		f.single(r, k, p)
	}
	if p.Cause == InsulationThin || p.Cause == DeckLowAndThin {
		p.Why = r.reason(p)
	}
	f.nextInPond(r, k, p)
	sayPond(p)
}

// reference returns the fitted region that a pond is compared with: the narrowest one that holds its cores, or its deepest point, and whose fit
// rests on no core inside.
func (f *finder) reference(r *Result, k int, p *Pond) *Region {
	at := f.deepest(k)
	if len(p.Inside) > 0 {
		at = r.Cores[p.Inside[0]].Plan
	}
	facet, _, ok := f.at(at)
	if !ok {
		return nil
	}
	for _, i := range f.around(r, facet, at) {
		g := &r.Regions[i]
		inside := slices.ContainsFunc(g.Used, func(c int) bool { return int(r.Cores[c].Pond) == k })
		if g.fitted && !inside && !g.disagree {
			return g
		}
	}
	return nil
}

// around returns the regions at a place; where the plane under a pond is one of its own, as a sag makes, then those of the planes next to it.
func (f *finder) around(r *Result, facet int32, at orb.Point) []int {
	out := f.regions(facet, at)
	best, most := -1, 0
	for i := range r.Regions {
		if g := &r.Regions[i]; g.Kind == OnPlane && g.fitted && len(g.Used) > most && f.nearPlane(g.Index, at) {
			best, most = i, len(g.Used)
		}
	}
	if best >= 0 && !slices.Contains(out, best) {
		out = append(out, best)
	}
	return out
}

// nearPlane reports whether the box of a plane holds a place.
func (f *finder) nearPlane(plane int32, at orb.Point) bool {
	return f.in.Slopes.Planes[plane].Outline.Bound().Contains(at)
}

// against fills what is lower inside a pond than the region's fit lets expect, as means over the cores inside.
func (f *finder) against(r *Result, p *Pond, g *Region) {
	var w, drop, deck, thin, reference float64
	for _, i := range p.Inside {
		c := &r.Cores[i]
		if !c.usable() {
			continue
		}
		t, st, d := f.expect(g, c)
		k := 1 / (c.Sigma * c.Sigma)
		w += k
		thin += float64(k * (t - c.Thickness))
		deck += float64(k * (d - c.Deck))
		drop += float64(k * (t + d - c.Surface))
		reference += float64(k * st)
	}
	if w == 0 {
		return
	}
	p.Compared, p.Outside = true, g.Used
	p.Drop, p.DeckDrop, p.Thinner = drop/w, deck/w, thin/w
	p.Sigma = vector.Norm(math.Sqrt(1/w), reference/w)
	p.judge()
}

// expect returns thickness, its standard error, and deck that a region's fit gives at a core. Where thickness goes with elevation, the surface is
// expected on the largest plane about the place: its own elevation is what the pond has changed.
func (f *finder) expect(g *Region, c *Core) (thickness, sigma, deck float64) {
	if g.Kind == OnPlane {
		thickness, sigma = g.thickness.at(c.Plan)
		deck, _ = g.deck.at(c.Plan)
		return thickness, sigma, deck
	}
	z := c.Surface
	for i := range f.in.Slopes.Planes { // largest first
		if f.nearPlane(int32(i), c.Plan) {
			z = f.in.Slopes.Planes[i].At(c.Plan)
			break
		}
	}
	thickness, sigma = g.line.at(z)
	return thickness, sigma, z - thickness
}

// judge passes the verdict: more than half of the drop must be the deck's, or the insulation's, or more than a quarter each of both.
func (p *Pond) judge() {
	if p.Drop < leastDrop {
		if p.Thinner > sure*p.Sigma {
			p.Cause = InsulationThin
		}
		return
	}
	error := float64(surePond * p.Sigma)
	half, quarter := p.Drop/2, p.Drop/4
	switch {
	case p.Thinner-error > quarter && p.DeckDrop-error > quarter:
		p.Cause = DeckLowAndThin
	case p.Thinner-error > half:
		p.Cause = InsulationThin
	case p.DeckDrop-error > half:
		p.Cause = DeckLow
	}
}

// leastDrop is the least drop of the surface that is parted into deck and insulation [m].
const leastDrop = 0.005

// single compares with the nearest core outside where there are too few for a fit: only a layer that is seen to be wet or
// compressed and is clearly thinner tells anything.
func (f *finder) single(r *Result, k int, p *Pond) {
	for _, i := range p.Inside {
		c := &r.Cores[i]
		j := nearestOutside(r, k, i)
		if j < 0 || !c.usable() {
			continue
		}
		o := &r.Cores[j]
		p.Outside = append(p.Outside, j)
		error := float64(sure * vector.Norm(c.Sigma, o.Sigma))
		if o.Thickness-c.Thickness > error && (c.has(LayerWet) || c.has(LayerPressed)) {
			p.Cause = InsulationThin
		}
	}
	slices.Sort(p.Outside)
	p.Outside = slices.Compact(p.Outside)
}

// nearestOutside returns the usable core outside pond k that is nearest to core i, -1 none.
func nearestOutside(r *Result, k, i int) int {
	best, at := -1, 0.0
	c := &r.Cores[i]
	for j := range r.Cores {
		o := &r.Cores[j]
		d := vector.Norm(o.Plan[0]-c.Plan[0], o.Plan[1]-c.Plan[1])
		if int(o.Pond) != k && o.usable() && (best < 0 || d < at) {
			best, at = j, d
		}
	}
	return best
}

// reason says why the insulation is thin, as far as the layers tell.
func (r *Result) reason(p *Pond) Reason {
	most := 0
	for _, j := range p.Outside {
		most = max(most, len(r.Cores[j].Layers))
	}
	for _, i := range p.Inside {
		switch c := &r.Cores[i]; {
		case c.has(LayerPressed):
			return Compressed
		case c.has(LayerWet):
			return WetThrough
		case len(c.Layers) < most:
			return Missing
		}
	}
	return Shrunk
}

// nextInPond says where to cut next to tell what is low under a pond.
func (f *finder) nextInPond(r *Result, k int, p *Pond) {
	if p.Cause != PondNotResolved {
		return
	}
	deep := f.deepest(k)
	if len(p.Inside) == 0 {
		p.Next, p.HasNext = f.allowedNear(r, deep, func(at orb.Point) bool { return f.pondAt(at) == k })
		p.NextWhy = finding.Say("Cut in the pond, near its deepest point.")
		return
	}
	if !p.Compared {
		p.Next, p.HasNext = f.outside(r, deep)
		p.NextWhy = finding.Say("Cut outside the pond on the same fall, to have something to compare with.")
		return
	}
	p.Next, p.HasNext = f.allowedNear(r, deep, func(at orb.Point) bool { return f.pondAt(at) == k })
	p.NextWhy = finding.Say("Cut a second core in the pond, by hand: a tube presses foam together. It is good to {0}.",
		finding.MM("error of a hand cut", standard.HandError))
}
