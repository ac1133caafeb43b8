package mesh

import (
	"slices"

	"runnel/analysis/geometry"
)

// maxCircle bounds the number of cocircular points whose diagonals are chosen all at once. More than
// that on an integer grid does not happen by survey; then the first triangulation found stands.
const maxCircle = 256

// circle returns the in-circle sign of the vertex beyond e; -1 beside a ghost.
func (b *builder) circle(e int32) int {
	t := &b.tris[e>>2]
	w := b.origin(before(b.twin(e)))
	if t.v[0] == b.ghost || t.v[1] == b.ghost || t.v[2] == b.ghost || w == b.ghost {
		return -1
	}
	p, q, r, s := b.at[t.v[0]], b.at[t.v[1]], b.at[t.v[2]], b.at[w]
	return geometry.InCircle(p.x, p.y, q.x, q.y, r.x, r.y, s.x, s.y)
}

// settleTies gives every set of cocircular points its canonical diagonals and marks their edges as Tie.
//
// Of all diagonals of the set that with the smallest key is taken, then the next that crosses none taken, and so on. The
// key is the difference of elevation of the two ends, then their sum (of the two diagonals of a saddle, the
// lower pair), then the lower left end, then the other end: so water neither climbs nor is dammed by a diagonal where
// there is a choice, and the last keys only make the choice unique.
//
// Ties are marked when they are made (insert), and anew where segments flipped edges.
func (b *builder) settleTies() {
	b.markFlipped()
	if !b.tied {
		return
	}
	seen := make([]bool, len(b.tris))
	var rim, inner []int32
	for t := range b.tris {
		b.line.Look()
		if b.tris[t].flag == [4]uint8{} {
			continue
		}
		e := b.onlyTie(int32(t))
		if e < 0 || seen[t] {
			continue
		}
		if e&3 != 3 {
			if o := b.twin(e); b.onlyTie(o>>2) == o {
				seen[o>>2] = true
				b.settleFour(e)
				continue
			}
		}
		rim, inner = b.cluster(int32(t), seen, rim[:0], inner[:0])
		if len(rim) <= maxCircle {
			b.settleMany(rim, inner)
		}
	}
}

// markFlipped finds out anew which edges of flipped triangles are ties.
func (b *builder) markFlipped() {
	for _, t := range b.flipped {
		for c := range int32(3) {
			e := t<<2 | c
			b.unmark(e, Tie)
			if b.flag(e) == 0 && b.circle(e) == 0 {
				b.mark(e, Tie)
				b.tied = true
			}
		}
	}
	b.flipped = nil
}

// onlyTie returns the half-edge of t that is a tie, -1 when there is none, and one with corner 3 when
// there are several.
func (b *builder) onlyTie(t int32) int32 {
	e := int32(-1)
	for c, f := range b.tris[t].flag[:3] {
		switch {
		case f&Tie == 0:
		case e < 0:
			e = t<<2 | int32(c)
		default:
			e = t<<2 | 3
		}
	}
	return e
}

// cluster gathers the triangles joined to t by ties: their rim, counter-clockwise, and one half-edge of
// each tie.
func (b *builder) cluster(t int32, seen []bool, rim, inner []int32) (rimOut, innerOut []int32) {
	seen[t] = true
	stack := b.stack[:0]
	stack = append(stack, t<<2|2, t<<2|1, t<<2)
	for len(stack) > 0 {
		e := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if b.flag(e)&Tie == 0 {
			rim = append(rim, e)
			continue
		}
		o := b.twin(e)
		if seen[o>>2] {
			continue
		}
		seen[o>>2] = true
		inner = append(inner, e)
		stack = append(stack, before(o), after(o))
	}
	b.stack = stack
	return rim, inner
}

// settleFour flips the tie e of two triangles when the other diagonal has the smaller key.
func (b *builder) settleFour(e int32) {
	if o := b.twin(e); b.compare(b.origin(before(e)), b.origin(before(o)), b.origin(e), b.origin(o)) < 0 {
		b.mark(b.flip(e), Tie)
	}
}

func (b *builder) compare(p, q, u, v int32) int {
	zp, zq, zu, zv := b.elevation(p), b.elevation(q), b.elevation(u), b.elevation(v)
	if d := max(zp-zq, zq-zp) - max(zu-zv, zv-zu); d != 0 {
		return int(d)
	}
	if d := zp + zq - zu - zv; d != 0 {
		return int(d)
	}
	p, q = b.lowerLeft(p, q)
	u, v = b.lowerLeft(u, v)
	if d := b.leftOf(p, u); d != 0 {
		return d
	}
	return b.leftOf(q, v)
}

func (b *builder) elevation(v int32) int64 { return int64(b.z[b.order[v]]) }

func (b *builder) lowerLeft(p, q int32) (first, second int32) {
	if b.leftOf(q, p) < 0 {
		return q, p
	}
	return p, q
}

// leftOf compares by x, then y.
func (b *builder) leftOf(p, q int32) int {
	u, v := b.at[p], b.at[q]
	if u.x != v.x {
		return cmp32(u.x, v.x)
	}
	return cmp32(u.y, v.y)
}

// settleMany triangulates the polygon with the given rim anew, in the slots of its triangles.
func (b *builder) settleMany(rim, inner []int32) {
	k := len(rim)
	corner := make([]int32, k)
	sides := make([]side, k)
	slots := []int32{b.twin(inner[0]) >> 2}
	for i, e := range rim {
		corner[i] = b.origin(e)
		sides[i] = b.half(e)
	}
	for _, e := range inner {
		slots = append(slots, e>>2, b.twin(e)>>2)
	}
	slices.Sort(slots)
	slots = slices.Compact(slots)
	taken := b.chooseDiagonals(corner)
	b.fillPolygon(corner, sides, taken, slots)
}

// chooseDiagonals returns the taken diagonals as a table: taken[i*k+j] for corners i < j.
func (b *builder) chooseDiagonals(corner []int32) []bool {
	k := len(corner)
	type diagonal struct{ i, j int }
	var all []diagonal
	for i := range k {
		for j := i + 2; j < k; j++ {
			if i > 0 || j < k-1 {
				all = append(all, diagonal{i, j})
			}
		}
	}
	slices.SortFunc(all, func(a, c diagonal) int {
		return b.compare(corner[a.i], corner[a.j], corner[c.i], corner[c.j])
	})
	taken := make([]bool, k*k)
	var kept []diagonal
	for _, d := range all {
		crosses := slices.ContainsFunc(kept, func(o diagonal) bool {
			return (d.i < o.i && o.i < d.j && d.j < o.j) || (o.i < d.i && d.i < o.j && o.j < d.j)
		})
		if !crosses {
			kept = append(kept, d)
			taken[d.i*k+d.j] = true
		}
	}
	return taken
}

// fillPolygon writes the triangles of the polygon that the taken diagonals cut, one slot each.
func (b *builder) fillPolygon(corner []int32, sides []side, taken []bool, slots []int32) {
	k := len(corner)
	joined := func(i, j int) bool { return j == i+1 || (i == 0 && j == k-1) || taken[i*k+j] }
	open := make([]int32, k*k) // half-edge waiting for its twin on diagonal i-j; 0 none, else half-edge + 1
	attach := func(e int32, i, j int) {
		if j == (i+1)%k {
			b.put(e, sides[i])
			return
		}
		key := min(i, j)*k + max(i, j)
		if open[key] == 0 {
			open[key] = e + 1
			return
		}
		b.link(e, open[key]-1)
		b.mark(e, Tie)
	}
	n := 0
	for i := range k {
		for j := i + 1; j < k; j++ {
			if !joined(i, j) {
				continue
			}
			for l := j + 1; l < k; l++ {
				if !joined(j, l) || !joined(i, l) {
					continue
				}
				s := slots[n]
				n++
				b.tris[s] = triangle{v: [4]int32{corner[i], corner[j], corner[l]}}
				attach(s<<2, i, j)
				attach(s<<2|1, j, l)
				attach(s<<2|2, l, i)
			}
		}
	}
}
