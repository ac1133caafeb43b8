package draft_test

import (
	"testing"

	"runnel/importer/draft"
)

func TestCleanLeavesWhatPrints(t *testing.T) {
	for in, want := range map[string]string{
		"Roof 7, east wing":       "Roof 7, east wing",
		"two  blanks stay":        "two  blanks stay",
		"Dächer 屋根":               "Dächer 屋根",
		"a\nb\r\nc\td":            "a b c d",
		"\x1b[31mred\x07":         "[31mred",
		"\u202eevil\u2066\u2028x": "evil x",
		"\u0085\x00\x7f":          "",
	} {
		if got := draft.Clean(in); got != want {
			t.Errorf("%q became %q, want %q", in, got, want)
		}
	}
}

func TestBlankKeepsRowsAndFields(t *testing.T) {
	if got := draft.Blank("1\t2\r\n\x1bD,\x7f\n"); got != "1\t2\r\n D, \n" {
		t.Errorf("got %q", got)
	}
}
