package blunder_test

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// A point that does not fit is called by what it stands on: a spot and an inlet by their names, others by the line or ring that has a point within 20 mm.
func TestNamesOfOddPoints(t *testing.T) {
	r := &roof.Roof{
		Spots:      []roof.Spot{{Feature: roof.Feature{ID: "17"}}},
		Breaklines: []roof.Breakline{{Feature: roof.Feature{ID: "V2"}, Line: []roof.Position{{Plan: orb.Point{1, 2}}, {Plan: orb.Point{5, 2}}}}},
		Curbs:      []roof.Curb{{Feature: roof.Feature{ID: "K1"}, Ring: []roof.Position{{Plan: orb.Point{7, 7}}, {Plan: orb.Point{9, 7}}}}},
	}
	s := &surface.Surface{Outlets: []surface.Outlet{{Label: "RD-1"}, {Label: "RD-2"}}}
	for want, o := range map[string]blunder.Odd{
		"spot 17":                 {Spot: 0, Plan: orb.Point{1, 2}},
		"the inlet of RD-2":       {Spot: -1, Vertex: -1, Inlet: true, Outlet: 1},
		"a point of breakline V2": {Spot: -1, Plan: orb.Point{5.01, 2.01}},
		"a corner of curb K1":     {Spot: -1, Plan: orb.Point{8.99, 7}},
	} {
		if got := o.Called(r, s); got != want {
			t.Errorf("%v: %q, want %q", o.Plan, got, want)
		}
	}
	for _, p := range []orb.Point{{5.02, 2.01}, {9, 7.03}, {2, 1}} {
		if got := (&blunder.Odd{Spot: -1, Plan: p}).Called(r, s); got != "a point of the outline" {
			t.Errorf("%v: %q", p, got)
		}
	}
}
