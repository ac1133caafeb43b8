package geometry

import "math"

// PerMetre is the number of grid units in a metre.
const PerMetre = 1e5

// OnGrid returns v metres in grid units.
func OnGrid(v float64) int32 { return int32(math.Round(v * PerMetre)) }

// Metres returns grid units in metres.
func Metres(v int32) float64 { return float64(v) / PerMetre }
