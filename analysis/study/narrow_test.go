package study_test

import (
	"errors"
	"reflect"
	"slices"
	"testing"

	"runnel/analysis/contour"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
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

// TestFindingsOnly: a run for findings alone finds what a whole run finds, with the same bounds of ponds, and makes nothing else. Travel is measured where a
// criterion asks for it; a level roof without a way out (seed 4) and cores (seed 5) count as in a whole run. What a whole run refuses it refuses.
func TestFindingsOnly(t *testing.T) {
	for seed := range uint64(12) {
		r := shape.Random(seed%6, 80)
		asked, level := standard.Overrides{}, seed%6 == 4
		if seed >= 6 {
			asked["max_travel"] = 0.1
		}
		switch seed % 6 {
		case 4:
			r = shape.Plane(12, 8, 0, 6)
			r.Outlets, r.Edges, r.Outline.Edge, r.Outline.NoOutlets = nil, nil, roof.Wall, true
		case 5:
			r.Cores = []roof.Core{{Position: roof.Position{Plan: r.Spots[0].Plan}, Layers: []roof.Layer{{Material: "polyiso", Thickness: 0.05, Condition: "wet"}}}}
		}
		whole, err := study.Run(r, study.Options{Criteria: asked})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		s, err := study.Run(r, study.Options{FindingsOnly: true, Criteria: asked})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if len(s.Contours) > 0 || len(s.NextSpots) > 0 || s.Bounds.Catchments != nil || len(whole.Contours) == 0 && !level || whole.Bounds.Catchments == nil && !level {
			t.Errorf("seed %d: %d contours, %d next spots, catchments %v", seed, len(s.Contours), len(s.NextSpots), s.Bounds.Catchments)
		}
		for name, pair := range map[string][2]any{
			"findings": {s.Findings, whole.Findings}, "ponds": {s.Listed, whole.Listed}, "bounds": {s.Bounds.Ponds, whole.Bounds.Ponds}, "odd": {s.Odd, whole.Odd},
			"rests": {s.Rests, whole.Rests}, "survey": {s.Survey, whole.Survey}, "rank": {s.Rank, whole.Rank}, "warnings": {s.Warnings, whole.Warnings},
			"undrained": {s.Catchments.Undrained, whole.Catchments.Undrained}, "load": {s.RainLoad, whole.RainLoad},
		} {
			if !reflect.DeepEqual(pair[0], pair[1]) {
				t.Errorf("seed %d: %s %+v, in a whole run %+v", seed, name, pair[0], pair[1])
			}
		}
		if level && whole.Catchments.Undrained == 0 || seed >= 6 && !level && !slices.ContainsFunc(whole.Findings, func(f finding.Finding) bool { return f.Kind == finding.TravelLong }) {
			t.Errorf("seed %d: the roof has a way out, or a travel of 0.1 m is not found", seed)
		}
		for _, only := range []bool{false, true} {
			var refused *contour.IntervalError
			if _, err := study.Run(r, study.Options{FindingsOnly: only, Criteria: standard.Overrides{"contour": 1e-9}}); !errors.As(err, &refused) && !level {
				t.Errorf("seed %d, findings only %t: contours every nanometre: %v", seed, only, err)
			}
		}
	}
}
