package answer

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
	"runnel/analysis/trial"
	"runnel/export/model"
	"runnel/export/record"
	"runnel/export/sample"
	"runnel/export/taped"
)

// of is the answer about the sample roof: its pond is a lozenge of 8 m2 about (6, 6), 20 mm deep, that its drain holds.
func of(u record.Units) *Answer { return &Answer{sight: sample.Study(sample.Local()), units: u} }

// What a change asks for that is not there is refused by name; levels add up from change to change.
func TestChangesOfATrial(t *testing.T) {
	a := of(record.SI)
	edge := len(a.sight.Surface.Outlets) - 1
	for want, c := range map[string]Change{
		`unknown change "dig"`:            {Do: "dig"},
		"there is no outlet 3":            {Do: "block", Outlet: 3},
		"there is no outlet -1":           {Do: "outlet", Outlet: -1},
		"an edge has no level of its own": {Do: "outlet", Outlet: edge},
		`there is no pond "P09"`:          {Do: "shave", Pond: "P09"},
		"P01 lies at no curb and between no two outlets: tap the two ends of the cricket on the plan": {Do: "cricket", Pond: "P01"},
	} {
		if _, err := a.Try([]Change{c}); err == nil || err.Error() != want {
			t.Errorf("%+v: %v, want %s", c, err, want)
		}
	}
	levels := []float64{100.02, 100.17, 0}
	for range 2 {
		if c, err := a.change(Change{Do: "outlet", Outlet: 0, By: -0.005}, levels); err != nil || c.Kind != trial.SetOutlet {
			t.Error(err)
		}
	}
	if !(math.Abs(levels[0]-100.01) <= 1e-9) {
		t.Errorf("set down twice by 5 mm: %v", levels[0])
	}
	if c, err := a.change(Change{Do: "cricket", Base: [2]Place{{1, 2}, {3, 4}}, Tip: 0.5, Rate: 0.04}, levels); err != nil || c.Base != [2]orb.Point{{1, 2}, {3, 4}} || c.Tip != 0.5 || c.Rate != 0.04 || c.Valley != a.sight.Criteria.MinValleySlope {
		t.Errorf("%+v %v", c, err)
	}
	if c, err := a.change(Change{Do: "fill", Pond: "P01"}, levels); err != nil || c.Kind != trial.Fill || c.Pond != a.sight.Listed[0].Pond {
		t.Errorf("%+v %v", c, err)
	}
	if _, err := (&Answer{taped: &taped.Book{}}).Try(nil); err == nil || !strings.Contains(err.Error(), "heights all over the roof are needed") {
		t.Error(err)
	}
	if _, err := a.Runs(); a.tried == nil && err == nil {
		t.Error("what runs where, before anything was tried")
	}
}

// By hand: a drain that stands 20 mm over the roof holds a pond of 8 m2 and a third of 8 x 0.02 m3, 53.3 litres; 10 mm lower half as long and wide, 2 m2 and 6.7 litres; level with the roof none.
func TestADrainSetDown(t *testing.T) {
	for _, c := range []struct {
		by                 float64
		ponds              int
		depth, area, water string
	}{{0, 1, "20 mm", "8.0 m²", "53 litres"}, {-0.02, 0, "", "", ""}, {0.01, 1, "30 mm", "18.0 m²", "180 litres"}} { // 30 mm reach 1.5 and 6 m: 18 m2, a third of 18 x 0.03
		r, err := of(record.SI).Try([]Change{{Do: "outlet", Outlet: 0, By: c.by}})
		if err != nil {
			t.Fatal(err)
		}
		if r.Found.Ponds != 1 || r.Found.Depth != "20 mm" || r.Now.Ponds != c.ponds || r.Now.Depth != c.depth || r.Now.Area != c.area || r.Now.Volume != c.water {
			t.Errorf("%v m: %+v, found %+v", c.by, r.Now, r.Found)
		}
		if len(r.Compared) != 1 || r.Compared[0].ID != "P01" || r.Compared[0].Found.Depth != "20 mm" || (r.Compared[0].Now != nil) != (c.ponds > 0) || len(r.Ponds) != c.ponds {
			t.Errorf("%+v", r.Compared)
		}
		if c.ponds > 0 && (!(math.Hypot(r.Ponds[0].At[0]-6, r.Ponds[0].At[1]-6) <= 0.2) || r.Ponds[0].ID != "P01" || r.Ponds[0].Weight == "") {
			t.Errorf("%+v", r.Ponds[0])
		}
		if c.by == 0 && r.Dug != "" || r.Built != "" { // set down, its bowl is
			t.Errorf("dug %q, built %q", r.Dug, r.Built)
		}
	}
	r, err := of(record.US).Try([]Change{{Do: "fill", Pond: "P01"}})
	if err != nil || r.Built == "" || r.Dug != "" {
		t.Errorf("%v %+v", err, r)
	}
}

// What runs to which outlet, by hand: 166 m2 to RD-1 and 72 m2 to the gutter, and nothing to the overflow.
func TestWhatRunsWhere(t *testing.T) {
	a := of(record.SI)
	if _, err := a.Try(nil); err != nil {
		t.Fatal(err)
	}
	runs, err := a.Runs()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range runs {
		got = append(got, a.sight.Surface.Outlets[r.Outlet].Label+" "+r.Found+" "+r.Now)
		twice := 0.0 // the area of what is drawn, holes being walked the other way round
		for _, ring := range r.Rings {
			for i := range ring {
				p, q := ring[i], ring[(i+1)%len(ring)]
				twice += p[0]*q[1] - q[0]*p[1]
			}
		}
		if said := a.units.SayArea(math.Abs(twice) / 2); said != r.Now {
			t.Errorf("%s runs to outlet %d, and %s are drawn", r.Now, r.Outlet, said)
		}
	}
	if len(runs) != 2 || got[0] != "RD-1 166 m² 166 m²" || !strings.HasSuffix(got[1], " 72.0 m² 72.0 m²") {
		t.Errorf("%q", got)
	}
}

// Ponds without a name get one; the rest keep theirs.
func TestNamesOfPonds(t *testing.T) {
	ponds := []Pond{{}, {ID: "P02"}, {}}
	names(ponds)
	if ponds[0].ID != "other 1" || ponds[1].ID != "P02" || ponds[2].ID != "other 2" {
		t.Errorf("%+v", ponds)
	}
}

// A cricket in words: how its valleys fall beside what is asked of them.
func TestCricketInWords(t *testing.T) {
	a := of(record.SI)
	a.sight.Criteria.MinValleySlope = 0.01
	for valley, want := range map[float64]string{0: "; its valleys do not fall to both ends.", 0.005: "; its valleys fall 0.50 %, less than the 1.00 % asked of a valley.", 0.01: "; its valleys fall 1.00 %."} {
		b := &trial.Built{Base: [2]orb.Point{{1, 2}, {4, 6}}, Tips: []orb.Point{{3, 3}}, Thickness: 0.05, Rate: 0.02, Valley: valley}
		got := a.cricket(b)
		if !strings.HasPrefix(got.Text, "5.0 m long, ") || !strings.HasSuffix(got.Text, want) || !strings.Contains(got.Text, " 50 mm thick at its middle, boards of 2.00 %") || got.Tip != b.Off() || got.Rate != 0.02 || got.Base != [2]Place{{1, 2}, {4, 6}} || got.Tips[0] != (Place{3, 3}) {
			t.Errorf("%+v, want %q", got, want)
		}
	}
}

// A cricket at a wall is as wide as its tip stands off its base, one between two outlets twice as wide: by hand 2 and 4 m.
func TestWidthOfACricket(t *testing.T) {
	for want, tips := range map[string][]orb.Point{"8.0 m long, 2.0 m wide, ": {{4, 2}}, "8.0 m long, 4.0 m wide, ": {{4, 2}, {4, -2}}} {
		if got := of(record.SI).cricket(&trial.Built{Base: [2]orb.Point{{0, 0}, {8, 0}}, Tips: tips}); !strings.HasPrefix(got.Text, want) {
			t.Errorf("%q, want %q", got.Text, want)
		}
	}
}

// Places go to the page to the millimetre, from the origin of the outline's file; of a file in degrees no length of its unit is said.
func TestPictureOfTheSample(t *testing.T) {
	a := of(record.SI)
	p := a.Picture()
	if p.Origin != (Place{1000, 2000}) || p.Metres != 1 || p.Tier != "C" || p.Units != "si" || len(p.Spots) != 77 || p.Heading != "Sample roof 1" {
		t.Errorf("%+v", p)
	}
	if !reflect.DeepEqual(p.Outline, [][]Place{{{0, 0}, {20, 0}, {20, 12}, {0, 12}, {0, 0}}}) || len(p.Curbs) != 1 || p.Curbs[0].Name != "unit 1" {
		t.Errorf("%v %v", p.Outline, p.Curbs)
	}
	o := p.Outlets
	if len(o) != 3 || o[0].Label != "RD-1" || o[0].Type != "drain" || o[0].Overflow || *o[0].Invert != 100.02 || o[0].Source != 0 || !o[1].Overflow || o[2].Type != "gutter" || o[2].Source != -1 || o[2].Invert != nil || len(o[2].Line) < 2 {
		t.Errorf("%+v", o)
	}
	if len(p.Ponds) != 1 || p.Ponds[0].ID != "P01" || p.Ponds[0].Depth != "20 mm" || !(math.Hypot(p.Ponds[0].At[0]-6, p.Ponds[0].At[1]-6) <= 0.2) {
		t.Errorf("%+v", p.Ponds)
	}
	last := 0.0
	for _, b := range p.Water { // the shallowest first, each in the lozenge
		if b.Strength <= last || len(b.Rings) == 0 {
			t.Errorf("%+v", b)
		}
		last = b.Strength
		for _, ring := range b.Rings {
			for _, q := range ring {
				if !(math.Abs(q[0]-6) <= 1.01) || !(math.Abs(q[1]-6) <= 4.01) {
					t.Errorf("water at %v", q)
				}
			}
		}
	}
	if len(p.Water) != 2 { // to 10 mm, and from 10 to 20
		t.Errorf("%d bands", len(p.Water))
	}
	text, err := json.Marshal(p)
	if err != nil || strings.Contains(string(text), "null") {
		t.Errorf("%v: a list is null", err)
	}
	degrees := &Answer{sight: sample.Study(sample.Geographic()), units: record.SI}
	if p := degrees.Picture(); p.Metres != 0 || p.Origin != (Place{-12.5, 41.25}) {
		t.Errorf("%v %v", p.Metres, p.Origin)
	}
	feet := &Answer{sight: sample.Study(sample.Feet()), units: record.US}
	if p := feet.Picture(); p.Metres != 0.3048 || p.Units != "us" {
		t.Errorf("%v %v", p.Metres, p.Units)
	}
	a.model = model.Of(record.NewBook(a.sight, "", record.SI))
	full := a.Picture()
	if text, err := json.Marshal(full); err != nil || strings.Contains(string(text), ":null") {
		t.Errorf("%v: a list is null: %s", err, text)
	}
	if len(full.Ponds) != 1 || full.Ponds[0].Area != "8.0 m²" || full.Ponds[0].Held == "" || full.Ponds[0].Where == "" || len(full.Findings) != len(a.sight.Findings) || len(full.First) == 0 || full.Heading == p.Heading || len(full.Blocked) > 0 {
		t.Errorf("%+v", full)
	}
	if len(full.Next) != len(a.sight.NextSpots) {
		t.Errorf("%d spots to take next", len(full.Next))
	}
	storm := &Answer{sight: sample.Storm(sample.Local()), units: record.SI}
	storm.model = model.Of(record.NewBook(storm.sight, "", record.SI))
	if len(storm.Picture().Blocked) == 0 {
		t.Error("the water with outlets blocked is not drawn")
	}
	if got := place(orb.Point{1.23456, -0.0004}); got != (Place{1.235, 0}) {
		t.Errorf("%v", got)
	}
}

// A roof measured with tape, chalk and ruler: its water as it was chalked, its outlets with the level that is known, and what it cannot tell.
func TestPictureOfATapedRoof(t *testing.T) {
	r := &roof.Roof{Name: "Shed", Tape: &roof.Tape{Placed: true, Walls: true}}
	r.Outline.Rings = [][]roof.Position{{{Plan: orb.Point{0, 0}}, {Plan: orb.Point{20, 0}}, {Plan: orb.Point{20, 10}}, {Plan: orb.Point{0, 10}}, {Plan: orb.Point{0, 0}}}}
	r.Outlets = []roof.Outlet{{Label: "RD-1", Plan: orb.Point{5, 5}, Invert: 99.5, HasInvert: true}, {Label: "RD-2", Plan: orb.Point{15, 5}}}
	r.Edges = []roof.Edge{{Type: roof.Gutter, Label: "E-1", Line: []roof.Position{{Plan: orb.Point{20, 0}}, {Plan: orb.Point{20, 10}}}}}
	w := roof.Water{Number: "1", HoursSinceRain: -1, Soundings: []roof.Sounding{{Plan: orb.Point{10, 5}, Depth: 0.03}}}
	w.ID = "P1"
	for _, p := range []orb.Point{{9, 4}, {11, 4}, {12, 5}, {11, 6}, {9, 6}, {8, 5}} {
		w.Edge = append(w.Edge, roof.Position{Plan: p})
	}
	r.Tape.Waters = []roof.Water{w}
	a := &Answer{taped: &taped.Book{Survey: tape.Of(r, standard.Defaults()), Units: record.SI}, units: record.SI}
	p := a.Picture()
	if p.Tier == "C" || !strings.HasPrefix(p.Heading, "Shed (tier ") || len(p.Doubt) != 2 || !strings.HasPrefix(p.Doubt[0], "It cannot tell: ") {
		t.Errorf("%+v", p)
	}
	if len(p.Outlets) != 3 || p.Outlets[2].Source != -1 || p.Outlets[2].Type != "gutter" || len(p.Outlets[2].Line) != 2 {
		t.Errorf("%+v", p.Outlets)
	}
	if p.Outlets[0].Invert == nil || *p.Outlets[0].Invert != 99.5 || p.Outlets[1].Invert != nil || p.Outlets[1].Source != 1 {
		t.Errorf("%+v", p.Outlets)
	}
	if len(p.Ponds) != 1 || p.Ponds[0].Depth != "30 mm" || !strings.Contains(p.Ponds[0].Weight, " kg to ") || len(p.Water) != 1 || len(p.Water[0].Rings) != 1 {
		t.Errorf("%+v %+v", p.Ponds, p.Water)
	}
	var words []string
	for _, e := range p.First {
		words = append(words, e.Word)
		if len(e.Texts)+len(e.Steps) == 0 {
			t.Errorf("%s says nothing", e.Word)
		}
	}
	if got := strings.Join(words, " "); !strings.HasSuffix(got, "SURVEY LIMIT") || !strings.Contains(got, "PONDS") || strings.Count(got, "PONDS") != 1 {
		t.Error(got)
	}
	if err := a.Complete(); err != nil || a.model != nil {
		t.Errorf("%v", err)
	}
}

// A pond that no error rules out has no name as found, and is compared with itself all the same: "other 1" was 20 mm deep, and stays so.
func TestAPondWithoutANameIsCompared(t *testing.T) {
	a := of(record.SI)
	a.sight.Listed = nil
	for by, now := range map[float64]string{0: "20 mm", 0.01: "30 mm"} {
		r, err := a.Try([]Change{{Do: "outlet", Outlet: 0, By: by}})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Compared) != 1 || r.Compared[0].ID != "other 1" || r.Compared[0].Found == nil || r.Compared[0].Found.Depth != "20 mm" || r.Compared[0].Now == nil || r.Compared[0].Now.Depth != now {
			t.Errorf("set by %g m: %+v", by, r.Compared)
		}
		if r.Found.Ponds != 1 || r.Now.Ponds != 1 || r.Ponds[0].ID != "other 1" || r.Ponds[0].Depth != now {
			t.Errorf("set by %g m: %+v, %+v", by, r.Found, r.Ponds)
		}
	}
}

// A pond that a change makes, where none stood, is new: it has no figures as found. The drain set 60 mm up holds more water; blocked, all that the gutter does not take.
func TestFiguresOfATrial(t *testing.T) {
	a := of(record.SI)
	r, err := a.Try([]Change{{Do: "block", Outlet: 0}})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Compared) != 1 || r.Compared[0].ID != "P01" || r.Compared[0].Found.Depth != "20 mm" || r.Compared[0].Now == nil {
		t.Fatalf("%+v", r.Compared)
	}
	// Volume times 1,000 kg/m3 is the weight, depth times 9.81 kN/m3 the load.
	for _, f := range []Figures{*r.Compared[0].Found, r.Found.Figures} {
		if f != (Figures{"20 mm", "8.0 m²", "53 litres", "53 kg"}) {
			t.Errorf("as found: %+v", f)
		}
	}
	if r.Now.Ponds != 1 || r.Now.Figures != *r.Compared[0].Now || r.Now.Depth != r.Ponds[0].Depth || r.Now.Volume != r.Ponds[0].Volume {
		t.Errorf("now %+v, compared %+v, ponds %+v", r.Now, r.Compared[0].Now, r.Ponds)
	}
	up, err := a.Try([]Change{{Do: "outlet", Outlet: 0, By: 0.03}})
	if err != nil || up.Ponds[0].Depth != "50 mm" || up.Ponds[0].Load != a.units.SayPressure(0.05*1000*9.80665) {
		t.Errorf("%+v, %v", up.Ponds, err)
	}
	// Two changes one after the other are their sum.
	both, err := a.Try([]Change{{Do: "outlet", Outlet: 0, By: 0.02}, {Do: "outlet", Outlet: 0, By: 0.01}})
	if err != nil || !reflect.DeepEqual(both.Ponds, up.Ponds) || !reflect.DeepEqual(both.Water, up.Water) {
		t.Errorf("20 and 10 mm up: %+v, want %+v, %v", both.Ponds, up.Ponds, err)
	}
}

// taped is a roof of 20 by 10 m by tape, with these edges and waters.
func tapedRoof(edges []roof.Edge, waters ...roof.Water) *Answer {
	r := &roof.Roof{Name: "Shed", Tape: &roof.Tape{Placed: true, Walls: true, Waters: waters}, Edges: edges}
	r.Outline.Rings = [][]roof.Position{{{Plan: orb.Point{0, 0}}, {Plan: orb.Point{20, 0}}, {Plan: orb.Point{20, 10}}, {Plan: orb.Point{0, 10}}, {Plan: orb.Point{0, 0}}}}
	r.Outlets = []roof.Outlet{{Label: "RD-1", Plan: orb.Point{5, 5}}, {Label: "OD-1", Plan: orb.Point{15, 5}, Duty: roof.Overflow}}
	return &Answer{taped: &taped.Book{Survey: tape.Of(r, standard.Defaults()), Units: record.SI}, units: record.SI}
}

// Of a roof by tape each outlet and edge says whether it is for what is left when the others are blocked; without water none is drawn.
func TestOutletsOfATapedRoof(t *testing.T) {
	side := func(x float64, duty roof.Duty) roof.Edge {
		return roof.Edge{Type: roof.Free, Duty: duty, Label: "E", Line: []roof.Position{{Plan: orb.Point{x, 0}}, {Plan: orb.Point{x, 10}}}}
	}
	p := tapedRoof([]roof.Edge{side(20, roof.Primary), side(0, roof.Overflow)}).Picture()
	var got []string
	for _, o := range p.Outlets {
		over := " "
		if o.Overflow {
			over = " overflow "
		}
		at := o.At
		if len(o.Line) > 0 {
			at = o.Line[0]
		}
		got = append(got, o.Type+over+record.SI.SayLength(at[0]))
	}
	if want := "drain 5.0 m; drain overflow 15.0 m; free 20.0 m; free overflow 0.0 m"; strings.Join(got, "; ") != want {
		t.Errorf("%s, want %s", strings.Join(got, "; "), want)
	}
	if p.Water == nil || len(p.Water) != 0 || p.Ponds == nil || len(p.Ponds) != 0 {
		t.Errorf("water %+v, ponds %+v", p.Water, p.Ponds)
	}
	if text, err := json.Marshal(p); err != nil || strings.Contains(string(text), "null") {
		t.Errorf("a list is null: %s, %v", text, err)
	}
}

// Of a roof by tape on which something is worse than its pond both stand on the screen; its page of text and its warnings are those of a roof by tape.
func TestATapedRoofOnTheScreen(t *testing.T) {
	w := roof.Water{Number: "1", HoursSinceRain: -1}
	w.ID = "P1"
	for _, p := range []orb.Point{{9, 4}, {11, 4}, {12, 5}, {11, 6}, {9, 6}, {8, 5}} {
		w.Edge = append(w.Edge, roof.Position{Plan: p})
	}
	a := tapedRoof(nil, w)
	a.taped.Survey.Findings = []finding.Finding{{Kind: finding.NoOverflow, Severity: finding.Urgent, What: finding.Say("No overflow was found."), Pond: -1, Outlet: -1}}
	first := a.Picture().First
	if len(first) < 2 || first[0].Word != "WORST" || first[1].Word != "PONDS" || len(first[1].Texts) != 1 || !strings.Contains(first[1].Texts[0], "P1") {
		t.Errorf("%+v", first)
	}
	a.taped.Survey.Ponds = nil
	for _, e := range a.Picture().First {
		if e.Word == "PONDS" {
			t.Errorf("%+v without a pond", e)
		}
	}
	a.taped.Survey.Roof.Warnings = []string{"one"}
	if text, err := a.Text(); err != nil || !strings.HasPrefix(text, "Shed") || len(a.Warnings()) != 1 {
		t.Errorf("%.60q, %v, %q", text, err, a.Warnings())
	}
}
