// Package levelling reduces the readings of a level or a laser to elevations.
//
// A level book is kept set-up by set-up. A backsight on a point of known elevation gives the line of sight; every other
// reading of the set-up is taken from it: elevation = line of sight less reading. A foresight ends a set-up on a turning
// point, and the next backsight stands on that same point. A run of set-ups that starts and ends on known elevations has a
// misclosure: what was computed for its end less what is known. Rods read down from a laser are a set-up each, tied to one
// another by the stations that they share.
//
// The method is height of collimation with the page check "sum of backsights less sum of foresights equals last less first
// elevation"; a misclosure within the allowance is shared out by the number of set-ups (both are the common practice of
// levelling, from memory). A run of one set-up has nothing to share out and is never changed.
package levelling

import (
	"fmt"
	"math"

	"runnel/analysis/choose"
)

// Reading is a rod reading or an elevation [m]; Known is false where the field was empty.
type Reading struct {
	Value float64
	Known bool
}

// Row is one line of a level book.
type Row struct {
	Station             string
	Back, Between, Fore Reading // backsight, intermediate sight, foresight
	Elevation           Reading // stated: a bench mark
	Rod                 Reading // down from the laser of SetUp
	SetUp               string  // of Rod
	Line                int     // of the file, for messages
}

// Level is a row with its elevation.
type Level struct {
	Row       int     // index into the rows given
	SetUp     int     // number of the set-up it was read from, from 1; 0 for a bench mark that a run starts on
	Elevation float64 // as read, or as stated [m]
	Shared    float64 // what the misclosure adds to it [m]
}

// Final returns the elevation with its share of the misclosure [m].
func (l *Level) Final() float64 { return l.Elevation + l.Shared }

// Run is a chain of set-ups from one known elevation to the next.
type Run struct {
	From, To    string  // stations; To is the last turning point where the run does not close
	SetUps      int     // how many
	Backsights  float64 // sum [m]
	Foresights  float64 // sum [m]
	First, Last float64 // elevations as read [m]
	Closed      bool    // it ends on a known elevation
	Known       float64 // that elevation [m]
	Allowed     float64 // misclosure that is allowed [m]

	firstSetUp int
}

// Check returns sum of backsights less sum of foresights, which must equal Last less First [m].
func (r *Run) Check() float64 { return r.Backsights - r.Foresights }

// Misclosure returns what was read for the end less what is known of it [m]; 0 for a run that does not close.
func (r *Run) Misclosure() float64 { return choose.If(r.Closed, r.Last-r.Known, 0) }

// Within reports whether the run closes within what is allowed.
func (r *Run) Within() bool { return r.Closed && math.Abs(r.Misclosure()) <= r.Allowed*(1+1e-9) }

// Tie is a station that two laser set-ups share, or one whose elevation is stated and was read as well.
type Tie struct {
	Station string
	SetUp   string
	Differs float64 // elevation read from SetUp less the one known before [m]
}

// Reduction is a level book with its elevations.
type Reduction struct {
	Levels []Level // one for each row that has an elevation, in their order
	Runs   []Run
	Ties   []Tie
}

// Error is a level book that cannot be reduced.
type Error struct {
	Line int
	Rule string
	Mend string
}

// Error returns the rule that was broken and the mend.
func (e *Error) Error() string { return fmt.Sprintf("line %d: %s; %s", e.Line, e.Rule, e.Mend) }
