package correction_test

import (
	"math"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// bypassed is a walled roof of 24 by 12 m whose sides fall 2 % to a valley along its middle, which falls 1.5 % to a drain half a metre from its west end, level from there to the wall. A second drain stands in
// the valley half way up it, 60 mm above the roof: the water runs past it.
func bypassed(datum float64) *roof.Roof {
	h := func(x, y float64) float64 { return datum + 0.02*math.Abs(y-6) + 0.015*math.Max(x, 0.5) }
	r := shape.New("bypassed", shape.At(0, 0, h(0, 0)), shape.At(24, 0, h(24, 0)), shape.At(24, 12, h(24, 12)), shape.At(0, 12, h(0, 12)))
	shape.Grid(r, 0, 0, 24, 12, 24, 12, h)
	for i, x := range []float64{0.5, 12} {
		o := shape.Drain(r, x, 6, 0.3)
		o.Invert, o.HasInvert, o.Label = h(x, 6)+0.06*float64(i), true, []string{"RD-1", "RD-2"}[i]
	}
	return r
}

// TestOutletOutOfUse: the drain that the water runs past is set down to the roof beside it, a sump of 4 by 4 ft and not one board more, and what lies above it
// runs to it then. No pond stands there, and still the first answer mends it.
func TestOutletOutOfUse(t *testing.T) {
	for _, datum := range []float64{0, 95.2} {
		r := bypassed(datum)
		_, o := first(t, corrected(t, r, correction.Input{}))
		c := change(o, mend.LowerOutlet)
		if c == nil {
			t.Fatalf("datum %g: %v", datum, kinds(o))
		}
		roofAt := datum + 0.015*12
		if z := o.Roof.Outlets[1].Invert; !(math.Abs(z-roofAt) <= 0.015*0.15+0.0005) { // the lowest roof at a bowl of 0.3 m
			t.Errorf("datum %g: RD-2 set to %.4f m, the roof beside it stands at %.4f m", datum, z, roofAt)
		}
		if most := (4*0.3048 + 2*0.3048) * (4*0.3048 + 2*0.3048); o.Opened <= 0 || o.Opened > most {
			t.Errorf("datum %g: opens %.1f m2, at most %.1f m2 of sump and strip-in", datum, o.Opened, most)
		}
		got := 0.0
		for i := range o.Study.Catchments.Full {
			if k := o.Study.Catchments.Full[i].Outlet; k >= 0 && o.Study.Surface.Outlets[k].Source == 1 {
				got += o.Study.Catchments.Full[i].Area
			}
		}
		// The sides fall 1.5 m along the valley for 2 m towards it: of a place t m off the middle the water comes into it 0.75 t m farther down. So all runs to RD-2 that lies
		// 0.75 t m above it and more, twice the integral of 12 - 0.75 t from 0 to 6, and what falls into the sump besides.
		near(t, "area that runs to RD-2 [m2]", got, 117, 6)
		if len(o.Worse) > 0 {
			t.Errorf("datum %g: worse %+v", datum, o.Worse)
		}
	}
}
