package rainfall

import "runnel/analysis/quantity"

// Flow returns the flow of a steady rate off an area [m2] from which everything runs off: Q = A i, exactly. The codes'
// 0.0104 gpm for a square foot and an inch an hour is this, rounded up by 0.1 %.
// Source: ASCE 7-05, commentary, equation C8-1, in consistent units.
func Flow(area float64, rate quantity.Intensity) quantity.Flow {
	return quantity.Flow(area * float64(rate))
}
