// Package mendtest has small roofs on which the tests of corrections try their mends.
package mendtest

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// Lies are three ways in which the same figure may lie: as it is, at the angle of the triangle 3, 4, 5 and far off, and past a quarter turn.
var Lies = []func(x, y float64) orb.Point{
	func(x, y float64) orb.Point { return orb.Point{x, y} },
	func(x, y float64) orb.Point { return orb.Point{0.8*x - 0.6*y + 40, 0.6*x + 0.8*y - 70} },
	func(x, y float64) orb.Point { return orb.Point{-0.6*x - 0.8*y, 0.8*x - 0.6*y + 20} },
}

// Level is a roof at 3 m.
func Level(float64, float64) float64 { return 3 }

// Flat studies a walled roof of 12 by 10 m that lies so, with a drain at (6, 1.5), its corners and some places more measured.
func Flat(t *testing.T, to func(x, y float64) orb.Point, z func(x, y float64) float64, more ...orb.Point) *study.Study {
	t.Helper()
	var ring []roof.Position
	for _, p := range []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}} {
		q := to(p[0], p[1])
		ring = append(ring, shape.At(q[0], q[1], z(p[0], p[1])))
	}
	r := shape.New("flat", ring...)
	r.Outline.Edge = roof.Wall
	for _, p := range more {
		q := to(p[0], p[1])
		shape.Spot(r, q[0], q[1], z(p[0], p[1]))
	}
	q := to(6, 1.5)
	o := shape.Drain(r, q[0], q[1], 0.3)
	o.Invert, o.HasInvert = z(6, 1.5), true
	return Run(t, r)
}

// Part studies a walled roof with these corners, a drain at (6, 1.5) and some places more measured.
func Part(t *testing.T, z func(x, y float64) float64, corners []orb.Point, more ...orb.Point) *study.Study {
	t.Helper()
	var ring []roof.Position
	for _, p := range corners {
		ring = append(ring, shape.At(p[0], p[1], z(p[0], p[1])))
	}
	r := shape.New("part", ring...)
	r.Outline.Edge = roof.Wall
	for _, p := range more {
		shape.Spot(r, p[0], p[1], z(p[0], p[1]))
	}
	o := shape.Drain(r, 6, 1.5, 0.3)
	o.Invert, o.HasInvert = z(6, 1.5), true
	return Run(t, r)
}

// Run studies a roof.
func Run(t *testing.T, r *roof.Roof) *study.Study {
	t.Helper()
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// SamePlace fails where two places are apart.
func SamePlace(t *testing.T, what string, got, want orb.Point) {
	t.Helper()
	if !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= 1e-9) {
		t.Errorf("%s at %v, want %v", what, got, want)
	}
}

// About fails where two numbers differ by more than a millionth.
func About(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-6) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}
