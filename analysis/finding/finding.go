// Package finding defines what is reported as wrong: what, where, how much, and against which source.
package finding

import "github.com/paulmach/orb"

// Severity orders findings.
type Severity uint8

// Severities, least first.
const (
	Note Severity = iota
	Repair
	Urgent
)

// Confidence says how far the measurements carry a finding.
type Confidence uint8

// Confidences, weakest first.
const (
	NotResolved Confidence = iota
	Likely
	Shown
)

// Kind is one of a closed list; see kind.go.
type Kind string

// Finding is one thing that is wrong, with its evidence. Texts are templates free of units: numbers
// stand in Measured and Required and in Facts, so that us and si reports say the same.
type Finding struct {
	Kind       Kind
	Severity   Severity
	What       Text // one sentence: what is wrong
	Where      Text // the place in words
	Measured   []Quantity
	Required   []Quantity
	Source     string // of the limit: document, edition, section; "common practice, no source" where so
	Why        Text   // what shows it
	Do         Text   // what to do next
	Decides    string // roofer, plumber, engineer, owner
	Confidence Confidence
	Geometry   orb.Geometry // Point or Polygon, local frame
	Also       []Kind       // other causes that fit as well
	Pond       int          // index of the pond concerned, -1 none
	Outlet     int          // index of the outlet concerned, -1 none
	Size       float64      // sorts findings of one severity, greatest first
}

// Dimension is the physical dimension of a quantity.
type Dimension uint8

// Dimensions a finding may state. Depth is a short length (mm or inches and eighths), Flow a volume a second, Rain a rate, Length a plan
// length (m or feet and inches), Elevation a height above datum. Offset a plan distance to be held with a
// tape (to the decimetre or the inch). Name has no number: its Word is written as it stands.
const (
	Depth Dimension = iota
	Length
	Elevation
	Area
	Volume
	Mass
	Pressure
	Slope
	Share
	Count
	Bearing
	Flow
	Rain
	Name
	Offset
)

// Quantity is a named number in SI, or a name.
type Quantity struct {
	Name  string // field term without a unit: "depth", "valley slope"
	Value float64
	Dim   Dimension
	Word  string // of Dim Name, else empty
}

// Text is a sentence whose numbers are written in the reader's units: every {0}, {1} in Format stands
// for that quantity of Args. Format is written by the program alone; what comes from files stands in Args.
type Text struct {
	Format string
	Args   []Quantity
}
