package assembly

import (
	"math"
	"slices"
)

// MeanU returns the mean over a triangle of 1/R where R runs linearly between the given values at its corners: the thermal transmittance of a tapered
// facet, air films included in r [m2 K/W]; the result in W/(m2 K). The values must be positive; two of 0 give infinity, one without end nothing.
//
// The mean is twice the second divided difference of x ln x at the corners (Hermite and Genocchi). With a <= b <= c and
// L(a, b) = ln(b/a)/(b-a) it is 2 (c L(b, c) - a L(a, b))/(c - a); equal corners are the limit.
// Source: ISO 6946, annex on tapered layers, has the forms for two equal corners (recalled); this one by own integration.
func MeanU(r [3]float64) float64 {
	slices.Sort(r[:])
	a, b, c := r[0], r[1], r[2]
	if b == 0 {
		return math.Inf(1)
	}
	if math.IsInf(c, 1) {
		return 0
	}
	const alike = 1e-5 // relative spread under which the mean is that of the centre, to 1e-11
	if c-a < alike*c {
		return 3 / (a + b + c)
	}
	return 2 * (float64(c*logMean(b, c)) - float64(a*logMean(a, b))) / (c - a)
}

// logMean returns ln(b/a)/(b-a) for 0 <= a <= b, b > 0, 1/a where they are equal. With a = 0 it is 0, as the product a ln a of its caller is.
func logMean(a, b float64) float64 {
	if a == 0 {
		return 0
	}
	if b == a {
		return 1 / a
	}
	// ln(b/a) = 2^n ln((b/a)^(1/2^n)) by square roots, then 2 atanh(q) of a small q; the same on every processor
	ratio, factor := b/a, 1.0
	for ratio > 1.5 {
		ratio = math.Sqrt(ratio)
		factor *= 2
	}
	if factor == 1 {
		q := (b - a) / (b + a)
		return 2 / (a + b) * atanhOver(q)
	}
	q := (ratio - 1) / (ratio + 1)
	return factor * 2 * q * atanhOver(q) / (b - a)
}

// atanhOver returns atanh(q)/q for 0 <= q <= 0.2.
func atanhOver(q float64) float64 {
	q2, power, sum := float64(q*q), 1.0, 0.0
	for n := 1.0; n < 26; n += 2 {
		sum += power / n
		power = float64(power * q2)
	}
	return sum
}
