package points

import "testing"

// Feet and metres are known by the sign or the word behind a number, in capitals as well; letters of other words are none.
func TestUnitsBehindNumbers(t *testing.T) {
	for text, want := range map[string][2]bool{
		"40' from W wall": {true, false}, `3"`: {true, false}, "12 FT": {true, false}, "12Feet": {true, false}, "5 IN": {true, false}, "12’ from N": {true, false},
		"3.2 M": {false, true}, "40 CM from P2": {false, true}, "7mm": {false, true}, "2 ft, 0.3 m": {true, true},
		"wall 2": {}, "2 miles": {}, "5 mats": {}, "5 mzz": {}, "W 12": {}, "P2 from RD-1": {}, "": {},
	} {
		if feet, metres := unitsIn(text); feet != want[0] || metres != want[1] {
			t.Errorf("%q: feet %v, metres %v", text, feet, metres)
		}
	}
}
