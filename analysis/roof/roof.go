// Package roof holds the measured roof: what a surveyor handed over, in metres in one local frame,
// before anything is computed from it.
//
// The importer fills a Roof; every later step reads it and none changes it. A Roof may hold
// contradictions (a spot twice, crossing lines, an outlet beside the wall): package surface settles
// or refuses them. Nothing here is dropped in silence: what the importer left out stands in Warnings.
package roof

import (
	"encoding/json"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Roof is one drained surface as measured.
type Roof struct {
	Name     string // "name" of the outline, or the stem of the first file
	Building string // "building" of the outline, may be empty
	Surveyed string // date as written, may be empty
	Visit    Visit  // what was noted beside the measurements

	Frame    Frame         // where the local frame lies and how to write coordinates back
	Units    quantity.Unit // unit of the outline's file: coordinates and elevations
	Imperial bool          // the input is in feet or inches: some file's unit, or lengths beside degrees where no file states one

	Outline    Outline
	Edges      []Edge
	Spots      []Spot
	Breaklines []Breakline
	Curbs      []Curb
	Outlets    []Outlet
	Cores      []Core
	Stains     []Stain
	Sills      []Sill
	Controls   []Control
	Answers    []Answer // of engineers and others who decide
	Tape       *Tape    // nil: nothing of the kind was measured

	Sigma      quantity.Length // standard error of the elevations that state none; 0: nothing states it
	WallRunoff string          // name of the rule for rain that adjoining walls shed onto the roof, of standard.WallRules; empty when not given
	Structure  Structure       // what is known of the framing; never computed

	Criteria standard.Overrides // criteria stated on the outline
	Dropped  []string           // ids of spots left out because the user said so
	Kept     []string           // ids of spots, and labels of outlets, that the user says are meant, however odd
	Inputs   []Input            // files read, in the order given
	Warnings []string           // what was left out, moved or assumed while reading; whole sentences
}

// Input names one file that was read.
type Input struct {
	Path   string // as given
	Format string // "geojson", "points" or "las"
	Units  string // unit in force for it, by name
	Frame  string // frame in force for it, by name
	Counts map[string]int
}

// Position is a place in the local frame. Z is meaningful only when HasZ is true: a missing
// elevation is never zero.
type Position struct {
	Plan orb.Point // metres, local frame: x east, y north (grid north)
	Z    float64   // metres above the site datum
	HasZ bool
}

// Feature is what every measured thing carries: where it was read and its own properties.
type Feature struct {
	Origin     Origin
	ID         string          // "id" as read or given by the importer; unique within its role
	Properties json.RawMessage // own properties as read (a JSON object), nil if none
}

// Outline is the edge of the roof. Rings[0] is the outer ring, counter-clockwise; the rest are
// holes (curbs), clockwise. Rings are closed: the last position repeats the first.
type Outline struct {
	Feature
	Rings       [][]Position
	Edge        EdgeType // default type of the outline's edges
	EdgeAssumed bool     // true when no input stated an edge type: wall is assumed
	NoOutlets   bool     // somebody looked for outlets and there are none
	Elevations  Elevations
}

// Elevations says what the elevations of an outline's corners and of the rest of its roof are.
type Elevations uint8

// Elevations of a roof that was measured throughout; of a design, where nobody held a rod; and of one whose corners were shot on the tops of its walls, which
// say nothing of the roof.
const (
	Measured Elevations = iota
	Drawn
	WallTops
)

// EdgeType says what water does at a stretch of the outline.
type EdgeType uint8

// The edge types of the trade: water cannot leave (Wall), leaves and is collected (Gutter), falls off (Free).
const (
	Wall EdgeType = iota
	Gutter
	Free
)

// Edge is a stretch of the outline with its own type. Line lies on the outline within tolerance.
type Edge struct {
	Feature
	Line   []Position
	Type   EdgeType
	Height quantity.Length // of a wall above the roof; 0 when not given
	Duty   Duty
	Label  string

	AdjoiningHeight quantity.Length // of the wall's face that sheds rain onto the roof, above the roof; 0 when there is none or it was not given
}

// Spot is one surveyed point on the finished surface.
type Spot struct {
	Feature
	Position
	Sigma quantity.Length // standard deviation of the elevation; 0 when not given

	Code string // first word of a code that is not known; "" where there was none, or one that says what was measured

	Rod     quantity.Length // reading that the elevation was reckoned from; meaningful when HasRod
	HasRod  bool
	Assumed bool // of a design: nobody measured there, and what is built leaves it as it was inferred from the spots near it
}

// BreaklineType is the kind of fold.
type BreaklineType uint8

// Kinds of breakline. GradeBreak is the default.
const (
	GradeBreak BreaklineType = iota
	Ridge
	Valley
	Hip
	Cricket
)

// Breakline is a line the surface folds on. At least two of its positions have elevations or lie on a spot.
type Breakline struct {
	Feature
	Line []Position
	Type BreaklineType
}

// Curb is a closed area that water cannot cross. Ring is closed and counter-clockwise.
type Curb struct {
	Feature
	Ring   []Position
	Height quantity.Length // above the roof, 0 when not given
	Label  string
}

// Name is what a sentence calls the curb: its label; "curb 3" where that is a bare number or there is none.
func (c *Curb) Name() string {
	switch {
	case c.Label == "":
		return "curb " + c.ID
	case strings.Trim(c.Label, "0123456789") == "":
		return "curb " + c.Label
	}
	return c.Label
}

// Core is a cut through the roof.
type Core struct {
	Feature
	Position
	Layers  []Layer // top first
	Deck    string
	Cutter  string // "tube", "hand" or empty
	Reached string // "rib", "flute", "unknown" or empty
}

// Layer is one layer of a core.
type Layer struct {
	Material  string
	Thickness quantity.Length
	Condition string // "sound", "compressed", "wet" or empty
}

// Stain is standing water as somebody saw it. Ring is closed and counter-clockwise.
type Stain struct {
	Feature
	Ring           []Position
	Depth          quantity.Length // 0 when not given
	HoursSinceRain float64         // negative when not given
	Outlets        OutletState     // when the water was seen
	Note           string
	Photo          string
}

// OutletState says whether outlets let water through.
type OutletState uint8

// OutletsUnknown is what nobody stated.
const (
	OutletsUnknown OutletState = iota
	OutletsClear
	OutletsBlocked
)

// Control ties the site grid to the map: a point known in both.
type Control struct {
	Feature
	Plan     orb.Point       // metres, local frame
	Lon, Lat float64         // degrees
	Sigma    quantity.Length // standard deviation in plan; 0 when not given
}

// PlanOf returns a line of positions in plan.
func PlanOf(line []Position) orb.Ring {
	out := make(orb.Ring, len(line))
	for i := range line {
		out[i] = line[i].Plan
	}
	return out
}
