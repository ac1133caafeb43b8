package geojson_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
	"runnel/importer/geojson"
)

const square = `[[[0,0],[60,0],[60,40],[0,40],[0,0]]]`

// What is wrong with one feature is said in full: the file, the feature by its place in the file and its id, where it lies, what is wrong and what
// to do. The first feature is sound.
func TestRefusalsInFull(t *testing.T) {
	point := func(properties, at string) string { return feature(properties, "Point", at) }
	for _, c := range []struct{ feature, says string }{
		{point(`"role":"spot","id":"17"`, "[5,6]"), `(17) at (5, 6): the spot has no elevation; give it as the third coordinate or as "elevation", or take the spot out`},
		{point(`"role":"spot","id":17,"elevation":true`, "[5,6]"), `(17) at (5, 6): elevation: true is not a length; write a number, or a string such as "8 in"`},
		{point(`"role":"spot","id":"a","elevation":[1]`, "[5,6]"), `(a) at (5, 6): elevation: [1] is not a length; write a number, or a string such as "8 in"`},
		{point(`"role":"spot","elevation":"9 yd"`, "[5,6]"), ` at (5, 6): elevation: "9 yd" is not a length: "yd" is no unit; write it like 12 mm, 0.3 m, 8 in or 2' 3-1/4"; correct the property`},
		{point(`"role":"spot","id":"a","sigma":-0.01`, "[5,6,7]"), "(a) at (5, 6): sigma is negative; write its size"},
		{point(`"role":"spot","assumed":"maybe"`, "[5,6,7]"), ` at (5, 6): assumed: "maybe" is neither true nor false; correct the property`},
		{point(`"role":"spot"`, `["5",6,7]`), `: "5" in the position ["5",6,7] is not a finite number; write the measured number, or take the feature out`},
		{point(`"role":"spot"`, `[5]`), `: a position has fewer than two numbers: [5]; write [x, y] or [x, y, elevation]`},
		{point(`"role":"spot"`, `5`), `: a position is not an array of numbers; write [x, y] or [x, y, elevation]`},
		{point(`"role":"spot"`, `[2e8,6,7]`), ` at (200000000, 6): a coordinate is too large for any site grid; correct the coordinate`},
		{point(`"role":"spot"`, `[5,6,-4000]`), ` at (5, 6): no roof stands at an elevation of -1219.2 m; correct the elevation or its unit; take out points whose elevation was not measured`},
		{point(`"role":"outlet","id":"D1"`, "[5,6]"), "(D1) at (5, 6): the outlet has no type; give it the type drain or scupper; a gutter or a free edge is an edge"},
		{point(`"role":"outlet","type":"hole"`, "[5,6]"), ` at (5, 6): type: unknown outlet type "hole": use drain, scupper; correct the property`},
		{point(`"role":"outlet","type":"drain","bowl":0`, "[5,6]"), " at (5, 6): bowl is zero; write its size, or leave it out"},
		{point(`"role":"outlet","type":"scupper","width":0`, "[5,6]"), " at (5, 6): width is zero; write its size, or leave it out"},
		{point(`"role":"outlet","type":"scupper","width":101`, "[5,6]"), " at (5, 6): the scupper is over 100 ft wide; write the size with its unit, such as 4in or 100mm"},
		{point(`"role":"core","layers":5`, "[5,6]"), ` at (5, 6): layers is not an array; write [{"material": ..., "thickness": ...}, ...], top first`},
		{point(`"role":"core","layers":[{"thickness":"1 in"}]`, "[5,6]"), " at (5, 6): layer 1: the material is missing; name it"},
		{point(`"role":"core","layers":[{"material":"foam","thickness":"1 in"},{"material":"deck","thickness":"-1 in"}]`, "[5,6]"), " at (5, 6): layer 2: the thickness is negative; write its size"},
		{point(`"role":"core","layers":[{"material":"foam","thickness":"1 in","condition":"damp"}]`, "[5,6]"), ` at (5, 6): unknown layer 1: condition "damp"; use sound, compressed, wet`},
		{point(`"role":"core","cutter":"knife"`, "[5,6]"), ` at (5, 6): unknown cutter "knife"; use tube, hand`},
		{point(`"role":"core","reached":"deck"`, "[5,6]"), ` at (5, 6): unknown reached "deck"; use rib, flute, unknown`},
		{point(`"role":"control","lon":1`, "[5,6]"), " at (5, 6): the control point has no lon and lat; write its longitude and latitude in degrees"},
		{point(`"role":"control","lon":18,"lat":-90.5`, "[5,6]"), " at (5, 6): lon 18, lat -90.5 is no place on the map; write longitude and latitude in degrees"},
		{point(`"role":"control","lon":181,"lat":5`, "[5,6]"), " at (5, 6): lon 181, lat 5 is no place on the map; write longitude and latitude in degrees"},
		{feature(`"role":"stain","hours_since_rain":-1`, "Polygon", square), " at (0, 0): hours_since_rain is -1; write how many hours before the visit the rain ended"},
		{feature(`"role":"stain","hours_since_rain":"two"`, "Polygon", square), ` at (0, 0): hours_since_rain: "two" is not a finite number; write a number`},
		{feature(`"role":"stain","outlets_clear":1`, "Polygon", square), " at (0, 0): outlets_clear is 1; write true where the outlets let water through when it was seen, else false"},
		{feature(`"role":"curb","height":-1`, "Polygon", square), " at (0, 0): height is negative; write its size"},
		{feature(`"role":"curb"`, "Polygon", `[[]]`), ": a ring of the curb has no corners; draw it"},
		{feature(`"role":"curb"`, "Polygon", `[5]`), ": the coordinates are not an array of positions; write the file again from the program that made it"},
		{feature(`"role":"curb"`, "Polygon", `[[[1,1],[2,1],[2,2],[1,2]]]`), " at (1, 2): the curb is not closed: it starts at (1, 1) and ends here; repeat the first corner at the end"},
		{feature(`"role":"curb"`, "Polygon", `[[[0,0],[9,0],[9,9],[0,9],[0,0]],[[2,3],[3,3],[3,4],[2,3]]]`), " at (2, 3): a curb cannot have a hole; draw it without, or as two"},
		{feature(`"role":"breakline"`, "LineString", `[[1,1,5]]`), " at (1, 1): a line has fewer than two positions; draw it from its start to its end"},
		{feature(`"role":"breakline","type":"fold"`, "LineString", `[[1,1,5],[2,2,5]]`), ` at (1, 1): type: unknown breakline type "fold": use ridge, valley, hip, cricket, grade-break; correct the property`},
		{feature(`"role":"edge"`, "LineString", `[[1,1],[2,2]]`), " at (1, 1): the edge has no type; give it the type wall, gutter or free"},
		{feature(`"role":"edge","type":"gutter","adjoining_height":2`, "LineString", `[[1,1],[2,2]]`), " at (1, 1): adjoining_height is given on an edge that is no wall; make it a wall, or leave it out"},
		{feature(`"role":"answer","question":"deck_sound","answer":"yes","by":"E"`, "Point", `[5,6]`), ` at (5, 6): the answer to deck_sound has no day: ""; write on=2026-12-02`},
		{feature(`"role":"answer","answer":"yes","by":"E","on":"2026-05-02"`, "Point", `[5,6]`), " at (5, 6): the answer has no question; write question=" + strings.Join(roof.AskedNames(), ", ") + ", or the question's text"},
		{`{"type":"Feature","properties":{"role":"spot"},"geometry":null}`, ": role spot needs a Point, this has no geometry; draw it as a Point"},
		{feature(`"role":"spot"`, "MultiPoint", `[[1,2,3],[4,5,6]]`), ": role spot needs a Point, this has a MultiPoint; draw it as a Point"},
		{`{"type":"feature"}`, `: this is not a Feature; give it "type": "Feature"`},
		{feature(`"role":"gully"`, "Point", `[1,2]`), `: unknown role "gully"; use outline, edge, spot, breakline, curb, outlet, core, stain, sill, control, answer`},
	} {
		_, problems := read(t, feature(`"role":"spot"`, "Point", "[1,1,1]")+","+c.feature)
		err := problems.Err()
		if err == nil {
			t.Errorf("%s: accepted", c.feature)
			continue
		}
		first, _, _ := strings.Cut(err.Error(), "\n")
		want := "a.geojson feature 2" + strings.ReplaceAll(" "+c.says, "  ", " ")
		want = strings.Replace(want, "feature 2 :", "feature 2:", 1)
		if first != want {
			t.Errorf("%s: says\n%s\nwant\n%s", c.feature, first, want)
		}
	}
}

// Of framing that nobody stated nothing is known.
func TestNoFraming(t *testing.T) {
	d, problems := read(t, feature(`"role":"outline"`, "Polygon", square))
	if err := problems.Err(); err != nil || d.Outlines[0].Structure != (roof.Structure{}) {
		t.Errorf("%+v, %v", d.Outlines[0].Structure, err)
	}
}

// A layer may be so thin that nobody can measure it.
func TestALayerOfNoThickness(t *testing.T) {
	d, problems := read(t, feature(`"role":"core","layers":[{"material":"coating","thickness":0},{"material":"foam","thickness":"2 in","condition":"Wet"}]`, "Point", "[5,6]"))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if l := d.Cores[0].Layers; len(l) != 2 || l[0].Thickness != 0 || l[0].Material != "coating" || !near(l[1].Thickness, 2*quantity.Inch) || l[1].Condition != "wet" {
		t.Errorf("%+v", l)
	}
}

// Answers as points read them (points.TestAnswersAreRead): a number from 1 to 1000 or none, a place always.
func TestReadsAnswers(t *testing.T) {
	answer := func(more string) string {
		return feature(`"role":"answer","question":"deck_sound","answer":"yes","by":"A. Person","on":"2026-05-02","covers":"P1"`+more, "Point", "[5,6]")
	}
	for more, number := range map[string]int{"": 0, `,"number":1`: 1, `,"number":1000`: 1000} {
		d, problems := read(t, answer(more))
		if err := problems.Err(); err != nil || len(d.Answers) != 1 {
			t.Errorf("%s: %v", more, err)
			continue
		}
		a := d.Answers[0]
		if a.Number != number || a.Question != "deck_sound" || a.Text != "yes" || !a.Yes || a.By != "A. Person" || a.On != "2026-05-02" || a.Covers != "P1" || !a.Placed || a.Plan != (orb.Point{5, 6}) {
			t.Errorf("%s: %+v", more, a)
		}
	}
	for _, number := range []string{"0", "-1", "1001", "1.5", "1e9"} {
		_, problems := read(t, answer(`,"number":`+number))
		if err := problems.Err(); err == nil || !strings.Contains(err.Error(), "at (5, 6): number is ") || !strings.Contains(err.Error(), "which is no number of a question; write the number that the question had on paper") {
			t.Errorf("number %s: %v", number, err)
		}
	}
	// Who is asked follows from the question where that is one of those that count: of the deck it is the engineer, whatever the file says.
	d, problems := read(t, answer(`,"to":"owner"`))
	if err := problems.Err(); err != nil || d.Answers[0].To != roof.ToEngineer {
		t.Errorf("asked of the owner: %+v, %v", d.Answers, err)
	}
}

// The elevation may stand as a coordinate and as a property: 3 mm apart they are one (0.0098 ft), 3.1 mm apart nobody knows which. The property counts.
func TestElevationsStatedTwice(t *testing.T) {
	for _, c := range []struct {
		z, stated string
		ok        bool
	}{{"100", "100.0098", true}, {"100", "99.9902", true}, {"100", "100.0102", false}, {"100", "99.9898", false}, {"100", "30.48 m", true}, {"100", "30.484 m", false}} {
		quoted := c.stated
		if strings.HasSuffix(quoted, "m") {
			quoted = `"` + quoted + `"`
		}
		for _, f := range []string{
			feature(`"role":"spot","elevation":`+quoted, "Point", "[1,1,"+c.z+"]"), feature(`"role":"outlet","type":"drain","invert":`+quoted, "Point", "[1,1,"+c.z+"]"),
			feature(`"role":"sill","elevation":`+quoted, "Point", "[1,1,"+c.z+"]"), feature(`"role":"core","elevation":`+quoted, "Point", "[1,1,"+c.z+"]"),
			feature(`"role":"breakline","elevations":"`+c.stated+`;-"`, "LineString", "[[1,1,"+c.z+"],[2,2]]"),
		} {
			d, problems := read(t, f)
			err := problems.Err()
			if (err == nil) != c.ok || err != nil && !strings.Contains(err.Error(), "differ; leave one of them out") {
				t.Errorf("%s beside %s: %v", c.stated, c.z, err)
			}
			if err != nil || len(d.Spots) == 0 || strings.HasSuffix(c.stated, "m") {
				continue
			}
			var want float64
			_, _ = fmt.Sscan(c.stated, &want)
			if got := d.Spots[0].Z; !(math.Abs(got-want*0.3048) <= 1e-12) {
				t.Errorf("%s beside %s: %v m", c.stated, c.z, got)
			}
		}
	}
}

// A length in the file's unit may be up to 1e8 of it: beyond lies no length but a slip.
func TestGreatNumbersAreNoLengths(t *testing.T) {
	for number, ok := range map[string]bool{"1e8": true, "-1e8": true, "1.1e8": false, "-1.1e8": false, "1e400": false} {
		_, problems := read(t, feature(`"role":"edge","type":"wall","height":`+number, "LineString", "[[1,1],[2,2]]"))
		said := problems.Err() != nil && strings.Contains(problems.Err().Error(), "is not a finite length")
		if said == ok {
			t.Errorf("height %s: %v", number, problems.Err())
		}
	}
}

// How many roofs a file holds is counted before it is read: those that say so, else polygons that say nothing of themselves.
func TestCountsOutlines(t *testing.T) {
	polygon := func(properties string) string { return feature(properties, "Polygon", square) }
	for _, c := range []struct {
		features []string
		want     int
	}{
		{nil, 0},
		{[]string{polygon(`"role":"outline"`)}, 1},
		{[]string{polygon(`"role":"outline"`), polygon(`"role":"Outline"`), polygon(``)}, 2},
		{[]string{polygon(``), polygon(`"name":"B"`), polygon(`"role":null`)}, 3},
		{[]string{polygon(``), polygon(`"role":"curb"`), polygon(`"layer":"pond"`), feature(``, "Point", "[1,1,1]"), feature(``, "LineString", "[[1,1],[2,2]]")}, 1},
		{[]string{polygon(`"role":"curb"`), polygon(`"layer":"outline"`)}, 0},
	} {
		var problems roof.Refusal
		d := geojson.Open("a.geojson", []byte(`{"type":"FeatureCollection","features":[`+strings.Join(c.features, ",")+`]}`), &problems)
		if d == nil {
			t.Fatal(problems.Err())
		}
		if got := d.Outlines(); got != c.want {
			t.Errorf("%q holds %d outlines, want %d", c.features, got, c.want)
		}
		read := d.Read(draft.Setting{Unit: quantity.Feet, Many: true}, &problems)
		if problems.Err() != nil || len(read.Outlines) != c.want {
			t.Errorf("%q: %d outlines are read, want %d: %v", c.features, len(read.Outlines), c.want, problems.Err())
		}
	}
}

// A polygon that says nothing is the outline where it is the only one; beside a stated one it is left out and counted.
func TestPolygonsWithoutARole(t *testing.T) {
	loose := feature(`"note":"x"`, "Polygon", `[[[1,1],[2,1],[2,2],[1,1]]]`)
	stated := feature(`"role":"outline","id":"R"`, "Polygon", square)
	for _, c := range []struct {
		features string
		outlines int
		polygons int
		warning  string
	}{
		{loose, 1, 0, ""},
		{loose + "," + stated, 1, 1, "a.geojson: left out features without a role: 1 (1 Polygon)."},
		{loose + "," + loose, 0, 2, "a.geojson: left out features without a role: 2 (2 Polygon)."},
		{loose + "," + loose + "," + feature(``, "MultiPolygon", `[]`), 0, 2, "a.geojson: left out features without a role: 3 (1 MultiPolygon, 2 Polygon)."},
	} {
		d, problems := read(t, c.features)
		if err := problems.Err(); err != nil || len(d.Outlines) != c.outlines || d.Polygons != c.polygons || strings.Join(d.Warnings, "\n") != c.warning {
			t.Errorf("%s: %d outlines, %d polygons, %q, %v", c.features, len(d.Outlines), d.Polygons, d.Warnings, err)
		}
	}
	// A problem of one that waited is told with its own number.
	_, problems := read(t, feature(``, "Polygon", `[[[0,0],[9,9],[9,0],[0,9],[0,0]]]`)+","+feature(`"role":"spot"`, "Point", "[1,1,1]"))
	if err := problems.Err(); err == nil || !strings.HasPrefix(err.Error(), "a.geojson feature 1 at (4.5, 4.5): the outline crosses or touches itself") {
		t.Errorf("%v", err)
	}
}

// A feature is called by the id among its properties, else by its own member, which RFC 7946 has as text or number; null is none.
func TestIDsOfFeatures(t *testing.T) {
	for text, want := range map[string]string{
		`"id":"m","properties":{"role":"spot","id":"p"}`:  "p",
		`"id":"m","properties":{"role":"spot"}`:           "m",
		`"id":7,"properties":{"role":"spot"}`:             "7",
		`"id":null,"properties":{"role":"spot","id":7.5}`: "7.5",
		`"properties":{"role":"spot","id":null}`:          "",
		`"properties":{"role":"spot","id":true}`:          "",
		`"id":"m","properties":{"role":"spot","id":{}}`:   "m",
	} {
		d, problems := read(t, `{"type":"Feature",`+text+`,"geometry":{"type":"Point","coordinates":[1,1,1]}}`)
		if err := problems.Err(); err != nil || d.Spots[0].ID != want || d.Spots[0].Origin.ID != want || d.Spots[0].Origin.File != "a.geojson" || d.Spots[0].Origin.Feature != 1 {
			t.Errorf("%s: %+v, %v; want %q", text, d.Spots, err, want)
		}
	}
}

// The place of a control point is on the site grid, also in a file of degrees: 5,000,000 is no latitude.
func TestControlPointsAmongDegrees(t *testing.T) {
	var problems roof.Refusal
	d := geojson.Open("a.geojson", []byte(`{"type":"FeatureCollection","features":[`+feature(`"role":"control","lon":-93,"lat":45,"sigma":"12 mm"`, "Point", "[500000,5000000]")+","+
		feature(`"role":"spot"`, "Point", "[-93,45,7]")+","+feature(`"role":"spot"`, "Point", "[45,-93,7]")+`]}`), &problems).Read(draft.Setting{Unit: quantity.Metres, Geographic: true}, &problems)
	if c := d.Controls; len(c) != 1 || c[0].Plan != (orb.Point{500000, 5000000}) || !near(c[0].Sigma, 12*quantity.Millimetre) || c[0].Lon != -93 || c[0].Lat != 45 {
		t.Errorf("%+v", d.Controls)
	}
	// The poles and the line where dates change are places on the map.
	for _, at := range []string{`"lon":180,"lat":90`, `"lon":-180,"lat":-90`} {
		if d, problems := read(t, feature(`"role":"control",`+at, "Point", "[1,2]")); problems.Err() != nil || len(d.Controls) != 1 {
			t.Errorf("%s: %v", at, problems.Err())
		}
	}
	if err := problems.Err(); len(d.Spots) != 1 || err == nil || err.Error() != "a.geojson feature 3 at (45, -93): latitude -93 is over 90; longitude comes first; for a site grid say --frame local" {
		t.Errorf("%v", err)
	}
}
