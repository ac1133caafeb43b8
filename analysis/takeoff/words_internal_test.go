package takeoff

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/taper"
)

// begins says for each beginning whether a text begins so.
func begins(texts []finding.Text, begin string) bool {
	return slices.ContainsFunc(texts, func(s finding.Text) bool { return strings.HasPrefix(s.Format, begin) })
}

// TestAllowancesOfWhatIsThere: each allowance stands where what it speaks of is in the quantities, and nowhere else.
func TestAllowancesOfWhatIsThere(t *testing.T) {
	const volume = 1e-6 // from here on something is built
	texts := []string{
		"Waste:", "A plane counts as one", "Boards of", "Flat boards come in steps", "Stock:", "Boards are laid on the roof as it is", "Leveller and the flat boards", "Sump:", "Thin fill:", "Membrane opened:", "How much of a roof a local mend opens:", "Slope of the crickets:",
		"Edge strips taper", "Thickness is measured over the roof as surveyed", "The deck lies where cores",
	}
	for _, c := range []struct {
		name   string
		out    TakeOff
		option correction.Option
		want   []int
	}{
		{"nothing", TakeOff{Volume: volume, Cut: volume, Leveller: taper.Leveller{Volume: volume}}, correction.Option{}, []int{13}},
		{"built up", TakeOff{Volume: 1.1 * volume}, correction.Option{}, []int{0, 9, 10, 13}},
		{"cut", TakeOff{Cut: 1.1 * volume}, correction.Option{}, []int{9, 10, 13}},
		{"as much opened as a local mend", TakeOff{Cut: 1}, correction.Option{Opened: standard.LocalArea}, []int{9, 10, 13}},
		{"more opened than a local mend", TakeOff{Volume: 1}, correction.Option{Opened: standard.LocalArea * 1.001}, []int{0, 9, 13}},
		{"boards", TakeOff{Boards: &board.Layout{}, Stock: board.Usual()}, correction.Option{}, []int{1, 2, 4, 13}},
		{"boards that leave something short", TakeOff{Boards: &board.Layout{Short: 0.001}, Stock: board.Usual()}, correction.Option{}, []int{1, 2, 3, 4, 13}},
		{"boards of the user's own", TakeOff{Boards: &board.Layout{}}, correction.Option{}, []int{1, 2, 13}},
		{"leveller", TakeOff{Leveller: taper.Leveller{Volume: 1.1 * volume}}, correction.Option{}, []int{5, 6, 13}},
		{"sump", TakeOff{Fields: []Field{{Use: Rise}, {Use: Sump}}}, correction.Option{}, []int{7, 13}},
		{"fill", TakeOff{Fields: []Field{{Use: Fill}}}, correction.Option{}, []int{8, 13}},
		{"cricket", TakeOff{Fields: []Field{{Use: Cricket}}}, correction.Option{}, []int{11, 13}},
		{"strips", TakeOff{Strips: []Strip{{}}}, correction.Option{}, []int{12, 13}},
		{"replaced", TakeOff{}, correction.Option{Kind: mend.Replace}, []int{13, 14}},
	} {
		k := counted(t, `{}`, &c.out)
		k.option = &c.option
		k.allowances()
		for i, begin := range texts {
			if got, want := begins(k.out.Allowances, begin), slices.Contains(c.want, i); got != want {
				t.Errorf("%s: %q stands there %v", c.name, begin, got)
			}
		}
		if len(k.out.Allowances) != len(c.want) {
			t.Errorf("%s: %d allowances, want %d", c.name, len(k.out.Allowances), len(c.want))
		}
	}
}

// TestUsualStockIsNamed: for each figure of boards that is the usual one its source stands, for one of the user's own it does not; that it is common practice stands once.
func TestUsualStockIsNamed(t *testing.T) {
	of := []standard.Source{standard.BoardRatesSource, standard.BoardSizeSource, standard.BoardThinSource, standard.BoardThickestSource}
	for _, c := range []struct {
		name string
		own  func(s *board.Stock)
		not  []int
	}{
		{"usual", func(*board.Stock) {}, nil},
		{"rates", func(s *board.Stock) { s.Rates = s.Rates[1:] }, []int{0}},
		{"length", func(s *board.Stock) { s.Length *= 2 }, []int{1}},
		{"width", func(s *board.Stock) { s.Width *= 2 }, []int{1}},
		{"thin edge", func(s *board.Stock) { s.Thin *= 2 }, []int{2}},
		{"thickest", func(s *board.Stock) { s.Greatest *= 2 }, []int{3}},
		{"rates and thickest", func(s *board.Stock) { s.Rates, s.Greatest = s.Rates[1:], 2*s.Greatest }, []int{0, 3}},
	} {
		s := board.Usual()
		s.Rates = slices.Clone(s.Rates)
		c.own(&s)
		k := counted(t, `{}`, &TakeOff{})
		k.usualBoards(s)
		said := k.out.Allowances[0].Format
		for i, source := range of {
			if got := strings.Contains(said, strings.TrimPrefix(source.Text, standard.CommonPractice)); got == slices.Contains(c.not, i) {
				t.Errorf("%s: source %d stands there %v: %s", c.name, i, got, said)
			}
		}
		if n := strings.Count(said, standard.CommonPractice); n != 1 || !strings.HasPrefix(said, "Stock: ") || !strings.HasSuffix(said, ".") {
			t.Errorf("%s: %q", c.name, said)
		}
	}
	k := counted(t, `{}`, &TakeOff{})
	if k.usualBoards(board.Stock{}); len(k.out.Allowances) != 0 {
		t.Errorf("nothing usual: %+v", k.out.Allowances)
	}
}

// TestExclusionsOfCovering: membrane and covering are left out only where something is built up or cut; the rest always.
func TestExclusionsOfCovering(t *testing.T) {
	for _, c := range []struct {
		out  TakeOff
		want int
	}{{TakeOff{Volume: 1e-6, Cut: 1e-6}, 4}, {TakeOff{Volume: 1.1e-6}, 6}, {TakeOff{Cut: 1.1e-6}, 6}} {
		k := counted(t, `{}`, &c.out)
		k.exclusions()
		if len(k.out.Exclusions) != c.want || begins(k.out.Exclusions, "Membrane") != (c.want == 6) {
			t.Errorf("%+v", k.out.Exclusions)
		}
	}
}

// TestWhoApproves: from what the option changes. The weight on top is the greatest height times the material's weight, of what is counted, outlets set anew ask a plumber, new ones an engineer too, overflows both.
func TestWhoApproves(t *testing.T) {
	reset := Item{What: finding.Say("drains and scuppers set to a new level"), Value: 2}
	overflow := Item{What: finding.Say("overflows set to a new level"), Value: 1}
	drains, scuppers := Item{What: finding.Say(newDrains), Value: 3}, Item{What: finding.Say(newScuppers), Value: 4}
	for _, c := range []struct {
		name   string
		out    TakeOff
		option correction.Option
		want   map[string]string // who: words of the reason
	}{
		{"nothing", TakeOff{}, correction.Option{}, nil},
		{"built up", TakeOff{Volume: 1, Highest: 0.1}, correction.Option{}, map[string]string{Engineer: "Built up by {0} at most with insulation, which weighs {1}", Warranty: "opened or built upon"}},
		{"built up by less than is seen", TakeOff{Volume: 1, Highest: mend.Seen}, correction.Option{}, map[string]string{Warranty: "opened or built upon"}},
		{"no more than rounding", TakeOff{Volume: 1e-6, Highest: 0.1, Cut: 1e-6}, correction.Option{}, nil},
		{"cut", TakeOff{Cut: 1}, correction.Option{}, map[string]string{Energy: "what is left under the cut is not known", Warranty: "opened or built upon"}},
		{"cut, and what is left is known", TakeOff{Cut: 1, Thermal: Thermal{After: Resistance{Known: true}}}, correction.Option{}, map[string]string{Warranty: "opened or built upon"}},
		{"less resistance", TakeOff{Thermal: Thermal{Reduced: true, Lost: 1, LostFrom: 4}}, correction.Option{}, map[string]string{Energy: "falls in places, by {0}"}},
		{"replaced", TakeOff{}, correction.Option{Kind: mend.Replace}, map[string]string{Energy: "energy code asks of a replacement", Building: "The roof is replaced."}},
		{"covered over", TakeOff{}, correction.Option{Kind: mend.Overlay}, map[string]string{Building: "covered over what is there"}},
		{"outlets set anew", TakeOff{Items: []Item{reset}}, correction.Option{}, map[string]string{Plumbing: "new or stand at a new level: {0}."}},
		{"new drains", TakeOff{Items: []Item{drains}}, correction.Option{}, map[string]string{Plumbing: "new or stand at a new level", Engineer: "Openings for new outlets"}},
		{"an overflow", TakeOff{Items: []Item{overflow}}, correction.Option{}, map[string]string{Plumbing: "Overflows set to a new level", Engineer: "how deep water may stand"}},
		{"all of them", TakeOff{Items: []Item{reset, overflow, drains, scuppers}}, correction.Option{}, map[string]string{Plumbing: "Overflows set to a new level", Engineer: "how deep water may stand"}},
	} {
		k := counted(t, `{}`, &c.out)
		k.option = &c.option
		k.material, _ = standard.FindMaterial("polyiso")
		k.approvals()
		if len(k.out.Approvals) != len(c.want) {
			t.Errorf("%s: %+v", c.name, k.out.Approvals)
		}
		for _, a := range k.out.Approvals {
			if words, ok := c.want[a.Who]; !ok || !strings.Contains(a.Why.Format, words) {
				t.Errorf("%s: %s: %s", c.name, a.Who, a.Why.Format)
			}
		}
	}
	k := counted(t, `{}`, &TakeOff{Volume: 1, Highest: 0.1, Thermal: Thermal{Reduced: true, Lost: 1, LostFrom: 4}, Items: []Item{reset, drains, scuppers}})
	k.material, _ = standard.FindMaterial("polyiso")
	k.approvals()
	values := map[string][]float64{}
	for _, a := range k.out.Approvals {
		for _, q := range a.Why.Args {
			values[a.Who] = append(values[a.Who], q.Value)
		}
	}
	// Polyiso at 1/4 psf an inch; a clause's figure for a second layer of 3 psf; 7 new outlets, 9 that are new or set anew; a quarter of the resistance gone.
	psf := quantity.PoundPerSquareFoot
	for who, want := range map[string][]float64{Engineer: {0.1, 0.1 / inch * 0.25 * psf, 3 * psf, 7}, Plumbing: {9}, Energy: {0.25}} {
		got := values[who]
		if len(got) != len(want) {
			t.Fatalf("%s: %v", who, got)
		}
		for i := range want {
			near(t, who, got[i], want[i], 1e-6*want[i])
		}
	}
	for _, m := range []struct {
		of   standard.Material
		want bool
	}{{standard.Material{WeightKnown: true, Weight: 1}, true}, {standard.Material{WeightKnown: true}, false}, {standard.Material{Weight: 1}, false}} {
		if k.material = &m.of; k.weighs() != m.want {
			t.Errorf("%+v weighs %v", m.of, !m.want)
		}
	}
}

// TestTally: over half a square of 2 m R is 1, over the other half 3 m2 K/W: on average 2; heat goes by the mean of 1/(R + films). Films are standard.AirFilms.
func TestTally(t *testing.T) {
	w := newTally()
	w.add(rectangle(1, 2), []float64{1, 1, 1, 1})
	w.add([]orb.Point{{1, 0}, {2, 0}, {2, 2}, {1, 2}}, []float64{3, 3, 3, 3})
	r := w.resistance()
	films := standard.AirFilms
	u := (1/(1+films) + 1/(3+films)) / 2
	if !r.Known || r.Least != 1 || r.Greatest != 3 {
		t.Errorf("%+v", r)
	}
	near(t, "average", r.Average, 2, 1e-12)
	near(t, "U", r.U, u, 1e-9)
	near(t, "true R", r.True, 1/u-films, 1e-9)
	// A small area counts like a large one; none is none.
	w = newTally()
	w.add(rectangle(0.1, 0.2), []float64{1, 2, 2, 1})
	if r = w.resistance(); !r.Known || !(math.Abs(r.Average-1.5) <= 1e-12) {
		t.Errorf("%+v", r)
	}
	if r = (&tally{}).resistance(); r.Known || r.Why != "no area" {
		t.Errorf("%+v", r)
	}
}

// TestResistanceOfNewInsulation: which fields have a resistance of their own: what is laid in boards and what is cut to measure as thick as the thinnest board within the tolerance; no cut, no feathered fill. A thickness below nothing counts as none.
func TestResistanceOfNewInsulation(t *testing.T) {
	thin := float64(board.Usual().Thin)
	for _, c := range []struct {
		name  string
		f     Field
		known bool
	}{
		{"laid", Field{Volume: 1, Laid: true, Use: Fill}, true},
		{"to measure", Field{Volume: 1, Use: Taper, Thinnest: thin}, true},
		{"to measure, within the tolerance", Field{Volume: 1, Use: Taper, Thinnest: thin - 0.0029}, true},
		{"to measure, thinner", Field{Volume: 1, Use: Taper, Thinnest: thin - 0.0031}, false},
		{"fill", Field{Volume: 1, Use: Fill, Thinnest: thin}, false},
		{"nothing", Field{Volume: 0.9e-6, Laid: true}, false},
	} {
		k := one(4, 2, under(4, 2, 0.1, 0, 0))
		k.material, _ = standard.FindMaterial("polyiso")
		k.out.Fields[0] = c.f
		k.thermal()
		n := k.out.Thermal.New
		if n.Known != c.known {
			t.Errorf("%s: %+v", c.name, n)
		}
		if c.known {
			near(t, c.name, n.Average, 0.1*k.material.PerMetre, 1e-9)
		}
		if k.out.Thermal.Own || k.out.Thermal.Source != k.material.RSource.Text || (k.out.Thermal.Note.Format != "") != c.known {
			t.Errorf("%s: %+v", c.name, k.out.Thermal)
		}
		if k.out.Thermal.Before.Why != "no cores say what is there" || k.out.Thermal.After.Why != k.out.Thermal.Before.Why {
			t.Errorf("%s: %+v", c.name, k.out.Thermal.Before)
		}
	}
	k := one(4, 2, under(4, 2, -0.1, 0.05, 0))
	k.material, _ = standard.FindMaterial("polyiso")
	k.out.Fields[0] = Field{Volume: 1, Laid: true}
	k.in.PerMetre = 0.5 // hardly an insulation, but the user says so
	k.thermal()
	if n := k.out.Thermal; n.New.Least != 0 || !n.Own || n.PerMetre != 0.5 || n.Source != "as the user states it" {
		t.Errorf("%+v", n)
	}
	near(t, "greatest", k.out.Thermal.New.Greatest, 0.05, 1e-12)
}

// TestNoResistanceWithoutCores: why there is no comparison: an assembly says why where there are cores; without them nobody says.
func TestNoResistanceWithoutCores(t *testing.T) {
	for _, c := range []struct {
		cores int
		why   string
		want  string
	}{{0, "the cores differ", "no cores say what is there"}, {1, "the cores differ", "the cores differ"}, {1, "", "no cores say what is there"}} {
		k := one(4, 2, under(4, 2, 0.1, 0, 0))
		k.in.Study = &study.Study{Roof: withCores(c.cores), Assembly: &assembly.Result{R: assembly.Resistance{Why: c.why}}}
		k.wholeRoof()
		if th := k.out.Thermal; th.Before.Why != c.want || th.After.Why != c.want || th.Before.Known {
			t.Errorf("%+v: %+v", c, th)
		}
		if deck := k.deck(); (deck != nil) != (c.cores > 0) {
			t.Errorf("%d cores: a deck %v", c.cores, deck != nil)
		}
	}
}

// withCores is a roof of so many cores.
func withCores(n int) *roof.Roof { return &roof.Roof{Cores: make([]roof.Core, n)} }
