package bounds

import (
	"math"
	"math/rand/v2"
)

// dice draws standard normal numbers.
type dice struct{ *rand.PCG }

// next returns a number with mean 0 and standard deviation 1: the sum of twelve numbers between 0 and 1, less 6, summed as integers. Its
// quantiles at 5 and 95 % are within half a percent of the normal ones; it stays within 6.
func (e *dice) next() float64 {
	var sum uint64
	for range 6 {
		u := e.Uint64()
		sum += u>>32 + u&0xffffffff
	}
	return float64(int64(sum)-6*0xffffffff) / 0x1p32
}

// share returns the share of a normal distribution below x standard deviations, to 1e-9 where |x| < 6: the series of the integral of
// its density. Source: Abramowitz and Stegun, "Handbook of Mathematical Functions", 26.2.10 (from memory).
func share(x float64) float64 {
	switch {
	case x > 6:
		return 1
	case x < -6:
		return 0
	}
	term, sum := x, x
	for k := 1.0; k < 200; k++ {
		term = -float64(float64(term*x)*x) / float64(2*k)
		sum += term / float64(2*k+1)
		if math.Abs(term) < 1e-14 {
			break
		}
	}
	const root = 2.5066282746310002 // of 2 pi
	return math.Min(1, math.Max(0, 0.5+sum/root))
}
