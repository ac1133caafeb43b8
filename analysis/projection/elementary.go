package projection

import (
	"math"

	"runnel/analysis/choose"
)

// The functions below give the same bits on every processor: each product is rounded before it is added
// (a compiler may fuse x*y + z into one rounding elsewhere), and nothing but square roots is left to the
// hardware. They are as accurate as the mathematical library's to a few units in the last place.

// sincos returns the sine and cosine of x, |x| <= 10, by Taylor's series about the nearest multiple of
// a quarter turn.
func sincos(x float64) (sin, cos float64) {
	const (
		halfHigh = 1.57079632673412561417e+00 // first 33 bits of pi/2
		halfLow  = 6.07710050650619224932e-11 // pi/2 - halfHigh
	)
	turns := math.Round(float64(x * (2 / math.Pi)))
	r := x - float64(turns*halfHigh)
	r -= float64(turns * halfLow)
	q := float64(r * r)
	s, c := 1.0, 1.0
	for k := 18.0; k >= 2; k -= 2 {
		s = 1 - float64(float64(q*s)/float64(k*(k+1)))
		c = 1 - float64(float64(q*c)/float64(k*(k-1)))
	}
	s = float64(s * r)
	switch int(turns) & 3 {
	case 0:
		return s, c
	case 1:
		return c, -s
	case 2:
		return -s, -c
	default:
		return -c, s
	}
}

// sinhcosh returns the hyperbolic sine and cosine of x, |x| <= 100: Taylor's series of a small part of x,
// doubled as often as needed.
func sinhcosh(x float64) (sinh, cosh float64) {
	doublings := 0
	for math.Abs(x) > 0.5 {
		x /= 2
		doublings++
	}
	q := float64(x * x)
	s, c := 1.0, 1.0
	for k := 16.0; k >= 2; k -= 2 {
		s = 1 + float64(float64(q*s)/float64(k*(k+1)))
		c = 1 + float64(float64(q*c)/float64(k*(k-1)))
	}
	s = float64(s * x)
	for ; doublings > 0; doublings-- {
		s, c = float64(2*float64(s*c)), 1+float64(2*float64(s*s))
	}
	return s, c
}

// atan returns the inverse tangent of x: the series of a quarter of the angle or less.
func atan(x float64) float64 {
	factor := 1.0
	for math.Abs(x) > 0.2 {
		x /= 1 + root1(x)
		factor *= 2
	}
	return float64(factor * oddSeries(x, -float64(x*x)))
}

// atanh returns the inverse hyperbolic tangent of x, |x| <= 0.2.
func atanh(x float64) float64 { return oddSeries(x, float64(x*x)) }

// oddSeries returns x (1 + q/3 + q^2/5 + ...), |q| <= 0.04.
func oddSeries(x, q float64) float64 {
	sum := 0.0
	for k := 25.0; k >= 1; k -= 2 {
		sum = 1/k + float64(q*sum)
	}
	return float64(x * sum)
}

// asinh returns the inverse hyperbolic sine of x: asinh(x) = atanh(x / sqrt(1 + x^2)), of a part of the
// argument that is small enough.
func asinh(x float64) float64 {
	factor := 1.0
	for math.Abs(x) > 0.2 {
		x /= math.Sqrt(float64(2 * (1 + root1(x))))
		factor *= 2
	}
	return float64(factor * atanh(x/root1(x)))
}

// atan2 returns the angle of the point (x, y), x > 0.
func atan2(y, x float64) float64 { return atan(y / x) }

// root1 returns sqrt(1 + x^2).
func root1(x float64) float64 {
	return choose.If(math.Abs(x) > 1e9, math.Abs(x), math.Sqrt(1+float64(x*x)))
}
