package mend

import (
	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// Turned returns a place along and across the main edge.
func (d *Designer) Turned(p orb.Point) orb.Point {
	a := d.Domain.Axis
	return orb.Point{float64(p[0]*a[0]) + float64(p[1]*a[1]), float64(p[1]*a[0]) - float64(p[0]*a[1])}
}

// Back returns the place that lies so along and across the main edge.
func (d *Designer) Back(u orb.Point) orb.Point {
	a := d.Domain.Axis
	return orb.Point{float64(u[0]*a[0]) - float64(u[1]*a[1]), float64(u[0]*a[1]) + float64(u[1]*a[0])}
}

// holding returns a box along and across the main edge, widened so that it holds a place; nil: the box of that place.
func (d *Designer) holding(b *orb.Bound, q orb.Point) *orb.Bound {
	u := d.Turned(q)
	if b == nil {
		n := u.Bound()
		return &n
	}
	n := b.Extend(u)
	return &n
}

// Plan returns a line in plan.
func Plan(line []roof.Position) orb.LineString { return orb.LineString(roof.PlanOf(line)) }

// LineLength returns the length of a line [m].
func LineLength(line orb.LineString) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += vector.Distance(line[i-1], line[i])
	}
	return sum
}
