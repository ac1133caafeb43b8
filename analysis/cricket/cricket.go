// Package cricket shapes crickets: tapered boards that shed water from behind a curb, from a wall, or from the low line between two outlets.
package cricket

import (
	"math"

	"runnel/analysis/standard"
)

// Triangle is a cricket on one side of its base: plan angle of its valleys with the base, how far its tip stands off, and its thickness there.
type Triangle struct {
	Width     float64 // of the base: a curb's side, the line between two outlets [m]
	Apex      float64 // distance of the tip from the base: half of the full diamond's width [m]
	Valley    float64 // fall of its valleys [rise/run]
	Rate      float64 // of its material, square to the valley [rise/run]
	Thickness float64 // at the middle of the base [m]
}

// On returns the cricket of a base of a width on a field of slope s whose valleys fall at the valley slope asked for, widened as
// far as 45 degrees for it, and the steepest that far where that is not enough. Its material rises at standard.CricketTimes the slope of
// the field.
//
// Source: own derivation: a valley in the field's plane at plan angle phi to the low line falls at s*sin(phi).
func On(width, s, valley float64) Triangle {
	sin := math.Sqrt(0.5)
	if s > 0 && valley/s < sin {
		sin = valley / s
	}
	cos := math.Sqrt(1 - float64(sin*sin))
	c := Triangle{Width: width, Apex: width / 2 * sin / cos, Valley: float64(s * sin), Rate: standard.CricketTimes * s}
	c.Thickness = float64(c.Rate * width / 2 * sin)
	return c
}

// widened is how much more than the criterion valleys of crickets are laid to fall, since a roof is built to some millimetres: they are
// widened before they are steepened. Own choice.
const widened = 1.25

// Valley is the fall that valleys of crickets are to have on a field of slope s, where at least some is asked for [rise/run].
func Valley(s, least float64) float64 { return math.Min(s, widened*least) }
