package flow

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// straighten leads the ways over level ground straight: from each vertex to the farthest one down its way, or down that of
// a neighbour with the same exit, that it sees over level facets, where that is shorter than along edges. Which exit water
// takes stays as settleLevel has it. What it has found for vertices
// nearer to the exit serves those beyond them (after "any-angle" search on meshes; Daniel, Nash, Koenig and Felner, "Theta*:
// Any-Angle Path Planning on Grids", Journal of Artificial Intelligence Research 39, 2010; from memory).
func (n *Network) straighten() {
	var order []int32
	for v, l := range n.level {
		if l > 0 {
			order = append(order, int32(v))
		}
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(n.level[a], n.level[b]) })
	n.far = slices.Clone(n.level)
	done := make([]bool, len(n.level))
	var list []anchor
	for _, v := range order {
		list = list[:0]
		n.eachLevel(v, func(u int32) {
			if n.level[u] < n.level[v] && n.way[u] != wayPit && (n.level[u] == 0 || done[u]) && n.exit(u) == n.exit(v) {
				list = n.anchors(list, v, u)
			}
		})
		slices.SortFunc(list, func(a, b anchor) int { return cmp.Or(cmp.Compare(a.far, b.far), cmp.Compare(a.vertex, b.vertex)) })
		for _, a := range list {
			if a.far >= n.far[v] {
				break
			}
			if n.sees(v, a.vertex) {
				n.way[v], n.far[v] = a.vertex, a.far
				break
			}
		}
		done[v] = true
	}
	n.findAims()
}

// findAims finds for level facets whose corners see different vertices on their ways the best of these that all of them
// see.
func (n *Network) findAims() {
	n.aims = map[int32]int32{}
	for f := range int32(n.t.Facets()) {
		c := n.t.V[3*f : 3*f+3]
		if !n.flat(f) || n.level[c[0]]+n.level[c[1]]+n.level[c[2]] == 0 || n.common(c...) >= 0 {
			continue
		}
		x, y := (n.t.X[c[0]]+n.t.X[c[1]]+n.t.X[c[2]])/3, (n.t.Y[c[0]]+n.t.Y[c[1]]+n.t.Y[c[2]])/3
		least := math.Inf(1)
		for _, v := range c {
			q := n.towardsExit(v)
			far := n.far[q] + vector.Norm(x-n.t.X[q], y-n.t.Y[q])
			if far < least && !slices.ContainsFunc(c, func(w int32) bool { return n.towardsExit(w) != q && !n.sees(w, q) }) {
				least, n.aims[f] = far, q
			}
		}
	}
}

// anchor is a vertex that another may see, and how far the exit is over it [m].
type anchor struct {
	far    float64
	vertex int32
}

// anchors appends neighbour u of v and the vertices down its way over level ground.
func (n *Network) anchors(list []anchor, v, u int32) []anchor {
	for {
		list = append(list, anchor{math.Round((n.far[u]+n.length(v, u))*1e9) / 1e9, u})
		if n.level[u] == 0 {
			return list
		}
		u = n.way[u]
	}
}

// turn returns on which side of the line from a to b vertex c lies: 1 left, -1 right, 0 on it.
func (n *Network) turn(a, b, c int32) int {
	t := n.t
	if t.GX == nil { // a surface that stands on no grid
		return cmp.Compare(cross(t.X[b]-t.X[a], t.Y[b]-t.Y[a], t.X[c]-t.X[a], t.Y[c]-t.Y[a]), 0)
	}
	return geometry.Orient(t.GX[a], t.GY[a], t.GX[b], t.GY[b], t.GX[c], t.GY[c])
}

// towards reports whether b lies ahead when one looks from a to c.
func (n *Network) towards(a, b, c int32) bool {
	t := n.t
	return dot(t.X[b]-t.X[a], t.Y[b]-t.Y[a], t.X[c]-t.X[a], t.Y[c]-t.Y[a]) > 0
}

// flat reports whether facet f is level ground that no outlet takes.
func (n *Network) flat(f int32) bool { return n.sinks.facet[f] < 0 && n.t.Level(f) }

// sees reports whether the straight line from vertex a to vertex b keeps to level facets, their sides and corners.
func (n *Network) sees(a, b int32) bool {
	for at := a; at >= 0; {
		if at == b {
			return true
		}
		at = n.sightFrom(at, b)
	}
	return false
}

// sightFrom follows the line from vertex a to vertex b to the next vertex on it, which it returns; -1 where it leaves the
// level ground.
func (n *Network) sightFrom(a, b int32) int32 {
	for x := n.around(a); x.next(); {
		if x.incoming || !n.flat(x.edge/3) {
			continue
		}
		e := x.edge
		p, q := n.t.V[surface.Next(e)], n.t.V[surface.Prev(e)]
		right, left := n.turn(a, b, p), n.turn(a, b, q)
		switch {
		case right == 0 && n.towards(a, p, b):
			return p
		case left == 0 && n.towards(a, q, b):
			return q
		case right < 0 && left > 0:
			return n.sightAcross(a, b, surface.Next(e))
		}
	}
	return -1
}

// sightAcross follows the line from a to b over half-edge e, whose start lies on its right and whose end on its left, to
// the next vertex on it; -1 where it leaves the level ground.
func (n *Network) sightAcross(a, b, e int32) int32 {
	for {
		e = n.t.Twin[e]
		if e < 0 || !n.flat(e/3) {
			return -1
		}
		c := n.t.V[surface.Prev(e)]
		switch n.turn(a, b, c) {
		case 0:
			return c
		case 1:
			e = surface.Next(e)
		default:
			e = surface.Prev(e)
		}
	}
}

// towardsExit returns the vertex that vertex v of level ground sees on its way: v itself where that is the exit.
func (n *Network) towardsExit(v int32) int32 {
	if n.level[v] > 0 {
		return n.way[v]
	}
	return v
}

// common returns the vertex that all of some vertices see on their ways, or else are; -1 where there is none.
func (n *Network) common(vertices ...int32) int32 {
	for _, w := range vertices {
		for _, q := range [2]int32{n.towardsExit(w), w} {
			if !slices.ContainsFunc(vertices, func(v int32) bool { return v != q && n.towardsExit(v) != q }) {
				return q
			}
		}
	}
	return -1
}

// poolTarget returns the vertex that water from a place of facet f, which has no direction of its own, runs straight to:
// one that all its corners see, else the nearer of its corners and the facet's aim, of those with one end.
func (n *Network) poolTarget(f int32, x, y float64) int32 {
	c := n.poolCorner(f)
	if n.way[c] == wayPit || !n.t.Level(f) {
		return c
	}
	corners := n.t.V[3*f : 3*f+3]
	if q := n.common(corners...); q >= 0 && n.together(q, c) {
		return q
	}
	best, least := c, n.far[c]+vector.Norm(x-n.t.X[c], y-n.t.Y[c])
	try := func(v int32) {
		if d := n.far[v] + vector.Norm(x-n.t.X[v], y-n.t.Y[v]); d < least && n.together(v, c) {
			best, least = v, d
		}
	}
	for _, v := range corners {
		try(v)
	}
	if q, known := n.aims[f]; known {
		try(q)
	}
	return best
}

// exit returns the vertex over which vertex v leaves the level ground.
func (n *Network) exit(v int32) int32 {
	for n.level[v] > 0 {
		v = n.way[v]
	}
	return v
}

// together reports whether water from two vertices of level ground is known to have one end.
func (n *Network) together(a, b int32) bool {
	a, b = n.exit(a), n.exit(b)
	return a == b || n.vertex[a] == n.vertex[b] && n.vertex[a] != Unlabelled
}
