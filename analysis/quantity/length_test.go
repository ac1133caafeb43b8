package quantity_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/soak"
)

// Wanted lengths are by hand: feet times 304.8 mm, inches times 25.4 mm, exact by definition.
func TestParseLengthReadsWhatSurveyorsWrite(t *testing.T) {
	tests := []struct {
		text string
		bare quantity.Unit
		want float64 // mm
	}{
		{`5'-6 1/4"`, quantity.Unstated, 66.25 * 25.4},
		{`5' 6-1/4"`, quantity.Unstated, 66.25 * 25.4},
		{`5'6.25"`, quantity.Unstated, 66.25 * 25.4},
		{`5ft 6 1/4in`, quantity.Unstated, 66.25 * 25.4},
		{`5 ft 6 1/4 in`, quantity.Unstated, 66.25 * 25.4},
		{`5 feet 6 inches`, quantity.Unstated, 66 * 25.4},
		{`66 1/4"`, quantity.Unstated, 66.25 * 25.4},
		{`66-1/4"`, quantity.Unstated, 66.25 * 25.4},
		{`1/2"`, quantity.Unstated, 12.7},
		{`5.52'`, quantity.Unstated, 5.52 * 304.8},
		{`5''`, quantity.Unstated, 127},
		{`5' 6''`, quantity.Unstated, 66 * 25.4},
		{`½"`, quantity.Unstated, 12.7},
		{`2½"`, quantity.Unstated, 63.5},
		{`2 ¾ in`, quantity.Unstated, 69.85},
		{`1¼'`, quantity.Unstated, 381},
		{`5′ 6¼″`, quantity.Unstated, 66.25 * 25.4},
		{`5’-6”`, quantity.Unstated, 66 * 25.4},
		{`5’ 6’’`, quantity.Unstated, 66 * 25.4},
		{`5'–6"`, quantity.Unstated, 66 * 25.4},
		{`6–1⁄4"`, quantity.Unstated, 6.25 * 25.4},
		{`2' 3-1/4"`, quantity.Unstated, 27.25 * 25.4},
		{`2' - 3"`, quantity.Unstated, 27 * 25.4},
		{`2' 3`, quantity.Unstated, 27 * 25.4},
		{`2'0"`, quantity.Unstated, 609.6},
		{`2' 11-7/8"`, quantity.Unstated, 35.875 * 25.4},
		{`8 in`, quantity.Unstated, 203.2},
		{`4in`, quantity.Unstated, 101.6},
		{`4 IN`, quantity.Unstated, 101.6},
		{`0.3 m`, quantity.Unstated, 300},
		{`.3m`, quantity.Unstated, 300},
		{`12 mm`, quantity.Unstated, 12},
		{`12 mm`, quantity.Feet, 12},
		{`2.5 cm`, quantity.Unstated, 25},
		{`-6"`, quantity.Unstated, -152.4},
		{`−2' 6"`, quantity.Unstated, -762},
		{`+2' 6"`, quantity.Unstated, 762},
		{`3937 ft-us`, quantity.Unstated, 1200000},
		{`12`, quantity.Inches, 304.8},
		{`12`, quantity.Millimetres, 12},
		{`100.25`, quantity.Feet, 100.25 * 304.8},
		{`3937`, quantity.USSurveyFeet, 1200000},
		{`3 1/2`, quantity.Inches, 88.9},
		{`0`, quantity.Metres, 0},
		{` 8 in `, quantity.Unstated, 203.2},
	}
	for _, tt := range tests {
		got, err := quantity.ParseLength(tt.text, tt.bare)
		if err != nil {
			t.Errorf("ParseLength(%q): %v", tt.text, err)
			continue
		}
		if !(math.Abs(float64(got)*1000-tt.want) <= 1e-9*math.Max(1, math.Abs(tt.want))) {
			t.Errorf("ParseLength(%q) = %v mm, want %v", tt.text, float64(got)*1000, tt.want)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	tests := []struct{ text, says string }{
		{`5'12"`, "under 12"},
		{`5' 14-1/2"`, "under 12"},
		{`1/0"`, "denominator 0"},
		{`5'3'`, "only inches"},
		{`1,5"`, "no unit"},
		{``, "empty"},
		{`   `, "empty"},
		{`8 on`, `"on" is no unit`},
		{`8`, "no unit"},
		{`-`, "number is missing"},
		{`--8 in`, "number is missing"},
		{`5'--6"`, "number is missing"},
		{`in`, "number is missing"},
		{`.`, "number is missing"},
		{`. in`, "number is missing"},
		{`1/`, "no denominator"},
		{`6 9/8"`, "less than one"},
		{`5.5' 3"`, "fraction"},
		{`5" 3'`, "follows the unit"},
		{`5 m 3 in`, "follows the unit"},
		{`5' 3" 2"`, "follows the inches"},
		{`1e3 m`, "no unit"},
		{`0x10 m`, "no unit"},
		{`NaN`, "number is missing"},
		{`Inf m`, "number is missing"},
		{`1000000000 m`, "too large"},
		{strings.Repeat("9", 400), "too long"},
		{`1.2.3 m`, "no unit"},
	}
	for _, tt := range tests {
		got, err := quantity.ParseLength(tt.text, quantity.Unstated)
		if err == nil {
			t.Errorf("ParseLength(%q) = %v, want an error", tt.text, got)
			continue
		}
		if !strings.Contains(err.Error(), tt.says) {
			t.Errorf("ParseLength(%q): %q does not say %q", tt.text, err, tt.says)
		}
	}
}

func TestReadLengthTellsImperial(t *testing.T) {
	tests := []struct {
		text string
		bare quantity.Unit
		want bool
	}{
		{"8 in", quantity.Metres, true},
		{"8", quantity.Metres, false},
		{"8", quantity.Feet, true},
		{"8 mm", quantity.Feet, false},
		{"2' 3", quantity.Metres, true},
		{"1 ft-us", quantity.Metres, true},
	}
	for _, tt := range tests {
		if _, got, err := quantity.ReadLength(tt.text, tt.bare); err != nil || got != tt.want {
			t.Errorf("ReadLength(%q): imperial %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

func lengths() *soak.Target {
	g := soak.New("FuzzParseLength", "in", "ft", "m", "mm", "ft-us", "feet", "inches", "¼", "⅛", "′", "on")
	for _, seed := range []string{`5'-6 1/4"`, `½"`, `-0.3 m`, `1/0`, `5'3'`, "8 on", `2’–3¼″`, "1e9 m", "9/8 in"} {
		g.Add(seed, uint8(1))
	}
	g.Property = func(t *testing.T, text string, bare uint8) {
		t.Helper()
		unit := quantity.Unit(bare % 6)
		l, err := quantity.ParseLength(text, unit)
		if err != nil {
			if l != 0 {
				t.Fatalf("%q: value %v with error %v", text, l, err)
			}
			return
		}
		if math.IsNaN(float64(l)) || !(math.Abs(float64(l)) <= 1e8) {
			t.Fatalf("%q: accepted as %v", text, l)
		}
		if math.Abs(float64(l)) > 1e6 {
			return
		}
		back, err := quantity.ParseLength(quantity.FeetInches(l), quantity.Unstated)
		if err != nil || !(math.Abs(float64(back-l)) <= float64(quantity.Inch)/16+1e-9) {
			t.Fatalf("%q: %v m is written %q and read back as %v, %v", text, float64(l), quantity.FeetInches(l), float64(back), err)
		}
	}
	return g
}

func FuzzParseLength(f *testing.F) { lengths().Fuzz(f) }

func TestSoakParseLength(t *testing.T) { lengths().Soak(t) }
