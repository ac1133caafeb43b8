package cell_test

import (
	"strings"
	"testing"

	"runnel/export/cell"
)

// What a spreadsheet may run as a formula begins with =, +, -, @, a tab or a line break: OWASP, "CSV
// Injection" (recalled).
func TestCellsAreNoFormulas(t *testing.T) {
	for in, want := range map[string]string{
		"plain":                 "plain",
		"=1+1":                  "'=1+1",
		"+SUM(A1)":              "'+SUM(A1)",
		"-cmd":                  "'-cmd",
		"@x":                    "'@x",
		"  =1":                  "'  =1",
		"\t=1":                  "' =1",
		"a\r\n=1":               "a  =1",
		"-12.5":                 "-12.5",
		"+3":                    "+3",
		"":                      "",
		"\x00=1":                "' =1",
		"\u202e=1":              "'=1",
		"\ufeff=1":              "'\ufeff=1",
		"a\u2067b\u2069":        "ab",
		"<script>":              "<script>",
		"\uff1dHYPERLINK(\"\")": "'\uff1dHYPERLINK(\"\")",
	} {
		if got := cell.Text(in); got != want {
			t.Errorf("Text(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestLongTextsStayWhole(t *testing.T) {
	if long := strings.Repeat("x", 10_000); cell.Text(long) != long {
		t.Error("a long text was changed")
	}
}
