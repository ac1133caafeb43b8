package study_test

import (
	"reflect"
	"strings"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/finding/findingtest"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

func TestOutlineStatesCriteriaAndOptionsWin(t *testing.T) {
	r := shape.Plane(10, 8, 0.03, 4)
	r.Criteria = standard.Overrides{"min_slope": 0.02, "pond_depth": 0.01}
	s, err := study.Run(r, study.Options{Criteria: standard.Overrides{"min_slope": 0.015}})
	if err != nil {
		t.Fatal(err)
	}
	if s.Criteria.MinSlope != 0.015 || s.Criteria.PondDepth != 0.01 {
		t.Errorf("criteria %+v", s.Criteria)
	}
	if _, err := study.Run(r, study.Options{Criteria: standard.Overrides{"slope": 1}}); err == nil {
		t.Error("an unknown criterion was taken")
	}
}

// TestSecondsComeFromTheClock: with a clock that goes on by one second a look, no step takes no time.
func TestSecondsComeFromTheClock(t *testing.T) {
	now := 0.0
	s, err := study.Run(shape.Plane(10, 8, 0.03, 4), study.Options{Clock: func() float64 { now++; return now }})
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range []string{"surface", "slope", "flow", "ponds"} {
		if s.Seconds[step] != 1 {
			t.Errorf("%s took %g s of a clock that is looked at once a step", step, s.Seconds[step])
		}
	}
	s, err = study.Run(shape.Plane(10, 8, 0.03, 4), study.Options{})
	if err != nil || len(s.Seconds) != 0 {
		t.Errorf("without a clock: %v, %v", s.Seconds, err)
	}
}

func TestRefusedInputIsARefusal(t *testing.T) {
	_, err := study.Run(&roof.Roof{Name: "nothing"}, study.Options{})
	if err == nil {
		t.Fatal("a roof without an outline was taken")
	}
}

// TestRandomRoofs: whatever the roof, the run is whole: each listed pond has one diagnosis and one finding,
// findings are sorted by severity, every text's places have their numbers, and a second run says the same.
func TestRandomRoofs(t *testing.T) {
	for seed := range uint64(40) {
		s, err := study.Run(shape.Random(seed, 200), study.Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if len(s.Causes) != len(s.Listed) {
			t.Fatalf("seed %d: %d diagnoses of %d ponds", seed, len(s.Causes), len(s.Listed))
		}
		concerned := map[int]int{}
		for i, f := range s.Findings {
			if i > 0 && f.Severity > s.Findings[i-1].Severity {
				t.Errorf("seed %d: finding %d is %s after %s", seed, i, f.Severity, s.Findings[i-1].Severity)
			}
			if f.Pond >= 0 {
				concerned[f.Pond]++
			}
			whole(t, seed, f)
		}
		for _, l := range s.Listed {
			if concerned[int(l.Pond)] != 1 {
				t.Errorf("seed %d: pond %s has %d findings", seed, l.ID, concerned[int(l.Pond)])
			}
		}
		again, err := study.Run(shape.Random(seed, 200), study.Options{})
		if err != nil || !reflect.DeepEqual(s.Findings, again.Findings) || !reflect.DeepEqual(s.Causes, again.Causes) {
			t.Errorf("seed %d: a second run says something else (%v)", seed, err)
		}
	}
}

func whole(t *testing.T, seed uint64, f finding.Finding) {
	t.Helper()
	for _, text := range []finding.Text{f.What, f.Where, f.Why, f.Do} {
		said := text.Fill(func(finding.Quantity) string { return "n" })
		if said == "" || strings.ContainsAny(said, "{}") {
			t.Errorf("seed %d: %s says %q", seed, f.Kind, said)
		}
	}
	if f.Geometry == nil || f.Decides == "" {
		t.Errorf("seed %d: %s has no place or nobody who decides", seed, f.Kind)
	}
	known := false
	for _, k := range findingtest.Kinds() {
		known = known || k == f.Kind
	}
	if !known {
		t.Errorf("seed %d: kind %q is not in the list", seed, f.Kind)
	}
	names := map[string]bool{}
	for _, q := range f.Measured {
		if names[q.Name] {
			t.Errorf("seed %d: %s measures %q twice", seed, f.Kind, q.Name)
		}
		names[q.Name] = true
	}
}
