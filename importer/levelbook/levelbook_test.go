package levelbook_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/importer/levelbook"
)

func write(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "notes.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// A foot is 0.3048 m: a backsight of 3.10 ft is 0.94488 m.
func TestRead(t *testing.T) {
	b, err := levelbook.Read(write(t, "station,bs_ft,fs_ft,elevation_ft,x,code\nBM1,3.10,,100.00,,\n1,,4.25,,1.5,DRAIN\n"), quantity.Unstated)
	if err != nil {
		t.Fatal(err)
	}
	if b.Unit != quantity.Feet || !slices.Equal(b.Heads, []string{"x", "code"}) || len(b.Rows) != 2 || !slices.Equal(b.Kept[1], []string{"1.5", "DRAIN"}) {
		t.Errorf("got %+v", b)
	}
	bench, point := b.Rows[0], b.Rows[1]
	if bench.Station != "BM1" || bench.Line != 2 || !(math.Abs(bench.Back.Value-0.94488) <= 1e-12) || bench.Fore.Known || !(math.Abs(bench.Elevation.Value-30.48) <= 1e-12) {
		t.Errorf("the bench mark: %+v", bench)
	}
	if point.Back.Known || !point.Fore.Known || !(math.Abs(point.Fore.Value-1.2954) <= 1e-12) || point.Elevation.Known {
		t.Errorf("the point: %+v", point)
	}
}

func TestReadRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"point,bs,rod,elevation\n1,1,2,3\n":                "neither those of a level nor those of a laser",
		"bs,fs,elevation\n1,2,3\n":                         "no column names the stations",
		"station,bs,fs\nA,1,2\n":                           "no column holds the known elevation",
		"station,bs,fs,elevation\n":                        "no rows",
		"station,bs_m,fs_m,elevation_m\nA,81,,3\nB,,80,\n": "81 m is longer than any rod",
		"station,bs,fs,elevation\nA,1,,3\n":                "say --units ft or m",
		"station,bs_m,fs_m,elevation_m\nA,1,,3\n,,2,\n":    "the station has no name",
		`{"type":"FeatureCollection","features":[]}`:       "this is GeoJSON, not a level book",
	} {
		if _, err := levelbook.Read(write(t, text), quantity.Unstated); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}
