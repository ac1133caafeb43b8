package standard_test

import (
	"testing"

	"runnel/analysis/standard"
)

// A pond of 100 ft2 or more is listed from 1/8 in, a smaller one from 1/4 in; where the wide limit is the higher one it counts for nothing.
func TestListedFrom(t *testing.T) {
	c := standard.Criteria{PondDepth: 0.006, PondDepthWide: 0.003, WideArea: 9}
	for area, want := range map[float64]float64{8.99: 0.006, 9: 0.003, 50: 0.003} {
		if got := c.ListedFrom(area); got != want {
			t.Errorf("%g m2: from %g", area, got)
		}
	}
	c.PondDepthWide = 0.010
	if got := c.ListedFrom(50); got != 0.006 {
		t.Errorf("from %g", got)
	}
}
