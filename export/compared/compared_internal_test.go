package compared

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/change"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/setout"
)

// books are the sample as found, twice.
func books(u record.Units) (before, after *record.Book) {
	return record.NewBook(sample.Study(sample.Local()), "", u), record.NewBook(sample.Study(sample.Local()), "", u)
}

// of is a comparison with a result of its own.
func of(u record.Units, r *change.Result, places ...Place) *Comparison {
	before, after := books(u)
	c := &Comparison{Before: before, After: after, Result: r}
	if places != nil {
		c.Acceptance = &Acceptance{Places: places, Limit: 0.006, units: u}
	}
	return c
}

// set is a place that was set out.
func set(number int, what string, off float64, v change.Verdict) Place {
	return Place{Point: &setout.Point{Number: number, What: what}, Wanted: 100, Place: change.Place{Built: 100 + off, Off: off, Error: 0.002, Verdict: v}}
}

func written(t *testing.T, write func(io.Writer) error) string {
	t.Helper()
	var out bytes.Buffer
	if err := write(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// words returns a text with one blank between words.
func words(text string) string { return strings.Join(strings.Fields(text), " ") }

// New and deeper ponds and a place outside the limit are to be repaired; what moved or is not known is noted; ponds that are gone or less are no fault.
func TestWorstOfAComparison(t *testing.T) {
	pond := func(states ...change.State) *change.Result {
		r := &change.Result{}
		for _, s := range states {
			r.Ponds = append(r.Ponds, change.Pond{Before: 0, After: 0, State: s})
		}
		return r
	}
	for name, c := range map[string]struct {
		result *change.Result
		places []Place
		want   finding.Severity
		ok     bool
	}{
		"nothing":          {pond(change.Same, change.Gone, change.Less), nil, 0, false},
		"moved":            {&change.Result{Regions: []change.Region{{}}}, nil, finding.Note, true},
		"new":              {pond(change.Same, change.New, change.Gone), nil, finding.Repair, true},
		"deeper":           {pond(change.Deeper), nil, finding.Repair, true},
		"all within":       {pond(change.Same), []Place{set(1, "a", 0, change.Within)}, 0, false},
		"one outside":      {pond(), []Place{set(1, "a", 0, change.NotMeasured), set(2, "b", 0.02, change.Outside), set(3, "c", 0, change.NotResolved)}, finding.Repair, true},
		"one not resolved": {pond(), []Place{set(1, "a", 0, change.Within), set(3, "c", 0, change.NotResolved)}, finding.Note, true},
		"one not measured": {pond(), []Place{set(3, "c", 0, change.NotMeasured), set(1, "a", 0, change.Within)}, finding.Note, true},
		"moved and within": {&change.Result{Regions: []change.Region{{}}}, []Place{set(1, "a", 0, change.Within)}, finding.Note, true},
		"repair stays":     {pond(change.New), []Place{set(3, "c", 0, change.NotMeasured)}, finding.Repair, true},
	} {
		if worst, ok := of(record.SI, c.result, c.places...).Worst(); ok != c.ok || ok && worst != c.want {
			t.Errorf("%s: %v %v, want %v %v", name, worst, ok, c.want, c.ok)
		}
	}
}

// The finished roof: how many places are within, and which is worst, by hand from the places.
func TestAcceptedPlaces(t *testing.T) {
	places := []Place{
		set(1, "RD-1", 0.004, change.Within), set(2, "deepest", 0.012, change.Outside), set(3, "lip", -0.025, change.Outside), set(4, "curb", 0.01, change.NotResolved), set(5, "ridge", 0, change.NotMeasured),
	}
	places[1].Inlet = true
	c := of(record.SI, &change.Result{}, places...)
	if got, want := c.accepted(), "Of 5 places, 1 within 6 mm, 2 outside, 1 not resolved: the survey's error reaches over the limit, 1 not measured. The worst is point 3, lip: 25 mm too low."; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	if got, want := of(record.SI, &change.Result{}, places[:2]...).accepted(), "Of 2 places, 1 within 6 mm, 1 outside. The worst is point 2, deepest, inlet: 12 mm too high."; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	if got, want := of(record.SI, &change.Result{}, places[2], places[1]).accepted(), "Of 2 places, 0 within 6 mm, 2 outside. The worst is point 3, lip: 25 mm too low."; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	if got, want := of(record.SI, &change.Result{}, places[0]).accepted(), "Of 1 place, 1 within 6 mm, 0 outside."; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	want := [][]string{
		{"1", "RD-1", "100.000 m", "100.004 m", "+4 mm", "2 mm", "within"},
		{"2", "deepest, inlet", "100.000 m", "100.012 m", "+12 mm", "2 mm", "outside"},
		{"3", "lip", "100.000 m", "99.975 m", "-25 mm", "2 mm", "outside"},
		{"4", "curb", "100.000 m", "100.010 m", "+10 mm", "2 mm", "not resolved"},
		{"5", "ridge", "100.000 m", "-", "-", "-", "not measured"},
	}
	if rows := c.placeRows(); !reflect.DeepEqual(rows[1:], want) {
		t.Errorf("%q", rows)
	}
	page := words(written(t, c.WriteText))
	for _, s := range []string{"Sample roof 1: the finished roof and what was planned", "SET OUT Of 5 places", "Places that were set out", "1 RD-1 100.000 m 100.004 m +4 mm 2 mm within"} {
		if !strings.Contains(strings.ToLower(page), strings.ToLower(s)) {
			t.Errorf("the page does not say %q", s)
		}
	}
}

// A row a place, a number to a hundredth in the unit of the head; names cannot be formulas. 25 mm are 0.98 in.
func TestTableOfPlaces(t *testing.T) {
	places := []Place{set(1, "=1+1", -0.025, change.Outside), set(2, "b", 0.00000001, change.Within), set(3, "c", 1, change.NotMeasured), set(4, "d", -0.000001, change.Within)}
	for u, want := range map[record.Units][][]string{
		record.SI: {{"point", "what", "off_mm", "error_mm", "verdict"}, {"1", "'=1+1", "-25.00", "2.00", "outside"}, {"2", "b", "0.00", "2.00", "within"}, {"3", "c", "", "", "not measured"}, {"4", "d", "0.00", "2.00", "within"}},
		record.US: {{"point", "what", "off_in", "error_in", "verdict"}, {"1", "'=1+1", "-0.98", "0.08", "outside"}, {"2", "b", "0.00", "0.08", "within"}, {"3", "c", "", "", "not measured"}, {"4", "d", "0.00", "0.08", "within"}},
	} {
		rows, err := csv.NewReader(strings.NewReader(written(t, of(u, &change.Result{}, places...).WriteCSV))).ReadAll()
		if err != nil || !reflect.DeepEqual(rows, want) {
			t.Errorf("%v %q", err, rows)
		}
	}
}

// A height that reads the same has stayed: 0.4 mm are no whole millimetre, but they are not nothing.
func TestWordsOfARise(t *testing.T) {
	for rise, want := range map[float64]string{0: "stayed", 0.03: "rose 30 mm", -0.03: "dropped 30 mm", 0.0004: "rose less than 1 mm", -0.0004: "dropped less than 1 mm"} {
		if got := moved(record.SI, rise); got != want {
			t.Errorf("%v: %s, want %s", rise, got, want)
		}
	}
	for off, want := range map[float64]string{0: "0 mm", 0.03: "+30 mm", -0.03: "-30 mm", 0.0004: "less than 1 mm", -0.0004: "less than 1 mm"} {
		if got := signed(record.SI, off); got != want {
			t.Errorf("%v: %s, want %s", off, got, want)
		}
	}
	const hang = " Both must hang on one bench mark. If they do not, compare with --level, which takes it off."
	const taken = " That was taken off before places were compared."
	for _, c := range []struct {
		shift change.Shift
		want  string
	}{
		{change.Shift{Median: 0.05, Error: 0.002}, ""},
		{change.Shift{Median: 0.05, Error: 0.002, Shown: true}, "As a whole the later survey stands 50 mm above the earlier one, give or take 2 mm." + hang},
		{change.Shift{Median: -0.05, Error: 0.002, Shown: true, Taken: true}, "As a whole the later survey stands 50 mm below the earlier one, give or take 2 mm." + taken},
		{change.Shift{Error: 0.002, Taken: true}, "As a whole the two surveys stand at one level, give or take 2 mm." + taken},
	} {
		if got := sayShift(record.SI, &c.shift); got != c.want {
			t.Errorf("%+v: %s, want %s", c.shift, got, c.want)
		}
	}
}

// Each sentence of the page from a result that is known.
func TestSentencesOfAComparison(t *testing.T) {
	spots := []change.Spot{{Spot: 0, Plan: orb.Point{2, 4}, Rise: -0.03, Error: 0.004, Significant: true, Between: true}, {Spot: 1, Plan: orb.Point{4, 4}}, {Spot: 2, Plan: orb.Point{6, 4}, Between: true}}
	r := &change.Result{
		Spots: spots, Off: 1, Threshold: 3.24, Roughness: 0.007, Shift: change.Shift{Median: 0.05, Error: 0.002, Shown: true},
		Regions: []change.Region{{Spots: []int{0}, Rise: -0.03, Error: 0.004, Area: 5.5}, {Spots: []int{1, 2}, Rise: 0.02, Error: 0.004, Area: 3}},
		Ponds: []change.Pond{
			{Before: -1, After: 0, State: change.New, Unsure: true, Depths: [2]float64{0, 0.02}},
			{Before: -1, After: 0, State: change.New, Depths: [2]float64{0, 0.02}},
			{Before: 0, After: -1, State: change.Gone, Depths: [2]float64{0.02, 0}},
			{Before: 0, After: 0, State: change.Same, Depths: [2]float64{0.02, 0.021}},
		},
	}
	c := of(record.SI, r)
	for got, want := range map[string]string{
		c.changed():  "2 places changed by more than the errors of both surveys. The largest dropped 30 mm, give or take 4 mm, over about 5.5 m², ",
		c.sayPonds(): "2 new (1 where the later survey has no spot in the water: shoot there), 1 gone, 1 as before.",
		c.surveys():  "77 spots before, 77 spots now. 3 were compared, 1 lies off the earlier roof. 2 do not stand where one was before; there the roof between spots counts as known to 7 mm. A change counts from 3.2 standard errors: on a roof that did not move, one comparison in twenty names any.",
	} {
		if !strings.HasPrefix(got, want) {
			t.Errorf("%s\nwant\n%s", got, want)
		}
	}
	rows := c.regionRows()
	if len(rows) != 3 || !reflect.DeepEqual(rows[1][:5], []string{"G01", "dropped 30 mm", "4 mm", "5.5 m²", "1"}) || !reflect.DeepEqual(rows[2][:5], []string{"G02", "rose 20 mm", "4 mm", "3.0 m²", "2"}) {
		t.Errorf("%q", rows)
	}
	rows = c.pondRows()
	for i, want := range [][]string{{"-", "P01", "new? no spot in the water now", "-", "20 mm"}, {"-", "P01", "new", "-", "20 mm"}, {"P01", "-", "gone", "20 mm", "-"}, {"P01", "P01", "as before", "20 mm", "20 mm"}} {
		if !reflect.DeepEqual(rows[i+1][:5], want) || rows[i+1][5] == "" {
			t.Errorf("%q, want %q and a place", rows[i+1], want)
		}
	}
	still := of(record.SI, &change.Result{Spots: spots[:1], Off: 2})
	for got, want := range map[string]string{
		still.changed():  "No place changed by more than the errors of both surveys, of 1 spot.",
		still.sayPonds(): "None before and none now, as far as the spots show.",
		still.surveys():  "77 spots before, 77 spots now. 1 was compared, 2 lie off the earlier roof. 1 does not stand where one was before;",
	} {
		if !strings.HasPrefix(got, want) {
			t.Errorf("%s\nwant\n%s", got, want)
		}
	}
	still.Before.Study.Roof.Surveyed = "2025-05-02"
	if got := still.title(); got != "Sample roof 1: 2025-05-02 and 2026-05-02" {
		t.Error(got)
	}
	still.Before.Study.Roof.Surveyed = ""
	if got := still.title(); got != "Sample roof 1: two surveys" {
		t.Error(got)
	}
	// A table stands only where it has rows.
	if page := written(t, still.WriteText); strings.Contains(strings.ToLower(page), "parts that rose") || strings.Contains(page, "SET OUT") || !strings.Contains(page, "CAUTIONS") {
		t.Error(page)
	}
}

// No page is as long as a roof has ponds: forty rows are printed.
func TestLongTablesEnd(t *testing.T) {
	r := &change.Result{Spots: make([]change.Spot, 60)}
	for i := range 60 {
		r.Regions = append(r.Regions, change.Region{Spots: []int{i}})
		r.Ponds = append(r.Ponds, change.Pond{Before: 0, After: 0, State: change.Same})
	}
	c := of(record.SI, r)
	if a, b := len(c.regionRows()), len(c.pondRows()); a != 41 || b != 41 {
		t.Errorf("%d and %d rows, want 40 and the heads", a, b)
	}
}

type collectionRead struct {
	Type, Frame, Units string
	Features           []struct {
		Type     string
		Geometry struct {
			Type        string
			Coordinates json.RawMessage
		}
		Properties map[string]any
	}
}

func readCollection(t *testing.T, text string) collectionRead {
	t.Helper()
	var d collectionRead
	decoder := json.NewDecoder(strings.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&d); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	return d
}

// The map of what changed: a spot where it stands, in the frame of the later file; brown where the roof dropped, green where it rose; a pond that is gone as it was. RFC 7946, 3.1.6:
// its ring closes and turns counter-clockwise.
func TestMapOfAComparison(t *testing.T) {
	r := &change.Result{
		Spots: []change.Spot{{Spot: 0, Plan: orb.Point{2, 4}, Rise: -0.03, Error: 0.004, Significant: true}, {Spot: 1, Plan: orb.Point{4, 4}, Rise: 0.03, Significant: true}, {Spot: 2, Plan: orb.Point{6, 4}, Rise: -0.001}},
		Ponds: []change.Pond{{Before: 0, After: -1, State: change.Gone, Depths: [2]float64{0.02, 0}}, {Before: 0, After: 0, State: change.Deeper, Depths: [2]float64{0.02, 0.03}}},
	}
	places := []Place{set(7, "lip", -0.025, change.Outside)}
	places[0].Plan = orb.Point{3, 5}
	c := of(record.SI, r, places...)
	c.Before.Study.Roof.Frame = roof.NewLocal(orb.Point{900, 2000}, 1) // the planned roof's file has another origin
	d := readCollection(t, written(t, c.WriteGeoJSON))
	if d.Type != "FeatureCollection" || d.Frame != "local" || d.Units != "m" || len(d.Features) != 6 {
		t.Fatalf("%+v", d)
	}
	for i, want := range []struct {
		x, y         float64
		title, color string
		changed      bool
	}{{1002, 2004, "Spot 1 dropped 30 mm", palette.Urgent, true}, {1004, 2004, "Spot 2 rose 30 mm", palette.Primary, true}, {1006, 2004, "Spot 3 dropped 1 mm", palette.Level, false}} {
		f := d.Features[i]
		var p []float64
		if err := json.Unmarshal(f.Geometry.Coordinates, &p); err != nil || f.Geometry.Type != "Point" || p[0] != want.x || p[1] != want.y {
			t.Errorf("%v %+v", err, f)
		}
		if f.Properties["title"] != want.title || f.Properties["marker-color"] != want.color || f.Properties["changed"] != want.changed || f.Properties["layer"] != "change" {
			t.Errorf("%v, want %+v", f.Properties, want)
		}
	}
	for i, want := range []map[string]any{
		{"title": "Pond P01: gone", "state": "gone", "before": "SR1.P01", "after": nil, "depth_before_mm": 20.0, "depth_after_mm": nil, "layer": "pond-change"},
		{"title": "Pond P01: deeper", "state": "deeper", "before": "SR1.P01", "after": "SR1.P01", "depth_before_mm": 20.0, "depth_after_mm": 30.0, "layer": "pond-change"},
	} {
		f := d.Features[3+i]
		for name, v := range want {
			if f.Properties[name] != v {
				t.Errorf("%s is %v, want %v", name, f.Properties[name], v)
			}
		}
		var m [][][][]float64
		if err := json.Unmarshal(f.Geometry.Coordinates, &m); err != nil || f.Geometry.Type != "MultiPolygon" || len(m) != 1 {
			t.Fatalf("%v %+v", err, f)
		}
		// The pond is the lozenge of the sample, 8 m2, less next to nothing; a frame whose origin is 100 m west shows a place of the earlier roof 100 m east of the later one's.
		ring, area := m[0][0], 0.0
		for k := 1; k < len(ring); k++ {
			area += (ring[k-1][0]-ring[0][0])*(ring[k][1]-ring[0][1])/2 - (ring[k][0]-ring[0][0])*(ring[k-1][1]-ring[0][1])/2
		}
		if !(math.Abs(area-8) <= 0.01) || !reflect.DeepEqual(ring[0], ring[len(ring)-1]) {
			t.Errorf("a pond of %v m2, want 8", area)
		}
		middle := 1006.0
		if i == 0 {
			middle = 906
		}
		for _, p := range ring {
			if !(math.Abs(p[0]-middle) <= 1.001) || !(math.Abs(p[1]-2006) <= 4.001) {
				t.Errorf("the pond reaches to %v", p)
			}
		}
	}
	f := d.Features[5]
	var p []float64
	if err := json.Unmarshal(f.Geometry.Coordinates, &p); err != nil || p[0] != 903 || p[1] != 2005 || f.Properties["layer"] != "set-out" || f.Properties["off_mm"] != -25.0 || f.Properties["point"] != 7.0 || f.Properties["wanted_m"] != 100.0 || f.Properties["built_m"] != 99.975 {
		t.Errorf("%v %v %v", err, p, f.Properties)
	}
}

// What programs read: one object, its numbers to those of the result.
func TestJSONOfAComparison(t *testing.T) {
	r := &change.Result{
		Spots: []change.Spot{{Spot: 0, Plan: orb.Point{2, 4}}}, Threshold: 3.2461, Roughness: 0.007, Shift: change.Shift{Median: 0.05, Error: 0.002, Shown: true},
		Regions: []change.Region{{Spots: []int{0}, Rise: -0.0254, Error: 0.00508, Area: 5.5}},
		Ponds:   []change.Pond{{Before: -1, After: 0, State: change.New, Unsure: true, Depths: [2]float64{0, 0.02}}},
	}
	var d struct {
		Schema, Roof, Units string
		Compared            int              `json:"spots_compared"`
		Before              int              `json:"spots_before"`
		Threshold           float64          `json:"threshold_standard_errors"`
		Between             float64          `json:"between_spots_error_in"`
		Shift               float64          `json:"shift_in"`
		ShiftError          float64          `json:"shift_error_in"`
		Shown               bool             `json:"shift_shown"`
		Taken               bool             `json:"shift_taken_off"`
		Limit               float64          `json:"limit_in"`
		Regions             []map[string]any `json:"regions"`
		Ponds               []map[string]any `json:"ponds"`
		Places              []map[string]any `json:"places"`
	}
	text := written(t, of(record.US, r, set(1, "a", 0.0254, change.Outside), set(2, "b", 1, change.NotMeasured)).WriteJSON)
	if err := json.Unmarshal([]byte(text), &d); err != nil || !strings.HasSuffix(text, "}\n") {
		t.Fatal(err, text)
	}
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-5 }
	if d.Schema != "runnel-change-1" || d.Roof != "SR1" || d.Units != "us" || d.Compared != 1 || d.Before != 77 || d.Threshold != 3.246 || !near(d.Between, 0.007/0.0254) || !near(d.Shift, 0.05/0.0254) || !near(d.ShiftError, 0.002/0.0254) || !d.Shown || d.Taken || !near(d.Limit, 0.006/0.0254) {
		t.Errorf("%+v", d)
	}
	if g := d.Regions[0]; len(d.Regions) != 1 || g["id"] != "G01" || g["rise_in"] != -1.0 || g["rise_error_in"] != 0.2 || g["spots"] != 1.0 || g["where"] == nil {
		t.Errorf("%v", d.Regions)
	}
	if p := d.Ponds[0]; p["state"] != "new" || p["unsure"] != true || p["before"] != nil || p["after"] != "SR1.P01" || !near(p["depth_after_in"].(float64), 0.02/0.0254) {
		t.Errorf("%v", d.Ponds)
	}
	if a, b := d.Places[0], d.Places[1]; a["off_in"] != 1.0 || a["verdict"] != "outside" || b["off_in"] != nil || b["verdict"] != "not measured" {
		t.Errorf("%v", d.Places)
	}
}

// The places of the planned roof's sheet are compared, those that somebody builds: the planned roof itself is within everywhere.
func TestAcceptWhatWasPlanned(t *testing.T) {
	before, after := books(record.SI)
	c := New(before, after, change.Options{})
	if err := c.Accept(0.006); err != nil {
		t.Fatal(err)
	}
	inlets, high := 0, 0
	for i := range c.Places {
		p := &c.Places[i]
		if p.Kind == setout.NextSpot || p.Kind == setout.NextCore || p.Kind == setout.Rim {
			t.Errorf("%s is no place that somebody builds", p.name())
		}
		if p.Verdict != change.NotMeasured && !(math.Abs(p.Off) <= 1e-6) {
			t.Errorf("%s is off by %v", p.name(), p.Off)
		}
		if p.Inlet {
			inlets++
			if p.Wanted == 100.02 {
				high++
			}
		} else if p.Wanted != p.Surface {
			t.Errorf("%s: wanted %v, set out %v", p.name(), p.Wanted, p.Surface)
		}
	}
	// The drain takes water at 100.020, as the sample states.
	if inlets == 0 || high != 1 || len(c.Places) == inlets {
		t.Errorf("%d places, %d inlets, %d at the drain's invert", len(c.Places), inlets, high)
	}
}
