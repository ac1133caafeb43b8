package command_test

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/cmd/call"
	"runnel/cmd/command"
	"runnel/export/ledger"
)

// twelve are invented buildings with planted faults, in the order in which they are to rank. The order follows from what was planted: whoever
// stands under the roof comes before the roof, what water can do before what it does, much before little, an old survey before a new one.
func twelve() []made {
	usual := made{width: 24, depth: 12, fall: 0.022, columns: 15, rows: 10, seed: 1, surveyed: "2020-05-01", more: `,"sigma":0.001`}
	building := func(name string, change func(*made)) made {
		m := usual
		m.name = name
		change(&m)
		return m
	}
	walled := func(overflow float64) func(*made) {
		return func(m *made) { m.edge, m.outlets = "wall", drainAt(0.5)+overflowAt(4, 0, overflow) }
	}
	dammed := func(height float64, surveyed string) func(*made) {
		return func(m *made) { // between walls, or the water would leave at the sides
			m.dam, m.damWide, m.surveyed, m.edge = height, 99, surveyed, "wall"
			m.outlets = fmt.Sprintf(`,{"type":"Feature","properties":{"role":"edge","type":"free"},"geometry":{"type":"LineString","coordinates":[[0,0],[%g,0]]}}`, m.width)
		}
	}
	return []made{
		building("court", func(m *made) { // walls all round, and it is said that there is no outlet: keep off, no way out
			m.edge, m.more = "wall", m.more+`,"outlets":"none"`
		}),
		building("boiler house", func(m *made) { m.pit, m.pitWide = 0.15, 4 }), // a trough of 150 mm: keep off
		building("depot", func(m *made) { // walls, a drain, no overflow
			m.edge, m.outlets = "wall", drainAt(0.5)
		}),
		building("market hall", walled(10.3)),            // 12 in to the overflow: some 60 psf at the drain once it is blocked
		building("swimming hall", walled(10.14)),         // 6 in: some 28 psf
		building("foundry", dammed(0.065, "2020-05-01")), // a rise of 65 mm before the edge
		building("forge", dammed(0.055, "2020-05-01")),   // of 55 mm
		building("mill, old survey", dammed(0.045, "2009-05-01")),
		building("mill, new survey", dammed(0.045, "2025-05-01")),
		building("kiosk", func(m *made) { m.fall, m.surveyed = 0.014, "2012-05-01" }), // flat, but it drains: a note
		building("arcade", func(m *made) { m.fall = 0.03 }),                           // nothing
		building("zoo", func(m *made) { m.fall = 0.03 }),                              // nothing, and later in the alphabet
	}
}

// Twelve buildings with planted faults rank as planned, the broken file last; a hall whose outlets may fail does not stand below a puddle.
func TestTwelveBuildingsRankAsPlanned(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "in")
	if err := os.Mkdir(in, 0o700); err != nil {
		t.Fatal(err)
	}
	var want []string
	for i, m := range twelve() {
		file(t, in, fmt.Sprintf("%02d.geojson", (i*7)%12), m.text())
		want = append(want, m.name)
	}
	file(t, in, "broken.geojson", "{")
	want = append(want, "broken")
	out := filepath.Join(dir, "out")
	code, page, errs := run(t, "campus", in, "-o", out, "--write", "none")
	if code != 4 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var got []string
	for _, row := range table(t, out) {
		got = append(got, row["name"])
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"), page)
	}
}

// What changed since last year: each roof that was changed is told as what was done to it, and the others are not told.
func TestCompareCampuses(t *testing.T) {
	dir := t.TempDir()
	all := twelve()
	for year, change := range map[string]func(name string, m *made) bool{
		"2025": func(name string, _ *made) bool { return name != "zoo" },
		"2026": func(name string, m *made) bool {
			switch name {
			case "arcade":
				m.pit, m.pitWide, m.fall = 0.15, 4, 0.02
			case "depot":
				m.outlets = drainAt(0.5) + overflowAt(4, 0, 10.05)
			case "foundry":
				m.dam = 0.075
			case "forge":
				m.dam = 0
			case "mill, new survey": // more water by a tenth, but not by more than the errors
				m.dam = 0.049
			}
			return name != "kiosk"
		},
	} {
		in := filepath.Join(dir, year+"-in")
		if err := os.Mkdir(in, 0o700); err != nil {
			t.Fatal(err)
		}
		for _, m := range all {
			if change(m.name, &m) {
				file(t, in, strings.ReplaceAll(m.name, " ", "-")+".geojson", m.text())
			}
		}
		if year == "2026" {
			file(t, in, "swimming-hall.geojson", "{")
		}
		args := []string{"campus", in, "-o", filepath.Join(dir, year), "--write", "none"}
		if year == "2025" {
			args = append(args, "--units-out", "us")
		}
		if code, _, errs := run(t, args...); code != 0 && code != 4 {
			t.Fatalf("exit %d: %s", code, errs)
		}
	}
	out := filepath.Join(dir, "changes")
	code, page, errs := run(t, "campus", "compare", filepath.Join(dir, "2025"), filepath.Join(dir, "2026"), "-o", out)
	if code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	if err := os.Rename(filepath.Join(out, "campus.change.csv"), filepath.Join(out, "campus.csv")); err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, row := range table(t, out) {
		got[row["name"]] = row["change"]
	}
	want := map[string]string{
		"arcade": "to keep off now", "depot": "better", "foundry": "more water", "forge": "better", "kiosk": "gone", "zoo": "new", "swimming-hall": "cannot be checked now",
	}
	if !maps.Equal(got, want) {
		t.Errorf("got %v, want %v\n%s", got, want, page)
	}
	if !strings.HasPrefix(page, "Roofs: 12. To keep off now: 1. More water: 1. Cannot be checked now: 1. New: 1. Gone: 1. Better: 2. Unchanged: 5.\n") {
		t.Errorf("page\n%s", page)
	}
	for _, args := range [][]string{{dir, dir}, {filepath.Join(dir, "2025", "campus.csv"), filepath.Join(dir, "2026")}, {dir}, {filepath.Join(dir, "2019"), filepath.Join(dir, "2026"), "-o", filepath.Join(dir, "changes")}} {
		if code, _, errs := run(t, append([]string{"campus", "compare"}, args...)...); strings.Contains(errs, "no such file or directory") || strings.Contains(errs, "runnel: write ") {
			t.Errorf("%q: %s", args, errs)
		} else if code != 3 && code != 2 {
			t.Errorf("%v: exit %d", args, code)
		}
	}
}

// Names of files that steer a terminal, run as formulas or are none in UTF-8 end up as text; the roofs are checked.
func TestHostileNamesOfFiles(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "in")
	if err := os.Mkdir(in, 0o700); err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(usualRoof(1).text(), `"name":"roof 00001",`, "", 1)
	names := []string{"=cmd|'x'!A1", "\x1b[2J\x1b]0;x\a", "a\nb", "\xff\xfe", "<script>alert(1)<", "-o", "..", " ", strings.Repeat("x", 240), "con", "\u202egpj", "campus", "$(touch x)"}
	for _, name := range names {
		if err := os.WriteFile(filepath.Join(in, name+".geojson"), []byte(text), 0o600); err != nil {
			t.Skip(err)
		}
	}
	out := filepath.Join(dir, "out")
	code, page, errs := run(t, "campus", in, "-o", out, "--reports")
	if code != 0 || !strings.Contains(page, fmt.Sprintf("Roofs checked: %d.", len(names))) {
		t.Fatalf("exit %d: %s%s", code, page, errs)
	}
	if strings.ContainsAny(page+errs, "\x1b\a\u202e") {
		t.Error("a name steers the terminal")
	}
	for name, text := range contents(t, out) {
		if strings.Trim(name, "/abcdefghijklmnopqrstuvwxyz0123456789-.") != "" {
			t.Errorf("a file is called %q", name)
		}
		if strings.HasSuffix(name, ".html") && strings.Contains(text, "<script>alert(1)") {
			t.Errorf("%s: a name is markup", name)
		}
	}
}

// A second run into the folder of one that is at work is refused, and changes nothing of it.
func TestTwoCampusRunsAtOnce(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in"), filepath.Join(dir, "out")
	makeCampus(t, in, 2)
	book, err := ledger.Open(out, "", "a run that is at work")
	if err != nil {
		t.Fatal(err)
	}
	if code, _, errs := run(t, "campus", in, "-o", out); code != 3 || !strings.Contains(errs, "another run is at work in this folder") {
		t.Errorf("exit %d: %s", code, errs)
	}
	book.Discard()
	if code, _, errs := run(t, "campus", in, "-o", out); code != 0 {
		t.Errorf("exit %d: %s", code, errs)
	}
}

// failing is a reader that has gone.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, os.ErrClosed }

// A page that nobody reads ends a run with code 3 and nothing in its place; called again it need not check a roof anew.
func TestReaderOfACampusHasGone(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in"), filepath.Join(dir, "out")
	makeCampus(t, in, 3)
	var errs bytes.Buffer
	if code := command.Main([]string{"campus", in, "-o", out}, call.Streams{Out: failing{}, Err: &errs}); code != 3 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	if found, _ := filepath.Glob(filepath.Join(out, "*")); len(found) != 1 || filepath.Base(found[0]) != ".runnel-campus" {
		t.Errorf("in its place stand %v", found)
	}
	code, page, text := run(t, "campus", in, "-o", out)
	if code != 0 || !strings.Contains(text, "An earlier run had done 3 roofs") || !strings.Contains(page, "Roofs checked: 3.") {
		t.Errorf("exit %d: %s%s", code, page, text)
	}
	if found, _ := filepath.Glob(filepath.Join(out, ".runnel-*")); len(found) > 0 {
		t.Errorf("%v stay", found)
	}
}

// TestRowsWithoutFiles: what a campus says of its roofs does not hang on whether files of single roofs are written, for which more is reckoned.
func TestRowsWithoutFiles(t *testing.T) {
	in, dir := filepath.Join(t.TempDir(), "in"), t.TempDir()
	makeCampus(t, in, 12)
	rows := map[string]string{}
	for _, kinds := range []string{"none", "json"} {
		out := filepath.Join(dir, kinds)
		if code, _, errs := run(t, "campus", in, "-o", out, "--write", kinds); code != 4 {
			t.Fatalf("--write %s: exit %d: %s", kinds, code, errs)
		}
		text, err := os.ReadFile(filepath.Join(out, "campus.csv"))
		if err != nil {
			t.Fatal(err)
		}
		rows[kinds] = string(text)
	}
	if rows["none"] != rows["json"] || strings.Count(rows["none"], "\n") != 13 {
		t.Errorf("with --write none:\n%s\nwith --write json:\n%s", rows["none"], rows["json"])
	}
}
