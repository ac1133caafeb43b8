// Package drafttest checks drafts in the tests of the packages that read them.
package drafttest

import (
	"math"
	"testing"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// Finite fails the test where a draft holds a number that is not finite, a ring that is not closed or a line
// without a length.
func Finite(t *testing.T, d *draft.Draft) {
	t.Helper()
	position := func(p roof.Position) {
		for _, v := range []float64{p.Plan[0], p.Plan[1], p.Z} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("position %+v is not finite", p)
			}
		}
	}
	line := func(line []roof.Position, least int) {
		if len(line) < least {
			t.Fatalf("a line of %d positions", len(line))
		}
		for _, p := range line {
			position(p)
		}
	}
	ring := func(ring []roof.Position) {
		line(ring, 4)
		if ring[0] != ring[len(ring)-1] {
			t.Fatalf("ring %v is not closed", ring)
		}
	}
	for _, o := range d.Outlines {
		for _, r := range o.Rings {
			ring(r)
		}
		for name, v := range o.Criteria {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("criterion %s is %v", name, v)
			}
		}
	}
	for _, s := range d.Spots {
		position(s.Position)
		if !s.HasZ {
			t.Fatal("a spot without an elevation")
		}
	}
	for _, e := range d.Edges {
		line(e.Line, 2)
	}
	for _, b := range d.Breaklines {
		line(b.Line, 2)
	}
	for _, c := range d.Curbs {
		ring(c.Ring)
	}
	for _, s := range d.Stains {
		ring(s.Ring)
	}
	for _, o := range d.Outlets {
		position(roof.Position{Plan: o.Plan, Z: o.Invert})
	}
	for _, c := range d.Cores {
		position(c.Position)
	}
	for _, c := range d.Controls {
		position(roof.Position{Plan: c.Plan, Z: c.Lon + c.Lat})
	}
}
