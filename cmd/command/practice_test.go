package command_test

import (
	"path/filepath"
	"strings"
	"testing"
)

// Where results are in SI, European figures stand beside; --practice eu takes them, and a name that is no practice is a wrong command line.
func TestPracticePicksLimitsAndWords(t *testing.T) {
	dir := t.TempDir()
	if code, _, err := run(t, "demo", dir); code != 0 {
		t.Fatal(err)
	}
	depot := []string{"check", filepath.Join(dir, "depot.geojson"), filepath.Join(dir, "depot.csv"), "--json"}
	for _, c := range []struct {
		flags []string
		want  string
	}{
		{nil, `"practice":"us"`},
		{[]string{"--practice", "eu"}, `"practice":"eu"`},
	} {
		code, out, err := run(t, append(depot, c.flags...)...)
		if code != 0 {
			t.Fatal(err)
		}
		if plain := strings.ReplaceAll(out, `": "`, `":"`); !strings.Contains(plain, c.want) {
			t.Errorf("%v: no %s", c.flags, c.want)
		}
	}
	if code, _, err := run(t, append(depot, "--practice", "uk")...); code != 2 || !strings.Contains(err, "us or eu") {
		t.Errorf("code %d, %q", code, err)
	}
	out := filepath.Join(dir, "out")
	if code, _, err := run(t, "check", filepath.Join(dir, "depot.geojson"), filepath.Join(dir, "depot.csv"), "-o", out, "--write", "report", "--units-out", "si"); code != 0 {
		t.Fatal(err)
	}
	html := string(read(t, filepath.Join(out, "depot.report.html")))
	for _, want := range []string{"in Europe 1:80 as built (BS 6229:2018, read)", "DIN 18531-1, read"} {
		if !strings.Contains(html, want) {
			t.Errorf("the report has no %q", want)
		}
	}
}
