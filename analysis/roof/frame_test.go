package roof_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// By hand: (2000100 - 2000000) ft x 0.3048 m.
func TestLocalFrame(t *testing.T) {
	f := roof.NewLocal(orb.Point{2000000, 600000}, quantity.Feet)
	got := f.ToLocal(orb.Point{2000100, 600010})
	if !(math.Abs(got[0]-30.48) <= 1e-12) || !(math.Abs(got[1]-3.048) <= 1e-12) {
		t.Errorf("ToLocal = %v, want (30.48, 3.048)", got)
	}
	back := f.ToFile(orb.Point{30.48, 3.048})
	if !(math.Abs(back[0]-2000100) <= 1e-9) || !(math.Abs(back[1]-600010) <= 1e-9) {
		t.Errorf("ToFile = %v, want (2000100, 600010)", back)
	}
}

// Wanted: cs2cs +proj=longlat +datum=WGS84 +to +proj=tmerc +lon_0=-93.26 +lat_0=44.97 +k=1 +datum=WGS84,
// PROJ 9.1.1, to 0.1 um. Longitude -93.2555, latitude 44.9735 is about 530 m away.
func TestGeographicFrame(t *testing.T) {
	f := roof.NewGeographic(orb.Point{-93.26, 44.97})
	place, want := orb.Point{-93.2555, 44.9735}, orb.Point{354.9742729045, 388.9691410973}
	if got := f.ToLocal(place); !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= 1e-7) {
		t.Errorf("ToLocal = %.7f, want %.7f", got, want)
	}
	literal := roof.Frame{Kind: roof.Geographic, Origin: f.Origin, Metres: 1}
	for _, frame := range []roof.Frame{f, literal} {
		if got := frame.ToFile(want); !(math.Hypot(got[0]-place[0], got[1]-place[1]) <= 1e-12) {
			t.Errorf("ToFile = %.13f, want %v", got, place)
		}
	}
	if got := f.ToLocal(f.Origin); got != (orb.Point{0, 0}) {
		t.Errorf("the origin is at %v", got)
	}
}

// One place of a site grid, in feet and in metres: 10 ft east of its origin are 3.048 m.
func TestFrom(t *testing.T) {
	feet, metres := roof.NewLocal(orb.Point{100, 0}, quantity.Feet), roof.NewLocal(orb.Point{30.48, 0}, quantity.Metres)
	if got := metres.From(feet, orb.Point{3.048, 1}); !(math.Abs(got[0]-3.048) <= 1e-9) || !(math.Abs(got[1]-1) <= 1e-9) {
		t.Errorf("%v, want 3.048 1", got)
	}
	if got := feet.From(roof.NewLocal(orb.Point{0, 0}, quantity.Metres), orb.Point{33.528, 1}); !(math.Abs(got[0]-3.048) <= 1e-9) {
		t.Errorf("%v, want 3.048 1", got)
	}
}
