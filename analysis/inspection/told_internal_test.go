package inspection

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/analysis/blunder"
	"runnel/analysis/cause"
	"runnel/analysis/evidence"
	"runnel/analysis/finding"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
)

// spoken fills a text: names as they stand, numbers as Go writes them.
func spoken(t finding.Text) string {
	return t.Fill(func(q finding.Quantity) string {
		if q.Dim == finding.Name {
			return q.Word
		}
		return fmt.Sprintf("%.3g", q.Value)
	})
}

// watered has a listed pond of each depth, every one of them shown and best told by the leading cause.
func watered(leading finding.Kind, depths ...float64) *Results {
	r := &Results{Roof: &roof.Roof{}, Ponds: &ponding.Ponds{}, Evidence: &evidence.Result{}}
	for i, d := range depths {
		r.Ponds.Ponds = append(r.Ponds.Ponds, ponding.Pond{Depth: d})
		r.Evidence.Ponds = append(r.Evidence.Ponds, evidence.Verdict{Shown: true})
		r.Listed = append(r.Listed, Listed{Pond: int32(i), ID: fmt.Sprintf("P%02d", i+1)})
		r.Causes = append(r.Causes, cause.Diagnosis{Causes: []cause.Candidate{{Kind: leading}}})
	}
	return r
}

// Why people keep off is said once however often it is met, with the worst of it by name; over 50.8 mm is deep.
func TestReasonsAreSaidOnce(t *testing.T) {
	soft, low := finding.Finding{Kind: finding.DeckSoft}, finding.Finding{Kind: finding.DeckLow}
	with := func(r *Results, cores ...finding.Finding) *Results { r.Cores = cores; return r }
	full := func(depths ...float64) *Results {
		return &Results{Roof: &roof.Roof{}, Ponds: &ponding.Ponds{}, Full: []FullDepth{{"east pond", depths[0], depths[1]}}}
	}
	for name, c := range map[string]struct {
		r    *Results
		want []string
	}{
		"nothing":           {watered(finding.OutletHigh, 0.02, 0.0508), nil},
		"one soft core":     {with(watered(finding.OutletHigh), soft), []string{"the deck is soft, rotten or rusted at one core"}},
		"three soft cores":  {with(watered(finding.OutletHigh), soft, low, soft, soft), []string{"the deck is soft, rotten or rusted at 3 cores", "cores show that the deck is low under a pond"}},
		"two low decks":     {with(watered(finding.OutletHigh), low, low), []string{"cores show that the deck is low under 2 ponds"}},
		"a dish":            {watered(finding.Dish, 0.02), []string{"the roof is bent down like a dish under P01"}},
		"two dishes":        {watered(finding.Dish, 0.02, 0.03), []string{"the roof is bent down like a dish under P01 and another pond"}},
		"four dishes":       {watered(finding.Dish, 0.02, 0.03, 0.01, 0.01), []string{"the roof is bent down like a dish under P01 and 3 more ponds"}},
		"a deep pond":       {watered(finding.OutletHigh, 0.03, 0.06), []string{"when full P02 is 0.06 deep"}},
		"two deep ponds":    {watered(finding.OutletHigh, 0.07, 0.06), []string{"when full P01 is 0.07 deep, and another pond over 0.0508"}},
		"three deep ponds":  {watered(finding.OutletHigh, 0.07, 0.06, 0.09), []string{"when full P03 is 0.09 deep, and 2 more ponds over 0.0508"}},
		"full and deep":     {full(0.06, 0.08), []string{"when full east pond is 0.06 deep"}},
		"full and may be":   {full(0.04, 0.08), []string{"when full east pond may be 0.08 deep"}},
		"full and not deep": {full(0.03, 0.05), nil},
	} {
		k := KeepOffOf(c.r)
		var got []string
		for _, reason := range k.Reasons {
			got = append(got, spoken(reason.What))
		}
		if strings.Join(got, "|") != strings.Join(c.want, "|") || k.Is() != (len(c.want) > 0) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// A pond that error may have made deep: sqrt(2) times the sure error of a height is added, by hand 48 mm and 1.645 sqrt(2) 1.5 mm = 51.5 mm.
func TestMayBeDeep(t *testing.T) {
	r := watered(finding.OutletHigh, 0.048)
	r.Errors = &evidence.Errors{Typical: 0.0015}
	if got := r.deepest95(&r.Ponds.Ponds[0]); !(math.Abs(got-(0.048+1.645*math.Sqrt2*0.0015)) <= 1e-6) {
		t.Errorf("%g m", got)
	}
	if k := KeepOffOf(r); len(k.Reasons) != 1 || spoken(k.Reasons[0].What) != "when full P01 may be 0.0515 deep" {
		t.Errorf("%+v", k.Reasons)
	}
	r.Ponds.Ponds[0].Undrained = true
	if got := r.deepest95(&r.Ponds.Ponds[0]); got != 0.048 {
		t.Errorf("with no way out %g m", got)
	}
}

// Where nobody need keep off nothing waits; else what is to be done on the roof waits for the engineer, but what says so itself or is the engineer's.
func TestGuard(t *testing.T) {
	none, some := &KeepOff{}, &KeepOff{Reasons: []Reason{{DeepWater, finding.Say("water is deep")}, {Sag, finding.Say("it sags")}}}
	for do, want := range map[string]string{
		"Shoot it again.":            "Once the engineer lets people on: Shoot it again.",
		"Keep off, and wait.":        "Keep off, and wait.",
		"Do nothing now.":            "Do nothing now.",
		"The engineer checks it.":    "The engineer checks it.",
		"Have an engineer check it.": "Have an engineer check it.",
		"":                           "",
	} {
		if got := spoken(some.Guard(finding.Say(do))); got != want {
			t.Errorf("%q becomes %q, want %q", do, got, want)
		}
		if got := spoken(none.Guard(finding.Say(do))); got != do {
			t.Errorf("%q becomes %q where nobody keeps off", do, got)
		}
	}
	const want = "Keep off, and call a structural engineer today: water is deep; it sags. Clear the space below. " +
		"Until the engineer lets people on, measure from dry ground, or wait for another day."
	if got := spoken(some.First()); got != want {
		t.Errorf("%q", got)
	}
	if got := spoken(some.After(finding.Say(keepOffFirst + " Then mend it."))); got != "Then mend it." {
		t.Errorf("after the first step: %q", got)
	}
}

// A point that does not fit is told with up to two slips.
func TestSlipsOfAnOddPoint(t *testing.T) {
	for want, slips := range map[string][]blunder.Slip{
		"": nil, "Likely the rod stood upside down.": {blunder.UpsideDown},
		"Likely it was read whole feet out, or two digits changed places.": {blunder.Foot, blunder.Transposed, blunder.Zero},
	} {
		if got := spoken(slipsOf(&blunder.Odd{Slips: slips})); got != want {
			t.Errorf("%v: %q, want %q", slips, got, want)
		}
	}
}
