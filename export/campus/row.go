// Package campus writes what a check of many roofs found: one row a roof, the worst first, as a page to read, a table for a
// browser, a workbook, CSV, JSON a line, GeoJSON and GeoPackage.
//
// There may be any number of rows: they come one after the other, are sorted in parts that are kept on the disk (sort.go), and go to
// all files in one pass (write.go). Pages for people show the worst.
package campus

import (
	"encoding/json"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/export/record"
)

// Row is the headline of one roof. Lengths, areas, weights and loads are in SI.
type Row struct {
	Name     string `json:"name"`
	Building string `json:"building,omitempty"`
	Surveyed string `json:"surveyed,omitempty"`
	Stem     string `json:"stem"`               // what its files begin with
	ID       string `json:"id,omitempty"`       // the roof's short id in those files
	Reason   string `json:"reason,omitempty"`   // why it could not be checked; empty when it was
	Imperial bool   `json:"imperial,omitempty"` // its input is in feet or inches

	Counts    [3]int  `json:"counts"`               // findings by severity: note, repair, urgent
	Ponds     int     `json:"ponds,omitempty"`      // listed
	Shown     int     `json:"shown,omitempty"`      // of them, shown by the spots
	Depth     float64 `json:"depth,omitempty"`      // of the deepest pond [m]
	Water     float64 `json:"water,omitempty"`      // area of the listed ponds [m2]
	Volume    float64 `json:"volume,omitempty"`     // in them [m3]
	Least     float64 `json:"least,omitempty"`      // sum of what each of them holds with 95 % confidence at least [m3]; as Volume where that is not known
	Most      float64 `json:"most,omitempty"`       // and at most [m3]
	Weight    float64 `json:"weight,omitempty"`     // of the water in them [kg]
	Sure      float64 `json:"sure,omitempty"`       // of the water in those that the spots show [kg]
	Load      float64 `json:"load,omitempty"`       // at the deepest [Pa]
	Blocked   float64 `json:"blocked,omitempty"`    // load at the deepest with every primary outlet blocked [Pa]; 0 where that is not known
	BlockedAt float64 `json:"blocked_at,omitempty"` // depth of that water [m]
	Area      float64 `json:"area,omitempty"`       // net area [m2]
	Undrained float64 `json:"undrained,omitempty"`  // [m2]
	BelowMin  float64 `json:"below_min,omitempty"`  // share
	Assumed   float64 `json:"assumed,omitempty"`    // share
	Outlets   int     `json:"outlets,omitempty"`
	Blind     bool    `json:"blind,omitempty"`     // its outlets were not surveyed
	Low       int     `json:"low,omitempty"`       // low places of a roof whose outlets were not surveyed
	LowDepth  float64 `json:"low_depth,omitempty"` // of the deepest of them [m]
	LowWater  float64 `json:"low_water,omitempty"` // that they would hold [m3]
	Spots     int     `json:"spots,omitempty"`
	Worst     string  `json:"worst,omitempty"` // what is wrong, of the first finding

	What    finding.Text `json:"what,omitzero"`
	Rank    int          `json:"rank,omitempty"`     // of the first finding, as study.Study has it
	KeepOff bool         `json:"keep_off,omitempty"` // people are to keep off until a structural engineer lets them on

	Dropped []string `json:"dropped,omitempty"` // ids of spots that were left out, of those that the user named
	Kept    []string `json:"kept,omitempty"`    // ids of spots and labels of outlets that are meant, of those that the user named

	Frame roof.Frame    `json:"frame,omitzero"`
	Units quantity.Unit `json:"units,omitempty"`
	Rings orb.Polygon   `json:"rings,omitempty"` // of the outline [m]; none when it could not be read
}

// NewRow returns the headline of s.
func NewRow(s *study.Study, stem string) Row {
	r := Row{
		Name: s.Roof.Name, Building: s.Roof.Building, Surveyed: s.Roof.Surveyed, Stem: stem,
		ID: record.RoofID(s.Roof.Name), Imperial: s.Roof.Imperial,
		Ponds: len(s.Listed), Area: s.Surface.Area, Undrained: s.Catchments.Undrained,
		BelowMin: s.Slopes.BelowMinShare, Assumed: s.Surface.AssumedShare,
		Outlets: len(s.Surface.Outlets), Spots: s.Survey.Spots,
		Frame: s.Roof.Frame, Units: s.Roof.Units, KeepOff: s.KeepOff.Is(),
		Dropped: s.Roof.Dropped, Kept: s.Roof.Kept,
	}
	for _, ring := range s.Roof.Outline.Rings {
		r.Rings = append(r.Rings, roof.PlanOf(ring))
	}
	for i := range s.Findings {
		r.Counts[s.Findings[i].Severity]++
		r.Blind = r.Blind || s.Findings[i].Kind == finding.OutletsUnsurveyed
	}
	for i := range s.Listed {
		r.addPond(s, i)
	}
	if low := s.LowPlaces; low != nil {
		r.Low, r.LowDepth, r.LowWater = low.Count, low.Depth, low.Volume
	}
	if s.RainLoad != nil && !s.RainLoad.Enclosed {
		r.Blocked, r.BlockedAt = s.RainLoad.Load, s.RainLoad.Depth
	}
	if len(s.Findings) > 0 {
		r.Worst, r.What, r.Rank = string(s.Findings[0].Kind), s.Findings[0].What, s.Rank
	}
	return r
}

func (r *Row) addPond(s *study.Study, i int) {
	l := &s.Listed[i]
	p := &s.Ponds.Ponds[l.Pond]
	r.Depth = max(r.Depth, p.Depth)
	r.Load = max(r.Load, l.Load)
	r.Water += p.Area
	r.Volume += p.Volume
	r.Weight += l.Weight
	least, most := p.Volume, p.Volume
	if s.Bounds != nil && i < len(s.Bounds.Ponds) && s.Bounds.Ponds[i].Trials > 0 {
		least, most = s.Bounds.Ponds[i].Volume.Low, s.Bounds.Ponds[i].Volume.High
	}
	r.Least += least
	r.Most += most
	if s.Confidence(i) == finding.Shown {
		r.Shown++
		r.Sure += l.Weight
	}
}

// ParseRow reads a row as it was written down.
func ParseRow(text []byte) (Row, error) {
	var r Row
	if err := json.Unmarshal(text, &r); err != nil {
		return r, fmt.Errorf("read a row: %w", err)
	}
	if r.Frame.Kind == roof.Geographic {
		r.Frame = roof.NewGeographic(r.Frame.Origin)
	}
	return r, nil
}

// Total is what all rows have in common.
type Total struct {
	Roofs, Failed int
	Classes       [7]int  // roofs by their worst: see classes
	Findings      [3]bool // there are any of that severity
	Imperial      bool    // the input of any is in feet or inches

	Local, Geographic bool          // some lie on site grids, some in longitude and latitude
	Unit              quantity.Unit // of the site grids: theirs where they agree, else metres

	dropped, kept []string
}

func (t *Total) add(r *Row) {
	t.Roofs++
	t.Classes[classOf(r)]++
	t.Imperial = t.Imperial || r.Imperial
	if r.Reason != "" {
		t.Failed++
	}
	for k, n := range r.Counts {
		t.Findings[k] = t.Findings[k] || n > 0
	}
	t.dropped, t.kept = union(t.dropped, r.Dropped), union(t.kept, r.Kept)
	switch {
	case len(r.Rings) == 0:
	case r.Frame.Kind == roof.Geographic:
		t.Geographic = true
	case !t.Local:
		t.Local, t.Unit = true, r.Units
	case t.Unit != r.Units:
		t.Unit = quantity.Metres
	}
}

// Had reports whether a roof had a spot of that id that was left out, or that was meant.
func (t *Total) Had(id string, dropped bool) bool {
	if dropped {
		return slices.Contains(t.dropped, id)
	}
	return slices.Contains(t.kept, id)
}

func union(a, b []string) []string {
	for _, id := range b {
		if !slices.Contains(a, id) {
			a = append(a, id)
		}
	}
	return a
}

// Classes of roofs: those that people are to keep off, then by the worst finding; those whose outlets nobody surveyed, as of a laser scan, are one of their own unless something is
// urgent.
const (
	classKeepOff = iota
	classUrgent
	classRepair
	classNote
	classNone
	classBlind
	classFailed
)

// classOf is the class of a roof.
func classOf(r *Row) int {
	switch {
	case r.Reason != "":
		return classFailed
	case r.KeepOff:
		return classKeepOff
	case r.Counts[finding.Urgent] > 0:
		return classUrgent
	case r.Blind:
		return classBlind
	case r.Counts[finding.Repair] > 0:
		return classRepair
	case r.Counts[finding.Note] > 0:
		return classNote
	}
	return classNone
}
