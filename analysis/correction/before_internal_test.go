package correction

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/finding"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
)

// TestFindingsThatWereThere: a pond is nothing new where one as deep to 2 mm stood, within 2 m of its lowest place or over it; another finding where one of its kind was: of the same outlet, or as near as 2 m. Of another kind, another outlet, or farther off it is new.
func TestFindingsThatWereThere(t *testing.T) {
	box := func(x0, x1 float64) orb.Bound { return orb.Bound{Min: orb.Point{x0, 0}, Max: orb.Point{x1, 4}} }
	a := &state{found: []found{
		{pond: true, kind: finding.Dish, at: orb.Point{5, 2}, bound: box(0, 10), depth: 0.03, source: 3}, {kind: finding.PlaneFlat, source: -1, bound: box(20, 24)}, {kind: finding.OverflowHigh, source: 1, bound: box(40, 40)},
	}}
	for _, c := range []struct {
		name string
		f    found
		want bool
	}{
		{"a pond as deep", found{pond: true, at: orb.Point{6.9, 2}, depth: 0.0319, source: -1}, true},
		{"deeper by 2.1 mm", found{pond: true, at: orb.Point{6.9, 2}, depth: 0.0321, source: -1}, false},
		{"over the pond, 4 m off its lowest place", found{pond: true, at: orb.Point{9, 2}, depth: 0.03, source: 3}, true},
		{"over the pond, deeper", found{pond: true, at: orb.Point{9, 2}, depth: 0.033}, false},
		{"beside the pond", found{pond: true, at: orb.Point{10.1, 2}, depth: 0.01}, false},
		{"of another kind, the same pond", found{pond: true, kind: finding.Step, at: orb.Point{5, 2}, depth: 0.03}, true},
		{"no pond in its place", found{kind: finding.Dish, source: 3, at: orb.Point{5, 2}, bound: box(4, 6)}, false},
		{"a plane that touches", found{kind: finding.PlaneFlat, source: -1, bound: box(22, 30)}, true},
		{"a plane 1.9 m off", found{kind: finding.PlaneFlat, source: -1, bound: box(25.9, 30)}, true},
		{"a plane 2.1 m off", found{kind: finding.PlaneFlat, source: -1, bound: box(26.1, 30)}, false},
		{"a valley there", found{kind: finding.ValleyFlat, source: -1, bound: box(22, 30)}, false},
		{"a plane of an outlet", found{kind: finding.PlaneFlat, source: 0, bound: box(22, 30)}, false},
		{"the same outlet, wherever it is drawn", found{kind: finding.OverflowHigh, source: 1, bound: box(90, 91)}, true},
		{"another outlet", found{kind: finding.OverflowHigh, source: 2, bound: box(40, 40)}, false},
	} {
		if got := a.knows(&c.f); got != c.want {
			t.Errorf("%s: known %v", c.name, got)
		}
	}
	b := &state{s: &study.Study{Roof: &roof.Roof{Outlets: []roof.Outlet{{}, {}, {Label: "SC-2"}}}}, found: []found{{kind: finding.OverflowHigh, source: 1}, {kind: finding.OverflowHigh, source: 2, at: orb.Point{7, 7}}, {kind: finding.Step, source: -1}}}
	got := a.newFindings(b)
	if len(got) != 2 || got[0].Name != "new finding: "+string(finding.OverflowHigh) || got[0].Where != "SC-2" || got[0].At != (orb.Point{7, 7}) || got[1].Where != "" {
		t.Errorf("%+v", got)
	}
}

// blockedOver is a study of outlets with the water over them.
func blockedOver(invert, low, water float64, weight float64) *study.Study {
	s := &study.Study{
		Roof: &roof.Roof{Outlets: []roof.Outlet{{Label: "RD-1"}}}, Surface: &surface.Surface{Outlets: []surface.Outlet{{Source: 0, Duty: roof.Primary, Invert: invert, Low: low, Vertices: []int32{2}}}},
		Slopes: &slope.Slopes{}, RainLoad: &rainload.Load{Level: []float64{0, 0, water}, Weight: weight, Deepest: 2, Depth: 0.1, Load: 981},
	}
	return s
}

// TestWaterThatStandsHigher: with every primary outlet blocked water may stand 2 mm higher at an outlet, and as much as its inlet, or the roof at it, comes up; it may weigh 2 % and 1 kg more, and what a cut makes room for: 0.001 m3 is 1 kg.
func TestWaterThatStandsHigher(t *testing.T) {
	const was, weight = 0.2, 1000.0
	a := stateOf(blockedOver(0.1, 0, was, weight))
	for _, c := range []struct {
		name        string
		after       *study.Study
		cut         float64
		level, mass bool
	}{
		{"as before", blockedOver(0.1, 0, was, weight), 0, false, false},
		{"1.9 mm higher", blockedOver(0.1, 0, was+0.0019, weight), 0, false, false},
		{"2.1 mm higher", blockedOver(0.1, 0, was+0.0021, weight), 0, true, false},
		{"with its inlet 50 mm higher", blockedOver(0.15, 0, was+0.0519, weight), 0, false, false},
		{"more than its inlet", blockedOver(0.15, 0, was+0.0521, weight), 0, true, false},
		{"the roof at it is higher", blockedOver(0.1, 0.15, was+0.0519, weight), 0, false, false},
		{"its inlet is lower", blockedOver(0.05, 0, was+0.0019, weight), 0, false, false},
		{"its inlet is lower, the water is not", blockedOver(0.05, 0, was+0.0021, weight), 0, true, false},
		{"1,020 kg", blockedOver(0.1, 0, was, 1020.9), 0, false, false},
		{"more", blockedOver(0.1, 0, was, 1021.1), 0, false, true},
		{"in the room of a cut", blockedOver(0.1, 0, was, 1026), 0.00501, false, false},
		{"more than a cut makes room for", blockedOver(0.1, 0, was, 1026.2), 0.005, false, true},
	} {
		o := &Option{Design: moved(weighed(t), 0, 0)}
		o.Design.Fill.Cut = c.cut
		got := a.moreWater(stateOf(c.after), o)
		if limited(got, "level of the water with every primary outlet blocked") != c.level || limited(got, "weight of the water with every primary outlet blocked") != c.mass {
			t.Errorf("%s: %+v", c.name, got)
		}
		if c.level && (got[0].Where != "RD-1" || got[0].Required.Value != was || got[0].Available.Value != c.after.RainLoad.Level[2]) {
			t.Errorf("%s: %+v", c.name, got[0])
		}
	}
	for name, change := range map[string]func(s *study.Study){"enclosed": func(s *study.Study) { s.RainLoad.Enclosed = true }, "nobody asked": func(s *study.Study) { s.RainLoad = nil }} {
		s := blockedOver(0.1, 0, 9, 9000)
		change(s)
		if got := a.moreWater(stateOf(s), &Option{}); got != nil {
			t.Errorf("%s: %+v", name, got)
		}
		if got := stateOf(s).moreWater(stateOf(blockedOver(0.1, 0, 9, 9000)), &Option{}); got != nil {
			t.Errorf("%s before: %+v", name, got)
		}
	}
	w := a.water()
	if w != (Blocked{Level: was, Depth: 0.1, Weight: weight, Load: 981}) {
		t.Errorf("%+v", w)
	}
}

// TestOverflowsThatComeHigher: over its primary outlet by more than the limit and what an inlet can be set to, and by 2 mm more than before; one that is new has nothing before.
func TestOverflowsThatComeHigher(t *testing.T) {
	s := &study.Study{Roof: &roof.Roof{Outlets: []roof.Outlet{{Label: "A"}, {Label: "B", Feature: roof.Feature{ID: "S2"}}}}}
	most := s.Criteria.OverflowMost() + standard.InletTolerance
	for _, c := range []struct {
		name     string
		was, now float64 // no number: none
		want     bool
	}{{"within the limit", 0, most - 1e-6, false}, {"over it", 0, most + 0.01, true}, {"as before", most + 0.01, most + 0.0119, false}, {"higher than before", most + 0.01, most + 0.0121, true}, {"new", math.NaN(), most + 0.001, true}, {"none after", most + 0.1, math.NaN(), false}} {
		a, b := &state{above: map[int]float64{}}, &state{above: map[int]float64{}, s: s}
		if !math.IsNaN(c.was) {
			a.above[1] = c.was
		}
		if !math.IsNaN(c.now) {
			b.above[1] = c.now
		}
		got := a.higherOverflows(b)
		if (len(got) == 1) != c.want || c.want && (got[0].Where != "B" || got[0].Available.Value != c.now) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// TestStateOfARoof: what a roof is compared by: its findings at repair, what is noted as flat, the area of failing planes, the length of flat valleys, coded and in all, the levels of inlets, and how far overflows stand over the nearest primary drain or scupper.
func TestStateOfARoof(t *testing.T) {
	plane := slope.Plane{Area: 4, BelowMin: true, Resolved: true, Spots: 6, Outline: orb.MultiPolygon{{{{0, 0}, {2, 0}, {2, 2}, {0, 2}, {0, 0}}}}}
	change := func(do func(p *slope.Plane)) slope.Plane { q := plane; do(&q); return q }
	valley := slope.Line{Length: 5, BelowMin: true, Resolved: true, Plan: orb.LineString{{10, 10}, {15, 10}}}
	named, fine, unsure, round := valley, valley, valley, valley
	named.Named, named.Length = true, 3
	fine.BelowMin, unsure.Resolved = false, false
	round.Plan = orb.LineString{{0.1, 0}, {0, 0.1}}
	at := func(x float64, duty roof.Duty, of roof.OutletType, invert, low float64, source int) surface.Outlet {
		return surface.Outlet{Plan: orb.Point{x, 0}, Duty: duty, Type: of, Invert: invert, Low: low, Source: source}
	}
	s := &study.Study{
		Roof: &roof.Roof{Outlets: []roof.Outlet{{Bowl: 0.3}, {}, {}, {}}}, Slopes: &slope.Slopes{
			Planes:  []slope.Plane{plane, change(func(p *slope.Plane) { p.BelowMin = false }), change(func(p *slope.Plane) { p.Resolved = false }), change(func(p *slope.Plane) { p.Spots = 5 }), change(func(p *slope.Plane) { p.Area = 0.9 }), change(func(p *slope.Plane) { p.Weak = 3.1 }), change(func(p *slope.Plane) { p.Weak, p.Area = 3, 5 })},
			Valleys: []slope.Line{valley, named, fine, unsure, round},
		},
		Surface: &surface.Surface{Outlets: []surface.Outlet{at(0, roof.Primary, roof.Drain, 1, 0.5, 0), at(9, roof.Primary, roof.Scupper, 2, 2.5, 1), at(5, roof.Overflow, roof.Scupper, 3, 0, 2), at(5, roof.Primary, roof.EdgeOutlet, 0, 0, -1), at(4, roof.Overflow, roof.Drain, 0, 1.25, 3)}},
		Findings: []finding.Finding{
			{Kind: finding.PlaneFlat, Severity: finding.Note, Pond: -1, Outlet: -1, Measured: []finding.Quantity{finding.Fall("slope", 0.005)}}, {Kind: finding.ValleyFlat, Severity: finding.Note, Pond: -1, Outlet: -1}, {Kind: finding.OutletHigh, Severity: finding.Repair, Pond: -1, Outlet: 1, Geometry: orb.Point{9, 0}, Measured: []finding.Quantity{finding.MM("x", 0.4)}}, {Kind: finding.SurveyThin, Severity: finding.Note, Pond: -1, Outlet: -1},
		},
	}
	a := stateOf(s)
	if mendtest.About(t, "flat", a.flat, 4+5); a.folds != 8 || a.named != 3 {
		t.Errorf("valleys of %g m, coded %g; want 8 and 3", a.folds, a.named)
	}
	for source, want := range map[int]float64{0: 1, 1: 2.5, 2: 3, 3: 1.25} {
		if a.inlets[source] != want {
			t.Errorf("outlet %d takes water at %g, want %g", source, a.inlets[source], want)
		}
	}
	if a.above[2] != 0.5 || a.above[3] != 0.25 || len(a.above) != 2 { // nearest: 4 m to the scupper, 4 m to the drain
		t.Errorf("overflows stand over theirs by %v", a.above)
	}
	if len(a.found) != 1 || a.found[0].source != 1 || a.found[0].at != (orb.Point{9, 0}) || a.found[0].slope != 0 || len(a.notes) != 2 || a.notes[0].slope != 0.005 {
		t.Errorf("%+v, noted %+v", a.found, a.notes)
	}
	if got := mend.PrimaryOf(&surface.Surface{Outlets: []surface.Outlet{at(0, roof.Overflow, roof.Drain, 0, 0, 0), at(0, roof.Primary, roof.EdgeOutlet, 0, 0, 1)}}, 0); got != -1 {
		t.Errorf("without a primary drain: %d", got)
	}
}

// TestCoveringAgain: two coverings are in the way, as is a wet core; one covering and dry cores are kept; where nobody counted or no core tells, the official's yes keeps it and his no is in the way.
func TestCoveringAgain(t *testing.T) {
	yes, no := &roof.Answer{Question: string(roof.AskCover), Yes: true, By: "B. Official", On: "2026-12-01"}, &roof.Answer{Question: string(roof.AskCover), By: "B. Official", On: "2026-12-01"}
	wet, dry := roof.Core{Layers: []roof.Layer{{Condition: "dry"}, {Condition: "wet"}}}, roof.Core{Layers: []roof.Layer{{Condition: "dry"}}}
	for _, c := range []struct {
		name      string
		coverings int
		cores     []roof.Core
		answer    *roof.Answer
		want      string // kept, broken or asked
	}{
		{"two coverings", 2, []roof.Core{dry}, nil, "broken"},
		{"two coverings, allowed", 2, nil, yes, "broken"},
		{"one, dry cores", 1, []roof.Core{dry, dry}, nil, "kept"},
		{"one, a wet core", 1, []roof.Core{dry, wet}, nil, "broken"},
		{"a wet core, allowed", 1, []roof.Core{wet}, yes, "broken"},
		{"nobody counted, dry cores", 0, []roof.Core{dry}, nil, "asked"},
		{"no cores", 1, nil, nil, "asked"},
		{"no cores, allowed", 0, nil, yes, "kept"},
		{"dry cores, allowed", 0, []roof.Core{dry}, yes, "kept"},
		{"not allowed", 1, []roof.Core{dry}, no, "broken"},
	} {
		d := &designer{Designer: &mend.Designer{Roof: &roof.Roof{Cores: c.cores}}}
		d.Roof.Visit.Coverings = c.coverings
		if c.answer != nil {
			d.Roof.Answers = []roof.Answer{*c.answer}
		}
		o := &Option{}
		d.twoRoofs(o)
		got := map[bool]string{len(o.Checked) == 1: "kept", len(o.Limits) == 1: "broken", len(o.Unknown) == 1: "asked"}[true]
		if got != c.want || len(o.Checked)+len(o.Limits)+len(o.Unknown) != 1 {
			t.Errorf("%s: %s, want %s: %+v", c.name, got, c.want, o)
		}
		if c.answer == yes && c.want == "kept" && !strings.HasPrefix(o.Checked[0].Source, "allowed by B. Official, 2026-12-01. ") {
			t.Errorf("%s: %s", c.name, o.Checked[0].Source)
		}
	}
}

// TestNewWorkOverWhatIsWet: over a core that is wet new work of more than 2 mm is in the way, unless the insulation there is replaced; where it stays lower, is cut or the roof is replaced it is not. So over a pond that sags, whose deck nobody has looked at.
func TestNewWorkOverWhatIsWet(t *testing.T) {
	wet := roof.Core{Layers: []roof.Layer{{Condition: "wet"}}}
	wet.ID, wet.Plan = "K1", orb.Point{3, 5}
	for _, c := range []struct {
		name  string
		kind  mend.Kind
		up    float64
		patch bool
		want  bool
	}{{"50 mm", mend.Fill, 0.05, false, true}, {"2.1 mm", mend.Fill, 0.0021, false, true}, {"1.9 mm", mend.Fill, 0.0019, false, false}, {"a cut", mend.Fill, -0.05, false, false}, {"a patch there", mend.Fill, 0.05, true, false}, {"replaced", mend.Replace, 0.05, false, false}} {
		d := weighed(t)
		d.Roof.Cores, d.Ponds = []roof.Core{wet}, []mend.Pond{{ID: "P1", Sags: true, Pit: orb.Point{3, 5}}, {ID: "P2", Pit: orb.Point{3, 5}}}
		o := &Option{Kind: c.kind, Design: moved(d, c.up, 0)}
		if c.patch {
			o.mends = []*mend.Mend{{Kind: mend.Fill, Change: mend.Change{At: orb.Point{3, 5}}}, {Kind: mend.ReplacePatch, Change: mend.Change{At: orb.Point{3, 5}}}}
		}
		d.overWet(o)
		if limited(o.Limits, "new work over wet insulation") != c.want || limited(o.Limits, "new work over a sag") != c.want {
			t.Errorf("%s: %+v", c.name, o.Limits)
		}
		if c.want && (len(o.Limits) != 2 || o.Limits[0].Where != "K1" || o.Limits[1].Where != "P1") {
			t.Errorf("%s: %+v", c.name, o.Limits)
		}
	}
}

// TestInletsOfOverflowsUnderNewWork: where the surface at an overflow moves its inlet has to stand over it, to a millimetre; one that nobody measured is asked; one where nothing moves is not looked at.
func TestInletsOfOverflowsUnderNewWork(t *testing.T) {
	for _, c := range []struct {
		name       string
		x, up      float64
		invert     float64
		assumed    bool
		duty       roof.Duty
		kept, asks bool
		looked     bool
	}{
		{"over it", 3, 0.05, 3.06, false, roof.Overflow, true, false, true}, {"level with it, to 0.9 mm", 3, 0.05, 3.0491, false, roof.Overflow, true, false, true}, {"under it", 3, 0.05, 3.0489, false, roof.Overflow, false, false, true}, {"nobody measured it", 3, 0.05, 3, true, roof.Overflow, false, true, true}, {"nothing moves there", 9, 0.05, 1, false, roof.Overflow, false, false, false}, {"moves by 0.9 mm", 3, 0.0009, 1, false, roof.Overflow, false, false, false}, {"a primary", 3, 0.05, 1, false, roof.Primary, false, false, false},
	} {
		d := weighed(t)
		o := &Option{Design: moved(d, c.up, 0), Study: &study.Study{Surface: &surface.Surface{Outlets: []surface.Outlet{{Source: -1, Duty: roof.Overflow, Plan: orb.Point{3, 5}}, {Source: 0, Duty: c.duty, Plan: orb.Point{c.x, 5}, Invert: c.invert, Low: 3.05, InvertAssumed: c.assumed, Label: "SC-1"}}}}}
		d.overflows(o)
		if len(o.Checked) > 0 != c.kept || len(o.Unknown) > 0 != c.asks || len(o.Checked)+len(o.Limits)+len(o.Unknown) > 1 || c.looked != (len(o.Checked)+len(o.Limits)+len(o.Unknown) == 1) {
			t.Errorf("%s: kept %+v, broken %+v, asked %+v", c.name, o.Checked, o.Limits, o.Unknown)
		}
	}
}
