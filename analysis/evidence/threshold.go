package evidence

import "math"

// The threshold was fitted to Gaussian errors on drained planes and four-way falls, regular grids with diagonals by
// chance: a low place dearer than it stands on one roof in a hundred. Source: own trial of 2026-11-29, repeated by the
// tests of this package.
const (
	thresholdAtHundred = 7    // squared standard errors, of a roof of a hundred spots; a four-way fall of fewer has no lower one
	thresholdGrowth    = 0.95 // for each e-fold more spots
	sidesGrowth        = 1.2  // for each e-fold wider cells, by the widest: errors are then large against the planes' fall, and larger still against that of a valley between them
	greatestRatio      = 1.3  // of the error to the fall from spot to spot, up to which it holds
	leastRatio         = 0.35 // below it cells of several spots show nothing more
	levelSlope         = 1.0 / 400
)

// What water beside one of a few curbs must reach: the square of the normal quantile that one of that many places passes by error alone on one roof in a hundred,
// 5.41 for one (2.326 squared), 6.63 for two, 7.9 for four. Elsewhere any spot of the roof may be the place, and there are as many as that.
const (
	thresholdAtCurb = 5.41
	curbsGrowth     = 1.76 // for each e-fold more curbs, up to a dozen
)

// atCurbs returns the threshold of a low place beside one of so many curbs, no more than the one that holds all over the roof.
func atCurbs(curbs int, elsewhere float64) float64 {
	if curbs == 0 {
		return elsewhere
	}
	return math.Min(elsewhere, thresholdAtCurb+float64(curbsGrowth*math.Log(float64(curbs))))
}

// Threshold returns the evidence, in squared standard errors, above which a low place stands on one drained roof in a
// hundred by error alone. spots is the number of measured points.
func Threshold(spots int) float64 {
	return thresholdAtHundred + float64(thresholdGrowth*math.Log(float64(max(100, spots))/100))
}
