package quantity_test

import (
	"math"
	"testing"

	"runnel/analysis/quantity"
)

// By hand: 1 lbf is 0.45359237 kg x 9.80665 m/s2, 1 ft is 0.3048 m, so 1 psf is 47.880259 Pa.
func TestParsePressure(t *testing.T) {
	for text, want := range map[string]float64{
		"25 psf": 25 * 47.880259, "25psf": 25 * 47.880259, "1.2 kPa": 1200, "1.2 kN/m2": 1200, "0 psf": 0, "12-1/2 psf": 12.5 * 47.880259, "700 Pa": 700,
	} {
		got, err := quantity.ParsePressure(text)
		if err != nil || !(math.Abs(float64(got)-want) <= 1e-5*want) {
			t.Errorf("%s: %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "25", "psf", "-5 psf", "25 psi", "25 psf or so", "1e3 psf", "5000 psf", "NaN kPa"} {
		if got, err := quantity.ParsePressure(text); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}
