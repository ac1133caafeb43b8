package correction

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
	"runnel/analysis/takeoff"
	"runnel/export/record"
)

// proposal is one answer and one option that was tried, with figures chosen by hand.
func proposal(t *testing.T, u record.Units) *Proposal {
	t.Helper()
	r := shape.New("square", shape.At(0, 0, 1), shape.At(10, 0, 1), shape.At(10, 10, 1), shape.At(0, 10, 1))
	shape.Grid(r, 0, 0, 10, 10, 5, 5, func(_, _ float64) float64 { return 1 })
	o := shape.Drain(r, 2, 2, 0.3)
	o.Label, o.Invert, o.HasInvert = "RD-1", 1, true
	o = shape.Drain(r, 8, 8, 0.3)
	o.Label, o.Invert, o.HasInvert = "RD-2", 1, true
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	change := mend.Change{Kind: mend.LowerOutlet, Pond: "P01", What: finding.Say("Set RD-1 down by {0}", finding.MM("lower", 0.027)), Decides: finding.Roofer, Opened: 3.25, At: orb.Point{2, 2}}
	res := &correction.Result{
		Answers: []correction.Answer{{Name: correction.MendNow, Option: 0, Meets: true, Questions: []mend.Question{{
			Ask: finding.Say("How thick is the insulation beside RD-1?"), Decides: finding.Roofer, If: finding.Say("76 mm or more"), Then: finding.Say("Set RD-1 down"),
		}}}},
		Options: []correction.Option{
			{Kind: mend.LowerOutlet, Answer: correction.MendNow, Possible: true, Meets: true, Fill: 0.25, Cut: 0.5, Area: 2, Opened: 3.25, Average: 0.125, Greatest: 0.2, Deepest: 0.03, Changes: []mend.Change{change}},
			{Kind: mend.Fill, Possible: true, Fill: 1.5, Cut: 0, Area: 9, Average: 0.1, Greatest: 0.3},
		},
	}
	counted := &takeoff.TakeOff{Volume: 0.75, Cut: 1.25, Area: 2, Average: 0.375, Greatest: 0.4, Deepest: 0.06, Mass: 24}
	return &Proposal{Book: record.NewBook(s, "", u), Result: res, TakeOff: counted, Counted: []*takeoff.TakeOff{counted}, Chosen: 0}
}

// told returns the JSON and the page.
func told(t *testing.T, p *Proposal) (map[string]any, string) {
	t.Helper()
	var j, text bytes.Buffer
	if err := WriteJSON(&j, p); err != nil {
		t.Fatal(err)
	}
	if err := WriteText(&text, p); err != nil {
		t.Fatal(err)
	}
	var out map[string]any
	if err := json.Unmarshal(j.Bytes(), &out); err != nil {
		t.Fatal(err)
	}
	return out, strings.Join(strings.Fields(text.String()), " ")
}

// TestAmountsAreThoseOfTheTakeOff: what is laid and taken out is the take-off's in the answer, in its option, in the quantities and on the page; what was only tried keeps the
// amounts of its surface. By hand: 0.75 m3 are 26.486 cu ft (0.3048 m to the foot), 0.4 m are 15.748 in.
func TestAmountsAreThoseOfTheTakeOff(t *testing.T) {
	for _, c := range []struct {
		u                              record.Units
		fill, removed, greatest, tried string
		laid, out, height, added       float64
		sayLaid, sayOut                string
	}{
		{record.SI, "fill_m3", "removed_m3", "greatest_mm", "cut_m3", 0.75, 1.25, 400, 1.5, "Lays 0.75 m³", "takes out 1.25 m³"},
		{record.US, "fill_ft3", "removed_ft3", "greatest_in", "cut_ft3", 26.486, 44.143, 15.748, 52.972, "", ""},
	} {
		p := proposal(t, c.u)
		p.TakeOff.Priced, p.TakeOff.Money, p.TakeOff.Cost = true, "USD", 1234.567 // money has cents
		j, text := told(t, p)
		if got := j["take_off"].(map[string]any)["cost"]; got != 1234.57 {
			t.Errorf("%v: costs %v, want 1234.57", c.u, got)
		}
		answer := j["answers"].([]any)[0].(map[string]any)
		options := j["options"].([]any)
		mine, tried, counted := options[0].(map[string]any), options[1].(map[string]any), j["take_off"].(map[string]any)
		for _, x := range []struct {
			what      string
			got       any
			want      float64
			tolerance float64
		}{
			{"laid of the answer", answer[c.fill], c.laid, 6e-4},
			{"taken out of the answer", answer[c.removed], c.out, 6e-4},
			{"laid of its option", mine[c.fill], c.laid, 6e-4},
			{"taken out of its option", mine[c.tried], c.out, 6e-4},
			{"thickest", mine[c.greatest], c.height, 6e-4},
			{"laid of what was tried", tried[c.fill], c.added, 6e-4},
		} {
			got, ok := x.got.(float64)
			if !ok || got < x.want-x.tolerance || got > x.want+x.tolerance {
				t.Errorf("%v: %s %v, want %v", c.u, x.what, x.got, x.want)
			}
		}
		if counted[strings.Replace(c.fill, "fill", "in_place", 1)] != answer[c.fill] || counted[strings.Replace(c.removed, "removed", "taken_down", 1)] != answer[c.removed] {
			t.Errorf("the take-off %v differs from the answer %v", counted, answer)
		}
		if c.sayLaid != "" && (!strings.Contains(strings.ToLower(text), strings.ToLower(c.sayLaid)) || !strings.Contains(text, c.sayOut)) {
			t.Errorf("the page does not say %q and %q: %s", c.sayLaid, c.sayOut, text)
		}
	}
}

// TestNoughtIsLeftOut: a cut alone has no thickness and no weight in its quantities.
func TestNoughtIsLeftOut(t *testing.T) {
	p := proposal(t, record.SI)
	p.TakeOff.Volume, p.TakeOff.Average, p.TakeOff.Greatest, p.TakeOff.Mass = 0, 0, 0, 0
	j, text := told(t, p)
	counted := j["take_off"].(map[string]any)
	for _, name := range []string{"in_place_m3", "average_mm", "greatest_mm", "weight_kg"} {
		if v, there := counted[name]; there {
			t.Errorf("%s: %v", name, v)
		}
	}
	if counted["taken_down_m3"] != 1.25 || strings.Contains(text, "lays") {
		t.Errorf("%v, %s", counted, text)
	}
}

// TestConditions: an answer with an open question fits with conditions, and the page gives the branch; without one it fits; one that does not meet says so.
func TestConditions(t *testing.T) {
	p := proposal(t, record.SI)
	_, text := told(t, p)
	for _, want := range []string{"fits what is known, with conditions", "How thick is the insulation beside RD-1? 76 mm or more: set RD-1 down. Decides: the roofer.", "P01: Set RD-1 down by 27 mm. Opens 3.2 m²."} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q: %s", want, text)
		}
	}
	p.Result.Answers[0].Questions = nil
	if got := p.verdict(0); got != "fits what is known" {
		t.Errorf("verdict %q", got)
	}
	p.Result.Answers[0].Meets = false
	if got := p.verdict(0); got != "does not meet" {
		t.Errorf("verdict %q", got)
	}
}

// TestPlace: a change is named by its pond, else by what a tape reaches: by hand, (4, 5.9) on a square of 10 m lies 4.0 m from the west and 4.1 m from the north wall; a change of the whole roof has no place.
func TestPlace(t *testing.T) {
	p := proposal(t, record.SI)
	for _, c := range []struct {
		change mend.Change
		want   string
	}{
		{mend.Change{Kind: mend.Clear, Pond: "P01"}, "each outlet"},
		{mend.Change{Kind: mend.Fill, Pond: "P01", At: orb.Point{8, 8}}, "at P01"},
		{mend.Change{Kind: mend.Fill, At: orb.Point{4, 5.9}}, "4.0 m from the west wall, 4.1 m from the north wall"},
		{mend.Change{Kind: mend.Retaper}, ""},
	} {
		if got := Place(p.Book, &c.change); !strings.HasPrefix(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%+v: %q, want %q", c.change, got, c.want)
		}
	}
}

// TestEveryKindHasWords: what people read names no kind as programs do, and no two kinds read alike.
func TestEveryKindHasWords(t *testing.T) {
	seen := map[string]mend.Kind{}
	for _, k := range append(mend.Kinds(), mend.AsFound, mend.Combined) {
		words := k.Phrase()
		if other, twice := seen[words]; twice || words == string(k) || !strings.Contains(words, " ") {
			t.Errorf("%s reads %q, as %q", k, words, other)
		}
		seen[words] = k
	}
}

// TestSaidByItsChanges: an option of several changes says each once, in their order, clearing left out; a taper says how it falls.
func TestSaidByItsChanges(t *testing.T) {
	for _, c := range []struct {
		option correction.Option
		want   string
	}{
		{correction.Option{Kind: mend.Combined, Parts: []mend.Kind{mend.LowerOutlet, mend.LowerRise}, Changes: []mend.Change{
			{Kind: mend.Clear}, {Kind: mend.LowerRise}, {Kind: mend.LowerRise}, {Kind: mend.LowerOutlet},
		}}, "take the rise off, set the outlet down"},
		{correction.Option{Kind: mend.Overlay, Gauge: "four-way", Changes: []mend.Change{{Kind: mend.LowerOutlet}}}, "lay tapered boards over the whole roof, four-way"},
		{correction.Option{Kind: mend.Overlay, Gauge: "one-way", Changes: []mend.Change{{Kind: mend.AddOutlet, Brief: "overflow drains for the scupper"}, {Kind: mend.Overlay}}}, "lay tapered boards over the whole roof, one-way; overflow drains for the scupper"},
		{correction.Option{Kind: mend.Clear, Changes: []mend.Change{{Kind: mend.Clear}}}, "clear outlets and flow-test them"},
		{correction.Option{Kind: mend.Fill}, "lay a small taper"},
	} {
		if got := Said(&c.option); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestAnswersThatAreOneRoof: they stand in one column, under the numbers of all of them.
func TestAnswersThatAreOneRoof(t *testing.T) {
	p := proposal(t, record.SI)
	p.Result.Answers = append(p.Result.Answers, p.Result.Answers[0], correction.Answer{Name: correction.AtReroofing, Option: 1})
	p.Counted = append(p.Counted, p.Counted[0], nil)
	rows := p.sideBySide()
	if got := strings.Join(rows[0], "|"); got != "|answers 1, 2|answer 3" {
		t.Errorf("heads %q", got)
	}
	for _, row := range rows {
		if row[0] == "laid" && (row[1] != "0.75 m³" || row[2] != "1.50 m³") || row[0] == "changed" && (row[1] != "2.0 m²" || row[2] != "9.0 m²") || row[0] == "verdict" && row[2] != "does not meet" {
			t.Errorf("%q", row)
		}
	}
}
