package command_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// walled is a pan of 10 m by 8 m with walls all round, one sized drain in its middle, and no overflow.
const walled = `{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","name":"Walled","edge":"wall"},"geometry":{"type":"Polygon","coordinates":[[[0,0,5.1],[10,0,5.1],[10,8,5.1],[0,8,5.1],[0,0,5.1]]]}},
{"type":"Feature","properties":{"role":"spot","id":"1"},"geometry":{"type":"Point","coordinates":[5,4,5]}},
{"type":"Feature","properties":{"role":"spot","id":"2"},"geometry":{"type":"Point","coordinates":[2,4,5.05]}},
{"type":"Feature","properties":{"role":"spot","id":"3"},"geometry":{"type":"Point","coordinates":[8,4,5.05]}},
{"type":"Feature","properties":{"role":"sill","label":"Door","elevation":5.5},"geometry":{"type":"Point","coordinates":[5.1,4.1]}},
{"type":"Feature","properties":{"role":"outlet","type":"drain","label":"D1","diameter":"100 mm","invert":5.02},"geometry":{"type":"Point","coordinates":[5,4]}}]}`

// With the only drain blocked the water of a walled roof has no way out: said, and urgent.
func TestNoWayOutOnceBlocked(t *testing.T) {
	dir := t.TempDir()
	code, out, err := run(t, "check", file(t, dir, "roof.geojson", walled), "--rain-overflow", "4in/h", "--fail-on", "urgent")
	if code != 1 {
		t.Fatalf("code %d: %s", code, err)
	}
	text := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{
		"water has no way out at any level: it rises as long as it rains.", "Walls stand all round and there is no overflow.",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q:\n%s", want, out)
		}
	}
}

// A storm is followed for 48 h after its rain: no picture of the water is taken later.
func TestStormOfFiveDaysHasAReport(t *testing.T) {
	dir := t.TempDir()
	code, _, err := run(t, "storm", file(t, dir, "roof.geojson", walled), "--depth", "75mm", "--duration", "120h", "-o", dir)
	if code != 0 {
		t.Fatalf("code %d: %s", code, err)
	}
	if _, err := os.Stat(filepath.Join(dir, "walled.report.html")); err != nil {
		t.Error(err)
	}
}

// The summary counts sills among what was read, and has a list of them only where there are some.
func TestSillsInTheSummary(t *testing.T) {
	dir := t.TempDir()
	for name, doc := range map[string]string{"walled": walled, "slab": slab} {
		_, out, err := run(t, "check", file(t, dir, name+".geojson", doc), "--json")
		var got struct {
			Inputs []map[string]any
			Sills  *[]any
		}
		if e := json.Unmarshal([]byte(out), &got); e != nil {
			t.Fatal(e, err)
		}
		count, counted := got.Inputs[0]["sill_count"]
		if has := name == "walled"; counted != has || has && count != 1.0 || (got.Sills != nil) != has {
			t.Errorf("%s: sill_count %v, sills %v", name, count, got.Sills)
		}
	}
}
