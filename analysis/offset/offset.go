// Package offset finds places on a roof from distances square to its walls, as a tape gives them.
//
// Walls have numbers, in the order in which they were taped, and are called by the point of the compass that they face, seen from
// the roof: the west wall is where the roof ends in the west. A name that means several walls is refused by its user, who is told their numbers.
package offset

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
)

// Wall is one side of an outline, in the unit of the outline.
type Wall struct {
	Number   int // from 1
	From, To orb.Point
	Length   float64
	In       [2]float64 // unit vector square to it, into the roof
	Faces    int        // point of the compass that it faces, 0 north to 7 north-west
}

// Names are the points of the compass, clockwise from north.
var Names = [8]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}

// Walls returns the walls of a closed counter-clockwise ring, in the order in which they were taped: along the ring, or, where that
// was clockwise, against it from the same corner.
func Walls(ring orb.Ring, clockwise bool) []Wall {
	n := len(ring) - 1
	out := make([]Wall, 0, max(n, 0))
	for i := range n {
		from, to := ring[i], ring[i+1]
		inward := 1.0
		if clockwise {
			from, to = ring[n-i], ring[n-i-1]
			inward = -1
		}
		dx, dy := to[0]-from[0], to[1]-from[1]
		length := vector.Norm(dx, dy)
		w := Wall{Number: i + 1, From: from, To: to, Length: length}
		if length > 0 {
			w.In = [2]float64{-inward * dy / length, inward * dx / length}
		}
		w.Faces = Point(-w.In[0], -w.In[1])
		out = append(out, w)
	}
	return out
}

// Point returns the point of the compass, 0 north to 7 north-west, that a direction comes nearest to.
func Point(east, north float64) int {
	turn := math.Atan2(east, north) / (math.Pi / 4)
	return (int(math.Round(turn)) + 8) % 8
}

// Vector returns the unit vector of a point of the compass.
func Vector(point int) [2]float64 {
	const d = math.Sqrt2 / 2
	return [8][2]float64{{0, 1}, {d, d}, {1, 0}, {d, -d}, {0, -1}, {-d, -d}, {-1, 0}, {-d, d}}[point]
}

// Facing returns the walls that face a point of the compass.
func Facing(walls []Wall, point int) []Wall {
	return gather.Where(walls, func(x Wall) bool { return x.Faces == point })
}

// leastAngle is the sine of the least angle between two walls whose offsets give a place: a tape's error grows by its inverse.
const leastAngle = 0.35 // 20 degrees

// At returns the place at a distance from each of two walls, on the side of the roof; false where they run too nearly alike to give one.
func At(a *Wall, fromA float64, b *Wall, fromB float64) (orb.Point, bool) {
	det := float64(a.In[0]*b.In[1]) - float64(a.In[1]*b.In[0])
	if math.Abs(det) < leastAngle {
		return orb.Point{}, false
	}
	ra := fromA + float64(a.In[0]*a.From[0]) + float64(a.In[1]*a.From[1])
	rb := fromB + float64(b.In[0]*b.From[0]) + float64(b.In[1]*b.From[1])
	return orb.Point{
		(float64(ra*b.In[1]) - float64(rb*a.In[1])) / det,
		(float64(rb*a.In[0]) - float64(ra*b.In[0])) / det,
	}, true
}

// Inside reports whether a place lies in a closed ring or within reach of it.
func Inside(ring orb.Ring, p orb.Point, reach float64) bool {
	return planar.RingContains(ring, p) || planar.DistanceFrom(orb.LineString(ring), p) <= reach
}

// Toward returns the place at a distance from one place toward another; false where the two are one.
func Toward(from, to orb.Point, distance float64) (orb.Point, bool) {
	dx, dy := to[0]-from[0], to[1]-from[1]
	l := vector.Norm(dx, dy)
	if l == 0 {
		return from, false
	}
	return orb.Point{from[0] + float64(dx*distance)/l, from[1] + float64(dy*distance)/l}, true
}

// Distance returns how far a place lies from a wall's line, on the side of the roof.
func (w *Wall) Distance(p orb.Point) float64 {
	return float64(w.In[0]*(p[0]-w.From[0])) + float64(w.In[1]*(p[1]-w.From[1]))
}

// foot reports whether a place stands square before the wall, between its ends.
func (w *Wall) foot(p orb.Point) bool {
	if w.Length == 0 {
		return false
	}
	along := (float64((w.To[0]-w.From[0])*(p[0]-w.From[0])) + float64((w.To[1]-w.From[1])*(p[1]-w.From[1]))) / w.Length
	return along >= 0 && along <= w.Length
}

// Nearest returns the two walls from which a place is taped with the least tape: the nearest that it stands square before, and the nearest
// of those that run across that one. False where there are no two.
func Nearest(walls []Wall, p orb.Point) (a, b *Wall, ok bool) {
	pick := func(fits func(w *Wall) bool) *Wall {
		var best *Wall
		for i := range walls {
			w := &walls[i]
			if d := w.Distance(p); d >= 0 && w.foot(p) && fits(w) && (best == nil || d < best.Distance(p)) {
				best = w
			}
		}
		return best
	}
	if a = pick(func(*Wall) bool { return true }); a == nil {
		return nil, nil, false
	}
	b = pick(func(w *Wall) bool {
		return math.Abs(float64(a.In[0]*w.In[1])-float64(a.In[1]*w.In[0])) >= leastAngle
	})
	return a, b, b != nil
}
