package quantity_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
)

func TestFactors(t *testing.T) {
	tests := []struct {
		name      string
		got, want float64
		source    string
	}{
		{"gallon", quantity.Gallon, 3.785411784e-3, "NIST SP 811 appendix B.8: gallon (U.S.) to m3, 3.785 412 E-03"},
		{"square foot", quantity.SquareFoot, 0.09290304, "NIST SP 811 appendix B.8, exact"},
		{"cubic foot", quantity.CubicFoot, 0.028316846592, "NIST SP 811 appendix B.8"},
		{"psf", quantity.PoundPerSquareFoot, 47.88026, "NIST SP 811 appendix B.8: 4.788 026 E+01"},
		{"survey foot", float64(quantity.USSurveyFoot), 0.3048006096, "NIST SP 811 appendix B.6: 0.304 800 6"},
		{"1/4 in per ft", float64(quantity.InchPerFoot) / 4, 1.0 / 48, "by hand: 0.25/12"},
		{"mm/h", float64(quantity.MillimetrePerHour) * 3600, 0.001, "by hand: a millimetre in 3,600 s"},
		{"in/h in mm/h", float64(quantity.InchPerHour / quantity.MillimetrePerHour), 25.4, "an inch is 25.4 mm, exact"},
		{"in/h", float64(quantity.InchPerHour), 7.055556e-6, "NIST SP 811 appendix B.8: 7.055 556 E-06 for inch per hour"},
	}
	for _, tt := range tests {
		if !(math.Abs(tt.got/tt.want-1) <= 1e-7) {
			t.Errorf("%s = %v, want %v (%s)", tt.name, tt.got, tt.want, tt.source)
		}
	}
}

func TestUnits(t *testing.T) {
	for _, u := range []quantity.Unit{quantity.Metres, quantity.Feet, quantity.USSurveyFeet, quantity.Inches, quantity.Millimetres} {
		got, err := quantity.ParseUnit(u.String())
		if err != nil || got != u {
			t.Errorf("ParseUnit(%q) = %v, %v", u.String(), got, err)
		}
		if u.Metres() <= 0 {
			t.Errorf("%v is %v m", u, u.Metres())
		}
	}
	for text, want := range map[string]quantity.Unit{"FT": quantity.Feet, "us_ft": quantity.USSurveyFeet, " metres ": quantity.Metres, "US survey feet": quantity.USSurveyFeet} {
		if got, err := quantity.ParseUnit(text); err != nil || got != want {
			t.Errorf("ParseUnit(%q) = %v, %v", text, got, err)
		}
	}
	if _, err := quantity.ParseUnit("furlong"); err == nil || !strings.Contains(err.Error(), "ft-us") {
		t.Errorf("ParseUnit(furlong): %v", err)
	}
	if quantity.Unstated.Metres() != 0 || quantity.Unstated.String() != "" {
		t.Error("Unstated is not nothing")
	}
}

// By hand: a rise over a run in one unit.
func TestParseSlope(t *testing.T) {
	tests := []struct {
		text string
		want float64
	}{
		{"1/4 in per ft", 1.0 / 48},
		{"1/4 in/ft", 1.0 / 48},
		{`1/4" per foot`, 1.0 / 48},
		{`¼"/ft`, 1.0 / 48},
		{"3/16 in per ft", 1.0 / 64},
		{"1/4:12", 1.0 / 48},
		{"1/4 in 12", 1.0 / 48},
		{"1:80", 1.0 / 80},
		{"1 in 80", 1.0 / 80},
		{"2%", 0.02},
		{"2 %", 0.02},
		{"1.5 percent", 0.015},
		{"0.02", 0.02},
		{"20 mm/m", 0.02},
		{"20 mm per m", 0.02},
		{"0", 0},
	}
	for _, tt := range tests {
		got, err := quantity.ParseSlope(tt.text)
		if err != nil || !(math.Abs(float64(got)-tt.want) <= 1e-15) {
			t.Errorf("ParseSlope(%q) = %v, %v; want %v", tt.text, float64(got), err, tt.want)
		}
	}
	for _, text := range []string{"", "1/4", "1/8", "1/100", "2", "1:0", "-2%", "2 % up", "1/4 in", "1/4 in per", "1/4 in per hour", "1/4 in per ft more", "x", "NaN", "1e9%", "9999999:1"} {
		if got, err := quantity.ParseSlope(text); err == nil {
			t.Errorf("ParseSlope(%q) = %v, want an error", text, got)
		}
	}
}

// By hand: 1 in/h is 0.0254 m in 3600 s.
func TestParseIntensity(t *testing.T) {
	for text, want := range map[string]float64{
		"1 in/h": 0.0254 / 3600, "4 in/hr": 0.1016 / 3600, "1-1/2 in per hour": 0.0381 / 3600, "25 mm/h": 0.025 / 3600, "3.5 inches per hour": 0.0889 / 3600,
	} {
		got, err := quantity.ParseIntensity(text)
		if err != nil || !(math.Abs(float64(got)-want) <= 1e-18) {
			t.Errorf("ParseIntensity(%q) = %v, %v; want %v", text, float64(got), err, want)
		}
	}
	for _, text := range []string{"", "4", "4 in", "4 in/day", "-4 in/h", "4 in/h x", "99999 m/h", "NaN in/h"} {
		if got, err := quantity.ParseIntensity(text); err == nil {
			t.Errorf("ParseIntensity(%q) = %v, want an error", text, got)
		}
	}
}

func TestWriteLengths(t *testing.T) {
	const in = quantity.Inch
	tests := []struct {
		l                      quantity.Length
		feet, inches, millimet string
	}{
		{0, `0"`, `0"`, "0 mm"},
		{27.25 * in, `2' 3-1/4"`, `27-1/4"`, "692 mm"},
		{in / 2, `1/2"`, `1/2"`, "13 mm"},
		{in * 0.06, `0"`, `0"`, "2 mm"},
		{in * 0.0625, `1/8"`, `1/8"`, "2 mm"},
		{11.99 * in, `1' 0"`, `12"`, "305 mm"},
		{-5.125 * in, `-5-1/8"`, `-5-1/8"`, "-130 mm"},
		{-0.01 * in, `0"`, `0"`, "0 mm"},
		{100 * quantity.Foot, `100' 0"`, `1200"`, "30480 mm"},
		{1.75 * in, `1-3/4"`, `1-3/4"`, "44 mm"},
	}
	for _, tt := range tests {
		if got := quantity.FeetInches(tt.l); got != tt.feet {
			t.Errorf("FeetInches(%v) = %s, want %s", tt.l, got, tt.feet)
		}
		if got := quantity.InchesEighths(tt.l); got != tt.inches {
			t.Errorf("InchesEighths(%v) = %s, want %s", tt.l, got, tt.inches)
		}
		if got := quantity.WholeMillimetres(tt.l); got != tt.millimet {
			t.Errorf("WholeMillimetres(%v) = %s, want %s", tt.l, got, tt.millimet)
		}
	}
}

// EN 12056-3 (read in a summary): 1 l/(s ha) is 0.36 mm/h; the default of its United Kingdom annex, 0.021 l/(s m2), is 75.6 mm/h; by hand 300 l/(s ha)
// are 108 mm/h, a rate often found in Germany for five minutes.
func TestFlowPerAreaIsARateOfRain(t *testing.T) {
	for text, millimetres := range map[string]float64{
		"1 l/(s ha)": 0.36, "300 l/(s ha)": 108, "300 l/(s·ha)": 108, "300 L/s/ha": 108, "300 l/(s*ha)": 108, "300 litres per s per ha": 108, "0.021 l/(s m2)": 75.6, "0.021 l/s/m²": 75.6, "300l/(s ha)": 108,
	} {
		got, err := quantity.ParseIntensity(text)
		if d := float64(got)*3600*1000 - millimetres; err != nil || d > 1e-9 || d < -1e-9 {
			t.Errorf("%q is %v mm/h, %v; want %g", text, float64(got)*3600*1000, err, millimetres)
		}
	}
	for _, text := range []string{"300 l/ha", "300 l/s", "300 ml/(s ha)", "l/(s ha)", "300 l/(s ha) x", "1e9 l/(s ha)", "100000 l/(s ha)"} {
		if got, err := quantity.ParseIntensity(text); err == nil {
			t.Errorf("%q is taken as %v", text, float64(got))
		}
	}
}

// A text too long to be a quantity is cut between two characters, wherever the cut falls: what is quoted stays readable.
func TestTextsThatAreTooLongAreCutBetweenCharacters(t *testing.T) {
	for _, lead := range []string{"", "1"} {
		_, err := quantity.ParseIntensity(lead + strings.Repeat("é", 500))
		if err == nil || strings.Contains(err.Error(), `\x`) || !strings.Contains(err.Error(), "é...") {
			t.Errorf("%v", err)
		}
	}
}
