package evidence

import (
	"math"
	"testing"

	"runnel/analysis/surface"
)

// By hand: 12 mm below the mesh at a spot that a fold passes somewhere is a mean square of 144/3 = 48 mm2 downwards and nothing upwards; a found valley that may be 12 mm blunt, and whose
// planes are good to 2 mm, is off by 4 mm2 downwards and 144/12 = 12 mm2 upwards; what is no vertex of the uncut roof by nothing.
func TestWhatTheMeshLeavesOpen(t *testing.T) {
	tin := &surface.TIN{Found: []bool{false, true}, Below: []float64{0.012, 0.002}, Interpolation: []float64{0.012, 0.012}}
	for v, want := range [][2]float64{{48e-6, 0}, {4e-6, 12e-6}, {0, 0}} {
		if below, above := between(tin, int32(v)); !(math.Abs(below-want[0]) <= 1e-12) || !(math.Abs(above-want[1]) <= 1e-12) {
			t.Errorf("vertex %d: %g and %g, want %g", v, below, above, want)
		}
	}
}

// An elevation drawn from a spot 2 m off stands as that; beyond, what is told of it falls off without a step until half the way is unknown, from 4 m on.
func TestElevationsDrawnFromFarSpots(t *testing.T) {
	for _, c := range [][2]float64{{0, 0}, {2, 0}, {2.1, 0.1}, {3, 1}, {4, 2}, {6, 3}} {
		if got := beyondSpots(c[0]); !(math.Abs(got-c[1]) <= 1e-12) {
			t.Errorf("%g m off: %g m, want %g", c[0], got, c[1])
		}
	}
}
