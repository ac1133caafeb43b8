// Package vector has the arithmetic of vectors and places in plan: lengths, distances, areas of rings, nearest places and
// the points of the compass.
//
// All products are rounded one by one, so that no processor fuses them with a sum and results are the same on every machine;
// math.Hypot is not.
package vector

import (
	"math"

	"github.com/paulmach/orb"
)

// Norm returns the length of the vector (x, y).
func Norm(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }

// Length returns the length of v.
func Length(v orb.Point) float64 { return Norm(v[0], v[1]) }

// Distance returns the distance of two places.
func Distance(a, b orb.Point) float64 { return Norm(b[0]-a[0], b[1]-a[1]) }

// DistanceSquared returns the square of the distance of two places, for comparisons.
func DistanceSquared(a, b orb.Point) float64 { return Dot(Minus(a, b), Minus(a, b)) }

// Minus returns a - b.
func Minus(a, b orb.Point) orb.Point { return orb.Point{a[0] - b[0], a[1] - b[1]} }

// Plus returns a + b.
func Plus(a, b orb.Point) orb.Point { return orb.Point{a[0] + b[0], a[1] + b[1]} }

// Dot returns the scalar product of a and b.
func Dot(a, b orb.Point) float64 { return float64(a[0]*b[0]) + float64(a[1]*b[1]) }

// Cross returns the cross product of a and b: positive where b turns to the left of a.
func Cross(a, b orb.Point) float64 { return float64(a[0]*b[1]) - float64(a[1]*b[0]) }

// Turn returns twice the area of the triangle a, b, c: positive where they run counter-clockwise.
func Turn(a, b, c orb.Point) float64 {
	return float64((b[0]-a[0])*(c[1]-a[1])) - float64((c[0]-a[0])*(b[1]-a[1]))
}

// Scaled returns k times v.
func Scaled(v orb.Point, k float64) orb.Point { return orb.Point{float64(k * v[0]), float64(k * v[1])} }

// Quarter returns v turned by k quarter turns to the left.
func Quarter(v orb.Point, k int) orb.Point {
	for range k {
		v = orb.Point{-v[1], v[0]}
	}
	return v
}

// Unit returns v at length 1, and east for no length.
func Unit(v orb.Point) orb.Point {
	l := Length(v)
	if l == 0 {
		return orb.Point{1, 0}
	}
	return orb.Point{v[0] / l, v[1] / l}
}

// Along returns the place a part t of the way from a to b.
func Along(a, b orb.Point, t float64) orb.Point {
	return orb.Point{a[0] + float64(t*(b[0]-a[0])), a[1] + float64(t*(b[1]-a[1]))}
}

// Area returns the area of a ring, closed or not; negative when it runs clockwise.
func Area(ring []orb.Point) float64 {
	sum := 0.0
	for i := 1; i+1 < len(ring); i++ {
		sum += Cross(Minus(ring[i], ring[0]), Minus(ring[i+1], ring[0]))
	}
	return sum / 2
}

// Foot returns the part of the way from a to b, from 0 to 1, at which it comes nearest to p; 0 where a is b.
func Foot(a, b, p orb.Point) float64 {
	u := Minus(b, a)
	l := Dot(u, u)
	if l == 0 {
		return 0
	}
	return math.Min(1, math.Max(0, Dot(Minus(p, a), u)/l))
}

// Nearest returns the place on a line, or on its one point, that is nearest to p: the first of several, and p itself where
// there is no line.
func Nearest(line []orb.Point, p orb.Point) orb.Point {
	at, least := p, math.Inf(1)
	if len(line) == 1 {
		return line[0]
	}
	for i := 1; i < len(line); i++ {
		q := Along(line[i-1], line[i], Foot(line[i-1], line[i], p))
		if d := Distance(q, p); d < least {
			at, least = q, d
		}
	}
	return at
}
