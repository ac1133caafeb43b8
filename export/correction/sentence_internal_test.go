package correction

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/study/studytest"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/rainload"
	"runnel/analysis/study"
	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
	"runnel/export/record"
)

// An answer in a sentence or two: what is wrong with one that does not meet, each thing counted, and what it takes.
func TestShortAnswers(t *testing.T) {
	p := proposal(t, record.SI)
	a, o := &p.Result.Answers[0], &p.Result.Options[0]
	listed := p.Book.Study.Listed
	p.Book.Study.Listed = make([]inspection.Listed, 1)
	studytest.Says(t, p.short(0), "Mend the ponds now: fits what is known, with conditions. Opens 3.2 m²; lays 0.75 m³, 400 mm at most; takes out 1.25 m³, 60 mm at the deepest.", "not Why:")
	a.Meets = false
	o.PondsLeft, o.Worse, o.Limits, o.FlatLeft = 2, make([]correction.Limit, 1), make([]correction.Limit, 3), 1
	studytest.Says(t, p.short(0), "does not meet. Why: 2 ponds left; 1 thing worse than before; 3 limits broken. ", "not too flat")
	a.Name = correction.AtReroofing
	studytest.Says(t, p.short(0), "What to do at re-roofing: ", "3 limits broken; 1 plane or valley too flat. ")
	o.FlatLeft = 4
	studytest.Says(t, p.short(0), "4 planes or valleys too flat. ")
	a.Name = correction.MendNow
	o.PondsLeft, o.Worse, o.Limits = 0, nil, nil
	studytest.Says(t, p.short(0), "Why: 4 planes or valleys too flat. ")
	o.FlatLeft = 0
	studytest.Says(t, p.short(0), "not Why:")
	o.Study = &study.Study{Findings: []finding.Finding{{Severity: finding.Urgent}}}
	studytest.Says(t, p.short(0), "Why: something urgent is left. ")
	p.Result.EngineerFirst = make([]correction.Reason, 1)
	studytest.Says(t, p.short(0), "Why: somebody has to be asked first. ", "not urgent")
	o.Study.Findings = []finding.Finding{{Severity: finding.Repair, Kind: finding.OutletSmall}}
	p.Result.EngineerFirst, p.Result.KeepOff = nil, make([]correction.Reason, 1)
	studytest.Says(t, p.short(0), "Why: somebody has to be asked first; more rain comes to an outlet than it takes. ")
	p.Book.Study.LowPlaces = &inspection.LowPlaces{}
	studytest.Says(t, p.short(0), "Why: the outlets are not surveyed; ")
	p.Result.Answers = append(p.Result.Answers, correction.Answer{Name: correction.BringToLimit})
	studytest.Says(t, p.short(1), "Bring the failing sections to the limit: as answer 1.")
	p.Book.Study.Listed = listed
	studytest.Says(t, p.short(0), map[bool]string{true: "What to do now: ", false: "Mend the ponds now: "}[len(listed) == 0])
	o.Opened, p.Counted[0] = 0, &takeoff.TakeOff{}
	studytest.Says(t, p.short(0), "Changes nothing of the surface.")
	o.Design = &taper.Design{Leveller: taper.Leveller{Poured: 0.02}}
	studytest.Says(t, p.short(0), "Levels low places first with 0.02 m³ of leveller.")
}

// What a crew reads of an answer from the top.
func TestToldFromTheTop(t *testing.T) {
	p := proposal(t, record.SI)
	a, o := &p.Result.Answers[0], &p.Result.Options[0]
	a.Asked, a.Practice = []finding.Text{finding.Say("Slope new work.")}, []finding.Text{finding.Say("Look twice a year.")}
	a.Left = []correction.Leftover{{Pond: "P02", What: finding.Say("A pond stays."), Do: finding.Say("Look again."), Decides: "owner"}, {Pond: "P03", What: finding.Say("A pond stays"), Do: finding.Say("Look again."), Decides: "owner"}, {What: finding.Say("Flat."), Decides: "engineer"}}
	o.ToMeasure = 0.6
	o.Worse = []correction.Limit{{Name: "load", Where: "P01", Required: finding.Quantity{Name: "at most", Value: 1000, Dim: finding.Pressure}, Available: finding.Quantity{Name: "is", Value: 1200, Dim: finding.Pressure}, Decides: "engineer", Source: "A code."}}
	o.Unknown = []correction.Limit{{Name: "flashing height", Source: "Another"}}
	_, page := told(t, p)
	last := 0
	for _, want := range []string{
		"What the code asks: - Slope new work. Good practice: - Look twice a year.", "Find out first: How thick is the insulation", "P01: Set RD-1 down by 27 mm. Opens 3.2 m². Decides: the roofer.", "Planes cut to measure would take 0.60 m³ instead",
		"Worse than before: load at P01: at most 1.00 kPa, is 1.20 kPa. Decides: the engineer.", "Not known: flashing height.", "Left: P02, P03: A pond stays. Look again. Decides: the owner.", "Left: Flat. Decides: the engineer.",
		"WHERE THE LIMITS STAND - load: A code. - flashing height: Another.",
	} {
		at := strings.Index(page[last:], want)
		if at < 0 {
			t.Errorf("%q does not stand after character %d in\n%s", want, last, page)
			continue
		}
		last += at
	}
	// A limit that is kept has its source named where the engineer approves it, and only there; what is opened is said of half a square metre too, and not of nothing.
	o.Checked = []correction.Limit{{Name: "approved load", Decides: "engineer", Source: "A book."}, {Name: "kept height", Decides: "roofer", Source: "A list."}}
	o.Changes = append(o.Changes, o.Changes[0], o.Changes[0])
	o.Changes[1].Pond, o.Changes[1].Opened, o.Changes[2].Pond, o.Changes[2].Opened = "P04", 0.5, "P05", 0
	_, page = told(t, p)
	studytest.Says(t, page, "- approved load: A book.", "not A list.", "P04: Set RD-1 down by 27 mm. Opens 0.5 m².", "P05: Set RD-1 down by 27 mm. Decides")
	o.ToMeasure, o.Changes, o.Checked = 0, nil, nil
	_, page = told(t, p)
	studytest.Says(t, page, NothingDone(p.Book), "not cut to measure would")
	p.Result.Answers = append(p.Result.Answers, correction.Answer{Name: correction.AtReroofing, Asked: a.Asked})
	_, page = told(t, p)
	studytest.Says(t, page, "The same roof as answer 1. What the code asks:")
}

// Why an answer changes nothing: outlets that nobody surveyed, a roof without a fault, or one that nothing mends.
func TestWhyNothingIsDone(t *testing.T) {
	p := proposal(t, record.SI)
	s := p.Book.Study
	s.Listed, s.Findings, s.LowPlaces = nil, nil, nil
	const sound = "No pond is listed and nothing calls for repair: nothing is done."
	if got := NothingDone(p.Book); got != sound {
		t.Error(got)
	}
	s.Findings = []finding.Finding{{Severity: finding.Note}}
	if got := NothingDone(p.Book); got != sound {
		t.Error(got)
	}
	s.Findings[0].Severity = finding.Repair
	if got := NothingDone(p.Book); got != "Nothing here mends what was found." {
		t.Error(got)
	}
	s.Findings, s.Listed = nil, make([]inspection.Listed, 1)
	if got := NothingDone(p.Book); got != "Nothing here mends what was found." {
		t.Error(got)
	}
	s.LowPlaces = &inspection.LowPlaces{}
	if got := NothingDone(p.Book); got != "Nothing is designed before the outlets are surveyed." {
		t.Error(got)
	}
}

// The roof that is drawn goes by its answer; one that is none by what it does.
func TestDrawnByItsAnswer(t *testing.T) {
	p := proposal(t, record.SI)
	p.Result.Answers = append(p.Result.Answers, correction.Answer{Name: correction.AtReroofing, Option: 1})
	p.Counted = append(p.Counted, nil)
	p.Chosen = 1
	if got := p.drawn(); got != "what to do at re-roofing" {
		t.Error(got)
	}
	p.Result.Answers = p.Result.Answers[:1]
	if got := p.drawn(); got != "lay a small taper" {
		t.Error(got)
	}
}

// Two limits that read alike and are not are told apart by their difference; what has no numbers has a name and a place.
func TestLimitsInWords(t *testing.T) {
	p := proposal(t, record.SI)
	mm := func(name string, v float64) finding.Quantity {
		return finding.Quantity{Name: name, Value: v / 1000, Dim: finding.Depth}
	}
	for want, l := range map[string]correction.Limit{
		"flashing height at RTU: at least 200 mm, is 150 mm":                {Name: "flashing height", Where: "RTU", Required: mm("at least", 200), Available: mm("is", 150)},
		"flashing height: at least 200 mm, is 200 mm, less than 1 mm apart": {Name: "flashing height", Required: mm("at least", 200), Available: mm("is", 199.7)},
		"flashing height: at least 200 mm, is 200 mm":                       {Name: "flashing height", Required: mm("at least", 200), Available: mm("is", 200)},
		"warranty":               {Name: "warranty"},
		"load: at most 1.00 kPa": {Name: "load", Required: finding.Quantity{Name: "at most", Value: 1000, Dim: finding.Pressure}},
	} {
		if got := p.LimitSaid(&l); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Thermal resistance before and after, where the surface changes and both are known. By hand: 4 m2 K/W are 22.7 ft2 h degF/Btu (0.17611 each).
func TestResistanceInWords(t *testing.T) {
	p := proposal(t, record.US)
	o := &p.Result.Options[0]
	th := &p.Counted[0].Thermal
	known := func(least, average float64) takeoff.Resistance {
		return takeoff.Resistance{Known: true, Least: least, Average: average}
	}
	th.Before, th.After = known(2, 4), known(3, 5)
	if got := p.resistance(o, 0); got != "" {
		t.Errorf("the surface stays: %q", got)
	}
	o.Design = &taper.Design{}
	if got, want := p.resistance(o, 0), "Thermal resistance before and after, dry, without air films: R-11.4 and R-17.0 at the thinnest, R-22.7 and R-28.4 averaged over the roof."; got != want {
		t.Errorf("%q", got)
	}
	th.Reduced, th.Lost = true, 1
	studytest.Says(t, p.resistance(o, 0), "; the place that loses most loses R-5.7.")
	th.After = takeoff.Resistance{Why: "no core"}
	if got := p.resistance(o, 0); got != "Thermal resistance after: not known, no core." {
		t.Error(got)
	}
	th.Before = takeoff.Resistance{Why: "no core"}
	if got := p.resistance(o, 0); got != "Thermal resistance before and after: not known, no core." {
		t.Error(got)
	}
	if got := p.resistance(o, 1); got != "" {
		t.Errorf("one that was only tried: %q", got)
	}
	p.Result.Bound = correction.Bound{Fill: 2, Slope: 0.25 / 12}
	studytest.Says(t, p.bound(), "A full taper of 1/4 in per ft (2.08 %) over the roof as it is takes at least 848 board ft.") // 2 / 0.00236
	p.Result.Bound.Fill = 0
	if p.bound() != "" {
		t.Error(p.bound())
	}
}

// Water with every primary outlet blocked: of a roof without a way out it rises to the walls, until an outlet is made.
func TestBlockedWithoutAWayOut(t *testing.T) {
	p := proposal(t, record.SI)
	o := &p.Result.Options[0]
	blocked := func() string {
		a, b, c := p.blocked(o)
		return a + "|" + b + "|" + c
	}
	p.Book.Study.RainLoad = nil
	if got := blocked(); got != "-|-|-" {
		t.Error(got)
	}
	p.Book.Study.RainLoad = &rainload.Load{Enclosed: true}
	o.NewOutlets, o.Study = 1, &study.Study{RainLoad: &rainload.Load{Deepest: 1, Level: []float64{0, 1.25}, Depth: 0.05, Load: 490}}
	if got := blocked(); got != "to the top of the walls now, 1.250 m|50 mm|0.49 kPa" {
		t.Error(got)
	}
	for name, spoil := range map[string]func(){"still enclosed": func() { o.Study.RainLoad.Enclosed = true }, "dry": func() { o.Study.RainLoad.Enclosed, o.Study.RainLoad.Deepest = false, -1 }, "no new outlet": func() { o.Study.RainLoad.Deepest, o.NewOutlets = 1, 0 }} {
		spoil()
		if got := blocked(); got != "to the top of the walls|-|-" {
			t.Errorf("%s: %s", name, got)
		}
	}
	p.Book.Study.RainLoad.Enclosed = false
	if got := blocked(); got != "-|-|-" {
		t.Error(got)
	}
	// Columns of the answers: what is not laid or taken out is a dash, and so is a cost that nobody knows.
	p.Counted[0].Volume, p.Counted[0].Cut = 0, 0
	p.Costs = []Cost{{Money: "$", Cost: 1234.4}}
	row := map[string]string{}
	for _, r := range p.sideBySide() {
		row[r[0]] = r[1]
	}
	if row["laid"] != "-" || row["added at most"] != "-" || row["taken out"] != "-" || row["cost"] != "$1,234" || row["opened"] != "3.2 m²" || row["ponds left"] != "0" {
		t.Errorf("%v", row)
	}
	p.Costs[0] = Cost{}
	p.Book.Study.LowPlaces = &inspection.LowPlaces{}
	for _, r := range p.sideBySide() {
		row[r[0]] = r[1]
	}
	if row["cost"] != "-" || row["ponds left"] != "not known" {
		t.Errorf("%v", row)
	}
}

// Quantities on the page and in the file, each in its measure, with the sum of what has a price.
func TestQuantitiesOfTheAnswer(t *testing.T) {
	p := proposal(t, record.SI)
	p.TakeOff.Items = []takeoff.Item{
		{What: finding.Say("Boards"), Measure: takeoff.Pieces, Value: 1200}, {What: finding.Say("Membrane"), Measure: takeoff.Area, Value: 12.34, Priced: true, Cost: 500}, {What: finding.Say("Fill"), Measure: takeoff.Solid, Value: 0.5}, {What: finding.Say("Cut line"), Measure: takeoff.Length, Value: 4.26},
	}
	p.TakeOff.Priced, p.TakeOff.Money, p.TakeOff.Cost = true, "$", 500
	p.TakeOff.Approvals = []takeoff.Approval{{Who: "the engineer", Why: finding.Say("It adds load.")}}
	p.TakeOff.Exclusions = []finding.Text{finding.Say("Scaffold.")}
	p.TakeOff.Boards = &board.Layout{Schedule: []board.Row{{Kind: board.Kind{Thin: 0.02, Thick: 0.04}, Whole: 3, Cut: 2, Boards: 5}}}
	p.TakeOff.Leveller = taper.Leveller{Volume: 0.3, Poured: 0.1, Area: 4, Deepest: 0.012}
	file, page := told(t, p)
	studytest.Says(t, page, "Boards 1,200 -", "Membrane 12.3 m² $500", "Fill 0.50 m³ -", "Cut line 4.3 m -", "Sum of what has a price: $500. The prices are yours.", "To approve: the engineer. It adds load.", "Not included: Scaffold.")
	counted := file["take_off"].(map[string]any)
	for name, want := range map[string]any{"cost": 500.0, "currency": "$", "levelled_m2": 4.0, "levelled_deepest_mm": 12.0, "levelled_flat_boards_m3": 0.2, "leveller_m3": 0.1} {
		if got, ok := counted[name].(float64); ok {
			if !(math.Abs(got-want.(float64)) <= 1e-9) {
				t.Errorf("%s is %v, want %v", name, got, want)
			}
		} else if counted[name] != want {
			t.Errorf("%s is %v, want %v", name, counted[name], want)
		}
	}
	b := counted["boards"].([]any)[0].(map[string]any)
	if b["thin_mm"] != 20.0 || b["thick_mm"] != 40.0 || b["whole"] != 3.0 || b["cut"] != 2.0 || b["to_order"] != 5.0 || counted["approvals"].([]any)[0] != "the engineer" {
		t.Errorf("%v", counted)
	}
	p.TakeOff.Priced = false
	if _, page := told(t, p); strings.Contains(page, "Sum of what") {
		t.Error("a sum without prices")
	}
	// Each change with its place in the coordinates of the file, each question with its branch.
	c := file["answers"].([]any)[0].(map[string]any)["changes"].([]any)[0].(map[string]any)
	at := p.Book.Study.Roof.Frame.ToFile(orb.Point{2, 2})
	if got := c["at"].([]any); !(math.Abs(got[0].(float64)-at[0]) <= 1e-7) || !(math.Abs(got[1].(float64)-at[1]) <= 1e-7) || c["where"] != "at P01" || c["opened_m2"] != 3.25 {
		t.Errorf("%v", c)
	}
	q := file["answers"].([]any)[0].(map[string]any)["open_questions"].([]any)[0].(map[string]any)
	if q["if"] != "76 mm or more" || q["then"] != "Set RD-1 down" || q["decides"] != "roofer" {
		t.Errorf("%v", q)
	}
}
