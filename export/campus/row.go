// Package campus writes what a check of many roofs found: one row a roof, worst first, as a table for
// reading, as CSV and as GeoJSON.
package campus

import (
	"cmp"
	"slices"
	"strings"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/record"
)

// Rule says how the rows are ordered.
const Rule = `Worst first: roofs to keep off; then by the worst finding: urgent, repair, note, and in each the deck or a
load over its limit, water that gets in, no way out, deep water with outlets blocked, an outlet that
takes half of what comes, a pond, the rest; then more urgent findings, more weight of water in the
ponds, more findings of severity repair, the name. Roofs that could not be checked stand last.`

// Row is the headline of one roof. Lengths, areas and weights are in SI.
type Row struct {
	Name, Building, Surveyed string
	Stem                     string // what its files begin with
	ID                       string // the roof's short id in those files
	Reason                   string // why it could not be checked; empty when it was
	Imperial                 bool   // its input is in feet or inches

	Counts    [3]int  // findings by severity: note, repair, urgent
	Ponds     int     // listed
	Depth     float64 // of the deepest pond [m]
	Water     float64 // area of the listed ponds [m2]
	Volume    float64 // in them [m3]
	Weight    float64 // of that [kg]
	Load      float64 // at the deepest [Pa]
	Area      float64 // net area [m2]
	Undrained float64 // [m2]
	BelowMin  float64 // share
	Assumed   float64 // share
	Outlets   int
	Spots     int
	Worst     string // what is wrong, of the first finding
	What      finding.Text
	Rank      int  // of the first finding, as study.Study has it
	KeepOff   bool // people are to keep off until a structural engineer lets them on

	Frame roof.Frame
	Units quantity.Unit
	Rings [][]roof.Position // of the outline; none when it could not be read
}

// NewRow returns the headline of s.
func NewRow(s *study.Study, stem string) Row {
	r := Row{
		Name: s.Roof.Name, Building: s.Roof.Building, Surveyed: s.Roof.Surveyed, Stem: stem,
		ID: record.RoofID(s.Roof.Name), Imperial: s.Roof.Imperial,
		Ponds: len(s.Listed), Area: s.Surface.Area, Undrained: s.Catchments.Undrained,
		BelowMin: s.Slopes.BelowMinShare, Assumed: s.Surface.AssumedShare,
		Outlets: len(s.Surface.Outlets), Spots: s.Survey.Spots,
		Frame: s.Roof.Frame, Units: s.Roof.Units, Rings: s.Roof.Outline.Rings, KeepOff: s.KeepOff.Is(),
	}
	for i := range s.Findings {
		r.Counts[s.Findings[i].Severity]++
	}
	for _, l := range s.Listed {
		p := &s.Ponds.Ponds[l.Pond]
		r.Depth = max(r.Depth, p.Depth)
		r.Load = max(r.Load, l.Load)
		r.Water += p.Area
		r.Volume += p.Volume
		r.Weight += l.Weight
	}
	if len(s.Findings) > 0 {
		r.Worst, r.What, r.Rank = string(s.Findings[0].Kind), s.Findings[0].What, s.Rank
	}
	return r
}

// Sort puts the worst first, as Rule says.
func Sort(rows []Row) {
	slices.SortStableFunc(rows, func(a, b Row) int {
		return cmp.Or(
			cmp.Compare(failed(a), failed(b)),
			Compare(a.standing(), b.standing()),
			strings.Compare(a.Name, b.Name),
			strings.Compare(a.Stem, b.Stem),
		)
	})
}

// Standing is what roofs are ordered by.
type Standing struct {
	KeepOff bool
	Counts  [3]int  // findings by severity: note, repair, urgent
	Rank    int     // of the worst finding
	Weight  float64 // of the water in the listed ponds [kg]
}

func (r *Row) standing() Standing { return Standing{r.KeepOff, r.Counts, r.Rank, r.Weight} }

// Compare orders two roofs as Rule says, without their names: negative where a is the worse.
func Compare(a, b Standing) int {
	off := func(s *Standing) int {
		if s.KeepOff {
			return 1
		}
		return 0
	}
	return cmp.Or(
		off(&b)-off(&a),
		b.severity()-a.severity(),
		a.Rank-b.Rank,
		b.Counts[finding.Urgent]-a.Counts[finding.Urgent],
		cmp.Compare(b.Weight, a.Weight),
		b.Counts[finding.Repair]-a.Counts[finding.Repair],
	)
}

// severity returns that of the worst finding, -1 where there is none.
func (s *Standing) severity() int {
	for k := len(s.Counts) - 1; k >= 0; k-- {
		if s.Counts[k] > 0 {
			return k
		}
	}
	return -1
}

func failed(r Row) int {
	if r.Reason != "" {
		return 1
	}
	return 0
}
