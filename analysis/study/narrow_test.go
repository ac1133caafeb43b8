package study_test

import (
	"errors"
	"reflect"
	"testing"

	"runnel/analysis/contour"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/standard"
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

// TestFindingsOnly: a run for findings alone finds what a whole run finds, with the same bounds of ponds, and makes nothing else. What a whole run refuses it
// refuses.
func TestFindingsOnly(t *testing.T) {
	for seed := range uint64(6) {
		r := shape.Random(seed, 80)
		whole, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		s, err := study.Run(r, study.Options{FindingsOnly: true})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if len(s.Contours) > 0 || len(s.NextSpots) > 0 || s.Bounds.Catchments != nil || len(whole.Contours) == 0 || whole.Bounds.Catchments == nil {
			t.Errorf("seed %d: %d contours, %d next spots, catchments %v", seed, len(s.Contours), len(s.NextSpots), s.Bounds.Catchments)
		}
		for name, pair := range map[string][2]any{
			"findings": {s.Findings, whole.Findings}, "ponds": {s.Listed, whole.Listed}, "bounds": {s.Bounds.Ponds, whole.Bounds.Ponds}, "odd": {s.Odd, whole.Odd},
			"rests": {s.Rests, whole.Rests}, "survey": {s.Survey, whole.Survey}, "rank": {s.Rank, whole.Rank}, "warnings": {s.Warnings, whole.Warnings},
			"travel": {s.Catchments.Full, whole.Catchments.Full},
		} {
			if !reflect.DeepEqual(pair[0], pair[1]) {
				t.Errorf("seed %d: %s %+v, in a whole run %+v", seed, name, pair[0], pair[1])
			}
		}
		for _, only := range []bool{false, true} {
			var refused *contour.IntervalError
			if _, err := study.Run(r, study.Options{FindingsOnly: only, Criteria: standard.Overrides{"contour": 1e-9}}); !errors.As(err, &refused) {
				t.Errorf("seed %d, findings only %t: contours every nanometre: %v", seed, only, err)
			}
		}
	}
}
