package standard_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/standard"
)

// By hand: 0.025 W/(m K) is 40 m K/W; R-4 per inch is 4 x 0.176110/0.0254 = 27.734 m K/W.
func TestParseMaterials(t *testing.T) {
	got, err := standard.ParseMaterials([]byte(`{"polyiso": "0.025 W/(m K)", "Cork board": "4 per in"}`))
	if err != nil || len(got) != 2 || !(math.Abs(got["polyiso"]-40) <= 1e-9) || !(math.Abs(got["Cork board"]-27.734) <= 5e-3) {
		t.Errorf("%v, %v", got, err)
	}
}

func TestParseMaterialsRefuses(t *testing.T) {
	for text, want := range map[string]string{
		`[]`:                                     "materials are a JSON object",
		``:                                       "the file is empty",
		`{"polyiso": 5.6}`:                       "polyiso: give a text with a unit",
		`{"polyiso": {"r": 5.6}}`:                "polyiso: give a text with a unit",
		`{"polyiso": null}`:                      "polyiso: give a text with a unit",
		`{"polyiso": "5.6"}`:                     "it has no unit",
		`{"polyiso": "5.6 per in"} {}`:           "something follows the object",
		`{"polyiso": "5.6 per in"`:               "cut off",
		`{"Iso": "5 per in", "iso": "6 per in"}`: `"Iso" and "iso" are one material`,
		`{"eps": "5 per in", "eps": "6 per in"}`: `"eps" stands already on line 1`,
		`{"--": "5 per in"}`:                     `"--" names no material`,
	} {
		if got, err := standard.ParseMaterials([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, %v; want %q", text, got, err, want)
		}
	}
}
