package catchment_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// Catchments and ways do not hang on which way the walls run.
func TestCatchmentsAtASlant(t *testing.T) {
	studytest.Slanted(t, 0.02, func(s *study.Study, say func(format string, args ...any)) {
		for _, c := range s.Catchments.Full {
			say("outlet %d full: %.4f m2", c.Outlet, c.Area)
		}
		for _, c := range s.Catchments.Dry {
			say("outlet %d dry: %.4f m2", c.Outlet, c.Area)
		}
		for _, p := range s.Catchments.Longest {
			if p.Travel < 2 { // hangs on the corners of round footprints
				continue
			}
			say("way to %d: %.4f m", p.Outlet, p.Travel)
		}
	})
}
