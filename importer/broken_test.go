package importer_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/importer"
)

const broken = "../testdata/broken/"

// refusal reads files, and builds their surface where reading succeeds, and returns why they are refused.
func refusal(t *testing.T, files []string, o importer.Options) string {
	t.Helper()
	r, err := importer.Read(files, o)
	if err == nil {
		_, err = surface.Build(r, surface.Options{})
	}
	if err == nil {
		t.Errorf("%v: accepted", files)
		return ""
	}
	var refused *roof.Refusal
	if !errors.As(err, &refused) {
		t.Errorf("%v: the error is a %T: %v", files, err, err)
		return err.Error()
	}
	for _, p := range refused.Problems {
		if p.Rule == "" || p.Mend == "" {
			t.Errorf("%v: a problem without a rule or a mend: %v", files, p)
		}
	}
	return err.Error()
}

// Every file of testdata/broken is refused with a message that names the place, the rule and the mend. Files with
// spots alone are read beside outline.geojson.
func TestBrokenInputIsRefused(t *testing.T) {
	tests := map[string]struct{ place, rule, mend string }{
		"outline-self-crossing.geojson":   {"feature 1 at (30, 0)", "crosses or touches itself", "move the corner"},
		"outline-not-closed.geojson":      {"feature 1 at (0, 40)", "the outline is not closed: it starts at (0, 0)", "repeat the first corner"},
		"hole-outside.geojson":            {"feature 1 at (70, 10)", "a hole of the outline lies outside it", "move the hole"},
		"two-outlines.geojson":            {"feature 2 at (100, 0)", "a second outline", "campus"},
		"no-outline.geojson":              {"", "there is no outline", `"role": "outline"`},
		"empty.geojson":                   {"empty.geojson", "the file is empty", "write it again"},
		"truncated.geojson":               {"truncated.geojson", "the file is cut off", "write the file again"},
		"elevation-nan.geojson":           {"elevation-nan.geojson", "line 13, column 117: NaN is not a number", "write the file again"},
		"elevation-1e400.geojson":         {"feature 12 (17)", "1e400 in the position [5, 5, 1e400] is not a finite number", "write the measured number"},
		"elevation-null.geojson":          {"feature 12 (17)", "null in the position [5, 5, null] is not a finite number", "write the measured number"},
		"elevation-text.geojson":          {"feature 12 (17)", `"high" in the position [5, 5, "high"] is not a finite number`, "write the measured number"},
		"breakline-one-elevation.geojson": {"feature 12 (R1) at (10, 10)", "of the two points with an elevation that it needs", "give its points elevations"},
		"two-spots.geojson":               {"", "fewer than three", "spot"},
		"spots-on-one-line.geojson":       {"", "one line", ""},
		"spots-all-outside.geojson":       {"", "outside", ""},
		"latitude-over-90.geojson":        {"feature 1 at (45, -93)", "latitude -93 is over 90", "--frame local"},
		"site-grid-as-degrees.geojson":    {"feature 1", "km wide as longitude and latitude", "--frame local"},
		"no-unit.geojson":                 {"no-unit.geojson", "nothing states the unit", "--units"},
		"epsg-frame.geojson":              {"epsg-frame.geojson", "frame EPSG:26915 is not known here", "reproject the file to EPSG:4326"},
		"unknown-role.geojson":            {"feature 2", `unknown role "drian"`, "use outline, edge, spot"},
		"unknown-edge-type.geojson":       {"feature 3", `unknown edge type "parapet"`, "use wall, gutter, free"},
		"outlet-outside.geojson":          {"feature 2", "outside", ""},
		"width-8-on.geojson":              {"feature 2", `width: "8 on" is not a length: "on" is no unit`, "8 in"},
		"bowl-negative.geojson":           {"feature 2 at (30, 20)", "bowl is negative", "write its size"},
		"same-place.geojson":              {"feature", "10", "--drop"},
		"leader-zero.geojson":             {"feature 2 at (60, 20)", `leader: "0x4 in" is not the size of a leader`, "correct the property"},
		"sill-without-elevation.geojson":  {"feature 2 at (59, 20)", "the sill has no elevation", "take the sill out"},
		"rain-without-unit.geojson":       {"feature 1", `rain_primary: "4" is not a rate of rain: it has no unit`, "4 in/h, 100 mm/h or 300 l/(s ha)"},
		"rain-negative.geojson":           {"feature 1", `rain_overflow: "-4 in/h" is not a rate of rain: it is negative`, "correct the property"},
		"load-limit-without-unit.geojson": {"feature 1", `load_limit: "25" is not a load: it has no unit`, "25 psf or 1.2 kPa"},
		"ragged-row.csv":                  {"line 11", "the row has 3 fields where 5 belong", "write a value"},
		"two-separators.csv":              {"line 11", "separated by semicolons, the rows before by commas", "one separator"},
		"missing-elevation.csv":           {"line 11 (10) at (30, 30)", "the spot has no elevation", "take the row out"},
		"nan-elevation.csv":               {"line 11 (10)", `column elev_ft: "NaN" is not a finite number`, "take the row out"},
		"no-header-square.csv":            {"no-header-square.csv", "both orders put the points on the outline: row 1 is east 5, north 6, or north 5, east 6", "--columns point,east,north"},
		"rod-without-hi.csv":              {"rod-without-hi.csv", "the height of instrument is not known", "--hi"},
		"lonlat.csv":                      {"lonlat.csv", "frame wgs84, the outline in frame local", "control points"},
	}
	files, err := filepath.Glob(broken + "*")
	if err != nil {
		t.Fatal(err)
	}
	good := map[string]bool{"outline.geojson": true, "unit-unstated.csv": true}
	for _, path := range files {
		name := filepath.Base(path)
		want, known := tests[name]
		if !known && !good[name] {
			t.Errorf("%s is not in the table", name)
		}
		if !known {
			continue
		}
		paths := []string{path}
		if filepath.Ext(name) == ".csv" {
			paths = []string{broken + "outline.geojson", path}
		}
		got := refusal(t, paths, importer.Options{})
		for _, part := range []string{want.place, want.rule, want.mend} {
			if !strings.Contains(got, part) {
				t.Errorf("%s: %q does not say %q", name, got, part)
			}
		}
		delete(tests, name)
	}
	for name := range tests {
		t.Errorf("%s is missing", name)
	}
}

// A survey in the codes of an office alone: the refusal counts each code and names the way to say what it stands for.
func TestCodesOfAnOfficeAreNamed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "roof.csv")
	rows := "point,x,y,elev_ft,code\n1,0,0,100.9,PAR\n2,60,0,100.9,PAR\n3,60,40,100.9,PAR\n4,0,40,100.9,PAR\n5,30,20,100.0,RD\n6,30,30,100.4,\n"
	if err := os.WriteFile(path, []byte(rows), 0o600); err != nil {
		t.Fatal(err)
	}
	got := refusal(t, []string{path}, importer.Options{})
	for _, part := range []string{"there is no outline", "not known: PAR 4, RD 1;", "--code-list"} {
		if !strings.Contains(got, part) {
			t.Errorf("%q does not say %q", got, part)
		}
	}
}

func TestFilesThatCannotBeReadAreRefused(t *testing.T) {
	dir := t.TempDir()
	long := filepath.Join(dir, "long.csv")
	if err := os.WriteFile(long, []byte("point,x,y,z\n"+strings.Repeat("1", 3<<20)), 0o600); err != nil {
		t.Fatal(err)
	}
	wide := filepath.Join(dir, "wide.csv")
	if err := os.WriteFile(wide, []byte("point,x,y,z\n1"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(wide, 1<<30); err != nil { // 1 GB, mostly a hole in the file
		t.Fatal(err)
	}
	for name, text := range map[string]string{"roof.geojson": "PK\x03\x04\x14", "spots.csv": "%PDF-1.4\n", "plan.txt": "\x89PNG\r\n\x1a\n", "roof.gz": "\x1f\x8b\x08", "wide.geojson": "\xff\xfe{\x00"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	huge := filepath.Join(dir, "huge.geojson")
	if err := os.WriteFile(huge, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(huge, 2<<30); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		paths []string
		says  string
	}{
		{nil, "no file is given"},
		{[]string{filepath.Join(dir, "none.csv")}, "there is no such file"},
		{[]string{dir}, "this is a folder"},
		{[]string{filepath.Join(long, "inside.csv")}, "the file may not be read"},
		{[]string{long}, "a line is longer than a megabyte"},
		{[]string{wide}, "the file is over 512 MB"},
		{[]string{huge}, "the GeoJSON is over 512 MB"},
		{[]string{"/dev/zero"}, "/dev/zero: this is a device"},
		{[]string{filepath.Join(dir, "roof.geojson")}, "a workbook or an archive (zip), not text in UTF-8; unpack it"},
		{[]string{filepath.Join(dir, "spots.csv")}, "this is a PDF"},
		{[]string{filepath.Join(dir, "plan.txt")}, "this is a picture (PNG)"},
		{[]string{filepath.Join(dir, "roof.gz")}, "packed with gzip, not text in UTF-8; unpack it"},
		{[]string{filepath.Join(dir, "wide.geojson")}, "text in UTF-16"},
		{[]string{broken + "outline.geojson", broken + "outline.geojson"}, "given twice"},
	}
	for _, tt := range tests {
		if got := refusal(t, tt.paths, importer.Options{}); !strings.Contains(got, tt.says) {
			t.Errorf("%v: %q does not say %q", tt.paths, got, tt.says)
		}
	}
}

// A file that is far too great is refused before it is read: 1 GB, and the whole takes less than 1 MB of memory.
func TestAGreatFileTakesNoMemory(t *testing.T) {
	path := filepath.Join(t.TempDir(), "great.csv")
	if err := os.WriteFile(path, []byte("point,x,y,z\n1,2,3,4\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(path, 1<<30); err != nil {
		t.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	got := refusal(t, []string{broken + "outline.geojson", path}, importer.Options{})
	runtime.ReadMemStats(&after)
	if used := after.TotalAlloc - before.TotalAlloc; used > 1<<20 || !strings.Contains(got, "the file is over 512 MB; ") {
		t.Errorf("%d bytes: %s", used, got)
	}
}

// A pipe states no size, and one that somebody else made may never end: it is read as far as a file may go.
func TestPipes(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe.csv")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip(err)
	}
	go func() {
		w, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err == nil {
			_, _ = w.WriteString("point,x,y,elev_ft\n1,5,5,oops\n")
			_ = w.Close()
		}
	}()
	if got := refusal(t, []string{broken + "outline.geojson", path}, importer.Options{}); !strings.Contains(got, `"oops" is not a finite number`) {
		t.Error(got)
	}
	if got := refusal(t, []string{broken + "outline.geojson"}, importer.Options{CodeList: path}); !strings.Contains(got, "this is a pipe") {
		t.Error(got)
	}
}

func TestFlagsThatContradictFilesAreRefused(t *testing.T) {
	both := []string{broken + "outline.geojson", broken + "unit-unstated.csv"}
	units := func(name string, u quantity.Unit) importer.Options {
		return importer.Options{Units: map[string]quantity.Unit{name: u}}
	}
	tests := []struct {
		paths   []string
		options importer.Options
		says    string
	}{
		{both, units("", quantity.Metres), "outline.geojson: the file is in ft, and --units says m; say --units outline.geojson=m"},
		{both, units("spot.csv", quantity.Metres), "--units spot.csv: no such file is read"},
		{both, importer.Options{Frames: map[string]string{"": "wgs84"}}, "the file is in frame local, and --frame says wgs84"},
		{both, importer.Options{Frames: map[string]string{"spot.csv": "local"}}, "--frame spot.csv: no such file"},
		{both, importer.Options{Frames: map[string]string{"unit-unstated.csv": "mars"}}, `unknown frame "mars"; use local, wgs84`},
		{both, importer.Options{Drop: []string{"99"}}, "--drop 99: there is no spot with this id"},
		{both, importer.Options{Keep: []string{"99"}}, "--keep 99: there is no spot with this id"},
		{both, importer.Options{CodeList: "none.csv"}, "none.csv: there is no such file"},
		{both, importer.Options{CodeList: "/dev/zero"}, "/dev/zero: this is a device"},
	}
	for _, tt := range tests {
		if got := refusal(t, tt.paths, tt.options); !strings.Contains(got, tt.says) {
			t.Errorf("%+v: %q does not say %q", tt.options, got, tt.says)
		}
	}
}

func TestTwentyProblemsAreCollected(t *testing.T) {
	rows := "x,y,elev_ft\n" + strings.Repeat("1,2,high\n", 30)
	path := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(path, []byte(rows), 0o600); err != nil {
		t.Fatal(err)
	}
	got := refusal(t, []string{broken + "outline.geojson", path}, importer.Options{})
	if n := strings.Count(got, "\n"); n != 20 || !strings.HasSuffix(got, "and 10 more") {
		t.Errorf("%d lines: %s", n+1, got)
	}
}
