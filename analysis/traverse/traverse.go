// Package traverse closes the walls of a roof that were taped one after the other.
//
// Each wall is a direction and a length. The end of the last one should meet the beginning of the first; by how much it does not
// is the misclosure. One that tape error can make is shared out by the transit rule: the easting of each wall takes its share of
// the misclosure by the size of its own easting, northings alike, so that walls along the grid stay along it. A larger one is not
// shared out: Slips names the walls where one slip of the usual kinds would explain it. Texts on surveying give both (from memory).
package traverse

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
)

// Leg is one wall as taped.
type Leg struct {
	East, North float64         // unit vector of its direction
	Length      quantity.Length // above 0
}

// How far taped walls may miss closing: ordinary taping is good to 1 in 1,000 of its length (common in texts on surveying, from
// memory), and its ends are read to the inch. Half a foot at most, so that a slip of a foot never passes.
const (
	tapeError = 1.0 / 1000
	readError = float64(quantity.Inch)
	mostError = float64(quantity.Foot) / 2
)

// Closure is how a traverse closes.
type Closure struct {
	Corners   []orb.Point // one for each leg, where it begins; the first is the origin [m]; misclosure shared out where it is allowed
	East      float64     // by how much the end of the last wall lies east of the beginning of the first [m]
	North     float64     // and north of it [m]
	Perimeter float64     // of the legs as taped [m]
	Allowed   float64     // misclosure that tape error can make [m]
}

// Misclosure returns the distance between the end and the beginning [m].
func (c *Closure) Misclosure() float64 { return vector.Norm(c.East, c.North) }

// Within reports whether tape error can make the misclosure.
func (c *Closure) Within() bool { return c.Misclosure() <= c.Allowed }

// Close lays the legs end to end. There must be three or more.
func Close(legs []Leg) Closure {
	var c Closure
	for i := range legs {
		e, n := legs[i].vector()
		c.East += e
		c.North += n
		c.Perimeter += float64(legs[i].Length)
	}
	c.Allowed = min(float64(tapeError*c.Perimeter)+readError, mostError)
	c.Corners = corners(legs, &c)
	return c
}

// vector returns a leg as easting and northing [m].
func (l *Leg) vector() (east, north float64) {
	return float64(l.East * float64(l.Length)), float64(l.North * float64(l.Length))
}

// corners returns where each leg begins. A misclosure within what is allowed is shared out by the transit rule.
func corners(legs []Leg, c *Closure) []orb.Point {
	var sumE, sumN float64
	for i := range legs {
		e, n := legs[i].vector()
		sumE += math.Abs(e)
		sumN += math.Abs(n)
	}
	out := make([]orb.Point, len(legs))
	var at orb.Point
	for i := range legs {
		out[i] = at
		e, n := legs[i].vector()
		if c.Within() {
			e -= share(c.East, e, sumE)
			n -= share(c.North, n, sumN)
		}
		at[0] += e
		at[1] += n
	}
	return out
}

// share returns the part of a misclosure that falls to a leg.
func share(misclosure, part, sum float64) float64 {
	return choose.If(sum == 0, 0, float64(misclosure*math.Abs(part))/sum)
}
