// Package domain is the plan over which a taper is designed: its border, its convex parts, which place sees which, and the gauge by which distance on it is measured.
package domain

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// Gauge measures plan distance: N(v) is the largest product of v with one of Normals. A surface that rises by s for each unit of it
// has planes of gradient s times a normal.
type Gauge struct {
	Axis    orb.Point   // unit vector along the roof's main Edge
	Normals []orb.Point // counter-clockwise; length 1, less across a cricket
}

// FourWay returns the gauge of four falls square to each other, along axis and across it. Valleys fall at 0.707 of the planes' slope.
func FourWay(axis orb.Point) Gauge {
	g := Gauge{Axis: axis}
	for k := range 4 {
		g.Normals = append(g.Normals, vector.Quarter(axis, k))
	}
	return g
}

// TwoWay returns the gauge of two falls from both sides towards lines along axis, with crickets between the outlets on
// such a line. ratio is the crickets' full width over their length from outlet to outlet (a full diamond); their ridge is level
// with the planes' rise at their widest, their valleys fall at ratio/sqrt(1 + ratio*ratio) of the planes' slope and their own planes at ratio times it.
//
// Source: own derivation; equals the level-ridge cricket, whose material rises s/cos(phi) square to the valley on a plane of slope s, tan(phi) = ratio.
func TwoWay(axis orb.Point, ratio float64) Gauge {
	g := Gauge{Axis: axis}
	for k := range 4 {
		n := vector.Quarter(axis, k)
		if k%2 == 0 {
			n = orb.Point{float64(ratio * n[0]), float64(ratio * n[1])}
		}
		g.Normals = append(g.Normals, n)
	}
	return g
}

// N returns the length of v.
func (g *Gauge) N(v orb.Point) float64 {
	n, _ := g.wedge(v)
	return n
}

// wedge returns the length of v and the normal that measures it, the first of equals.
func (g *Gauge) wedge(v orb.Point) (n float64, k int) {
	n = math.Inf(-1)
	for i, a := range g.Normals {
		if d := vector.Dot(a, v); d > n {
			n, k = d, i
		}
	}
	return n, k
}

// Valley returns the least fall of a valley between neighbouring directions, as a part of the slope.
func (g *Gauge) Valley() float64 {
	least := math.Inf(1)
	for i, a := range g.Normals {
		b := g.Normals[(i+1)%len(g.Normals)]
		d := vector.Minus(a, b)
		least = math.Min(least, math.Abs(vector.Cross(a, b))/vector.Length(d))
	}
	return least
}

// Axis returns the direction of the roof's main edge: of the outline's edges, taken modulo a quarter turn and grouped within a degree,
// the group of greatest length. The unit vector points into the right half plane. Empty rings give east.
func Axis(ring orb.Ring) orb.Point {
	const near = 0.0175 // radians
	best, most := orb.Point{1, 0}, 0.0
	for i := 1; i < len(ring); i++ {
		u := vector.Unit(vector.Minus(ring[i], ring[i-1]))
		sum := orb.Point{}
		total := 0.0
		for j := 1; j < len(ring); j++ {
			e := vector.Minus(ring[j], ring[j-1])
			for k := range 4 {
				if t := vector.Quarter(e, k); vector.Dot(t, u) > 0 && math.Abs(vector.Cross(u, t)) <= near*vector.Length(t) {
					sum = vector.Plus(sum, t)
					total += vector.Length(t)
				}
			}
		}
		if total > most*(1+1e-9) {
			best, most = vector.Unit(sum), total
		}
	}
	for k := range 4 {
		if t := vector.Quarter(best, k); t[0] > 0 && math.Abs(t[1]) <= t[0] && t[1] > -t[0] {
			return t
		}
	}
	return best
}
