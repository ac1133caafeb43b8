// Package correction designs what may mend a roof, kind by kind, and runs the whole analysis on each corrected roof to see whether
// it does.
//
// Every option is a roof of its own that study.Run reads: it meets when no pond is listed, no plane lies under the criterion and no
// limit that could be compared is broken. What is not known (a height that nobody measured, a deck without cores) is named and never passed: an
// option whose cut may reach the deck comes after those that cannot. Options are else ordered by what they change: the least first.
// Nothing here designs structure.
package correction

import (
	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/taper"
)

// Kind names an option.
type Kind string

// The kinds of option, in the order in which they are tried.
const (
	Clear       Kind = "clear-and-watch"
	LowerOutlet Kind = "lower-outlet" // into a sump
	LowerRise   Kind = "lower-rise"   // or a recessed channel through it
	Fill        Kind = "fill"         // build up the low places on the surface as it is
	Retaper     Kind = "re-taper"     // replace insulation down to a lowered outlet, flush with the old surface at the cut line
	Cricket     Kind = "cricket"      // and saddles
	AddOutlet   Kind = "add-outlet"
	Combined    Kind = "combined" // of the kinds above
	Overlay     Kind = "overlay"  // tapered, on the existing surface
	Replace     Kind = "replace"  // tapered, on the deck
	Structure   Kind = "structure"
)

// Kinds returns all kinds in order.
func Kinds() []Kind {
	return []Kind{Clear, LowerOutlet, LowerRise, Fill, Retaper, Cricket, AddOutlet, Combined, Overlay, Replace, Structure}
}

// Steering is what the user asks for; zero values take the defaults.
type Steering struct {
	Only      []Kind
	Forbid    []Kind
	Keep      []string // labels or ids of outlets whose inverts must stay
	Slope     float64  // of new planes [rise/run]; 0: the criterion for new work
	Thickness float64  // least, above what the insulation is laid on [m]; 0: the default
	Flashing  float64  // height that must be left above the new surface [m]; 0: the default
}

// Input is what Of reads.
type Input struct {
	Study    *study.Study
	Options  study.Options // with which that study was run
	Steering Steering
	// Deck returns the deck's elevation at a place with its standard deviation [m]; nil or false: not known.
	Deck func(p orb.Point) (z, sigma float64, ok bool)
	// Gravity is the user's design gravity load of the roof [Pa]; 0: not known.
	Gravity float64
	// Rates are the tapers that the supplier has [rise/run], ascending; nil: only the slope that is asked for is tried.
	Rates []float64
}

// Result is every option that was looked at.
type Result struct {
	Options  []Option
	Best     int    // index of the option that meets, of these the least in doubt, then the least change; -1: none does
	Bound    Bound  // what no option can undercut
	InTheWay *Limit // where none meets: the limit that the nearest option breaks; nil where ponds or planes are what is left
}

// Bound is the least surface without regard to boards: the lowest on the survey's own spots that drains at the slope.
type Bound struct {
	Fill      float64 // [m3]
	Least     float64 // of a taper: the least fill on the same base at the same slope and thickness that need not be planes for boards [m3]; else 0
	Thickness float64 // minimum thickness it was computed with [m]
	Slope     float64
}

// Option is one way to mend the roof.
type Option struct {
	Kind   Kind
	Parts  []Kind // of a combination
	Gauge  string // of a taper: "four-way", ...
	Slope  float64
	Valley float64 // flattest valley of the new surface [rise/run]; 0: none

	Possible bool
	Why      finding.Text // why it is not possible, or what it does

	Meets     bool    // no pond listed, no plane under the criterion, no limit broken
	Fill      float64 // [m3]
	Least     float64 // of a taper: the least fill on the same base at the same slope and thickness that need not be planes for boards [m3]; else 0
	Cut       float64 // [m3]
	Area      float64 // plan area that is touched [m2]
	Average   float64 // of the fill on that area [m]
	Greatest  float64 // thickness of fill [m]
	Deepest   float64 // cut [m]
	Added     float64 // average dead load of the fill on that area, less what comes off where cores tell it [Pa]
	Most      float64 // greatest [Pa]
	Off       float64 // dead load of the insulation that comes off, on average [Pa]; meaningful when OffKnown
	OffKnown  bool
	R         Resistance
	Tried     int // of a taper: ways to fall and slopes whose fill was compared
	PondsLeft int
	Left      []string // ids of the ponds as surveyed in whose place one is left
	FlatLeft  int      // planes under the criterion
	Unknown   []Limit  // limits for which something was not measured
	Limits    []Limit  // limits that are broken
	Checked   []Limit  // limits that are kept
	Flags     []Limit  // what somebody else has to allow
	Changes   []Change
	Decides   []string

	Design *taper.Design // nil where the surface stays
	Roof   *roof.Roof    // the corrected roof, nil where it is not possible
	Study  *study.Study  // of that roof
}

// Limit is one limit at the place where it is nearest to being broken.
type Limit struct {
	Name      string // "flashing height", "overflow height", "minimum thickness", "added load", ...
	Required  finding.Quantity
	Available finding.Quantity
	Where     string // the thing's label or id
	At        orb.Point
	Decides   string
	Source    string
}

// Change is one thing that is done.
type Change struct {
	What finding.Text
	At   orb.Point
	Line orb.LineString   // a cut line or channel, else nil
	More []orb.LineString // further lines of the same change
}
