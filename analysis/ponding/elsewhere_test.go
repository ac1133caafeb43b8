package ponding_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// What is found does not hang on where the site grid begins.
func TestPondsElsewhere(t *testing.T) {
	studytest.Moved(t, func(s *study.Study) any { return s.Ponds })
}

// Nor on which way north is.
func TestPondsTurned(t *testing.T) {
	studytest.Turned(t, func(s *study.Study, say func(format string, args ...any)) {
		for _, p := range s.Ponds.Ponds {
			say("%.6f m deep, %.5f m2, %.6f m3, level %.6f", p.Depth, p.Area, p.Volume, p.Level)
		}
	})
}
