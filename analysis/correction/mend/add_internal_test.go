package mend

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// TestClearFor: 2 ft from walls, corners, curbs and outlets (OutletClear), 6 ft from open edges (EdgeClear): 0.6096 m and 1.8288 m.
func TestClearFor(t *testing.T) {
	r := shape.Plane(12, 10, 0.02, 6) // falls to an edge at y = 0
	shape.Curb(r, shape.Bare(6, 5), shape.Bare(7, 5), shape.Bare(7, 6), shape.Bare(6, 6))
	o := shape.Drain(r, 3, 5, 0.3)
	o.Invert, o.HasInvert = 0.1, true
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := New(Input{Study: s})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		at    orb.Point
		kind  roof.OutletType
		clear bool
	}{
		{orb.Point{9, 5}, roof.Drain, true},
		{orb.Point{11.40, 5}, roof.Drain, false}, // 0.60 m from the wall
		{orb.Point{11.38, 5}, roof.Drain, true},
		{orb.Point{9, 1.82}, roof.Drain, false}, // from the open edge
		{orb.Point{9, 1.84}, roof.Drain, true},
		{orb.Point{7.60, 5.5}, roof.Drain, false}, // from the curb
		{orb.Point{7.62, 5.5}, roof.Drain, true},
		{orb.Point{3.60, 5}, roof.Drain, false}, // from the other drain
		{orb.Point{3.62, 5}, roof.Drain, true},
		{orb.Point{12, 5}, roof.Scupper, true},     // in the wall
		{orb.Point{12, 9.40}, roof.Scupper, false}, // from the corner
		{orb.Point{12, 9.38}, roof.Scupper, true},
	} {
		if got := d.clearFor(c.at, c.kind); got != c.clear {
			t.Errorf("%v: clear %t", c.at, got)
		}
	}
}
