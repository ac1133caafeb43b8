package drainage_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// What outlets must take does not hang on which way the walls run.
func TestDrainageAtASlant(t *testing.T) {
	studytest.Slanted(t, 0.01, func(s *study.Study, say func(format string, args ...any)) {
		for _, o := range s.Drainage.Outlets {
			say("%.4f l/s of %.4f m2, head %.5f m", 1000*o.Demand, o.Area, o.Head)
		}
	})
}
