package flow_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// Where water runs, and how far, does not hang on which way the walls run.
func TestFlowAtASlant(t *testing.T) {
	studytest.Slanted(t, 0.01, func(s *study.Study, say func(format string, args ...any)) {
		for i := range s.Surface.Outlets {
			say("outlet: %.4f m2, %.4f m at most, %.4f m on average", s.Flow.Area[i], s.Flow.TravelMax[i], s.Flow.TravelMean[i])
		}
	})
}
