package geojson_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/importer"
)

// TestDrawnElevations: an outline may say that its elevations were drawn, a spot that nobody measured it; another word is refused with its place.
func TestDrawnElevations(t *testing.T) {
	file := `{"type":"FeatureCollection","units":"m","frame":"local","features":[
{"type":"Feature","properties":{"role":"outline","edge":"wall","elevations":"WORD"},"geometry":{"type":"Polygon","coordinates":[[[0,0,1],[9,0,1],[9,9,1],[0,9,1],[0,0,1]]]}},
{"type":"Feature","properties":{"role":"spot","id":"a","assumed":true},"geometry":{"type":"Point","coordinates":[4,4,0.9]}},
{"type":"Feature","properties":{"role":"spot","id":"b"},"geometry":{"type":"Point","coordinates":[6,4,0.9]}}]}`
	for word, want := range map[string]bool{"drawn": true, "measured": false} {
		r, err := importer.Read([]string{written(t, strings.Replace(file, "WORD", word, 1))}, importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if (r.Outline.Elevations == roof.Drawn) != want || !r.Spots[0].Assumed || r.Spots[1].Assumed {
			t.Errorf("%s: drawn %t, spots %+v", word, r.Outline.Elevations == roof.Drawn, r.Spots)
		}
	}
	if _, err := importer.Read([]string{written(t, strings.Replace(file, "WORD", "guessed", 1))}, importer.Options{}); err == nil || !strings.Contains(err.Error(), "guessed") {
		t.Errorf("guessed: %v", err)
	}
}

func written(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "roof.geojson")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
