package settle_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Two points 5 mm apart whose elevations differ by 200 mm are refused on a roof of a few spots; among the 1,600 of a scan they
// are averaged by their errors: 10 mm and 20 mm weigh 4 to 1, and the mean is good to 1/root(1/10^2 + 1/20^2) = 8.94 mm.
func TestPointsOfOnePlaceInAScan(t *testing.T) {
	plane := func(n int) *roof.Roof {
		r := shape.New("plane", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 20, 0), shape.At(0, 20, 0))
		shape.Grid(r, 0.25, 0.25, 19.75, 19.75, n-1, n-1, func(_, _ float64) float64 { return 0 })
		for i := range r.Spots {
			r.Spots[i].Sigma = 0.01
		}
		p := r.Spots[n+1].Plan
		shape.Spot(r, p[0]+0.005, p[1], 0.2)
		r.Spots[len(r.Spots)-1].Sigma = quantity.Length(0.02)
		return r
	}
	if _, err := surface.Build(plane(10), surface.Options{}); err == nil {
		t.Error("a contradiction among 101 spots was taken")
	}
	s, err := surface.Build(plane(40), surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for v, z := range s.TIN.Z {
		if z == 0 {
			continue
		}
		if !(math.Abs(z-0.04) <= 1e-9) || !(math.Abs(s.TIN.Sigma[v]-0.01*math.Sqrt(0.8)) <= 1e-9) {
			t.Errorf("mean %g good to %g", z, s.TIN.Sigma[v])
		}
		return
	}
	t.Error("no mean")
}
