package command_test

import (
	"strings"
	"testing"

	"runnel/analysis/standard"
)

// The help of storm names the storm of every document that is known, and how far that was read.
func TestHelpOfStormNamesDesignStorms(t *testing.T) {
	code, out, text := run(t, "storm", "--help")
	if code != 0 {
		t.Fatalf("exit %d, %s", code, text)
	}
	for _, s := range standard.DesignStorms() {
		for _, word := range []string{s.Code, s.Section, s.Primary, s.Overflow} {
			if !strings.Contains(out, word) {
				t.Errorf("storm --help does not say %q", word)
			}
		}
	}
	if !strings.Contains(out, "ASCE 7 2016, section 8.2 (read)") || !strings.Contains(out, "ASCE 7 2022, section 8.2 (from memory)") {
		t.Errorf("%s", out)
	}
}
