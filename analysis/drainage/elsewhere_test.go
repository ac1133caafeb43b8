package drainage_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// What is found does not hang on where the site grid begins.
func TestDrainageElsewhere(t *testing.T) {
	studytest.Moved(t, func(s *study.Study) any { return s.Drainage })
}

// Nor on which way north is.
func TestDrainageTurned(t *testing.T) {
	studytest.Turned(t, func(s *study.Study, say func(format string, args ...any)) {
		for _, o := range s.Drainage.Outlets {
			say("%.7f m3/s of %.5f m2, head %.5f m", o.Demand, o.Area, o.Head)
		}
	})
}
