package inspection_test

import (
	"math"
	"testing"

	"runnel/analysis/inspection"
	"runnel/analysis/ponding"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

const (
	inch   = 0.0254
	foot   = 0.3048
	square = foot * foot // 1 ft2
	pound  = 0.45359237  // [kg], exact by definition
)

// TestListed: the criteria are 1/4 in, or 1/8 in over 100 ft2 or more; both limits count as reached.
func TestListed(t *testing.T) {
	for _, c := range []struct {
		name        string
		depth, area float64
		undrained   bool
		want        bool
	}{
		{"a quarter inch", inch / 4, 5 * square, false, true},
		{"a little less", inch/4 - 0.0001, 5 * square, false, false},
		{"an eighth over a hundred square feet", inch / 8, 100 * square, false, true},
		{"an eighth over ninety-nine", inch / 8, 99 * square, false, false},
		{"less than an eighth over a thousand", inch/8 - 0.0001, 1000 * square, false, false},
		{"no way out, whatever its depth", 0.0005, square, true, true},
		{"no way out, no depth", 0, square, true, false},
	} {
		ps := &ponding.Ponds{Ponds: []ponding.Pond{{Depth: c.depth, Area: c.area, Volume: 1, HeldBy: -1, Undrained: c.undrained}}}
		listed, _, rest := inspection.List(&surface.Surface{}, ps, standard.Defaults(), nil)
		if got := len(listed) == 1; got != c.want {
			t.Errorf("%s: listed %v, want %v", c.name, got, c.want)
		}
		if len(listed)+rest.Count != 1 {
			t.Errorf("%s: listed %d and left %d of one pond", c.name, len(listed), rest.Count)
		}
	}
}

// TestWeightOfAPond: 1 in over 1,000 ft2 weighs 5,202.29 lb and loads 5.202288 psf (table of the weight of
// water on roofs; 5.2 psf per inch in building codes).
func TestWeightOfAPond(t *testing.T) {
	p := ponding.Pond{Depth: inch, Area: 1000 * square, Volume: inch * 1000 * square, HeldBy: -1}
	listed, _, _ := inspection.List(&surface.Surface{}, &ponding.Ponds{Ponds: []ponding.Pond{p}}, standard.Defaults(), nil)
	if got := listed[0].Weight / pound; !(math.Abs(got-5202.29) <= 0.1) {
		t.Errorf("weight %g lb, want 5202.29", got)
	}
	psf := listed[0].Load / 9.80665 / pound * square
	if !(math.Abs(psf-5.202288) <= 1e-4) {
		t.Errorf("load %g psf, want 5.202288", psf)
	}
}

// TestPlaceAndOrder: worst is the greatest volume; a pond whose water is at an outlet's footprint is at the
// outlet; the rest is summed up by hand: 2 ponds, 3 m2, 0.003 m3, deepest 4 mm.
func TestPlaceAndOrder(t *testing.T) {
	ps := &ponding.Ponds{
		Ponds: []ponding.Pond{
			{Depth: 0.02, Area: 3, Volume: 0.02, HeldBy: -1},
			{Depth: 0.03, Area: 9, Volume: 0.09, HeldBy: -1},
			{Depth: 0.04, Area: 2, Volume: 0.03, HeldBy: -1, Undrained: true},
			{Depth: 0.01, Area: 2, Volume: 0.01, HeldBy: 1},
			{Depth: 0.004, Area: 1, Volume: 0.001, HeldBy: -1},
			{Depth: 0.003, Area: 2, Volume: 0.002, HeldBy: -1},
		},
		Of: []int32{0, 0, 1, -1},
	}
	s := &surface.Surface{Outlets: []surface.Outlet{{Vertices: []int32{1, 3}}, {Vertices: []int32{3}}}}
	listed, _, rest := inspection.List(s, ps, standard.Defaults(), nil)
	want := []struct {
		pond  int32
		id    string
		place inspection.Place
	}{
		{1, "P01", inspection.ShortOfOutlet},
		{2, "P02", inspection.Enclosed},
		{0, "P03", inspection.AtOutlet},
		{3, "P04", inspection.AtOutlet},
	}
	if len(listed) != len(want) {
		t.Fatalf("%d listed, want %d", len(listed), len(want))
	}
	for i, w := range want {
		if l := listed[i]; l.Pond != w.pond || l.ID != w.id || l.Place != w.place {
			t.Errorf("%d: pond %d %s %s, want %d %s %s", i, l.Pond, l.ID, l.Place, w.pond, w.id, w.place)
		}
	}
	if len(listed[2].Touches) != 1 || listed[2].Touches[0] != 0 {
		t.Errorf("pond 0 touches %v, want outlet 0", listed[2].Touches)
	}
	if rest.Count != 2 || !(math.Abs(rest.Area-3) <= 1e-12) || !(math.Abs(rest.Volume-0.003) <= 1e-12) || rest.Depth != 0.004 {
		t.Errorf("rest %+v", rest)
	}
}
