package correction_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// TestFlashingThatIsKnownIsNotAsked: where nobody stated the height of a curb, it is asked before a cricket is built behind it; where it is stated and too little is left, the curb
// is raised first, at the same pond, and nothing is asked.
func TestFlashingThatIsKnownIsNotAsked(t *testing.T) {
	asks := func(a *correction.Answer) bool {
		for i := range a.Questions {
			if strings.Contains(a.Questions[i].Ask.Format, "flashing of") {
				return true
			}
		}
		return false
	}
	r := across(1, 0)
	a, o := first(t, corrected(t, r, correction.Input{}))
	if !asks(a) {
		t.Errorf("a height that nobody stated is not asked: %v", kinds(o))
	}
	pond := ""
	for _, c := range o.Changes {
		if c.Kind == mend.Cricket {
			pond = c.Pond
		}
	}
	r.Curbs[0].Height = 0.21
	a, o = first(t, corrected(t, r, correction.Input{}))
	raised := ""
	for _, c := range o.Changes {
		if c.Kind == mend.RaiseCurb {
			raised = c.Pond
		}
	}
	if asks(a) || raised == "" || raised != pond {
		t.Errorf("asked %t, raised at %q, cricket at %q", asks(a), raised, pond)
	}
	r.Curbs[0].Height = 1
	if a, o = first(t, corrected(t, r, correction.Input{})); asks(a) || has(o, mend.RaiseCurb) {
		t.Errorf("a curb that stands high enough is asked (%t) or raised: %v", asks(a), kinds(o))
	}
}

func has(o *correction.Option, k mend.Kind) bool {
	for i := range o.Changes {
		if o.Changes[i].Kind == k {
			return true
		}
	}
	return false
}

// TestLeftIsCalledAsFound: what an answer leaves has the name that the page of the roof as found gives it, also where other ponds are gone; what is to be done about it is said
// once, in the work or with what is left.
func TestLeftIsCalledAsFound(t *testing.T) {
	// P01 is the deeper pond, behind a drain that is set down; the dish stays for the engineer.
	r := falls(3, 1, 12, 0, func(x, y float64) float64 {
		d := (x-32)*(x-32) + (y-6)*(y-6)
		if d < 4 {
			return -0.022 * (1 - d/4) * (1 - d/4) * 2.4
		}
		return 0
	})
	r.Outlets[0].Invert += 0.035
	res := corrected(t, r, correction.Input{})
	a, o := first(t, res)
	if !has(o, mend.LowerOutlet) {
		t.Fatalf("%v", kinds(o))
	}
	if o.PondsLeft != 1 || len(a.Left) != 1 {
		t.Fatalf("%d ponds left, %+v", o.PondsLeft, a.Left)
	}
	l := &a.Left[0]
	if l.Kind != finding.Dish || l.Pond != o.Left[0] || l.Pond == "" || o.Study.Listed[0].ID == l.Pond {
		t.Errorf("%s is left and called %q; as found it is %v, on the corrected roof %s", l.Kind, l.Pond, o.Left, o.Study.Listed[0].ID)
	}
	if l.Do.Format != "" {
		t.Errorf("the work says it already: %q", l.Do.Format)
	}
}

// TestPracticeFollowsTheRoof: where the roof as found falls as new work must and a mend falls less, the practice is to lay that mend steeper when the insulation is open; where
// the roof itself falls less and nothing may be laid over all of it, nobody is told that it does. The valley's floor falls back 20 mm in its middle, or not.
func TestPracticeFollowsTheRoof(t *testing.T) {
	for _, c := range []struct {
		back float64
		side float64
		want string
	}{{0.005, 0, "Lay at {0} what the mends leave flatter"}, {-0.01, 0, "Keep the falls"}, {-0.01, 0.018, "Nothing that was tried brings every plane"}} {
		r := gulley(1, 0, func(x float64) float64 {
			switch {
			case x < 4:
				return 0.016 * x
			case x < 8:
				return 0.064 - c.back*(x-4)
			}
			return 0.064 - 4*c.back + 0.025*(x-8)
		})
		for i := range r.Spots { // sides that fall less
			r.Spots[i].Z -= c.side * math.Abs(r.Spots[i].Plan[1])
		}
		for i := range r.Outline.Rings[0] {
			p := &r.Outline.Rings[0][i]
			p.Z -= c.side * math.Abs(p.Plan[1])
		}
		res := corrected(t, r, correction.Input{Steering: mend.Steering{Forbid: []mend.Kind{mend.Overlay, mend.Replace, mend.AddOutlet}}})
		if got := res.Answers[2].Practice[0].Format; !strings.HasPrefix(got, c.want) {
			_, o := first(t, res)
			t.Errorf("a floor that falls back at %g, %v: %q", c.back, kinds(o), got)
		}
	}
}

// TestCurbIsNotRaisedByAHair: a curb that lacks 3 mm of 8 in above its cricket stays as it is, one that lacks 10 mm is raised by 10 mm.
func TestCurbIsNotRaisedByAHair(t *testing.T) {
	r := across(1, 0)
	r.Curbs[0].Height = quantity.Length(8 * inch)
	_, o := first(t, corrected(t, r, correction.Input{}))
	c := change(o, mend.RaiseCurb)
	if c == nil {
		t.Fatalf("no curb raised in %v", kinds(o))
	}
	up := c.What.Args[0].Value // what the cricket takes of 8 in
	for _, k := range []struct {
		lacks float64
		want  bool
	}{{0.003, false}, {0.010, true}} {
		r.Curbs[0].Height = quantity.Length(8*inch + up - k.lacks)
		_, o := first(t, corrected(t, r, correction.Input{}))
		got := change(o, mend.RaiseCurb)
		if (got != nil) != k.want || len(o.Limits) > 0 {
			t.Errorf("lacking %g m: %v, limits %+v", k.lacks, kinds(o), o.Limits)
		}
		if got != nil {
			near(t, "raised by", got.What.Args[0].Value, k.lacks, 1e-6)
		}
	}
}

// TestPatchLeavesWhatErrorsMake: the roof is pressed down by 30 mm behind a unit, and 4 m off one spot stands 4 mm low, as its errors of 3 mm may make it: the patch does not reach there. Where the
// error is stated as 1 mm, it may.
func TestPatchLeavesWhatErrorsMake(t *testing.T) {
	opened := func(sigma quantity.Length) float64 {
		r := shop(1, 0)
		for i := range r.Spots {
			q := r.Spots[i].Plan
			if d := math.Hypot(q[0]-8, q[1]-8.5); d > 0.9 && d < 2.4 && q[1] > 8.2 {
				r.Spots[i].Z -= 0.004
			}
		}
		r.Sigma = sigma
		_, o := first(t, corrected(t, r, correction.Input{}))
		c := change(o, mend.ReplacePatch)
		if c == nil {
			t.Fatalf("%v", kinds(o))
		}
		return c.Opened
	}
	if rough, fine := opened(0.003), opened(0.001); rough >= fine {
		t.Errorf("opens %.1f m2 where errors are 3 mm, %.1f where they are 1 mm", rough, fine)
	}
}

// TestAnalysisThatFailsIsSaid: where the analysis of corrected roofs fails, here for a criterion that cannot be read, each option says so and none meets; nothing is left to chance.
func TestAnalysisThatFailsIsSaid(t *testing.T) {
	s, err := study.Run(square(14*inch), study.Options{}) // level: an overlay is laid
	if err != nil {
		t.Fatal(err)
	}
	res, err := correction.Of(&correction.Input{Study: s, Options: study.Options{Criteria: standard.Overrides{"no_such": 1}}})
	if err != nil {
		t.Fatal(err)
	}
	failed := 0
	for i := range res.Options {
		o := &res.Options[i]
		if o.Study == nil {
			failed++
			if o.Possible || o.Meets || o.Why.Format == "" {
				t.Errorf("%s: possible %t, meets %t, %q", o.Kind, o.Possible, o.Meets, o.Why.Format)
			}
		}
	}
	if failed == 0 {
		t.Error("no analysis failed")
	}
}
