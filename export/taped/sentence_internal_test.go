package taped

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/study/studytest"

	"runnel/analysis/dish"
	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/inspection"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
	"runnel/export/record"
)

// bookOf is a roof of 24 by 12 m with a drain at (6, 6), taped, with what more is added to it.
func bookOf(u record.Units, add func(r *roof.Roof)) *Book {
	r := &roof.Roof{Name: "Shed", Units: quantity.Metres, Tape: &roof.Tape{Placed: true, Walls: true}}
	r.Frame = roof.NewLocal(orb.Point{100, 200}, quantity.Metres)
	if u == record.US {
		r.Frame, r.Units, r.Imperial = roof.NewLocal(orb.Point{100, 200}, quantity.Feet), quantity.Feet, true
	}
	ring := []roof.Position{}
	for _, p := range []orb.Point{{0, 0}, {24, 0}, {24, 12}, {0, 12}, {0, 0}} {
		ring = append(ring, roof.Position{Plan: p})
	}
	r.Outline.Rings = [][]roof.Position{ring}
	r.Outlets = []roof.Outlet{{Feature: roof.Feature{ID: "D1"}, Label: "RD-1", Plan: orb.Point{6, 6}, Type: roof.Drain, Diameter: 0.1}}
	if add != nil {
		add(r)
	}
	return &Book{Survey: tape.Of(r, standard.Defaults()), Units: u}
}

// water is a pond of 4 by 2 m about (x, 6) with depths [m] in its middle and a little off it.
func water(x, hours float64, depths ...float64) roof.Water {
	w := roof.Water{Number: "1", HoursSinceRain: hours}
	w.ID = "P1"
	for i := range 12 {
		turn := 2 * math.Pi * float64(i) / 12
		w.Edge = append(w.Edge, roof.Position{Plan: orb.Point{x + 2*math.Cos(turn), 6 + math.Sin(turn)}})
	}
	for i, d := range depths {
		w.Soundings = append(w.Soundings, roof.Sounding{Plan: orb.Point{x + 0.2*float64(i), 6}, Depth: quantity.Length(d)})
	}
	return w
}

func pond(hours float64, depths ...float64) *Book {
	return bookOf(record.SI, func(r *roof.Roof) { r.Tape.Waters = []roof.Water{water(10, hours, depths...)} })
}

// What is said of a pond hangs on what was read of it: 4 by 2 m are 6.28 m2 by an ellipse, its edge begins 2 m from the drain at (6, 6).
func TestPondInWords(t *testing.T) {
	studytest.Says(t, bookOf(record.SI, nil).Ponds(), "No water was recorded. That is no finding")
	studytest.Says(t, pond(-1).Ponds(), "1 pond. P1, ", "; 2.0 m from RD-1. It covers 6.3 m². No depth was read, so nothing is said of its weight.", "not It holds")
	studytest.Says(t, pond(-1, 0.02).Ponds(), "One depth was read: 20 mm.", "It holds 42 kg to 126 kg of water", "A few depths seldom hit the deepest place.", "Give an engineer the upper figure, 126 kg.", "not after rain", "not depths were read")
	studytest.Says(t, pond(20, 0.02, 0.03).Ponds(), "2 depths were read, the deepest 30 mm.", "It was seen 20 hours after rain: it counts as a pond if it still stands after 48 hours.")
	studytest.Says(t, pond(48, 0.02, 0.02, 0.02, 0.02).Ponds(), "It still stood 48 hours after rain.", "A few depths")
	studytest.Says(t, pond(48, 0.02, 0.02, 0.02, 0.02, 0.02).Ponds(), "5 depths were read", "not A few depths")
	blocked := bookOf(record.SI, func(r *roof.Roof) {
		w := water(10, 50, 0.02)
		w.Outlets = roof.OutletsBlocked
		r.Tape.Waters = []roof.Water{w}
	})
	studytest.Says(t, blocked.Ponds(), "Outlets were blocked when it was seen, so it may be no pond.", "not still stood")
	over := bookOf(record.SI, func(r *roof.Roof) { r.Tape.Waters = []roof.Water{water(6, -1, 0.02)} })
	studytest.Says(t, over.Ponds(), "; it reaches RD-1.")
	alone := bookOf(record.SI, func(r *roof.Roof) { r.Tape.Waters, r.Outlets = []roof.Water{water(10, -1, 0.02)}, nil })
	studytest.Says(t, alone.Ponds(), "not ; ")
	two := bookOf(record.SI, func(r *roof.Roof) {
		other := water(18, -1, 0.01)
		other.Number, other.ID = "2", "P2"
		r.Tape.Waters = []roof.Water{other, water(10, -1, 0.02)}
	})
	studytest.Says(t, two.Ponds(), "2 ponds. The worst: P1, ")
	unseen := bookOf(record.SI, func(r *roof.Roof) {
		r.Tape.Probes = []roof.Probe{{Kind: roof.LowProbe, Of: "1", Position: roof.Position{Plan: orb.Point{10, 6}, Z: 99, HasZ: true}}}
	})
	studytest.Says(t, unseen.Ponds(), "Nobody saw water there; it is a low place that was read.", "not It covers")
}

// What holds the water, by what the heights tell: a verdict, half of one, or why there is none.
func TestHeldInWords(t *testing.T) {
	b := pond(-1, 0.02)
	p := &b.Survey.Ponds[0]
	b.Survey.Tier = tape.B
	sigma := hold.Difference{Sigma: 0.003}
	yes := hold.Difference{Sigma: 0.003, Value: 0.03, Answer: hold.Yes}
	for _, c := range []struct {
		holding hold.Holding
		want    string
	}{
		{hold.Holding{Verdict: hold.OutletHigh, Outlet: yes}, "The outlet is set high, and no rise before it adds to that. "},
		{hold.Holding{Verdict: hold.RiseBefore, Outlet: sigma, Rise: yes}, "A rise in the roof before the outlet, and not the outlet. "},
		{hold.Holding{Verdict: hold.Both, Outlet: yes, Rise: yes}, "Both: the outlet is set high, and the roof rises before it. "},
		{hold.Holding{Verdict: hold.Neither, Outlet: sigma}, "Neither the outlet nor a rise before it: the way falls. See whether the strainer is clogged. "},
		{hold.Holding{Outlet: sigma, Rise: yes}, "A rise in the roof before the outlet, and perhaps the outlet too: "},
		{hold.Holding{Outlet: yes, Rise: sigma}, "The outlet is set high; whether a rise before it adds to that lies within the error"},
		{hold.Holding{Outlet: sigma, Rise: sigma}, "Not resolved: the differences are within the error of the readings. "},
		{hold.Holding{}, "Not known. "},
	} {
		p.Holding = c.holding
		p.Holding.Highest = -1
		if got := b.HeldBy(p); !strings.HasPrefix(got, c.want) || b.Held() != got {
			t.Errorf("%+v: %s, want %s", c.holding, got, c.want)
		}
	}
	p.Holding = hold.Holding{Outlet: sigma, Rise: sigma, Highest: -1}
	b.Survey.Tier = tape.A
	if got := b.HeldBy(p); !strings.HasPrefix(got, "Not known. ") {
		t.Error(got)
	}
	p.Holding.Verdict = hold.Both
	studytest.Says(t, b.Mend(), "Likely: ", "Decides: the ")
	both := b.Mend()
	p.Holding.Verdict = hold.OutletHigh
	if one := b.Mend(); len(one) >= len(both) || !strings.HasPrefix(both, strings.Split(one, " Decides")[0]) {
		t.Errorf("%q beside %q", one, both)
	}
	p.Holding = hold.Holding{Highest: -1}
	if got := b.Mend(); got != "Nothing yet: what holds the water decides what mends it." {
		t.Error(got)
	}
	none := bookOf(record.SI, nil)
	if none.Mend()+none.Held() != "" {
		t.Errorf("%q %q", none.Mend(), none.Held())
	}
}

// How the roof was measured: the tier, how many heights, how good, and whether somebody said so.
func TestMeasuredInWords(t *testing.T) {
	b := pond(-1, 0.02)
	if got := b.Measured(); got != "Tier A: tape, chalk and ruler, no heights." {
		t.Error(got)
	}
	b.Survey.Tier, b.Survey.Heights, b.Survey.Sigma = tape.B, 1, 0.003
	if got := b.Measured(); got != "Tier B: tape, chalk and ruler, and 1 height. A height is good to 3 mm (one standard deviation, taken for a level)." {
		t.Error(got)
	}
	b.Survey.Heights, b.Survey.Stated = 12, true
	b.Survey.Roof.Visit.By = "A. Person"
	if got := b.Measured(); got != "Tier B: tape, chalk and ruler, and 12 heights. A height is good to 3 mm (one standard deviation, as stated). Seen by A. Person." {
		t.Error(got)
	}
	studytest.Says(t, b.CannotSay(), "How steep the roof is", "not hat holds a pond")
	studytest.Says(t, b.NextTier(), "Tier C")
	studytest.Says(t, b.canSay(), "Areas, and of each pond", "; what holds a pond, where the readings show it.")
	b.Survey.Tier = tape.A
	studytest.Says(t, b.CannotSay(), "What holds a pond; how steep")
	studytest.Says(t, b.NextTier(), "Tier B")
	studytest.Says(t, b.canSay(), "not what holds")
}

// What to do next: to keep off first, then the findings, then what to read, by how far the survey has come.
func TestStepsInWords(t *testing.T) {
	b := pond(-1, 0.02)
	b.Survey.Findings = nil
	b.Survey.Next = make([]tape.Spot, 3)
	steps := b.Steps()
	if len(steps) != 2 || !strings.HasPrefix(steps[0], "Read 3 heights with a level, from one set-up:") || !strings.HasPrefix(steps[1], "P1: Read five depths") || !strings.HasSuffix(steps[0], record.Decides(finding.Roofer)) {
		t.Errorf("%q", steps)
	}
	b.Survey.Next = make([]tape.Spot, 1)
	studytest.Says(t, b.Steps()[0], "Read 1 height with a level")
	b.Survey.Tier = tape.B
	b.Survey.Ponds[0].Holding = hold.Holding{Outlet: hold.Difference{Sigma: 0.003}}
	studytest.Says(t, b.Steps()[0], "Read 1 height again:")
	b.Survey.Next[0].Code = "SPOT"
	studytest.Says(t, b.Steps()[0], "Read heights on a grid, 1 spots about 3.0 m apart")
	b.Survey.Next = nil
	b.Survey.Ponds[0].Bowl.Soundings = make([]dish.Sounding, 5)
	if steps := b.Steps(); len(steps) != 1 || steps[0] != record.NoStep {
		t.Errorf("%q", steps)
	}
	b.Survey.Findings = []finding.Finding{
		{Kind: finding.LowPlace, Severity: finding.Repair, Pond: 0, Do: finding.Say("Read it.")}, {Kind: finding.LowPlace, Severity: finding.Note, Pond: 0, Do: finding.Say("Look.")}, {Kind: finding.NoOverflow, Severity: finding.Urgent, Pond: -1, What: finding.Say("None."), Do: finding.Say("Ask."), Decides: "engineer"},
	}
	steps = b.Steps()
	if len(steps) != 2 || !strings.HasPrefix(steps[0], "P1: Look. ") || steps[1] != "None. Ask. Decides: the engineer." {
		t.Errorf("%q", steps)
	}
	b.Survey.KeepOff.Reasons = make([]inspection.Reason, 1)
	if steps := b.Steps(); len(steps) != 3 || !strings.HasPrefix(steps[0], "Keep off") || !strings.HasSuffix(steps[0], record.Decides(finding.Engineer)) {
		t.Errorf("%q", steps)
	}
	for word, f := range map[string]finding.Finding{"WORST": {Severity: finding.Urgent, Pond: -1}, "PONDS": {Severity: finding.Urgent, Pond: 0}} {
		b.Survey.Findings = []finding.Finding{f}
		if l := b.Lead(); l.Word != word {
			t.Errorf("%+v: %s", f, l.Word)
		}
	}
	b.Survey.Findings = []finding.Finding{{Severity: finding.Repair, Pond: -1}}
	if l := b.Lead(); l.Word != "PONDS" {
		t.Error(l.Word)
	}
}

// Distances as a tape gives them: centimetres, or feet and whole inches.
func TestTapedDistances(t *testing.T) {
	for metres, want := range map[float64]string{0: "0.00 m", 3.456: "3.46 m"} {
		if got := bookOf(record.SI, nil).taped(metres); got != want {
			t.Errorf("%v: %s", metres, got)
		}
	}
	us := bookOf(record.US, nil)
	for inches, want := range map[float64]string{0: "0 ft", 12: "1 ft", 11.4: "0 ft 11 in", 11.6: "1 ft", 18: "1 ft 6 in", 144.4: "12 ft"} {
		if got := us.taped(inches * 0.0254); got != want {
			t.Errorf("%v in: %s, want %s", inches, got, want)
		}
	}
}

// The places of spots to read next are those that a point file is read by; of a grid from the west and the south wall, as the table has it, whose rows begin in the north.
func TestGridOfHeights(t *testing.T) {
	b := bookOf(record.SI, nil)
	b.Survey.Next = nil
	for _, p := range []orb.Point{{3, 3}, {6, 3}, {6, 6}, {3, 6}, {12, 6}} {
		b.Survey.Next = append(b.Survey.Next, tape.Spot{Plan: p, Code: "SPOT"})
	}
	heads, rows, ok := b.GridTable()
	if !ok || !reflect.DeepEqual(heads, []string{"from S wall", "3.00 m", "6.00 m", "12.00 m"}) || !reflect.DeepEqual(rows, [][]string{{"6.00 m", "X4 ______", "X3 ______", "X5 ______"}, {"3.00 m", "X1 ______", "X2 ______", "-"}}) {
		t.Errorf("%v %q %q", ok, heads, rows)
	}
	for n, want := range map[int]bool{14: true, 15: false} { // columns that a page takes
		b.Survey.Next = nil
		for i := range n {
			b.Survey.Next = append(b.Survey.Next, tape.Spot{Plan: orb.Point{1 + float64(i), 3}, Code: "SPOT"})
		}
		if _, _, ok := b.GridTable(); ok != want {
			t.Errorf("%d columns: %v", n, ok)
		}
	}
	b.Survey.Next = []tape.Spot{{Plan: orb.Point{3, 5}, Code: "LOW 1"}}
	if _, _, ok := b.GridTable(); ok {
		t.Error("one low place is a grid")
	}
	for want, n := range map[string]tape.Spot{
		"1.50 m from RD-1 toward P1": {From: "RD-1", Toward: "P1", Distance: 1.5}, "P1": {From: "P1"}, "3.00 m from W wall and 5.00 m from S wall": {Plan: orb.Point{3, 5}, Code: "SPOT"}, "2.00 m from E wall and 1.00 m from N wall": {Plan: orb.Point{22, 11}},
	} {
		if got := b.Place(&n); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	var out bytes.Buffer
	if err := WriteNext(&out, b); err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(&out)
	r.Comma = ';'
	all, err := r.ReadAll()
	if err != nil || !reflect.DeepEqual(all, [][]string{{"point", "place", "rod_m", "code", "for"}, {"X1", "3.00 m from W wall and 5.00 m from S wall", "", "LOW 1", ""}}) {
		t.Errorf("%v %q", err, all)
	}
}

// The page lists twenty spots and counts the others; what is not there has no heading.
func TestTablesOfThePage(t *testing.T) {
	page := func(b *Book) string {
		var out bytes.Buffer
		if err := Write(&out, b); err != nil {
			t.Fatal(err)
		}
		return strings.Join(strings.Fields(out.String()), " ")
	}
	b := pond(-1, 0.02)
	b.Survey.Next = nil
	for i := range 23 {
		b.Survey.Next = append(b.Survey.Next, tape.Spot{From: fmt.Sprint("T", i), Code: fmt.Sprint("LOW ", i)})
	}
	studytest.Says(t, page(b), "NEXT SPOTS", "20 LOW 19 T19", "and 3 more; -o FOLDER writes them all", "not LOW 20")
	b.Survey.Next = b.Survey.Next[:1]
	studytest.Says(t, page(b), "NEXT SPOTS", "1 LOW 0 T0", "not more; -o FOLDER")
	b.Survey.Next = nil
	studytest.Says(t, page(b), "not NEXT SPOTS", "not SLOPES", "not HEIGHTS READ", "POND", "The roof covers 288 m².")
	bare := bookOf(record.SI, func(r *roof.Roof) { r.Outlets = nil })
	bare.Survey.Findings = nil
	studytest.Says(t, page(bare), "OUTLETS none recorded", "FINDINGS none", "not PONDS SEEN", "not WARNINGS")
	read := bookOf(record.SI, func(r *roof.Roof) {
		r.Building, r.Surveyed = "House", "2026-05-02"
		r.Outlets[0].Invert, r.Outlets[0].HasInvert = 99.53, true
		r.Tape.Probes = []roof.Probe{{Kind: roof.LowProbe, Of: "1", Position: roof.Position{Plan: orb.Point{10, 6}, Z: 99.5, HasZ: true}}}
		r.Tape.Gaps = []roof.Gap{{Level: 1.2, Gap: 0.024, Toward: [2]float64{0, -1}, Plan: orb.Point{3, 3}}}
		r.Warnings = []string{"A warning."}
		r.Edges = []roof.Edge{{Type: roof.Gutter, Label: "E-1", Line: []roof.Position{{Plan: orb.Point{24, 0}}, {Plan: orb.Point{24, 12}}}}}
	})
	studytest.Says(t, page(read), "House, Shed, surveyed 2026-05-02 (tier B)", "HEIGHTS READ", "inlet of RD-1", " 30 mm", " 0 mm", "south 2.00 %", "99.530 m", "WARNINGS - A warning.", "E-1 gutter primary", "P1 not seen")
	w := water(10, -1, 0.02)
	w.Oval = true
	w.Soundings = append(w.Soundings, roof.Sounding{Plan: orb.Point{1, 1}, Depth: 0.05})
	odd := bookOf(record.SI, func(r *roof.Roof) { r.Outline.EdgeAssumed, r.Tape.Waters = true, []roof.Water{w} })
	odd.Survey.Ponds[0].Reordered, odd.Survey.Ponds[0].SpreadOver, odd.Survey.Ponds[0].Spread = true, true, 0.02
	all := strings.Join(odd.assumptions(), "\n")
	studytest.Says(t, all, "P1 is drawn as an oval", "1 of the depths of P1 lies outside its chalked edge and was left out.", "are not in order round the pond", "differ by 20 mm", "so they are assumed to be walls")
	if n := len(bookOf(record.SI, nil).assumptions()); n != 1 {
		t.Errorf("%d assumptions of a roof without ponds", n)
	}
}

// The map in feet: what was measured in the unit of the file, water twice, as it was worked out and as it was seen. 0.1 m are 0.328084 ft.
func TestMapInFeet(t *testing.T) {
	b := bookOf(record.US, func(r *roof.Roof) {
		w := water(10, 50, 0.03048)
		w.Outlets, w.Note = roof.OutletsClear, "soft"
		r.Tape.Waters = []roof.Water{w}
		r.Outlets[0].Invert, r.Outlets[0].HasInvert = 30.48, true
		r.Curbs = []roof.Curb{{Feature: roof.Feature{ID: "C1"}, Label: "RTU", Height: 0.3048, Ring: []roof.Position{{Plan: orb.Point{15, 3}}, {Plan: orb.Point{16, 3}}, {Plan: orb.Point{16, 4}}, {Plan: orb.Point{15, 3}}}}}
		r.Edges = []roof.Edge{{Feature: roof.Feature{ID: "E1"}, Type: roof.Wall, Height: 0.6096, Line: []roof.Position{{Plan: orb.Point{24, 0}}, {Plan: orb.Point{24, 12}}}}}
		r.Spots = []roof.Spot{{Feature: roof.Feature{ID: "7"}, Position: roof.Position{Plan: orb.Point{3.048, 3.048}, Z: 30.48, HasZ: true}}}
		r.Tape.Probes = []roof.Probe{{Kind: roof.LowProbe, Of: "1", Position: roof.Position{Plan: orb.Point{10, 6}, Z: 29, HasZ: true}}, {Kind: roof.InletProbe, Of: "RD-1", Position: roof.Position{Z: 29, HasZ: true}}}
	})
	var out bytes.Buffer
	if err := WriteMap(&out, b); err != nil {
		t.Fatal(err)
	}
	var d struct {
		Units    string
		Features []struct {
			ID         string
			Properties map[string]any
			Geometry   struct{ Coordinates json.RawMessage }
		}
	}
	if err := json.Unmarshal(out.Bytes(), &d); err != nil || d.Units != "ft" {
		t.Fatal(err, d.Units)
	}
	got := map[string]map[string]any{}
	places := map[string]string{}
	for _, f := range d.Features {
		got[f.ID], places[f.ID] = f.Properties, string(f.Geometry.Coordinates)
	}
	for id, want := range map[string]map[string]any{
		"outline":  {"role": "outline", "name": "Shed", "tier": "B"},
		"P1":       {"layer": "pond", "role": nil, "seen": true, "depths_read": 1.0, "hours_since_rain": 50.0, "outlet": "RD-1"},
		"stain-P1": {"role": "stain", "depth": 0.1, "hours_since_rain": 50.0, "outlets_clear": true, "note": "soft"},
		"P1-D1":    {"layer": "sounding", "pond": "P1", "depth_in": 1.2},
		"C1":       {"role": "curb", "height": 1.0, "label": "RTU"},
		"E1":       {"role": "edge", "height": 2.0, "type": "wall"},
		"D1":       {"role": "outlet", "diameter": 0.328084, "invert": 100.0, "bowl": nil},
		"7":        {"role": "spot", "elevation": 100.0},
		"R1":       {"role": "spot", "layer": "spot"},
	} {
		for name, v := range want {
			if n, ok := v.(float64); ok {
				if g, ok := got[id][name].(float64); !ok || !(math.Abs(g-n) <= 1e-5) {
					t.Errorf("%s: %s is %v, want %v", id, name, got[id][name], v)
				}
			} else if got[id][name] != v {
				t.Errorf("%s: %s is %v, want %v", id, name, got[id][name], v)
			}
		}
	}
	if got["R2"] != nil {
		t.Error("the height of an inlet is a spot beside its outlet")
	}
	if places["7"] != "[110,210]" { // 100 and 200 ft, and 10 ft more
		t.Errorf("spot 7 at %s", places["7"])
	}
}
