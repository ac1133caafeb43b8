package layer

import (
	"math"
	"testing"

	"runnel/export/palette"
	"runnel/export/record"
)

// Of bands of water the deeper is the darker, in even steps: by hand of four bands 0.3, 0.45, 0.6 and 0.75.
func TestBandsDarkenWithDepth(t *testing.T) {
	for k, want := range []float64{0.3, 0.45, 0.6, 0.75} {
		if got := BandStrength(k, 4); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("band %d: %g, want %g", k, got, want)
		}
	}
}

// Ponds are shaded by their greatest depth; just half an inch, 25 mm or 2 in still counts as up to that.
func TestPondsAreShadedByDepth(t *testing.T) {
	const inch = 0.0254
	for _, c := range []struct {
		depth    float64
		units    record.Units
		name     string
		strength float64
	}{
		{0.006, record.SI, "under 10 mm deep", 0.25},
		{0.01, record.SI, "under 10 mm deep", 0.25},
		{0.0101, record.SI, "10 to 25 mm", 0.45},
		{0.03, record.SI, "25 to 50 mm", 0.65},
		{0.05, record.SI, "25 to 50 mm", 0.65},
		{0.2, record.SI, "over 50 mm", 0.9},
		{0.4 * inch, record.US, `under 1/2" deep`, 0.25},
		{0.9 * inch, record.US, `1/2" to 1"`, 0.45},
		{1.5 * inch, record.US, `1" to 2"`, 0.65},
		{3 * inch, record.US, `over 2"`, 0.9},
	} {
		if s := pondStyle(c.depth, c.units); s.Name != c.name || s.Opacity != c.strength {
			t.Errorf("%g m: %q at %g, want %q at %g", c.depth, s.Name, s.Opacity, c.name, c.strength)
		}
	}
}

// Facets are named by the slopes that their colour stands for: by hand 1/192 is 1/16 in per ft and 0.52 %, 1/96 twice that.
func TestFacetsAreNamedBySlope(t *testing.T) {
	for slope, want := range map[float64][2]string{
		0: {"under 0.5 %", "under 1/16 in per ft"}, 0.007: {"0.5 to 1.0 %", "1/16 to 1/8 in per ft"}, 0.012: {"1.0 to 1.6 %", "1/8 to 3/16 in per ft"},
		0.02: {"1.6 to 3.1 %", "3/16 to 3/8 in per ft"}, 0.05: {"3.1 % and over", "3/8 in per ft and over"},
	} {
		for k, u := range []record.Units{record.SI, record.US} {
			if s := facetStyle(slope, u); s.Name != want[k] || s.Fill != palette.Steepness[palette.SteepnessOf(slope)] {
				t.Errorf("%g: %q", slope, s.Name)
			}
		}
	}
}
