package record_test

import (
	"testing"

	"runnel/analysis/finding"
	"runnel/export/record"
)

// The suffixes are those of the output's table of layers.
func TestNameEndsInTheUnit(t *testing.T) {
	for _, c := range []struct {
		dim    finding.Dimension
		si, us string
	}{
		{finding.Depth, "x_mm", "x_in"},
		{finding.Elevation, "x_m", "x_ft"},
		{finding.Area, "x_m2", "x_ft2"},
		{finding.Volume, "x_l", "x_gal"},
		{finding.Mass, "x_kg", "x_lb"},
		{finding.Pressure, "x_kpa", "x_psf"},
		{finding.Flow, "x_lps", "x_gpm"},
		{finding.Rain, "x_mm_per_h", "x_in_per_h"},
		{finding.Slope, "x_pct", "x_pct"},
		{finding.Bearing, "x_deg", "x_deg"},
	} {
		if got := record.SI.Name("x", c.dim); got != c.si {
			t.Errorf("SI: %q, want %q", got, c.si)
		}
		if got := record.US.Name("x", c.dim); got != c.us {
			t.Errorf("US: %q, want %q", got, c.us)
		}
	}
}
