package correction

import (
	"bytes"
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/takeoff"
	"runnel/export/record"
	"runnel/export/sample"
)

// column returns the column of the first answer beside the others, by the names of its rows.
func column(p *Proposal) map[string]string {
	out := map[string]string{}
	for _, row := range p.sideBySide() {
		out[row[0]] = row[1]
	}
	return out
}

// By hand, from the figures of the proposal: 0.75 m3 laid, 1.25 taken out, 3.3 m2 opened, 2 m2 changed, 344 Pa added. What is nought has a dash and not a nought of something.
func TestAnswersSideBySide(t *testing.T) {
	p := proposal(t, record.SI)
	o := &p.Result.Options[0]
	o.PondsLeft, o.Most, o.Opened, o.Decides = 2, 344, 3.3, []string{finding.Roofer, finding.Engineer}
	want := map[string]string{
		"": "answer 1", "verdict": "fits, with conditions", "opened": "3.3 m²", "changed": "2.0 m²", "laid": "0.75 m³", "taken out": "1.25 m³", "added at most": "0.34 kPa", "ponds left": "2",
		"blocked level": "-", "blocked depth": "-", "blocked load": "-", "decides": "roofer, engineer",
	}
	p.Book.Study.RainLoad = nil
	if got := column(p); !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for _, c := range []struct{ laid, out, least, cut, most string }{
		{"0.75", "0", "0.75 m³", "-", "0.34 kPa"}, {"0", "1.25", "-", "1.25 m³", "-"}, {"0.5", "0.5", "0.50 m³", "0.50 m³", "0.34 kPa"}, {"0", "0", "-", "-", "-"},
	} {
		var v, x float64
		if err := errors.Join(json.Unmarshal([]byte(c.laid), &v), json.Unmarshal([]byte(c.out), &x)); err != nil {
			t.Fatal(err)
		}
		p.Counted[0].Volume, p.Counted[0].Cut = v, x
		if got := column(p); got["laid"] != c.least || got["taken out"] != c.cut || (got["added at most"] == "-") != (c.most == "-") {
			t.Errorf("%s laid, %s out: %v", c.laid, c.out, got)
		}
	}
	p.Book.Study.LowPlaces = &inspection.LowPlaces{}
	if got := column(p)["ponds left"]; got != "not known" {
		t.Errorf("without surveyed outlets %q ponds are left", got)
	}
}

// Costs stand in a row of their own where there are prices: with the currency, thousands with commas, a dash where an answer has none.
func TestCostsSideBySide(t *testing.T) {
	p := proposal(t, record.SI)
	if _, ok := column(p)["cost"]; ok {
		t.Error("a row of costs without prices")
	}
	for want, cost := range map[string]Cost{"$12,608": {"$", 12608}, "12,608": {"", 12608}, "$0": {"$", 0}, "-": {}, "€1": {"€", 0.6}} {
		p.Costs = []Cost{cost}
		if got := column(p)["cost"]; got != want {
			t.Errorf("%+v: %q, want %q", cost, got, want)
		}
	}
}

// Answers that are one roof share a column, named after all of them.
func TestOneColumnForOneRoof(t *testing.T) {
	p := proposal(t, record.SI)
	p.Result.Answers = []correction.Answer{{Name: correction.MendNow, Option: 0}, {Name: correction.BringToLimit, Option: 1}, {Name: correction.AtReroofing, Option: 0}}
	p.Counted = []*takeoff.TakeOff{p.TakeOff, p.TakeOff, p.TakeOff}
	rows := p.sideBySide()
	if got := rows[0][1:]; !reflect.DeepEqual(got, []string{"answers 1, 3", "answer 2"}) {
		t.Errorf("columns %q", got)
	}
	for _, row := range rows {
		if len(row) != 3 {
			t.Errorf("row %q", row)
		}
	}
	if got := answersNamed([]int{0, 1, 2}); got != "answers 1, 2, 3" {
		t.Error(got)
	}
}

// What is written for a machine reads back as it went in: names with quotes, commas, brackets, line breaks and letters that run from the right, places in the coordinates of the file, and amounts in their units.
func TestProposalReadsBack(t *testing.T) {
	for _, name := range []string{`Hall "A", <north>`, "two\nlines", "גג ראשי", "a;b'c\\d"} {
		p := proposal(t, record.US)
		p.Book.Study.Roof.Name = name
		o := &p.Result.Options[0]
		o.Limits = []correction.Limit{{Name: name, Where: name, Required: finding.MM("at least", 0.0254), Available: finding.MM("is", 0.0127), Decides: name, Source: name}}
		o.Changes = append(o.Changes, mend.Change{Kind: mend.Clear, What: finding.Say("{0}", finding.Called(name))})
		p.Costs = []Cost{{"$", 12.346}}
		got, page := told(t, p)
		if got["schema"] != schema || got["units"] != "us" || got["roof"].(map[string]any)["name"] != name {
			t.Errorf("%q: %v, %v, %v", name, got["schema"], got["units"], got["roof"])
		}
		answer := got["answers"].([]any)[0].(map[string]any)
		limit := answer["limits"].([]any)[0].(map[string]any)
		for _, key := range []string{"name", "where", "decides", "source"} {
			if limit[key] != name {
				t.Errorf("%q: %s of the limit is %q", name, key, limit[key])
			}
		}
		if limit["required_in"] != 1.0 || limit["available_in"] != 0.5 || answer["cost"] != 12.35 || answer["currency"] != "$" {
			t.Errorf("%q: limit %v, cost %v %v", name, limit, answer["cost"], answer["currency"])
		}
		changes := answer["changes"].([]any)
		if at := changes[0].(map[string]any)["at"].([]any); len(at) != 2 || changes[1].(map[string]any)["at"] != nil || changes[1].(map[string]any)["where"] != "each outlet" {
			t.Errorf("%q: changes %v", name, changes)
		}
		if first := strings.Fields(name)[0]; !strings.Contains(page, first) {
			t.Errorf("%q: not on the page", name)
		}
	}
}

// Who is to be asked first stands before everything else on the page, and as a list for a machine.
func TestWhoIsAskedFirst(t *testing.T) {
	p := proposal(t, record.SI)
	got, page := told(t, p)
	if got["keep_off"] != false || got["engineer_first"] != false || strings.Contains(page, "FIRST") || strings.Contains(page, "ENGINEER") {
		t.Errorf("nobody is to be asked first: %v, %v", got["keep_off"], got["engineer_first"])
	}
	why := correction.Reason{Why: finding.Say("The deck sags."), Where: "at P01", Decides: finding.Engineer}
	p.Result.EngineerFirst = []correction.Reason{why}
	got, page = told(t, p)
	if !strings.Contains(page, "The deck sags. An engineer has to answer first. Clearing and measuring go on.") || got["engineer_first"] != true {
		t.Errorf("%s", page[:300])
	}
	if reason := got["engineer_first_reasons"].([]any)[0]; !reflect.DeepEqual(reason, map[string]any{"why": "The deck sags.", "where": "at P01", "decides": "engineer"}) {
		t.Errorf("%v", reason)
	}
	p.Book.Study.KeepOff.Reasons = []inspection.Reason{{}}
	p.Result.KeepOff = []correction.Reason{why, why}
	got, page = told(t, p)
	off, found := strings.Index(page, "Keep off, and call a structural engineer"), strings.Index(page, "AS FOUND")
	if off < 0 || off > found || strings.Contains(page, "Clearing and measuring go on") || len(got["keep_off_reasons"].([]any)) != 2 || got["keep_off"] != true {
		t.Errorf("%s", page[:300])
	}
}

// An option goes by its kind, what it joins, and how boards fall.
func TestNamesOfOptions(t *testing.T) {
	p := proposal(t, record.SI)
	for want, o := range map[string]correction.Option{
		"fill": {Kind: mend.Fill}, "combined: fill": {Kind: mend.Combined, Parts: []mend.Kind{mend.Fill}},
		"combined: fill + overlay": {Kind: mend.Combined, Parts: []mend.Kind{mend.Fill, mend.Overlay}}, "overlay, 1/4 in per ft": {Kind: mend.Overlay, Gauge: "1/4 in per ft"},
	} {
		p.Result.Options[0] = o
		if got := p.name(0); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

type noDisk struct{}

var errNoDisk = errors.New("no disk")

func (noDisk) Write([]byte) (int, error) { return 0, errNoDisk }

func TestFullDisk(t *testing.T) {
	p := proposal(t, record.SI)
	if err := WriteText(noDisk{}, p); !errors.Is(err, errNoDisk) {
		t.Errorf("the page: %v", err)
	}
	if err := WriteJSON(noDisk{}, p); !errors.Is(err, errNoDisk) {
		t.Errorf("the object: %v", err)
	}
}

// The same proposal gives the same bytes.
func TestSameBytes(t *testing.T) {
	var a, b [2]bytes.Buffer
	for i := range a {
		if err := errors.Join(WriteText(&a[i], proposal(t, record.SI)), WriteJSON(&b[i], proposal(t, record.SI))); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a[0].Bytes(), a[1].Bytes()) || !bytes.Equal(b[0].Bytes(), b[1].Bytes()) {
		t.Error("two runs differ")
	}
}

// A change at the corner of the frame has no place of its own: the file leaves it out.
func TestPlaceOfNoChange(t *testing.T) {
	p := proposal(t, record.SI)
	p.Result.Options[0].Changes[0].At, p.Result.Options[0].Changes[0].Pond = orb.Point{}, ""
	got, _ := told(t, p)
	change := got["answers"].([]any)[0].(map[string]any)["changes"].([]any)[0].(map[string]any)
	if change["at"] != nil || change["where"] != nil {
		t.Errorf("%v", change)
	}
}

// What a check found stands beside the answers: by hand, the sample has one pond, 20 mm deep; a roof without ponds has no deepest.
func TestAsFound(t *testing.T) {
	p := proposal(t, record.SI)
	if got, _ := told(t, p); !reflect.DeepEqual(got["as_found"], map[string]any{"ponds": 0.0}) {
		t.Errorf("without ponds: %v", got["as_found"])
	}
	p.Book = record.NewBook(sample.Study(sample.Local()), "", record.SI)
	if got, page := told(t, p); !reflect.DeepEqual(got["as_found"], map[string]any{"ponds": 1.0, "deepest_mm": 20.0}) || !strings.Contains(page, "AS FOUND 1 pond: P01") {
		t.Errorf("the sample: %v", got["as_found"])
	}
}
