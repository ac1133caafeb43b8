package settle

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"runnel/analysis/fault"
	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
)

// maxRounds bounds how often crossings that rounding made are mended.
const maxRounds = 30

// triangulate returns the mesh of the roof, in its pose: inside the outline and in no curb. nodes is the draft's node of
// every vertex and net twice the plan area that the mesh must have.
func (d *draft) triangulate() (m *mesh.Mesh, nodes []int32, net int64, err error) {
	whole, number, err := d.mesh(true)
	if err != nil {
		return nil, nil, 0, err
	}
	inside, keep := d.inside(whole)
	net = d.twiceRing(d.chains[0].node)
	if net < 0 {
		net = -net
	}
	kept := false
	for f, in := range inside {
		kept = kept || keep[f]
		if in && !keep[f] {
			net -= geometry.TwiceArea(whole.X, whole.Y, whole.V[3*f], whole.V[3*f+1], whole.V[3*f+2])
		}
	}
	if !kept {
		d.refuse(d.chains[0].source, d.point(d.chains[0].node[0]), "curbs cover the whole roof", "leave curbs out or mend them")
		return nil, nil, 0, d.refusal.Err()
	}
	part, old := whole.Extract(keep)
	nodes = make([]int32, len(old))
	for i, o := range old {
		nodes[i] = number[o]
	}
	return part, nodes, net, nil
}

// mesh triangulates all nodes with an elevation and the chains, with or without the curbs; lines that rounding made cross are
// given a common node. The mesh lies in the pose of the roof, so that no choice hangs on how that is turned. number is the draft's node of every vertex.
func (d *draft) mesh(curbs bool) (m *mesh.Mesh, number []int32, err error) {
	for range maxRounds {
		vertex, nodes := d.numbering(curbs)
		spans := d.segments(curbs)
		ends := func(s span) (a, b int32) { return min(vertex[s.a], vertex[s.b]), max(vertex[s.a], vertex[s.b]) }
		slices.SortStableFunc(spans, func(s, t span) int { // not as lines were written down
			a, b := ends(s)
			u, v := ends(t)
			return cmp.Or(cmp.Compare(a, u), cmp.Compare(b, v))
		})
		segs := make([]mesh.Segment, len(spans))
		for i, s := range spans {
			a, b := ends(s)
			segs[i] = mesh.Segment{A: a, B: b, Flag: uint8(d.flagOf(s))}
		}
		x, y := d.pose.All(mesh.Pick(d.x, nodes), mesh.Pick(d.y, nodes))
		m, crossed, err := mesh.TriangulateUntil(d.line, x, y, mesh.Pick(d.z, nodes), segs)
		if err != nil {
			return nil, nil, fmt.Errorf("%w", fault.New("surface", "%v", err))
		}
		if len(crossed) == 0 {
			return m, nodes, nil
		}
		for _, c := range crossed {
			d.uncross(spans, c.Segment, nodes[c.A], nodes[c.B])
		}
		d.applySplits()
	}
	return nil, nil, fault.New("surface", "lines still cross after %d rounds", maxRounds)
}

// unpose gives a mesh in the pose of the roof the places of its nodes.
func (d *draft) unpose(m *mesh.Mesh, nodes []int32) {
	m.X, m.Y = mesh.Pick(d.x, nodes), mesh.Pick(d.y, nodes)
	if d.pose.Mirrors() {
		m.Mirror()
	}
}

// numbering gives the nodes their vertices, along a curve through the roof as it lies in its pose: so that no choice among them hangs on the order
// in which they were made. It leaves out nodes without an elevation, and without curbs those that only curbs have.
func (d *draft) numbering(curbs bool) (vertex, nodes []int32) {
	vertex, nodes = make([]int32, len(d.x)), make([]int32, 0, len(d.x))
	used := map[int32]bool{}
	if !curbs {
		for _, s := range d.segments(false) {
			used[s.a], used[s.b] = true, true
		}
	}
	for n := range d.x {
		vertex[n] = -1
		alone := !curbs && isCurbRole(d.what[n].role) && d.spot[n] < 0 && !used[int32(n)]
		if d.how[n] != unknown && !alone {
			nodes = append(nodes, int32(n))
		}
	}
	order := mesh.Order(d.pose.All(mesh.Pick(d.x, nodes), mesh.Pick(d.y, nodes)))
	nodes = mesh.Pick(nodes, order)
	for v, n := range nodes {
		vertex[n] = int32(v)
	}
	return vertex, nodes
}

func (d *draft) segments(curbs bool) []span {
	if curbs {
		return d.spans(0, len(d.chains))
	}
	return append(d.spans(0, d.outline), d.spans(d.curbs, len(d.chains))...)
}

// flagOf returns what an edge along a piece is.
func (d *draft) flagOf(s span) EdgeFlag {
	switch d.chains[s.chain].role {
	case isOutline:
		if d.pieceType(s.a, s.b).open {
			return OutlineEdge | OpenEdge
		}
		return OutlineEdge | WallEdge
	case isHole, isCurb:
		return CurbEdge
	case isFold:
		return FoldEdge
	case isBreakline, isEdge, isSpot, isOutlet:
	}
	return BreaklineEdge
}

// uncross gives piece i and the pieces along the edge a-b a common node.
func (d *draft) uncross(spans []span, i int, a, b int32) {
	s := spans[i]
	t := d.part(a, b, s.a, s.b)
	x := int32(math.Round(float64(d.x[s.a]) + float64(t*float64(d.x[s.b]-d.x[s.a]))))
	y := int32(math.Round(float64(d.y[s.a]) + float64(t*float64(d.y[s.b]-d.y[s.a]))))
	n := d.exactly(x, y)
	if n < 0 {
		u := d.part(s.a, s.b, a, b)
		z := (d.mix(s.a, s.b, t) + d.mix(a, b, u)) / 2
		n = d.add(x, y, d.chains[s.chain].source)
		d.z[n], d.how[n] = int32(math.Round(z)), drawn
	}
	d.splitAt(s, t, n)
	for _, o := range spans {
		if o.a == a && o.b == b || o.a == b && o.b == a || d.covers(o, a) && d.covers(o, b) {
			for _, v := range []int32{a, n, b} {
				d.splitAt(o, d.along1(o, v), v)
			}
		}
	}
}

// exactly returns the node at (x, y), or -1.
func (d *draft) exactly(x, y int32) int32 {
	if n := d.at(x, y); n >= 0 && d.x[n] == x && d.y[n] == y {
		return n
	}
	return -1
}

// mix returns the elevation t of the way from a to b.
func (d *draft) mix(a, b int32, t float64) float64 {
	return float64(d.z[a]) + float64(t*(float64(d.z[b])-float64(d.z[a])))
}

// covers reports whether node n lies exactly on a piece.
func (d *draft) covers(s span, n int32) bool {
	if n == s.a || n == s.b {
		return true
	}
	t := d.along1(s, n)
	return d.orient(s.a, s.b, n) == 0 && t > 0 && t < 1
}

// along1 returns where on a piece the foot of node n lies, from 0 to 1.
func (d *draft) along1(s span, n int32) float64 {
	dx, dy := float64(d.x[s.b]-d.x[s.a]), float64(d.y[s.b]-d.y[s.a])
	return (float64(dx*float64(d.x[n]-d.x[s.a])) + float64(dy*float64(d.y[n]-d.y[s.a]))) / (float64(dx*dx) + float64(dy*dy))
}

// inside returns the triangles inside the outline, and those of them that no curb covers. Lines are edges of the mesh, so
// one triangle's middle decides for each region between them.
func (d *draft) inside(m *mesh.Mesh) (inside, keep []bool) {
	region, n := mesh.Regions(m.Twin, m.Flag, uint8(OutlineEdge|CurbEdge))
	in, free, seen := make([]bool, n), make([]bool, n), make([]bool, n)
	outer, curbs := d.newRingTest(d.chains[0].node), d.newCurbTest()
	inside, keep = make([]bool, len(region)), make([]bool, len(region))
	for f, r := range region {
		if !seen[r] {
			seen[r] = true
			x, y := d.thriceMiddle(m, int32(f))
			in[r] = outer.holdsThird(x, y)
			free[r] = in[r] && !curbs.holdsThird(x, y)
		}
		inside[f], keep[f] = in[r], free[r]
	}
	return inside, keep
}

// thriceMiddle returns three times the centroid of a triangle, exactly.
func (d *draft) thriceMiddle(m *mesh.Mesh, f int32) (x, y int64) {
	for _, v := range m.V[3*f : 3*f+3] {
		cx, cy := d.pose.Back(m.X[v], m.Y[v])
		x, y = x+int64(cx), y+int64(cy)
	}
	return x, y
}
