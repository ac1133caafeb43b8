package domain

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
)

// Touch is the distance within which a place counts as on an edge [m].
const Touch = 1e-6

// From returns the part of the roof that p sees, as triangles with a corner at p. It is computed once a place.
func (d *Domain) From(p orb.Point) []Polygon {
	v, ok := d.views[p]
	if !ok {
		v = d.look(p)
		d.views[p] = v
	}
	return v
}

// look casts a ray between each two neighbouring directions of corners; the edge that it meets first bounds the triangle between them.
func (d *Domain) look(p orb.Point) []Polygon {
	dirs := d.directions(p)
	var v []Polygon
	last, until := -1, orb.Point{} // edge that bounds the latest triangle, and its end
	for i, a := range dirs {
		b := dirs[(i+1)%len(dirs)]
		if vector.Cross(a, b) <= 1e-12 {
			continue // equal, or half a turn and more: cannot be on a roof's inside, see directions
		}
		mid := vector.Unit(vector.Plus(a, b))
		e, far := d.Hit(p, mid)
		if e < 0 || !d.holds(vector.Plus(p, vector.Scaled(mid, far/2))) {
			continue
		}
		q, okA := Meet(p, a, d.Edges[e])
		r, okB := Meet(p, b, d.Edges[e])
		switch {
		case !okA || !okB:
		case e == last && a == until:
			v[len(v)-1][2] = r
			until = b
		default:
			v = append(v, Polygon{p, q, r})
			last, until = e, b
		}
	}
	return v
}

// directions returns unit vectors from p to all corners and along the four directions of the main edge, by angle; so two neighbours are
// never half a turn apart.
func (d *Domain) directions(p orb.Point) []orb.Point {
	var dirs []orb.Point
	for _, e := range d.Edges {
		if u := vector.Minus(e.A, p); vector.Length(u) > Touch {
			dirs = append(dirs, vector.Unit(u))
		}
	}
	for k := range 4 {
		dirs = append(dirs, vector.Quarter(d.Axis, k))
	}
	sort.Slice(dirs, func(i, j int) bool { return Turn(dirs[i]) < Turn(dirs[j]) })
	return dirs
}

// Turn grows with the angle of a unit vector from east, from 0 to 4.
func Turn(u orb.Point) float64 {
	t := 1 - u[0]/(math.Abs(u[0])+math.Abs(u[1]))
	return choose.If(u[1] < 0, 4-t, t)
}

// Hit returns the edge that a ray from p meets first and how far from p, -1 for none. Edges on which p lies do not count.
func (d *Domain) Hit(p, u orb.Point) (first int, far float64) {
	first, far = -1, math.Inf(1)
	for i := range d.Edges {
		a, b := vector.Minus(d.Edges[i].A, p), vector.Minus(d.Edges[i].B, p)
		ca, cb := vector.Cross(u, a), vector.Cross(u, b)
		if (ca > 0) == (cb > 0) {
			continue
		}
		t := ca / (ca - cb)
		if at := vector.Dot(u, vector.Along(a, b, t)); at > Touch && at < far && !on(p, d.Edges[i]) {
			first, far = i, at
		}
	}
	return first, far
}

// on reports whether p lies on e.
func on(p orb.Point, e Edge) bool {
	d := vector.Minus(e.B, e.A)
	l := vector.Length(d)
	u := vector.Scaled(d, 1/l)
	along := vector.Dot(u, vector.Minus(p, e.A))
	return math.Abs(vector.Cross(u, vector.Minus(p, e.A))) <= Touch && along >= -Touch && along <= l+Touch
}

// Meet returns where the ray from p along u meets the line of e.
func Meet(p, u orb.Point, e Edge) (q orb.Point, ok bool) {
	d := vector.Minus(e.B, e.A)
	den := vector.Cross(u, d)
	if den == 0 {
		return q, false
	}
	t := vector.Cross(vector.Minus(e.A, p), d) / den
	return vector.Plus(p, vector.Scaled(u, t)), t > 0
}

// Sees reports whether the straight line from p to q stays on the roof. Along a border it must stay on one side of it: where curbs touch
// in a point there is no way between them.
func (d *Domain) Sees(p, q orb.Point) bool {
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
	if l <= Touch {
		return true
	}
	u := vector.Scaled(vector.Minus(q, p), 1/l)
	left, right := true, true
	for i := range d.Edges {
		if on(p, d.Edges[i]) || on(q, d.Edges[i]) {
			continue
		}
		a, b := vector.Minus(d.Edges[i].A, p), vector.Minus(d.Edges[i].B, p)
		ca, cb := vector.Cross(u, a), vector.Cross(u, b)
		left = left && !crosses(u, a, b, ca-aside, cb-aside, l)
		right = right && !crosses(u, a, b, ca+aside, cb+aside, l)
		if !left && !right {
			return false
		}
	}
	m, n := vector.Plus(p, vector.Scaled(u, l/2)), vector.Scaled(vector.Quarter(u, 1), aside)
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
