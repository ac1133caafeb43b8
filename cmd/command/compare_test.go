package command

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/cmd/call"
)

// comparedRoof writes a roof of 12 m by 9 m that falls 2 % to a gutter, surveyed every 1.5 m to 2 mm, into a file. Spots within 1 m of (6, 4.5) stand drop
// lower.
func comparedRoof(t *testing.T, name string, drop float64) string {
	t.Helper()
	type any2 = map[string]any
	point := func(x, y, z float64) any2 {
		return any2{"type": "Feature", "properties": any2{"role": "spot", "sigma": 0.002}, "geometry": any2{"type": "Point", "coordinates": []float64{x, y, z}}}
	}
	features := []any2{
		{"type": "Feature", "properties": any2{"role": "outline", "name": "Shed", "edge": "wall"}, "geometry": any2{"type": "Polygon", "coordinates": [][][]float64{{{0, 0}, {12, 0}, {12, 9}, {0, 9}, {0, 0}}}}},
		{"type": "Feature", "properties": any2{"role": "edge", "type": "gutter"}, "geometry": any2{"type": "LineString", "coordinates": [][]float64{{0, 0}, {12, 0}}}},
	}
	for i := range 9 {
		for k := range 7 {
			x, y := 1.5*float64(i), 1.5*float64(k)
			z := 10 + 0.02*y
			if (x-6)*(x-6)+(y-4.5)*(y-4.5) < 1 {
				z -= drop
			}
			features = append(features, point(x, y, z))
		}
	}
	text, err := json.Marshal(any2{"type": "FeatureCollection", "frame": "local", "units": "m", "features": features})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// compares runs the command and returns its page and exit code.
func compares(t *testing.T, args ...string) (page, said string, code int) {
	t.Helper()
	var out, note bytes.Buffer
	code = Main(append([]string{"compare"}, args...), call.Streams{Out: &out, Err: &note})
	return out.String(), note.String(), code
}

// One spot of the later survey is 60 mm lower, so that the next one down the fall dams it: 30 mm deep, since the fall is 30 mm from spot to spot.
func TestCompareTellsADrop(t *testing.T) {
	before, after := comparedRoof(t, "before.geojson", 0), comparedRoof(t, "after.geojson", 0.06)
	page, _, code := compares(t, before, after, "--fail-on", "repair")
	for _, want := range []string{"1 place changed", "dropped 60 mm", "PONDS      1 new.", "P01  new", "30 mm"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
	if code != call.ExitFindings {
		t.Errorf("exit code %d", code)
	}
	if page, _, code = compares(t, before, before, "--fail-on", "note"); code != call.ExitDone || !strings.Contains(page, "No place changed") {
		t.Errorf("with itself: %d\n%s", code, page)
	}
	if page, _, _ = compares(t, after, before); !strings.Contains(page, "rose 60 mm") || !strings.Contains(page, "1 gone") {
		t.Errorf("the other way round:\n%s", page)
	}
}

// The finished roof stands 60 mm low at one place that was set out; the limit is 6 mm.
func TestCompareWithWhatWasPlanned(t *testing.T) {
	planned, finished := comparedRoof(t, "planned.geojson", 0.03), comparedRoof(t, "finished.geojson", 0.09)
	dir := filepath.Join(t.TempDir(), "out")
	page, _, code := compares(t, planned, finished, "--planned", "--within", "6mm", "--fail-on", "repair", "-o", dir)
	if !strings.Contains(page, "1 outside") || !strings.Contains(page, "60 mm too low") || code != call.ExitFindings {
		t.Errorf("code %d\n%s", code, page)
	}
	var file struct {
		Schema string
		Places []struct {
			Verdict string
			Off     float64 `json:"off_mm"`
		}
	}
	text, err := os.ReadFile(filepath.Join(dir, "shed.change.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &file); err != nil || file.Schema != "runnel-change-1" {
		t.Fatal(err, file.Schema)
	}
	outside := 0
	for _, p := range file.Places {
		if p.Verdict == "outside" {
			outside++
			if p.Off < -61 || p.Off > -59 {
				t.Errorf("off %v mm", p.Off)
			}
		}
	}
	if outside != 1 {
		t.Errorf("%d places outside", outside)
	}
	for _, name := range []string{"shed.change.local.geojson", "shed.change.csv"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() < 100 {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, said, code := compares(t, planned, finished, "-o", dir); code != call.ExitUsage || !strings.Contains(said, "--overwrite") {
		t.Errorf("files that exist: %d %s", code, said)
	}
}

func TestCompareWrongly(t *testing.T) {
	roof := comparedRoof(t, "roof.geojson", 0)
	for want, args := range map[string][]string{
		"give two surveys":           {roof},
		"--within goes with":         {roof, roof, "--within", "3mm"},
		"give a length above zero":   {roof, roof, "--planned", "--within", "0mm"},
		"use note or repair":         {roof, roof, "--fail-on", "urgent"},
		"--out is empty":             {roof, roof, "-o", ""},
		"nowhere.geojson":            {roof, "nowhere.geojson"},
		"that of before and that of": {roof, roof, roof},
	} {
		if _, said, code := compares(t, args...); code == call.ExitDone || !strings.Contains(said, want) {
			t.Errorf("%v: %d %s", args, code, said)
		}
	}
}
