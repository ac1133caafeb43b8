package flow_test

import (
	"testing"

	"runnel/analysis/study"
	"runnel/analysis/study/studytest"
)

// What is found does not hang on where the site grid begins.
func TestFlowElsewhere(t *testing.T) {
	studytest.Moved(t, func(s *study.Study) any { return s.Flow })
}
