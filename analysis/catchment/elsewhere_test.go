package catchment_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// What is found does not hang on where the site grid begins.
func TestCatchmentsElsewhere(t *testing.T) {
	studytest.Moved(t, func(s *study.Study) any { return s.Catchments })
}

// Nor on which way north is.
func TestCatchmentsTurned(t *testing.T) {
	studytest.Turned(t, func(s *study.Study, say func(format string, args ...any)) {
		for _, c := range s.Catchments.Full {
			say("outlet %d: %.4f m2", c.Outlet, c.Area)
		}
		for _, p := range s.Catchments.Longest {
			say("way to %d: %.5f m", p.Outlet, p.Travel)
		}
	})
}
