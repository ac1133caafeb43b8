package campus

import "testing"

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
		"\uff1dHYPERLINK(\"\")": "'\uff1dHYPERLINK(\"\")",
	} {
		if got := cell(in); got != want {
			t.Errorf("cell(%q) = %q, want %q", in, got, want)
		}
	}
}
