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
)

// drained is the shed with an outlet at (10, 6), where the roof stands at 0.02 x 6 = 0.12 m and a spot was shot; the inlet stands off by so much.
func drained(kind roof.OutletType, off float64) (*roof.Roof, *roof.Outlet) {
	r := shed()
	r.Units = quantity.Feet
	o := shape.Drain(r, 10, 6, 0.15)
	o.Type, o.Duty, o.Label, o.ID = kind, roof.Primary, "RD-1", "o1"
	o.Invert, o.HasInvert = 0.12-0.02*0.075+off, true // the lowest place of a bowl 0.15 m wide
	return r, o
}

// TestInletsThatDoNotFit: the level of an inlet is doubted where no drain is built so, and earlier where a slip explains it: whole feet, a strainer (a dome stands 4 to 8 in
// high), another unit. Up to 4 in over the roof it may well stand so; in a sump of 6 in, or over its own dam, it does.
func TestInletsThatDoNotFit(t *testing.T) {
	inch := foot / 12
	for _, c := range []struct {
		name   string
		kind   roof.OutletType
		off    float64 // of the inlet over the roof [m]
		change func(r *roof.Roof, o *roof.Outlet)
		want   []blunder.Slip // nil: it is not doubted
	}{
		{"an inch high", roof.Drain, inch, nil, nil},
		{"3.5 in high", roof.Drain, 3.5 * inch, nil, nil},
		{"5 in high", roof.Drain, 5 * inch, nil, []blunder.Slip{blunder.OnStrainer}},
		{"a foot high", roof.Drain, foot, nil, []blunder.Slip{blunder.Foot}},
		{"two feet low", roof.Drain, -2 * foot, nil, []blunder.Slip{blunder.Foot, blunder.InBowl}},
		{"in a sump of 6 in", roof.Drain, -6 * inch, nil, nil},
		{"14 in low", roof.Drain, -14 * inch, nil, []blunder.Slip{blunder.InBowl}},
		{"15 in high", roof.Drain, 15 * inch, nil, []blunder.Slip{}},
		{"5 in high, with a dam of 3 in", roof.Drain, 5 * inch, func(_ *roof.Roof, o *roof.Outlet) { o.DamHeight = quantity.Length(3 * inch) }, nil},
		{"a metre high in a file in metres", roof.Drain, 1, func(r *roof.Roof, _ *roof.Outlet) { r.Units = quantity.Metres }, []blunder.Slip{blunder.Metre}},
		{"an overflow a foot high", roof.Drain, foot, func(_ *roof.Roof, o *roof.Outlet) { o.Duty = roof.Overflow }, nil},
		{"a foot high, and meant", roof.Drain, foot, func(r *roof.Roof, _ *roof.Outlet) { r.Kept = []string{"RD-1"} }, nil},
		{"without a label, and meant", roof.Drain, foot, func(r *roof.Roof, o *roof.Outlet) { o.Label, r.Kept = "", []string{"o1"} }, nil},
		{"a foot high, and nobody measured it", roof.Drain, foot, func(_ *roof.Roof, o *roof.Outlet) { o.HasInvert = false }, nil},
		{"a foot high, and water was seen at it", roof.Drain, foot, func(r *roof.Roof, _ *roof.Outlet) { r.Stains = seen(8, 4, 12, 8) }, nil},
		{"a foot high, and water was seen 0.9 m off", roof.Drain, foot, func(r *roof.Roof, _ *roof.Outlet) { r.Stains = seen(10.9, 5, 13, 7) }, nil},
		{"a foot high, and water was seen 1.1 m off", roof.Drain, foot, func(r *roof.Roof, _ *roof.Outlet) { r.Stains = seen(11.1, 5, 13, 7) }, []blunder.Slip{blunder.Foot}},
	} {
		r, o := drained(c.kind, c.off)
		if c.change != nil {
			c.change(r, o)
		}
		s, odd := find(t, r)
		if c.want == nil {
			if len(odd) != 0 {
				t.Errorf("%s: %+v", c.name, odd)
			}
			continue
		}
		if len(odd) != 1 || !odd[0].Inlet || s.Outlets[odd[0].Outlet].Source != 0 || odd[0].Vertex != -1 || odd[0].Spot != -1 || !slices.Equal(odd[0].Slips, c.want) {
			t.Errorf("%s: %+v, want slips %v", c.name, odd, c.want)
			continue
		}
		if !(math.Abs(odd[0].Off()-c.off) <= 1e-3) {
			t.Errorf("%s: off by %g m, want %g", c.name, odd[0].Off(), c.off)
		}
	}
}

// seen is standing water over a rectangle.
func seen(x0, y0, x1, y1 float64) []roof.Stain {
	return []roof.Stain{{Ring: []roof.Position{shape.At(x0, y0, 0), shape.At(x1, y0, 0), shape.At(x1, y1, 0), shape.At(x0, y1, 0), shape.At(x0, y0, 0)}}}
}

// TestScuppersThatDoNotFit: a sill stands a few inches up more often than a drain does, and has no strainer: from 4 in on it takes a slip to doubt it, from 10 in on none.
func TestScuppersThatDoNotFit(t *testing.T) {
	for off, want := range map[float64]bool{0.08: false, 0.15: false, 0.24: false, 0.27: true, foot: true} {
		r := shape.Plane(20, 12, 0.02, 6)
		r.Units = quantity.Feet
		o := shape.Scupper(r, 10, 0, 0.2)
		o.Invert, o.HasInvert, o.Duty = off, true, roof.Primary
		_, odd := find(t, r)
		if got := len(odd) == 1 && odd[0].Inlet; got != want || !want && len(odd) > 0 {
			t.Errorf("a sill %g m up: %+v", off, odd)
		}
	}
}

// TestPondsThatRestOnAnInlet: a walled tray with a level floor and one drain a foot up holds a foot of water, which goes when the inlet stands where the roof is; water that
// a curb holds elsewhere does not rest on it.
func TestPondsThatRestOnAnInlet(t *testing.T) {
	r := shape.New("tray", shape.At(0, 0, 0), shape.At(12, 0, 0), shape.At(12, 9, 0), shape.At(0, 9, 0))
	shape.Grid(r, 0, 0, 12, 9, 6, 6, func(_, _ float64) float64 { return 0 })
	r.Units = quantity.Feet
	o := shape.Drain(r, 6, 4.5, 0.15)
	o.Invert, o.HasInvert, o.Duty = foot, true, roof.Primary
	s, odd := find(t, r)
	ponds, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil || len(ponds.Ponds) != 1 || len(odd) != 1 {
		t.Fatalf("%d ponds, %+v, %v", len(ponds.Ponds), odd, err)
	}
	if rests, err := blunder.Rests(s, ponds, []int32{0}, odd); err != nil || !slices.Equal(rests[0], []int32{0}) {
		t.Errorf("rests on %v, %v", rests, err)
	}
	// an overflow 2 in up holds the water now: still it stands there for the inlet alone
	r.Outlets = append(r.Outlets, *o)
	over := &r.Outlets[1]
	over.Plan[0], over.Duty, over.Invert, over.ID = 8, roof.Overflow, foot/6, "o2"
	s, odd = find(t, r)
	if ponds, err = ponding.Find(s.Cut, s.Outlets, s.Cut.Z); err != nil || len(odd) != 1 {
		t.Fatalf("%+v, %v", odd, err)
	}
	if rests, err := blunder.Rests(s, ponds, []int32{0}, odd); err != nil || !slices.Equal(rests[0], []int32{0}) {
		t.Errorf("with an overflow it rests on %v, %v", rests, err)
	}
	odd[0].Expected = foot/6 - 0.01 // an inlet 10 mm lower than that makes no other pond
	if rests, err := blunder.Rests(s, ponds, []int32{0}, odd); err != nil || len(rests[0]) != 0 {
		t.Errorf("rests on %v, %v", rests, err)
	}
}
