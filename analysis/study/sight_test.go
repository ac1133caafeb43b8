package study_test

import (
	"context"
	"errors"
	"reflect"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
)

// A sight has the ponds of a run and what lists them, and no words; gone on with it is what a run makes at once.
func TestSightThenGo(t *testing.T) {
	for seed := range uint64(6) {
		r := shape.Random(seed, 80)
		whole, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		s, err := study.Sight(r, study.Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if s.Slopes != nil || s.Flow != nil || len(s.Findings) > 0 {
			t.Errorf("seed %d: a sight has slopes, flow or findings", seed)
		}
		if !reflect.DeepEqual(s.Listed, whole.Listed) || !reflect.DeepEqual(s.Ponds.Level, whole.Ponds.Level) || !reflect.DeepEqual(s.Evidence, whole.Evidence) {
			t.Errorf("seed %d: ponds %v, in a run %v", seed, s.Listed, whole.Listed)
		}
		if err := s.Go(study.Options{}); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for name, pair := range map[string][2]any{
			"contours": {s.Contours, whole.Contours}, "bounds": {s.Bounds, whole.Bounds}, "odd": {s.Odd, whole.Odd}, "findings": {s.Findings, whole.Findings},
			"next spots": {s.NextSpots, whole.NextSpots}, "rests": {s.Rests, whole.Rests}, "survey": {s.Survey, whole.Survey}, "warnings": {s.Warnings, whole.Warnings},
			"planes": {s.Slopes.Plane, whole.Slopes.Plane}, "valleys": {s.Slopes.Valleys, whole.Slopes.Valleys}, "catchments": {s.Catchments, whole.Catchments}, "cautions": {s.Cautions, whole.Cautions},
			"load": {s.RainLoad, whole.RainLoad}, "in doubt": {s.Unresolved, whole.Unresolved}, "low places": {s.LowPlaces, whole.LowPlaces}, "causes": {s.Causes, whole.Causes},
		} {
			if !reflect.DeepEqual(pair[0], pair[1]) {
				t.Errorf("seed %d: %s %+v, at once %+v", seed, name, pair[0], pair[1])
			}
		}
	}
}

// A context that has ended stops what goes on.
func TestGoStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	s, err := study.Sight(shape.Random(3, 80), study.Options{Context: ctx})
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	if err := s.Go(study.Options{Context: ctx}); !errors.Is(err, context.Canceled) {
		t.Errorf("it goes on: %v", err)
	}
	if s.Surface.TIN.Halt != nil {
		t.Error("the surface still looks at the context")
	}
}
