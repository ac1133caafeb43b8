package quantity_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
)

// Wanted flows in L/s are by hand from the gallon of 231 in3 and the foot of 0.3048 m.
func TestParseFlow(t *testing.T) {
	tests := []struct {
		text string
		want float64 // L/s
	}{
		{"100 gpm", 100 * 3.785411784 / 60},
		{"100gpm", 100 * 3.785411784 / 60},
		{"97.5 gal/min", 97.5 * 3.785411784 / 60},
		{"1 1/2 gallons per minute", 1.5 * 3.785411784 / 60},
		{"6.3 L/s", 6.3},
		{"6.3 l / s", 6.3},
		{"60 L/min", 1},
		{"1 cfs", 28.316846592},
		{"1 ft3/s", 28.316846592},
		{"0.01 m3/s", 10},
		{"36 m3/h", 10},
		{"0 gpm", 0},
	}
	for _, tt := range tests {
		got, err := quantity.ParseFlow(tt.text)
		if err != nil || !(math.Abs(float64(got/quantity.LitrePerSecond)-tt.want) <= 1e-12*math.Max(1, tt.want)) {
			t.Errorf("ParseFlow(%q) = %v L/s, %v; want %v", tt.text, float64(got/quantity.LitrePerSecond), err, tt.want)
		}
	}
	for text, says := range map[string]string{
		"": "number is missing", "100": "no unit", "-1 gpm": "negative", "1 gph": "no unit of flow", "1e9 gpm": "no unit of flow",
		"99999999 m3/s": "too large", strings.Repeat("9", 80): "too long",
	} {
		if got, err := quantity.ParseFlow(text); err == nil || got != 0 || !strings.Contains(err.Error(), says) {
			t.Errorf("ParseFlow(%q) = %v, %v; want %q", text, got, err, says)
		}
	}
}

func TestInRange(t *testing.T) {
	if err := quantity.InRange("head", 3*quantity.Inch, quantity.Inch, 8*quantity.Inch); err != nil {
		t.Error(err)
	}
	if err := quantity.InRange("head", 8*quantity.Inch+1e-12, quantity.Inch, 8*quantity.Inch); err != nil {
		t.Error("rounding is not outside:", err)
	}
	var outside *quantity.RangeError
	err := quantity.InRange("head", 9*quantity.Inch, quantity.Inch, 8*quantity.Inch)
	if want := "head of 9 in (229 mm) is outside the tested range of 1 in (25 mm) to 8 in (203 mm)"; !errors.As(err, &outside) || err.Error() != want {
		t.Errorf("%v, want %q", err, want)
	}
	if err := quantity.InRange("head", 0.5*quantity.Inch, quantity.Inch, 0); err == nil || !strings.Contains(err.Error(), "under the tested 1 in") {
		t.Errorf("%v", err)
	}
}

func TestRound(t *testing.T) {
	for _, tt := range []struct {
		v        float64
		decimals int
		want     float64
	}{{1.23456, 2, 1.23}, {-1.5, 0, -2}, {2.5, 0, 3}, {0.0004, 3, 0}, {-0.0004, 3, 0}} {
		if got := quantity.Round(tt.v, tt.decimals); got != tt.want || math.Signbit(got) != math.Signbit(tt.want) {
			t.Errorf("Round(%v, %d) = %v, want %v", tt.v, tt.decimals, got, tt.want)
		}
	}
}

func TestRatesBelowNothingAreCalledNegative(t *testing.T) {
	if _, err := quantity.ParseIntensity("-4 in/h"); err == nil || !strings.Contains(err.Error(), "negative") {
		t.Errorf("%v", err)
	}
}
