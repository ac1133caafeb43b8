package taper

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// view is the part of the roof that a place sees, as triangles with a corner at the place.
type view struct {
	fans []polygon
}

// touch is the distance within which a place counts as on an edge [m].
const touch = 1e-6

// from returns what p sees. It is computed once a place.
func (d *Domain) from(p orb.Point) *view {
	v, ok := d.views[p]
	if !ok {
		v = d.look(p)
		d.views[p] = v
	}
	return v
}

// look casts a ray between each two neighbouring directions of corners; the edge that it meets first bounds the triangle between them.
func (d *Domain) look(p orb.Point) *view {
	dirs := d.directions(p)
	v := &view{}
	last, until := -1, orb.Point{} // edge that bounds the latest triangle, and its end
	for i, a := range dirs {
		b := dirs[(i+1)%len(dirs)]
		if vector.Cross(a, b) <= 1e-12 {
			continue // equal, or half a turn and more: cannot be on a roof's inside, see directions
		}
		mid := unit(vector.Plus(a, b))
		e, far := d.hit(p, mid)
		if e < 0 || !d.holds(vector.Plus(p, scaled(mid, far/2))) {
			continue
		}
		q, okA := meet(p, a, d.edges[e])
		r, okB := meet(p, b, d.edges[e])
		switch {
		case !okA || !okB:
		case e == last && a == until:
			v.fans[len(v.fans)-1][2] = r
			until = b
		default:
			v.fans = append(v.fans, polygon{p, q, r})
			last, until = e, b
		}
	}
	return v
}

// directions returns unit vectors from p to all corners and along eight fixed directions, by angle; so two neighbours are
// never half a turn apart.
func (d *Domain) directions(p orb.Point) []orb.Point {
	var dirs []orb.Point
	for _, e := range d.edges {
		if u := vector.Minus(e.a, p); vector.Length(u) > touch {
			dirs = append(dirs, unit(u))
		}
	}
	for k := range 4 {
		dirs = append(dirs, quarter(d.Axis, k))
	}
	sort.Slice(dirs, func(i, j int) bool { return turn(dirs[i]) < turn(dirs[j]) })
	return dirs
}

// turn grows with the angle of a unit vector from east, from 0 to 4.
func turn(u orb.Point) float64 {
	t := 1 - u[0]/(math.Abs(u[0])+math.Abs(u[1]))
	if u[1] < 0 {
		return 4 - t
	}
	return t
}

// hit returns the edge that a ray from p meets first and how far from p, -1 for none. Edges on which p lies do not count.
func (d *Domain) hit(p, u orb.Point) (first int, far float64) {
	first, far = -1, math.Inf(1)
	for i := range d.edges {
		a, b := vector.Minus(d.edges[i].a, p), vector.Minus(d.edges[i].b, p)
		ca, cb := vector.Cross(u, a), vector.Cross(u, b)
		if (ca > 0) == (cb > 0) {
			continue
		}
		t := ca / (ca - cb)
		at := vector.Dot(u, vector.Along(a, b, t))
		if at > touch && at < far && !on(p, d.edges[i]) {
			first, far = i, at
		}
	}
	return first, far
}

// on reports whether p lies on e.
func on(p orb.Point, e edge) bool {
	d := vector.Minus(e.b, e.a)
	l := vector.Length(d)
	u := scaled(d, 1/l)
	along := vector.Dot(u, vector.Minus(p, e.a))
	return math.Abs(vector.Cross(u, vector.Minus(p, e.a))) <= touch && along >= -touch && along <= l+touch
}

// meet returns where the ray from p along u meets the line of e.
func meet(p, u orb.Point, e edge) (q orb.Point, ok bool) {
	d := vector.Minus(e.b, e.a)
	den := vector.Cross(u, d)
	if den == 0 {
		return q, false
	}
	t := vector.Cross(vector.Minus(e.a, p), d) / den
	return vector.Plus(p, scaled(u, t)), t > 0
}

func scaled(v orb.Point, k float64) orb.Point { return orb.Point{float64(k * v[0]), float64(k * v[1])} }

// sees reports whether the straight line from p to q stays on the roof. Along a border it must stay on one side of it: where curbs touch
// in a point there is no way between them.
func (d *Domain) sees(p, q orb.Point) bool {
	key := [2]orb.Point{p, q}
	if p[0] > q[0] || p[0] == q[0] && p[1] > q[1] {
		key = [2]orb.Point{q, p}
	}
	s, ok := d.sight[key]
	if !ok {
		s = d.clear(key[0], key[1])
		d.sight[key] = s
	}
	return s
}

// aside is how far beside the line a way is looked for [m].
const aside = 1e-5

// clear reports whether the line from p to q, moved a little to the left or to the right, meets no side of the border but those on which
// p or q lie, and runs on the roof.
func (d *Domain) clear(p, q orb.Point) bool {
	l := vector.Length(vector.Minus(q, p))
	if l <= touch {
		return true
	}
	u := scaled(vector.Minus(q, p), 1/l)
	left, right := true, true
	for i := range d.edges {
		if on(p, d.edges[i]) || on(q, d.edges[i]) {
			continue
		}
		a, b := vector.Minus(d.edges[i].a, p), vector.Minus(d.edges[i].b, p)
		ca, cb := vector.Cross(u, a), vector.Cross(u, b)
		left = left && !crosses(u, a, b, ca-aside, cb-aside, l)
		right = right && !crosses(u, a, b, ca+aside, cb+aside, l)
		if !left && !right {
			return false
		}
	}
	m, n := vector.Plus(p, scaled(u, l/2)), scaled(quarter(u, 1), aside)
	return left && d.holds(vector.Plus(m, n)) || right && d.holds(vector.Minus(m, n))
}

// crosses reports whether an edge from a to b, off a line along u by ca and cb, meets it between its ends.
func crosses(u, a, b orb.Point, ca, cb, l float64) bool {
	if (ca > 0) == (cb > 0) {
		return false
	}
	t := vector.Dot(u, vector.Along(a, b, ca/(ca-cb)))
	return t > 0 && t < l
}

// Sees reports whether the straight line from p to q stays on the roof.
func (d *Domain) Sees(p, q orb.Point) bool { return d.sees(p, q) }
