package tape

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// By hand: of ways off a roof the nearest of its duty counts, by the way from the water's edge; what stands in the water is no way off at all. A line is as near as its nearest place, wherever its ends are. Ways are called by label, else by id, else by what they are.
func TestNearestWayOff(t *testing.T) {
	r := &roof.Roof{
		Outlets: []roof.Outlet{{Label: "RD-1", Plan: orb.Point{10, 2}}, {Plan: orb.Point{4, 2}, Duty: roof.Overflow}},
		Edges: []roof.Edge{
			{Type: roof.Gutter, Line: []roof.Position{{Plan: orb.Point{-20, -5}}, {Plan: orb.Point{20, -5}}}},
			{Type: roof.Wall, Line: []roof.Position{{Plan: orb.Point{0, 2.2}}, {Plan: orb.Point{1, 2.2}}}},
			{Type: roof.Free, Label: "east", Line: []roof.Position{{Plan: orb.Point{30, 0}}, {Plan: orb.Point{30, 9}}}},
		},
	}
	r.Outlets[1].ID = "7"
	r.Outline.Rings = [][]roof.Position{{{Plan: orb.Point{-90, -90}}, {Plan: orb.Point{90, -90}}, {Plan: orb.Point{90, 90}}, {Plan: orb.Point{-90, -90}}}}
	s := &Survey{Roof: r}
	s.Exits = s.exits()
	for i, want := range []struct {
		name   string
		outlet int
	}{{"RD-1", 0}, {"7", 1}, {"the gutter", -1}, {"east", -1}} {
		if i >= len(s.Exits) || s.Exits[i].Name != want.name || s.Exits[i].Outlet != want.outlet {
			t.Fatalf("%+v", s.Exits)
		}
	}
	ring := func(x, y float64) orb.Ring { // 2 by 2 m
		return orb.Ring{{x, y}, {x + 2, y}, {x + 2, y + 2}, {x, y + 2}, {x, y}}
	}
	for i, c := range []struct {
		at       orb.Point
		duty     roof.Duty
		exit     int
		distance float64
	}{
		{orb.Point{3, 1}, roof.Primary, 0, 5},
		{orb.Point{3, 1}, roof.Overflow, 1, 0},
		{orb.Point{0, -4}, roof.Primary, 2, 1},
		{orb.Point{0, 5}, roof.Overflow, 1, math.Hypot(2, 3)},
		{orb.Point{25, 4}, roof.Primary, 3, 3},
		{orb.Point{9, 1.5}, roof.Primary, 0, 0},
		{orb.Point{9, -2.5}, roof.Primary, 0, 2.5}, // as far from the gutter: the outlet, which comes first
	} {
		if exit, d := s.nearest(ring(c.at[0], c.at[1]), c.duty); exit != c.exit || !(math.Abs(d-c.distance) <= 1e-9) {
			t.Errorf("%d: exit %d, %g m off, want %d, %g m", i, exit, d, c.exit, c.distance)
		}
	}
	s.Exits = s.Exits[2:]
	if exit, _ := s.nearest(ring(0, 0), roof.Overflow); exit != -1 {
		t.Errorf("an overflow where there is none: %d", exit)
	}
	r.Outline.Edge = roof.Free
	if all := s.exits(); len(all) != 5 || all[4].Name != "the open edge" || all[4].Outlet != -1 || len(all[4].Line) != 4 || all[4].Edge != roof.Free {
		t.Errorf("%+v", all)
	}
}

// Inlets are read, then what was read for ponds, each place once with the mean of its readings, by hand to 2 and 4 mm: 16 parts of the first and 4 of the second of 20, then spots. An inlet read three times is better by root 3; names say what was read.
func TestHeightsThatWereRead(t *testing.T) {
	probe := func(kind roof.ProbeKind, of string, z, sigma float64) roof.Probe {
		return roof.Probe{Kind: kind, Of: of, Position: roof.Position{Plan: orb.Point{1, 1}, Z: z, HasZ: true}, Sigma: quantity.Length(sigma)}
	}
	r := &roof.Roof{Tape: &roof.Tape{}, Outlets: []roof.Outlet{{Label: "RD-1", Invert: 9, HasInvert: true}, {Label: "RD-2"}}}
	r.Tape.Probes = []roof.Probe{
		probe(roof.InletProbe, "rd-1", 9, 0), probe(roof.InletProbe, "RD-1", 9, 0), probe(roof.InletProbe, "RD-1", 9, 0),
		probe(roof.LowProbe, "1", 8, 0.002), probe(roof.LowProbe, "1", 8.010, 0.004), probe(roof.LipProbe, "1", 8.2, 0), probe(roof.BeforeProbe, "RD-1", 8.3, 0), probe(roof.BeforeProbe, "", 8.4, 0),
	}
	spot := roof.Spot{Sigma: 0.007}
	spot.ID, spot.Z = "S1", 8.5
	r.Spots = []roof.Spot{spot, {}}
	got := (&Survey{Roof: r, Sigma: 0.003}).Readings()
	want := []Height{
		{What: "inlet of RD-1", Z: 9, Sigma: 0.003 / math.Sqrt(3), Inlet: true},
		{What: "lowest place of P1", Z: 8.002, Sigma: 1 / math.Sqrt(1/0.002/0.002+1/0.004/0.004)},
		{What: "lip of P1", Z: 8.2, Sigma: 0.003},
		{What: "before RD-1", Z: 8.3, Sigma: 0.003},
		{What: "before", Z: 8.4, Sigma: 0.003},
		{What: "S1", Z: 8.5, Sigma: 0.007},
		{Sigma: 0.003},
	}
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i, w := range want {
		if g := got[i]; g.What != w.What || g.Inlet != w.Inlet || !(math.Abs(g.Z-w.Z) <= 1e-9) || !(math.Abs(g.Sigma-w.Sigma) <= 1e-9) {
			t.Errorf("%d: %+v, want %+v", i, g, w)
		}
	}
}
