package correction_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
)

// TestSumpAsksWhatDecides: before a drain is set down, cores or the deck unknown, the page asks how much insulation is left beside it (3 in or more: set it down; else another way), whether its body is cast in or bears on the deck,
// whether the leader gives and it can be reached from below, and bids to look at condensation at the thin place and to write to the warrantor (design/corrections, lower-outlet).
func TestSumpAsksWhatDecides(t *testing.T) {
	for _, s := range sizes {
		r := falls(2, 1, 12*s.scale, s.sum, even)
		r.Outlets[0].Invert += 0.020
		a, o := first(t, corrected(t, r, correction.Input{}))
		if change(o, mend.LowerOutlet) == nil {
			t.Fatalf("%s: %v", s.name, kinds(o))
		}
		said, three := "", false
		for i := range a.Questions {
			q := &a.Questions[i]
			said += strings.Join([]string{q.Ask.Format, q.Where, q.If.Format, q.Then.Format, q.Decides}, " | ") + "\n"
			for _, v := range q.If.Args {
				three = three || math.Abs(v.Value-3*inch) < 1e-9
			}
		}
		for _, want := range []string{"How thick is the insulation beside", "Cut a core", "; less: ", "cast in", "bearing on the deck", "leader", "reached from below", "condensation at the thin place", "warrantor", finding.Plumber} {
			if !strings.Contains(said, want) {
				t.Errorf("%s: nothing of %q in\n%s", s.name, want, said)
			}
		}
		if !three {
			t.Errorf("%s: no branch at 3 in: %s", s.name, said)
		}
	}
}

// TestMisreadInletIsAskedFirst: a drain whose inlet stands a foot over the roof beside it was likely misread: before anything is built the page asks to look that up, and
// says which pond rests on it. A drain 20 mm up is no such question.
func TestMisreadInletIsAskedFirst(t *testing.T) {
	for _, s := range sizes {
		for up, want := range map[float64]bool{0.020: false, 12 * inch: true} {
			r := falls(2, 1, 12*s.scale, s.sum, even)
			r.Outlets[0].Invert += up
			a, _ := first(t, corrected(t, r, correction.Input{}))
			if len(a.Questions) == 0 {
				t.Fatalf("%s, %g m up: nothing is asked", s.name, up)
			}
			q := &a.Questions[0]
			if got := strings.HasPrefix(q.Ask.Format, "Was {0} read right"); got != want {
				t.Errorf("%s, %g m up: first %q", s.name, up, q.Ask.Format)
			}
			if want && (q.At != r.Outlets[0].Plan || q.Ask.Args[1].Word != "P01" || q.Decides != finding.Roofer) {
				t.Errorf("%s: %+v", s.name, q)
			}
		}
	}
}

// TestClearingAloneNeverMeets: where the user allows nothing but clearing, a drain that stands high still holds its pond: the answers clear, and none meets.
func TestClearingAloneNeverMeets(t *testing.T) {
	for _, s := range sizes {
		r := falls(2, 1, 12*s.scale, s.sum, even)
		r.Outlets[0].Invert += 0.020
		out := corrected(t, r, correction.Input{Steering: mend.Steering{Only: []mend.Kind{mend.Clear}}})
		_, o := first(t, out)
		if out.Best >= 0 || o.PondsLeft != 1 || len(o.Changes) != 1 || o.Changes[0].Kind != mend.Clear {
			t.Errorf("%s: best %d, %d ponds left, %v", s.name, out.Best, o.PondsLeft, kinds(o))
		}
		for i := range out.Answers {
			if out.Answers[i].Meets {
				t.Errorf("%s: %s meets", s.name, out.Answers[i].Name)
			}
		}
	}
}
