package command_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The upper roof, 20 by 10 ft, falls to a scupper over the north edge of the lower one of 40 by 25 ft, which falls to a
// scupper in its south wall.
const (
	upperRoof = `{"type":"FeatureCollection","units":"ft","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Penthouse","edge":"wall"},"geometry":{"type":"Polygon","coordinates":[[[10,25],[30,25],[30,35],[10,35],[10,25]]]}},
{"type":"Feature","properties":{"role":"outlet","type":"scupper","label":"SC-9","width":"12 in","discharges_to":"low roof"},"geometry":{"type":"Point","coordinates":[20,25,20]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[10,25,20]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[30,25,20]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[30,35,20.3]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[10,35,20.3]}}]}`
	lowerRoof = `{"type":"FeatureCollection","units":"ft","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Low roof","edge":"wall","rain_primary":"8 in/h"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[40,0],[40,25],[0,25],[0,0]]]}},
{"type":"Feature","properties":{"role":"outlet","type":"scupper","label":"SC-1","width":"12 in","leader":"2.5 in"},"geometry":{"type":"Point","coordinates":[20,0,10]}},
{"type":"Feature","properties":{"role":"outlet","type":"scupper","label":"OS-1","duty":"overflow","width":"8 in"},"geometry":{"type":"Point","coordinates":[10,0,10.16]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[0,0,10]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[40,0,10]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[40,25,10.52]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[0,25,10.52]}}]}`
)

// By hand: 1,000 ft2 of the lower roof and 200 ft2 of the upper one at 8 in/h bring 1200 x 8 / 96.25 = 99.7 gpm.
func TestUpperRoofDischargesOntoThisOne(t *testing.T) {
	dir := t.TempDir()
	upper, lower := filepath.Join(dir, "upper.geojson"), filepath.Join(dir, "lower.geojson")
	for path, text := range map[string]string{upper: upperRoof, lower: lowerRoof} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	code, page, err := run(t, "check", lower, "--upper", upper, "--units", "upper.geojson=ft")
	if code != 0 || !strings.Contains(page, "100 gpm comes to SC-1") {
		t.Errorf("exit %d: %s\n%s", code, err, page)
	}
	code, page, _ = run(t, "check", lower)
	if code != 0 || !strings.Contains(page, "83 gpm comes to SC-1") {
		t.Errorf("without --upper: exit %d\n%s", code, page)
	}
	code, _, err = run(t, "check", upper, "--upper", lower)
	if code != 3 || !strings.Contains(err, `no outlet of "Low roof" discharges onto "Penthouse"`) {
		t.Errorf("the wrong way round: exit %d: %s", code, err)
	}
	code, _, err = run(t, "check", lower, "--rain-overflow", "41 in/h")
	if code != 3 || !strings.Contains(err, "--yes") {
		t.Errorf("41 in/h: exit %d: %s", code, err)
	}
	if code, _, err = run(t, "check", lower, "--rain-overflow", "41 in/h", "--yes"); code != 0 {
		t.Errorf("41 in/h with --yes: exit %d: %s", code, err)
	}
}
