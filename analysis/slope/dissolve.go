package slope

import (
	"slices"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Regions that are too small to be called planes join a neighbour.
const (
	leastPlane = 0.1   // [m2], about a square foot
	mostPlanes = 50000 // the largest are kept
)

// dissolve joins every region that is too small to be called a plane to the neighbour with which it
// shares the longest border; its facets do not count in that plane's fit.
func (g *grower) dissolve() {
	keep := g.kept()
	for f := range g.region {
		if r := g.region[f]; r < 0 || !keep[r] {
			g.region[f], g.weak[f] = -1, true
		}
	}
	g.fill()
}

// fill gives every facet without a region that of a neighbour, working inwards.
func (g *grower) fill() {
	var queue []int32
	for f := range g.region {
		if g.region[f] < 0 && g.neighbour(int32(f)) >= 0 {
			queue = append(queue, int32(f))
		}
	}
	for i := 0; i < len(queue); i++ {
		f := queue[i]
		if g.region[f] >= 0 {
			continue
		}
		g.region[f] = g.neighbour(f)
		for _, c := range g.sides {
			if w := g.t.Twin[3*f+c]; w >= 0 && g.region[w/3] < 0 {
				queue = append(queue, w/3)
			}
		}
	}
	g.islands()
}

// kept marks the regions that stay planes.
func (g *grower) kept() []bool {
	size := make([]float64, len(g.sums))
	for f, r := range g.region {
		if r >= 0 {
			size[r] += g.t.FacetArea(int32(f))
		}
	}
	least := leastPlane
	if sorted := slices.Clone(size); len(sorted) > mostPlanes {
		slices.Sort(sorted)
		least = max(least, sorted[len(sorted)-mostPlanes])
	}
	keep := make([]bool, len(size))
	for r, a := range size {
		keep[r] = a >= least
	}
	return keep
}

// neighbour returns the region with which facet f shares the longest border, -1 none.
func (g *grower) neighbour(f int32) int32 {
	t, best, length := g.t, int32(-1), 0.0
	for e := 3 * f; e < 3*f+3; e++ {
		w := t.Twin[e]
		if w < 0 || g.region[w/3] < 0 {
			continue
		}
		r, sum := g.region[w/3], 0.0
		for d := 3 * f; d < 3*f+3; d++ {
			if k := t.Twin[d]; k >= 0 && g.region[k/3] == r {
				a, b := t.V[d], t.V[surface.Next(d)]
				sum += vector.Norm(t.X[b]-t.X[a], t.Y[b]-t.Y[a])
			}
		}
		if sum = alike(sum); sum > length || sum == length && r < best {
			best, length = r, sum
		}
	}
	return best
}

// islands makes one region of every connected part that holds no plane at all.
func (g *grower) islands() {
	for f := range g.region {
		if g.region[f] >= 0 {
			continue
		}
		id := int32(len(g.sums))
		g.sums = append(g.sums, regression.Sums{})
		stack := []int32{int32(f)}
		g.region[f] = id
		for len(stack) > 0 {
			k := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			g.weak[k] = false
			for e := 3 * k; e < 3*k+3; e++ {
				if w := g.t.Twin[e]; w >= 0 && g.region[w/3] < 0 {
					g.region[w/3] = id
					stack = append(stack, w/3)
				}
			}
		}
	}
}
