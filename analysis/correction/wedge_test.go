package correction_test

import (
	"math"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// gulley is a valley of 24 by 12 m between sides of 3 % that leads to an open edge, surveyed every 2 m: its floor stands at floor(x).
func gulley(scale, datum float64, floor func(x float64) float64) *roof.Roof {
	h := func(x, y float64) float64 { return datum + 0.03*math.Abs(y) + scale*floor(x/scale) }
	l, w := 24*scale, 6*scale
	r := shape.New("gulley", shape.At(0, -w, h(0, w)), shape.At(l, -w, h(l, w)), shape.At(l, w, h(l, w)), shape.At(0, w, h(0, w)))
	shape.Grid(r, 0, -w, l, w, 12, 6, h)
	for x := range 12 {
		shape.Breakline(r, roof.Valley, shape.At(2*scale*float64(x), 0, h(2*scale*float64(x), 0)), shape.At(2*scale*float64(x+1), 0, h(2*scale*float64(x+1), 0)))
	}
	shape.Edge(r, roof.Gutter, shape.Bare(0, w), shape.Bare(0, -w))
	return r
}

// TestBackfallIsFilledWithOnePlane: the floor of a valley falls back 20 mm between 4 and 8 m. Boards of one plane lie from its lip upward at 1.1 times 1/8 in per ft = 1.14583 %.
// By hand: over the floor they are k*s thick, k = 1.14583 + 0.5 %, up to s = 4 m, then thinner by 2.5 - 1.14583 % to nothing after 4.861 m; between sides of
// 3 % a section is thickness^2 / 0.03, so that the volume is (k^2 * 4^3/3 + (4k)^2 * 4.861/3) / 0.03 = 0.4267 m3 (times the cube of the scale). Spots stand 2 m apart,
// and none of them is moved.
func TestBackfallIsFilledWithOnePlane(t *testing.T) {
	floor := func(x float64) float64 {
		switch {
		case x < 4:
			return 0.016 * x
		case x < 8:
			return 0.064 - 0.005*(x-4)
		}
		return 0.044 + 0.025*(x-8)
	}
	for _, s := range sizes {
		r := gulley(s.scale, s.sum, floor)
		out := corrected(t, r, correction.Input{Steering: mend.Steering{Only: []mend.Kind{mend.Fill}}})
		_, o := first(t, out)
		if o.Kind != mend.Fill || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 {
			t.Errorf("%s: %s, %d ponds left, worse %+v, limits %+v", s.name, o.Kind, o.PondsLeft, o.Worse, o.Limits)
		}
		cube := s.scale * s.scale * s.scale
		near(t, s.name+": laid", o.Fill, 0.4267*cube, 0.01*cube)
		if o.Cut > 1e-6 {
			t.Errorf("%s: cuts %g m3", s.name, o.Cut)
		}
	}
}

// across is a gulley that falls at 2 %, with a unit 2 m wide that stands across it.
func across(scale, datum float64) *roof.Roof {
	r := gulley(scale, datum, func(x float64) float64 { return 0.02 * x })
	a, b := 9*scale, 11*scale
	shape.Curb(r, shape.Bare(a, -1), shape.Bare(b, -1), shape.Bare(b, 0), shape.Bare(b, 1), shape.Bare(a, 1), shape.Bare(a, 0))
	for _, y := range []float64{-1, 0, 1} {
		for _, x := range []float64{a, b} {
			shape.Spot(r, x, y, datum+0.03*math.Abs(y)+0.02*x)
		}
	}
	var spots []roof.Spot
	for _, p := range r.Spots {
		if p.Plan[0] <= a || p.Plan[0] >= b || math.Abs(p.Plan[1]) >= 1 {
			spots = append(spots, p)
		}
	}
	r.Spots = spots
	var lines []roof.Breakline
	for _, l := range r.Breaklines {
		if l.Line[1].Plan[0] <= a || l.Line[0].Plan[0] >= b {
			lines = append(lines, l)
		}
	}
	r.Breaklines = lines
	return r
}

// TestUnitAcrossAValley: a cricket of two planes behind the unit turns the water to both sides: nothing is left, no valley of it is too flat, and it
// opens a twentieth of the roof at most.
func TestUnitAcrossAValley(t *testing.T) {
	for _, s := range sizes {
		_, o := first(t, corrected(t, across(s.scale, s.sum), correction.Input{}))
		c := change(o, mend.Cricket)
		if c == nil || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 {
			t.Fatalf("%s: %v, %d ponds left, worse %+v, limits %+v", s.name, kinds(o), o.PondsLeft, o.Worse, o.Limits)
		}
		near(t, s.name+": thickness as told and as built", c.What.Args[2].Value, o.Greatest, 0.0005)
		if o.Opened > 0.05*24*12*s.scale*s.scale {
			t.Errorf("%s: opens %.1f m2", s.name, o.Opened)
		}
	}
}
