package blunder_test

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/blunder"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

const foot = float64(quantity.Foot)

// shed is a plane that falls at 2 % to a gutter, with spots every 2 m.
func shed() *roof.Roof { return shape.Plane(20, 12, 0.02, 6) }

// spotAt returns the index of the spot at (x, 6), the middle of the shed.
func spotAt(t *testing.T, r *roof.Roof, x float64) int {
	t.Helper()
	for i, s := range r.Spots {
		if math.Hypot(s.Plan[0]-x, s.Plan[1]-6) < 1e-6 {
			return i
		}
	}
	t.Fatalf("no spot at %g, 6", x)
	return -1
}

func find(t *testing.T, r *roof.Roof) (*surface.Surface, []blunder.Odd) {
	t.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	odd, all := blunder.Find(r, s, 0)
	if all != len(odd) {
		t.Errorf("%d of %d", len(odd), all)
	}
	return s, odd
}

// TestASpotOffAPlane: on an exact plane a spot is off by what was added to it, and nothing else is odd. The slips are those by which the
// number was made wrong.
func TestASpotOffAPlane(t *testing.T) {
	for _, c := range []struct {
		name string
		unit quantity.Unit
		off  float64
		rod  float64
		slip blunder.Slip
	}{
		{"a foot", quantity.Feet, foot, 0, blunder.Foot},
		{"a foot less", quantity.Feet, -foot, 0, blunder.Foot},
		{"a metre", quantity.Metres, 1, 0, blunder.Metre},
		{"a tenth of a foot", quantity.Feet, 0.1 * foot, 0, blunder.Tenth},
		{"a tenth of a metre", quantity.Metres, -0.1, 0, blunder.Tenth},
		// a 5 m rod that reads 1.9 m stood upside down: the reading should have been 3.1 m, the roof 1.2 m lower
		{"upside down", quantity.Metres, 1.2, 1.9, blunder.UpsideDown},
	} {
		r := shed()
		r.Units = c.unit
		i := spotAt(t, r, 10)
		r.Spots[i].Z += c.off
		r.Spots[i].Rod, r.Spots[i].HasRod = quantity.Length(c.rod), c.rod > 0
		_, odd := find(t, r)
		if len(odd) != 1 || odd[0].Spot != int32(i) || !(math.Abs(odd[0].Off()-c.off) <= 1e-4) || len(odd[0].Slips) == 0 || odd[0].Slips[0] != c.slip {
			t.Errorf("%s: %+v", c.name, odd)
		}
		r.Kept = []string{r.Spots[i].ID}
		if _, odd := find(t, r); len(odd) != 0 {
			t.Errorf("%s, meant: %+v", c.name, odd)
		}
	}
}

// TestDigits: a roof at 14.55 ft, one spot booked as 15.45 (digits changed places), as 14.07 (14 ft 7 in is 14.583) and as its own number.
func TestDigits(t *testing.T) {
	for booked, want := range map[float64]blunder.Slip{15.45: blunder.Transposed, 14.07: blunder.InchAsPart, 44: blunder.Number, 0: blunder.Zero} {
		r := shape.New("level", shape.At(0, 0, 14.55*foot), shape.At(20, 0, 14.55*foot), shape.At(20, 12, 14.55*foot), shape.At(0, 12, 14.55*foot))
		shape.Grid(r, 0, 0, 20, 12, 10, 6, func(_, _ float64) float64 { return 14.55 * foot })
		r.Units = quantity.Feet
		i := spotAt(t, r, 10)
		r.Spots[i].Z, r.Spots[i].ID = booked*foot, "44"
		if _, odd := find(t, r); len(odd) != 1 || len(odd[0].Slips) == 0 || odd[0].Slips[0] != want {
			t.Errorf("%.2f: %+v", booked, odd)
		}
	}
}

// TestFoldsAreNotBlunders: a coded valley and ridge, and a ridge that nobody coded, have nothing odd; a spot on the coded valley that
// stands 60 mm high has.
func TestFoldsAreNotBlunders(t *testing.T) {
	uncoded := shape.New("uncoded", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 12, 0), shape.At(0, 12, 0))
	shape.Grid(uncoded, 0, 0, 20, 12, 10, 6, func(_, y float64) float64 { return 0.03 * math.Min(y, 12-y) })
	for name, r := range map[string]*roof.Roof{"trough": shape.Trough(16, 6, 0.03, 0.01, 0.3), "hip": shape.Hip(20, 12, 0.03), "uncoded": uncoded} {
		if _, odd := find(t, r); len(odd) != 0 {
			t.Errorf("%s: %+v", name, odd)
		}
	}
	r := shape.Trough(16, 6, 0.03, 0.01, 0.3)
	i := spotAt(t, r, 8)
	r.Spots[i].Z += 0.06
	if _, odd := find(t, r); len(odd) != 1 || odd[0].Spot != int32(i) || !(math.Abs(odd[0].Off()-0.06) <= 1e-4) {
		t.Errorf("on the valley: %+v", odd)
	}
}

// TestCompany: two spots 60 mm low beside each other are a place, not a slip.
func TestCompany(t *testing.T) {
	r := shed()
	for _, x := range []float64{10 - 10.0/3, 10} {
		for i := range r.Spots {
			if math.Abs(r.Spots[i].Plan[0]-x) < 0.01 && r.Spots[i].Plan[1] == 6 {
				r.Spots[i].Z -= 0.06
			}
		}
	}
	if _, odd := find(t, r); len(odd) != 0 {
		t.Errorf("%+v", odd)
	}
}

// TestSwapped: a spot whose northing and easting changed places lies off the roof, which stands at the booked elevation where they
// change back.
func TestSwapped(t *testing.T) {
	r := shed()
	i := spotAt(t, r, 20-10.0/3)
	r.Spots[i].Plan[0], r.Spots[i].Plan[1] = r.Spots[i].Plan[1], r.Spots[i].Plan[0]
	_, odd := find(t, r)
	if len(odd) != 1 || odd[0].Spot != int32(i) || odd[0].Vertex != -1 || !slices.Equal(odd[0].Slips, []blunder.Slip{blunder.Swapped}) {
		t.Errorf("%+v", odd)
	}
}

// TestPondsThatRest: a spot booked a foot low makes a pond that goes with it; without it there is none.
func TestPondsThatRest(t *testing.T) {
	r := shed()
	i := spotAt(t, r, 10)
	for _, off := range []float64{0, -foot} {
		r.Spots[i].Z += off
		s, odd := find(t, r)
		ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
		if err != nil {
			t.Fatal(err)
		}
		listed := make([]int32, len(ps.Ponds))
		for k := range listed {
			listed[k] = int32(k)
		}
		rests, err := blunder.Rests(s, ps, listed, odd)
		if err != nil {
			t.Fatal(err)
		}
		if off == 0 && len(ps.Ponds) != 0 || off != 0 && (len(rests) != 1 || !slices.Equal(rests[0], []int32{0})) {
			t.Errorf("off by %g: %d ponds, rest on %v", off, len(ps.Ponds), rests)
		}
	}
}
