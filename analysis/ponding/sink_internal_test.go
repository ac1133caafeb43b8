package ponding

import (
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// By hand: vertex 1 belongs to the bowl of a drain that takes water from 0.02 m on, vertex 2 to that and to an overflow that takes it from 0.05 m on; the roof at the drain on vertex 3 lies 0.1 m over its inlet. Of vertex 0 no outlet takes any.
func TestWhichOutletTakesWater(t *testing.T) {
	s, err := newSinks(&surface.TIN{X: make([]float64, 4)}, []surface.Outlet{
		{ID: "drain", Invert: 0.02, Vertices: []int32{1, 2}}, {ID: "overflow", Duty: roof.Overflow, Invert: 0.05, Vertices: []int32{2}}, {ID: "high", Invert: 0, Low: 0.1, Vertices: []int32{3}},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		v    int32
		h    float64
		want int32
	}{
		{0, 1, -1}, {1, 0.01, -1}, {1, 0.02, 0}, {1, 0.03, 0}, {2, 0.01, -1}, {2, 0.03, 0}, {2, 0.06, 0}, {3, 0.09, -1}, {3, 0.1, 2},
	} {
		if got := s.takes(c.v, c.h); got != c.want {
			t.Errorf("water at %g m on vertex %d: outlet %d, want %d", c.h, c.v, got, c.want)
		}
	}
}
