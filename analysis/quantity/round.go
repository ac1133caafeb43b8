package quantity

import "math"

// Round returns v to so many decimals, halves away from zero, and never a negative zero.
func Round(v float64, decimals int) float64 {
	scale := 1.0
	for range decimals {
		scale *= 10
	}
	r := math.Round(v*scale) / scale
	if r == 0 {
		return 0
	}
	return r
}
