package separated_test

import (
	"math"
	"testing"

	"runnel/importer/points/separated"
)

// Every digit is read, with either sign for decimals, and what is no decimal number is refused.
func TestNumbersOfAllDigits(t *testing.T) {
	for text, want := range map[string]float64{"9876543210": 9876543210, "-0.0987654321": -0.0987654321, "1,9": 1.9, "+9e2": 900, "9E-1": 0.9} {
		if got, _, ok := separated.Number(text, true); !ok || !(math.Abs(got-want) <= 1e-12*math.Abs(want)) {
			t.Errorf("%q: %g, %t, want %g", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "nan", "inf", "0x9", "1,2,3", "9 9"} {
		if got, _, ok := separated.Number(text, true); ok {
			t.Errorf("%q is read as %g", text, got)
		}
	}
	if _, _, ok := separated.Number("1,9", false); ok {
		t.Error("a decimal comma is read where commas divide")
	}
}
