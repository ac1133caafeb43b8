// Package study runs every step of the analysis in order.
package study

import (
	"runnel/analysis/assembly"
	"runnel/analysis/blunder"
	"runnel/analysis/bounds"
	"runnel/analysis/catchment"
	"runnel/analysis/cause"
	"runnel/analysis/contour"
	"runnel/analysis/drainage"
	"runnel/analysis/evidence"
	"runnel/analysis/finding"
	"runnel/analysis/flow"
	"runnel/analysis/inspection"
	"runnel/analysis/mean"
	"runnel/analysis/nextspot"
	"runnel/analysis/place"
	"runnel/analysis/ponding"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Study is one roof with everything that was computed from it.
type Study struct {
	Roof       *roof.Roof
	Criteria   standard.Criteria
	Surface    *surface.Surface
	Slopes     *slope.Slopes
	Contours   []contour.Line
	Places     *place.Finder // says where a point lies
	Flow       *flow.Network
	Ponds      *ponding.Ponds
	Listed     []inspection.Listed   // the ponds that the criteria list, worst first
	Unresolved inspection.Unresolved // the sum of those that they would list and that error alone can make
	Shallow    inspection.Shallow    // the sum of the others
	LowPlaces  *inspection.LowPlaces // what the shape alone tells where nobody surveyed the outlets; nil elsewhere
	Means      *mean.Means           // what became of points denser than their errors support; nil where none are
	Errors     *evidence.Errors      // how good the elevations are
	Evidence   *evidence.Result      // what the spots say of each of Ponds
	Causes     []cause.Diagnosis     // one for each of Listed, in its order
	Catchments *catchment.Catchments
	Drainage   *drainage.Drainage
	RainLoad   *rainload.Load         // with every primary outlet blocked; nil where none can be
	Storm      *Storm                 // nil where no storm was asked for
	Assembly   *assembly.Result       // what the cores say; nil where there are none and only findings were asked for
	Cases      []inspection.Case      // states of the water that sills are compared with, the mildest first
	Sills      []inspection.SillWater // by sill, then case
	Findings   []finding.Finding      // the worst first
	Rank       int                    // how bad the worst is among those of its severity: the lower, the worse
	Odd        []blunder.Odd          // measured points that do not fit those round them, worst first
	OddAll     int                    // how many there are: Odd may hold only the worst
	Rests      [][]int32              // for each of Listed, indices into Odd of the points that it rests on
	Bounds     *bounds.Bounds         // between what figures ponds, planes and catchments lie
	KeepOff    inspection.KeepOff     // whether people are to keep off the roof, and why
	Survey     inspection.Survey
	NextSpots  []nextspot.Place     // where more spots would tell most, in walking order
	Cautions   []inspection.Caution // those that apply, in the order in which a report prints them
	Warnings   []string
	errorsFrom *evidence.Source   // where the error of spots comes from that stand beside water with errors of its own; nil elsewhere
	byLevel    []roof.Gap         // slopes that were measured with a level
	tooCoarse  []int              // stains that the spots alone do not show
	Seconds    map[string]float64 // time of each step: surface, slope, flow, ponds, water, storm

	blockedRoof *drainage.Blocked // with every primary outlet blocked; nil where it has none that can be

	measured *roof.Roof // as it was handed over, before tape and means
	narrow   bool       // Complete has something to add
}
