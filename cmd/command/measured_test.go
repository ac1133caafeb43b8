package command_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"runnel/importer"
)

// What was measured of pipes, sills and framing must come back from the map as it went in, whatever the file's unit.
func TestPipesSillsAndFramingAreReadBack(t *testing.T) {
	const text = `{"type":"FeatureCollection","units":"ft","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Shed","edge":"wall","wall_runoff":"half","member_direction":30,"member_span":"20 ft","member_spacing":6,"load_limit":"25 psf","load_limit_by":"A. Engineer"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[40,0],[40,30],[0,30],[0,0]]]}},
{"type":"Feature","properties":{"role":"edge","type":"wall","height":"2 ft","adjoining_height":"12 ft"},"geometry":{"type":"LineString","coordinates":[[0,0],[40,0]]}},
{"type":"Feature","properties":{"role":"outlet","type":"drain","diameter":"4 in","leader":"4 in","pipe":"6 in","pipe_slope":"1/8 in per ft"},"geometry":{"type":"Point","coordinates":[20,15,9.98]}},
{"type":"Feature","properties":{"role":"outlet","type":"scupper","duty":"overflow","leader":"3x4 in","conductor_head":"1 ft","crest":"floor-flush","discharges_to":"Low roof"},"geometry":{"type":"Point","coordinates":[40,15,10.3]}},
{"type":"Feature","properties":{"role":"sill","kind":"door-sill","label":"DS-1"},"geometry":{"type":"Point","coordinates":[1,29,11]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[1,1,10.2]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[39,1,10.2]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[39,29,10.2]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[1,29,10.2]}},
{"type":"Feature","properties":{"role":"spot"},"geometry":{"type":"Point","coordinates":[20,15,10]}}]}`
	dir := t.TempDir()
	path := filepath.Join(dir, "shed.geojson")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, err := run(t, "check", "-o", filepath.Join(dir, "out"), "--write", "geojson", path); code != 0 {
		t.Fatalf("exit %d: %s", code, err)
	}
	first, second := measured(t, path), measured(t, filepath.Join(dir, "out", "shed.local.geojson"))
	if first != second {
		t.Errorf("read back:\n%s\nwas:\n%s", second, first)
	}
}

// measured returns what the test compares, without where it was read and to a hundredth of a millimetre.
func measured(t *testing.T, path string) string {
	t.Helper()
	r, err := importer.Read([]string{path}, importer.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var parts []any
	for i := range r.Outlets {
		o := &r.Outlets[i]
		parts = append(parts, o.Type, o.Duty, mm(float64(o.Diameter)), mm(float64(o.Width)), o.WidthAssumed, o.Crest, mm(float64(o.ConductorHead)), mm(float64(o.Leader.Diameter)),
			mm(float64(o.Leader.Width)), mm(float64(o.Leader.Depth)), mm(float64(o.Pipe)), mm(float64(o.PipeSlope)), o.DischargesTo)
	}
	for i := range r.Sills {
		s := &r.Sills[i]
		parts = append(parts, mm(s.Plan[0]), mm(s.Plan[1]), mm(s.Z), s.Kind, s.Label)
	}
	for i := range r.Edges {
		parts = append(parts, mm(float64(r.Edges[i].Height)), mm(float64(r.Edges[i].AdjoiningHeight)))
	}
	s := &r.Structure
	parts = append(parts, r.WallRunoff, s.HasDirection, s.MemberDirection, mm(float64(s.MemberSpan)), mm(float64(s.MemberSpacing)), mm(s.LoadLimit), s.LoadLimitBy)
	text, err := json.Marshal(parts)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func mm(v float64) int { return int(v*1e5 + 0.5) }
