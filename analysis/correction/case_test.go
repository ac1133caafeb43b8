package correction_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// variant is a roof's size, datum and unit.
type variant struct {
	name       string
	scale, sum float64 // of plan lengths; added to elevations [m]
	feet       bool    // its heights are read to the hundredth of a foot
}

// sizes are the variants of each roof: as it is, larger and surveyed in feet, and with heights in a datum of its own.
var sizes = []variant{{"small", 1, 0, false}, {"large", 1.6, 0, true}, {"high datum", 1.2, 31.4, false}}

// surveyed returns r with its heights read in the unit of the variant.
func (v *variant) surveyed(r *roof.Roof) *roof.Roof {
	if v.feet {
		shape.ReadInFeet(r)
	}
	return r
}

// falls is a walled roof of nx by ny four-way falls of 2 % with a drain and an overflow drain in each; change alters the surface.
func falls(nx, ny int, bay, datum float64, change func(x, y float64) float64) *roof.Roof {
	l, w := float64(nx)*bay, float64(ny)*bay
	h := func(x, y float64) float64 {
		u, v := math.Abs(math.Mod(x, bay)-bay/2), math.Abs(math.Mod(y, bay)-bay/2)
		return datum + 0.02*math.Max(u, v) + change(x, y)
	}
	r := shape.New("falls", shape.At(0, 0, h(0, 0)), shape.At(l, 0, h(l, 0)), shape.At(l, w, h(l, w)), shape.At(0, w, h(0, w)))
	r.Outline.Edge = roof.Wall
	shape.Grid(r, 0, 0, l, w, 12*nx, 12*ny, h)
	for i := range nx {
		for k := range ny {
			x, y := (float64(i)+0.5)*bay, (float64(k)+0.5)*bay
			o := shape.Drain(r, x, y, 0.3)
			o.Invert, o.HasInvert = datum, true
			o = shape.Drain(r, x+1, y, 0.15)
			o.Duty, o.Invert, o.HasInvert = roof.Overflow, datum+0.05, true
		}
	}
	return r
}

func even(_, _ float64) float64 { return 0 }

// first returns the first answer and its option.
func first(t *testing.T, r *correction.Result) (*correction.Answer, *correction.Option) {
	t.Helper()
	if len(r.Answers) != 3 || r.Answers[0].Name != correction.MendNow || r.Answers[1].Name != correction.BringToLimit || r.Answers[2].Name != correction.AtReroofing {
		t.Fatalf("answers %+v", r.Answers)
	}
	return &r.Answers[0], &r.Options[r.Answers[0].Option]
}

func kinds(o *correction.Option) []mend.Kind {
	var out []mend.Kind
	for i := range o.Changes {
		out = append(out, o.Changes[i].Kind)
	}
	return out
}

// TestOneHighDrain: one drain of many stands 20 to 31 mm high. It is set down in one sump of boards, whatever the size of the roof: no fill, no overlay, and less
// than 5 % of the roof is opened.
func TestOneHighDrain(t *testing.T) {
	for i, s := range sizes {
		r := falls(4, 3, 12*s.scale, s.sum, even)
		r.Outlets[4].Invert += 0.020 + 0.0055*float64(i)
		_, o := first(t, corrected(t, s.surveyed(r), correction.Input{}))
		if o.Kind != mend.LowerOutlet || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 || o.Fill > 1e-9 {
			t.Errorf("%s: %s, %d ponds left, worse %+v, fill %g", s.name, o.Kind, o.PondsLeft, o.Worse, o.Fill)
		}
		if o.Opened > 0.05*12*144*s.scale*s.scale || !slices.Equal(kinds(o), []mend.Kind{mend.Clear, mend.LowerOutlet}) {
			t.Errorf("%s: opens %.1f m2, %v", s.name, o.Opened, kinds(o))
		}
		near(t, s.name+": invert", o.Roof.Outlets[4].Invert, s.sum, 1e-4)
	}
}

// TestHighDrainBetweenSparseSpots: a roof falls at 1 % to drains, and the nearest spots lie 1.5 to 1.8 m from each: that is where the pond about a high drain is
// lowest, farther off than a sump of 8 ft reaches. The roof about the drain rises in the survey for its rim alone, so the drain is set down; nobody cuts a new one.
func TestHighDrainBetweenSparseSpots(t *testing.T) {
	for i, sum := range []float64{0, 31.4} { // datums
		for _, off := range []float64{1.5, 1.65, 1.8} {
			top := sum + 0.06
			r := shape.New("sparse", shape.At(0, 0, top), shape.At(36, 0, top), shape.At(36, 24, top), shape.At(0, 24, top))
			h := func(x, y float64) float64 {
				return sum + 0.01*math.Max(math.Abs(math.Mod(x, 12)-6), math.Abs(math.Mod(y, 12)-6))
			}
			r.Outline.Edge = roof.Wall
			for x := 6 - off; x < 36; x = next(x, off) {
				for y := 6 - off; y < 24; y = next(y, off) {
					shape.Spot(r, x, y, h(x, y))
				}
			}
			for x := 6.0; x < 36; x += 12 {
				for y := 6.0; y < 24; y += 12 {
					o := shape.Drain(r, x, y, 0.3)
					o.Invert, o.HasInvert = sum, true
					o = shape.Drain(r, x+1, y, 0.15)
					o.Duty, o.Invert, o.HasInvert = roof.Overflow, sum+0.05, true
				}
			}
			for k := range r.Spots {
				r.Spots[k].Sigma = 0.003
			}
			r.Outlets[4].Invert += 0.034 + 0.003*float64(i)
			_, o := first(t, corrected(t, r, correction.Input{}))
			if o.Kind != mend.LowerOutlet || o.PondsLeft > 0 || o.NewOutlets > 0 || len(o.Worse)+len(o.Limits) > 0 || o.Opened > 0.05*36*24 {
				t.Errorf("datum %g, spots %g m off: %v, %d ponds left, worse %+v, opens %.1f m2", sum, off, kinds(o), o.PondsLeft, o.Worse, o.Opened)
			}
			// By hand: the sump falls at 1/2 in per ft from the lowest spots' level at its rim, 2 ft and an edge strip of 1 ft off, to its level ring, half the bowl and 6 in off.
			near(t, "inlet", o.Roof.Outlets[4].Invert, sum+0.01*off-(0.9144-0.15-0.1524)/24, 2e-4)
		}
	}
}

// next returns the next line of spots: off on both sides of the middle of each bay of 12 m, and half way between.
func next(x, off float64) float64 {
	if u := math.Mod(x, 12); u < 6 && u+2*off > 6 {
		return x + 2*off
	}
	return x + 6 - off
}

// TestRingOfLaps: plies lapped round a drain stand 25 mm proud at 0.8 m. They come off; the drain stays.
func TestRingOfLaps(t *testing.T) {
	for _, s := range sizes {
		bay := 10 * s.scale
		r := falls(2, 1, bay, s.sum, even)
		for _, ring := range []struct{ radius, up float64 }{{0.5, 0}, {0.8, 0.025}, {1.1, 0}} {
			for k := range 16 {
				a := 2 * math.Pi * float64(k) / 16
				x, y := ring.radius*math.Cos(a), ring.radius*math.Sin(a)
				shape.Spot(r, bay/2+x, bay/2+y, s.sum+0.02*math.Max(math.Abs(x), math.Abs(y))+ring.up)
			}
		}
		r.Spots = slices.DeleteFunc(r.Spots, func(p roof.Spot) bool { // the grid's spots under the laps
			d := math.Hypot(p.Plan[0]-bay/2, p.Plan[1]-bay/2)
			return d > 0.55 && d < 1.05 && math.Abs(d-0.8) > 1e-6
		})
		r.Outlets = slices.DeleteFunc(r.Outlets, func(o roof.Outlet) bool { return o.Duty == roof.Overflow && o.Plan[0] < bay })
		r.Outline.Edge = roof.Wall
		_, o := first(t, corrected(t, s.surveyed(r), correction.Input{}))
		if o.Kind != mend.LowerRise || o.PondsLeft > 0 || len(o.Worse) > 0 {
			t.Errorf("%s: %s, %v, %d ponds left, worse %+v", s.name, o.Kind, kinds(o), o.PondsLeft, o.Worse)
		}
		if o.Opened > 10 || o.Roof.Outlets[0].Invert != s.sum {
			t.Errorf("%s: opens %.1f m2, drain at %g", s.name, o.Opened, o.Roof.Outlets[0].Invert)
		}
	}
}

// hollow is a shed that falls at 2 % to a gutter with a round hollow pressed into it.
func hollow(scale, datum, depth, radius float64) (*roof.Roof, orb.Point) {
	l := 12 * scale
	c := orb.Point{l / 2, l / 2}
	h := func(x, y float64) float64 {
		d2 := (x-c[0])*(x-c[0]) + (y-c[1])*(y-c[1])
		return datum + 0.02*y - depth*math.Max(0, 1-d2/(radius*radius))
	}
	r := shape.New("hollow", shape.At(0, 0, datum), shape.At(l, 0, datum), shape.At(l, l, h(l, l)), shape.At(0, l, h(0, l)))
	shape.Grid(r, 0, 0, l, l, 24, 24, h)
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(l, 0))
	return r, c
}

// TestCrushedPatch: a hollow over insulation that a core shows to be crushed is replaced; without the core it is taken for a sag and goes to an engineer,
// nobody walks on it, and nothing is laid on it.
func TestCrushedPatch(t *testing.T) {
	for _, s := range sizes {
		r, c := hollow(s.scale, s.sum, 0.045, 1.6)
		k := roof.Core{Position: shape.At(c[0], c[1]-0.3, 0), Deck: "concrete", Layers: []roof.Layer{{Material: "polyiso", Thickness: 0.05, Condition: "compressed"}}}
		k.HasZ, k.ID = false, "K1"
		r.Cores = append(r.Cores, k)
		a, o := first(t, corrected(t, s.surveyed(r), correction.Input{}))
		if o.Kind != mend.ReplacePatch || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 || o.Cut > 1e-6 {
			t.Errorf("%s: %s, %d ponds left, worse %+v, limits %+v, cut %g", s.name, o.Kind, o.PondsLeft, o.Worse, o.Limits, o.Cut)
		}
		if o.Opened > 25 || len(a.Questions) == 0 {
			t.Errorf("%s: opens %.1f m2, %d questions", s.name, o.Opened, len(a.Questions))
		}
		r, _ = hollow(s.scale, s.sum, 0.045, 1.6)
		out := corrected(t, s.surveyed(r), correction.Input{})
		a, o = first(t, out)
		if !slices.Contains(kinds(o), mend.Structure) || o.Design.Fill.Area > 0 || len(out.KeepOff) == 0 {
			t.Errorf("%s, no core: %v, %g m2 laid, keep off %v", s.name, kinds(o), o.Design.Fill.Area, out.KeepOff)
		}
		for i := range out.Answers {
			if out.Answers[i].Meets {
				t.Errorf("%s, no core: %s meets over a sag", s.name, out.Answers[i].Name)
			}
		}
		if len(a.Questions) == 0 || a.Questions[0].Decides != finding.Engineer {
			t.Errorf("%s, no core: questions %+v", s.name, a.Questions)
		}
	}
}

// TestRottenDeckWithoutOverflow: whatever mends the ponds, nobody goes on, an engineer comes first, and no answer meets.
func TestRottenDeckWithoutOverflow(t *testing.T) {
	for _, s := range sizes {
		r := falls(2, 1, 10*s.scale, s.sum, even)
		r.Outlets = slices.DeleteFunc(r.Outlets, func(o roof.Outlet) bool { return o.Duty == roof.Overflow })
		r.Outlets[0].Invert += 0.03
		k := roof.Core{Position: shape.At(3, 3, 0), Deck: "wood, rotten", Layers: []roof.Layer{{Material: "polyiso", Thickness: 0.05}}}
		k.HasZ, k.ID = false, "K1"
		r.Cores = append(r.Cores, k)
		out := corrected(t, s.surveyed(r), correction.Input{})
		if len(out.KeepOff) == 0 || len(out.EngineerFirst) == 0 || out.Best >= 0 {
			t.Errorf("%s: keep off %+v, engineer %+v, best %d", s.name, out.KeepOff, out.EngineerFirst, out.Best)
		}
		for i := range out.Answers {
			if out.Answers[i].Meets {
				t.Errorf("%s: %s meets", s.name, out.Answers[i].Name)
			}
		}
	}
}

// TestKeptOutletInEveryOption: no option of any kind moves an outlet that is to stay.
func TestKeptOutletInEveryOption(t *testing.T) {
	for _, s := range sizes {
		r := falls(2, 1, 10*s.scale, s.sum, even)
		r.Outlets[0].Invert += 0.03
		r.Outlets[0].Label = "RD-1"
		out := corrected(t, r, correction.Input{Steering: mend.Steering{Keep: []string{"rd-1"}}})
		for i := range out.Options {
			o := &out.Options[i]
			if o.Roof != nil && o.Kind != mend.Overlay && math.Abs(o.Roof.Outlets[0].Invert-s.sum-0.03) > 1e-9 {
				t.Errorf("%s: %s moves it to %g", s.name, o.Kind, o.Roof.Outlets[0].Invert)
			}
		}
	}
}

// TestPreferenceIsChanged: with fill first a high drain is filled to and stays; the printed order says so.
func TestPreferenceIsChanged(t *testing.T) {
	r := falls(2, 1, 10, 0, even)
	r.Outlets[0].Invert += 0.012
	out := corrected(t, r, correction.Input{Steering: mend.Steering{Prefer: []mend.Kind{mend.Fill}}})
	if out.Preference[0] != mend.Fill || out.Preference[1] != mend.Clear || len(out.Preference) != len(mend.Kinds()) {
		t.Errorf("preference %v", out.Preference)
	}
	if len(out.Options) == 0 || out.Options[0].Kind != mend.Fill || out.Options[0].Roof.Outlets[0].Invert != 0.012 {
		t.Errorf("first tried: %s", out.Options[0].Kind)
	}
}

// TestAverageResistance: what a sump cuts out takes resistance away: 0.0041453 m3 (see TestHighOutlet) of the cores' material over 144 m2; nothing is laid.
func TestAverageResistance(t *testing.T) {
	r := sunk()
	for i := range 25 {
		c := roof.Core{Position: shape.At(-5+2.5*float64(i%5), -5+2.5*float64(i/5), 0), Cutter: "hand", Reached: "rib"}
		c.HasZ, c.ID = false, "K"+string(rune('a'+i))
		c.Layers = []roof.Layer{{Material: "polyiso", Thickness: quantity.Length(4 * inch), Condition: "dry"}}
		r.Cores = append(r.Cores, c)
	}
	h := func(p orb.Point) (float64, float64, bool) {
		return 0.02*math.Max(math.Abs(p[0]), math.Abs(p[1])) - 4*inch, 0.001, true
	}
	_, o := first(t, corrected(t, r, correction.Input{Deck: h}))
	if o.Kind != mend.LowerOutlet || !o.R.Known {
		t.Fatalf("%s, R %+v", o.Kind, o.R)
	}
	lost := o.R.AverageBefore * 0.0041453 / (144 * 4 * inch) // before, 4 in everywhere
	near(t, "average lost", o.R.AverageBefore-o.R.AverageAfter, lost, 1e-3*lost)
}

// TestSecondLayer: the clause's figure for a second layer is 3 psf = 143.6 Pa (International Existing Building Code, 2012, section 606.2).
func TestSecondLayer(t *testing.T) {
	o := option(t, corrected(t, square(14*inch), correction.Input{}), mend.Overlay)
	l := limit(o.Checked, "added load of a second layer", "")
	if l == nil {
		t.Fatalf("kept %+v", o.Checked)
	}
	near(t, "figure", l.Required.Value, 143.64, 0.01)
}

// TestThreeHighDrains: three drains of twelve stand 25 mm high. Each is set down in its own sump: the level ring round each bowl is no valley that falls too little, and each is
// told, also where all three go down by the same and whether or not they have names.
func TestThreeHighDrains(t *testing.T) {
	for i, s := range sizes {
		r := falls(4, 3, 12*s.scale, s.sum, even)
		for _, k := range []int{0, 4, 10} { // drains and their overflows take turns
			r.Outlets[k].Invert += 0.025
			if i > 0 {
				r.Outlets[k].Label = fmt.Sprintf("RD-%d", k)
			}
		}
		_, o := first(t, corrected(t, r, correction.Input{}))
		want := []mend.Kind{mend.Clear, mend.LowerOutlet, mend.LowerOutlet, mend.LowerOutlet}
		if o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 || !slices.Equal(kinds(o), want) {
			t.Errorf("%s: %v, %d ponds left, worse %+v, limits %+v", s.name, kinds(o), o.PondsLeft, o.Worse, o.Limits)
		}
		sum := 0.0
		for _, c := range o.Changes {
			sum += c.Opened
		}
		near(t, s.name+": opened, change by change", sum, o.Opened, 1e-6)
	}
}

// TestAnswersMeet: of a roof with one high drain and nothing else every answer meets; of the same roof with water 70 mm deep, over the 2 in (50.8 mm) that are urgent, people keep off first, and no answer meets.
func TestAnswersMeet(t *testing.T) {
	for high, meets := range map[float64]bool{0.03: true, 0.07: false} {
		r := falls(2, 2, 12, 0, even)
		r.Outlets[2].Invert += high
		out := corrected(t, r, correction.Input{})
		for i := range out.Answers {
			if a := &out.Answers[i]; a.Meets != meets || !out.Options[a.Option].Meets {
				t.Errorf("%g m high, %s: meets %t, its option %t; keep off %d, engineer first %d", high, a.Name, a.Meets, out.Options[a.Option].Meets, len(out.KeepOff), len(out.EngineerFirst))
			}
		}
		if (out.Best >= 0) != meets || (len(out.KeepOff)+len(out.EngineerFirst) > 0) == meets {
			t.Errorf("%g m high: best %d, keep off %+v", high, out.Best, out.KeepOff)
		}
	}
}
