package geojson_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/soak"
	"runnel/importer/draft"
	"runnel/importer/draft/drafttest"
	"runnel/importer/geojson"
)

// read reads features, given as the text of their array, in feet on a site grid.
func read(t *testing.T, features string) (*draft.Draft, *roof.Refusal) {
	t.Helper()
	var problems roof.Refusal
	d := geojson.Open("a.geojson", []byte(`{"type":"FeatureCollection","features":[`+features+`]}`), &problems)
	if d == nil {
		return nil, &problems
	}
	return d.Read(draft.Setting{Unit: quantity.Feet}, &problems), &problems
}

func feature(properties, kind, coordinates string) string {
	return `{"type":"Feature","properties":{` + properties + `},"geometry":{"type":"` + kind + `","coordinates":` + coordinates + `}}`
}

func feet(v float64) quantity.Length { return quantity.Length(v) * quantity.Foot }

func near(a, b quantity.Length) bool { return math.Abs(float64(a-b)) < 1e-12 }

// By hand: 1 ft is 0.3048 m and 1 in is 0.0254 m, both exact.
func TestReadsEveryRole(t *testing.T) {
	d, problems := read(t, strings.Join([]string{
		feature(`"role":"outline","name":"Depot","building":"7","surveyed":"2026-03-01","edge":"gutter","pond_depth":"1/2 in","max_travel":60`,
			"Polygon", `[[[0,0,100],[0,40,100],[60,40],[60,0],[0,0]],[[10,10],[20,10],[20,20],[10,20],[10,10]]]`),
		feature(`"role":"edge","type":"wall","height":"18 in","duty":"overflow","label":"W1"`, "LineString", `[[0,0],[60,0]]`),
		feature(`"role":"spot","id":17,"sigma":0.01`, "Point", `[5,5,100.25]`),
		feature(`"role":"spot","id":"a","elevation":"100' 3\""`, "Point", `[6,5]`),
		feature(`"role":"breakline","type":"valley"`, "LineString", `[[0,0,1],[5,5],[9,9,2]]`),
		feature(`"role":"curb","height":1,"label":"Unit"`, "Polygon", `[[[30,30],[30,35],[35,35],[35,30],[30,30]]]`),
		feature(`"role":"outlet","type":"drain","invert":"99' 6\"","diameter":"4in","dam_height":"2 in","label":"D1"`, "Point", `[30,20]`),
		feature(`"role":"outlet","type":"scupper","duty":"overflow","width":1,"opening_height":"4 in"`, "Point", `[60,20,99]`),
		feature(`"role":"outlet","type":"scupper"`, "Point", `[60,25]`),
		feature(`"role":"core","deck":"steel","cutter":"tube","reached":"flute","layers":[{"material":"membrane","thickness":"60 mm","condition":"wet"},{"material":"foam","thickness":"2 in"}]`, "Point", `[9,9,101]`),
		feature(`"role":"stain","depth":"1 in","hours_since_rain":50,"note":"silt","photo":"1.jpg"`, "Polygon", `[[[1,1],[2,1],[2,2],[1,1]]]`),
		feature(`"role":"control","lon":-93,"lat":45`, "Point", `[2000000,500000]`),
	}, ","))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	o := d.Outlines[0]
	if o.Name != "Depot" || o.Building != "7" || o.Surveyed != "2026-03-01" || o.Edge != roof.Gutter || o.EdgeAssumed {
		t.Errorf("outline %+v", o)
	}
	if !(math.Abs(o.Criteria["pond_depth"]-0.0127) <= 1e-12) || !(math.Abs(o.Criteria["max_travel"]-60*0.3048) <= 1e-12) {
		t.Errorf("criteria %v", o.Criteria)
	}
	if got := o.Rings[0][1].Plan; got != (orb.Point{60, 0}) {
		t.Errorf("the outer ring goes on at %v: it is not counter-clockwise", got)
	}
	if p := o.Rings[0][0]; !p.HasZ || !(math.Abs(p.Z-30.48) <= 1e-12) || o.Rings[0][4] != p || o.Rings[0][2].HasZ {
		t.Errorf("elevations of the outer ring: %+v", o.Rings[0])
	}
	if got := o.Rings[1][1].Plan; got != (orb.Point{10, 20}) {
		t.Errorf("the hole goes on at %v: it is not clockwise", got)
	}
	if e := d.Edges[0]; e.Type != roof.Wall || !near(e.Height, 18*quantity.Inch) || e.Duty != roof.Overflow || e.Label != "W1" {
		t.Errorf("edge %+v", e)
	}
	if s := d.Spots[0]; s.ID != "17" || !(math.Abs(s.Z-100.25*0.3048) <= 1e-12) || !near(s.Sigma, feet(0.01)) || s.Origin.Feature != 3 || string(s.Properties) == "" {
		t.Errorf("spot %+v", s)
	}
	if s := d.Spots[1]; !(math.Abs(s.Z-100.25*0.3048) <= 1e-12) {
		t.Errorf("spot with an elevation in its properties %+v", s)
	}
	if b := d.Breaklines[0]; b.Type != roof.Valley || b.Line[1].HasZ || !b.Line[2].HasZ {
		t.Errorf("breakline %+v", b)
	}
	if c := d.Curbs[0]; !near(c.Height, feet(1)) || c.Label != "Unit" || c.Ring[1].Plan != (orb.Point{35, 30}) {
		t.Errorf("curb %+v", c)
	}
	drain, scupper, plain := d.Outlets[0], d.Outlets[1], d.Outlets[2]
	if drain.Type != roof.Drain || !drain.HasInvert || !(math.Abs(drain.Invert-99.5*0.3048) <= 1e-12) || !near(drain.Diameter, 4*quantity.Inch) ||
		!near(drain.Bowl, 12*quantity.Inch) || !near(drain.DamHeight, 2*quantity.Inch) || drain.Width != 0 {
		t.Errorf("drain %+v", drain)
	}
	if scupper.Type != roof.Scupper || scupper.Duty != roof.Overflow || !near(scupper.Width, feet(1)) || !near(scupper.OpeningHeight, 4*quantity.Inch) ||
		!(math.Abs(scupper.Invert-99*0.3048) <= 1e-12) || scupper.Bowl != 0 {
		t.Errorf("scupper %+v", scupper)
	}
	if !near(plain.Width, 8*quantity.Inch) || plain.HasInvert || plain.Duty != roof.Primary {
		t.Errorf("scupper of default width %+v", plain)
	}
	if c := d.Cores[0]; c.Deck != "steel" || c.Cutter != "tube" || c.Reached != "flute" || len(c.Layers) != 2 || !near(c.Layers[0].Thickness, 0.06) || c.Layers[0].Condition != "wet" {
		t.Errorf("core %+v", c)
	}
	if s := d.Stains[0]; !near(s.Depth, quantity.Inch) || s.HoursSinceRain != 50 || s.Note != "silt" || s.Photo != "1.jpg" {
		t.Errorf("stain %+v", s)
	}
	if c := d.Controls[0]; c.Plan != (orb.Point{2000000, 500000}) || c.Lon != -93 || c.Lat != 45 {
		t.Errorf("control %+v", c)
	}
	if !d.Imperial {
		t.Error("lengths in inches were not noticed")
	}
}

func TestFeaturesWithoutARole(t *testing.T) {
	polygon := `[[[0,0],[60,0],[60,40],[0,0]]]`
	d, problems := read(t, strings.Join([]string{
		feature(`"height":3`, "Polygon", polygon),
		feature(``, "Point", `[5,5,100]`),
		feature(`"elevation":100`, "Point", `[6,5]`),
		feature(`"elevation":null`, "Point", `[6,5]`),
		feature(``, "LineString", `[[6,5],[7,5]]`),
		feature(`"layer":"pond"`, "Polygon", polygon),
		feature(`"layer":"spot","role":"spot"`, "Point", `[7,5,100]`),
		`{"type":"Feature","properties":null,"geometry":null}`,
	}, ","))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if len(d.Outlines) != 1 || len(d.Spots) != 3 {
		t.Errorf("%d outlines and %d spots, want 1 and 3", len(d.Outlines), len(d.Spots))
	}
	want := "a.geojson: left out features without a role: 3 (1 LineString, 1 Point without an elevation, 1 feature without a geometry). An elevation is a third coordinate or the property elevation."
	if len(d.Warnings) != 1 || d.Warnings[0] != want {
		t.Errorf("warnings %q, want %q", d.Warnings, want)
	}
	two, _ := read(t, feature(``, "Polygon", polygon)+","+feature(``, "Polygon", polygon))
	if len(two.Outlines) != 0 || two.Polygons != 2 {
		t.Errorf("two polygons without a role: %d outlines, %d left", len(two.Outlines), two.Polygons)
	}
}

func TestNullPropertiesAreLeftOut(t *testing.T) {
	d, problems := read(t, feature(`"role":"spot","elevation":null,"sigma":null,"id":null`, "Point", `[5,5,100]`)+","+
		feature(`"role":"outlet","type":"drain","bowl":null,"invert":null`, "Point", `[5,5]`))
	if problems.Err() != nil || len(d.Spots) != 1 || !near(d.Outlets[0].Bowl, 12*quantity.Inch) || d.Outlets[0].HasInvert {
		t.Errorf("%v: %+v", problems.Err(), d)
	}
}

func TestMultiGeometryOfOnePartIsThatPart(t *testing.T) {
	d, problems := read(t, feature(`"role":"outline"`, "MultiPolygon", `[[[[0,0],[60,0],[60,40],[0,0]]]]`))
	if problems.Err() != nil || len(d.Outlines) != 1 {
		t.Errorf("%v", problems.Err())
	}
}

// Each refusal must say the rule and the mend in words that say enough.
func TestRefuses(t *testing.T) {
	outline := func(rings string) string { return feature(`"role":"outline"`, "Polygon", rings) }
	tests := []struct{ name, features, says string }{
		{"self-crossing", outline(`[[[0,0],[10,10],[10,0],[0,10],[0,0]]]`), "at (5, 5): the outline crosses or touches itself"},
		{"not closed", outline(`[[[0,0],[10,0],[10,10],[0,10]]]`), "at (0, 10): the outline is not closed: it starts at (0, 0)"},
		{"hole outside", outline(`[[[0,0],[10,0],[10,10],[0,10],[0,0]],[[20,20],[22,20],[22,22],[20,20]]]`), "a hole of the outline lies outside"},
		{"hole in a hole", outline(`[[[0,0],[10,0],[10,10],[0,10],[0,0]],[[2,2],[8,2],[8,8],[2,8],[2,2]],[[4,4],[5,4],[5,5],[4,4]]]`), "inside another hole"},
		{"hole across the edge", outline(`[[[0,0],[10,0],[10,10],[0,10],[0,0]],[[8,2],[12,2],[12,8],[8,8],[8,2]]]`), "touch or cross"},
		{"no area", outline(`[[[0,0],[10,0],[0,0]]]`), "fewer than three corners"},
		{"flat", outline(`[[[0,0],[10,0],[20,0],[0,0]]]`), "crosses or touches itself"},
		{"no ring", outline(`[]`), "has no corners"},
		{"two heights at one corner", outline(`[[[0,0,1],[10,0],[10,10],[0,0,2]]]`), "different elevations"},
		{"1e400", feature(`"role":"spot"`, "Point", `[1,2,1e400]`), "1e400 in the position [1,2,1e400] is not a finite number"},
		{"null elevation", feature(`"role":"spot"`, "Point", `[1,2,null]`), "null in the position"},
		{"text elevation", feature(`"role":"spot"`, "Point", `[1,2,"high"]`), `"high" in the position`},
		{"text in the property", feature(`"role":"spot","elevation":"high"`, "Point", `[1,2]`), "elevation: "},
		{"1e400 in the property", feature(`"role":"spot","elevation":1e400`, "Point", `[1,2]`), "not a finite length"},
		{"no elevation", feature(`"role":"spot"`, "Point", `[1,2]`), "at (1, 2): the spot has no elevation"},
		{"no-data elevation", feature(`"role":"spot"`, "Point", `[1,2,-9999]`), "no roof stands at"},
		{"two elevations", feature(`"role":"spot","elevation":5`, "Point", `[1,2,6]`), "differ"},
		{"unknown role", feature(`"role":"drian"`, "Point", `[1,2]`), `unknown role "drian"; use outline, edge, spot`},
		{"unknown edge type", feature(`"role":"edge","type":"parapet"`, "LineString", `[[1,2],[3,4]]`), "use wall, gutter, free"},
		{"edge without a type", feature(`"role":"edge"`, "LineString", `[[1,2],[3,4]]`), "the edge has no type"},
		{"outlet without a type", feature(`"role":"outlet"`, "Point", `[1,2]`), "the outlet has no type"},
		{"negative bowl", feature(`"role":"outlet","type":"drain","bowl":-1`, "Point", `[1,2]`), "bowl is negative"},
		{"huge bowl", feature(`"role":"outlet","type":"drain","bowl":12`, "Point", `[1,2]`), "bowl is over 10 ft"},
		{"width of 8 on", feature(`"role":"outlet","type":"scupper","width":"8 on"`, "Point", `[1,2]`), `"on" is no unit`},
		{"wrong geometry", feature(`"role":"outlet","type":"drain"`, "LineString", `[[1,2],[3,4]]`), "role outlet needs a Point, this has a LineString"},
		{"curb with a hole", feature(`"role":"curb"`, "Polygon", `[[[0,0],[10,0],[10,10],[0,10],[0,0]],[[2,2],[3,2],[3,3],[2,2]]]`), "cannot have a hole"},
		{"short line", feature(`"role":"breakline"`, "LineString", `[[1,2]]`), "fewer than two positions"},
		{"layers", feature(`"role":"core","layers":[{"material":"foam"}]`, "Point", `[1,2]`), "layer 1: the thickness is missing"},
		{"criterion", feature(`"role":"outline","min_slope":"1/4"`, "Polygon", `[[[0,0],[10,0],[10,10],[0,0]]]`), "not a slope"},
		{"control without lon", feature(`"role":"control","lat":45`, "Point", `[1,2]`), "no lon and lat"},
		{"control off the map", feature(`"role":"control","lat":95,"lon":0`, "Point", `[1,2]`), "no place on the map"},
		{"position", feature(`"role":"spot"`, "Point", `[1]`), "fewer than two numbers"},
		{"no position", feature(`"role":"spot"`, "Point", `{}`), "not an array"},
		{"no feature", `7`, "not a Feature"},
	}
	for _, tt := range tests {
		_, problems := read(t, tt.features)
		err := problems.Err()
		if err == nil {
			t.Errorf("%s: accepted", tt.name)
			continue
		}
		if !strings.Contains(err.Error(), tt.says) || !strings.HasPrefix(err.Error(), "a.geojson feature 1") {
			t.Errorf("%s: %q does not say %q", tt.name, err, tt.says)
		}
	}
}

func TestOpenRefuses(t *testing.T) {
	tests := []struct{ text, says string }{
		{`{"type":"FeatureCollection","features":[{"type":"Fea`, "cut off"},
		{`{"type":"FeatureCollection","features":[NaN]}`, "NaN is not a number in JSON"},
		{"{\"a\":1,\n\n\"b\":}", "line 3, column 5: this is not JSON"},
		{"{\"a\":\"caf\xe9\"}", "not in UTF-8"},
		{`{"a":1}`, "JSON but not GeoJSON"},
		{`[1,2]`, "JSON but not GeoJSON"},
		{`{"type":"Polygon","coordinates":[]}`, `this is a "Polygon"`},
		{`{"type":"FeatureCollection"}`, `no array "features"`},
		{`{"type":"FeatureCollection","features":[],"units":"furlong"}`, `unknown unit "furlong"`},
		{strings.Repeat("[", 200000), "this is not JSON"},
	}
	for _, tt := range tests {
		var problems roof.Refusal
		if d := geojson.Open("a.geojson", []byte(tt.text), &problems); d != nil || problems.Err() == nil || !strings.Contains(problems.Err().Error(), tt.says) {
			t.Errorf("%.40s: %v, want %q", tt.text, problems.Err(), tt.says)
		}
	}
}

func TestOpenReadsMembers(t *testing.T) {
	tests := []struct {
		members string
		unit    quantity.Unit
		frame   string
	}{
		{`"units":"ft-us","frame":"local"`, quantity.USSurveyFeet, "local"},
		{`"frame":"EPSG:26915"`, quantity.Unstated, "EPSG:26915"},
		{`"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}}`, quantity.Unstated, "wgs84"},
		{`"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::26915"}}`, quantity.Unstated, "EPSG:26915"},
		// The forms of OGC 09-048r5 (Name type specification): with a version or without, as URN and as URL.
		{`"crs":{"type":"name","properties":{"name":"EPSG:26915"}}`, quantity.Unstated, "EPSG:26915"},
		{`"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG:6.9:26915"}}`, quantity.Unstated, "EPSG:26915"},
		{`"crs":{"type":"name","properties":{"name":"http://www.opengis.net/def/crs/EPSG/0/26915"}}`, quantity.Unstated, "EPSG:26915"},
		{`"crs":{"type":"name","properties":{"name":"epsg:4326"}}`, quantity.Unstated, "wgs84"},
		{`"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::4326"}}`, quantity.Unstated, "wgs84"},
		{`"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG:6.6:4326"}}`, quantity.Unstated, "wgs84"},
		{`"crs":{"type":"name","properties":{"name":"http://www.opengis.net/def/crs/OGC/1.3/CRS84"}}`, quantity.Unstated, "wgs84"},
		{`"crs":{"type":"name","properties":{"name":"Site grid"}}`, quantity.Unstated, "Site grid"},
		{`"bbox":[0,0,1,1]`, quantity.Unstated, ""},
	}
	for _, tt := range tests {
		var problems roof.Refusal
		d := geojson.Open("a.geojson", []byte("\xef\xbb\xbf"+`{"type":"FeatureCollection","features":[],`+tt.members+`}`), &problems)
		if d == nil || d.Units != tt.unit || d.Frame != tt.frame {
			t.Errorf("%s: %+v, %v", tt.members, d, problems.Err())
		}
	}
}

// The polygons of RFC 7946, appendix A.3: without holes, and with one.
func TestReadsTheRingsOfRFC7946(t *testing.T) {
	for name, want := range map[string][]int{"rfc7946-a3-plain.geojson": {5}, "rfc7946-a3-hole.geojson": {5, 5}} {
		data, err := os.ReadFile("testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		var problems roof.Refusal
		d := geojson.Open(name, data, &problems)
		if d == nil {
			t.Fatal(problems.Err())
		}
		out := d.Read(draft.Setting{Unit: quantity.Metres, Geographic: true}, &problems)
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		rings := out.Outlines[0].Rings
		if len(rings) != len(want) {
			t.Fatalf("%s: %d rings, want %d", name, len(rings), len(want))
		}
		for i, n := range want {
			if len(rings[i]) != n {
				t.Errorf("%s: ring %d has %d positions, want %d", name, i, len(rings[i]), n)
			}
		}
		if rings[0][0].Plan != (orb.Point{100, 0}) || rings[0][2].Plan != (orb.Point{101, 1}) {
			t.Errorf("%s: ring %v", name, rings[0])
		}
	}
}

func reading() *soak.Target {
	g := soak.New("FuzzRead", `"type":"Polygon"`, `"type":"MultiPolygon"`, `"type":"LineString"`, `"type":"Point"`, `"type":"GeometryCollection","geometries":[]`, `"coordinates":`, `"properties":null`, `"geometry":null`, `"role":"outline"`, `"role":"edge"`, `"role":"spot"`, `"role":"breakline"`, `"role":"curb"`, `"role":"outlet"`, `"role":"core"`, `"role":"stain"`, `"role":"sill"`, `"role":"control"`, `"layer":"facet"`, `"frame":"local"`, `"units":"in"`, `"elevation":`, `"invert":`, `"id":`, `[1,2,3]`, `[]`, `{}`, `1e999`, `"8 in"`)
	g.Add([]byte(`{"type":"FeatureCollection","units":"ft","features":[` + feature(`"role":"outline","min_slope":"2%"`, "Polygon", `[[[0,0],[9,0,1],[9,9],[0,0]]]`) + `]}`))
	g.Add([]byte(`{"type":"FeatureCollection","features":[` + feature(`"role":"outlet","type":"drain","bowl":"1' 2\""`, "Point", `[1,2,3]`) + `]}`))
	g.Add([]byte(`{"type":"Feature","properties":{"role":"core","layers":[{}]},"geometry":{"type":"MultiPoint","coordinates":[[1,2]]}}`))
	g.Add([]byte(`{"type":"FeatureCollection","features":[` + feature(`"role":"control","lon":1,"lat":2`, "Point", `[1,2]`) + `,` + feature(``, "Polygon", `[[[0,0],[1,1],[1,0],[0,1],[0,0]]]`) + `]}`))
	g.Add([]byte(`{"type":"FeatureCollection","features":[` + feature(`"role":"outlet","type":"scupper","leader":"3x4 in","crest":"sharp","pipe_slope":"1%"`, "Point", `[1,2,3]`) + `,` +
		feature(`"role":"sill","kind":"curb-top"`, "Point", `[1,2,3]`) + `,` + feature(`"role":"outline","load_limit":"2 kPa","member_direction":-20`, "Polygon", `[[[0,0],[9,0],[9,9],[0,0]]]`) + `]}`))
	g.Property = func(t *testing.T, data []byte) {
		t.Helper()
		for _, set := range []draft.Setting{{Unit: quantity.Feet, Many: true}, {Unit: quantity.Metres, Geographic: true, Many: true}} {
			var problems roof.Refusal
			d := geojson.Open("a.geojson", data, &problems)
			if d == nil {
				if problems.Err() == nil {
					t.Fatal("nothing read and nothing said")
				}
				return
			}
			drafttest.Finite(t, d.Read(set, &problems))
		}
	}
	return g
}

func FuzzRead(f *testing.F) { reading().Fuzz(f) }

func TestSoakRead(t *testing.T) { reading().Soak(t) }

func BenchmarkRead(b *testing.B) {
	var text strings.Builder
	text.WriteString(`{"type":"FeatureCollection","features":[`)
	const n = 100000
	for i := range n {
		if i > 0 {
			text.WriteByte(',')
		}
		fmt.Fprintf(&text, `{"type":"Feature","properties":{"role":"spot","id":%d},"geometry":{"type":"Point","coordinates":[%.3f,%.3f,%.4f]}}`,
			i+1, float64(i%1000)*0.731, float64(i/1000)*0.517, 100+float64(i%97)*0.013)
	}
	text.WriteString(`]}`)
	data := []byte(text.String())
	b.ReportAllocs()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		var problems roof.Refusal
		d := geojson.Open("a.geojson", data, &problems).Read(draft.Setting{Unit: quantity.Metres}, &problems)
		if len(d.Spots) != n {
			b.Fatal(problems.Err())
		}
	}
}
