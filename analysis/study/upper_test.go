package study_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// high is a walled plane of 10 by 6 m that falls to a scupper in the middle of its south wall, which discharges onto the
// roof below; low is a plane of 12 by 8 m south of it with a gutter along its own south side. Their grids differ: that of
// high is in feet.
func highAndLow(t *testing.T) (high *study.Study, low *roof.Roof) {
	t.Helper()
	r := shape.New("high", shape.At(0, 0, 3), shape.At(10, 0, 3), shape.At(10, 6, 3.12), shape.At(0, 6, 3.12))
	shape.Grid(r, 0, 0, 10, 6, 5, 3, func(_, y float64) float64 { return 3 + 0.02*y })
	o := shape.Scupper(r, 5, 0, 0.3)
	o.Invert, o.HasInvert, o.Label, o.DischargesTo = 3, true, "SC-9", "Low_roof"
	r.Name, r.Frame = "high", roof.NewLocal(orb.Point{0, 0}, quantity.Feet)
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	low = shape.Plane(12, 8, 0.02, 6)
	low.Name, low.Frame = "Low roof", roof.NewLocal(orb.Point{-1, -8}, quantity.Metres)
	return s, low
}

// By hand: the scupper at (5, 0) of the high roof stands at (6, 8) of the low one, whose origin is (-1, -8): on its
// north edge, so the water lands 20 mm inside. 10 x 6 m drain to it.
func TestDischargesOntoTheRoofBelow(t *testing.T) {
	high, low := highAndLow(t)
	above, err := study.Discharges(high, low)
	if err != nil || len(above) != 1 {
		t.Fatalf("%+v, %v", above, err)
	}
	a := above[0]
	if !(math.Abs(a.X-6) <= 1e-9) || !(math.Abs(a.Y-7.98) <= 1e-9) || !(math.Abs(a.Area-60) <= 1e-6) || a.Name != "high, SC-9" {
		t.Errorf("%+v", a)
	}
	s, err := study.Run(low, study.Options{Above: above})
	if err != nil {
		t.Fatal(err)
	}
	if d := s.Drainage.Outlets[0]; !(math.Abs(d.Area-96) <= 1e-6) || !(math.Abs(d.Above-60) <= 1e-6) {
		t.Errorf("the gutter gets %+v, want 96 m2 of its own and 60 m2 from above", d)
	}
}

func TestDischargesThatCannotBe(t *testing.T) {
	high, low := highAndLow(t)
	refused := func(name, want string) {
		t.Helper()
		if _, err := study.Discharges(high, low); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", name, err, want)
		}
	}
	low.Frame = roof.NewLocal(orb.Point{500, 500}, quantity.Metres)
	refused("far away", "does not lie over it")
	low.Frame = roof.NewGeographic(orb.Point{1, 2})
	refused("another frame", "are in different frames")
	low.Name = "yard"
	refused("another name", `no outlet of "high" discharges onto "yard": it has SC-9 onto "Low_roof"`)
}

// Over 40 in/h a rate is taken for a slip of the pen unless it is meant.
func TestAbsurdRatesMustBeMeant(t *testing.T) {
	r := shape.Plane(12, 8, 0.02, 6)
	for _, c := range []struct {
		rate    float64
		meant   bool
		refused bool
	}{{40, false, false}, {41, false, true}, {41, true, false}} {
		_, err := study.Run(r, study.Options{Meant: c.meant, Criteria: standard.Overrides{"rain_overflow": c.rate * float64(quantity.InchPerHour)}})
		if (err != nil) != c.refused || err != nil && !strings.Contains(err.Error(), "rain_overflow of 41 in/h") {
			t.Errorf("%g in/h, meant %v: %v", c.rate, c.meant, err)
		}
	}
}
