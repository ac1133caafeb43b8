package draft

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// segment is a side of a ring, about the ring's first corner.
type segment struct {
	i    int
	a, b orb.Point
}

func (s segment) left() float64  { return math.Min(s.a[0], s.b[0]) }
func (s segment) right() float64 { return math.Max(s.a[0], s.b[0]) }

// crossing returns the place where a closed ring crosses or touches itself, by the lowest pair of its sides.
// Sides are compared along a sweep in x.
func crossing(ring []roof.Position) (at orb.Point, found bool) {
	origin := ring[0].Plan
	about := func(p orb.Point) orb.Point { return orb.Point{p[0] - origin[0], p[1] - origin[1]} }
	sides := make([]segment, 0, len(ring)-1)
	for i := 1; i < len(ring); i++ {
		if ring[i].Plan != ring[i-1].Plan {
			sides = append(sides, segment{len(sides), about(ring[i-1].Plan), about(ring[i].Plan)})
		}
	}
	n := len(sides)
	byLeft := slices.Clone(sides)
	slices.SortStableFunc(byLeft, func(a, b segment) int {
		switch {
		case a.left() < b.left():
			return -1
		case a.left() > b.left():
			return 1
		}
		return 0
	})
	low, high := n, n
	for k, s := range byLeft {
		for _, u := range byLeft[k+1:] {
			if u.left() > s.right() {
				break
			}
			first, second := s, u
			if first.i > second.i {
				first, second = second, first
			}
			if first.i > low || first.i == low && second.i >= high {
				continue
			}
			if place, ok := meet(first, second, n); ok {
				low, high, at, found = first.i, second.i, place, true
			}
		}
	}
	return orb.Point{at[0] + origin[0], at[1] + origin[1]}, found
}

// meet returns where two sides of a ring of n sides meet that should not: neighbours only where one runs back
// along the other.
func meet(s, u segment, n int) (at orb.Point, ok bool) {
	if u.i == s.i+1 {
		return foldback(s.a, s.b, u.b)
	}
	if s.i == 0 && u.i == n-1 {
		return foldback(u.a, u.b, s.b)
	}
	d1, d2 := side(s.a, s.b, u.a), side(s.a, s.b, u.b)
	d3, d4 := side(u.a, u.b, s.a), side(u.a, u.b, s.b)
	switch {
	case d1 == 0 && d2 == 0:
		for _, p := range []orb.Point{u.a, u.b} {
			if within(s, p) {
				return p, true
			}
		}
		return s.a, within(u, s.a)
	case d1*d2 > 0 || d3*d4 > 0:
		return at, false
	}
	t := d1 / (d1 - d2)
	return orb.Point{u.a[0] + float64(t*(u.b[0]-u.a[0])), u.a[1] + float64(t*(u.b[1]-u.a[1]))}, true
}

// foldback reports whether the side from b to c runs back along that from a to b.
func foldback(a, b, c orb.Point) (orb.Point, bool) {
	dot := float64((a[0]-b[0])*(c[0]-b[0])) + float64((a[1]-b[1])*(c[1]-b[1]))
	return b, side(a, b, c) == 0 && dot > 0
}

// side is positive where c lies left of the line from a to b, zero where it lies on it.
func side(a, b, c orb.Point) float64 { return vector.Turn(a, b, c) }

// within reports whether p, on the line of s, lies between its ends.
func within(s segment, p orb.Point) bool {
	return p[0] >= s.left() && p[0] <= s.right() && p[1] >= math.Min(s.a[1], s.b[1]) && p[1] <= math.Max(s.a[1], s.b[1])
}
