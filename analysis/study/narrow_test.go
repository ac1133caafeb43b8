package study_test

import (
	"reflect"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
)

// TestNarrowThenComplete: a narrow run finds the same ponds, and completed it is what a run makes at once.
func TestNarrowThenComplete(t *testing.T) {
	for seed := range uint64(6) {
		r := shape.Random(seed, 80)
		whole, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		s, err := study.Run(r, study.Options{Narrow: true})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if len(s.Contours) > 0 || len(s.NextSpots) > 0 || !reflect.DeepEqual(s.Listed, whole.Listed) || !reflect.DeepEqual(s.Ponds.Level, whole.Ponds.Level) {
			t.Errorf("seed %d: %d contours, ponds %v and %v", seed, len(s.Contours), s.Listed, whole.Listed)
		}
		if err := s.Complete(study.Options{Narrow: true}); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for name, pair := range map[string][2]any{
			"contours": {s.Contours, whole.Contours}, "bounds": {s.Bounds, whole.Bounds}, "odd": {s.Odd, whole.Odd}, "findings": {s.Findings, whole.Findings},
			"next spots": {s.NextSpots, whole.NextSpots}, "rests": {s.Rests, whole.Rests}, "survey": {s.Survey, whole.Survey}, "warnings": {s.Warnings, whole.Warnings},
		} {
			if !reflect.DeepEqual(pair[0], pair[1]) {
				t.Errorf("seed %d: %s %+v, at once %+v", seed, name, pair[0], pair[1])
			}
		}
	}
}
