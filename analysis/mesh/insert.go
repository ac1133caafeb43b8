package mesh

import (
	"math"

	"runnel/analysis/geometry"
)

// brink is an edge of the cavity that waits: the half-edge outside, the ways from the point that is inserted to its ends u and v,
// counter-clockwise round the point, the squares of their lengths, and their cross product.
type brink struct {
	out                        int32
	ux, uy, ul, vx, vy, vl, uv float64
}

// What the in-circle determinant in float64 tells. Ways are exact, so its error is below 10 units in the last place, 2^-53, of the
// sum of the magnitudes of all products (Shewchuk, "Adaptive precision floating-point arithmetic", Discrete and Computational
// Geometry 18, 1997; from memory), which is at most a third of the square of the sum of the three squared lengths.
const (
	surely = 1.0 / (1 << 50) // share of that square that the determinant must pass for its sign to be right
	exact  = 1 << 53         // below this sum lengths and products are exact, and a determinant that does not pass fits 64 bits
)

// insert adds point p: it walks to a triangle whose circumcircle holds p, removes all such triangles (the
// cavity) and joins the cavity's rim to p (Bowyer, Watson, The Computer Journal 24(2), 1981; from memory). With exact
// predicates the rim is always seen from p, ties included. A tie is marked when it is made: the two triangles of an edge are
// either made at different times, and the later one's point is tried against the earlier one, or at once, and then
// their circles differ, since nothing on one circle with p is removed.
func (b *builder) insert(p int32) { //nolint:funlen // what one edge hands to the next stays in registers
	t := b.locate(p)
	at := b.at[p]
	waiting := b.open(t, at)
	free := t // slot of a removed triangle that may be used again
	first, prev := int32(-1), int32(-1)
	spares := b.spare[:0]
	for waiting > 0 {
		waiting--
		q := &b.brinks[waiting]
		o, ux, uy, ul, vx, vy, vl, uv := q.out, q.ux, q.uy, q.ul, q.vx, q.vy, q.vl, q.uv
		var tie uint8
		for {
			n := &b.tris[o>>2]
			wx, wy, wl := b.arm(n.v[before(o)&3], at)
			uw, wv := ux*wy-uy*wx, wx*vy-wy*vx
			det, all := vl*uw+ul*wv-wl*uv, ul+vl+wl
			if sure := surely * all * all; !(det > sure) { // else p is inside
				if det < -sure {
					break
				}
				side := int64(vl)*int64(uw) + int64(ul)*int64(wv) - int64(wl)*int64(uv)
				if !(all < exact) { // ghosts too: not a number
					side = int64(b.conflict(n, p))
				}
				if side == 0 {
					tie, b.tied = Tie, true
				}
				if side <= 0 {
					break
				}
			}
			if waiting == len(b.brinks) {
				b.brinks = append(b.brinks, brink{})
			}
			q := &b.brinks[waiting]
			q.out, q.ux, q.uy, q.ul, q.vx, q.vy, q.vl, q.uv = n.twin[before(o)&3], wx, wy, wl, vx, vy, vl, wv
			waiting++
			spares = append(spares, o>>2)
			o, vx, vy, vl, uv = n.twin[after(o)&3], wx, wy, wl, uw
		}
		s := free
		switch k := len(spares) - 1; {
		case free >= 0:
			free, first = -1, s
		case k >= 0:
			s, spares = spares[k], spares[:k]
		default:
			s = int32(len(b.tris))
			b.tris = b.tris[:s+1]
		}
		b.join(s, o, prev, p, tie)
		prev = s
	}
	b.spare = spares
	b.tris[prev].twin[1] = first<<2 | 2
	b.tris[first].twin[2] = prev<<2 | 1
	b.last = prev
}

// open starts the cavity with triangle t, whose three edges wait then, and returns how many they are.
func (b *builder) open(t int32, at point) int {
	tri := &b.tris[t]
	x0, y0, l0 := b.arm(tri.v[0], at)
	x1, y1, l1 := b.arm(tri.v[1], at)
	x2, y2, l2 := b.arm(tri.v[2], at)
	b.brinks[0] = brink{tri.twin[2], x2, y2, l2, x0, y0, l0, x2*y0 - y2*x0}
	b.brinks[1] = brink{tri.twin[1], x1, y1, l1, x2, y2, l2, x1*y2 - y1*x2}
	b.brinks[2] = brink{tri.twin[0], x0, y0, l0, x1, y1, l1, x0*y1 - y0*x1}
	return 3
}

// join makes triangle s of p and the edge of the rim that is o outside, and links it to the one made before.
func (b *builder) join(s, o, prev, p int32, tie uint8) {
	n := &b.tris[o>>2]
	made := &b.tris[s]
	made.v[0], made.v[1], made.v[2] = n.v[after(o)&3], n.v[o&3], p // o runs from v to u outside
	made.flag = [4]uint8{tie}
	made.twin[0], made.twin[2] = o, prev<<2|1
	n.twin[o&3], n.flag[o&3] = s<<2, tie
	if prev >= 0 {
		b.tris[prev].twin[1] = s<<2 | 2
	}
}

// arm returns vertex v as it is seen from a point: the way there and the square of its length. A ghost's is not a number.
func (b *builder) arm(v int32, from point) (x, y, lift float64) {
	if v == b.ghost {
		return math.NaN(), math.NaN(), math.NaN()
	}
	to := b.at[v]
	x, y = float64(to.x-from.x), float64(to.y-from.y)
	return x, y, x*x + y*y
}

// locate walks from the last triangle to one that holds p, or to the ghost of a hull edge that p lies beyond.
func (b *builder) locate(p int32) int32 {
	t := b.last
	at := b.at[p]
	for {
		tri := &b.tris[t]
		u, v, w := tri.v[0], tri.v[1], tri.v[2]
		if u == b.ghost || v == b.ghost || w == b.ghost {
			if b.conflict(tri, p) > 0 {
				return t
			}
			switch b.ghost { // over the hull edge, back inside
			case u:
				t = tri.twin[1] >> 2
			case v:
				t = tri.twin[2] >> 2
			default:
				t = tri.twin[0] >> 2
			}
			continue
		}
		a, c, d := b.at[u], b.at[v], b.at[w]
		ax, ay := int64(a.x-at.x), int64(a.y-at.y)
		cx, cy := int64(c.x-at.x), int64(c.y-at.y)
		dx, dy := int64(d.x-at.x), int64(d.y-at.y)
		switch { // p lies right of an edge: over it
		case ax*cy < ay*cx:
			t = tri.twin[0] >> 2
		case cx*dy < cy*dx:
			t = tri.twin[1] >> 2
		case dx*ay < dy*ax:
			t = tri.twin[2] >> 2
		default:
			return t
		}
	}
}

// conflict returns +1 when p lies strictly inside the circumcircle of t, 0 when on it and -1 outside; for a ghost +1 when
// strictly beyond its hull edge or inside that edge, else -1.
func (b *builder) conflict(t *triangle, p int32) int {
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
		return geometry.InCircle(a.x, a.y, c.x, c.y, d.x, d.y, q.x, q.y)
	}
	a, c, q := b.at[u], b.at[v], b.at[p]
	if side := geometry.Orient(a.x, a.y, c.x, c.y, q.x, q.y); side > 0 || side == 0 && between(a, c, q) {
		return 1
	}
	return -1
}

// between reports whether q, on the line of a and c, lies strictly between them.
func between(a, c, q point) bool {
	if a.x != c.x {
		return (a.x < q.x) == (q.x < c.x) && q.x != c.x && q.x != a.x
	}
	return (a.y < q.y) == (q.y < c.y) && q.y != c.y && q.y != a.y
}
