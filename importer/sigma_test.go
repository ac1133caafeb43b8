package importer_test

import (
	"os"
	"path/filepath"
	"testing"

	"runnel/analysis/quantity"
	"runnel/importer"
)

// A spot keeps the standard error that it states; others take that of their file, and those of other files the one for all.
func TestSigmaByPointFileAndAll(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	outline := write("outline.geojson", `{"type":"FeatureCollection","units":"m","frame":"local","features":[{"type":"Feature",`+
		`"properties":{"role":"outline"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[9,0],[9,9],[0,9],[0,0]]]}}]}`)
	a := write("a.csv", "point,x_m,y_m,z_m,sigma\n1,1,1,0,0.002\n2,2,1,0,\n")
	b := write("b.csv", "point,x_m,y_m,z_m\n3,3,3,0\n")
	r, err := importer.Read([]string{outline, a, b}, importer.Options{
		Sigma: map[string]quantity.Length{"a.csv": 0.004, "": 0.02},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]quantity.Length{"1": 0.002, "2": 0.004, "3": 0.02}
	for _, s := range r.Spots {
		if s.Sigma != want[s.ID] {
			t.Errorf("spot %s has %g, want %g", s.ID, float64(s.Sigma), float64(want[s.ID]))
		}
	}
	if len(r.Spots) != 3 {
		t.Errorf("%d spots", len(r.Spots))
	}
	if _, err := importer.Read([]string{outline, a}, importer.Options{Sigma: map[string]quantity.Length{"c.csv": 0.01}}); err == nil {
		t.Error("a standard error of a file that is not read was taken")
	}
}
