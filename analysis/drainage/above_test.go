package drainage_test

import (
	"math"
	"testing"

	"runnel/analysis/drainage"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// By hand: 800 ft2 and 100 m2 of a roof above at 8 in/h come to the overflow once the primary is blocked.
func TestInflowHasWhatComesFromAbove(t *testing.T) {
	c := standard.Defaults()
	c.RainPrimary, c.RainOverflow = 4*inchesHour, 8*inchesHour
	place := drainage.Above{X: 5, Y: 5, Area: 100}
	in := input(t, walled(), c, place)
	d, err := drainage.Of(in)
	if err != nil {
		t.Fatal(err)
	}
	inflow, err := d.Inflow(in)
	if want := (800*foot*foot + 100) * 8 * inchesHour; err != nil || len(inflow) != 1 || !(math.Abs(inflow[0]-want) <= 1e-6*want) {
		t.Errorf("%v m3/s (%v), want %g", inflow, err, want)
	}
}

// stairs is a walled roof of 20 by 4 m with a scupper at its low west end and two ponds behind it: the upper one, at x = 16, spills at x = 12 into
// the lower one, at x = 8, which spills at x = 4 to the scupper; at has the elevations every 4 m. With back it is turned about, so that what is numbered
// first comes last.
func stairs(back bool, at [6]float64) *roof.Roof {
	z := func(x, _ float64) float64 {
		if back {
			x = 20 - x
		}
		k := min(int(x/4), len(at)-2)
		return at[k] + (x/4-float64(k))*(at[k+1]-at[k])
	}
	r := shape.New("stairs", shape.At(0, 0, z(0, 0)), shape.At(20, 0, z(20, 0)), shape.At(20, 4, z(20, 4)), shape.At(0, 4, z(0, 4)))
	shape.Grid(r, 0, 0, 20, 4, 20, 4, z)
	x := 0.0
	if back {
		x = 20
	}
	o := shape.Scupper(r, x, 2, 0.3)
	o.Invert, o.HasInvert = 0, true
	return r
}

// What comes down over a pond that spills into another goes the whole way: by hand all 80 m2 of the roof and 100 m2 from above. So does a
// wall's share, half of 3 m by the 2 m that stand behind the upper pond: 3 m2.
func TestWaterOverTwoPonds(t *testing.T) {
	c := standard.Defaults()
	c.RainPrimary = inchesHour
	for i := range 12 {
		back, x := i%2 == 1, []float64{8, 16, 18}[i/4]
		at := [][6]float64{{0, 0.3, 0.1, 0.5, 0.2, 0.9}, {0, 0.5, 0.1, 0.6, 0.5, 0.9}}[i/2%2] // the upper pond is the larger one, or the lower
		from, to := 17.0, 19.0
		if back {
			x, from, to = 20-x, 1, 3
		}
		r := stairs(back, at)
		shape.Edge(r, roof.Wall, shape.Bare(from, 0), shape.Bare(to, 0))
		r.Edges[0].AdjoiningHeight = 3 * quantity.Metre
		o := run(t, r, c, drainage.Above{X: x, Y: 2, Area: 100}).Outlets[0]
		if !(math.Abs(o.Area-80) <= 1e-6) || !(math.Abs(o.Above-100) <= 1e-9) || !(math.Abs(o.Walls-3) <= 1e-9) {
			t.Errorf("turned %v, from above at x = %g: %.4f m2 of roof, %.4f above, %.4f of walls, want 80, 100 and 3", back, x, o.Area, o.Above, o.Walls)
		}
	}
}
