package geojson_test

import (
	"testing"

	"runnel/importer/geojson"
)

// A file is GeoJSON by its first sign whatever its name, with the mark of UTF-8 or blanks before it; one that begins otherwise is so by its name alone, and is then refused as what it claims to be.
func TestToldByItsFirstSign(t *testing.T) {
	for _, c := range []struct {
		name, head string
		is         bool
	}{
		{"a.txt", `{"type":`, true},
		{"a.txt", "\xef\xbb\xbf \n[", true},
		{"a.txt", "1,2,3", false},
		{"a.csv", "", false},
		{"a.json", "1,2,3", true},
		{"A.GeoJSON", "", true},
	} {
		if got := geojson.Format.Is(c.name, []byte(c.head)); got != c.is {
			t.Errorf("%s %q: %v", c.name, c.head, got)
		}
	}
}
