package inspection

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/bounds"
	"runnel/analysis/cause"
	"runnel/analysis/evidence"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/place"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// pan is a walled roof of 10 by 10 m whose middle lies deep [m] below its walls' feet, with a scupper in its east wall that holds the water there, and its inspector.
func pan(t *testing.T, deep float64) *inspector {
	t.Helper()
	r := shape.New("pan", shape.At(0, 0, deep), shape.At(10, 0, deep), shape.At(10, 10, deep), shape.At(0, 10, deep))
	shape.Spot(r, 5, 5, 0)
	o := shape.Scupper(r, 10, 5, 0.2)
	o.Invert, o.HasInvert = deep, true
	in := box(t)
	in.Roof, in.Surface = r, shape.Build(t, r)
	ponds, err := ponding.Find(in.Surface.Cut, in.Surface.Outlets, in.Surface.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	in.Ponds, in.Listed, in.locate = ponds, []Listed{{Pond: 0, ID: "P01"}}, surface.NewLocator(in.Surface.TIN)
	in.Causes = []cause.Diagnosis{{Outlet: 0, Causes: []cause.Candidate{{Kind: finding.OutletHigh, Score: 0.9, Why: finding.Say("It is high.")}}}}
	in.Places = place.New(r, in.Surface.TIN, nil)
	in.markWet()
	return in
}

// TestGradeOfAPond: urgent where there is no way out, where water is over 2 in deep by the depth that is not passed with 95 % confidence, or within 25 mm of a curb's top; a note where all of it rests on guesses, however deep, or where it is under 10 sq ft and beside an outlet; else to be repaired.
func TestGradeOfAPond(t *testing.T) {
	for _, c := range []struct {
		name   string
		deep   float64
		change func(in *inspector, p *ponding.Pond)
		want   finding.Severity
	}{
		{"20 mm", 0.02, nil, finding.Repair},
		{"2 in", 0.0507, nil, finding.Repair},
		{"more", 0.0509, nil, finding.Urgent},
		{"may be more", 0.045, func(in *inspector, _ *ponding.Pond) { in.Errors = &evidence.Errors{Typical: 0.003} }, finding.Urgent},
		{"may not be more", 0.045, func(in *inspector, _ *ponding.Pond) { in.Errors = &evidence.Errors{Typical: 0.002} }, finding.Repair},
		{"by trials it may be more", 0.02, func(in *inspector, _ *ponding.Pond) {
			in.Bounds = &bounds.Bounds{Ponds: []bounds.Pond{{Trials: 9, Depth: bounds.Range{High: 0.06}}}}
		}, finding.Urgent},
		{"no trials were made", 0.02, func(in *inspector, _ *ponding.Pond) {
			in.Bounds = &bounds.Bounds{Ponds: []bounds.Pond{{Depth: bounds.Range{High: 0.06}}}}
		}, finding.Repair},
		{"no way out", 0.001, func(_ *inspector, p *ponding.Pond) { p.Undrained = true }, finding.Urgent},
		{"all guessed", 0.09, func(in *inspector, _ *ponding.Pond) {
			in.Surface.Cut.Assumed = slices.Repeat([]bool{true}, len(in.Surface.Cut.X))
		}, finding.Note},
		{"no way out, all guessed", 0.09, func(in *inspector, p *ponding.Pond) {
			p.Undrained = true
			in.Surface.Cut.Assumed = slices.Repeat([]bool{true}, len(in.Surface.Cut.X))
		}, finding.Urgent},
		{"small, but far from its outlet", 0.02, func(_ *inspector, p *ponding.Pond) { p.Area = 0.5 }, finding.Repair},
		{"small and beside it", 0.02, func(in *inspector, p *ponding.Pond) {
			p.Area = 0.5
			in.Criteria.NearOutlet = 20
		}, finding.Note},
		{"as large as 10 sq ft and beside it", 0.02, func(in *inspector, p *ponding.Pond) {
			p.Area = 0.9291
			in.Criteria.NearOutlet = 20
		}, finding.Repair},
	} {
		in := pan(t, c.deep)
		p := &in.Ponds.Ponds[0]
		if c.change != nil {
			c.change(in, p)
		}
		if got := in.severity(p, &in.Listed[0]); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestPondNearATopOfACurb: water that stands 95 mm over the foot of a curb is within 25 mm of its top where that is under 120 mm; a curb whose height nobody gave, and one that stands dry, says nothing.
func TestPondNearATopOfACurb(t *testing.T) {
	for _, c := range []struct {
		height, at float64
		want       bool
	}{{0.119, 5, true}, {0.121, 5, false}, {0, 5, false}, {0.01, 30, false}} {
		r := shape.New("pan", shape.At(0, 0, 0.1), shape.At(10, 0, 0.1), shape.At(10, 10, 0.1), shape.At(0, 10, 0.1))
		shape.Spot(r, 5, 3, 0)
		shape.Spot(r, 5, 7, 0)
		foot := func(x, y float64) roof.Position { return shape.At(x, y, 0.005) }
		shape.Curb(r, foot(4.5, 4.5), foot(5.5, 4.5), foot(5.5, 5.5), foot(4.5, 5.5))
		r.Curbs[0].Height = quantity.Length(c.height)
		if c.at > 10 {
			for i := range r.Curbs[0].Ring {
				r.Curbs[0].Ring[i].Plan[0] += c.at // as surveyed somewhere else
			}
			r.Curbs[0].Height = quantity.Length(c.height)
		}
		o := shape.Scupper(r, 10, 5, 0.2)
		o.Invert, o.HasInvert = 0.1, true
		in := box(t)
		in.Roof, in.Surface = r, shape.Build(t, r)
		ponds, err := ponding.Find(in.Surface.Cut, in.Surface.Outlets, in.Surface.Cut.Z)
		if err != nil {
			t.Fatal(err)
		}
		if got := in.nearSill(&ponds.Ponds[0]); got != c.want {
			t.Errorf("a curb of %g m: %v", c.height, got)
		}
	}
}

// TestWhatBearsOnTrust: in the reasons of a pond's finding stands what makes it doubtful: an error alone, and whether somebody saw water; a lip that nobody measured, or that hangs on how the surface runs; heights that do not fit, which are to be looked up first; an inlet that nobody measured.
func TestWhatBearsOnTrust(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(in *inspector)
		says   []string
		trust  finding.Confidence
	}{
		{"all is measured", func(*inspector) {}, []string{"It is high."}, finding.Shown},
		{"error alone", func(in *inspector) { in.Evidence.Ponds[0].Shown = false }, []string{"It is high.", "The survey's error alone could make it."}, finding.NotResolved},
		{"error alone, but seen", func(in *inspector) { in.Evidence.Ponds[0].Shown, in.Listed[0].Seen = false, true }, []string{"It is high.", "The survey's error alone could make it, but water was seen here."}, finding.Likely},
		{"a lip that is assumed", func(in *inspector) { in.Causes[0].LipAssumed, in.Causes[0].Uncertain = true, true }, []string{"It is high.", "The lip was not measured: its elevation is taken from spots near it."}, finding.NotResolved},
		{"a lip that hangs on a diagonal", func(in *inspector) { in.Causes[0].Uncertain = true }, []string{"It is high.", "The lip or the lowest point depends on how the surface runs between spots; a level taken there would settle it."}, finding.Likely},
		{"heights that do not fit", func(in *inspector) {
			in.Odd = []blunder.Odd{{Spot: 0}, {Spot: -1}}
			in.Rests = [][]int32{{0, 1}}
		}, []string{"It is high.", "It rests on a height that does not fit: spot P1.", "It rests on a height that does not fit: a corner of curb none."}, finding.NotResolved},
		{"an inlet that nobody measured", func(in *inspector) { in.Surface.Outlets[0].InvertAssumed, in.Ponds.Ponds[0].HeldBy = true, 0 }, []string{"It is high.", "The outlet's inlet level was not measured."}, finding.NotResolved},
	} {
		in := pan(t, 0.02)
		in.Evidence = &evidence.Result{Ponds: []evidence.Verdict{{Shown: true}}}
		in.Roof.Curbs = []roof.Curb{{Feature: roof.Feature{ID: "none"}, Ring: []roof.Position{{}}}}
		c.change(in)
		in.Surface.Outlets[0].Low = 0.02
		f := in.pond(0)
		if got, want := spoken(f.Why), strings.Join(c.says, " "); got != want || f.Confidence != c.trust {
			t.Errorf("%s: %s, %q, want %s, %q", c.name, f.Confidence, got, c.trust, want)
		}
		if first := strings.HasPrefix(spoken(f.Do), "Look up in the field book the height that does not fit: spot P1. Shoot it again. "); first != (len(in.Rests) > 0) {
			t.Errorf("%s: %q", c.name, spoken(f.Do))
		}
	}
}

// TestWhyAPondIsUrgent: over 2 in when full, or by its error; beside that, within an inch of a curb. An engineer decides. No way out is told as such, whatever the causes, which stand beside it.
func TestWhyAPondIsUrgent(t *testing.T) {
	in := pan(t, 0.06)
	f := in.pond(0)
	if f.Severity != finding.Urgent || f.Decides != finding.Engineer || spoken(f.Why) != "It is high. It is deeper than 0.0508 when full." || f.Size != in.Ponds.Ponds[0].Volume || f.Outlet != 0 || f.Pond != 0 {
		t.Errorf("%+v", f)
	}
	in = pan(t, 0.045)
	in.Errors = &evidence.Errors{Typical: 0.003}
	if f = in.pond(0); f.Severity != finding.Urgent || spoken(f.Why) != "It is high. Its depth is good to 0.00698: it may be deeper than 0.0508 when full." {
		t.Errorf("%s", spoken(f.Why))
	}
	in = pan(t, 0.02)
	in.Causes[0].Causes = append(in.Causes[0].Causes, cause.Candidate{Kind: finding.Dish, Score: 0.1}, cause.Candidate{Kind: finding.LowPlace})
	if f = in.pond(0); !slices.Equal(f.Also, []finding.Kind{finding.Dish, finding.LowPlace}) || f.Kind != finding.OutletHigh {
		t.Errorf("%s, also %v", f.Kind, f.Also)
	}
	in.Ponds.Ponds[0].Undrained = true
	if f = in.pond(0); f.Kind != finding.NoWayOut || f.Severity != finding.Urgent || !slices.Equal(f.Also, []finding.Kind{finding.OutletHigh, finding.Dish}) || f.Decides != finding.Engineer {
		t.Errorf("%+v", f)
	}
}

// TestSignsOfOverload: words of a note that begin so, in any case and with any ending, tell of overload; others do not. The deepest water that was recorded counts.
func TestSignsOfOverload(t *testing.T) {
	for note, want := range map[string]bool{"Deck sags here": true, "it CREAKED underfoot": true, "groaning.": true, "deflection seen": true, "collapsed": true, "a message": false, "passage": false, "": false, "old stain": false} {
		r := &Results{Roof: &roof.Roof{Stains: []roof.Stain{{Depth: 0.01}, {Note: note, Depth: 0.03}, {Depth: 0.02}}}}
		noted, deepest := r.seen()
		if noted != want || deepest != 0.03 {
			t.Errorf("%q: %v, %g m", note, noted, deepest)
		}
	}
}

// TestCautionsOfAList: a list of roofs ends with the cautions that hold whatever stands on them; that of one roof has the same but for water.
func TestCautionsOfAList(t *testing.T) {
	want := []Caution{DeepPond, Height, Skylights, Ice, Electric, Structure, LocalCode}
	if got := Everywhere(); !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
	own := Cautions(watered(finding.OutletHigh, 0.02))
	for _, c := range want {
		if !slices.Contains(own, c) {
			t.Errorf("%s does not stand with a roof that ponds", c)
		}
	}
}

// TestWaterOverHalfAStain: in a pan that is full a stain within it is shown; of one from x = 8 to 14 m, of which 2 m lie in it, a third is; what reaches half is.
func TestWaterOverHalfAStain(t *testing.T) {
	in := pan(t, 0.05)
	stain := func(x0, x1 float64) *roof.Stain {
		s := &roof.Stain{}
		for _, p := range []orb.Point{{x0, 4}, {x1, 4}, {x1, 6}, {x0, 6}, {x0, 4}} {
			s.Ring = append(s.Ring, roof.Position{Plan: p})
		}
		return s
	}
	for _, c := range []struct {
		x0, x1 float64
		want   bool
	}{{2, 4, true}, {8, 14, false}, {8, 11.9, true}, {8, 12.4, false}} {
		if got := ShownBy(stain(c.x0, c.x1), in.Ponds); got != c.want {
			t.Errorf("from %g to %g m: %v", c.x0, c.x1, got)
		}
	}
}
