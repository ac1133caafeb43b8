package inspection_test

import (
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// What is wrong does not hang on which way the walls run.
func TestFindingsAtASlant(t *testing.T) {
	studytest.Slanted(t, 0.03, func(s *study.Study, say func(format string, args ...any)) {
		for _, f := range s.Findings {
			if f.Kind == finding.SpotOdd || f.Kind == finding.BaySusceptible { // a slip may be one along an axis of the grid; and a plane stands at the very limit of bays
				continue
			}
			say("%s %s, outlet %d, %.4f, decides %s, confidence %v", f.Kind, f.Severity, f.Outlet, f.Size, f.Decides, f.Confidence)
			for _, q := range f.Measured {
				if q.Dim != finding.Bearing && q.Name != "directions in which the roof falls away" {
					say("%s: %s %.4f", f.Kind, q.Name, q.Value)
				}
			}
		}
	})
}
