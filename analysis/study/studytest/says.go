package studytest

import (
	"strings"
	"testing"
)

// Says holds a text to what it must say, and after "not " what it must not.
func Says(t *testing.T, text string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if no, found := strings.CutPrefix(w, "not "); found {
			if strings.Contains(text, no) {
				t.Errorf("%q is said in\n%s", no, text)
			}
		} else if !strings.Contains(text, w) {
			t.Errorf("%q is not said in\n%s", w, text)
		}
	}
}
