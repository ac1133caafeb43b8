// Package geodesic measures the straight way between places of a plane area that has a border and holes: the shortest way
// that stays inside it.
//
// Such a way is a chain of straight pieces that bends only at corners of the border which it rounds. The method spreads
// light from the target over the triangles of the area: a window is the part of an edge that a source sees, and is pushed
// across the triangle behind it; a corner that the light grazes is a source of its own for the shadow behind it. Windows
// are taken nearest first, and one is dropped where the way over an end of its edge is shorter (Mitchell, Mount and
// Papadimitriou, "The discrete geodesic problem", SIAM Journal on Computing 16, 1987; the rule by which windows are
// dropped: Xin and Wang, "Improving Chen and Han's algorithm on the discrete geodesic problem", ACM Transactions on
// Graphics 28, 2009; both from memory). In the plane nothing is unfolded: sources keep their places.
package geodesic

import (
	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Region is an area cut into triangles, in flat arrays: half-edge 3*f+c starts at corner c of triangle f, triangles are
// counter-clockwise, and Twin is -1 on the border.
type Region struct {
	X, Y    []float64 // per vertex [m]
	V, Twin []int32   // per half-edge
}

// triangles returns the number of triangles.
func (r *Region) triangles() int32 { return int32(len(r.V) / 3) }

func (r *Region) point(v int32) orb.Point { return orb.Point{r.X[v], r.Y[v]} }

// ends returns the ends of half-edge e.
func (r *Region) ends(e int32) (a, b orb.Point) {
	return r.point(r.V[e]), r.point(r.V[surface.Next(e)])
}

// meets returns the position on the line from a to b where the line from s through q crosses it; not a number where the
// two are parallel.
func meets(s, q, a, b orb.Point) float64 {
	u := vector.Minus(q, s)
	ca, cb := vector.Cross(vector.Minus(a, s), u), vector.Cross(vector.Minus(b, s), u)
	return ca / (ca - cb)
}

// toSegment returns the distance from s to the segment from a to b.
func toSegment(s, a, b orb.Point) float64 {
	u := vector.Minus(b, a)
	t := 0.0
	if l := vector.Dot(u, u); l > 0 {
		t = max(0, min(1, vector.Dot(vector.Minus(s, a), u)/l))
	}
	return vector.Distance(s, vector.Along(a, b, t))
}
