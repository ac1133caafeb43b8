package slope

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/geometry/regression"
)

// seedSizes are the sizes of the discs tried as seeds, in facets. Large discs average the scatter and
// find the large planes wherever they are; what is left is tried with smaller ones.
var seedSizes = []int{512, 64, 8}

// seed is a facet with the plane of the disc around it.
type seed struct {
	facet int32
	misfit,
	area float64
}

// alike rounds what sums come to, so that rounding, which hangs on where a roof stands, does not tell what is equal apart.
func alike(v float64) float64 { return math.Round(v*1e9) / 1e9 }

func (g *grower) planes() {
	for _, n := range seedSizes {
		for _, s := range g.discSeeds(n) {
			if g.region[s.facet] >= 0 {
				continue
			}
			g.disc(s.facet, n)
			if p, ok := g.ofCorners().Plane(thin); ok {
				g.grow(s.facet, p)
			}
		}
	}
	g.rest()
}

// discSeeds returns the discs of n free facets that lie on a plane, best first.
func (g *grower) discSeeds(n int) []seed {
	facets := g.t.Facets()
	step := 1
	if n > 8 {
		step = max(1, min(n/2, facets/200))
	}
	limit := 0.6 * math.Max(planeTolerance, 2*g.noise)
	var seeds []seed
	whole := make([]float64, facets) // per facet: misfit of its free part where that is no larger than a disc; -1 not known
	for f := range whole {
		whole[f] = -1
	}
	for f := 0; f < facets; f += step {
		g.t.Halt.Look()
		if g.region[f] >= 0 {
			continue
		}
		r := whole[f]
		if r < 0 {
			g.disc(int32(f), n)
			r = g.ofDisc(n)
			if len(g.set) < n { // the same disc from each of its facets
				for _, k := range g.set {
					whole[k] = r
				}
			}
		}
		bound := limit
		if g.sigma != nil {
			bound = 0.6 * g.tolerance(g.t.V[3*f])
		}
		if r <= bound {
			seeds = append(seeds, seed{facet: int32(f), misfit: alike(r)})
		}
	}
	slices.SortFunc(seeds, func(a, b seed) int {
		return cmp.Or(cmp.Compare(a.misfit, b.misfit), cmp.Compare(a.facet, b.facet))
	})
	return seeds
}

// ofDisc returns the misfit of a disc of n facets, or what there is of it, about its own plane; infinite where that is too little.
func (g *grower) ofDisc(n int) float64 {
	if len(g.set) >= n/2 {
		if p, ok := g.ofCorners().Plane(thin); ok {
			return g.misfit(&p)
		}
	}
	return math.Inf(1)
}

// misfit returns the standard deviation of g.corners about p.
func (g *grower) misfit(p *regression.Plane) float64 {
	t, sum := g.t, 0.0
	for _, v := range g.corners {
		r := t.Z[v] - p.At(t.X[v]-g.ox, t.Y[v]-g.oy)
		sum += float64(r * r)
	}
	return math.Sqrt(sum / math.Max(1, float64(len(g.corners)-3)))
}

// rest grows what no disc took, from single facets, largest first. On a surface that is all scraps it
// stops at twice the planes that can be kept: what is left then has no region.
func (g *grower) rest() {
	var seeds []seed
	for f := range g.region {
		if g.region[f] < 0 {
			seeds = append(seeds, seed{facet: int32(f), area: alike(g.t.FacetArea(int32(f)))})
		}
	}
	slices.SortFunc(seeds, func(a, b seed) int {
		return cmp.Or(cmp.Compare(b.area, a.area), cmp.Compare(a.facet, b.facet))
	})
	for _, s := range seeds {
		if g.region[s.facet] >= 0 {
			continue
		}
		if len(g.sums) >= 2*mostPlanes {
			break
		}
		g.set = append(g.set[:0], s.facet)
		m := g.vertices()
		if p, ok := m.Plane(thin); ok && g.grow(s.facet, p) {
			continue
		}
		g.region[s.facet] = int32(len(g.sums))
		g.sums, g.count = append(g.sums, m), append(g.count, 1)
	}
}
