package geodesic

import (
	"math"

	"github.com/paulmach/orb"
)

// Cells visits the triangles of a region in cells, each with its middle and its area [m2], so small that the distance at
// the middle stands for the whole: reach returns how far off the next bend of the way from a place is. The mean distance
// so found is within about 2 mm, since the distance bends as the square of a cell's length over that reach.
func (r *Region) Cells(reach func(t int32, p orb.Point) float64, visit func(t int32, p orb.Point, area float64)) {
	for t := range r.Triangles() {
		a, b, c := r.point(r.V[3*t]), r.point(r.V[3*t+1]), r.point(r.V[3*t+2])
		split(t, a, b, c, reach, visit)
	}
}

// smallest is the side below which no cell is divided [m], and finest the square of a side over its reach above which one
// is [m].
const (
	smallest = 0.25
	finest   = 0.1
)

func split(t int32, a, b, c orb.Point, reach func(int32, orb.Point) float64, visit func(int32, orb.Point, float64)) {
	p := orb.Point{(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3}
	ab, bc, ca := distance(a, b), distance(b, c), distance(c, a)
	long := math.Max(ab, math.Max(bc, ca))
	if long <= smallest || long*long <= finest*reach(t, p) {
		visit(t, p, cross(minus(b, a), minus(c, a))/2)
		return
	}
	switch long { // across the longest side
	case ab:
		m := between(a, b, 0.5)
		split(t, a, m, c, reach, visit)
		split(t, m, b, c, reach, visit)
	case bc:
		m := between(b, c, 0.5)
		split(t, b, m, a, reach, visit)
		split(t, m, c, a, reach, visit)
	default:
		m := between(c, a, 0.5)
		split(t, c, m, b, reach, visit)
		split(t, m, a, b, reach, visit)
	}
}
