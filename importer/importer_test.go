package importer_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer"
)

// write writes files into a folder of the test and returns their paths in the order given: name, text, ...
func write(t *testing.T, files ...string) (paths []string) {
	t.Helper()
	dir := t.TempDir()
	for i := 0; i < len(files); i += 2 {
		path := filepath.Join(dir, files[i])
		if err := os.WriteFile(path, []byte(files[i+1]), 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

func mustRead(t *testing.T, o importer.Options, files ...string) *roof.Roof {
	t.Helper()
	r, err := importer.Read(write(t, files...), o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func collection(members string, features ...string) string {
	if members != "" {
		members += ","
	}
	return `{"type":"FeatureCollection",` + members + `"features":[` + strings.Join(features, ",") + `]}`
}

func feature(properties, kind, coordinates string) string {
	return `{"type":"Feature","properties":{` + properties + `},"geometry":{"type":"` + kind + `","coordinates":` + coordinates + `}}`
}

const (
	rectangle = `[[[0,0],[60,0],[60,40],[0,40],[0,0]]]`
	rows      = "point,x,y,z,code\n1,6,4,100,\n2,54,4,101,\n3,30,36,102,\n"
)

var outline = feature(`"role":"outline","name":"Depot"`, "Polygon", rectangle)

func near(t *testing.T, what string, got, want orb.Point, tolerance float64) {
	t.Helper()
	if !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= tolerance) {
		t.Errorf("%s at %.6f, want %.6f", what, got, want)
	}
}

// By hand: 1 ft is 0.3048 m; the frame's origin is the middle of the outline, whole feet.
func TestFilesInDifferentUnitsAreJoined(t *testing.T) {
	r := mustRead(t, importer.Options{},
		"depot.geojson", collection(`"units":"ft","frame":"local"`, outline),
		"metres.csv", "point,x_m,y_m,elev_m\nA,1.8288,1.2192,30.48\n",
		"feet.csv", strings.Replace(rows, "x,y,z", "x_ft,y_ft,z_ft", 1))
	near(t, "outline corner", r.Outline.Rings[0][0].Plan, orb.Point{-9.144, -6.096}, 1e-12)
	near(t, "metric spot", r.Spots[0].Plan, orb.Point{-7.3152, -4.8768}, 1e-12)
	near(t, "the same in feet", r.Spots[1].Plan, orb.Point{-7.3152, -4.8768}, 1e-12)
	if !(math.Abs(r.Spots[0].Z-30.48) <= 1e-12) || !(math.Abs(r.Spots[1].Z-30.48) <= 1e-12) {
		t.Errorf("elevations %v and %v, want 30.48", r.Spots[0].Z, r.Spots[1].Z)
	}
	near(t, "back in the file", r.Frame.ToFile(r.Spots[0].Plan), orb.Point{6, 4}, 1e-9)
	if r.Name != "Depot" || r.Units != quantity.Feet || !r.Imperial || r.Frame.Kind != roof.Local {
		t.Errorf("%+v", r)
	}
	if len(r.Inputs) != 3 || r.Inputs[1].Units != "m" || r.Inputs[1].Format != "points" || r.Inputs[2].Counts["spot"] != 3 || r.Inputs[0].Counts["outline"] != 1 {
		t.Errorf("inputs %+v", r.Inputs)
	}
}

func TestLargeGridCoordinatesKeepTheirPlace(t *testing.T) {
	r := mustRead(t, importer.Options{},
		"a.geojson", collection(`"units":"ft-us","frame":"local"`, feature(`"role":"outline"`, "Polygon", `[[[2000000,600000],[2000060,600000],[2000060,600040],[2000000,600000]]]`)),
		"a.csv", "x,y,z\n2000006,600001,100\n")
	const survey = 1200.0 / 3937
	near(t, "spot", r.Spots[0].Plan, orb.Point{-24 * survey, -19 * survey}, 1e-9)
	if r.Name != "a" {
		t.Errorf("name %q, want the stem of the first file", r.Name)
	}
}

// Units: what each file states, what flags say, and what files take from each other.
func TestUnits(t *testing.T) {
	local, lonLat := `"frame":"local"`, ``
	degrees := feature(`"role":"outline"`, "Polygon", `[[[-93,45],[-92.999,45],[-92.999,45.0005],[-93,45]]]`)
	lonLatRows := "lon,lat,elev\n-92.9995,45.0001,100\n"
	flag := func(name string, u quantity.Unit) map[string]quantity.Unit { return map[string]quantity.Unit{name: u} }
	tests := []struct {
		name, members, feature, rows string
		units                        map[string]quantity.Unit
		z                            float64 // of the first spot [m]; 0: refused
		imperial                     bool
		says                         string // in the warnings or the refusal
	}{
		{"outline states", local + `,"units":"ft"`, outline, rows, nil, 30.48, true, "b.csv: states no unit and is taken to be in ft"},
		{"points state", local, outline, strings.Replace(rows, ",z,", ",elev_ft,", 1), nil, 30.48, true, "a.geojson: states no unit"},
		{"flag for all", local, outline, rows, flag("", quantity.Metres), 100, false, ""},
		{"flag for one", local + `,"units":"ft"`, outline, rows, flag("b.csv", quantity.Inches), 2.54, true, ""},
		{"flag for one against the file", local + `,"units":"ft"`, outline, strings.Replace(rows, ",z,", ",z_mm,", 1), flag("b.csv", quantity.Feet), 30.48, true, "read in ft as --units says, though the file says mm"},
		{"nothing states", local, outline, rows, nil, 0, false, "nothing states the unit"},
		{"degrees", lonLat, degrees, lonLatRows, nil, 100, false, ""},
		{"degrees, elevations in feet", lonLat, degrees, "lon,lat,elev_ft\n-92.9995,45.0001,100\n", nil, 30.48, true, ""},
		{"degrees, a drain in inches", lonLat, degrees, "lon,lat,elev,code\n-92.9995,45.0001,100,\n-92.9995,45.0001,100,DRAIN d=4in\n", nil, 100, true, ""},
		{"metres, a drain in inches", local + `,"units":"m"`, outline, rows + "4,9,9,99,DRAIN d=4in\n", nil, 100, false, ""},
	}
	for _, tt := range tests {
		paths := write(t, "a.geojson", collection(tt.members, tt.feature), "b.csv", tt.rows)
		r, err := importer.Read(paths, importer.Options{Units: tt.units})
		if tt.z == 0 {
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%s: %v, want %q", tt.name, err, tt.says)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if !(math.Abs(r.Spots[0].Z-tt.z) <= 1e-9) || r.Imperial != tt.imperial {
			t.Errorf("%s: elevation %v m, imperial %v; want %v, %v", tt.name, r.Spots[0].Z, r.Imperial, tt.z, tt.imperial)
		}
		if !strings.Contains(strings.Join(r.Warnings, " "), tt.says) {
			t.Errorf("%s: warnings %q do not say %q", tt.name, r.Warnings, tt.says)
		}
	}
}

// Places by cs2cs of PROJ 9.1.1: corners of a rectangle of 100 m by 60 m in UTM zone 15, where the scale is 0.9996
// and grid north 0.18 degrees off. A metre on the ground is 0.9996 m there.
func TestLongitudeAndLatitude(t *testing.T) {
	r := mustRead(t, importer.Options{},
		"a.geojson", collection(``, feature(`"role":"outline"`, "Polygon",
			`[[[-93.253639452,44.973158997],[-93.252371267,44.973161807],[-93.252373636,44.973701919],[-93.253641833,44.973699110],[-93.253639452,44.973158997]]]`)),
		"a.csv", "lon,lat,z\n-93.253,44.9734,250\n")
	if r.Frame.Kind != roof.Geographic || r.Units != quantity.Metres {
		t.Errorf("%+v", r.Frame)
	}
	ring := r.Outline.Rings[0]
	for i, want := range []float64{100, 60, 100, 60} {
		d := orb.Point{ring[i+1].Plan[0] - ring[i].Plan[0], ring[i+1].Plan[1] - ring[i].Plan[1]}
		const utm = 0.99960049 // 0.9996 (1 + E^2/2R^2), E = 20 km from the central meridian
		if got := math.Hypot(d[0], d[1]); !(math.Abs(got-want/utm) <= 0.001) {
			t.Errorf("side %d is %.4f m, want %.4f", i, got, want/utm)
		}
	}
	near(t, "back in the file", r.Frame.ToFile(r.Spots[0].Plan), orb.Point{-93.253, 44.9734}, 1e-11)
}

// The site grid is UTM zone 15; longitudes and latitudes by cs2cs of PROJ 9.1.1.
func controls(scale float64, swap bool, n int) string {
	places := [][4]float64{
		{480000, 4980000, -93.25363945206, 44.97315899706},
		{480200, 4980000, -93.25110308204, 44.97316460192},
		{480200, 4980150, -93.25110897458, 44.97451488421},
		{480000, 4980150, -93.25364540412, 44.97450927908},
	}
	var features []string
	for _, p := range places[:n] {
		x, y := p[0]*scale, p[1]*scale
		if swap {
			x, y = y, x
		}
		features = append(features, feature(fmt.Sprintf(`"role":"control","lon":%.11f,"lat":%.11f`, p[2], p[3]), "Point", fmt.Sprintf("[%.4f,%.4f]", x, y)))
	}
	return collection(`"units":"m","frame":"local"`, features...)
}

func TestControlPointsTieTheSiteGridToTheMap(t *testing.T) {
	lonLat := collection(``, feature(`"role":"outline"`, "Polygon", `[[[-93.2536,44.9732],[-93.2512,44.9732],[-93.2512,44.9745],[-93.2536,44.9745],[-93.2536,44.9732]]]`))
	grid := "east,north,elev\n480073.25,4980041.5,250\n480120,4980100,250\n"
	r := mustRead(t, importer.Options{Units: map[string]quantity.Unit{"b.csv": quantity.Metres}}, "a.geojson", lonLat, "b.csv", grid, "c.geojson", controls(1, false, 4))
	for i, want := range []orb.Point{{-93.25271214729, 44.97353463446}, {-93.25212157433, 44.97406255489}} {
		near(t, "spot of the site grid", r.Spots[i].Plan, r.Frame.ToLocal(want), 0.001)
	}
	near(t, "control point", r.Controls[1].Plan, r.Frame.ToLocal(orb.Point{-93.25110308204, 44.97316460192}), 0.001)
	residuals := strings.Count(strings.Join(r.Warnings, "\n"), "the control point fits the others within 0.00")
	if residuals != 4 {
		t.Errorf("%d residuals in %q", residuals, r.Warnings)
	}

	site := collection(`"units":"m","frame":"local"`, feature(`"role":"outline"`, "Polygon", `[[[480000,4980000],[480200,4980000],[480200,4980150],[480000,4980000]]]`))
	r = mustRead(t, importer.Options{}, "a.geojson", site, "b.csv", "lon,lat,elev\n-93.25271214729,44.97353463446,250\n-93.25212157433,44.97406255489,250\n", "c.geojson", controls(1, false, 2))
	for i, want := range []orb.Point{{480073.25, 4980041.5}, {480120, 4980100}} {
		near(t, "spot of the map", r.Frame.ToFile(r.Spots[i].Plan), want, 0.001)
	}
	if !strings.Contains(strings.Join(r.Warnings, " "), "unchecked") {
		t.Errorf("two control points pass as checked: %q", r.Warnings)
	}
}

// Grid over ground 0.06 % long, as on a high site: within what grids and heights do, so it is taken.
func TestControlPointsOfAGridScaleAreTaken(t *testing.T) {
	lonLat := collection(``, feature(`"role":"outline"`, "Polygon", `[[[-93.2536,44.9732],[-93.2512,44.9732],[-93.2512,44.9745],[-93.2536,44.9745],[-93.2536,44.9732]]]`))
	grid := "east,north,elev_m\n480361.2,4983029.5,250\n"
	mustRead(t, importer.Options{}, "a.geojson", lonLat, "b.csv", grid, "c.geojson", controls(1.0006, false, 4))
}

func TestControlPointsThatContradictAreRefused(t *testing.T) {
	lonLat := collection(``, feature(`"role":"outline"`, "Polygon", `[[[-93.2536,44.9732],[-93.2512,44.9732],[-93.2512,44.9745],[-93.2536,44.9745],[-93.2536,44.9732]]]`))
	grid := "east,north,elev_m\n480073.25,4980041.5,250\n"
	tests := []struct{ name, controls, says string }{
		{"swapped", controls(1, true, 4), "northing and easting may be swapped"},
		{"swapped, two", controls(1, true, 3), "off the place that the others give it"},
		{"in feet", controls(1/0.3048, false, 4), "c.geojson feature 1: the control points say that the site grid's unit is off by"},
		// a grid's scale factor differs from 1 by less than a thousandth (0.9996 on the central meridian of UTM): 0.3 % is a fault
		{"0.3 % too long", controls(1.003, false, 4), "the site grid's unit is off by"},
		{"one", controls(1, false, 1), "add at least two control points"},
		{"none", collection(`"units":"m","frame":"local"`), "add at least two control points"},
		{"moved", strings.Replace(controls(1, false, 4), "480200.0000,4980150.0000", "480201.5000,4980150.0000", 1), "m off the place"},
		{"two at one place", collection(`"units":"m","frame":"local"`,
			feature(`"role":"control","lon":-93.25,"lat":45`, "Point", "[1,1]"), feature(`"role":"control","lon":-93.25,"lat":45`, "Point", "[1,1.1]")), "too near to each other"},
	}
	for _, tt := range tests {
		_, err := importer.Read(write(t, "a.geojson", lonLat, "b.csv", grid, "c.geojson", tt.controls), importer.Options{})
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.says)
		}
	}
}

func TestFrames(t *testing.T) {
	plain := collection(`"units":"ft"`, outline)
	flag := func(name, frame string) importer.Options {
		return importer.Options{Frames: map[string]string{name: frame}}
	}
	tests := []struct {
		name    string
		options importer.Options
		outline string
		rows    string
		says    string // empty: accepted
	}{
		{"site grid as degrees", importer.Options{}, plain, rows, "if these are site coordinates and no degrees, say --frame local"},
		{"said to be local", flag("", "local"), plain, rows, ""},
		{"one said to be local", flag("a.geojson", "local"), plain, rows, ""},
		{"points on a grid, outline in degrees", importer.Options{}, collection(`"units":"ft","frame":"local"`, outline), "lon,lat,elev\n1,2,3\n", "the file is in frame wgs84, the outline in frame local"},
		{"wider than any roof", importer.Options{}, collection(`"units":"m","frame":"local"`, feature(`"role":"outline"`, "Polygon", `[[[0,0],[60000,0],[60000,40000],[0,0]]]`)), rows, "the outline is 60 km wide; state the unit"},
		{"EPSG by flag", flag("", "EPSG:2027"), plain, rows, "reproject the file to EPSG:4326"},
		{"EPSG:4326", flag("", "epsg:4326"), collection(`"units":"ft"`, feature(`"role":"outline"`, "Polygon", `[[[0,0],[0.001,0],[0.001,0.001],[0,0]]]`)), "x,y,z\n0.0009,0.0001,5\n", ""},
	}
	for _, tt := range tests {
		r, err := importer.Read(write(t, "a.geojson", tt.outline, "b.csv", tt.rows), tt.options)
		if tt.says == "" {
			if err != nil || len(r.Spots) == 0 {
				t.Errorf("%s: %v", tt.name, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.says)
		}
	}
}

func TestPointsAloneMakeARoof(t *testing.T) {
	r := mustRead(t, importer.Options{}, "hall.csv", "point,east_m,north_m,elev_m,code\n1,0,0,5,OUTLINE name=Hall\n2,20,0,5,OUTLINE\n3,20,10,5,OUTLINE\n4,0,10,5,OUTLINE\n5,5,5,5.1,\n")
	if r.Name != "Hall" || len(r.Outline.Rings[0]) != 5 || len(r.Spots) != 1 || !r.Outline.EdgeAssumed || r.Imperial {
		t.Errorf("%+v", r)
	}
}

func TestTheOutlineTellsColumnsApart(t *testing.T) {
	r := mustRead(t, importer.Options{}, "a.geojson", collection(`"units":"ft","frame":"local"`, outline), "b.csv", "1,4,6,100\n2,4,54,101\n3,36,50,102\n")
	near(t, "spot", r.Spots[1].Plan, orb.Point{24 * 0.3048, -16 * 0.3048}, 1e-12)
	if !strings.Contains(strings.Join(r.Warnings, " "), "the columns are taken as point,north,east,elevation") {
		t.Errorf("warnings %q", r.Warnings)
	}
}

func TestOverflowsAreWhatTheirPlaceSays(t *testing.T) {
	r := mustRead(t, importer.Options{}, "a.geojson", collection(`"units":"ft","frame":"local"`, outline), "b.csv", rows+"4,60,20,100,OVERFLOW\n5,30,20,100,OVERFLOW\n")
	edge, middle := r.Outlets[0], r.Outlets[1]
	if edge.Type != roof.Scupper || edge.Width == 0 || edge.Bowl != 0 || middle.Type != roof.Drain || middle.Bowl == 0 || middle.Width != 0 || edge.Duty != roof.Overflow {
		t.Errorf("%+v\n%+v", edge, middle)
	}
}

func TestIDsAreUniqueAndSpotsCanBeDropped(t *testing.T) {
	r := mustRead(t, importer.Options{Drop: []string{"1.2", "2"}, Keep: []string{"3.2"}}, "a.geojson", collection(`"units":"ft","frame":"local"`, outline), "b.csv", rows, "c.csv", rows)
	var ids []string
	for _, s := range r.Spots {
		ids = append(ids, s.ID)
	}
	if got := strings.Join(ids, " "); got != "1 3 2.2 3.2" {
		t.Errorf("ids %s", got)
	}
	if len(r.Kept) != 1 || r.Kept[0] != "3.2" {
		t.Errorf("kept %q", r.Kept)
	}
	if len(r.Dropped) != 2 || !strings.Contains(strings.Join(r.Warnings, " "), "as --drop says") {
		t.Errorf("dropped %q, warnings %q", r.Dropped, r.Warnings)
	}
}

// A local file of the program's own: features with a layer and no role are results, and are not read.
func TestOwnOutputReadsBack(t *testing.T) {
	r := mustRead(t, importer.Options{}, "depot.local.geojson", collection(`"units":"ft","frame":"local"`,
		feature(`"layer":"outline","role":"outline","id":"R1","area_m2":5`, "Polygon", rectangle),
		feature(`"layer":"pond","id":"R1.P01","depth_mm":12`, "Polygon", rectangle),
		feature(`"layer":"outlet","id":"R1.E01","type":"gutter"`, "LineString", `[[0,0],[60,0]]`),
		feature(`"layer":"spot","role":"spot","id":"1"`, "Point", `[6,4,100]`)))
	if r.Name != "depot" || len(r.Spots) != 1 || len(r.Outlets) != 0 || len(r.Warnings) != 0 {
		t.Errorf("%+v", r)
	}
}

// A flag that does nothing is most likely a slip: the file has the other form.
func TestFlagsThatConcernNoFileAreSaid(t *testing.T) {
	depot := collection(`"units":"ft","frame":"local"`, outline)
	o := importer.Options{Columns: []string{"point", "n", "e", "z", "code"}, HI: "104"}
	all := strings.Join(mustRead(t, o, "depot.geojson", depot, "spots.csv", rows).Warnings, "\n")
	if !strings.Contains(all, "--columns was not used") || !strings.Contains(all, "--hi was not used") {
		t.Errorf("warnings %q", all)
	}
	o.Columns[3] = "rod"
	all = strings.Join(mustRead(t, o, "depot.geojson", depot, "spots.csv", "1,4,6,4,\n2,4,54,3,\n3,36,30,2,\n").Warnings, "\n")
	if strings.Contains(all, "not used") {
		t.Errorf("flags that are used: warnings %q", all)
	}
}

func TestNameFromAFileNameIsOneLine(t *testing.T) {
	roofOf := strings.Replace(outline, `,"name":"Depot"`, "", 1)
	r := mustRead(t, importer.Options{}, "a\tb\nc\x1b[31m.geojson", collection(`"units":"ft","frame":"local"`, roofOf), "spots.csv", rows)
	if r.Name != "a b c [31m" {
		t.Errorf("name %q", r.Name)
	}
}
