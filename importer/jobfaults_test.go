package importer_test

import (
	"path/filepath"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/importer"
)

// Points of a sound roof of 60 by 40 ft, to which each file below adds what went wrong.
const (
	heads   = "point,x_ft,y_ft,elev_ft,code\n"
	corners = "1,0,0,100,OUTLINE name=Shed\n2,60,0,100,OUTLINE\n3,60,40,100,OUTLINE\n4,0,40,100,OUTLINE\n"
	inside  = "7,10,10,99.5,\n8,50,10,99.6,\n9,30,30,99.4,\n"
)

// What goes wrong on the job, one line of a file each: the message names the file, its line or feature, the id and the place where
// there is one, what is wrong, and what to do.
func TestFaultsOfTheJob(t *testing.T) {
	sound := heads + corners + inside // its last line is line 8
	local := `"units":"ft","frame":"local"`
	for _, c := range []struct {
		name, file, text string
		options          importer.Options
		says             string
	}{
		{
			"the outline was walked in the wrong order", "a.csv", heads + "1,0,0,100,OUTLINE\n2,60,40,100,OUTLINE\n3,60,0,100,OUTLINE\n4,0,40,100,OUTLINE\n",
			importer.Options{},
			"a.csv line 2 (outline) at (30, 20): the outline crosses or touches itself; move the corner that makes it cross; it is not repaired, because only the drawing says which side is roof",
		},
		{
			"elevation and easting changed places", "a.csv", strings.Replace(sound, "x_ft,y_ft,elev_ft", "elev_ft,y_ft,x_ft", 1),
			importer.Options{},
			"a.csv line 2 (outline) at (100, 40): the outline crosses or touches itself; move the corner that makes it cross; it is not repaired, because only the drawing says which side is roof",
		},
		{
			"degrees on a site grid", "a.csv", heads + "1,-93.25,45,100,OUTLINE\n2,-93.249,45,100,OUTLINE\n3,-93.249,45.001,100,OUTLINE\n4,-93.25,45.001,100,OUTLINE\n",
			importer.Options{},
			"a.csv line 2 (outline): the outline is 0.305 mm wide; if these are longitudes and latitudes, say --frame wgs84, or name the columns lon and lat; else state the unit of the file: it was read in ft",
		},
		{ // on a sphere the equator's 30 degrees either side of the middle are 6,378 km * atanh(sin 30) = 3,503 km in a transverse Mercator projection
			"a site grid as degrees", "a.geojson", collection(``, outline),
			importer.Options{},
			"a.geojson feature 1: the outline is 7010 km wide as longitude and latitude; if these are site coordinates and no degrees, say --frame local",
		},
		{
			"latitude before longitude", "a.geojson", collection(``, feature(`"role":"outline"`, "Polygon", "[[[45,-93.25],[45.001,-93.25],[45,-93.249],[45,-93.25]]]")),
			importer.Options{},
			"a.geojson feature 1 at (45, -93.25): latitude -93.25 is over 90; longitude comes first; for a site grid say --frame local",
		},
		{
			"millimetres read as metres", "a.csv", strings.NewReplacer("_ft", "_m", ",60,", ",18288,", ",40,", ",12192,").Replace(sound),
			importer.Options{},
			"a.csv line 2 (outline): the outline is 18.29 km wide; state the unit of the file: it was read in m",
		},
		{"an elevation left empty", "a.csv", sound + "10,30,20,,\n", importer.Options{}, "a.csv line 9 (10) at (30, 20): the spot has no elevation; write the measured elevation, or take the row out"},
		{"a place left empty", "a.csv", sound + "10,30,,99,\n", importer.Options{}, "a.csv line 9 (10): column y_ft is empty; write the measured number, or take the row out"},
		{"the instrument's sign for nothing", "a.csv", sound + "10,30,20,-9999,\n", importer.Options{}, "a.csv line 9 (10) at (30, 20): no roof stands at an elevation of -3047.7 m; correct the elevation or its unit; take out points whose elevation was not measured"},
		{"a spreadsheet's sign for nothing", "a.csv", sound + "10,30,20,#N/A,\n", importer.Options{}, `a.csv line 9 (10): column elev_ft: "#N/A" is not a finite number; write the measured number; take the row out where nothing was measured`},
		{"a comma between thousands", "a.csv", sound + `10,30,20,"1,099.5",` + "\n", importer.Options{}, `a.csv line 9 (10): column elev_ft: "1,099.5" is not a finite number; write the measured number; take the row out where nothing was measured`},
		{"fourteen inches over a foot", "a.csv", sound + "10,30,20,99' 14\",\n", importer.Options{}, `a.csv line 9 (10): column elev_ft: "99' 14\"" is not a finite number; write the measured number; take the row out where nothing was measured`},
		{"a field too few", "a.csv", sound + "10,30,20,99\n", importer.Options{}, "a.csv line 9: the row has 4 fields where 5 belong; write a value, or nothing between two separators, for each column; put a text that holds a separator in quotes"},
		{"a comma in a note", "a.csv", sound + "10,30,20,99,SPOT, wet\n", importer.Options{}, "a.csv line 9: the row has 6 fields where 5 belong; write a value, or nothing between two separators, for each column; put a text that holds a separator in quotes"},
		{"rows pasted from another file", "a.csv", sound + "10;30;20;99;\n", importer.Options{}, "a.csv line 9: the row has 1 field where 5 belong: it is separated by semicolons, the rows before by commas; use one separator in the whole file"},
		{"a file appended with its heading", "a.csv", sound + heads, importer.Options{}, `a.csv line 9 (point): column x_ft: "x_ft" is not a finite number; write the measured number`},
		{"a unit twice in a heading", "a.csv", strings.Replace(sound, "elev_ft", "elev_ft_m", 1), importer.Options{}, `a.csv line 1: column "elev_ft_m" states two units; leave one of them out`},
		{"two units in the plan", "a.csv", strings.Replace(sound, "y_ft", "y_m", 1), importer.Options{}, `a.csv line 1: columns "x_ft" and "y_m" are in different units; bring them into one unit`},
		{"two columns of elevations", "a.csv", "point,x_ft,y_ft,elev_ft,rl_ft\n1,2,3,4,5\n", importer.Options{}, `a.csv line 1: two columns say the same: "rl_ft"; rename or remove one of them`},
		{"elevations beside rods", "a.csv", "point,x_ft,y_ft,elev_ft,rod_ft\n1,2,3,4,5\n", importer.Options{}, "a.csv line 1: a column for elevations and one for rod readings; remove one of them"},
		{"rods without the line of sight", "a.csv", strings.Replace(sound, "elev_ft", "rod_ft", 1), importer.Options{}, "a.csv: the elevations are rod readings, and the height of instrument is not known; say --hi with the elevation of the instrument's line of sight; where nobody knows it, --hi 100 will do: heights then compare with each other only"},
		{"a line of sight that is no length", "a.csv", strings.Replace(sound, "elev_ft", "rod_ft", 1), importer.Options{HI: "eye"}, `a.csv: --hi: "eye" is not a length: a number is missing; write it like 12 mm, 0.3 m, 8 in or 2' 3-1/4"; say --hi with the elevation of the instrument's line of sight; where nobody knows it, --hi 100 will do: heights then compare with each other only`},
		{"a drain four feet wide", "a.csv", sound + "10,30,20,99,DRAIN D-1 d=4\n", importer.Options{}, "a.csv line 9 (10) at (30, 20): the drain's pipe is over 24 in across; write the size with its unit, such as 4in or 100mm"},
		{"a key that is none", "a.csv", sound + "10,30,20,99,DRAIN D-1 dia=4in\n", importer.Options{}, `a.csv line 9 (10): code DRAIN has no key "dia": it takes d, diameter, bowl, dam, dam_height, dam_diameter, invert, label, duty, leader, pipe, pipe_slope, discharges_to; correct the code`},
		{"the elevation and the key disagree", "a.csv", sound + "10,30,20,99,DRAIN D-1 invert=99.9\n", importer.Options{}, "a.csv line 9 (10) at (30, 20): the row's elevation and the code's invert differ; leave one of them out"},
		{"a ridge of one point", "a.csv", sound + "10,30,20,99,RIDGE 1\n", importer.Options{}, "a.csv line 9 (ridge-1) at (30, 20): RIDGE-1 has one point only; measure its other points, or give them the same code and number"},
		{"a curb of two corners", "a.csv", sound + "10,20,10,99,CURB 1\n11,24,10,99,CURB 1\n", importer.Options{}, "a.csv line 9 (curb-1) at (20, 10): the curb-1 has fewer than three corners; draw all its corners"},
		{"a second roof in the file", "a.csv", sound + "21,100,0,100,OUTLINE begin\n22,160,0,100,OUTLINE\n23,160,40,100,OUTLINE\n", importer.Options{}, "a.csv line 9 (outline) at (100, 0): a second outline; the first is a.csv line 2 (outline); check one roof at a time, or name this file by itself to campus"},
		{"a control point without its latitude", "a.csv", sound + "10,0,0,,CONTROL lon=-93\n", importer.Options{}, "a.csv line 9 (10) at (0, 0): the control point has no usable lat; write CONTROL lon=DEGREES lat=DEGREES"},
		{"no row at all", "a.csv", heads, importer.Options{}, `there is no outline; add the edge of the roof as a Polygon with the property "role": "outline", or as points with the code OUTLINE`},
		{"no unit", "a.csv", strings.ReplaceAll(sound, "_ft", ""), importer.Options{}, "a.csv: nothing states the unit of its coordinates and elevations; say --units m or --units ft (known: m, ft, ft-us, in, mm); one file alone: --units a.csv=ft"},
		{"a unit against the file's own", "a.csv", sound, importer.Options{Units: map[string]quantity.Unit{"": quantity.Metres}}, "a.csv: the file is in ft, and --units says m; say --units a.csv=m if the file is wrong"},
		{"neither heading nor columns", "a.csv", corners + inside, importer.Options{Units: map[string]quantity.Unit{"": quantity.Feet}}, "a.csv: the file does not say which column is which, and there is no outline to tell by: row 1 is east 0, north 0, or north 0, east 0; say --columns point,east,north,elevation,code or --columns point,north,east,elevation,code"},
		{"a column that nobody knows", "a.csv", corners + inside, importer.Options{Columns: []string{"point", "x", "y", "up", "code"}}, `a.csv line 1: --columns: "up" is no name of a column; use point, x or east, y or north, lon, lat, z or elevation, code, sigma, rod; or place, depth, and a wall such as W wall, or - for a column that is not read`},
		{
			"a spot on the same feature twice", "a.geojson", collection(local, outline, `{"type":"Feature","properties":{"role":"spot","elevation":1,"elevation":2},"geometry":{"type":"Point","coordinates":[1,2]}}`),
			importer.Options{},
			`a.geojson feature 2: the feature has "elevation" twice; leave one of the two out`,
		},
		{
			"a hole across the edge", "a.geojson", collection(local, feature(`"role":"outline","id":"R"`, "Polygon", `[[[0,0],[60,0],[60,40],[0,40],[0,0]],[[55,10],[65,10],[65,20],[55,20],[55,10]]]`)),
			importer.Options{},
			"a.geojson feature 1 (R) at (60, 10): two rings of the outline touch or cross; draw a hole that reaches the edge as part of the edge",
		},
		{
			"a drain drawn as a circle", "a.geojson", collection(local, outline, feature(`"role":"outlet","type":"drain","id":"D1"`, "Polygon", `[[[1,1],[2,1],[2,2],[1,1]]]`)),
			importer.Options{},
			"a.geojson feature 2 (D1): role outlet needs a Point, this has a Polygon; draw it as a Point",
		},
		{"a unit that is none", "a.geojson", collection(`"units":"yd","frame":"local"`, outline), importer.Options{}, `a.geojson: member "units": unknown unit "yd": use one of m, ft, ft-us, in, mm; correct the member`},
	} {
		paths := write(t, c.file, c.text)
		_, err := importer.Read(paths, c.options)
		if err == nil {
			t.Errorf("%s: accepted", c.name)
			continue
		}
		if got := strings.ReplaceAll(err.Error(), filepath.Dir(paths[0])+"/", ""); got != c.says {
			t.Errorf("%s: says\n%s\nwant\n%s", c.name, got, c.says)
		}
	}
}

// Twelve elevations that nobody wrote are twelve lines to mend, in the order of the file, and nothing else.
func TestElevationsMissingByTheDozen(t *testing.T) {
	rows := strings.Repeat("5,30,20,,\n", 12)
	_, err := importer.Read(write(t, "a.csv", heads+corners+rows), importer.Options{})
	if err == nil {
		t.Fatal("accepted")
	}
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != 12 || !strings.Contains(lines[0], "a.csv line 6 (5) at (30, 20): the spot has no elevation") || !strings.Contains(lines[11], "a.csv line 17 (5)") {
		t.Errorf("%d lines: %s", len(lines), err)
	}
}

// Two points of one name are two points: both are kept, the second under a name of its own, and that is said.
func TestTwoPointsOfOneName(t *testing.T) {
	r := mustRead(t, importer.Options{}, "a.csv", heads+corners+"7,10,10,99.5,\n7,50,10,99.6,\n7.2,30,30,99.4,\n7,20,30,99.3,\n")
	var ids []string
	for i := range r.Spots {
		ids = append(ids, r.Spots[i].ID)
	}
	// 7.2 is taken by a point of the file, so the second 7 is 7.3 and the third 7.4.
	if got := strings.Join(ids, " "); got != "7 7.3 7.2 7.4" {
		t.Errorf("ids %s", got)
	}
	if all := strings.Join(r.Warnings, "\n"); !strings.Contains(all, "Spot ids that occur twice were made different: 7.3, 7.4.") {
		t.Errorf("warnings %q", all)
	}
	for i, want := range [][2]float64{{-20, -10}, {20, -10}, {0, 10}, {-10, 10}} { // about the middle, in feet
		if got := r.Spots[i].Plan; !(got[0]-want[0]*0.3048 < 1e-9 && want[0]*0.3048-got[0] < 1e-9 && got[1]-want[1]*0.3048 < 1e-9 && want[1]*0.3048-got[1] < 1e-9) {
			t.Errorf("spot %s at %v", ids[i], got)
		}
	}
}

// Problems of several files are told together, in the order of the files, so that a surveyor mends them once.
func TestProblemsOfAllFilesAreToldTogether(t *testing.T) {
	paths := write(t, "a.geojson", collection(`"units":"ft","frame":"local"`, outline, feature(`"role":"spot","id":"s"`, "Point", "[1,1]")), "b.csv", heads+"1,2,3,high,\n", "c.csv", heads+"1,2,x,4,\n")
	_, err := importer.Read(paths, importer.Options{})
	if err == nil {
		t.Fatal("accepted")
	}
	got := strings.ReplaceAll(err.Error(), filepath.Dir(paths[0])+"/", "")
	want := "a.geojson feature 2 (s) at (1, 1): the spot has no elevation; give it as the third coordinate or as \"elevation\", or take the spot out\n" +
		"b.csv line 2 (1): column elev_ft: \"high\" is not a finite number; write the measured number; take the row out where nothing was measured\n" +
		"c.csv line 2 (1): column y_ft: \"x\" is not a finite number; write the measured number"
	if got != want {
		t.Errorf("says\n%s\nwant\n%s", got, want)
	}
}
