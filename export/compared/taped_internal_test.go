package compared

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/bounds"
	"runnel/analysis/change"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/taped"
)

// chalked is a walled roof of 24 by 12 m with a drain at (6, 6), and water as it was chalked, seen some hours after rain (below 0: nobody noted it).
func chalked(u record.Units, hours float64, waters ...roof.Water) *taped.Book {
	r := &roof.Roof{Name: "Shed", Units: quantity.Metres, Tape: &roof.Tape{Placed: true, Walls: true, Waters: waters}}
	r.Frame = roof.NewLocal(orb.Point{100, 200}, quantity.Metres)
	r.Outline.Rings = [][]roof.Position{nil}
	for _, p := range []orb.Point{{0, 0}, {24, 0}, {24, 12}, {0, 12}, {0, 0}} {
		r.Outline.Rings[0] = append(r.Outline.Rings[0], roof.Position{Plan: p})
	}
	r.Outlets = []roof.Outlet{{Label: "RD-1", Plan: orb.Point{6, 6}, Type: roof.Drain}}
	if hours >= 0 {
		r.Visit.HasHours, r.Visit.Hours = true, hours
	}
	return &taped.Book{Survey: tape.Of(r, standard.Defaults()), Units: u}
}

// water is a pond of 4 by 2 m about (8, 6), chalked by 12 marks, deepest in its middle [m].
func water(number string, depth float64) roof.Water {
	w := roof.Water{Number: number, HoursSinceRain: 24}
	w.ID = "P" + number
	for i := range 12 {
		turn := 2 * math.Pi * float64(i) / 12
		w.Edge = append(w.Edge, roof.Position{Plan: orb.Point{8 + 2*math.Cos(turn), 6 - math.Sin(turn)}}) // clockwise
	}
	if depth > 0 {
		w.Soundings = []roof.Sounding{{Plan: orb.Point{8, 6}, Depth: quantity.Length(depth)}}
	}
	return w
}

// twice is two surveys with what became of the water.
func twice(u record.Units, waters ...change.Water) *Taped {
	before, after := chalked(u, 24, water("1", 0.02)), chalked(u, -1, water("2", 0.03))
	return &Taped{Before: before, After: after, Result: &change.Taped{Waters: waters}}
}

func between(low, high float64) bounds.Range { return bounds.Range{Low: low, High: high} }

func TestWorstOfTapedSurveys(t *testing.T) {
	for _, c := range []struct {
		states  []change.State
		reading bool
		verdict change.Verdict
		want    finding.Severity
		ok      bool
	}{
		{[]change.State{change.Gone, change.Smaller, change.Joined}, false, "", 0, false},
		{[]change.State{change.Unresolved}, false, "", finding.Note, true},
		{[]change.State{change.New, change.Unresolved}, false, "", finding.Repair, true},
		{[]change.State{change.More}, false, "", finding.Repair, true},
		{[]change.State{change.Mixed}, false, "", finding.Repair, true},
		{[]change.State{change.Parted}, false, "", finding.Repair, true},
		{nil, true, "", finding.Note, true},
		{nil, false, "", 0, false},
		{nil, true, change.Outside, finding.Repair, true},
		{[]change.State{change.Unresolved}, false, change.Outside, finding.Repair, true},
	} {
		tp := &Taped{Result: &change.Taped{Readings: []change.Reading{{Significant: c.reading}}}}
		for _, s := range c.states {
			tp.Result.Waters = append(tp.Result.Waters, change.Water{State: s})
		}
		if c.verdict != "" {
			tp.Acceptance = &Acceptance{Places: []Place{set(1, "a", 0.1, c.verdict)}}
		}
		if worst, ok := tp.Worst(); ok != c.ok || ok && worst != c.want {
			t.Errorf("%+v: %v %v", c, worst, ok)
		}
	}
}

// What became of each pond, in a sentence that says what it rests on.
func TestSentencesOfPonds(t *testing.T) {
	known := change.Measure{Known: true, Before: between(0.018, 0.022), After: between(0.028, 0.032)}
	same := change.Measure{Known: true, Before: between(6, 6.5), After: between(6.2, 6.7)}
	none := change.Drying{Known: true}
	for _, c := range []struct {
		water change.Water
		want  string
	}{
		{change.Water{Before: 0, After: -1, State: change.Gone}, "P1 is gone: so soon after rain it would still stand."},
		{change.Water{Before: 0, After: -1, State: change.Gone, Unsure: true}, "P1 is gone, or it had dried: the later survey does not say how long after rain it was."},
		{change.Water{Before: -1, After: 0, State: change.New}, "P2 is new."},
		{change.Water{Before: -1, After: 0, State: change.New, Unsure: true}, "P2 is new, or it had dried before: the earlier survey was 24 hours after rain."},
		{change.Water{Before: 0, After: 0, State: change.Joined}, "P1 has run together with P2."},
		{change.Water{Before: 0, After: 0, State: change.Parted}, "P2 was part of P1."},
		{change.Water{Before: 0, After: 0, State: change.More, Area: same, Depth: known, Drying: none}, "P2 (P1 before) holds more water: deepest 18 mm to 22 mm before, 28 mm to 32 mm now."},
		{change.Water{Before: 0, After: 0, State: change.Smaller, Depth: change.Measure{Known: true, Before: known.After, After: known.Before}}, "P2 (P1 before) holds less water: deepest 28 mm to 32 mm before, 18 mm to 22 mm now. The hours since rain are not noted in both surveys: part of the difference may have dried."},
		{change.Water{Before: 0, After: 0, State: change.Mixed, Depth: known, Weight: change.Measure{Known: true, Before: between(80, 90), After: between(40, 50)}, Drying: none}, "P2 (P1 before) has changed: deepest 18 mm to 22 mm before, 28 mm to 32 mm now; weight 80 kg to 90 kg before, 40 kg to 50 kg now."},
		{change.Water{Before: 0, After: 0, State: change.Unresolved, Drying: change.Drying{Known: true, Most: 0.01}}, "P2 (P1 before): a change is not resolved; the ranges overlap. The ranges allow for 10 mm that may have dried more now."},
		{change.Water{Before: 0, After: 0, State: change.Unresolved, Drying: change.Drying{Known: true, Most: -0.01}}, "P2 (P1 before): a change is not resolved; the ranges overlap. The ranges allow for 10 mm that may have dried more then."},
		{change.Water{Before: 0, After: 0, State: change.Unresolved, Drying: change.Drying{Known: true, Most: 0.0004}}, "P2 (P1 before): a change is not resolved; the ranges overlap."},
	} {
		if got := twice(record.SI, c.water).sayPonds(); got != c.want {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
	}
	if got := twice(record.SI).sayPonds(); got != "No water was chalked in either survey." {
		t.Error(got)
	}
	// A pond that was not sounded has no depth that could have dried, one in one survey alone nothing to compare.
	c := twice(record.SI, change.Water{Before: -1, After: 0})
	if got := c.dried(&c.Result.Waters[0]); got != "" {
		t.Error(got)
	}
}

// What the heights tell of what holds the water; a rise that never was is not spoken of.
func TestWhatHeldTheWater(t *testing.T) {
	w := change.Water{
		Before: 0, After: 0,
		Inlet: change.Measure{Known: true, Before: between(-0.004, 0.01), After: between(0.02, math.Inf(1))},
		Rise:  change.Measure{Known: true, Before: between(-0.004, 0), After: between(-0.002, 0)},
	}
	if got, want := twice(record.SI, w).held(), "P2 (P1 before): the inlet over the lowest place: 0 mm to 10 mm before, 20 mm or more now, higher now."; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	w.Inlet.Known = false
	if got := twice(record.SI, w).held(); got != "" {
		t.Error(got)
	}
	w.Rise.Before.High = 0.01
	if got, want := twice(record.SI, w).held(), "P2 (P1 before): what a rise before it adds: 0 mm to 10 mm before, 0 mm now, not resolved."; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	w.Rise = change.Measure{Known: true, Before: between(0.02, 0.03), After: between(0.005, 0.01)}
	if got := twice(record.SI, w).held(); !strings.HasSuffix(got, "20 mm to 30 mm before, 5 mm to 10 mm now, lower now.") {
		t.Error(got)
	}
}

// What heights at the same places tell, and why they may tell nothing.
func TestSharedHeights(t *testing.T) {
	readings := []change.Reading{{What: "at RD-1", Rise: 0.003, Error: 0.002}, {What: "by the door", Rise: 0.02, Error: 0.002, Significant: true}, {What: "in P1", Rise: -0.03, Error: 0.003, Significant: true}}
	for _, c := range []struct {
		result change.Taped
		want   string
	}{
		{change.Taped{}, "No place has a height in both surveys."},
		{change.Taped{Shared: 1, Datum: change.NoDatum}, "1 place has a height in both surveys, but nobody stated the level's line of sight"},
		{change.Taped{Shared: 3, Datum: change.NoDatum}, "3 places have a height in both surveys, but"},
		{change.Taped{Shared: 4, Datum: change.TooFewSame}, "Only 4 places have a height in both surveys; --level takes five or more to find the shift as a whole."},
		{change.Taped{Shared: 1, Readings: readings[:1]}, "No place changed by more than the errors of both surveys, of 1 that were read twice."},
		{change.Taped{Shared: 3, Readings: readings, Shift: change.Shift{Median: 0.05, Error: 0.002, Taken: true}}, "Of 3 places that were read twice, 2 changed by more than the errors of both surveys. The largest, in P1, dropped 30 mm, give or take 3 mm. As a whole the later survey stands 50 mm above"},
	} {
		tp := twice(record.SI)
		tp.Result = &c.result
		if got := tp.levels(); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s\nwant\n%s", got, c.want)
		}
	}
	tp := twice(record.SI)
	tp.Result.Readings = append(slices.Clone(readings), change.Reading{What: "x", Rise: 0})
	for i, want := range [][]string{{"at RD-1", "rose 3 mm", "2 mm", "not resolved"}, {"by the door", "rose 20 mm", "2 mm", "changed"}, {"in P1", "dropped 30 mm", "3 mm", "changed"}, {"x", "0 mm", "0 mm", "not resolved"}} {
		if row := tp.readingRows()[i+1]; !reflect.DeepEqual(row[:4], want) || row[4] == "" {
			t.Errorf("%q, want %q", row, want)
		}
	}
}

// A row of the table of ponds: the range where both surveys have a figure, else what the one has; an ellipse of 4 by 2 m is 6.3 m2.
func TestRowsOfPonds(t *testing.T) {
	both := change.Water{Before: 0, After: 0, State: change.More, Unsure: true, Depth: change.Measure{Known: true, Before: between(0.018, 0.022), After: between(0.028, 0.032)}}
	c := twice(record.SI, both, change.Water{Before: -1, After: 0, State: change.New}, change.Water{Before: 0, After: -1, State: change.Gone})
	rows := c.pondRows()
	for i, want := range [][]string{
		{"P2 (P1 before)", "more water?", "6.3 m²", "6.3 m²", "18 mm to 22 mm", "28 mm to 32 mm"},
		{"P2", "new", "-", "6.3 m²", "-", "30 mm"},
		{"P1", "gone", "6.3 m²", "-", "20 mm", "-"},
	} {
		row := rows[i+1]
		if want[1] = strings.Replace(want[1], "more water", string(change.More), 1); !reflect.DeepEqual(row[:6], want) || row[8] == "" {
			t.Errorf("%q, want %q", row, want)
		}
	}
	// By hand: over a bottom that runs straight from the edge to the one depth a third of the area times it, over a flat pan all of it: 6.283 m2 x 0.03 m x 1,000 kg/m3 = 188 kg.
	if rows[2][6] != "-" || rows[2][7] != "63 kg to 188 kg" {
		t.Errorf("weights %q", rows[2][6:8])
	}
	c.Before, c.After = chalked(record.SI, 24, water("1", 0)), chalked(record.SI, 24, water("2", 0))
	if row := c.pondRows()[2]; row[5] != "not read" || row[7] != "not read" {
		t.Errorf("not sounded: %q", row)
	}
	c.Result.Waters = make([]change.Water, 50)
	c.Result.Readings = make([]change.Reading, 50)
	if a, b := len(c.pondRows()), len(c.readingRows()); a != 41 || b != 41 {
		t.Errorf("%d and %d rows, want 40 and the heads", a, b)
	}
}

// The table for a spreadsheet: ranges in the unit of their heads, no number where none is known or none bounds it.
func TestTableOfPonds(t *testing.T) {
	w := change.Water{
		Before: 0, After: 0, State: change.More, Area: change.Measure{Known: true, Before: between(9.290304, 18.580608), After: between(9.290304, math.Inf(1))},
		Depth: change.Measure{Known: true, Before: between(0.0254, 0.0508), After: between(0.0762, 0.1016)},
	}
	c := twice(record.US, w, change.Water{Before: -1, After: 0, State: change.New, Unsure: true})
	c.After.Survey.Ponds[0].ID = "@P2"
	rows, err := csv.NewReader(strings.NewReader(written(t, c.WriteCSV))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if head := strings.Join(rows[0], " "); head != "before after state unsure where area_before_ft2_5 area_before_ft2_95 area_after_ft2_5 area_after_ft2_95 depth_read_before_in_5 depth_read_before_in_95 depth_read_after_in_5 depth_read_after_in_95 weight_before_lb_5 weight_before_lb_95 weight_after_lb_5 weight_after_lb_95" {
		t.Error(head)
	}
	if r := rows[1]; r[0] != "P1" || r[1] != "'@P2" || r[3] != "false" || r[4] == "" || strings.Join(r[5:], " ") != "100.00 200.00 100.00  1.00 2.00 3.00 4.00    " {
		t.Errorf("%q", r)
	}
	if r := rows[2]; r[0] != "" || r[3] != "true" || strings.Join(r[5:], "") != "" {
		t.Errorf("%q", r)
	}
	// Of a finished roof the places are the table.
	c.Acceptance = &Acceptance{Places: []Place{set(1, "a", 0.0254, change.Outside)}, units: record.US}
	if rows, err = csv.NewReader(strings.NewReader(written(t, c.WriteCSV))).ReadAll(); err != nil || len(rows) != 2 || rows[1][2] != "1.00" {
		t.Errorf("%v %q", err, rows)
	}
}

func TestJSONOfTapedSurveys(t *testing.T) {
	w := change.Water{Before: 0, After: 0, State: change.More, Depth: change.Measure{Known: true, Before: between(0.018, 0.022), After: between(0.028, 0.032)}}
	c := twice(record.SI, w, change.Water{Before: 0, After: -1, State: change.Gone, Unsure: true})
	c.Result.Shared, c.Result.Shift = 6, change.Shift{Median: 0.05, Taken: true}
	c.Result.Readings = []change.Reading{{What: "in P1", Rise: -0.03, Error: 0.003, Significant: true}}
	var d map[string]any
	text := written(t, c.WriteJSON)
	if err := json.Unmarshal([]byte(text), &d); err != nil || !strings.HasSuffix(text, "}\n") {
		t.Fatal(err, text)
	}
	for name, want := range map[string]any{"schema": "runnel-tape-change-1", "roof": "Shed", "units": "si", "heights_shared": 6.0, "heights_compared": true, "shift_mm": 50.0, "shift_taken_off": true, "limit_mm": nil, "places": nil} {
		if d[name] != want {
			t.Errorf("%s is %v, want %v", name, d[name], want)
		}
	}
	ponds, heights := d["ponds"].([]any), d["heights"].([]any)
	for i, want := range []map[string]any{
		{"before": "P1", "after": "P2", "unsure": nil, "depth_read_change": "more", "area_change": nil, "depth_read_before_mm_5": 18.0, "depth_read_after_mm_95": 32.0},
		{"before": "P1", "after": nil, "unsure": true, "state": "gone"},
	} {
		for name, v := range want {
			if got := ponds[i].(map[string]any)[name]; got != v {
				t.Errorf("pond %d: %s is %v, want %v", i, name, got, v)
			}
		}
	}
	if h := heights[0].(map[string]any); len(heights) != 1 || h["rise_mm"] != -30.0 || h["rise_error_mm"] != 3.0 || h["changed"] != true || h["place"] != "in P1" {
		t.Errorf("%v", heights)
	}
	c.Before, c.Acceptance = nil, &Acceptance{Places: []Place{set(1, "a", 0.01, change.Outside)}, Limit: 0.006}
	d = map[string]any{}
	if err := json.Unmarshal([]byte(written(t, c.WriteJSON)), &d); err != nil || d["ponds"] != nil || d["limit_mm"] != 6.0 || len(d["places"].([]any)) != 1 || d["tier_before"] != nil || d["tier_after"] == nil {
		t.Errorf("%v %v", err, d)
	}
}

// Both outlines of a pond lie on the map where they were chalked: an ellipse of 4 by 2 m about (108, 206), 6.28 m2, counter-clockwise by RFC 7946, however it was walked.
func TestMapOfTapedSurveys(t *testing.T) {
	c := twice(record.SI, change.Water{Before: 0, After: 0, State: change.More}, change.Water{Before: 0, After: -1, State: change.Gone})
	c.Result.Readings = []change.Reading{{What: "at RD-1", Plan: orb.Point{6, 6}, Rise: 0.02}}
	d := readCollection(t, written(t, c.WriteGeoJSON))
	var said []string
	for _, f := range d.Features {
		said = append(said, fmt.Sprint(f.Properties["layer"], " ", f.Properties["seen"], " ", f.Properties["title"]))
		if f.Geometry.Type == "Point" {
			if string(f.Geometry.Coordinates) != "[106,206]" {
				t.Errorf("%s", f.Geometry.Coordinates)
			}
			continue
		}
		var m [][][][]float64
		if err := json.Unmarshal(f.Geometry.Coordinates, &m); err != nil {
			t.Fatal(err)
		}
		ring, area := m[0][0], 0.0
		for k := 1; k < len(ring); k++ {
			area += (ring[k-1][0]-108)*(ring[k][1]-206)/2 - (ring[k][0]-108)*(ring[k-1][1]-206)/2
		}
		if !(math.Abs(area-6.283) <= 0.1) || !reflect.DeepEqual(ring[0], ring[len(ring)-1]) {
			t.Errorf("an outline of %v m2, want 6.28", area)
		}
	}
	if want := []string{
		"pond-change before Pond P2 (P1 before): " + string(change.More) + " (before)", "pond-change after Pond P2 (P1 before): " + string(change.More) + " (after)",
		"pond-change before Pond P1: gone (before)", "change <nil> at RD-1 rose 20 mm",
	}; !reflect.DeepEqual(said, want) {
		t.Errorf("%q", said)
	}
}

// The page says first what keeps people off, then the rest in its order; what was not compared is left out.
func TestPageOfTapedSurveys(t *testing.T) {
	c := twice(record.SI, change.Water{Before: 0, After: -1, State: change.Gone})
	c.Before.Survey.Roof.Surveyed, c.After.Survey.Roof.Surveyed = "2026-05-02", "2026-06-02"
	page := words(written(t, c.WriteText))
	last := -1
	for _, want := range []string{"Shed: 2026-05-02 and 2026-06-02", "PONDS P1 is gone", "LEVELS No place", "SURVEYS Before:", "LIMIT This compares", "An area and a depth lie in their ranges", "CAUTIONS"} {
		at := strings.Index(page, want)
		if at <= last {
			t.Errorf("%q stands at %d, after %d", want, at, last)
		}
		last = at
	}
	if strings.Contains(page, "HELD BY") || strings.Contains(page, "SET OUT") {
		t.Error(page)
	}
	c.After.Survey.Roof.Surveyed = ""
	if got := c.title(); got != "Shed: two surveys" {
		t.Error(got)
	}
	if page := words(written(t, twice(record.SI).WriteText)); strings.Contains(page, "An area and a depth") {
		t.Error("ranges are explained where there are none")
	}
}

// Rods read on the finished roof are compared with the planned roof.
func TestAcceptByRods(t *testing.T) {
	planned := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	c, err := AcceptTaped(planned, chalked(record.SI, 24), 0.006)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Places) == 0 || c.title() != "Shed: the finished roof and what was planned" || !strings.Contains(c.surveys(), "within 0.5 m of a place that was set out") {
		t.Errorf("%d places, %q", len(c.Places), c.title())
	}
	for i := range c.Places { // no rod was read
		if c.Places[i].Verdict != change.NotMeasured {
			t.Errorf("%+v", c.Places[i])
		}
	}
	if d := readCollection(t, written(t, c.WriteGeoJSON)); len(d.Features) != len(c.Places) || d.Features[0].Properties["layer"] != "set-out" {
		t.Errorf("%d features", len(d.Features))
	}
	if page := words(written(t, c.WriteText)); strings.Contains(page, "PONDS") || strings.Contains(page, "LEVELS") || !strings.Contains(page, "SET OUT Of ") {
		t.Error(page)
	}
}
