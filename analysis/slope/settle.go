package slope

import (
	"slices"

	"runnel/analysis/geometry/regression"
)

const (
	settleTimes = 8
	settleGain  = 4.0 // squared standard errors by which a facet must lie better on another plane to go there
)

// settle gives the facets along the border between two planes to the one on which they lie better, fits both anew, and again until nothing moves.
//
// A plane takes in whatever lies on it within two standard errors of a spot. Where these are large against what a fold does from spot to spot, the first of two
// planes runs some rows of spots over the fold, lies between the two slopes, and fits neither; the facets out there lie better on the other one.
func (g *grower) settle() {
	if g.sigma == nil {
		return
	}
	for range settleTimes {
		fits, ok := g.fits()
		next := slices.Clone(g.region)
		moved := false
		for f, r := range g.region {
			if g.weak[f] || !ok[r] {
				continue
			}
			if k := g.better(int32(f), fits, ok); k != r {
				next[f], moved = k, true
			}
		}
		g.region = next
		if !moved {
			return
		}
	}
}

// better returns the region of a neighbour of facet f on whose plane it lies better than on its own, the best of them and of equals the first; else its own.
func (g *grower) better(f int32, fits []regression.Plane, ok []bool) int32 {
	own := g.region[f]
	to, best, off := own, settleGain, g.offSquared(f, &fits[own])
	for e := 3 * f; e < 3*f+3; e++ {
		w := g.t.Twin[e]
		if w < 0 || g.t.Flag[e]&parting != 0 || g.weak[w/3] {
			continue
		}
		k := g.region[w/3]
		if k == own || !ok[k] {
			continue
		}
		if gain := alike(off - g.offSquared(f, &fits[k])); gain > best || gain == best && to != own && k < to {
			to, best = k, gain
		}
	}
	return to
}

// fits returns the planes of all regions, over their area, and which of them are of facets enough to take in others.
func (g *grower) fits() (fits []regression.Plane, ok []bool) {
	sums, count := make([]regression.Sums, len(g.sums)), make([]int, len(g.sums))
	for f, r := range g.region {
		if !g.weak[f] {
			x, y, z := corners(g.t, int32(f), g.ox, g.oy)
			sums[r].Facet(x, y, z, g.t.FacetArea(int32(f)))
			count[r]++
		}
	}
	fits, ok = make([]regression.Plane, len(sums)), make([]bool, len(sums))
	for r := range sums {
		if count[r] >= scrap {
			fits[r], ok[r] = sums[r].Plane(thin)
		}
	}
	return fits, ok
}

// offSquared returns the sum of how far the corners of facet f lie off p, in squared standard errors.
func (g *grower) offSquared(f int32, p *regression.Plane) float64 {
	sum := 0.0
	for e := 3 * f; e < 3*f+3; e++ {
		v := g.t.V[e]
		d := (g.t.Z[v] - p.At(g.t.X[v]-g.ox, g.t.Y[v]-g.oy)) / g.sigma[v]
		sum += float64(d * d)
	}
	return sum
}
