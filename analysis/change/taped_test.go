package change_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/change"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
)

const (
	foot = 0.3048
	inch = 0.0254
)

func at(x, y float64) orb.Point { return orb.Point{x * foot, y * foot} }

// taped is a walled roof of 120 by 60 ft with a drain and an overflow, taped.
func taped(waters ...roof.Water) *roof.Roof {
	r := &roof.Roof{Name: "Shed", Units: quantity.Feet, Imperial: true, Tape: &roof.Tape{Placed: true, Walls: true, Waters: waters}}
	r.Frame = roof.NewLocal(orb.Point{}, quantity.Feet)
	r.Outline.Rings = [][]roof.Position{nil}
	for _, p := range []orb.Point{at(0, 0), at(120, 0), at(120, 60), at(0, 60), at(0, 0)} {
		r.Outline.Rings[0] = append(r.Outline.Rings[0], roof.Position{Plan: p})
	}
	r.Outlets = []roof.Outlet{{Label: "RD-1", Plan: at(40, 30), Type: roof.Drain}, {Label: "OS-1", Plan: at(120, 20), Type: roof.Scupper, Duty: roof.Overflow}}
	return r
}

// oval is water of a length and width [ft] about (x, 30) [ft], by 12 marks that move says, with depths [in] at its middle.
func oval(number string, x, long, wide, hours float64, move func() float64, depths ...float64) roof.Water {
	w := roof.Water{Number: number, HoursSinceRain: hours}
	w.ID = "P" + number
	for i := range 12 {
		turn := 2 * math.Pi * float64(i) / 12
		grow := 1.0
		if move != nil {
			grow += move() / (foot * (long + wide) / 4)
		}
		w.Edge = append(w.Edge, roof.Position{Plan: at(x+grow*long/2*math.Cos(turn), 30+grow*wide/2*math.Sin(turn))})
	}
	for _, d := range depths {
		w.Soundings = append(w.Soundings, roof.Sounding{Plan: at(x, 30), Depth: quantity.Length(d * inch)})
	}
	return w
}

func compared(before, after *roof.Roof, level bool) *change.Taped {
	return change.OfTape(tape.Of(before, standard.Defaults()), tape.Of(after, standard.Defaults()), change.Options{Level: level})
}

// By hand: 12 by 6 ft are 56.55 sq ft; the edge is 29.07 ft long (Ramanujan's formula), and 12 marks good to 50 mm (0.164 ft) leave 0.164 x 29.07 / sqrt 12 = 1.377 sq ft,
// x 1.645 = 2.26. A depth by a ruler is good to 1/16 in x 1.645 = 0.103 in. 9 by 4 ft are 28.27 sq ft.
func TestAPondThatShrank(t *testing.T) {
	r := compared(taped(oval("1", 50, 12, 6, 50, nil, 0.75)), taped(oval("1", 50, 9, 4, 50, nil, 0.25)), false)
	if len(r.Waters) != 1 || r.Waters[0].State != change.Smaller || !r.Waters[0].Area.Known || !r.Waters[0].Depth.Known || !r.Waters[0].Weight.Known {
		t.Fatalf("%+v", r.Waters)
	}
	w := &r.Waters[0]
	for _, c := range []struct {
		what              string
		got, want, within float64
	}{
		{"area, least", w.Area.Before.Low / foot / foot, 54.29, 0.2},
		{"area, most", w.Area.Before.High / foot / foot, 58.81, 0.2},
		{"area now", (w.Area.After.Low + w.Area.After.High) / 2 / foot / foot, 28.27, 0.1},
		{"depth, least", w.Depth.Before.Low / inch, 0.647, 0.001},
		{"depth, most", w.Depth.After.High / inch, 0.353, 0.001},
	} {
		if !(math.Abs(c.got-c.want) <= c.within) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	if back := compared(taped(oval("1", 50, 9, 4, 50, nil, 0.25)), taped(oval("7", 50, 12, 6, 50, nil, 0.75)), false); back.Waters[0].State != change.More {
		t.Errorf("the other way round: %+v", back.Waters)
	}
	if mixed := compared(taped(oval("1", 50, 12, 6, 50, nil, 0.5)), taped(oval("1", 50, 9, 4, 50, nil, 1)), false); mixed.Waters[0].State != change.Mixed {
		t.Errorf("smaller and deeper: %+v", mixed.Waters)
	}
}

// Water that dries at 5 mm a day loses 10 mm in 48 hours: 20 mm 24 hours after rain and 10 mm 72 hours after rain are no change; 24 hours after rain they are.
func TestDriedIsNoChange(t *testing.T) {
	deep, shallow := 20/25.4, 10/25.4
	if r := compared(taped(oval("1", 50, 12, 6, 24, nil, deep)), taped(oval("1", 50, 9, 5, 72, nil, shallow)), false); r.Waters[0].State != change.Unresolved || !(math.Abs(r.Waters[0].Drying.Most-0.010) <= 1e-9) {
		t.Errorf("after 48 hours more: %+v", r.Waters[0])
	}
	if r := compared(taped(oval("1", 50, 12, 6, 24, nil, deep)), taped(oval("1", 50, 9, 5, 24, nil, shallow)), false); r.Waters[0].State != change.Smaller {
		t.Errorf("at the same hour: %+v", r.Waters[0])
	}
	if r := compared(taped(oval("1", 50, 9, 5, 72, nil, shallow)), taped(oval("1", 50, 12, 6, 24, nil, deep)), false); r.Waters[0].State != change.Unresolved {
		t.Errorf("the other way round: %+v", r.Waters[0])
	}
	if r := compared(taped(oval("1", 50, 9, 5, 48, nil, shallow)), taped(oval("1", 50, 12, 6, 0, nil, deep)), false); r.Waters[0].State != change.Unresolved || !(math.Abs(r.Waters[0].Drying.Most+0.010) <= 1e-9) {
		t.Errorf("seen again while it rained: %+v", r.Waters[0])
	}
}

// Two surveys of one pond that did not change, marks good to 50 mm and ruler to 1/16 in: no change in 95 % of pairs. Of 200 pairs with one in twenty, more than 19 fall
// out in one run of a thousand (binomial).
func TestTwoSurveysOfOnePond(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 1))
	wrong := 0
	for range 200 {
		seen := func() *roof.Roof {
			move := func() float64 { return 0.05 * random.NormFloat64() }
			return taped(oval("1", 50, 12, 6, 50, move, 0.75+random.NormFloat64()/16))
		}
		if r := compared(seen(), seen(), false); r.Waters[0].State != change.Unresolved {
			wrong++
		}
	}
	t.Logf("%d of 200 pairs name a change", wrong)
	if wrong > 19 {
		t.Errorf("%d of 200 pairs name a change", wrong)
	}
}

// A pond that nobody chalked again is gone where somebody was there before it would have dried: 3/4 in (19 mm) dry in 91 hours at 5 mm a day.
func TestGoneAndNew(t *testing.T) {
	pond := oval("1", 50, 12, 6, 50, nil, 0.75)
	dry := func(hours float64) *roof.Roof {
		r := taped()
		r.Visit.Hours, r.Visit.HasHours = hours, hours >= 0
		return r
	}
	for _, c := range []struct {
		hours  float64
		unsure bool
	}{{50, false}, {90, false}, {93, true}, {-1, true}} {
		r := compared(taped(pond), dry(c.hours), false)
		if len(r.Waters) != 1 || r.Waters[0].State != change.Gone || r.Waters[0].Unsure != c.unsure || r.Waters[0].Before != 0 || r.Waters[0].After != -1 {
			t.Errorf("nothing seen %v hours after rain: %+v", c.hours, r.Waters)
		}
		if r = compared(dry(c.hours), taped(pond), false); len(r.Waters) != 1 || r.Waters[0].State != change.New || r.Waters[0].Unsure != c.unsure || r.Waters[0].Before != -1 || r.Waters[0].After != 0 {
			t.Errorf("new after %v hours: %+v", c.hours, r.Waters)
		}
	}
	// A pond elsewhere is another, whatever its number; two that ran together are one.
	if r := compared(taped(pond), taped(oval("1", 90, 12, 6, 50, nil, 0.75)), false); len(r.Waters) != 2 || r.Waters[0].State != change.New || r.Waters[1].State != change.Gone {
		t.Errorf("elsewhere: %+v", r.Waters)
	}
	two := taped(oval("1", 45, 8, 4, 50, nil, 0.5), oval("2", 55, 8, 4, 50, nil, 0.5))
	one := taped(oval("1", 50, 24, 8, 50, nil, 0.75))
	if r := compared(two, one, false); len(r.Waters) != 2 || r.Waters[0].State != change.More || r.Waters[1].State != change.Joined || r.Waters[1].Before != 1 || r.Waters[1].After != 0 {
		t.Errorf("two ran together: %+v", r.Waters)
	}
	if r := compared(one, two, false); len(r.Waters) != 2 || r.Waters[1].State != change.Parted || r.Waters[1].Before != 0 || r.Waters[1].After != 1 {
		t.Errorf("one parted: %+v", r.Waters)
	}
}

// heights reads the drain's inlet, five places before it and a pond's lowest place [in over 100 ft], all lifted by up [in].
func heights(r *roof.Roof, up, inlet float64, before ...float64) *roof.Roof {
	z := func(in float64) float64 { return 100*foot + (in+up)*inch }
	r.Outlets[0].Invert, r.Outlets[0].HasInvert = z(inlet), true
	probe := func(kind roof.ProbeKind, of string, x, in float64) {
		q := roof.Probe{Kind: kind, Of: of, Sigma: quantity.Length(inch / 16)}
		q.Plan, q.Z, q.HasZ = at(x, 30), z(in), true
		r.Tape.Probes = append(r.Tape.Probes, q)
	}
	for i, b := range before {
		probe(roof.BeforeProbe, "RD-1", 41+float64(i), b)
	}
	probe(roof.LowProbe, "1", 50, 0)
	r.Tape.Sigma = quantity.Length(inch / 16)
	return r
}

// The drain was set down by 1-1/8 in. The later level stood 2 in higher: that is taken off, and the drain alone changed. By hand, the error of a difference of two readings
// good to 1/16 in is 0.088 in. What the inlet stands over the lowest place needs no bench mark.
func TestHeightsReadTwice(t *testing.T) {
	pond := oval("1", 50, 12, 6, 50, nil, 0.75)
	before, after := heights(taped(pond), 0, 1.25, 0.5, 0.5, 0.25, 0.25, 0.25), heights(taped(pond), 2, 0.125, 0.5, 0.5, 0.25, 0.25, 0.25)
	r := compared(before, after, true)
	if r.Datum != change.Levelled || len(r.Readings) != 7 || !(math.Abs(r.Shift.Median-2*inch) <= 0.01*inch) {
		t.Fatalf("%+v", r)
	}
	for i := range r.Readings {
		p := &r.Readings[i]
		want, changed := 0.0, p.What == "inlet of RD-1"
		if changed {
			want = -1.125
		}
		if p.Significant != changed || !(math.Abs(p.Rise/inch-want) <= 0.01) || !(p.Error >= 0.088*inch) || !(p.Error <= 0.12*inch) {
			t.Errorf("%s: %+v, want %v in", p.What, p, want)
		}
	}
	w := &r.Waters[0]
	if !w.Inlet.Known || w.Inlet.Trend() != -1 || w.Rise.Trend() != 1 {
		t.Errorf("inlet %+v, rise %+v", w.Inlet, w.Rise)
	}
	after.Tape.Sighted = true
	if r = compared(before, after, false); r.Datum != change.NoDatum || len(r.Readings) != 0 || r.Waters[0].Inlet.Trend() != -1 {
		t.Errorf("without a bench mark: %+v", r)
	}
	few := heights(taped(pond), 0, 1.25, 0.5)
	if r = compared(few, few, true); r.Datum != change.TooFewSame || r.Shared != 3 {
		t.Errorf("three places: %+v", r)
	}
}
