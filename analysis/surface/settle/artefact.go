package settle

import (
	"slices"

	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
)

// turnArtefacts removes level triangles whose three corners lie on one breakline: the free edge is turned
// where that leaves no such triangle. They come from sampling, not from the roof (ridge and valley tips). It returns
// the triangles that were changed, which need not be Delaunay.
func (d *draft) turnArtefacts(m *mesh.Mesh, nodes []int32) map[int32]bool {
	turned := map[int32]bool{}
	if d.curbs == len(d.chains) {
		return turned
	}
	on := d.foldsOf(nodes)
	for f := int32(0); f < int32(len(m.V)/3); f++ {
		if !spanned(m, on, f) {
			continue
		}
		for e := 3 * f; e < 3*f+3; e++ {
			if turnable(m, e) && turnHelps(m, on, e) {
				turned[f], turned[m.Twin[e]/3] = true, true
				turn(m, e)
				d.notes.count(noteTurned)
				break
			}
		}
	}
	return turned
}

// foldsOf returns the breaklines through every vertex; most have none.
func (d *draft) foldsOf(nodes []int32) [][]int32 {
	vertex := slices.Repeat([]int32{-1}, len(d.x))
	for v, n := range nodes {
		vertex[n] = int32(v)
	}
	on := make([][]int32, len(nodes))
	for c := d.curbs; c < len(d.chains); c++ {
		for _, n := range d.chains[c].node {
			if v := vertex[n]; v >= 0 {
				on[v] = append(on[v], int32(c))
			}
		}
	}
	return on
}

// spanned reports whether triangle f is level and its corners lie on one breakline.
func spanned(m *mesh.Mesh, on [][]int32, f int32) bool {
	return spannedBy(m, on, m.V[3*f], m.V[3*f+1], m.V[3*f+2])
}

func spannedBy(m *mesh.Mesh, on [][]int32, a, b, c int32) bool {
	if m.Z[a] != m.Z[b] || m.Z[b] != m.Z[c] {
		return false
	}
	for _, p := range on[a] {
		if slices.Contains(on[b], p) && slices.Contains(on[c], p) {
			return true
		}
	}
	return false
}

// turnable reports whether edge e is free and its quadrilateral strictly convex.
func turnable(m *mesh.Mesh, e int32) bool {
	o := m.Twin[e]
	if o < 0 || m.Flag[e]&^mesh.Tie != 0 {
		return false
	}
	a, b, c, q := m.V[e], m.V[mesh.Next(e)], m.V[mesh.Prev(e)], m.V[mesh.Prev(o)]
	return meshOrient(m, c, a, q) > 0 && meshOrient(m, q, b, c) > 0
}

// turnHelps reports whether neither triangle after turning e is level.
func turnHelps(m *mesh.Mesh, on [][]int32, e int32) bool {
	a, b, c, q := m.V[e], m.V[mesh.Next(e)], m.V[mesh.Prev(e)], m.V[mesh.Prev(m.Twin[e])]
	return !spannedBy(m, on, c, a, q) && !spannedBy(m, on, q, b, c)
}

func meshOrient(m *mesh.Mesh, a, b, c int32) int {
	return geometry.Orient(m.X[a], m.Y[a], m.X[b], m.Y[b], m.X[c], m.Y[c])
}

// turn replaces edge e = a-b of triangles a,b,c and b,a,q by q-c: they become q,b,c and c,a,q.
func turn(m *mesh.Mesh, e int32) {
	o := m.Twin[e]
	ep, op := mesh.Prev(e), mesh.Prev(o)
	c, q := m.V[ep], m.V[op]
	m.V[e], m.V[o] = q, c
	move := func(to, from int32) {
		m.Twin[to], m.Flag[to] = m.Twin[from], m.Flag[from]
		if t := m.Twin[to]; t >= 0 {
			m.Twin[t] = to
		}
	}
	move(e, op)
	move(o, ep)
	m.Twin[ep], m.Twin[op] = op, ep
	m.Flag[ep], m.Flag[op] = 0, 0
}
