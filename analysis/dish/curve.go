package dish

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// pieces is how many straight pieces a curve has between two marks.
const pieces = 6

// Around returns the closed smooth curve through marks along a pond's edge, as a closed counter-clockwise ring, and whether their order
// was changed: where a line from mark to mark crosses itself they are taken as they turn about their middle. The curve is a periodic
// cubic spline by length of chord (de Boor, "A Practical Guide to Splines", from memory); where it would cross itself the straight
// lines stand. There must be three marks or more that are not one place.
func Around(marks []orb.Point) (ring orb.Ring, reordered bool) {
	points := distinct(marks)
	if crossesItself(points) {
		points, reordered = byTurn(points), true
	}
	ring = spline(points)
	if crossesItself(ring[:len(ring)-1]) {
		ring = append(orb.Ring(slices.Clone(points)), points[0])
	}
	if ring.Orientation() == orb.CW {
		ring.Reverse()
	}
	return ring, reordered
}

// distinct leaves out marks that lie on the one before.
func distinct(marks []orb.Point) []orb.Point {
	const same = 0.01 // m
	var out []orb.Point
	for _, p := range marks {
		if len(out) == 0 || vector.Distance(p, out[len(out)-1]) > same {
			out = append(out, p)
		}
	}
	for len(out) > 3 && vector.Distance(out[0], out[len(out)-1]) <= same {
		out = out[:len(out)-1]
	}
	return out
}

// byTurn returns points in the order in which they turn counter-clockwise about their middle.
func byTurn(points []orb.Point) []orb.Point {
	var m orb.Point
	for _, p := range points {
		m[0] += p[0] / float64(len(points))
		m[1] += p[1] / float64(len(points))
	}
	out := slices.Clone(points)
	slices.SortStableFunc(out, func(a, b orb.Point) int {
		return cmp.Compare(math.Atan2(a[1]-m[1], a[0]-m[0]), math.Atan2(b[1]-m[1], b[0]-m[0]))
	})
	return out
}

// crossesItself reports whether two sides of a closed polygon that are not neighbours meet.
func crossesItself(p []orb.Point) bool {
	n := len(p)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			if meet(p[i], p[(i+1)%n], p[j], p[(j+1)%n]) {
				return true
			}
		}
	}
	return false
}

// meet reports whether two stretches cross or touch.
func meet(a, b, c, d orb.Point) bool {
	return turn(a, b, c)*turn(a, b, d) <= 0 && turn(c, d, a)*turn(c, d, b) <= 0 &&
		max(min(a[0], b[0]), min(c[0], d[0])) <= min(max(a[0], b[0]), max(c[0], d[0])) &&
		max(min(a[1], b[1]), min(c[1], d[1])) <= min(max(a[1], b[1]), max(c[1], d[1]))
}

// turn returns twice the area of a triangle, positive counter-clockwise, as a sign.
func turn(a, b, c orb.Point) float64 {
	v := float64((b[0]-a[0])*(c[1]-a[1])) - float64((c[0]-a[0])*(b[1]-a[1]))
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// spline returns the periodic cubic spline through points as a closed ring.
func spline(points []orb.Point) orb.Ring {
	n := len(points)
	h := make([]float64, n)
	for i := range h {
		h[i] = max(vector.Distance(points[i], points[(i+1)%n]), 1e-6)
	}
	var second [2][]float64
	for k := range second {
		second[k] = secondDerivatives(points, h, k)
	}
	var ring orb.Ring
	for i := range n {
		j := (i + 1) % n
		for s := range pieces {
			t := float64(s) / pieces
			var p orb.Point
			for k := range p {
				a, b := 1-t, t
				bend := float64((float64(a*a*a)-a)*second[k][i]) + float64((float64(b*b*b)-b)*second[k][j])
				p[k] = float64(a*points[i][k]) + float64(b*points[j][k]) + float64(bend*h[i]*h[i])/6
			}
			ring = append(ring, p)
		}
	}
	return append(ring, ring[0])
}

// secondDerivatives solves for the second derivatives of coordinate k at the points of a periodic spline.
func secondDerivatives(points []orb.Point, h []float64, k int) []float64 {
	n := len(points)
	m := newMatrix(n, n+1)
	for i := range n {
		before, after := (i+n-1)%n, (i+1)%n
		m[i][before] += h[before] / 6
		m[i][i] += (h[before] + h[i]) / 3
		m[i][after] += h[i] / 6
		m[i][n] = (points[after][k]-points[i][k])/h[i] - (points[i][k]-points[before][k])/h[before]
	}
	return m.solve()
}
