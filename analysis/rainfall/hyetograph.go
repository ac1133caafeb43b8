// Package rainfall turns what is known about the rain into what the outlets must take: the design flow of
// a steady rate over a roof and its walls, and the course of a storm in time.
//
// No place's rainfall is built in: the rate, or the depth and duration, are the user's figures, and package
// standard says which code asks for which storm. A storm's depth is spread over its duration by a Pattern
// (even, alternating blocks, the 24-hour curves of the Soil Conservation Service, or a file), and the result
// is a Hyetograph: steps of constant rate. Everything is in metres and seconds.
package rainfall

import (
	"fmt"
	"math"

	"runnel/analysis/quantity"
)

// Hyetograph is the course of a storm: a rate of rain that is constant between its times.
type Hyetograph struct {
	Time []float64 // s, from 0, rising; one more than Rate
	Rate []float64 // m/s, none negative: Rate[i] holds from Time[i] to Time[i+1]
}

// Duration returns the length of the storm [s]; 0 for an empty one.
func (h Hyetograph) Duration() float64 {
	if len(h.Time) == 0 {
		return 0
	}
	return h.Time[len(h.Time)-1]
}

// Depth returns the depth of all its rain [m].
func (h Hyetograph) Depth() float64 {
	depth := 0.0
	for i, rate := range h.Rate {
		depth += float64(rate * (h.Time[i+1] - h.Time[i]))
	}
	return depth
}

// Peak returns the greatest rate [m/s].
func (h Hyetograph) Peak() float64 {
	peak := 0.0
	for _, rate := range h.Rate {
		peak = max(peak, rate)
	}
	return peak
}

// Check returns an error unless the times begin at 0 and rise, and every rate is finite and not negative.
func (h Hyetograph) Check() error {
	if len(h.Time) != len(h.Rate)+1 || len(h.Rate) == 0 {
		return fmt.Errorf("rainfall: a storm of %d rates needs %d times, not %d", len(h.Rate), len(h.Rate)+1, len(h.Time))
	}
	if h.Time[0] != 0 {
		return fmt.Errorf("rainfall: the storm begins at %v s, not at 0", h.Time[0])
	}
	for i, rate := range h.Rate {
		if !(h.Time[i+1] > h.Time[i]) || math.IsInf(h.Time[i+1], 0) {
			return fmt.Errorf("rainfall: time %d of the storm, %v s, does not follow %v s", i+1, h.Time[i+1], h.Time[i])
		}
		if !(rate >= 0) || math.IsInf(rate, 0) {
			return fmt.Errorf("rainfall: rate %d of the storm is %v m/s", i, rate)
		}
	}
	return nil
}

// Flow returns the flow of a steady rate off an area [m2] from which everything runs off: Q = A i, exactly. The codes'
// 0.0104 gpm for a square foot and an inch an hour is this, rounded up by 0.1 %.
// Source: ASCE 7-05, commentary, equation C8-1, in consistent units.
func Flow(area float64, rate quantity.Intensity) quantity.Flow {
	return quantity.Flow(area * float64(rate))
}
