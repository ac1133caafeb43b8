package assembly_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/analysis/roof"
)

// ponded is a roof with a compressed board in its middle, or a sagging bay, measured with cores at the given places.
func ponded(sagging bool, cores ...orb.Point) *roof.Roof {
	hollow := bowl(2.5, 0.055)
	p := planted{deck: rising(0.0104), thickness: func(x, y float64) float64 { return 0.1 - hollow(x, y) }, flute: -1, step: 1, cores: cores}
	if sagging {
		p.deck, p.thickness = func(x, y float64) float64 { return 10 + 0.0104*y - hollow(x, y) }, even
	}
	return p.measure(7)
}

// around are cores outside of the hollow.
func around() []orb.Point { return []orb.Point{{3, 2}, {20, 3}, {4, 10}, {21, 9.5}, {18, 6.5}} }

// TestPondAsksForACoreInside: without a core in the pond nothing is said of it but where to cut: in its water.
func TestPondAsksForACoreInside(t *testing.T) {
	for _, cores := range [][]orb.Point{nil, around()} {
		r := assembly.Of(study(t, ponded(false, cores...), false))
		p := r.Ponds[0]
		if p.Cause != assembly.PondNotResolved || !p.HasNext || len(p.Inside) != 0 {
			t.Fatalf("%d cores: %+v", len(cores), p)
		}
		if d := (p.Next[0]-12)*(p.Next[0]-12) + (p.Next[1]-6)*(p.Next[1]-6); d > 4 {
			t.Errorf("%d cores: next at %v, the water stands round (12, 6)", len(cores), p.Next)
		}
		if !strings.Contains(p.NextWhy.Format, "asbestos") || !strings.Contains(p.Sentence.Format, "no core was cut in the pond") {
			t.Errorf("%q; %q", p.Sentence.Format, p.NextWhy.Format)
		}
	}
}

// TestPondAsksForCoresOutside: with cores in the pond alone it asks for one outside.
func TestPondAsksForCoresOutside(t *testing.T) {
	r := assembly.Of(study(t, ponded(false, orb.Point{12, 5.6}), false))
	p := r.Ponds[0]
	if p.Cause != assembly.PondNotResolved || !p.HasNext || len(p.Inside) != 1 || p.Compared {
		t.Fatalf("%+v", p)
	}
	if d := (p.Next[0]-12)*(p.Next[0]-12) + (p.Next[1]-6)*(p.Next[1]-6); d < 1 || d > 25 {
		t.Errorf("next at %v, want one near the pond and outside", p.Next)
	}
}

// TestPondReasons: what the layers in the pond say of why the insulation is thin there.
func TestPondReasons(t *testing.T) {
	for _, c := range []struct {
		condition string
		split     bool // the cores outside have a layer more
		want      assembly.Reason
	}{{"compressed", false, assembly.Compressed}, {"wet", false, assembly.WetThrough}, {"sound", true, assembly.Missing}, {"sound", false, assembly.Shrunk}} {
		r := ponded(false, append(around(), orb.Point{12, 5.6}, orb.Point{12.2, 6.2})...)
		for i := range r.Cores {
			l := &r.Cores[i].Layers
			if i >= 5 {
				(*l)[1].Condition = c.condition
			} else if c.split {
				(*l)[1].Thickness -= 0.02
				*l = append(*l, roof.Layer{Material: "perlite", Thickness: 0.02})
			}
		}
		got := assembly.Of(study(t, r, false))
		p := got.Ponds[0]
		if p.Cause != assembly.InsulationThin || p.Why != c.want || !strings.Contains(p.Sentence.Format, string(c.want)) {
			t.Errorf("%s: %s, %q", c.condition, p.Cause, p.Why)
		}
		kinds := kindsOf(got)
		if !slices.Contains(kinds, finding.InsulationThin) || slices.Contains(kinds, finding.DeckLow) {
			t.Errorf("%s: findings %v", c.condition, kinds)
		}
		if wet := slices.Contains(kinds, finding.InsulationWet); wet != (c.condition == "wet") {
			t.Errorf("%s: findings %v", c.condition, kinds)
		}
	}
}

func kindsOf(r *assembly.Result) []finding.Kind {
	var out []finding.Kind
	for _, f := range r.Findings() {
		out = append(out, f.Kind)
	}
	return out
}

// TestOneCoreEachSide: with one core in the pond and one outside, only a layer seen to be compressed and clearly thinner tells.
func TestOneCoreEachSide(t *testing.T) {
	for condition, want := range map[string]assembly.PondCause{"compressed": assembly.InsulationThin, "sound": assembly.PondNotResolved} {
		r := ponded(false, orb.Point{12, 6}, orb.Point{18, 6})
		r.Cores[0].Layers[1].Condition = condition
		if p := assembly.Of(study(t, r, false)).Ponds[0]; p.Cause != want {
			t.Errorf("%s: %s, want %s", condition, p.Cause, want)
		}
	}
}

// TestSoftDeck: a soft deck under a pond is urgent and an engineer's.
func TestSoftDeck(t *testing.T) {
	r := ponded(true, append(around(), orb.Point{12, 5.6}, orb.Point{12.2, 6.2})...)
	r.Cores[6].Deck = "wood, soft"
	got := assembly.Of(study(t, r, false))
	p := got.Ponds[0]
	if p.Cause != assembly.DeckLow || !p.Soft || !strings.HasPrefix(p.Sentence.Format, "The deck is soft") {
		t.Errorf("%s, soft %v: %q", p.Cause, p.Soft, p.Sentence.Format)
	}
	fs := got.Findings()
	if !slices.ContainsFunc(fs, func(f finding.Finding) bool {
		return f.Kind == finding.DeckSoft && f.Severity == finding.Urgent && f.Decides == finding.Engineer
	}) || !slices.Contains(kindsOf(got), finding.DeckLow) {
		t.Errorf("findings %v", kindsOf(got))
	}
}

// TestDeckLowAndThin: where both are low, both are said.
func TestDeckLowAndThin(t *testing.T) {
	half := bowl(3, 0.06)
	p := planted{
		deck:      func(x, y float64) float64 { return 10 + 0.0104*y - half(x, y) },
		thickness: func(x, y float64) float64 { return 0.1 - half(x, y) },
		flute:     -1, step: 1, cores: append(around(), orb.Point{12, 5.6}, orb.Point{12.2, 6.2}, orb.Point{11.7, 6}),
	}
	r := p.measure(3)
	for i := range r.Cores {
		r.Cores[i].Cutter = "hand"
	}
	if got := assembly.Of(study(t, r, false)); got.Ponds[0].Cause != assembly.DeckLowAndThin {
		t.Errorf("%s: %+v", got.Ponds[0].Cause, got.Ponds[0])
	}
}

// TestFindingsAreWhole: every finding's places have their numbers, and none claims a pond or an outlet.
func TestFindingsAreWhole(t *testing.T) {
	p := planted{deck: rising(0.03), thickness: func(_, y float64) float64 { return 0.2 - 0.01*y }, cores: field(), flute: -1, step: 2}
	fight := p.measure(1)
	odd := withCores(sloped(), []float64{3, 3, 3, 3, 3, 3})
	cut(odd, "hand", append(lines(), orb.Point{25, 15}), 3, 3, 3, 3, 3, 3, 4.4)
	odd.Cores = append(odd.Cores[:6], odd.Cores[12])
	odd.Cores[6].Reached = ""
	wet := ponded(false, append(around(), orb.Point{12, 5.6}, orb.Point{12.2, 6.2})...)
	wet.Cores[0].Layers[1].Condition, wet.Cores[1].Layers[1].Condition, wet.Cores[2].Deck = "wet", "compressed", "rotten {0} wood"
	seen := map[finding.Kind]bool{}
	for _, r := range []*roof.Roof{fight, odd, wet, ponded(true, append(around(), orb.Point{12, 5.6}, orb.Point{12.2, 6.2})...)} {
		for _, f := range assembly.Of(study(t, r, false)).Findings() {
			seen[f.Kind] = true
			for _, text := range []finding.Text{f.What, f.Where, f.Why, f.Do} {
				said := text.Fill(func(finding.Quantity) string { return "n" })
				if said == "" || strings.ContainsAny(said, "{}") {
					t.Errorf("%s says %q", f.Kind, said)
				}
			}
			if f.Geometry == nil || f.Decides == "" || f.Source == "" || f.Pond != -1 || f.Outlet != -1 {
				t.Errorf("%+v", f)
			}
		}
	}
	for _, k := range []finding.Kind{finding.InsulationWet, finding.InsulationThin, finding.DeckLow, finding.DeckSoft, finding.TaperAgainstDeck, finding.CoreOdd} {
		if !seen[k] {
			t.Errorf("no finding %s", k)
		}
	}
}

// TestOrderDoesNotMatter: the same cores in another order give the same numbers.
func TestOrderDoesNotMatter(t *testing.T) {
	r := ponded(false, append(around(), orb.Point{12, 5.6}, orb.Point{12.2, 6.2})...)
	a := assembly.Of(study(t, r, false))
	slices.Reverse(r.Cores)
	b := assembly.Of(study(t, r, false))
	near := func(x, y float64) bool { return x-y < 1e-9 && y-x < 1e-9 }
	if a.Ponds[0].Cause != b.Ponds[0].Cause || !near(a.Ponds[0].Thinner, b.Ponds[0].Thinner) || !near(a.Regions[0].Share, b.Regions[0].Share) {
		t.Errorf("%+v\n%+v", a.Ponds[0], b.Ponds[0])
	}
}
