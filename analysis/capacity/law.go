package capacity

import (
	"math"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Factors that take the coefficient of a weir to metres and seconds.
var (
	footWeir = math.Sqrt(float64(quantity.Foot)) // from feet and cubic feet a second
	inchWeir = float64(quantity.GallonPerMinute) /
		(float64(quantity.Inch) * float64(quantity.Inch) * math.Sqrt(float64(quantity.Inch))) // from inches and gallons a minute
)

// WeirFlow returns the flow over a level crest [m3/s]: c L h^1.5.
// coefficient: [m^0.5/s], such as 1.84 for a sharp crest; length: of the crest [m]; head: of water over it [m], not negative.
// Source: FHWA HDS-2, 2nd edition, section 8.3.2; the coefficients stand in package standard.
func WeirFlow(coefficient, length, head float64) float64 {
	return coefficient * length * threeHalves(head)
}

// OrificeFlow returns the flow through an opening that stands under water [m3/s]: 0.6 A (2 g h)^0.5.
// area: of the opening [m2]; head: of water over its middle [m], not negative.
// Source: standard.OrificeSource.
func OrificeFlow(area, head float64) float64 {
	return standard.OrificeNumber * area * math.Sqrt(2*standard.Gravity*head)
}

// sharpWeir returns the law of an opening of a clear width, open above: 2.9 b H^1.5 in gallons a minute and inches,
// SI 1.78 b H^1.5; what the ends take is not separate.
// Source: standard.ScupperSource.
func sharpWeir(width quantity.Length) func(head float64) float64 {
	return func(head float64) float64 { return WeirFlow(standard.ScupperWeir*inchWeir, float64(width), head) }
}

// closedOrifice returns the law of a closed opening that stands under water, for a head over half of its height:
// 4.3 b h (H - h/2)^0.5 in gallons a minute and inches.
// Source: standard.ScupperSource.
func closedOrifice(width, height quantity.Length) func(head float64) float64 {
	b, h := inches(float64(width)), inches(float64(height))
	return func(head float64) float64 {
		return gpm(standard.ScupperOrifice * b * h * math.Sqrt(inches(head)-float64(0.5*h)))
	}
}

// contractedWeir returns the law of a sharp crest with n contracted ends, n > 0: 3.33 (L - 0.1 n H) H^1.5 in feet and
// seconds. Beyond H = 6 L / n, where the formula turns down, it stays level.
// Source: standard.FrancisSource.
func contractedWeir(width quantity.Length, n int) func(head float64) float64 {
	ends := standard.FrancisEnd * float64(n)
	return func(head float64) float64 {
		head = min(head, 0.6*float64(width)/ends)
		return WeirFlow(standard.FrancisWeir*footWeir, float64(width)-float64(ends*head), head)
	}
}

// tested returns a law through flows [gpm] at heads [in]: linear between, a weir under the first, and over the last
// a weir, or an orifice whose middle is at half of the opening's height.
func tested(heads, flows []float64, opening float64) func(float64) float64 {
	first, last := heads[0], heads[len(heads)-1]
	return func(head float64) float64 {
		h := inches(head)
		switch {
		case h < first:
			return gpm(flows[0] * threeHalves(h/first))
		case h <= last:
			return gpm(between(heads, flows, h))
		case opening > 0:
			return gpm(flows[len(flows)-1] * math.Sqrt((h-float64(0.5*opening))/(last-float64(0.5*opening))))
		}
		return gpm(flows[len(flows)-1] * threeHalves(h/last))
	}
}

// threeHalves returns x^1.5.
func threeHalves(x float64) float64 { return x * math.Sqrt(x) }

// cubeRoot returns the cube root of x > 0 by Newton's method, with the same bits on every processor.
func cubeRoot(x float64) float64 {
	r := max(x, 1)
	for {
		next := r - (r-x/float64(r*r))/3
		if !(next < r) {
			return r
		}
		r = next
	}
}

// power returns x^y, x > 0. It is the one law without an exact form: results are rounded before they are used.
func power(x, y float64) float64 { return math.Pow(x, y) }

// Lengths and flows in the units in which coefficients were printed.
func inches(l float64) float64          { return l / float64(quantity.Inch) }
func feet(l float64) float64            { return l / float64(quantity.Foot) }
func millimetres(l float64) float64     { return l / float64(quantity.Millimetre) }
func gpm(q float64) float64             { return q * float64(quantity.GallonPerMinute) }
func litresPerSecond(q float64) float64 { return q * float64(quantity.LitrePerSecond) }
