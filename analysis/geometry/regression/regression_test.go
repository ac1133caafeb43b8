package regression_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/regression"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12) {
		t.Errorf("%s is %v, not %v", what, got, want)
	}
}

// By hand: the corners of a square of 2 at the heights 0, 0, 0 and 1. Their second moments are 4, 0 and 4, and 1 with the height,
// so that the plane rises 1/4 each way through 1/4 in the middle.
func TestPlaneThroughFourCorners(t *testing.T) {
	var ones, threes regression.Sums
	for _, c := range [][3]float64{{-1, -1, 0}, {1, -1, 0}, {-1, 1, 0}, {1, 1, 1}} {
		ones.Add(c[0], c[1], c[2])
		threes.Weigh(3, c[0], c[1], c[2])
	}
	for w, m := range map[float64]regression.Sums{1: ones, 3: threes, 4: ones.Plus(threes)} {
		p, ok := m.Plane(1e-12)
		if !ok {
			t.Fatal("no plane")
		}
		near(t, "gradient to the east", p.DX, 0.25)
		near(t, "gradient to the north", p.DY, 0.25)
		near(t, "slope", p.Slope(), math.Sqrt(0.125))
		near(t, "height in a corner", p.At(1, -1), 0.25)
		near(t, "leverage in the middle", p.Leverage(0, 0), 1/(4*w))
		near(t, "leverage in a corner", p.Leverage(1, 1), 3/(4*w))
	}
}

// By hand: a facet on the plane z = 5 + x/10 - y/5 of area 6 weighs 6 and gives that plane back, and a line gives none.
func TestPlaneOfAFacetAndOfALine(t *testing.T) {
	z := func(x, y float64) float64 { return 5 + x/10 - y/5 }
	var m, line regression.Sums
	x, y := [3]float64{0, 4, 1}, [3]float64{0, 0, 3}
	m.Facet(x, y, [3]float64{z(0, 0), z(4, 0), z(1, 3)}, 6)
	p, ok := m.Plane(1e-12)
	if !ok {
		t.Fatal("no plane")
	}
	near(t, "weight", p.N, 6)
	near(t, "gradient to the east", p.DX, 0.1)
	near(t, "gradient to the north", p.DY, -0.2)
	near(t, "height far off", p.At(10, 10), z(10, 10))
	near(t, "centroid", p.X, 5.0/3)
	for i := range 5 {
		line.Add(float64(i), float64(2*i), 1)
	}
	if _, ok := line.Plane(1e-12); ok {
		t.Error("a plane through points on one line")
	}
	if _, ok := new(regression.Sums).Plane(1e-12); ok {
		t.Error("a plane through nothing")
	}
}
