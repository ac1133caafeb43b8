package cause

import (
	"math"
	"testing"
)

// TestDirections: against the sine and cosine of the standard library, all round and beyond.
func TestDirections(t *testing.T) {
	for k := -turns; k <= 2*turns; k++ {
		sin, cos := math.Sincos(float64(k) * 2 * math.Pi / turns)
		if d := direction(k); !(math.Abs(d[0]-cos) <= 1e-14) || !(math.Abs(d[1]-sin) <= 1e-14) {
			t.Errorf("direction %d: %v, want (%g, %g)", k, d, cos, sin)
		}
	}
	if v := turned([2]float64{0, 2}, turns/4); v != [2]float64{-2, 0} {
		t.Errorf("north turned left is %v, want west", v)
	}
}
