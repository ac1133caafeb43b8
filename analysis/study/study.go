// Package study runs every step of the analysis in order.
package study

import (
	"runnel/analysis/catchment"
	"runnel/analysis/contour"
	"runnel/analysis/finding"
	"runnel/analysis/flow"
	"runnel/analysis/ponding"
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
	Flow       *flow.Network
	Ponds      *ponding.Ponds
	Catchments *catchment.Catchments
	Findings   []finding.Finding
	Warnings   []string
	Seconds    map[string]float64 // time of each step
}
