package surface_test

import (
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
)

// A roof of 10 by 8 m with a curb of 2 by 3 m in it has two borders, with the roof on the left of both: the areas that they go round are +80 and -6 m2, by hand.
func TestRingsHaveTheRoofOnTheirLeft(t *testing.T) {
	r := shape.Plane(10, 8, 0.02, 5)
	shape.Curb(r, shape.Bare(4, 3), shape.Bare(6, 3), shape.Bare(6, 6), shape.Bare(4, 6))
	tin := build(t, r).TIN
	var areas []float64
	for _, ring := range tin.Rings() {
		area := 0.0
		for _, e := range ring {
			a, b := tin.V[e], tin.End(e)
			area += (tin.X[a]*tin.Y[b] - tin.X[b]*tin.Y[a]) / 2
		}
		areas = append(areas, area)
	}
	if slices.Sort(areas); len(areas) != 2 || !near(areas[0], -6, 1e-9) || !near(areas[1], 80, 1e-9) {
		t.Errorf("the rings go round %v m2", areas)
	}
}
