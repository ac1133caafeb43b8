package ponding

import (
	"sort"

	"runnel/analysis/surface"
)

// Table is the stage-volume curves of all depressions, made once for many looks: area is a polynomial of
// degree two in the level between neighbouring elevations of corners, volume its integral. Node k holds
// what is between its Base and its Level; looks cost the logarithm of the number of corners there.
//
// With facet corners a <= b <= c and plan area S, the wet area of a facet is
//
//	p (L-a)^2 [L > a] - (p+q) (L-b)^2 [L > b] + q (L-c)^2 [L > c],  p = S/((b-a)(c-a)), q = S/((c-a)(c-b))
//
// so that a corner changes only the leading coefficient, unless two corners stand at one elevation. The
// leading coefficients are summed in twice the precision, where they cancel exactly.
type Table struct {
	first  []int32 // per node, and one past the last: into the others
	knot   []float64
	p      [][3]float64 // area above a knot: p[0] + p[1] x + p[2] x^2, x = level - knot
	volume []float64    // of the depression up to a knot
}

// Table returns the curves of all nodes of the tree.
func (ps *Ponds) Table() *Table {
	n := len(ps.Tree)
	t := &Table{first: make([]int32, n+1)}
	first, own := ps.ownVertices()
	full := make([]running, n) // per node, at its Level; children are used up by their parent
	for k := range ps.Tree {
		node := &ps.Tree[k]
		r := running{at: node.Base}
		if node.Left >= 0 {
			r = joined(&full[node.Left], &full[node.Right])
		}
		t.first[k] = int32(len(t.knot))
		for _, v := range own[first[k]:first[k+1]] {
			if z := ps.z[v]; z > r.at {
				t.add(&r)
				r.rise(z)
			}
			for _, e := range ps.star.of(v) {
				r.corner(newTent(ps.t, ps.z, e/3), ps.role(e))
			}
		}
		if node.Level > r.at {
			t.add(&r)
			r.rise(node.Level)
		}
		full[k] = r
		r.p1, r.p2, r.low = 0, 0, 0
		t.add(&r)
	}
	t.first[n] = int32(len(t.knot))
	return t
}

// ownVertices lists the vertices of each node's own part, ascending in elevation: those of node k stand in
// own[first[k]:first[k+1]].
func (ps *Ponds) ownVertices() (first, own []int32) {
	first = make([]int32, len(ps.Tree)+2)
	for _, k := range ps.nodeOf {
		if k != none {
			first[k+2]++
		}
	}
	for k := 2; k < len(first); k++ {
		first[k] += first[k-1]
	}
	own = make([]int32, first[len(first)-1])
	for _, v := range byElevation(ps.z) {
		if k := ps.nodeOf[v]; k != none {
			own[first[k+1]] = v
			first[k+1]++
		}
	}
	return first[:len(ps.Tree)+1], own
}

// role returns which corner of its facet the origin of half-edge e is: 0 lowest, 1 middle, 2 highest. Equal
// elevations are told apart by the place in the facet.
func (ps *Ponds) role(e int32) int {
	z, t := ps.z, ps.t.V
	v := t[e]
	role := 0
	for _, o := range [2]int32{surface.Next(e), surface.Prev(e)} {
		if w := t[o]; z[w] < z[v] || z[w] == z[v] && o < e {
			role++
		}
	}
	return role
}

// running is the curve at a level.
type running struct {
	at, volume float64
	p0, p1     float64
	p2, low    float64 // leading coefficient: p2 + low
	partial    int     // facets that the level cuts
}

// joined returns the curve of two depressions that have met.
func joined(a, b *running) running {
	r := *a
	r.volume, r.p0, r.p1, r.partial = a.volume+b.volume, a.p0+b.p0, a.p1+b.p1, a.partial+b.partial
	r.lead(b.p2)
	r.lead(b.low)
	return r
}

// lead adds to the leading coefficient without loss.
func (r *running) lead(x float64) {
	s := r.p2 + x
	t := s - r.p2
	r.low += (r.p2 - (s - t)) + (x - t)
	r.p2 = s
}

// rise goes on to a level.
func (r *running) rise(level float64) {
	x, p2 := level-r.at, r.p2+r.low
	r.volume += x * (r.p0 + float64(x*(r.p1/2+float64(x*p2/3))))
	r.p0 += x * (r.p1 + float64(x*p2))
	r.p1 += 2 * x * p2
	r.at = level
}

// corner takes in a corner of a facet.
func (r *running) corner(f tent, role int) {
	if f.a == f.c {
		if role == 0 {
			r.p0 += f.size
		}
		return
	}
	lower, upper := 0.0, 0.0
	if f.b > f.a {
		lower = f.size / ((f.b - f.a) * (f.c - f.a))
	}
	if f.c > f.b {
		upper = f.size / ((f.c - f.a) * (f.c - f.b))
	}
	whole := 2 * f.size / (f.c - f.a)
	switch {
	case role == 0:
		r.partial++
		if f.b > f.a {
			r.lead(lower)
		} else {
			r.p1 += whole
			r.lead(-upper)
		}
	case role == 1 && f.b > f.a && f.c > f.b:
		r.lead(-lower)
		r.lead(-upper)
	case role == 2:
		r.partial--
		if f.c > f.b {
			r.lead(upper)
		} else {
			r.p1 -= whole
			r.lead(-lower)
		}
	}
	if r.partial == 0 {
		r.p1, r.p2, r.low = 0, 0, 0
	}
}

func (t *Table) add(r *running) {
	t.knot = append(t.knot, r.at)
	t.p = append(t.p, [3]float64{r.p0, r.p1, r.p2 + r.low})
	t.volume = append(t.volume, r.volume)
}

// Area returns the plan area of the water in a node at a level between its Base and its Level [m2]. Above,
// it stays as it is at the Level.
func (t *Table) Area(node int32, level float64) float64 {
	i := t.below(node, level)
	x := level - t.knot[i]
	return max(0, t.p[i][0]+float64(x*(t.p[i][1]+float64(x*t.p[i][2]))))
}

// Volume returns what a node holds in all at a level not below its Base [m3]. Above its Level it goes on as
// between upright walls.
func (t *Table) Volume(node int32, level float64) float64 {
	i := t.below(node, level)
	return t.volume[i] + t.above(i, level-t.knot[i])
}

// above returns the volume between knot i and x above it.
func (t *Table) above(i int32, x float64) float64 {
	p := &t.p[i]
	return x * (p[0] + float64(x*(p[1]/2+float64(x*p[2]/3))))
}

// below returns the last knot of a node at or below a level, or its first.
func (t *Table) below(node int32, level float64) int32 {
	from, to := t.first[node], t.first[node+1]
	i := sort.Search(int(to-from-1), func(i int) bool { return t.knot[from+1+int32(i)] > level })
	return from + int32(i)
}

// Level returns the level at which a node holds a volume in all [m]: its Base for what its parts hold, or
// less. Above its Level it goes on as between upright walls.
func (t *Table) Level(node int32, volume float64) float64 {
	from, to := t.first[node], t.first[node+1]
	i := from + int32(sort.Search(int(to-from-1), func(i int) bool { return t.volume[from+1+int32(i)] > volume }))
	rest := volume - t.volume[i]
	if rest <= 0 {
		return t.knot[i]
	}
	if i == to-1 {
		return t.knot[i] + rest/t.p[i][0]
	}
	return t.knot[i] + t.solve(i, t.knot[i+1]-t.knot[i], rest)
}

// solve finds the height above knot i, at most high, below which the volume is rest: Newton's steps, halved
// where they leave the bracket.
func (t *Table) solve(i int32, high, rest float64) float64 {
	p := &t.p[i]
	low, x := 0.0, high
	for range 100 {
		miss := t.above(i, x) - rest
		switch {
		case miss > 0:
			high = x
		case miss < 0:
			low = x
		default:
			return x
		}
		next := x - miss/(p[0]+float64(x*(p[1]+float64(x*p[2]))))
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if next == x {
			break
		}
		x = next
	}
	return x
}
