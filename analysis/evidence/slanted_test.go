package evidence_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// What the spots say of ponds does not hang on which way the walls run: evidence goes by the square of a depth, which is told to 1 or 1.5 %.
func TestEvidenceAtASlant(t *testing.T) {
	studytest.Slanted(t, 0.03, func(s *study.Study, say func(format string, args ...any)) {
		say("threshold %.4f, slope %.5f, cells of %d, changed by %.5f m", s.Evidence.Threshold, s.Evidence.Slope, s.Evidence.Cell, s.Evidence.Change)
		for i, v := range s.Evidence.Ponds {
			say("%.4f m deep: evidence %.3f, shown %t", s.Ponds.Ponds[i].Depth, v.Evidence, v.Shown)
		}
	})
}
