package rainload_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// How high water stands behind blocked outlets does not hang on which way the walls run.
func TestRainLoadAtASlant(t *testing.T) {
	studytest.Slanted(t, 0.01, func(s *study.Study, say func(format string, args ...any)) {
		if l := s.RainLoad; l != nil {
			say("complete %t, enclosed %t", l.Complete, l.Enclosed)
			for v, z := range l.Level {
				if up := z - s.Surface.Cut.Z[v]; up > 0.02 && v < len(s.Surface.TIN.X) {
					say("%.4f m over a spot at %.4f", up, s.Surface.Cut.Z[v])
				}
			}
		}
	})
}
