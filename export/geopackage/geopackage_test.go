package geopackage_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"runnel/analysis/geometry/reference"
	"runnel/export/geojson"
	"runnel/export/geopackage"
	"runnel/export/layer"
	"runnel/export/record"
	"runnel/export/sample"
)

// books are roofs on site grids in metres and in feet, and one in degrees; the first under a storm.
func books() map[string]*record.Book {
	return map[string]*record.Book{
		"metres":  record.NewBook(sample.Storm(sample.Local()), "", record.SI),
		"feet":    record.NewBook(sample.Study(sample.Feet()), "", record.US),
		"degrees": record.NewBook(sample.Study(sample.Geographic()), "", record.SI),
	}
}

func written(t *testing.T, b *record.Book) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := geopackage.Write(&out, b, layer.All()...); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func file(t *testing.T, b *record.Book) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "roof.gpkg")
	if err := os.WriteFile(path, written(t, b), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

type feature struct {
	Geometry *struct {
		Type        string
		Coordinates any
	}
	Properties map[string]any
}

func parse(t *testing.T, text []byte) (out map[string]feature) {
	t.Helper()
	var doc struct{ Features []feature }
	if err := json.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	out = map[string]feature{}
	for _, f := range doc.Features {
		out[f.Properties["id"].(string)] = f
	}
	return out
}

// numbers returns all coordinates in their order, in plan alone where flat.
func numbers(v any, flat bool) (out []float64) {
	list, _ := v.([]any)
	for i, x := range list {
		if n, ok := x.(float64); !ok {
			out = append(out, numbers(x, flat)...)
		} else if i < 2 || !flat {
			out = append(out, n)
		}
	}
	return out
}

// A general program that reads GeoPackage finds in it the features of our GeoJSON: the same ids, places, properties.
func TestFeaturesAreThoseOfTheGeoJSON(t *testing.T) {
	all := books()
	delete(all, "feet") // whose numbers differ by their unit alone
	for name, b := range all {
		path := file(t, b)
		var own bytes.Buffer
		if err := geojson.Write(&own, b, layer.All()...); err != nil {
			t.Fatal(err)
		}
		want, got := parse(t, own.Bytes()), map[string]feature{}
		for _, table := range tables(t, path) {
			out := filepath.Join(t.TempDir(), table+".geojson")
			reference.Run(t, "gdal-bin", nil, "ogr2ogr", "-f", "GeoJSON", "-lco", "COORDINATE_PRECISION=9", "-lco", "SIGNIFICANT_FIGURES=17", out, path, table)
			text, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			for id, f := range parse(t, text) {
				got[id] = f
			}
		}
		if len(want) < 100 || len(got) != len(want) {
			t.Fatalf("%s: %d features, %d in the GeoJSON", name, len(got), len(want))
		}
		for id, w := range want {
			compare(t, name+" "+id, got[id], w)
		}
	}
}

func tables(t *testing.T, path string) (names []string) {
	t.Helper()
	for line := range strings.Lines(string(reference.Run(t, "gdal-bin", nil, "ogrinfo", "-q", path))) {
		_, name, _ := strings.Cut(line, ": ")
		name, _, _ = strings.Cut(strings.TrimSpace(name), " (")
		if name != "" && name != "layer_styles" {
			names = append(names, name)
		}
	}
	return names
}

func compare(t *testing.T, id string, got, want feature) {
	t.Helper()
	if (got.Geometry == nil) != (want.Geometry == nil) {
		t.Errorf("%s: one has no place", id)
		return
	}
	if got.Geometry != nil {
		g, w := numbers(got.Geometry.Coordinates, false), numbers(want.Geometry.Coordinates, false)
		if len(g) != len(w) { // an elevation that one place lacks
			g, w = numbers(got.Geometry.Coordinates, true), numbers(want.Geometry.Coordinates, true)
		}
		same := len(g) == len(w)
		for i := 0; same && i < len(g); i++ {
			same = math.Abs(g[i]-w[i]) < 1.1e-9
		}
		if !same {
			t.Errorf("%s: %d numbers, %d in the GeoJSON, or one differs", id, len(g), len(w))
		}
	}
	for key, w := range want.Properties {
		g := got.Properties[strings.NewReplacer("stroke-", "stroke_", "fill-", "fill_", "marker-", "marker_").Replace(key)]
		if list, ok := w.([]any); ok && key == "causes" {
			var words []string
			for _, x := range list {
				words = append(words, x.(string))
			}
			w = strings.Join(words, ", ")
		}
		switch w := w.(type) {
		case string, bool:
			if g != w {
				t.Errorf("%s: %s is %v, want %v", id, key, g, w)
			}
		case float64:
			if key == "leader" { // a number or two: the column holds texts
				g, w = 0.0, 0.0
			}
			if n, ok := g.(float64); !ok || !(math.Abs(n-w) <= 1e-9*math.Max(1, math.Abs(w))) {
				t.Errorf("%s: %s is %v, want %v", id, key, g, w)
			}
		}
	}
}

// A site grid is the undefined Cartesian frame of the standard, degrees are EPSG 4326, and every layer is of one kind of shape.
func TestFrames(t *testing.T) {
	for name, b := range books() {
		info := string(reference.Run(t, "gdal-bin", nil, "ogrinfo", "-so", "-al", file(t, b)))
		wgs, none := strings.Contains(info, `GEOGCRS["WGS 84"`), strings.Contains(info, `["Undefined Cartesian SRS"`)
		if wgs != (name == "degrees") || none == wgs {
			t.Errorf("%s: WGS 84 %v, undefined Cartesian %v", name, wgs, none)
		}
		for _, wrong := range []string{"Geometry: Unknown", "Warning", "ERROR"} {
			if strings.Contains(info, wrong) {
				t.Errorf("%s: %q in %s", name, wrong, info)
			}
		}
		if !strings.Contains(info, "Layer name: finding") || !strings.Contains(info, "depth_") {
			t.Errorf("%s: no findings, or no depth: %s", name, info)
		}
	}
}

func TestSameBytes(t *testing.T) {
	for name := range books() {
		if a, b := written(t, books()[name]), written(t, books()[name]); !bytes.Equal(a, b) {
			t.Errorf("%s: two runs differ", name)
		}
	}
}

// Names that SQL would take for one, for its own columns or for code stay columns of their own.
func TestHostileProperties(t *testing.T) {
	r := sample.Local()
	r.Spots[0].Properties = json.RawMessage(`{"Note":"a","note":"b","fid":7,"geom":true,"x\"); DROP TABLE spot;--":[1,2],"":3}`)
	path := file(t, record.NewBook(sample.Study(r), "", record.SI))
	out := string(reference.Run(t, "gdal-bin", nil, "ogrinfo", "-q", path, "spot", "-where", "fid=1"))
	for _, want := range []string{"Note (String) = a", "note_2 (String) = b", "fid_2 (Real) = 7", "geom_2 (Integer(Boolean)) = 1", `DROP TABLE spot;-- (String) = [1,2]`} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in %s", want, out)
		}
	}
}
