package change

import (
	"math"
	"testing"

	"runnel/analysis/bounds"
	"runnel/analysis/evidence"
	"runnel/analysis/inspection"
	"runnel/analysis/ponding"
	"runnel/analysis/study"
)

// By hand: a depth is the difference of two elevations; good to 5 mm each they differ by 1.645 x 5 x 1.41421 = 11.632 mm with 95 % confidence. No water
// is less deep than nothing.
func TestDepthsThatWereNotTried(t *testing.T) {
	s := &study.Study{Ponds: &ponding.Ponds{Ponds: []ponding.Pond{{Depth: 0.030}, {Depth: 0.008}}}, Listed: []inspection.Listed{{Pond: 0}, {Pond: 1}}, Errors: &evidence.Errors{Typical: 0.005}}
	for i, want := range [][2]float64{{0.018368, 0.041632}, {0, 0.019632}} {
		if got := depths(s, i); !(math.Abs(got.Low-want[0]) <= 1e-5) || !(math.Abs(got.High-want[1]) <= 1e-5) {
			t.Errorf("pond %d: %+v, want %v", i, got, want)
		}
	}
	tried := bounds.Range{Low: 0.02, High: 0.03}
	s.Bounds = &bounds.Bounds{Ponds: []bounds.Pond{{Trials: 1, Depth: tried}, {Depth: tried}}}
	if got := depths(s, 0); got != tried {
		t.Errorf("as tried: %+v, want %+v", got, tried)
	}
	if got := depths(s, 1); got == tried {
		t.Errorf("not tried: %+v", got)
	}
}
