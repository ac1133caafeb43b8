package fold

import (
	"cmp"
	"math"
	"slices"
)

// seed is a vertex with how well the spots around it lie on a plane.
type seed struct {
	v      int32
	e      int32   // half-edge between the two triangles that are the seed; -1 for a disc
	misfit float64 // in thousandths of a spot's standard deviation
	spots  int
	far    float64 // from the middle of the field, squared
}

// quad returns the four corners of the triangles on both sides of an edge where all are free, else nil.
func (g *grower) quad(e int32) []int32 {
	g.set = append(g.set[:0], g.V[e], g.end(e), g.before(e), g.before(g.Twin[e]))
	set := g.set
	for _, v := range set {
		if !g.free(v) {
			return nil
		}
	}
	g.set = set
	return set
}

// before returns the corner opposite half-edge e.
func (g *grower) before(e int32) int32 {
	if e%3 == 0 {
		return g.V[e+2]
	}
	return g.V[e-1]
}

// quads returns the pairs of triangles that lie on a plane, best first.
func (g *grower) quads() []seed {
	var out []seed
	for e, t := range g.Twin {
		if t < int32(e) || g.Coded[g.V[e]] && g.Coded[g.end(int32(e))] || g.givenUp(g.V[e]) && g.givenUp(g.end(int32(e))) {
			continue
		}
		set := g.quad(int32(e))
		if set == nil {
			continue
		}
		v := set[0]
		if w := set[1]; g.Coded[v] || g.Z[w] < g.Z[v] && !g.Coded[w] {
			v = w
		}
		m := g.sums(set)
		p, ok := m.fit()
		if !ok {
			continue
		}
		if r := g.misfit(&p); r <= mostMisfit(1) {
			out = append(out, seed{v, int32(e), math.Round(1000 * r), 4, float64(g.X[v]*g.X[v]) + float64(g.Y[v]*g.Y[v])})
		}
	}
	return g.bestFirst(out)
}

// mostMisfit returns how far spots that leave so many degrees of freedom may scatter about their plane, in standard deviations: all but one
// plane in two hundred stays below, and an uneven roof's too. Chi-squared by the cube root (Wilson and Hilferty 1931; from memory).
func mostMisfit(free int) float64 {
	const quantile, uneven = 2.576, 1.25
	d := 2 / (9 * float64(max(1, free)))
	root := 1 - d + float64(quantile*math.Sqrt(d))
	return math.Max(uneven, math.Sqrt(float64(float64(root*root)*root)))
}

// seeds returns the discs of free spots that lie on a plane, best first. Those that fit alike come by number of spots, then from the middle of
// the field outwards, then by elevation.
func (g *grower) seeds(rings int) []seed {
	var out []seed
	step := max(1, len(g.X)/mostSeeds)
	for v := int32(0); int(v) < len(g.X); v += int32(step) {
		if !g.free(v) || g.Coded[v] || g.givenUp(v) {
			continue
		}
		if g.disc(v, rings); len(g.set) < leastSpots {
			continue
		}
		m := g.sums(g.set)
		p, ok := m.fit()
		if !ok {
			continue
		}
		if r := g.misfit(&p); r <= mostMisfit(len(g.set)-3) {
			out = append(out, seed{v, -1, math.Round(1000 * r), len(g.set), float64(g.X[v]*g.X[v]) + float64(g.Y[v]*g.Y[v])})
		}
	}
	return g.bestFirst(out)
}

func (g *grower) bestFirst(out []seed) []seed {
	slices.SortFunc(out, func(a, b seed) int {
		switch { // one after the other: most differ in the first
		case a.misfit != b.misfit:
			return cmp.Compare(a.misfit, b.misfit)
		case a.spots != b.spots:
			return cmp.Compare(b.spots, a.spots)
		case a.far != b.far:
			return cmp.Compare(a.far, b.far)
		}
		return cmp.Or(cmp.Compare(g.Z[a.v], g.Z[b.v]), cmp.Compare(a.v, b.v), cmp.Compare(a.e, b.e))
	})
	return out
}

// disc collects into g.set the free spots around v, by so many rings of neighbours. Spots of coded lines are taken and end it.
func (g *grower) disc(v int32, rings int) {
	g.stamp++
	g.set = append(g.set[:0], v)
	g.mark[v] = g.stamp
	from := 0
	for range rings {
		to := len(g.set)
		for _, u := range g.set[from:to] {
			if g.Coded[u] || u != v && len(g.around(u)) > hub {
				continue
			}
			for _, w := range g.around(u) {
				if g.mark[w] != g.stamp && g.free(w) {
					g.mark[w] = g.stamp
					g.set = append(g.set, w)
				}
			}
		}
		from = to
	}
}
