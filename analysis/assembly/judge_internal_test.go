package assembly

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

// Of a drop of 40 mm known to 2 mm, two of which are the doubt, the insulation is thin where it is thinner by more than 24 mm, half and the doubt, and the deck is low where it lies lower by as much; both where each is over 14 mm, a quarter and the doubt. Of a drop under 5 mm
// only insulation that is thinner by three standard errors tells anything.
func TestVerdictOnAPond(t *testing.T) {
	for _, c := range []struct {
		drop, thinner, deck float64 // mm
		want                PondCause
	}{
		{40, 24.1, 13.9, InsulationThin},
		{40, 23.9, 13.9, 0},
		{40, 13.9, 24.1, DeckLow},
		{40, 13.9, 23.9, 0},
		{40, 14.1, 14.1, DeckLowAndThin},
		{40, 30, 14.1, DeckLowAndThin},
		{40, 14.1, 30, DeckLowAndThin},
		{40, -5, 45, DeckLow},
		{40, 0, 0, 0},
		{4.9, 6.1, 40, InsulationThin},
		{4.9, 5.9, 40, 0},
		{5.1, 6.7, 0, InsulationThin}, // 2.55 and 4
		{5.1, 6.4, 0, 0},
	} {
		p := Pond{Drop: c.drop / 1000, Thinner: c.thinner / 1000, DeckDrop: c.deck / 1000, Sigma: 0.002}
		if p.judge(); p.Cause != c.want {
			t.Errorf("a drop of %g mm, thinner by %g, the deck lower by %g: %d, want %d", c.drop, c.thinner, c.deck, p.Cause, c.want)
		}
	}
}

// Where the surface is level and the insulation falls t with an error of v, by hand in percent: it takes away what the deck falls where t is over 3 v and
// t + 3 v over 1.04 (1/8 in per ft); nothing slopes where t + 3 v is under that.
func TestVerdictUnderALevelSurface(t *testing.T) {
	for _, c := range []struct {
		t, v float64
		want Verdict
	}{{2, 0.1, TaperFights}, {0.9, 0.1, TaperFights}, {2, 0.7, NotResolved}, {0.5, 0.1, NothingSlopes}, {0.2, 0.3, NotResolved}, {0, 0.3, NothingSlopes}} {
		variance := c.v * c.v / 1e4
		if got := judge(Gradient{}, Gradient{X: c.t / 100 * 0.6, Y: c.t / 100 * 0.8, XX: variance, YY: variance}); got != c.want {
			t.Errorf("%g %% known to %g: %v, want %v", c.t, c.v, got, c.want)
		}
	}
	// A plane through five cores leaves two of them to speak against it, a share of the surface's fall three.
	if _, free := (&fit{n: 5}).misfit(); free != 2 {
		t.Errorf("a plane leaves %d", free)
	}
	if _, free := (&shareFit{n: 5}).misfit(); free != 3 {
		t.Errorf("a share leaves %d", free)
	}
}

// usableAt is a core of a pond, -1 outside, that counts, of a thickness known to 2 mm.
func usableAt(x, y float64, pond int32, thickness float64, flags ...Flag) Core {
	return Core{Plan: orb.Point{x, y}, Pond: pond, HasThickness: true, HasSurface: true, Thickness: thickness, Sigma: 0.002, Flags: flags}
}

// The core to compare with is the nearest outside the pond that counts, by its distance in plan; of equally near ones the first.
func TestNearestOutside(t *testing.T) {
	r := &Result{Cores: []Core{
		usableAt(10, 50, 0, 0.1), usableAt(11, 50, 0, 0.1), usableAt(10, 46, -1, 0.1), usableAt(13, 54, 1, 0.1), usableAt(10, 48, -1, 0.1), usableAt(12, 50, -1, 0.1), usableAt(10, 51, -1, 0.1),
	}}
	r.Cores[6].HasSurface = false
	for _, c := range []struct{ pond, core, want int }{{0, 0, 4}, {0, 1, 5}, {1, 3, 5}} {
		if got := nearestOutside(r, c.pond, c.core); got != c.want {
			t.Errorf("nearest to core %d, outside pond %d: %d, want %d", c.core, c.pond, got, c.want)
		}
	}
	alone := &Result{Cores: []Core{usableAt(0, 0, 0, 0.1), usableAt(1, 0, 0, 0.1)}}
	if got := nearestOutside(alone, 0, 0); got != -1 {
		t.Errorf("outside there is none: %d", got)
	}
}

// By one core outside the insulation is told to be thin where the core inside is wet or pressed and thinner by more than three errors of the difference, 8.49 mm.
func TestBySingleCores(t *testing.T) {
	for _, c := range []struct {
		thickness float64
		flags     []Flag
		thin      bool
	}{{0.0914, []Flag{LayerWet}, true}, {0.0916, []Flag{LayerWet}, false}, {0.0914, []Flag{LayerPressed}, true}, {0.08, nil, false}, {0.12, []Flag{LayerWet}, false}} {
		r := &Result{Cores: []Core{usableAt(0, 0, 0, c.thickness, c.flags...), usableAt(1, 0, 0, 0.1), usableAt(4, 0, -1, 0.1), usableAt(9, 0, -1, 0.2)}}
		p := Pond{Inside: []int{0, 1}}
		(&finder{}).single(r, 0, &p)
		if (p.Cause == InsulationThin) != c.thin || !slices.Equal(p.Outside, []int{2}) {
			t.Errorf("%g m, %v: %d by cores %v", c.thickness, c.flags, p.Cause, p.Outside)
		}
	}
}

// cut is a core of insulating layers, thickness and resistance by turns.
func cut(layers ...float64) Core {
	c := Core{HasThickness: true}
	for i := 0; i < len(layers); i += 2 {
		c.Layers = append(c.Layers, Layer{Thickness: layers[i], R: layers[i+1], insulates: layers[i+1] > 0})
		c.R += layers[i+1]
	}
	return c
}

// Resistance per metre of what varies. By hand: cores of 50, 100 and 150 mm of one insulant of 40 a metre vary by 40; on a flat board of another with 25 a metre under each still by 40. Cores that are alike have the mean of the insulation in them, 1 + 4 over 0.04 + 0.1 m; a deck that
// insulates nothing does not count. What would come out beyond the insulants cut is held to them, and without any there is none.
func TestPerMetre(t *testing.T) {
	for _, c := range []struct {
		name  string
		cores []Core
		want  float64
		ok    bool
	}{
		{"a taper", []Core{cut(0.05, 2), cut(0.1, 4), cut(0.15, 6)}, 40, true},
		{"a taper on flat boards", []Core{cut(0.05, 2, 0.04, 1), cut(0.1, 4, 0.04, 1), cut(0.15, 6, 0.04, 1)}, 40, true},
		{"alike", []Core{cut(0.1, 4, 0.04, 1), cut(0.1, 4, 0.04, 1)}, 5 / 0.14, true},
		{"alike, on a deck", []Core{cut(0.1, 4, 0.2, 0), cut(0.1, 4, 0.2, 0)}, 40, true},
		{"one", []Core{cut(0.1, 4)}, 40, true},
		{"thicker and of less", []Core{cut(0.05, 2), cut(0.1, 1)}, 10, true},   // -20 a metre is held to 10
		{"thicker and of more", []Core{cut(0.05, 0.5), cut(0.1, 4)}, 40, true}, // 70 a metre is held to 40
		{"nothing that insulates", []Core{cut(0.1, 0)}, 0, false},
		{"no core", nil, 0, false},
	} {
		r := &Result{Cores: append(slices.Clone(c.cores), Core{R: 9, Layers: []Layer{{Thickness: 1, R: 9, insulates: true}}})} // one whose thickness is not known
		k, ok := r.perMetre(float64(len(c.cores)))
		if ok != c.ok || !(math.Abs(k-c.want) <= 1e-9) {
			t.Errorf("%s: %g a metre, %v, want %g", c.name, k, ok, c.want)
		}
	}
}

// By hand, a pond against 100 mm on a deck at 5 m, known to 1 mm between four readings good to 2 mm: of two cores in it the one good to 1 mm counts four times as much as the one good to 2 mm. Thinner by 10 and 40 mm are 16 mm, lower by 20 and 50 mm are 26 mm, each deck by 10 mm; the error is that of both cores, 2 mm / root 5, and of what they are compared with.
func TestPondAgainstItsRegion(t *testing.T) {
	around := func(value float64) fit {
		var rs []reading
		for _, p := range []orb.Point{{9, 4}, {11, 4}, {9, 6}, {11, 6}} {
			rs = append(rs, reading{p, value, 0.002})
		}
		f, _ := fitPlane(rs)
		return f
	}
	g := &Region{Kind: OnPlane, thickness: around(0.1), deck: around(5), Used: []int{7}}
	r := &Result{Cores: []Core{
		{Plan: orb.Point{10, 5}, Thickness: 0.09, Deck: 4.99, Surface: 5.08, Sigma: 0.001, HasThickness: true, HasSurface: true},
		{Plan: orb.Point{10, 5}, Thickness: 0.06, Deck: 4.99, Surface: 5.05, Sigma: 0.002, HasThickness: true, HasSurface: true},
		{Plan: orb.Point{10, 5}, Thickness: 9, Sigma: 0.001, HasThickness: true}, // its elevation is not known
	}}
	p := &Pond{Inside: []int{0, 1, 2}}
	(&finder{}).against(r, p, g)
	for what, c := range map[string][2]float64{
		"thinner": {p.Thinner, 0.016}, "lower": {p.Drop, 0.026}, "deck lower": {p.DeckDrop, 0.01}, "error": {p.Sigma, math.Hypot(0.002/math.Sqrt(5), 0.001)},
	} {
		if !(math.Abs(c[0]-c[1]) <= 1e-9) {
			t.Errorf("%s: %g, want %g", what, c[0], c[1])
		}
	}
	if !p.Compared || !slices.Equal(p.Outside, []int{7}) {
		t.Errorf("%+v", p)
	}
}

// A share of insulation is judged by its error as far as the cores scatter about it. By hand: six cores 0.1 m of height apart, thicker and thinner by d in turn at both ends, show no share, and leave 4 d2 squares with 4 degrees of freedom; the sum of squares of heights about their mean is 0.175 m2. At d of 1.79 errors the error of the share is
// 1.79 times as large as theirs alone says: the structure slopes where three of them stay within what is minor, and where only the smaller ones do nobody can tell.
func TestScatterOfASharesCores(t *testing.T) {
	for scatter, want := range map[float64]Verdict{0: StructureSlopes, 1.79: NotResolved} {
		sigma := minor / sure / 1.3 * math.Sqrt(0.175)
		var cores []Core
		g := &Region{}
		for i, up := range []float64{1, -1, 0, 0, -1, 1} {
			c := usableAt(float64(i), 0, -1, 0.1+up*scatter*sigma)
			c.Surface, c.Deck, c.Sigma = 0.1*float64(i), 0.1*float64(i)-c.Thickness, sigma
			cores = append(cores, c)
			g.Cores = append(g.Cores, i)
		}
		(&finder{}).fitShare(cores, g)
		if g.Verdict != want || !(math.Abs(g.Share) <= 1e-9) || !(math.Abs(g.ShareSigma/(minor/sure/1.3*math.Max(1, scatter))-1) <= 1e-9) {
			t.Errorf("off by %g errors: %v, share %g give or take %g, want %v", scatter, g.Verdict, g.Share, g.ShareSigma, want)
		}
	}
}

// A pond in which no core counts is compared with nothing.
func TestPondWithoutACoreThatCounts(t *testing.T) {
	p := &Pond{Inside: []int{0}}
	(&finder{}).against(&Result{Cores: []Core{{Plan: orb.Point{1, 1}, Pond: 0}}}, p, &Region{})
	if p.Compared || p.Sigma != 0 {
		t.Errorf("%+v", p)
	}
}

// Cores that disagree need six in all to show which one is odd.
func TestHowManyCoresShowTheOddOne(t *testing.T) {
	for next, want := range map[int]bool{1: false, 2: true, 3: true} {
		if got := (&finder{}).settles(&Region{disagree: true, Used: []int{0, 1, 2, 3}, Next: make([]orb.Point, next)}, normal{}); got != want {
			t.Errorf("four and %d: %v", next, got)
		}
	}
}

// A finding is made of each region in which taper and structure fall against each other, and of no other.
func TestRegionsThatFight(t *testing.T) {
	for _, v := range []Verdict{NotResolved, NothingSlopes, StructureSlopes, InsulationTapers, BothSlope, TaperFights} {
		want := 0
		if v == TaperFights {
			want = 1
		}
		if got := (&Result{Cores: []Core{{}}, Regions: []Region{{Verdict: v, Kind: OnRoof, Used: []int{0}}}}).Findings(); len(got) != want {
			t.Errorf("%v: %d findings", v, len(got))
		}
	}
}
