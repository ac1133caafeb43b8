package slope

import (
	"math"

	"runnel/analysis/geometry/vector"
)

// ValleySlope returns the slope of the line on which two planes meet: a valley, hip or ridge.
//
// g1, g2: uphill gradients of the two planes, rise per run. On the common line both rise equally, so
// it runs square to g1 - g2 and falls at
//
//	|g1 x g2| / |g1 - g2| = s1 s2 sin(th) / sqrt(s1^2 + s2^2 - 2 s1 s2 cos(th))
//
// with th the plan angle between the two uphill directions. Exact, as long as slope is rise over plan
// run. NaN for equal gradients: such planes have no line in common.
func ValleySlope(g1, g2 [2]float64) float64 {
	dx, dy := g1[0]-g2[0], g1[1]-g2[1]
	if dx == 0 && dy == 0 {
		return math.NaN()
	}
	return math.Abs(float64(g1[0]*g2[1])-float64(g1[1]*g2[0])) / vector.Norm(dx, dy)
}
