package quantity

import (
	"math"

	"runnel/analysis/choose"
)

// Round returns v to so many decimals, halves away from zero, and never a negative zero.
func Round(v float64, decimals int) float64 {
	scale := 1.0
	for range decimals {
		scale *= 10
	}
	r := math.Round(v*scale) / scale
	return choose.If(r == 0, 0, r)
}
