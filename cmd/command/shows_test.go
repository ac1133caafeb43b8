package command_test

import (
	"strings"
	"testing"
)

// The README says which pond a survey shows in the lines of the reference.
func TestTableOfTheReadmeIsThatOfTheReference(t *testing.T) {
	_, code, _ := strings.Cut(string(read(t, "reference/findings.md")), "Which pond a survey shows")
	table, _, _ := strings.Cut(code, "\n\n| severity |")
	if strings.Count(table, "\n|") < 6 || !strings.Contains(string(read(t, "../../README.md")), table) {
		t.Errorf("the README has another table than: %s", table)
	}
}
