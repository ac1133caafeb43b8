package slope

import (
	"math"
	"slices"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/surface"
)

// bridgeRatio is how many times larger the planes must be between which a region only bridges.
const bridgeRatio = 3

// bridger finds regions that are no planes but facets across a fold on which no spot was shot.
type bridger struct {
	*grower
	size  []float64          // per region: plan area
	owner []int32            // per vertex: the largest region at it
	fits  []regression.Plane // per region, made when asked for
	state []int8             // per region: 0 not fitted, 1 fitted, -1 cannot be
}

// bridge hands the facets that only bridge a fold to the planes on both sides.
//
// Where a valley was not shot, facets span it from the last row of one plane to the first of the
// other. Their slopes are no slopes of the roof. They are known by their corners: each stands on one
// of the large planes around, and all where the highest of those planes is (across a valley), or all
// where the lowest is (across a ridge). Such facets do not count in the fit of the plane they join.
func (g *grower) bridge() {
	b := &bridger{grower: g, size: make([]float64, len(g.sums)), owner: make([]int32, len(g.t.X))}
	b.fits, b.state = make([]regression.Plane, len(g.sums)), make([]int8, len(g.sums))
	for f, r := range g.region {
		if r >= 0 {
			b.size[r] += g.t.FacetArea(int32(f))
		}
	}
	b.owners()
	spans := slices.Repeat([]bool{true}, len(g.sums))
	for f, r := range g.region {
		if r >= 0 {
			spans[r] = spans[r] && b.spans(int32(f))
		}
	}
	for f, r := range g.region {
		g.weak[f] = r < 0 || spans[r]
	}
	for f := range g.region {
		if g.weak[f] {
			g.region[f] = b.side(int32(f))
		}
	}
	g.fill()
}

// owners finds the largest region at every vertex, or next to it where the vertex lies on its plane.
func (b *bridger) owners() {
	for v := range b.owner {
		b.owner[v] = -1
	}
	for e, v := range b.t.V {
		r := b.region[e/3]
		if r < 0 {
			continue
		}
		if o := b.owner[v]; o < 0 || b.size[r] > b.size[o] || b.size[r] == b.size[o] && r < o {
			b.owner[v] = r
		}
	}
	touching := append([]int32(nil), b.owner...)
	for e, v := range b.t.V {
		if r := touching[b.t.V[surface.Next(int32(e))]]; b.adopts(r, v, touching[v]) {
			b.owner[v] = r
		}
	}
}

// adopts reports whether region r, which stands next to vertex v, should own it instead of the much
// smaller region at it: v lies on its plane, and no larger region has claimed v.
func (b *bridger) adopts(r, v, at int32) bool {
	o := b.owner[v]
	if r < 0 || o < 0 || r == o || b.size[r] < bridgeRatio*b.size[at] || b.size[r] <= b.size[o] || !b.fitted(r) {
		return false
	}
	d := b.t.Z[v] - b.fits[r].At(b.t.X[v]-b.ox, b.t.Y[v]-b.oy)
	return math.Abs(d) <= b.tolerance(v)
}

// spans reports whether facet f stands with its corners on several planes much larger than its own
// region, as facets across an unmeasured fold do.
func (b *bridger) spans(f int32) bool {
	var own [3]int32
	for c := range own {
		own[c] = b.owner[b.t.V[3*f+int32(c)]]
		if own[c] < 0 || b.size[own[c]] < bridgeRatio*b.size[b.region[f]] || !b.fitted(own[c]) {
			return false
		}
	}
	if own[0] == own[1] && own[1] == own[2] {
		return false
	}
	over, under := true, true
	for c := range own {
		v := b.t.V[3*f+int32(c)]
		x, y, tol := b.t.X[v]-b.ox, b.t.Y[v]-b.oy, strayFactor*b.tolerance(v)
		if math.Abs(b.t.Z[v]-b.fits[own[c]].At(x, y)) > tol {
			return false
		}
		for _, o := range own {
			d := b.t.Z[v] - b.fits[o].At(x, y)
			over = over && d > -tol
			under = under && d < tol
		}
	}
	return over || under
}

// fitted fits region r once.
func (b *bridger) fitted(r int32) bool {
	if b.state[r] == 0 {
		p, ok := b.sums[r].Plane(thin)
		b.fits[r], b.state[r] = p, -1
		if ok {
			b.state[r] = 1
		}
	}
	return b.state[r] > 0
}

// side returns the plane that facet f borders on along an edge both of whose ends stand on it; -1 none.
func (b *bridger) side(f int32) int32 {
	for _, c := range b.sides {
		e := 3*f + c
		w := b.t.Twin[e]
		if w < 0 || b.weak[w/3] {
			continue
		}
		if r := b.region[w/3]; b.owner[b.t.V[e]] == r && b.owner[b.t.V[w]] == r {
			return r
		}
	}
	return -1
}
