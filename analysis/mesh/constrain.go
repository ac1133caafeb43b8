package mesh

// constrain forces the segments into the triangulation, in order, and returns those that cross an
// earlier one.
func (b *builder) constrain(segments []Segment) []Crossing {
	if len(segments) == 0 {
		return nil
	}
	b.indexOut()
	b.rank = make([]int32, len(b.order))
	for r, i := range b.order {
		b.rank[i] = int32(r)
	}
	var crossings []Crossing
	for i, s := range segments {
		b.line.Look()
		from, to := b.rank[s.A], b.rank[s.B]
		for from != to {
			next, u, v := b.advance(from, to, s.Flag)
			if next < 0 {
				crossings = append(crossings, Crossing{Segment: i, A: b.order[u], B: b.order[v]})
				break
			}
			from = next
		}
	}
	return crossings
}

// indexOut notes for every vertex a half-edge that starts there.
func (b *builder) indexOut() {
	b.out = make([]int32, len(b.at)+1)
	for t := range b.tris {
		for c, v := range b.tris[t].v[:3] {
			b.out[v] = int32(t)<<2 | int32(c)
		}
	}
}

// advance carries the segment from one vertex to the next vertex on it and returns that vertex. When a
// constrained edge lies across, it returns -1 and the edge's ends.
func (b *builder) advance(from, to int32, flag uint8) (next, u, v int32) {
	e, direct := b.firstCrossed(from, to)
	if direct {
		b.unmark(e, Tie)
		b.mark(e, flag)
		return b.origin(after(e)), 0, 0
	}
	crossed := b.stack[:0]
	for {
		if b.flag(e)&^Tie != 0 {
			return -1, b.origin(e), b.origin(after(e))
		}
		crossed = append(crossed, e)
		o := b.twin(e)
		apex := b.origin(before(o))
		side := b.orient(from, to, apex)
		if side == 0 {
			b.stack = crossed
			b.flipAway(crossed, from, apex)
			e = b.edge(from, apex)
			b.unmark(e, Tie)
			b.mark(e, flag)
			return apex, 0, 0
		}
		// e runs from right to left of the segment; go on over the side that it leaves by.
		if side > 0 {
			e = after(o)
		} else {
			e = before(o)
		}
	}
}

// firstCrossed turns round vertex from to the edge on which the segment starts (direct), or to the edge
// opposite from that it crosses first, seen from from's triangle.
func (b *builder) firstCrossed(from, to int32) (e int32, direct bool) {
	e = b.out[from]
	for {
		if p, q := b.origin(after(e)), b.origin(before(e)); p != b.ghost {
			side := b.orient(from, to, p)
			if side == 0 && b.ahead(from, to, p) {
				return e, true
			}
			if side < 0 && q != b.ghost && b.orient(from, to, q) > 0 {
				return after(e), false
			}
		}
		e = b.twin(before(e))
	}
}

// ahead reports whether p, on the line from a to c, lies on c's side of a.
func (b *builder) ahead(a, c, p int32) bool {
	u, v, w := b.at[a], b.at[c], b.at[p]
	if u.x != v.x {
		return (v.x > u.x) == (w.x > u.x) && w.x != u.x
	}
	return (v.y > u.y) == (w.y > u.y) && w.y != u.y
}

// edge returns the half-edge from u to v, which must exist.
func (b *builder) edge(u, v int32) int32 {
	e := b.out[u]
	for b.origin(after(e)) != v {
		e = b.twin(before(e))
	}
	return e
}

// mark puts a flag on both halves of an edge.
func (b *builder) mark(e int32, flag uint8) {
	o := b.twin(e)
	b.tris[e>>2].flag[e&3] |= flag
	b.tris[o>>2].flag[o&3] |= flag
}

// unmark takes a flag off both halves of an edge.
func (b *builder) unmark(e int32, flag uint8) {
	o := b.twin(e)
	b.tris[e>>2].flag[e&3] &^= flag
	b.tris[o>>2].flag[o&3] &^= flag
}

// flip replaces the diagonal e of its two triangles by the other one and returns its half-edge.
func (b *builder) flip(e int32) int32 {
	o := b.twin(e)
	s, t := e>>2, o>>2
	u, v := b.origin(e), b.origin(o)
	p, q := b.origin(before(e)), b.origin(before(o))
	vp, pu, uq, qv := b.half(after(e)), b.half(before(e)), b.half(after(o)), b.half(before(o))
	b.tris[s] = triangle{v: [4]int32{q, v, p}}
	b.tris[t] = triangle{v: [4]int32{p, u, q}}
	b.put(s<<2, qv)
	b.put(s<<2|1, vp)
	b.put(t<<2, pu)
	b.put(t<<2|1, uq)
	b.link(s<<2|2, t<<2|2)
	if b.out != nil {
		b.out[u], b.out[v], b.out[p], b.out[q] = t<<2|1, s<<2|1, t<<2, s<<2
		b.flipped = append(b.flipped, s, t)
	}
	return s<<2 | 2
}

// side is a half-edge's neighbour and flag, to carry it to another triangle.
type side struct {
	twin int32
	flag uint8
}

func (b *builder) half(e int32) side { return side{b.twin(e), b.flag(e)} }

func (b *builder) put(e int32, s side) {
	b.link(e, s.twin)
	b.tris[e>>2].flag[e&3] = s.flag
}

// ends is an edge by its vertices; half-edge numbers do not outlive a flip.
type ends struct{ a, b int32 }

// flipAway flips the edges that cross the line from u to v until none does, then restores the Delaunay
// property of the edges it made.
func (b *builder) flipAway(crossed []int32, u, v int32) {
	queue := make([]ends, len(crossed))
	for i, e := range crossed {
		queue[i] = ends{b.origin(e), b.origin(after(e))}
	}
	var made []ends
	for len(queue) > 0 {
		k := queue[0]
		queue = queue[1:]
		e := b.edge(k.a, k.b)
		if !b.convex(e) {
			queue = append(queue, k)
			continue
		}
		e = b.flip(e)
		now := ends{b.origin(e), b.origin(after(e))}
		switch {
		case b.crosses(now, u, v):
			queue = append(queue, now)
		case now != ends{u, v} && now != ends{v, u}:
			made = append(made, now)
		}
	}
	b.legalise(made)
}

// crosses reports whether an edge passes from one side of the line u-v to the other, between u and v.
func (b *builder) crosses(k ends, u, v int32) bool {
	if k.a == u || k.a == v || k.b == u || k.b == v {
		return false
	}
	return b.orient(u, v, k.a)*b.orient(u, v, k.b) < 0
}

// legalise flips the given edges until each is locally Delaunay.
func (b *builder) legalise(edges []ends) {
	for changed := true; changed; {
		changed = false
		for i, k := range edges {
			e := b.edge(k.a, k.b)
			if b.flag(e)&^Tie != 0 || b.circle(e) <= 0 {
				continue
			}
			e = b.flip(e)
			edges[i] = ends{b.origin(e), b.origin(after(e))}
			changed = true
		}
	}
}

// convex reports whether the two triangles of e form a strictly convex quadrilateral.
func (b *builder) convex(e int32) bool {
	o := b.twin(e)
	u, v := b.origin(e), b.origin(o)
	p, q := b.origin(before(e)), b.origin(before(o))
	return b.orient(q, v, p) > 0 && b.orient(p, u, q) > 0
}
