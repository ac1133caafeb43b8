package trial_test

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/trial"
)

// Where a cricket would stand, by hand: a pond's lowest place up to 0.6 m from the nearest side of a curb goes to that side; else to the two primary outlets on
// whose line it lies, by up to 0.15 of their distance, the nearest two of several.
func TestBaseOfAPond(t *testing.T) {
	r := &roof.Roof{Curbs: []roof.Curb{
		{Ring: []roof.Position{shape.Bare(20, 10), shape.Bare(24, 10), shape.Bare(24, 13), shape.Bare(20, 13), shape.Bare(20, 10)}},
		{Ring: []roof.Position{shape.Bare(25, 10), shape.Bare(28, 10), shape.Bare(28, 13), shape.Bare(25, 13), shape.Bare(25, 10)}},
	}}
	out := func(x, y float64, d roof.Duty, line []orb.Point) surface.Outlet {
		return surface.Outlet{Plan: orb.Point{x, y}, Duty: d, Line: line}
	}
	s := &surface.Surface{Outlets: []surface.Outlet{
		out(2, 4, roof.Primary, nil), out(12, 4, roof.Primary, nil), out(7, 5, roof.Overflow, nil), out(32, 4, roof.Primary, nil),
		out(7, 3, roof.Primary, []orb.Point{{7, 3}, {8, 3}}), out(5, 2, roof.Primary, nil),
	}}
	for _, c := range []struct {
		name string
		pit  orb.Point
		want [2]orb.Point
		ok   bool
	}{
		{"south of a curb", orb.Point{22, 9.45}, [2]orb.Point{{20, 10}, {24, 10}}, true},
		{"too far south", orb.Point{22, 9.35}, [2]orb.Point{}, false},
		{"north of it", orb.Point{21, 13.5}, [2]orb.Point{{24, 13}, {20, 13}}, true},
		{"between two curbs, nearer to the first", orb.Point{24.4, 11}, [2]orb.Point{{24, 10}, {24, 13}}, true},
		{"nearer to the second", orb.Point{24.7, 11}, [2]orb.Point{{25, 13}, {25, 10}}, true},
		{"its last side", orb.Point{19.8, 12}, [2]orb.Point{{20, 13}, {20, 10}}, true},
		{"on the line of two outlets", orb.Point{9, 5}, [2]orb.Point{{2, 4}, {12, 4}}, true}, // not (5, 2) to (12, 4), 7.28 m long, off which it lies 1.6 m
		{"off it by 1.4 m of 10", orb.Point{9, 5.4}, [2]orb.Point{{2, 4}, {12, 4}}, true},
		{"off it by 1.6 m of 10", orb.Point{9, 5.6}, [2]orb.Point{{32, 4}, {5, 2}}, true}, // 3.3 m off a line of 27.1 m, the next longer one
		{"off all", orb.Point{9, 9.5}, [2]orb.Point{}, false},
		{"before the first outlet", orb.Point{1, 4}, [2]orb.Point{}, false},
		{"on a shorter line too", orb.Point{9, 3.2}, [2]orb.Point{{12, 4}, {5, 2}}, true}, // 0.06 m off (5, 2) to (12, 4)
		{"on the longer one alone", orb.Point{20, 4}, [2]orb.Point{{12, 4}, {32, 4}}, true},
	} {
		s.Cut = &surface.TIN{X: []float64{100, c.pit[0]}, Y: []float64{100, c.pit[1]}}
		base, ok := trial.BaseOf(r, s, &ponding.Pond{Pits: []int32{1, 0}})
		if ok != c.ok || ok && base != c.want {
			t.Errorf("%s: %v, %t, want %v", c.name, base, ok, c.want)
		}
	}
}
