package geodesic

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// Sum is what Sums adds up of one field.
type Sum struct {
	Ways float64 // to its target, by area [m3]
	Area float64 // from which that is nearest [m2]
}

// Sums adds up the ways from all places of a region to the nearest of the targets of its fields. Triangles are divided until the ways from their corners tell
// those from their middles; then a parabola through both stands for the piece. The mean distance so found is within about 4 mm.
func Sums(fields []*Field) []Sum {
	s := &summer{sums: make([]Sum, len(fields))}
	for _, f := range fields {
		s.views = append(s.views, f.View())
	}
	r := fields[0].r
	for s.t = range r.triangles() {
		s.piece(s.corner(r.V[3*s.t]), s.corner(r.V[3*s.t+1]), s.corner(r.V[3*s.t+2]))
	}
	return s.sums
}

// A piece is divided no more when no side of it is longer than smallest [m], or when the way from its middle is the mean of those from its corners within bend
// [m]: a parabola through the four is then right within a few hundredths of that.
const (
	smallest = 0.5
	bend     = 0.1
)

// summer sums over one triangle after the other.
type summer struct {
	views []*View
	t     int32
	sums  []Sum
}

// place is a place of the triangle at hand, and how far it is to the nearest target [m].
type place struct {
	at  orb.Point
	far float64
}

// corner returns the place of a vertex of the region.
func (s *summer) corner(v int32) place {
	x := place{s.views[0].f.r.point(v), math.Inf(1)}
	for _, view := range s.views {
		x.far = min(x.far, view.f.dist[v])
	}
	return x
}

// look returns a place of the triangle, and which target is nearest.
func (s *summer) look(p orb.Point) (x place, target int) {
	x = place{p, math.Inf(1)}
	for k, v := range s.views {
		if far, _ := v.find(s.t, p); far < x.far {
			x.far, target = far, k
		}
	}
	return x, target
}

// piece adds the piece of the triangle with corners a, b, c.
func (s *summer) piece(a, b, c place) {
	middle, target := s.look(orb.Point{(a.at[0] + b.at[0] + c.at[0]) / 3, (a.at[1] + b.at[1] + c.at[1]) / 3})
	ab, bc, ca := vector.Distance(a.at, b.at), vector.Distance(b.at, c.at), vector.Distance(c.at, a.at)
	corners, long := (a.far+b.far+c.far)/3, max(ab, bc, ca)
	if long <= smallest || !(math.Abs(corners-middle.far) > bend) {
		area := vector.Cross(vector.Minus(b.at, a.at), vector.Minus(c.at, a.at)) / 2
		sum := &s.sums[target]
		sum.Ways += float64(area * (float64(0.75*middle.far) + float64(0.25*corners)))
		sum.Area += area
		return
	}
	halves := func(p, q, r place) { // across the longest side
		m, _ := s.look(vector.Along(p.at, q.at, 0.5))
		s.piece(p, m, r)
		s.piece(m, q, r)
	}
	switch long {
	case ab:
		halves(a, b, c)
	case bc:
		halves(b, c, a)
	default:
		halves(c, a, b)
	}
}
