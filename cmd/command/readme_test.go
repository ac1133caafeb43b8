package command_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var named = regexp.MustCompile("`([a-z]+\\.(?:geojson|json|csv))`:")

// examples writes each fenced block of the reference to dir under the name said last before it.
func examples(t *testing.T, dir string) {
	t.Helper()
	var data []byte
	pages, err := filepath.Glob("reference/*.md")
	if err != nil || len(pages) == 0 {
		t.Fatalf("no reference: %v", err)
	}
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		data = append(data, text...)
	}
	name, block, inside := "", "", false
	for line := range strings.Lines(string(data)) {
		switch {
		case strings.HasPrefix(line, "```") && inside:
			if err := os.WriteFile(filepath.Join(dir, name), []byte(block), 0o600); err != nil {
				t.Fatal(err)
			}
			block, inside = "", false
		case strings.HasPrefix(line, "```"):
			inside = true
		case inside:
			block += line
		default:
			if m := named.FindAllStringSubmatch(line, -1); m != nil {
				name = m[len(m)-1][1]
			}
		}
	}
}

// The files that the reference shows must be read as it says.
func TestReadmesExamplesAreRead(t *testing.T) {
	dir := t.TempDir()
	examples(t, dir)
	in := func(name string) string { return filepath.Join(dir, name) }
	office := "1,0,0,10.1,RF\n2,12,0,10.1,RF\n3,12,9,10.1,RF\n4,0,9,10.1,RF\n5,6,4.5,10,RD D-1\n" +
		"6,3,4,10.06,\n7,9,5,10.06,\n8,7,2,10.06,\n9,12,4,10.2,OF\n"
	if err := os.WriteFile(in("office.csv"), []byte(office), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, text := run(t, "reduce", in("notes.csv")); code != 0 {
		t.Errorf("level notes: exit %d, %s", code, text)
	}
	for name, args := range map[string][]string{
		"outline and spots": {in("outline.geojson"), in("spots.csv")},
		"rod readings":      {in("outline.geojson"), in("rods.csv"), "--hi", "11.42"},
		"codes alone":       {in("codes.csv")},
		"codes of an office": {
			in("office.csv"), "--units", "m", "--columns", "point,east,north,elevation,code", "--code-list", in("list.csv"),
		},
		"a tape":           {in("shed.csv")},
		"and a dozen rods": {in("shed.csv"), in("readings.csv")},

		"criteria":  {in("outline.geojson"), in("spots.csv"), "--criteria", in("criteria.json")},
		"materials": {in("outline.geojson"), in("spots.csv"), "--materials", in("materials.json")},
	} {
		if code, out, text := run(t, append([]string{"check"}, args...)...); code != 0 || !strings.Contains(out, "\nSURVEY ") {
			t.Errorf("%s: exit %d, %s", name, code, text)
		}
	}
}
