package mesh

import "runnel/analysis/geometry"

// insert adds point p: it walks to a triangle whose circumcircle holds p, removes all such triangles (the
// cavity) and joins the cavity's rim to p (Bowyer, Watson, The Computer Journal 24(2), 1981; from memory). With exact
// predicates the rim is always seen from p, ties included.
func (b *builder) insert(p int32) {
	t := b.locate(p)
	tri := &b.tris[t]
	b.stack = append(b.stack[:0], tri.twin[2], tri.twin[1], tri.twin[0])
	free := t // slot of a removed triangle that may be used again
	first, prev := int32(-1), int32(-1)
	spares := b.spare[:0]
	for len(b.stack) > 0 {
		o := b.stack[len(b.stack)-1]
		b.stack = b.stack[:len(b.stack)-1]
		n := &b.tris[o>>2]
		if b.conflict(n, p) {
			b.stack = append(b.stack, n.twin[before(o)&3], n.twin[after(o)&3])
			spares = append(spares, o>>2)
			continue
		}
		s := free
		switch {
		case free >= 0:
			free = -1
		case len(spares) > 0:
			s = spares[len(spares)-1]
			spares = spares[:len(spares)-1]
		default:
			s = int32(len(b.tris))
			b.tris = b.tris[:s+1]
		}
		// o runs from v to u outside; the new triangle is u, v, p.
		made := &b.tris[s]
		made.v[0], made.v[1], made.v[2] = n.v[after(o)&3], n.v[o&3], p
		made.twin[0], made.twin[2] = o, prev<<2|1
		n.twin[o&3] = s << 2
		if prev < 0 {
			first = s
		} else {
			b.tris[prev].twin[1] = s<<2 | 2
		}
		prev = s
	}
	b.spare = spares
	b.tris[prev].twin[1] = first<<2 | 2
	b.tris[first].twin[2] = prev<<2 | 1
	b.last = prev
}

// locate walks from the last triangle to one that holds p, or to the ghost of a hull edge that p lies beyond.
func (b *builder) locate(p int32) int32 {
	t := b.last
	at := b.at[p]
	came := int32(-1)
	for {
		tri := &b.tris[t]
		g := -1
		for i, v := range tri.v {
			if v == b.ghost {
				g = i
			}
		}
		if g >= 0 {
			if b.conflict(tri, p) {
				return t
			}
			t = tri.twin[(g+1)%3] >> 2 // over the hull edge, back inside
			came = tri.twin[(g+1)%3]
			continue
		}
		moved := false
		for i := range 3 {
			e := t<<2 | int32(i)
			if e == came {
				continue
			}
			u, v := b.at[tri.v[i]], b.at[tri.v[(i+1)%3]]
			if geometry.Orient(u.x, u.y, v.x, v.y, at.x, at.y) < 0 {
				came = tri.twin[i]
				t = came >> 2
				moved = true
				break
			}
		}
		if !moved {
			return t
		}
	}
}

// conflict reports whether p lies strictly inside the circumcircle of t; for a ghost, strictly beyond its hull
// edge or inside that edge.
func (b *builder) conflict(t *triangle, p int32) bool {
	u, v, w := t.v[0], t.v[1], t.v[2]
	g := b.ghost
	switch g {
	case w:
	case u:
		u, v = v, w
	case v:
		u, v = w, u
	default:
		a, c, d, q := b.at[u], b.at[v], b.at[w], b.at[p]
		side := geometry.InCircle(a.x, a.y, c.x, c.y, d.x, d.y, q.x, q.y)
		b.tied = b.tied || side == 0
		return side > 0
	}
	a, c, q := b.at[u], b.at[v], b.at[p]
	switch geometry.Orient(a.x, a.y, c.x, c.y, q.x, q.y) {
	case 1:
		return true
	case 0:
		return between(a, c, q)
	}
	return false
}

// between reports whether q, on the line of a and c, lies strictly between them.
func between(a, c, q point) bool {
	if a.x != c.x {
		return (a.x < q.x) == (q.x < c.x) && q.x != c.x && q.x != a.x
	}
	return (a.y < q.y) == (q.y < c.y) && q.y != c.y && q.y != a.y
}
