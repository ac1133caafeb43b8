package geojson_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	tidwall "github.com/tidwall/geojson"

	"runnel/analysis/roof"
	"runnel/export/geojson"
	"runnel/export/layer"
	"runnel/export/record"
	"runnel/export/sample"
)

func write(t *testing.T, r *roof.Roof, u record.Units, layers ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	if len(layers) == 0 {
		layers = layer.All()
	}
	if err := geojson.Write(&b, record.NewBook(sample.Study(r), "", u), layers...); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

type document struct {
	Type, Name, Frame, Units string
	BBox                     []float64
	Features                 []feature
}

type feature struct {
	Type, ID string
	Geometry *struct {
		Type        string
		Coordinates json.RawMessage
	}
	Properties map[string]any
}

func parse(t *testing.T, text []byte) document {
	t.Helper()
	var d document
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&d); err != nil {
		t.Fatalf("not JSON: %v", err)
	}
	return d
}

var kinds = map[string]struct {
	roof  func() *roof.Roof
	units record.Units
}{
	"metres": {sample.Local, record.SI}, "feet": {sample.Feet, record.US}, "lon/lat": {sample.Geographic, record.US},
}

// Another reader of GeoJSON must take every file and find the same features in it. Its validity check
// wants longitudes and latitudes, so it is asked for those alone.
func TestTidwallReadsEveryFile(t *testing.T) {
	for name, k := range kinds {
		text := write(t, k.roof(), k.units)
		geographic := k.roof().Frame.Kind == roof.Geographic
		o, err := tidwall.Parse(string(text), &tidwall.ParseOptions{RequireValid: geographic, DisableCircleType: true})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		n := 0
		o.ForEach(func(tidwall.Object) bool { n++; return true })
		if want := len(parse(t, text).Features); n != want {
			t.Errorf("%s: %d features, want %d", name, n, want)
		}
	}
}

// unitEndings are how the name of a number with a unit may end.
var unitEndings = map[record.Units][]string{
	record.SI: {"_m", "_mm", "_m2", "_l", "_kg", "_kpa", "_lps", "_mm_per_h", "_pct", "_deg", "_share"},
	record.US: {"_ft", "_in", "_ft2", "_gal", "_lb", "_psf", "_gpm", "_in_per_h", "_pct", "_deg", "_share", "_in_per_ft"},
}

// unitless are the numbers that have no unit, or that a role defines in the file's unit.
var unitless = []string{
	"stroke-width", "fill-opacity", "sigma", "height", "elevation", "invert", "diameter", "bowl", "dam_height",
	"width", "opening_height", "dam_diameter", "crest_breadth", "leader", "pipe", "conductor_head", "adjoining_height", "member_direction", "member_span", "member_spacing", "depth", "hours_since_rain", "lon", "lat", "evidence", "ponds_unresolved",
	"chance_listed", "chance_deep", "chance_below_min", "order",
}

func TestFilesKeepTheRules(t *testing.T) {
	for name, k := range kinds {
		t.Run(name, func(t *testing.T) {
			r := k.roof()
			d := parse(t, write(t, r, k.units))
			dimensions := 3
			if r.Frame.Kind == roof.Geographic {
				dimensions = 2
			}
			c := &checker{t: t, dimensions: dimensions, units: k.units, ids: map[string]bool{}, layers: map[string]int{}}
			for i := range d.Features {
				c.feature(&d.Features[i])
			}
			c.everyLayer()
			c.bbox(d.BBox, r.Frame.Kind == roof.Geographic)
			if d.Type != "FeatureCollection" || d.Units == "" || d.Frame == "" {
				t.Errorf("members: %q, %q, %q", d.Type, d.Units, d.Frame)
			}
		})
	}
}

// checker holds a file to the rules that it must keep.
type checker struct {
	t          *testing.T
	dimensions int
	units      record.Units
	ids        map[string]bool
	layers     map[string]int
	min, max   [2]float64
	any        bool
}

func (c *checker) feature(f *feature) {
	c.t.Helper()
	layer, _ := f.Properties["layer"].(string)
	c.layers[layer]++
	if f.Type != "Feature" || f.ID == "" || f.Properties["id"] != f.ID || c.ids[f.ID] {
		c.t.Errorf("feature %q of layer %q: type %q, property %v", f.ID, layer, f.Type, f.Properties["id"])
	}
	c.ids[f.ID] = true
	if title, _ := f.Properties["title"].(string); title == "" {
		c.t.Errorf("%s has no title", f.ID)
	}
	for name, v := range f.Properties {
		c.property(f.ID, name, v)
	}
	if f.Geometry == nil {
		c.t.Errorf("%s has no geometry", f.ID)
		return
	}
	c.geometry(f.ID, f.Geometry.Type, f.Geometry.Coordinates, slices.Contains([]string{"outline", "curb", "edge", "stain", "control"}, layer))
}

func (c *checker) property(id, name string, v any) {
	c.t.Helper()
	switch v.(type) {
	case string, bool:
	case []any:
		if name != "layers" && name != "causes" {
			c.t.Errorf("%s: %s is not flat", id, name)
		}
	case float64:
		ends := slices.ContainsFunc(unitEndings[c.units], func(e string) bool {
			return strings.HasSuffix(strings.TrimSuffix(strings.TrimSuffix(name, "_5"), "_95"), e) // the bounds of a figure
		})
		count := strings.HasPrefix(name, "measured_") || strings.HasPrefix(name, "required_")
		if !ends && !count && !slices.Contains(unitless, name) {
			c.t.Errorf("%s: the name %s does not end in a unit", id, name)
		}
	case map[string]any:
		if name != "parts" { // the sample's own
			c.t.Errorf("%s: %s is not flat", id, name)
		}
	default:
		c.t.Errorf("%s: %s is %v", id, name, v)
	}
}

func (c *checker) geometry(id, kind string, coordinates json.RawMessage, asRead bool) {
	c.t.Helper()
	decode := func(to any) {
		if err := json.Unmarshal(coordinates, to); err != nil {
			c.t.Errorf("%s: coordinates of a %s: %v", id, kind, err)
		}
	}
	switch kind {
	case "Point":
		var p []float64
		decode(&p)
		c.position(id, p, asRead)
	case "LineString":
		var l [][]float64
		decode(&l)
		if len(l) < 2 {
			c.t.Errorf("%s: a line of %d positions", id, len(l))
		}
		for _, p := range l {
			c.position(id, p, asRead)
		}
	case "Polygon":
		var p [][][]float64
		decode(&p)
		c.polygon(id, p, asRead)
	case "MultiPolygon":
		var m [][][][]float64
		decode(&m)
		for _, p := range m {
			c.polygon(id, p, asRead)
		}
	default:
		c.t.Errorf("%s: geometry of type %q", id, kind)
	}
}

func (c *checker) polygon(id string, rings [][][]float64, asRead bool) {
	c.t.Helper()
	for i, ring := range rings {
		if len(ring) < 4 || !slices.Equal(ring[0], ring[len(ring)-1]) {
			c.t.Errorf("%s: ring %d is not closed: %v", id, i, ring)
			continue
		}
		area := 0.0
		for k := 1; k < len(ring); k++ {
			area += (ring[k-1][0]-ring[0][0])*(ring[k][1]-ring[0][1]) - (ring[k][0]-ring[0][0])*(ring[k-1][1]-ring[0][1])
		}
		if area > 0 != (i == 0) {
			c.t.Errorf("%s: ring %d turns the wrong way (area %g)", id, i, area/2)
		}
		for _, p := range ring {
			c.position(id, p, asRead)
		}
	}
}

func (c *checker) position(id string, p []float64, asRead bool) {
	c.t.Helper()
	if n := len(p); n != c.dimensions && (!asRead || n != 2) {
		c.t.Errorf("%s: a position of %d numbers", id, len(p))
	}
	for i := range 2 {
		if !c.any {
			c.min[i], c.max[i] = p[i], p[i]
		}
		c.min[i], c.max[i] = math.Min(c.min[i], p[i]), math.Max(c.max[i], p[i])
	}
	c.any = true
}

func (c *checker) everyLayer() {
	c.t.Helper()
	for _, l := range []string{
		"outline", "facet", "plane", "catchment", "contour", "valley", "ridge", "flowpath", "pond", "lip", "outlet",
		"finding", "spot", "curb", "breakline", "edge", "core", "stain", "control",
	} {
		if c.layers[l] == 0 && l != "lip" { // the sample's pond is held by its outlet
			c.t.Errorf("no feature of layer %s", l)
		}
	}
}

func (c *checker) bbox(box []float64, geographic bool) {
	c.t.Helper()
	if !geographic {
		if box != nil {
			c.t.Errorf("a file in site coordinates has a bbox")
		}
		return
	}
	if want := []float64{c.min[0], c.min[1], c.max[0], c.max[1]}; !slices.Equal(box, want) {
		c.t.Errorf("bbox %v, want %v", box, want)
	}
}

// The areas of the full catchments and the undrained area must add up to the net roof area.
func TestFullCatchmentsCoverTheRoof(t *testing.T) {
	for name, k := range kinds {
		d := parse(t, write(t, k.roof(), k.units, "outline", "catchment"))
		key := "area_" + map[record.Units]string{record.SI: "m2", record.US: "ft2"}[k.units]
		total, full := 0.0, 0.0
		for _, f := range d.Features {
			area, _ := f.Properties[key].(float64)
			switch {
			case f.Properties["layer"] == "outline":
				total = area
			case f.Properties["when"] == "full":
				full += area
			}
		}
		if total == 0 || !(math.Abs(full-total) <= 1e-9*total) {
			t.Errorf("%s: catchments add up to %v, roof %v", name, full, total)
		}
	}
}

// The net area of the sample: 20 m by 12 m less a curb of 1 m by 2 m.
func TestFacetsAddUpToTheRoof(t *testing.T) {
	d := parse(t, write(t, sample.Local(), record.SI, "facet"))
	sum := 0.0
	for _, f := range d.Features {
		sum += f.Properties["area_m2"].(float64)
	}
	if want := 238.0; !(math.Abs(sum-want) <= 1e-6*float64(len(d.Features))) {
		t.Errorf("facets add up to %v m2, want %v", sum, want)
	}
}

// Spots must come back where they were measured: file coordinates by hand from the frames of the sample.
func TestSpotsKeepTheirPlace(t *testing.T) {
	for _, c := range []struct {
		name    string
		roof    *roof.Roof
		x, y, z float64 // of the first spot, local (0, 0, 100.15)
		scale   float64
	}{
		{"metres", sample.Local(), 1000, 2000, 100.15, 1},
		{"feet", sample.Feet(), 5000, 6000, 100.15 / 0.3048, 1 / 0.3048},
	} {
		d := parse(t, write(t, c.roof, record.SI, "spot"))
		for i, f := range d.Features {
			var p []float64
			if err := json.Unmarshal(f.Geometry.Coordinates, &p); err != nil {
				t.Fatal(err)
			}
			s := &c.roof.Spots[i]
			want := [3]float64{c.x + s.Plan[0]*c.scale, c.y + s.Plan[1]*c.scale, s.Z * c.scale}
			for k := range 3 {
				if !(math.Abs(p[k]-want[k]) <= 0.6e-6) {
					t.Fatalf("%s, spot %s: %v, want %v", c.name, s.ID, p, want)
				}
			}
			if i == 0 && !(math.Abs(p[2]-c.z) <= 0.6e-6) {
				t.Errorf("%s: elevation %v, want %v", c.name, p[2], c.z)
			}
			if f.Properties["role"] != "spot" {
				t.Errorf("%s: role %v", c.name, f.Properties["role"])
			}
		}
	}
}

// A title is what a pop-up or a list shows in one line: of a long note or label its beginning; the note itself goes out whole.
func TestTitlesFitOneLine(t *testing.T) {
	r := sample.Local()
	note := strings.Repeat("water as seen after the rain of May ", 27)
	r.Stains[0].Note = note
	r.Outlets[0].Label = strings.Repeat("RD-1 ", 150)
	for _, f := range parse(t, write(t, r, record.SI)).Features {
		title := []rune(f.Properties["title"].(string))
		if len(title) > 120 {
			t.Errorf("%s: a title of %d characters", f.ID, len(title))
		}
		if f.Properties["layer"] == "stain" && (f.Properties["note"] != note || title[len(title)-1] != '…') {
			t.Errorf("%q, note %q", string(title), f.Properties["note"])
		}
	}
}

func TestMeasuredFeaturesKeepTheirProperties(t *testing.T) {
	d := parse(t, write(t, sample.Feet(), record.US))
	for _, f := range d.Features {
		p := f.Properties
		switch f.ID {
		case "SR1":
			expect(t, f.ID, p, "crew", "north", "role", "outline", "name", "Sample roof 1", "building", "Sample house", "edge", "wall")
		case "SR1.RD-1":
			expect(t, f.ID, p, "note", "dome missing", "label", "RD-1", "type", "drain", "duty", "primary", "bowl", 1.0, "maker", nil)
		case "SR1.curb.K1":
			expect(t, f.ID, p, "height", 0.984252, "label", "unit 1") // 0.3 m / 0.3048
		case "SR1.edge.E1":
			expect(t, f.ID, p, "type", "gutter", "label", "east gutter")
		case "SR1.core.C1":
			layers := fmt.Sprint(p["layers"])
			if want := "[map[material:membrane thickness:0.00492126] map[condition:wet material:foam thickness:0.32808399]]"; layers != want {
				t.Errorf("layers %s, want %s", layers, want)
			}
		}
	}
}

func expect(t *testing.T, id string, p map[string]any, pairs ...any) {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if got := p[pairs[i].(string)]; got != pairs[i+1] {
			t.Errorf("%s: %v is %v, want %v", id, pairs[i], got, pairs[i+1])
		}
	}
}

func TestLayersSplitTheFile(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	n := 0
	for _, layer := range layer.Of(b, true) {
		d := parse(t, write(t, sample.Local(), record.SI, layer))
		for _, f := range d.Features {
			if f.Properties["layer"] != layer {
				t.Errorf("file of layer %s holds %s", layer, f.ID)
			}
		}
		if len(d.Features) == 0 {
			t.Errorf("layer %s is empty", layer)
		}
		n += len(d.Features)
	}
	if want := len(parse(t, write(t, sample.Local(), record.SI)).Features); n != want {
		t.Errorf("%d features in all layers, want %d", n, want)
	}
}

func TestSameBytes(t *testing.T) {
	if a, b := write(t, sample.Geographic(), record.SI), write(t, sample.Geographic(), record.SI); !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
}

// full is a disk with room for so many bytes.
type full struct{ room int }

var errFull = errors.New("no space left")

func (f *full) Write(p []byte) (int, error) {
	if len(p) > f.room {
		return f.room, errFull
	}
	f.room -= len(p)
	return len(p), nil
}

func TestWriteReportsAFullDisk(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	if err := geojson.Write(&full{1000}, b, layer.All()...); !errors.Is(err, errFull) {
		t.Errorf("got %v", err)
	}
}
