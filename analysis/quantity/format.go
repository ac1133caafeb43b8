package quantity

import (
	"math"
	"strconv"

	"runnel/analysis/choose"
)

// FeetInches writes a length in feet, inches and eighths: 2' 3-1/4", -5' 0", 7/8".
func FeetInches(l Length) string {
	n, sign := eighths(l)
	feet, n := n/96, n%96
	if feet == 0 {
		return sign + inches(n)
	}
	return sign + strconv.FormatInt(feet, 10) + "' " + inches(n)
}

// InchesEighths writes a length in inches and eighths: 1-3/8", 27-1/4", 0".
func InchesEighths(l Length) string {
	n, sign := eighths(l)
	return sign + inches(n)
}

// WholeMillimetres writes a length in whole millimetres: 35 mm.
func WholeMillimetres(l Length) string {
	n := math.Round(float64(l / Millimetre))
	if n == 0 {
		n = 0 // no negative zero
	}
	return strconv.FormatFloat(n, 'f', 0, 64) + " mm"
}

// eighths returns the length in whole eighths of an inch, halves away from zero, and its sign.
func eighths(l Length) (n int64, sign string) {
	n = int64(math.Round(float64(l) * 8 / float64(Inch)))
	if n < 0 {
		return -n, "-"
	}
	return n, ""
}

// inches writes n eighths of an inch.
func inches(n int64) string {
	whole, part := n/8, n%8
	if part == 0 {
		return strconv.FormatInt(whole, 10) + `"`
	}
	top, bottom := part, int64(8)
	for top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	text := strconv.FormatInt(top, 10) + "/" + strconv.FormatInt(bottom, 10) + `"`
	return choose.If(whole == 0, text, strconv.FormatInt(whole, 10)+"-"+text)
}

// Round returns v to so many decimals, halves away from zero, and never a negative zero.
func Round(v float64, decimals int) float64 {
	scale := 1.0
	for range decimals {
		scale *= 10
	}
	r := math.Round(v*scale) / scale
	return choose.If(r == 0, 0, r)
}
