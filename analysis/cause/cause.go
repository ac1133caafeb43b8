// Package cause says from the shape of the roof alone why a pond stands.
//
// Each cause in the closed list of package finding has a signature in the elevations: where the pond
// lies, what its lip rests on, how the surface around it is bent. A rule per cause measures that
// signature and returns a candidate with the numbers that show it and a score from 0 to 1: how much of
// the pond the cause explains, less what the measuring error leaves open. More than one may hold; all
// are returned, best supported first, with what to measure to tell them apart. What is laid on the
// deck, and what the deck itself does, cannot be seen from above: cores and a level from below can.
//
// The what-ifs (package-level type Mended) change the surface or an outlet and let the water find its
// level again; they are exact on the triangulated surface, see escape.go.
package cause

import "runnel/analysis/finding"

// Candidate is one cause that fits a pond.
type Candidate struct {
	Kind    finding.Kind
	Score   float64            // 0 to 1: how well the shape supports it
	Facts   []finding.Quantity // the numbers that show it
	Why     finding.Text       // the same as a sentence
	Measure finding.Text       // what to measure to tell it from the others
	What    finding.Text       // what holds the pond and what would likely mend it, where that which is said of the kind
	Mend    finding.Text       // does not fit; then what to measure is always said first. Else empty
	Scupper bool               // the outlet that holds the water is a scupper, which has a floor and no strainer
}

// Mend is a change to the roof that is tried on the surface.
type Mend uint8

// The mends that are tried.
const (
	ShaveRise  Mend = iota // the ground between pond and outlet is cut down to an even fall
	DropOutlet             // the outlet is set down to the pond's lowest point
	ShaveAndDrop
)

// Mended is what one mend alone would leave.
type Mended struct {
	Mend   Mend
	Tried  bool    // false where there is nothing to change: no rise, no outlet near
	Depth  float64 // of water left [m]
	Volume float64 // of water left [m3]
	Cut    float64 // deepest cut, or how far the outlet goes down [m]
	Length float64 // plan length of the cut [m]
}

// Diagnosis is what is known of why one pond stands.
type Diagnosis struct {
	Outlet     int32       // the outlet the pond should drain to: it lies nearest on the way out; -1 none
	Causes     []Candidate // best supported first; never empty
	Mends      []Mended    // by Mend; nil where they were not tried
	Resolved   bool        // the depth is beyond what the measuring error can make
	Uncertain  bool        // lip or lowest point hang on a diagonal that the cocircular rule chose, or on assumed elevations
	LipAssumed bool        // the lip's elevation was not measured
}
