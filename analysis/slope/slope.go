// Package slope gives slope and aspect of facets and planes, and the lines on which planes meet.
//
// Aspect is the bearing, degrees clockwise from grid north, of the direction water runs.
package slope

import (
	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

// Plane is a largest connected set of facets of one slope.
type Plane struct {
	Facets   []int32    // facets of the uncut TIN, ascending
	Gradient [2]float64 // uphill gradient of the fitted plane
	Slope    float64    // rise over run
	Aspect   float64    // degrees; meaningless when Level
	Level    bool
	Sigma    float64 // standard error of Slope; 0 when no spot carries sigma
	Area     float64 // plan area [m2]
	Offset   float64 // elevation of the fitted plane at the local origin
	Outline  orb.MultiPolygon
	BelowMin bool
	Assumed  float64 // share of its area on assumed facets
}

// LineKind says how two facets meet.
type LineKind uint8

// The two kinds of line.
const (
	ValleyLine LineKind = iota
	RidgeLine
)

// Line is a chain of TIN edges on which water gathers (valley) or parts (ridge).
type Line struct {
	Kind     LineKind
	Type     roof.BreaklineType // of the breakline it follows; GradeBreak when found from the surface alone
	Named    bool               // follows a breakline
	Vertices []int32            // of the uncut TIN, from the higher end to the lower
	Plan     orb.LineString
	Length   float64 // plan [m]
	Drop     float64 // first less last elevation [m]
	Slope    float64 // Drop / Length
	BackFall float64 // greatest rise against the fall along it [m]
	BelowMin bool    // a valley flatter than the criterion
}

// Slopes is the result for one surface.
type Slopes struct {
	Slope         []float64 // per facet of the uncut TIN
	Aspect        []float64 // per facet, degrees; NaN on level facets
	Sigma         []float64 // per facet: standard error of the slope; nil when no spot carries sigma
	Plane         []int32   // per facet: index into Planes
	Planes        []Plane   // by area, falling
	Valleys       []Line
	Ridges        []Line
	BelowMinShare float64 // share of plan area on planes below the criterion
}
