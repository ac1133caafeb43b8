package quantity_test

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"runnel/analysis/quantity"
)

// reading reads a text as one of the quantities.
type reading func(text string) (float64, error)

func length(text string) (float64, error) {
	v, err := quantity.ParseLength(text, quantity.Unstated)
	return float64(v), err
}

func intensity(text string) (float64, error) {
	v, err := quantity.ParseIntensity(text)
	return float64(v), err
}

func pressure(text string) (float64, error) {
	v, err := quantity.ParsePressure(text)
	return float64(v), err
}

func resistance(text string) (float64, error) {
	v, err := quantity.ParseResistance(text)
	return float64(v), err
}

func resistivity(text string) (float64, error) {
	v, err := quantity.ParseResistivity(text)
	return float64(v), err
}

func slope(text string) (float64, error) { v, err := quantity.ParseSlope(text); return float64(v), err }

func flow(text string) (float64, error) { v, err := quantity.ParseFlow(text); return float64(v), err }

// A text that is refused has no value, and the error names it and why.
func TestRefusedTextsHaveNoValue(t *testing.T) {
	for _, c := range []struct {
		read      reading
		text, why string
	}{
		{length, "3", "it has no unit"},
		{length, "3/0 in", "the fraction has denominator 0"},
		{length, "3/ in", "the fraction has no denominator"},
		{length, `1 1/2 ft 3 in`, "feet with a fraction cannot have inches after them"},
		{length, "3 furlong", "is no unit"},
		{length, `3 ft 4 in 5`, "follows the inches"},
		{intensity, "4", ""},
		{intensity, "4 in", "it is not per hour"},
		{intensity, "10001 mm/h", "it is more than 10 m an hour"},
		{intensity, "4 psf/h", ""},
		{pressure, "25", "it has no unit"},
		{pressure, "25 stone", "is no unit"},
		{pressure, "100.1 kPa", "it is over 100 kPa"},
		{pressure, "", ""},
		{resistance, "", "it is empty"},
		{resistance, "25", "it says neither R nor a unit that is known"},
		{resistance, "R-25 m2K/W", "it says neither R nor a unit that is known"},
		{resistance, "51 m2K/W", "no roof has it"},
		{resistance, "0.049 m2K/W", "no roof has it"},
		{resistance, "R-x", ""},
		{resistivity, "", "it is empty"},
		{resistivity, "5.6", "it has no unit"},
		{resistivity, "R-0.026 W/(m K)", "is no unit of it"},
		{resistivity, "0 W/(m K)", "it is 0"},
		{resistivity, "x per in", ""},
		{slope, "", "it is empty"},
		{slope, "1/4", "may be inches to the foot"},
		{slope, "10001 %", "it is steeper than any roof"},
		{slope, "1/4 in per ft 3", "follows the run"},
		{slope, "1:80 3", "follows the run"},
		{slope, "1:0", "the run is 0"},
		{slope, "1 in per x", "is no unit"},
		{slope, "0.201", "a number alone is rise over run, at most 0.2"},
		{flow, "10001 m3/s", "it is too large"},
		{flow, "5 gpd", "is no unit of flow"},
		{length, "/4 in", ""},
		{length, "3 m-", "follows the unit"},
		{length, "3 x-", "is no unit"},
		{length, "3 ft 4 m", "after feet only inches can follow"},
		{length, strings.Repeat("1", 65), "it is too long"},
		{flow, "12", ""},
		{flow, "", ""},
	} {
		v, err := c.read(c.text)
		if err == nil || v != 0 || !strings.Contains(err.Error(), c.why) || !strings.Contains(err.Error(), `"`) {
			t.Errorf("%q: %g, %v, want %q", c.text, v, err, c.why)
		}
	}
}

// The last values that are read, beside those just beyond, which the test above refuses: 10 m of rain an hour, 100 kPa, 0.05 and 50 m2K/W.
func TestLastValues(t *testing.T) {
	for _, c := range []struct {
		read reading
		text string
		want float64
	}{
		{intensity, "10000 mm/h", 10.0 / 3600},
		{pressure, "100 kPa", 1e5},
		{length, "-1 m", -1},
		{length, "+ 1 m", 1},
		{slope, "0.2", 0.2},
		{slope, "10000 %", 100},
		{flow, "10000 m3/s", 1e4},
		{resistance, "50 m2K/W", 50},
		{resistance, "0.05 m2K/W", 0.05},
	} {
		if v, err := length("-0 m"); err != nil || v != 0 || math.Signbit(v) {
			t.Errorf("-0 m: %g, %v", v, err)
		}
		if v, err := c.read(c.text); err != nil || !(math.Abs(v-c.want) <= 1e-12*math.Abs(c.want)) {
			t.Errorf("%q: %g, %v, want %g", c.text, v, err, c.want)
		}
	}
}

// One length in all the ways in which it is typed: signs, capitals, blanks and no-break spaces do not matter.
func TestSpellingsOfOneLength(t *testing.T) {
	for _, text := range []string{
		"4 ft 3 1/2 in", "4 FT 3 1/2 IN", "4 ft 3½ in", "4' 3 1/2\"", "4' 3 1/2''", "4′ 3½″", "4’ 3 1/2”", "4\u00a0ft 3\u20091/2 in", " 4 ft  3 1/2 in ", "4\tft 3 1/2 in", "4`3½\"", "4 ft 3-1/2 in", "51.5 in", "51 1/2 in",
		"4ft 3 1/2in", "4 Ft 3 1/2 In",
	} {
		if v, err := length(text); err != nil || !(math.Abs(v-1.3081) <= 1e-12) { // 51.5 x 25.4 mm
			t.Errorf("%q: %g, %v", text, v, err)
		}
	}
}

// A value lies in a range up to a billionth of a metre beyond its ends; one without an upper end has none. The error says both in inches and millimetres.
func TestRangeInWords(t *testing.T) {
	for _, c := range []struct {
		value, low, high quantity.Length
		want             string
	}{
		{0.1, 0.1, 0.2, ""},
		{0.2, 0.1, 0.2, ""},
		{0.1 - 0.9e-9, 0.1, 0.2, ""},
		{0.2 + 0.9e-9, 0.1, 0.2, ""},
		{0.1 - 1.1e-9, 0.1, 0.2, "head of 3.94 in (100 mm) is outside the tested range of 3.94 in (100 mm) to 7.87 in (200 mm)"},
		{0.2 + 1.1e-9, 0.1, 0.2, "head of 7.87 in (200 mm) is outside the tested range of 3.94 in (100 mm) to 7.87 in (200 mm)"},
		{5, 0.1, 0, ""},
		{0.05, 0.1, 0, "head of 1.97 in (50 mm) is under the tested 3.94 in (100 mm)"},
	} {
		err := quantity.InRange("head", c.value, c.low, c.high)
		if got := ""; err != nil {
			if got = err.Error(); got != c.want {
				t.Errorf("%g: %q, want %q", float64(c.value), got, c.want)
			}
		} else if c.want != "" {
			t.Errorf("%g is in the range", float64(c.value))
		}
	}
}

// A text too long to show is cut between its letters, however many bytes they have.
func TestLongTextsAreCut(t *testing.T) {
	for n := 60; n < 70; n++ {
		for _, letter := range []string{"½", "″", "m", "𝟙"} {
			_, err := length(strings.Repeat("x", n-60) + strings.Repeat(letter, 65))
			if err == nil || !utf8.ValidString(err.Error()) || strings.Contains(err.Error(), `\x`) || !strings.Contains(err.Error(), `..."`) {
				t.Errorf("%d letters %s: %v", n, letter, err)
			}
		}
	}
}
