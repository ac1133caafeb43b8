package study_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// A hollow of side a and depth d in a roof that is walled all round and has no outlet: d deep over a², a²d/3 of water (a pyramid). With
// an outlet, or where somebody looked and found none, the shape says no more than the ponds do.
func TestLowPlaces(t *testing.T) {
	const a, d = 4.0, 0.06
	walled := func() *roof.Roof {
		r := shape.Dish(a, d)
		r.Outline.Edge, r.Edges = roof.Wall, nil
		return r
	}
	s, err := study.Run(walled(), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	low := s.LowPlaces
	if low == nil || low.Count != 1 || !(math.Abs(low.Depth-d) <= 1e-4) || !(math.Abs(low.Area-a*a) <= 0.01) || !(math.Abs(low.Volume-a*a*d/3) <= 1e-3) {
		t.Fatalf("low places: %+v", low)
	}
	if !(math.Hypot(low.Deepest[0]-1.5*a, low.Deepest[1]-1.5*a) <= 0.01) {
		t.Errorf("the deepest is at %v", low.Deepest)
	}
	if len(s.Listed) != 0 {
		t.Errorf("%d ponds are told without an outlet", len(s.Listed))
	}
	none := walled()
	none.Outline.NoOutlets = true
	for name, r := range map[string]*roof.Roof{"none there": none, "open edges": shape.Dish(a, d)} {
		if s, err = study.Run(r, study.Options{}); err != nil || s.LowPlaces != nil {
			t.Errorf("%s: %v, %+v", name, err, s.LowPlaces)
		}
	}
}
