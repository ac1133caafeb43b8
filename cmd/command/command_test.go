package command_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"runnel/cmd/call"
	"runnel/cmd/command"
	"runnel/cmd/demo"
)

// program builds the program once, for the tests that end it from outside or run it beside another. It bears no revision, as the tests' own program does, so that both are of one version.
var program = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp(os.Getenv("XDG_CONFIG_HOME"), "program") // which TestMain removes
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "runnel")
	if text, err := exec.Command("go", "build", "-buildvcs=false", "-o", path, "runnel/cmd/runnel").CombinedOutput(); err != nil { //nolint:gosec // our own
		return "", fmt.Errorf("%w\n%s", err, text)
	}
	return path, nil
})

// run calls the command line and returns what it wrote.
func run(t *testing.T, args ...string) (code int, out, err string) {
	t.Helper()
	var o, e bytes.Buffer
	code = command.Main(args, call.Streams{Out: &o, Err: &e})
	return code, o.String(), e.String()
}

// demos writes the invented roofs and returns their folder.
func demos(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if _, err := demo.Write(dir, false); err != nil {
		t.Fatal(err)
	}
	return dir
}

func file(t *testing.T, dir, name, content string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// slab is a roof of 10 m by 8 m that falls to a free edge: no pond, nothing urgent.
const slab = `{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Slab","edge":"wall"},"geometry":{"type":"Polygon","coordinates":[[[0,0,5],[10,0,5.4],[10,8,5.4],[0,8,5],[0,0,5]]]}},
{"type":"Feature","properties":{"role":"edge","type":"free"},"geometry":{"type":"LineString","coordinates":[[0,0],[0,8]]}},
{"type":"Feature","properties":{"role":"spot","id":"1"},"geometry":{"type":"Point","coordinates":[3,4,5.12]}},
{"type":"Feature","properties":{"role":"spot","id":"2"},"geometry":{"type":"Point","coordinates":[7,4,5.28]}},
{"type":"Feature","properties":{"role":"spot","id":"3"},"geometry":{"type":"Point","coordinates":[5,2,5.2]}}]}`

// basin is a roof with walls all round, no outlet and a low middle: its water has no way out.
const basin = `{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Basin","edge":"wall"},"geometry":{"type":"Polygon","coordinates":[[[0,0,5],[10,0,5],[10,8,5],[0,8,5],[0,0,5]]]}},
{"type":"Feature","properties":{"role":"spot","id":"1"},"geometry":{"type":"Point","coordinates":[3,4,4.9]}},
{"type":"Feature","properties":{"role":"spot","id":"2"},"geometry":{"type":"Point","coordinates":[7,4,4.9]}},
{"type":"Feature","properties":{"role":"spot","id":"3"},"geometry":{"type":"Point","coordinates":[5,2,4.95]}}]}`

const broken = `{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Bow tie"},"geometry":{"type":"Polygon","coordinates":[[[0,0,5],[10,8,5],[10,0,5],[0,8,5],[0,0,5]]]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[3,4,5]}}]}`

func TestExitCodes(t *testing.T) {
	dir := t.TempDir()
	good := file(t, dir, "slab.geojson", slab)
	bad := file(t, dir, "bowtie.geojson", broken)
	low := file(t, dir, "basin.geojson", basin)
	taken := filepath.Join(dir, "taken")
	if code, _, err := run(t, "check", good, "-o", taken); code != 0 {
		t.Fatalf("exit %d: %s", code, err)
	}
	mixed := filepath.Join(dir, "mixed")
	if err := os.Mkdir(mixed, 0o700); err != nil {
		t.Fatal(err)
	}
	file(t, mixed, "slab.geojson", slab)
	file(t, mixed, "bowtie.geojson", broken)
	for _, c := range []struct {
		name string
		args []string
		code int
		says string // on stderr, or on stdout when done
	}{
		{"done", []string{"check", good}, 0, "PONDS"},
		{"version", []string{"version"}, 0, "runnel "},
		{"help", []string{"check", "--help"}, 0, "runnel check outline.geojson spots.csv -o out"},
		{"findings", []string{"check", low, "--fail-on", "repair"}, 1, ""},
		{"findings below the level", []string{"check", good, "--fail-on", "urgent"}, 0, ""},
		{"no command", nil, 2, "no command given"},
		{"unknown command", []string{"chek"}, 2, `unknown command "chek"; did you mean check?`},
		{"unknown flag", []string{"check", good, "--frobnicate"}, 2, "unknown flag: --frobnicate"},
		{"no file", []string{"check"}, 2, "give the files of one roof"},
		{"too many arguments", []string{"demo", "a", "b"}, 2, "one argument too many"},
		{"argument of version", []string{"version", "x"}, 2, "takes no arguments"},
		{"unknown severity", []string{"check", good, "--fail-on", "bad"}, 2, "use note, repair or urgent"},
		{"kinds without a folder", []string{"check", good, "--write", "json"}, 2, "-o FOLDER"},
		{"empty folder", []string{"check", good, "-o", ""}, 2, "--out is empty: give it a value (FOLDER), or leave it out"},
		{"empty allowance", []string{"reduce", good, "--allow", ""}, 2, "--allow is empty: give it a value (LENGTH)"},
		{"empty file of spots", []string{"reduce", good, "-o", ""}, 2, "--out is empty: give it a value (FILE)"},
		{"empty rate", []string{"check", good, "--rain-primary="}, 2, "--rain-primary is empty: give it a value (RATE)"},
		{"empty id among others", []string{"check", good, "--drop", "7", "--drop", ""}, 2, "--drop is empty: give it a value (ID)"},
		{"no option", []string{"correct", good, "--forbid", ""}, 2, "--forbid is empty"},
		{"height of instrument that is no number", []string{"check", good, "--hi=NaNmm"}, 2, "--hi: \"NaNmm\" is not a length"},
		{"infinite height of instrument", []string{"check", good, "--hi", "Inf"}, 2, "--hi: \"Inf\" is not a length"},
		{"factor that is no number", []string{"check", good, "--tolerance", "two"}, 2, "--tolerance \"two\": give a number\n"},
		{"half a spot", []string{"check", good, "--next-spots", "0.5"}, 2, "--next-spots \"0.5\": give a whole number\n"},
		{"sheet without a plan", []string{"check", good, "-o", dir, "--write", "json", "--sheet", "a3"}, 2, "--write plan"},
		{"unknown sheet", []string{"check", good, "-o", dir, "--sheet", "foolscap"}, 2, "letter, tabloid"},
		{"unknown scale", []string{"check", good, "-o", dir, "--scale", "large"}, 2, "1:100"},
		{"scale too large", []string{"check", good, "-o", filepath.Join(dir, "unfit"), "--write", "plan", "--scale", "1:2"}, 2, "does not fit"},
		{"unknown kind", []string{"check", good, "-o", dir, "--write", "json,pdf"}, 2, `unknown kind "pdf"`},
		{"unknown units out", []string{"check", good, "--units-out", "imperial"}, 2, "give us or si"},
		{"unknown unit", []string{"check", good, "--units", "furlong"}, 2, "furlong"},
		{"bad criterion", []string{"check", good, "--pond-depth", "deep"}, 2, "--pond-depth"},
		{"criterion without a unit", []string{"check", good, "--pond-depth", "0.5"}, 2, "unit"},
		{"bad tolerance", []string{"check", good, "--tolerance", "-1"}, 2, "from 0.01 to 100"},
		{"output exists", []string{"check", good, "-o", taken}, 2, "--overwrite"},
		{"output is replaced", []string{"check", good, "-o", taken, "--overwrite"}, 0, ""},
		{"campus without a folder", []string{"campus", dir}, 2, "-o FOLDER"},
		{"no workers", []string{"campus", dir, "-o", taken, "--workers", "0"}, 2, "1 or more"},
		{"missing file", []string{"check", filepath.Join(dir, "none.geojson")}, 3, "none.geojson"},
		{"a directory", []string{"check", dir}, 3, filepath.Base(dir)},
		{"refused", []string{"check", bad}, 3, "cross"},
		{"unknown method of R", []string{"check", good, "--r-method", "mean"}, 2, "use thinnest, thinnest-plus-inch"},
		{"missing materials file", []string{"check", good, "--materials", filepath.Join(dir, "none.json")}, 3, "none.json"},
		{"materials without a unit", []string{"check", good, "--materials", file(t, dir, "bare.json", `{"polyiso":"5.6"}`)}, 3, "bare.json: line 1: polyiso: \"5.6\" is no resistance per thickness: it has no unit"},
		{"missing criteria file", []string{"check", good, "--criteria", filepath.Join(dir, "none.json")}, 3, "none.json"},
		{"folder below a file", []string{"check", good, "-o", filepath.Join(good, "out")}, 3, "folder"},
		{"campus with a broken roof", []string{"campus", mixed, "-o", filepath.Join(dir, "campus")}, 4, "not checked"},
		{"broken roofs win over findings", []string{"campus", mixed, "-o", filepath.Join(dir, "campus2"), "--fail-on", "note"}, 4, ""},
	} {
		code, out, err := run(t, c.args...)
		if code != c.code {
			t.Errorf("%s: exit %d, want %d\n%s", c.name, code, c.code, err)
		}
		if !strings.Contains(out+err, c.says) {
			t.Errorf("%s: does not say %q:\n%s%s", c.name, c.says, out, err)
		}
		if (code == 2 || code == 3) && err == "" {
			t.Errorf("%s: fails without a word", c.name)
		}
	}
}

// A run that fails must leave nothing behind, whichever output fails.
func TestAFailedRunLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	good := file(t, dir, "slab.geojson", slab)
	out := filepath.Join(dir, "out")
	var e bytes.Buffer
	code := command.Main([]string{"check", good, "-o", out}, call.Streams{Out: closedPipe{}, Err: &e})
	if code != 3 {
		t.Errorf("exit %d, want 3: %s", code, e.String())
	}
	if _, err := os.Stat(out); !os.IsNotExist(err) {
		t.Errorf("the folder was left behind: %v", err)
	}
}

// closedPipe is a stdout that nobody reads.
type closedPipe struct{}

func (closedPipe) Write([]byte) (int, error) { return 0, errors.New("broken pipe") }

func TestTextOrSummaryOnStdout(t *testing.T) {
	good := file(t, t.TempDir(), "slab.geojson", slab)
	_, page, _ := run(t, "check", good)
	code, text, _ := run(t, "check", good, "--json")
	var summary map[string]any
	if err := json.Unmarshal([]byte(text), &summary); err != nil || code != 0 {
		t.Fatalf("exit %d, %v", code, err)
	}
	// 10 m by 8 m.
	if summary["area_m2"] != 80.0 || summary["schema"] != "runnel-summary-1" || summary["units"] != "si" {
		t.Errorf("summary: %v, %v, %v", summary["area_m2"], summary["schema"], summary["units"])
	}
	if strings.HasPrefix(page, "{") {
		t.Error("the page is JSON")
	}
	_, us, _ := run(t, "check", good, "--json", "--units-out", "us")
	if err := json.Unmarshal([]byte(us), &summary); err != nil || summary["area_ft2"] != 861.112833 { // 80 / 0.09290304
		t.Errorf("area %v sq ft, %v", summary["area_ft2"], err)
	}
}

func TestTimingsAreOneLineOfJSON(t *testing.T) {
	good := file(t, t.TempDir(), "slab.geojson", slab)
	_, _, err := run(t, "check", good, "--timings")
	lines := strings.Split(strings.TrimSpace(err), "\n")
	var seconds map[string]float64
	if e := json.Unmarshal([]byte(lines[len(lines)-1]), &seconds); e != nil {
		t.Fatalf("%v in %q", e, err)
	}
	for _, step := range []string{"read", "surface", "slope", "flow", "ponds", "write", "total"} {
		if _, ok := seconds[step]; !ok {
			t.Errorf("no time for %s", step)
		}
	}
}

func TestCriteriaFlagsWin(t *testing.T) {
	dir := t.TempDir()
	good := file(t, dir, "slab.geojson", slab)
	criteria := file(t, dir, "criteria.json", `{"min_slope":"3 %","contour":"50 mm"}`)
	_, text, _ := run(t, "check", good, "--json", "--criteria", criteria, "--contour", "100 mm")
	var summary struct{ Options map[string]float64 }
	if err := json.Unmarshal([]byte(text), &summary); err != nil {
		t.Fatal(err)
	}
	if summary.Options["min_slope_pct"] != 3 || summary.Options["contour_mm"] != 100 {
		t.Errorf("options %v", summary.Options)
	}
}

// Contours come every 25 mm in SI and every inch in US units, unless something states their interval.
func TestContoursFollowTheUnits(t *testing.T) {
	dir := t.TempDir()
	plain := file(t, dir, "slab.geojson", slab)
	stated := file(t, dir, "stated.geojson", strings.Replace(slab, `"name":"Slab"`, `"name":"Slab","contour":"40 mm"`, 1))
	for _, c := range []struct {
		args []string
		name string
		want float64
	}{
		{[]string{plain}, "contour_mm", 25},
		{[]string{plain, "--units-out", "us"}, "contour_in", 1},
		{[]string{plain, "--contour", "1 in"}, "contour_mm", 25.4},
		{[]string{stated}, "contour_mm", 40},
	} {
		_, text, errs := run(t, append([]string{"check", "--json"}, c.args...)...)
		var summary struct{ Options map[string]float64 }
		if err := json.Unmarshal([]byte(text), &summary); err != nil || summary.Options[c.name] != c.want {
			t.Errorf("%v: %s is %v, want %v (%v %s)", c.args, c.name, summary.Options[c.name], c.want, err, errs)
		}
	}
}

// contents returns the text of every file below dir by its name.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		all[strings.TrimPrefix(path, dir)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestCampusDoesNotDependOnWorkers(t *testing.T) {
	in := demos(t)
	file(t, in, "bowtie.geojson", broken)
	out := t.TempDir()
	var pages []string
	var files []map[string]string
	for _, workers := range []string{"1", "4", "4"} {
		dir := filepath.Join(out, "w"+workers+string(rune('a'+len(pages))))
		code, page, err := run(t, "campus", in, "-o", dir, "--workers", workers)
		if code != 4 {
			t.Fatalf("exit %d, want 4: %s", code, err)
		}
		pages = append(pages, page)
		files = append(files, contents(t, dir))
	}
	for i := range pages[1:] {
		if pages[i+1] != pages[0] {
			t.Errorf("page %d differs from the first", i+1)
		}
		if len(files[i+1]) != len(files[0]) {
			t.Errorf("run %d writes %d files, the first %d", i+1, len(files[i+1]), len(files[0]))
		}
		for name, text := range files[0] {
			if files[i+1][name] != text {
				t.Errorf("%s differs from the first run's", name)
			}
		}
	}
	if !strings.Contains(pages[0], "Could not be checked: 1.") || !strings.Contains(pages[0], "bowtie: not checked: ") {
		t.Errorf("page:\n%s", pages[0])
	}
	for _, name := range []string{"/campus.csv", "/campus.geojson", "/library.geojson", "/library.json"} {
		if files[0][name] == "" {
			t.Errorf("no %s", name)
		}
	}
}

// One map with many outlines and one file of points for all: each spot goes to the outline that holds it.
// Two roofs of one name get files of their own; the spot on none is told.
func TestCampusOfOneMap(t *testing.T) {
	dir := t.TempDir()
	ring := func(name string, x float64) string {
		return fmt.Sprintf(`{"type":"Feature","properties":{"role":"outline","name":%q,"edge":"free"},"geometry":{"type":"Polygon",`+
			`"coordinates":[[[%[2]g,0],[%[3]g,0],[%[3]g,8],[%[2]g,8],[%[2]g,0]]]}}`, name, x, x+10)
	}
	outlines := file(t, dir, "site.geojson", `{"type":"FeatureCollection","units":"m","frame":"local","features":[`+
		ring("North", 0)+","+ring("South", 20)+","+ring("South", 40)+"]}")
	points := "point,x,y,z\nlost,100,100,5\n"
	for i := range 3 {
		for k, at := range [][3]float64{{1, 1, 5}, {9, 1, 5.3}, {5, 7, 5.1}, {4, 4, 5.2}} {
			points += fmt.Sprintf("%d,%g,%g,%g\n", 10*i+k, at[0]+float64(20*i), at[1], at[2])
		}
	}
	spots := file(t, dir, "spots.csv", points)
	out := filepath.Join(dir, "out")
	code, page, errs := run(t, "campus", outlines, spots, "-o", out)
	if code != 0 || !strings.Contains(page, "Roofs checked: 3.") {
		t.Fatalf("exit %d: %s%s", code, page, errs)
	}
	if !strings.Contains(errs, "lost") {
		t.Errorf("the spot on no outline is not told: %s", errs)
	}
	files := contents(t, out)
	for _, name := range []string{"/north.json", "/south.json", "/south-2.json"} {
		if !strings.Contains(files[name], `"spots": 4,`) {
			t.Errorf("%s does not have its 4 spots", name)
		}
	}
}

func TestCampusRefusesWhatExists(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "in")
	if err := os.Mkdir(in, 0o700); err != nil {
		t.Fatal(err)
	}
	file(t, in, "slab.geojson", slab)
	out := filepath.Join(dir, "out")
	if code, _, err := run(t, "campus", in, "-o", out); code != 0 {
		t.Fatalf("exit %d: %s", code, err)
	}
	before := contents(t, out)
	if code, _, _ := run(t, "campus", in, "-o", out); code != 2 {
		t.Errorf("exit %d, want 2", code)
	}
	if code, _, err := run(t, "campus", in, "-o", out, "--overwrite"); code != 0 {
		t.Errorf("exit %d, want 0: %s", code, err)
	}
	after := contents(t, out)
	if len(after) != len(before) {
		t.Errorf("%d files, want %d", len(after), len(before))
	}
}

// Progress is for a terminal only.
func TestProgressOnATerminal(t *testing.T) {
	dir := t.TempDir()
	in := filepath.Join(dir, "in")
	if err := os.Mkdir(in, 0o700); err != nil {
		t.Fatal(err)
	}
	file(t, in, "slab.geojson", slab)
	for _, terminal := range []bool{false, true} {
		var o, e bytes.Buffer
		args := []string{"campus", in, "-o", filepath.Join(dir, map[bool]string{false: "a", true: "b"}[terminal])}
		if code := command.Main(args, call.Streams{Out: &o, Err: &e, Terminal: terminal}); code != 0 {
			t.Fatalf("exit %d: %s", code, e.String())
		}
		if got := strings.Contains(e.String(), "1 of 1 roofs"); got != terminal {
			t.Errorf("terminal %v: progress %v", terminal, got)
		}
	}
}

func TestDemoWritesWhatCheckReads(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "demo")
	code, out, err := run(t, "demo", dir)
	if code != 0 {
		t.Fatalf("exit %d: %s", code, err)
	}
	if names := strings.Fields(out); !slices.Contains(names, filepath.ToSlash(filepath.Join(dir, "library.geojson"))) {
		t.Errorf("wrote %v", names)
	}
	if code, _, _ := run(t, "demo", dir); code != 2 {
		t.Errorf("a second time: exit %d, want 2", code)
	}
	if code, _, err := run(t, "demo", dir, "--overwrite"); code != 0 {
		t.Errorf("with --overwrite: exit %d: %s", code, err)
	}
}

// A roof in site coordinates must come back from its own map as it went out: the same summary, but for
// the names of files and of spots.
func TestMapsCanBeReadBack(t *testing.T) {
	in := demos(t)
	for _, name := range []string{"hall", "archive", "school-wing", "pavilion"} {
		out, back := filepath.Join(in, "out", name), filepath.Join(in, "back", name)
		files, err := filepath.Glob(filepath.Join(in, name+".[gc]*"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v", name, err)
		}
		if code, _, text := run(t, append([]string{"check", "-o", out}, files...)...); code != 0 {
			t.Errorf("%s: exit %d: %s", name, code, text)
			continue
		}
		maps, err := filepath.Glob(filepath.Join(out, "*.local.geojson"))
		if err != nil || len(maps) != 1 {
			t.Fatalf("%s: maps %v, %v", name, maps, err)
		}
		if code, _, text := run(t, "check", "-o", back, maps[0]); code != 0 {
			t.Errorf("%s, read back: exit %d: %s", name, code, text)
			continue
		}
		if first, second := comparable(t, out), comparable(t, back); first != second {
			t.Errorf("%s: the summary is another after reading the map back:\n%s\n%s", name, first, second)
		}
	}
}

// comparable returns the summary in dir without inputs and warnings, which name files and spots.
func comparable(t *testing.T, dir string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.json"))
	if err != nil || len(files) != 1 {
		t.Fatalf("summaries %v, %v", files, err)
	}
	text, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	var s map[string]any
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	delete(s, "inputs")
	delete(s, "warnings")
	delete(s, "run")
	again, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(again)
}
