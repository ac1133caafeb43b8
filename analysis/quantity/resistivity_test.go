package quantity_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
)

// By hand: R-1 per inch is 1 ft2 h degF/Btu per inch = 0.176110 m2 K/W (NIST Special Publication 811, appendix B, from memory) over
// 0.0254 m = 6.9335 m K/W; so per inch is 38.828, and 0.026 W/(m K) is 1/0.026 = 38.462.
func TestParseResistivity(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"5.6 per in", 38.828},
		{"R-5.6 per inch", 38.828},
		{"5.6/in", 38.828},
		{"r 5 3/5 per in", 38.828},
		{"0.026 W/(m K)", 38.462},
		{"0.026 W/mK", 38.462},
	} {
		got, err := quantity.ParseResistivity(c.text)
		if err != nil || !(math.Abs(float64(got)-c.want) <= 5e-3) {
			t.Errorf("%q: %v, %v; want %v", c.text, got, err, c.want)
		}
	}
}

func TestParseResistivityRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":               "it is empty",
		"5.6":            "it has no unit",
		"R-5.6":          "it has no unit",
		"5.6 per m":      "is no unit of it",
		"5.6 per in 2":   "is no unit of it",
		"R-5 W/(m K)":    "is no unit of it",
		"-5.6 per in":    "it is negative",
		"NaN per in":     "a number is missing",
		"0 per in":       "no roofing material",
		"0 W/(m K)":      "it is 0",
		"5600 per in":    "no roofing material",
		"5,6 per in":     "is no unit of it",
		"1e400 W/(m K)":  "is no unit of it",
		"26 W/(m K)":     "no roofing material",
		"5.6 per in\x00": "is no unit of it",
	} {
		if got, err := quantity.ParseResistivity(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v; want %q", text, got, err, want)
		}
	}
}

// R-1 is 0.1761102 m2 K/W (NIST SP 811, from memory): R-25 is 4.402755.
func TestParseResistance(t *testing.T) {
	for text, want := range map[string]float64{"R-25": 4.402755, "r 25": 4.402755, "R25": 4.402755, "4.4 m2K/W": 4.4, "4.4 m² K/W": 4.4} {
		if got, err := quantity.ParseResistance(text); err != nil || !(math.Abs(float64(got)-want) <= 1e-5) {
			t.Errorf("%s: %v %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "25", "R", "R-0", "R-900", "4.4 W/m2K", "R-25 m2K/W", "NaN m2K/W", "R-inf"} {
		if got, err := quantity.ParseResistance(text); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
}
