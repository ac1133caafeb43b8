// Package correction works out what mends a roof and runs the whole analysis on each corrected roof to see whether it does.
//
// Each pond gets its own candidates, in an order of preference: first what a crew does with what is there, last what
// takes the roof apart. One choice for each pond is built together; where a run of the whole analysis finds
// the pond still there, or anything worse than before, the next candidate takes its place. Three answers come of it: mend the ponds
// now, bring the failing sections to the limit, and what to do at re-roofing.
//
// Nothing may be worse after than before: no new finding that calls for repair, no new flat plane or valley, no overflow left high over its primary
// outlet, no higher or heavier water with every primary outlet blocked, no sill nearer to water. Overflows are never raised to fit a fill.
// What is not known (a height that nobody measured, a deck without cores) is asked, never passed. Nothing here designs structure: what an engineer has to
// say comes first, and until it is said no answer meets.
package correction

import (
	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// Input is what Of reads.
type Input struct {
	Study    *study.Study
	Options  study.Options // with which that study was run
	Steering mend.Steering
	// Deck returns the deck's elevation at a place with its standard deviation [m]; nil or false: not known.
	Deck func(p orb.Point) (z, sigma float64, ok bool)
	// Gravity is the user's design gravity load of the roof [Pa]; 0: not known.
	Gravity float64
	// Rates are the tapers that the supplier has [rise/run], ascending; nil: only the slope that is asked for is tried.
	Rates []float64
	// Boards says how the supplier's boards come; zeros: the usual ones.
	Boards mend.Boards
	// Cost returns what an option costs at the user's prices; where it is given, the cheapest of the ways that dry the ponds is taken. nil: money does not decide.
	Cost func(o *Option) (cost float64, ok bool)
}

// The answers, in order.
const (
	MendNow      = "mend-now"
	BringToLimit = "bring-to-limit"
	AtReroofing  = "at-reroofing"
)

// Result is what may be done.
type Result struct {
	KeepOff       []Reason // nobody onto the roof, or onto these places, until somebody has looked; empty: none known
	EngineerFirst []Reason // what an engineer has to say first; clearing and measuring go on meanwhile
	Answers       []Answer // three, in order
	Options       []Option // all that was tried, those of the answers among them
	Preference    []mend.Kind
	Bound         Bound  // what no option can undercut
	Best          int    // option of the first answer that meets; -1: none does
	InTheWay      *Limit // where none meets: the limit that the first answer breaks; nil where something else is what is left
}

// Reason is why somebody has to be asked first.
type Reason struct {
	Why     finding.Text // a sentence
	Where   string       // label or id, empty for the whole roof
	At      orb.Point
	Decides string
	Asked   roof.Asked // the question whose answer takes the reason away; empty: what was found does
}

// Answer is one way to go on, with what has to be found out first.
type Answer struct {
	Name      string
	Option    int // index into Result.Options
	Meets     bool
	Questions []mend.Question
	Left      []Leftover
	Asked     []finding.Text // of AtReroofing: what the code asks
	Practice  []finding.Text // of AtReroofing: what is good practice beyond that
}

// Leftover is a finding that the answer does not mend.
type Leftover struct {
	Kind    finding.Kind
	Pond    string // id on the roof as found, else empty
	What    finding.Text
	Do      finding.Text // what is to be done about it; empty where the changes say it
	Decides string
}

// Bound is the least surface without regard to boards: the lowest on the survey's own spots that drains at the slope.
type Bound struct {
	Fill  float64 // [m3]
	Slope float64
}

// Option is one roof that was tried.
type Option struct {
	Kind   mend.Kind
	Parts  []mend.Kind // of a combination
	Answer string      // the first answer that it is; empty: it was tried and not taken
	Gauge  string      // of a taper: "four-way", ...
	Slope  float64
	Valley float64 // flattest valley of the new surface [rise/run]; 0: none

	Possible bool
	Why      finding.Text // why it is not possible, or what it does

	Meets     bool    // no pond listed, nothing worse, no limit broken
	Fill      float64 // [m3]
	Least     float64 // of a taper: the least fill on the same base at the same slope and thickness that need not be planes for boards [m3]; else 0
	ToMeasure float64 // of stock boards over the whole roof: what planes cut to measure to the slope of new work would take instead [m3]; else 0
	Cut       float64 // [m3]
	Area      float64 // plan area that is touched [m2]
	Opened    float64 // membrane opened or covered, in whole or half boards and strip-in [m2]
	Average   float64 // of the fill on that area [m]
	Greatest  float64 // thickness of fill [m]
	Deepest   float64 // cut [m]
	Added     float64 // average dead load of the fill on that area, less what comes off where cores tell it [Pa]
	Most      float64 // greatest [Pa]
	Off       float64 // dead load of the insulation that comes off, on average [Pa]; meaningful when OffKnown
	OffKnown  bool
	R         Resistance
	PondsLeft int
	Left      []string // ids of the ponds as surveyed in whose place one is left
	FlatLeft  int      // planes and valleys under the criterion
	Worse     []Limit  // what is worse than before; an option with any is refused
	Unknown   []Limit  // limits for which something was not measured
	Limits    []Limit  // limits that are broken
	Checked   []Limit  // limits that are kept
	Flags     []Limit  // what somebody else has to allow
	Changes   []mend.Change
	Decides   []string
	Blocked   [2]Blocked // before and after; meaningful when BlockedKnown

	BlockedKnown bool
	NewOutlets   int

	Boards []orb.LineString // where the boards that are opened end, for local mends: straight lines
	Made   []mend.Kind      // by facet of the design: the change that makes it, empty for one that stays; nil for a taper over the whole roof
	Design *taper.Design    // nil where the surface stays
	Roof   *roof.Roof       // the corrected roof, nil where it is not possible
	Study  *study.Study     // of that roof: a narrow one, which Complete completes

	earlier   []mend.Change   // of an option on top of another: that one's, with what they open on this roof
	picks     []int           // the choice for each pond
	questions []mend.Question // of its changes
	mends     []*mend.Mend
	wide      int              // mends that open more than a local one may, and ponds that were given up
	problem   *taper.Problem   // of a taper over the whole roof
	where     *surface.Locator // on its own surface
}

// Blocked is the water with every primary outlet blocked.
type Blocked struct {
	Level  float64 // of the deepest water [m]
	Depth  float64 // [m]
	Weight float64 // of all of it [kg]
	Load   float64 // at the deepest [Pa]
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
