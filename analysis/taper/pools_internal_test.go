package taper

import (
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
)

// TestPoolsOfLeveller: what hangs together and lacks no more than Within is left out, wherever it stands: a pool of a millimetre that a dry spot parts from one of a centimetre goes, and that stays.
func TestPoolsOfLeveller(t *testing.T) {
	r := shape.New("grid", shape.At(0, 0, 0), shape.At(5, 0, 0), shape.At(5, 5, 0), shape.At(0, 5, 0))
	for x := range 4 {
		for y := range 4 {
			shape.Spot(r, float64(x+1), float64(y+1), 0)
		}
	}
	tin := shape.Build(t, r).TIN
	star := starOf(tin)
	beside := func(v, w int32) bool {
		return slices.ContainsFunc(star[v], func(f int32) bool { return slices.Contains(tin.V[3*f:3*f+3], w) })
	}
	n := int32(len(tin.X))
	tried := 0
	for dry := range n {
		for a := range n {
			for b := range n {
				if a == dry || b == dry || a == b || beside(a, b) || !beside(dry, a) || !beside(dry, b) {
					continue
				}
				tried++
				c := &Courses{l: &Laying{base: Base{TIN: tin}, star: star}, lift: make([]float64, n)}
				c.Within = 0.002
				c.lift[a], c.lift[b], c.lift[dry] = 0.001, 0.01, 0.9e-5
				if c.even(); c.lift[a] != 0 || c.lift[b] != 0.01 || c.lift[dry] != 0 {
					t.Fatalf("%d between %d and %d: %v", dry, a, b, c.lift)
				}
				c.lift[a], c.lift[b], c.lift[dry] = 0.001, 0.01, 1.1e-5
				if c.even(); c.lift[a] != 0.001 || c.lift[b] != 0.01 || c.lift[dry] != 1.1e-5 {
					t.Fatalf("%d joins %d and %d: %v", dry, a, b, c.lift)
				}
			}
		}
	}
	if tried < 50 {
		t.Errorf("%d ways", tried)
	}
}
