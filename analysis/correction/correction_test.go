package correction_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

const (
	foot = float64(quantity.Foot)
	inch = float64(quantity.Inch)
)

func corrected(tb testing.TB, r *roof.Roof, in correction.Input) *correction.Result {
	tb.Helper()
	s, err := study.Run(r, study.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	in.Study = s
	out, err := correction.Of(&in)
	if err != nil {
		tb.Fatal(err)
	}
	return out
}

func option(tb testing.TB, r *correction.Result, k mend.Kind) *correction.Option {
	tb.Helper()
	for i := range r.Options {
		if r.Options[i].Kind == k {
			return &r.Options[i]
		}
	}
	tb.Fatalf("no option %s", k)
	return nil
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %.2g", what, got, want, tolerance)
	}
}

// square is a level roof of 40 by 40 ft with walls of a height (0: not stated), a drain in the middle and an overflow drain 1 m beside it, 2 in up.
func square(wall float64) *roof.Roof {
	a := 40 * foot
	r := shape.New("square", shape.At(0, 0, 0), shape.At(a, 0, 0), shape.At(a, a, 0), shape.At(0, a, 0))
	shape.Grid(r, 0, 0, a, a, 8, 8, func(_, _ float64) float64 { return 0 })
	o := shape.Drain(r, a/2, a/2, 12*inch)
	o.Invert, o.HasInvert = 0, true
	o = shape.Drain(r, a/2+1, a/2, 6*inch)
	o.Duty, o.Invert, o.HasInvert = roof.Overflow, 2*inch, true
	if wall > 0 {
		for _, w := range [][4]float64{{0, 0, a, 0}, {a, 0, a, a}, {a, a, 0, a}, {0, a, 0, 0}} {
			shape.Edge(r, roof.Wall, shape.Bare(w[0], w[1]), shape.Bare(w[2], w[3]))
			r.Edges[len(r.Edges)-1].Height = quantity.Length(wall)
		}
	}
	return r
}

// sunk is a four-way fall of 12 by 12 m at 2 % whose drain is set 30 mm high, so that water stands round it.
func sunk() *roof.Roof {
	r := shape.Pyramid(12, 12, 0.02, 0.3)
	shape.Grid(r, -6, -6, 6, 6, 8, 8, func(x, y float64) float64 { return 0.02 * math.Max(math.Abs(x), math.Abs(y)) })
	r.Outlets[0].Invert, r.Outlets[0].HasInvert = 0.03, true
	return r
}

// TestOverlayOfSquare: from 1/2 in at 1/4 in per ft to the low centre: 6,133 board feet, 3.833 in on average, 5.5 in at the walls, by hand
// t0 + (2/3)*s*a/2. The overflow comes up with its primary outlet, as high over it as before.
func TestOverlayOfSquare(t *testing.T) {
	o := option(t, corrected(t, square(14*inch), correction.Input{}), mend.Overlay)
	if !o.Meets || o.PondsLeft != 0 || o.FlatLeft != 0 {
		t.Errorf("meets %t, %d ponds, %d planes, limits %+v", o.Meets, o.PondsLeft, o.FlatLeft, o.Limits)
	}
	near(t, "board feet", o.Fill/(foot*foot*inch), 6133.33, 1)
	near(t, "average", o.Average/inch, 23.0/6, 1e-3)
	near(t, "greatest", o.Greatest/inch, 5.5, 1e-3)
	near(t, "overflow", o.Roof.Outlets[1].Invert/inch, 2+0.5, 1e-3)
	near(t, "drain", o.Roof.Outlets[0].Invert/inch, 0.5, 1e-3)
	near(t, "valley", o.Valley, math.Sqrt(0.5)/48, 1e-9)
}

// TestFlashingHeight: with walls of 14 in 8.5 in are left, with 12 in 6.5 in, which is less than 8 in; with none stated the walls are named.
func TestFlashingHeight(t *testing.T) {
	for wall, left := range map[float64]float64{14: 8.5, 12: 6.5} {
		o := option(t, corrected(t, square(wall*inch), correction.Input{}), mend.Overlay)
		found := o.Checked
		if left < 8 {
			found = o.Limits
		}
		n := 0
		for _, l := range found {
			if l.Name == "flashing height" {
				n++
				near(t, "left in in", l.Available.Value/inch, left, 1e-3)
			}
		}
		if n != 4 || o.Meets != (left >= 8) {
			t.Errorf("walls of %g in: %d of 4 where they belong, meets %t", wall, n, o.Meets)
		}
	}
	r := corrected(t, square(0), correction.Input{})
	n := 0
	for _, l := range option(t, r, mend.Overlay).Unknown {
		if l.Name == "flashing height" {
			n++
		}
	}
	if n == 0 {
		t.Error("walls of no stated height were passed")
	}
}

// TestLimitInTheWay: where nothing but an overlay is allowed and the walls are too low, the result says which limit stands in the way.
func TestLimitInTheWay(t *testing.T) {
	r := corrected(t, square(12*inch), correction.Input{Steering: mend.Steering{Only: []mend.Kind{mend.Overlay}}})
	if r.Best >= 0 || r.InTheWay == nil || r.InTheWay.Name != "flashing height" {
		t.Errorf("best %d, in the way %+v", r.Best, r.InTheWay)
	}
	for i := range r.Options {
		if k := r.Options[i].Kind; k != mend.Overlay && k != mend.AsFound {
			t.Errorf("%s was not asked for", k)
		}
	}
}

// TestReplaceOnDeck: a level deck 4 in down: from 1 in at the drain, 4.333 in on average, by hand.
func TestReplaceOnDeck(t *testing.T) {
	replace := mend.Steering{Only: []mend.Kind{mend.Replace}}
	deck := func(orb.Point) (float64, float64, bool) { return -4 * inch, 0.003, true }
	o := option(t, corrected(t, square(14*inch), correction.Input{Deck: deck, Steering: replace}), mend.Replace)
	near(t, "average", o.Average/inch, 1+10.0/3, 1e-3)
	near(t, "drain", o.Roof.Outlets[0].Invert/inch, -3, 1e-3)
	if !o.Meets {
		t.Errorf("ponds %d, planes %d, limits %+v", o.PondsLeft, o.FlatLeft, o.Limits)
	}
	o = option(t, corrected(t, square(14*inch), correction.Input{Steering: replace}), mend.Replace)
	if o.Possible || o.Why.Format == "" {
		t.Error("insulation was designed on a deck that nobody knows")
	}
}

// TestHighOutlet: a drain 30 mm too high is set down to the roof round it. Its sump is level as far as half the bowl and 6 in, f = 0.3024 m, and meets
// the fall of 2 % where (n - f)/24 = 0.02 n, n = 0.5815 m; between them 0.16 n^3/3 - (n^3/3 - f n^2/2 + f^3/6)/3 m3 come out, by hand. Walls all round
// and no overflow: an engineer first, and no answer meets.
func TestHighOutlet(t *testing.T) {
	r := corrected(t, sunk(), correction.Input{})
	o := option(t, r, mend.LowerOutlet)
	if o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 || r.Answers[0].Option != 0 || r.Options[0].Kind != mend.LowerOutlet {
		t.Errorf("worse %+v, limits %+v, answer %+v", o.Worse, o.Limits, r.Answers[0])
	}
	if len(r.EngineerFirst) == 0 || r.Answers[0].Meets || r.Best >= 0 {
		t.Errorf("engineer %+v, meets %t, best %d", r.EngineerFirst, r.Answers[0].Meets, r.Best)
	}
	near(t, "invert", o.Roof.Outlets[0].Invert, 0, 1e-5)
	near(t, "cut", o.Cut, 0.0041453, 1e-6)
	near(t, "opened", o.Opened, 1.2192*1.2192+4*1.2192*0.1524, 1e-9) // four half boards a side, and 6 in round them
	for _, f := range o.Study.Listed {
		t.Errorf("pond %s is left", f.ID)
	}
}

// TestKeptOutlet: an outlet that is to stay is not set down; the roof is filled to it instead. The fill is the part of the hollow that lies below
// a plane rising from the drain, so it is no less than the water it held.
func TestKeptOutlet(t *testing.T) {
	r := corrected(t, sunk(), correction.Input{Steering: mend.Steering{Keep: []string{"O1"}}})
	for i := range r.Options {
		if o := &r.Options[i]; o.Roof != nil && o.Roof.Outlets[0].Invert < 0.03 {
			t.Errorf("%s: an outlet was set down that is to stay", o.Kind)
		}
	}
	o := option(t, r, mend.Fill)
	water := 4 * 0.03 * 0.03 * 0.03 / (3 * 0.02 * 0.02) // by hand: a pyramid upside down
	if o.PondsLeft > 0 || o.Fill < water {
		t.Errorf("meets %t, fill %g, water was %g", o.Meets, o.Fill, water)
	}
	near(t, "invert", o.Roof.Outlets[0].Invert, 0.03, 1e-9)
}

// TestWetCore: an overlay over wet insulation breaks a limit.
func TestWetCore(t *testing.T) {
	r := square(14 * inch)
	c := roof.Core{Position: shape.At(3, 3, 0), Layers: []roof.Layer{{Material: "polyiso", Thickness: 0.05, Condition: "wet"}}}
	c.ID = "K1"
	r.Cores = append(r.Cores, c)
	o := option(t, corrected(t, r, correction.Input{}), mend.Overlay)
	if o.Meets || limit(o.Limits, "new work over wet insulation", "K1") == nil || limit(o.Limits, "re-cover over wet insulation or two coverings", "K1") == nil {
		t.Errorf("meets %t, limits %+v", o.Meets, o.Limits)
	}
}

// TestRandomRoofs: whatever the roof, every option is whole: the roof that it says meets is checked by a run of its own, its elevations
// as good as those of the survey, and holds no listed pond.
func TestRandomRoofs(t *testing.T) {
	met := 0
	for seed := range uint64(10) {
		r := corrected(t, shape.Random(seed, 120), correction.Input{})
		for i := range r.Options {
			o := &r.Options[i]
			if !o.Possible && (o.Why.Format == "" || o.Meets) {
				t.Errorf("seed %d: %s is not possible and does not say why", seed, o.Kind)
			}
			if !o.Meets {
				continue
			}
			met++
			s, err := study.Run(o.Roof, study.Options{})
			if err != nil || len(s.Listed) != 0 {
				t.Errorf("seed %d: %s meets and leaves %d ponds (%v)", seed, o.Kind, len(s.Listed), err)
			}
		}
	}
	if met < 5 {
		t.Errorf("only %d options meet", met)
	}
}

// busy is a roof of 60 by 40 m that falls at 1.2 % to 16 drains, four of them 25 mm high, with ten curbs askew and about n spots on waves of half a millimetre.
func busy(n float64) *roof.Roof {
	h := func(x, y float64) float64 {
		u, v := math.Abs(math.Mod(x, 15)-7.5), math.Abs(math.Mod(y, 10)-5)
		return 0.012*math.Max(u, v) + 0.0005*math.Sin(3*x)*math.Sin(2*y)
	}
	r := shape.New("busy", shape.At(0, 0, h(0, 0)), shape.At(60, 0, h(60, 0)), shape.At(60, 40, h(60, 40)), shape.At(0, 40, h(0, 40)))
	for i := range 4 {
		for j := range 4 {
			o := shape.Drain(r, 7.5+15*float64(i), 5+10*float64(j), 0.3)
			if o.HasInvert = true; i == j {
				o.Invert = 0.025
			}
		}
	}
	for i := range 10 {
		x, y := 2+5.7*float64(i), 3+11*float64(i%3)
		shape.Curb(r, shape.Bare(x, y), shape.Bare(x+1.5, y+0.2), shape.Bare(x+1.3, y+1.7), shape.Bare(x-0.2, y+1.5))
	}
	k := math.Sqrt(n / 2400)
	shape.Grid(r, 0, 0, 60, 40, int(60*k), int(40*k), h)
	return r
}

// BenchmarkOf searches a roof with 16 outlets as a user does, from the study on.
func BenchmarkOf(b *testing.B) {
	for _, n := range []float64{300, 5000, 50000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s, err := study.Run(busy(n), study.Options{})
			if err != nil {
				b.Fatal(err)
			}
			b.Logf("%d spots, %d ponds", len(s.Roof.Spots), len(s.Listed))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := correction.Of(&correction.Input{Study: s}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
