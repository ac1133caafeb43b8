package surface_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// What is found does not hang on where the site grid begins.
func TestSurfaceElsewhere(t *testing.T) {
	studytest.Moved(t, func(s *study.Study) any { return s.Surface })
}
