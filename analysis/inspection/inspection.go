// Package inspection turns what was computed into findings: what is wrong, where, how much, against
// which limit, and what to do next.
//
// A physical fault is reported once. Water that stands is the first thing a roof shows, so a listed pond
// has a finding, and a plane or valley is not reported again where the pond's causes already name it.
// Verdicts on slope allow for two standard errors of what was measured; what the measurements do not
// carry is a note. Every limit comes with its source from package standard.
package inspection

import (
	"slices"

	"runnel/analysis/blunder"
	"runnel/analysis/bounds"
	"runnel/analysis/catchment"
	"runnel/analysis/cause"
	"runnel/analysis/choose"
	"runnel/analysis/drainage"
	"runnel/analysis/evidence"
	"runnel/analysis/finding"
	"runnel/analysis/flow"
	"runnel/analysis/place"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// Results is all that findings are drawn from.
type Results struct {
	Roof       *roof.Roof
	Criteria   standard.Criteria
	Surface    *surface.Surface
	Slopes     *slope.Slopes
	Ponds      *ponding.Ponds
	Listed     []Listed
	Causes     []cause.Diagnosis // one for each of Listed
	Catchments *catchment.Catchments
	Flow       *flow.Network
	Places     *place.Finder
	Errors     *evidence.Errors // how good the elevations are
	Evidence   *evidence.Result // what the spots say of each pond

	Drainage  *drainage.Drainage // nil where nobody asked what the outlets take
	Load      *rainload.Load     // with every primary outlet blocked; nil as Drainage
	Cases     []Case             // states of the water, the mildest first
	Sills     []SillWater        // what SillsOf returns
	Cores     []finding.Finding  // what the cores show to be wrong
	Bounds    *bounds.Bounds     // of the figures of Listed; nil where nobody asked
	Odd       []blunder.Odd      // measured points that do not fit, worst first
	OddAll    int                // how many there are: Odd may hold only the worst
	Full      []FullDepth        // ponds whose depth when full a few heights tell, where there is no surface
	TooCoarse []int              // indices into Roof.Stains of water that the spots alone do not show
	Rests     [][]int32          // for each of Listed, indices into Odd of the points that it rests on; nil as Odd
	LowPlaces *LowPlaces         // what the shape alone tells where nobody surveyed the outlets; nil elsewhere
}

// inspector is Results with tables made once.
type inspector struct {
	*Results
	wet      []int32            // per facet of the uncut TIN: position in Listed of the pond on it, -1 dry
	locate   *surface.Locator   // of the uncut TIN
	position []int32            // per pond: position in Listed, -1 not listed
	grades   []finding.Severity // of Listed; nil before anybody asked
	gapFound *hole              // the largest part without spots; nil before anybody asked
}

// leastArea is the area over which a criterion must be missed to call for repair: 10 ft2.
const leastArea = 10 * float64(quantity.Foot) * float64(quantity.Foot)

// Findings returns what is wrong, the worst first: urgent, then repairs, then notes, each in the order of Rank and then by size.
func Findings(r *Results) []finding.Finding {
	in := &inspector{Results: r, locate: surface.NewLocator(r.Surface.TIN)}
	in.markWet()
	var out []finding.Finding
	for _, inspect := range []func() []finding.Finding{
		in.ponds, in.noWayOut, in.overflow, in.planes, in.flatPlanes, in.valleys, in.feet, in.travel, in.inverts, in.unused,
		in.stains, in.thin, in.gap, in.odd, in.tops, in.levels,
		in.heights, in.openings, in.single, in.capacities, in.overLimit, in.bays, in.sills,
	} {
		out = append(out, inspect()...)
	}
	out = append(out, r.Cores...)
	off := KeepOffOf(r)
	off.guard(out)
	r.sortWorstFirst(out)
	return out
}

// blank returns a finding of a kind that concerns no pond and no outlet.
func blank(k finding.Kind, s finding.Severity) finding.Finding {
	return finding.Finding{Kind: k, Severity: s, Pond: -1, Outlet: -1, Decides: finding.Roofer, Confidence: finding.Shown}
}

// markWet notes for every facet of the uncut TIN the listed pond that stands on any of it.
func (in *inspector) markWet() {
	in.wet = slices.Repeat([]int32{-1}, in.Surface.TIN.Facets())
	in.position = slices.Repeat([]int32{-1}, len(in.Ponds.Ponds))
	parent := in.Surface.Cut.Parent
	for i := len(in.Listed) - 1; i >= 0; i-- { // the worst last, so that it wins
		in.position[in.Listed[i].Pond] = int32(i)
		for _, f := range in.Ponds.Ponds[in.Listed[i].Pond].Facets {
			if parent != nil {
				f = parent[f]
			}
			in.wet[f] = int32(i)
		}
	}
}

// usual returns the criteria that hold where nobody states others.
func (in *inspector) usual() standard.Criteria { return standard.DefaultsOf(in.Criteria.Practice) }

// rules returns the rules on the ways out of the roof.
func (in *inspector) rules() standard.Arrangement {
	return standard.ArrangementOf(in.Criteria.Practice)
}

// cite returns the source of a criterion, and says so where it was stated for this roof.
func (in *inspector) cite(name string, stated bool) string {
	if stated {
		return "stated for this roof"
	}
	s, ok := standard.CiteIn(in.Criteria.Practice, name)
	return choose.If(ok, s.Text, "common practice, no source")
}
