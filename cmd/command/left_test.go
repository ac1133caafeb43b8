package command_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A survey whose elevations stand in a property that is none of the names read: the refusal comes with what was left out and how an elevation is given.
func TestRefusalSaysWhatWasLeftOut(t *testing.T) {
	point := func(x, y string) string {
		return `{"type":"Feature","properties":{"ele":12.1},"geometry":{"type":"Point","coordinates":[` + x + `,` + y + `]}}`
	}
	path := filepath.Join(t.TempDir(), "roof.geojson")
	text := `{"type":"FeatureCollection","frame":"local","units":"m","features":[{"type":"Feature","properties":{"role":"outline"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[9,0],[9,9],[0,9],[0,0]]]}},` +
		strings.Join([]string{point("1", "1"), point("8", "1"), point("8", "8"), point("1", "8")}, ",") + `]}`
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errs := run(t, "check", path)
	if code != 3 || out != "" {
		t.Errorf("code %d, page %q", code, out)
	}
	for _, part := range []string{"4 Point without an elevation", "third coordinate or the property elevation", "fewer than three spots lie on the roof"} {
		if !strings.Contains(errs, part) {
			t.Errorf("%q is not said in %q", part, errs)
		}
	}
}
