package geopackage_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/reference"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/geopackage"
	"runnel/export/layer"
	"runnel/export/record"
)

// Roofs of a campus stand in a table of their kind of place, in the units of the site, and one that could not be read has no place but keeps its line. By hand: 3.048 m are 10 ft from
// the origin at (100, 200) ft. Another program reads the file.
func TestRoofsOfACampus(t *testing.T) {
	var full record.Object
	full.Text("name", "x")
	full.Int("ponds", 0)
	path := filepath.Join(t.TempDir(), "a%20b?.gpkg")
	r, err := geopackage.NewRoofs(path, &full, quantity.Feet, true, true)
	if err != nil {
		t.Fatal(err)
	}
	square := orb.Polygon{{{0, 0}, {3.048, 0}, {3.048, 3.048}, {0, 3.048}, {0, 0}}}
	for _, o := range []struct {
		name  string
		frame roof.Frame
		rings orb.Polygon
		local bool
	}{
		{"Grid 'A'", roof.NewLocal(orb.Point{100, 200}, quantity.Feet), square, true},
		{"Unread", roof.Frame{}, nil, true},
		{"Globe", roof.NewGeographic(orb.Point{-12.5, 41.25}), square, false},
	} {
		var facts record.Object
		facts.Text("name", o.name)
		facts.Int("ponds", len(o.name))
		if err := r.Add(&layer.Outline{ID: o.name, Title: o.name, Frame: o.frame, Units: quantity.Feet, Rings: o.rings, Properties: &facts, Worst: finding.Urgent, Any: true}, o.local); err != nil {
			t.Fatal(err)
		}
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	for table, wants := range map[string][]string{
		"roof_local": {"Feature Count: 2", "Extent: (100.000000, 200.000000) - (110.000000, 210.000000)", "name (String) = Grid 'A'", "ponds (Integer64) = 8", "name (String) = Unread"},
		"roof":       {"Feature Count: 1", "Extent: (-12.500000, 41.250000)", "name (String) = Globe", `GEOGCRS["WGS 84"`},
	} {
		info := string(reference.Run(t, "gdal-bin", nil, "ogrinfo", "-al", path, table))
		for _, want := range wants {
			if !strings.Contains(info, want) {
				t.Errorf("%s: no %q in %s", table, want, info)
			}
		}
		if n := strings.Count(info, "MULTIPOLYGON ((("); n != 1 {
			t.Errorf("%s: %d roofs with a place", table, n)
		}
	}
	if _, err := geopackage.NewRoofs(filepath.Join(t.TempDir(), "none", "a.gpkg"), &full, quantity.Feet, true, true); err == nil || !strings.Contains(err.Error(), "build the GeoPackage") {
		t.Error("a file in a folder that there is not:", err)
	}
}
