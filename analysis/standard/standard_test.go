package standard_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

func TestDefaultsAreThoseOfTheTrade(t *testing.T) {
	c := standard.Defaults()
	tests := []struct {
		name      string
		got, want float64
		source    string
	}{
		{"min_slope_new", c.MinSlopeNew, 0.0208333, "IBC section 1507, 1/4 in 12: by hand 0.25/12"},
		{"min_slope", c.MinSlope, 0.0104167, "by hand: 0.125/12"},
		{"min_valley_slope", c.MinValleySlope, 0.0104167, "by hand: 0.125/12"},
		{"pond_depth", c.PondDepth, 0.00635, "by hand: 25.4 mm / 4"},
		{"pond_depth wide", c.PondDepthWide, 0.003175, "by hand: 25.4 mm / 8"},
		{"wide area", c.WideArea, 9.290304, "NIST SP 811: 1 ft2 = 9.290 304 E-02 m2"},
		{"near_outlet", c.NearOutlet, 0.6096, "by hand: 2 x 0.3048"},
		{"contour", c.Contour, 0.0254, "by definition of the inch"},
	}
	for _, tt := range tests {
		if !(math.Abs(tt.got-tt.want) <= 1e-7) {
			t.Errorf("%s = %v, want %v (%s)", tt.name, tt.got, tt.want, tt.source)
		}
	}
	if c.MaxTravel != 0 || c.RainPrimary != 0 || c.RainOverflow != 0 {
		t.Errorf("criteria without a default have one: %+v", c)
	}
}

// One inch of water on 1,000 ft2 weighs 5,202.29 lb: published table of the weight of water on roofs, whose
// factor 5.202288 lb/ft2 per inch is of water at 999.99 kg/m3; hence 0.05 lb.
func TestWeightOfWater(t *testing.T) {
	volume := 1000 * quantity.SquareFoot * float64(quantity.Inch)
	if got := volume * standard.WaterDensity / quantity.Pound; !(math.Abs(got-5202.29) <= 0.05) {
		t.Errorf("1 in on 1000 ft2 weighs %.2f lb, want 5202.29", got)
	}
	psf := float64(quantity.Inch) * standard.WaterDensity * standard.Gravity / quantity.PoundPerSquareFoot
	if !(math.Abs(psf-5.2023) <= 1e-4) {
		t.Errorf("1 in is %.4f psf, want 5.2023", psf)
	}
}

func TestEveryCriterionHasASource(t *testing.T) {
	for _, name := range append(standard.Names(), standard.MinSlopeNewName, standard.BowlName, standard.ScupperWidthName) {
		if s, ok := standard.Cite(name); !ok || s.Text == "" {
			t.Errorf("%s has no source", name)
		}
	}
	if _, ok := standard.Cite("nonsense"); ok {
		t.Error("nonsense has a source")
	}
}

func TestApply(t *testing.T) {
	c, err := standard.Apply(standard.Defaults(), standard.Overrides{"min_slope": 0.02, "pond_depth": 0.01, "max_travel": 30, "rain_primary": 1e-5})
	if err != nil {
		t.Fatal(err)
	}
	if c.MinSlope != 0.02 || c.MinSlopeNew != 0.02 || c.PondDepth != 0.01 || c.PondDepthWide != 0.005 || c.MaxTravel != 30 || c.RainPrimary != 1e-5 {
		t.Errorf("not applied: %+v", c)
	}
	if c.MinValleySlope != standard.MinValleySlope {
		t.Errorf("changed what nobody stated: %+v", c)
	}
	for name, o := range map[string]standard.Overrides{
		"unknown":  {"slope": 1},
		"negative": {"pond_depth": -1},
		"NaN":      {"min_slope": math.NaN()},
		"zero":     {"contour": 0},
	} {
		if _, err := standard.Apply(standard.Defaults(), o); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestParseFile(t *testing.T) {
	o, err := standard.ParseFile([]byte(`{"min_slope": "1/4 in per ft", "min_valley_slope": 0.01, "pond_depth": "1/2 in", "rain_primary": "25 mm/h"}`))
	if err != nil {
		t.Fatal(err)
	}
	want := standard.Overrides{"min_slope": 1.0 / 48, "min_valley_slope": 0.01, "pond_depth": 0.0127, "rain_primary": 0.025 / 3600}
	if len(o) != len(want) {
		t.Errorf("read %v", o)
	}
	for name, v := range want {
		if !(math.Abs(o[name]-v) <= 1e-15) {
			t.Errorf("%s = %v, want %v", name, o[name], v)
		}
	}
	for text, says := range map[string]string{
		``:                         "JSON object",
		`[]`:                       "JSON object",
		`{"min_slope": "1/4"}`:     "not a slope",
		`{"slope": "2%"}`:          "unknown criterion",
		`{"pond_depth": 6}`:        "no unit",
		`{"pond_depth": null}`:     "string with a unit",
		`{"pond_depth": "8 on"}`:   "no unit",
		`{"pond_depth": "-1 in"}`:  "negative",
		`{"contour": "0 in"}`:      "zero",
		`{"rain_primary": "4 in"}`: "per hour",
		`{} {}`:                    "follows",
	} {
		if _, err := standard.ParseFile([]byte(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", text, err, says)
		}
	}
}

// International Building Code, 2012, section 1510.3: a new roof may not be laid over one where two or more coverings lie already.
func TestCoveringsThatForbidOneMore(t *testing.T) {
	if standard.TwoRoofs != 2 {
		t.Errorf("%d coverings forbid one more, not 2", standard.TwoRoofs)
	}
}
