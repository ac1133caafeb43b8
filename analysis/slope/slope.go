// Package slope gives slope and aspect of facets and planes, and the lines on which planes meet.
//
// Aspect is the bearing, degrees clockwise from grid north, of the direction water runs.
//
// Planes are found by growing: the plane through a disc of facets is flooded over all facets that lie
// on it, refitted and flooded again until the set stands still; large discs first, single facets last.
// A facet lies on a plane when its corners are within the tolerance of it: 3 mm or two standard
// deviations of the survey, whichever is more; one of the three may stray twice as far, so that
// a single bad shot does not tear a plane. Where no deviation is stated it is estimated from how far
// spots lie off the plane of their neighbours, and counts up to 3 mm. A breakline parts planes unless
// both sides lie on one. Facets that only span a fold on which no spot was shot, and regions under a
// tenth of a square metre, join a neighbour and do not count in its fit.
//
// Each plane's gradient is the least-squares fit over its area. Its standard error follows from the
// deviations of the spots where they are stated, else from the residuals.
//
// Lines follow breaklines, and borders between planes where no breakline was shot. Where water runs to
// a line from one side at least and from neither away it is a valley; where it runs away on both
// sides, a ridge. Each is judged from end to end. Where the planes meet between the spots, the line is
// the straight one on which the fitted planes intersect.
package slope

import (
	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/roof"
)

// Plane is a largest connected set of facets of one slope.
type Plane struct {
	Facets   []int32    // facets of the uncut TIN, ascending
	Gradient [2]float64 // uphill gradient of the fitted plane
	Slope    float64    // rise over run
	Aspect   float64    // degrees; meaningless when Level
	Level    bool       // no slope that the spots can show: it is less than its standard error
	Sigma    float64    // standard error of Slope; 0 when no spot carries sigma
	Area     float64    // plan area [m2]
	Offset   float64    // elevation of the fitted plane at the local origin
	Outline  orb.MultiPolygon
	BelowMin bool    // Slope and its standard error together are less than the criterion
	Assumed  float64 // share of its area on assumed facets

	ResidualSigma float64 // standard error of Slope from the residuals, steadied by 1.5 mm of levelling error
	Residual      float64 // root mean square of the spots' distances from the fitted plane [m]
	Spots         int     // measured vertices that the fit rests on
	Own           int     // of them those that stand on no larger plane: a strip between two planes has none
	Inner         int     // of Spots those that stand inside it, not on its border; 0 where these stand on one line
	Loose         bool    // the spots scatter about it by more than their errors: it is no plane, and its slope is not the roof's
	Resolved      bool    // below the criterion by more than two standard errors
	Weak          float64 // area that joined the plane though it does not fit it [m2]
}

// Error returns the standard error of the plane's slope: from stated deviations, else from residuals.
func (p *Plane) Error() float64 { return choose.If(p.Sigma > 0, p.Sigma, p.ResidualSigma) }

// At returns the fitted plane's elevation at a place.
func (p *Plane) At(at orb.Point) float64 {
	return p.Offset + float64(p.Gradient[0]*at[0]) + float64(p.Gradient[1]*at[1])
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
	Vertices []int32            // of the uncut TIN, from the higher end to the lower; beside the line when Inferred
	Plan     orb.LineString
	Length   float64 // plan [m]
	Drop     float64 // first less last elevation [m]
	Slope    float64 // Drop / Length
	BackFall float64 // greatest rise against the fall along it [m]
	BelowMin bool    // a valley flatter than the criterion

	Levels    []float64 // elevation of each point of Plan [m]
	Hidden    bool      // errors hide on which edges it runs
	Met       bool      // a valley: where the planes beside it meet, by the fit of each, falls less than the criterion by more than two standard errors
	Inferred  bool      // no spots stand on it: it is where the two fitted planes meet
	Breakline int       // index into roof.Breaklines; -1 when it follows none of them
	Left      int32     // plane that adjoins most of its left side, seen along Vertices
	Right     int32     // plane that adjoins most of its right side
	Sigma     float64   // standard error of Slope
	Resolved  bool      // below the criterion by more than two standard errors
}

// Slopes is the result for one surface.
type Slopes struct {
	Slope         []float64 // per facet of the uncut TIN
	Aspect        []float64 // per facet, degrees; NaN on level facets
	Sigma         []float64 // per facet: standard error of the slope, an upper bound; nil when no spot carries sigma
	Plane         []int32   // per facet: index into Planes
	Planes        []Plane   // by area, falling
	Valleys       []Line
	Ridges        []Line
	BelowMinShare float64 // share of plan area on planes below the criterion

	Tolerance float64 // how far a spot may lie off its plane; the median of all [m]

	Noise float64 // scatter of the spots about their planes, estimated [m]; 0 when too few tell
	Weak  float64 // plan area that joined a plane without fitting it [m2]
}
