// Package palette holds the colours of maps and drawings, each with one meaning everywhere.
package palette

import (
	"fmt"
	"math"
	"strconv"

	"runnel/analysis/finding"
)

// Colours, one meaning each. Under full protanopia, deuteranopia and tritanopia, and in plain sight, any
// two of a group stay at least 20 apart in CIE L*a*b* (tested); points, lines and areas differ by shape
// and width as well.
const (
	Ink      = "#28002F" // outline, edges, curbs
	Water    = "#2B3982" // ponds
	Gather   = "#37C6FF" // valleys
	Part     = "#B73A00" // ridges
	Level    = "#7D79A3" // contours
	Way      = "#7C1ECC" // flow paths
	Primary  = "#228F60" // outlets that normally take the water
	Overflow = "#B1C8CF" // outlets that take it when those are blocked
	Urgent   = "#6D001C" // findings
	Repair   = "#FE8F3B" // findings
	Note     = "#FFF029" // findings
)

// Steepness are the fills of facets by slope, flattest first: under 1/16, 1/8, 3/16, 3/8 in per ft, and
// from there on. The usual 1/4 in per ft lies well inside its class, so that noise does not mottle it.
var Steepness = [5]string{"#6B3A2C", "#BD612B", "#F8C98C", "#E6F2E9", "#80A9C4"}

// SteepnessLimits are the upper limits of the first four classes, rise over run.
var SteepnessLimits = [4]float64{1. / 192, 1. / 96, 1. / 64, 1. / 32}

// SteepnessOf returns the class of a slope, an index into Steepness.
func SteepnessOf(slope float64) int {
	for i, limit := range SteepnessLimits {
		if slope < limit {
			return i
		}
	}
	return len(SteepnessLimits)
}

// Areas are the fills of catchments, taken in turn.
var Areas = [4]string{"#B8DAD9", "#FFD491", "#5080B6", "#BB655C"}

// OfSeverity is the colour of a finding.
func OfSeverity(s finding.Severity) string {
	switch s {
	case finding.Urgent:
		return Urgent
	case finding.Repair:
		return Repair
	case finding.Note:
	}
	return Note
}

// Tint mixes a share of a colour with white.
func Tint(colour string, share float64) string {
	n, err := strconv.ParseUint(colour[1:], 16, 32)
	if err != nil {
		return colour
	}
	mixed := uint64(0)
	for shift := 16; shift >= 0; shift -= 8 {
		part := float64(n >> shift & 255)
		mixed |= uint64(math.Round(255-float64((255-part)*share))) << shift
	}
	return fmt.Sprintf("#%06X", mixed)
}
