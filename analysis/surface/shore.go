package surface

import (
	"math"
	"slices"

	"runnel/analysis/geometry"
)

// Shore is a TIN cut along the edges of standing water, so that every facet is wholly under water or wholly dry. As
// where footprints are cut in, no elevation and no diagonal moves: facets are only subdivided, and the pieces keep their
// gradient and their signs of flow.
type Shore struct {
	TIN   *TIN    // Parent holds the facet of the TIN that was cut; vertices keep their numbers, new ones follow
	Water []int32 // per facet: the water on it, -1 dry
	Wet   []int32 // per vertex: the water over it, atShore on a new vertex at an edge of water, -1 for all others
	Grown float64 // by how much the area grew where the border moved by rounding [m2]
}

// atShore marks a vertex that was made at the edge of water.
const atShore int32 = -2

// CutShores cuts a TIN along the edges of waters. of holds for every vertex the water over it, -1 where it is dry, and
// level the level of every water [m]; no facet may be under two. A water none of whose edges is to be cut, as one
// without a way out, is left out of of.
func CutShores(t *TIN, of []int32, level []float64) *Shore {
	c := newCopy(t)
	cuts := shoreEdges(t, of)
	c.reserve(cuts, 2*cuts)
	s := &Shore{TIN: c.TIN, Wet: slices.Clone(of)}
	for v, w := range of {
		if w >= 0 {
			t.Halt.Look()
			c.cutAround(s, int32(v), level[w])
		}
	}
	s.Water = make([]int32, c.Facets())
	for f := range s.Water {
		s.Water[f] = -1
		for _, v := range c.V[3*f : 3*f+3] {
			s.Water[f] = max(s.Water[f], s.Wet[v])
		}
	}
	c.indexOut()
	s.Grown = float64(c.grown) / (2 * geometry.PerMetre * geometry.PerMetre)
	return s
}

// shoreEdges returns how many edges have one end under water.
func shoreEdges(t *TIN, of []int32) int {
	n := 0
	for e, twin := range t.Twin {
		if int32(e) > twin && (of[t.V[e]] >= 0) != (of[t.End(int32(e))] >= 0) {
			n++
		}
	}
	return n
}

// cutAround cuts the edges from wet vertex a to dry ones that stand above its water.
func (c *cutter) cutAround(s *Shore, a int32, level float64) {
	var edges []int32
	first := c.Out[a]
	e := first
	for {
		edges = append(edges, e)
		if e = c.Twin[Prev(e)]; e < 0 || e == first {
			break
		}
	}
	for _, x := range edges {
		c.cutEdge(s, x, c.End(x), (level-c.Z[a])/(c.Z[c.End(x)]-c.Z[a]), level)
	}
	if last := Prev(edges[len(edges)-1]); e < 0 { // the border half-edge that ends at a
		b := c.V[last]
		c.cutEdge(s, last, b, (level-c.Z[b])/(c.Z[a]-c.Z[b]), level)
	}
}

// cutEdge puts a vertex at position t of half-edge e, whose dry end is b, where water of a level ends. Where the grid
// has no place for it an end of the edge becomes part of the shore.
func (c *cutter) cutEdge(s *Shore, e, b int32, t, level float64) {
	if a := c.V[e] + c.End(e) - b; s.Wet[b] != -1 || s.Wet[a] < 0 || c.Z[b] <= level {
		return
	}
	v := c.place(e, t)
	if int(v) == len(s.Wet) {
		s.Wet = append(s.Wet, atShore)
		return
	}
	s.Wet[v] = atShore
}

// byGradient returns the sign of flow over half-edge e from its facet's gradient: 0 where it is parallel within what
// rounding does.
func (c *cutter) byGradient(e int32) int8 {
	const parallel = 1e-12
	f := e / 3
	a, b := c.V[e], c.End(e)
	x, y := c.X[b]-c.X[a], c.Y[b]-c.Y[a]
	// water runs along -g; the outward normal of the half-edge is (y, -x)
	out := float64(c.DY[f]*x) - float64(c.DX[f]*y)
	if math.Abs(out) <= parallel*(math.Abs(c.DX[f])+math.Abs(c.DY[f]))*(math.Abs(x)+math.Abs(y)) {
		return 0
	}
	if out > 0 {
		return 1
	}
	return -1
}
