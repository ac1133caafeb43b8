package taper_test

import (
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/taper"
)

// TestRandomRoofsDrain: whatever the roof, the corrected one written as a survey is taken, and nothing deeper than a millimetre stands on it.
func TestRandomRoofsDrain(t *testing.T) {
	roofs := 0
	for seed := range uint64(150) {
		r := shape.Random(seed, 150)
		s := built(t, r)
		if len(taper.Sources(s)) == 0 {
			continue
		}
		roofs++
		d, _ := design(t, r, 1.0/48, 0.0127, taper.FourWay)
		again := built(t, d.Roof(r, s))
		ponds, err := ponding.Find(again.Cut, again.Outlets, again.Cut.Z)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, p := range ponds.Ponds {
			if p.Depth > 0.001 {
				t.Errorf("seed %d: water %g m deep", seed, p.Depth)
			}
		}
		if got := len(again.Outlets); got != len(s.Outlets) {
			t.Errorf("seed %d: %d outlets of %d", seed, got, len(s.Outlets))
		}
	}
	if roofs < 100 {
		t.Errorf("only %d roofs", roofs)
	}
}

// TestNothingToDrainTo: a roof without a primary outlet is refused.
func TestNothingToDrainTo(t *testing.T) {
	r := level(10, 8)
	shape.Drain(r, 5, 4, 0.3).Duty = roof.Overflow
	s := built(t, r)
	d := domain(t, s)
	if _, err := taper.Least(&taper.Problem{
		Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s), Gauge: taper.FourWay(d.Axis), Slope: 0.02,
	}); err == nil {
		t.Error("a roof without outlets was given a surface")
	}
}
