// Package hold tells from a few heights on the way from a pond to its outlet what holds the water: the outlet, a rise in the roof before
// it, or both.
//
// Two differences decide. The outlet's inlet less the pond's lowest place is the depth that the outlet alone holds. The highest roof
// on the way less the higher of those two is what a rise adds. Each is compared with its own error, that of two readings: it is there where it exceeds
// sure times that error, and it is not where even its upper bound is less than the depth of a pond that is listed. What is neither is not
// resolved, and nothing is said of it.
package hold

import (
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/standard"
)

// sure is how many standard errors a difference must have to be there: one in 160 is larger by error alone (Abramowitz and Stegun,
// "Handbook of Mathematical Functions", table 26.1, from memory). Several readings before an outlet compete to be the highest, so that one in 20
// would be too many.
const sure = 2.5

// Reading is one height and its standard error [m].
type Reading struct {
	Z, Sigma float64
	Known    bool
}

// Way is what was read between a pond and an outlet.
type Way struct {
	Low    Reading   // the lowest place under the pond
	Outlet Reading   // the outlet's inlet
	Before []Reading // the roof before the outlet
	Lip    Reading   // where else the pond may spill
	Least  float64   // depth from which a pond is listed [m]
}

// Answer is one of yes, no and not resolved.
type Answer uint8

// The answers.
const (
	Unresolved Answer = iota
	No
	Yes
)

// Verdict is what holds the water.
type Verdict uint8

// The verdicts. Neither says that the way falls all along: something else holds the water.
const (
	NotResolved Verdict = iota
	OutletHigh
	RiseBefore
	Both
	Neither
)

// Difference is one height over another.
type Difference struct {
	Value, Sigma float64 // [m]
	Answer       Answer  // whether it is there
}

// Upper returns the upper bound of a difference, over which it lies once in twenty times [m].
func (d *Difference) Upper() float64 { return d.Value + float64(standard.SureError*d.Sigma) }

// Holding is what is known of what holds a pond.
type Holding struct {
	Verdict Verdict
	Outlet  Difference // the inlet over the lowest place
	Rise    Difference // the highest roof on the way over the inlet and the lowest place
	Highest int        // index into Before, -1 where nothing was read
	Depth   Difference // of the pond when full: the lowest way out over the lowest place
	ByLip   bool       // the lip is lower than the way to the outlet
}

// Of returns what holds the water. Without the lowest place or the inlet nothing is resolved.
func Of(w Way) Holding {
	h := Holding{Highest: -1}
	for i := range w.Before {
		if w.Before[i].Known && (h.Highest < 0 || w.Before[i].Z > w.Before[h.Highest].Z) {
			h.Highest = i
		}
	}
	if !w.Low.Known || !w.Outlet.Known {
		return h
	}
	h.Outlet = over(w.Outlet, w.Low, w.Least)
	control := w.Outlet
	if h.Highest >= 0 {
		top := w.Before[h.Highest]
		h.Rise = over(top, higher(w.Outlet, w.Low), w.Least)
		control = higher(control, top)
	}
	if w.Lip.Known && w.Lip.Z < control.Z {
		control, h.ByLip = w.Lip, true
	}
	h.Depth = over(control, w.Low, w.Least)
	h.Verdict = verdict(h.Outlet.Answer, h.Rise.Answer)
	return h
}

func verdict(outlet, rise Answer) Verdict {
	switch {
	case outlet == Unresolved || rise == Unresolved:
		return NotResolved
	case outlet == Yes && rise == Yes:
		return Both
	case outlet == Yes:
		return OutletHigh
	case rise == Yes:
		return RiseBefore
	}
	return Neither
}

// higher returns the higher of two heights, the first of equal ones.
func higher(a, b Reading) Reading {
	return choose.If(b.Z > a.Z, b, a)
}

// over returns by how much a stands over b.
func over(a, b Reading, least float64) Difference {
	d := Difference{Value: a.Z - b.Z, Sigma: math.Sqrt(float64(a.Sigma*a.Sigma) + float64(b.Sigma*b.Sigma))}
	switch {
	case d.Value > float64(sure*d.Sigma):
		d.Answer = Yes
	case d.Upper() < least:
		d.Answer = No
	}
	return d
}
