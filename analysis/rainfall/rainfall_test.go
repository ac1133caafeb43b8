package rainfall_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/rainfall"
)

const (
	sqft = quantity.SquareFoot
	inph = quantity.InchPerHour
	mmph = quantity.MillimetrePerHour
)

func near(t *testing.T, what string, got, want, tolerance float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.7g, want %g within %g (%s)", what, got, want, tolerance, source)
	}
}

// The examples print with the factor 0.0104 or with rounded gallons; runnel's factor is exact, 0.10 % less than 0.0104.
func TestFlowOfPublishedExamples(t *testing.T) {
	flow := func(area float64, rate quantity.Intensity, unit quantity.Flow) float64 {
		return float64(rainfall.Flow(area, rate) / unit)
	}
	const g, l = quantity.GallonPerMinute, quantity.LitrePerSecond
	for _, tt := range []struct {
		what            string
		got             float64
		want, tolerance float64
		source          string
	}{
		{"2,500 ft2 at 3.75 in/h", flow(2500*sqft, 3.75*inph, g), 97.5, 0.0011 * 97.5, "ASCE 7-05, C8.5 Example 1, with 0.0104 (recalled)"},
		{"the same in m3/s", flow(2500*sqft, 3.75*inph, 1), 0.0062, 0.00006, "same (recalled); printed rounded up from 0.00614"},
		{"1,069.025 m2 at 38 mm/h", flow(1069.025, 38*mmph, 1), 0.0112931801, 0.001 * 0.0112931801, "ASCE 7-10 Example 2 in SI, with 0.278e-6 (read)"},
		{"11,500 ft2 at 1.5 in/h", flow(11500*sqft, 1.5*inph, g), 179, 0.5, "ASCE 7-05, C8.5 Example 2 (recalled)"},
		{"10,000 ft2 at 1.5 in/h", flow(10000*sqft, 1.5*inph, g), 156, 0.5, "flow and pipe choice by IPC 1106.2 (read)"},
		{"the same an hour", flow(10000*sqft, 1.5*inph, quantity.Flow(quantity.Gallon/3600)), 9350, 1, "same (read)"},
		{"1,000 ft2 at 8 in/h", flow(1000*sqft, 8*inph, g), 83, 0.5, "leader load, by hand 1000 x 8/12 / 60 x 7.48 (read)"},
		{"the same in ft3/s", flow(1000*sqft, 8*inph, quantity.CubicFootPerSecond), 0.185, 0.0005, "same (read)"},
		{"the same in ft3/h", flow(1000*sqft, 8*inph, quantity.CubicFootPerSecond/3600), 666.7, 0.05, "same (read)"},
		{"500 ft2 at 1.5 in/h", flow(500*sqft, 1.5*inph, g), 7.79, 0.005, "divisor 96.23 (read)"},
		{"900 ft2 at 1.5 in/h, 0.35 of it", flow(0.35*900*sqft, 1.5*inph, g), 4.91, 0.005, "divisor 96.23, runoff coefficient 0.35 (read)"},
		{"0.32 ha at 650 L/(s ha)", flow(3200, 650*0.36*mmph, l), 208, 1e-9, "EN 12056-3 summary, 1 L/(s ha) = 0.36 mm/h (read)"},
		{"1 ft2 at 1.5 in/h", flow(sqft, 1.5*inph, g), 0.016, 0.0005, "county bulletin, 0.0156 printed 0.016 (read)"},
		{"1 ft2 at 1 in/h", flow(sqft, inph, g), 0.010389, 0.000001, "NSPC 2015 appendix A, 1/12 x 7.48/60 (read)"},
		{"1 acre at 1 in/h in ft3/s", flow(43560*sqft, inph, quantity.CubicFootPerSecond), 1.008, 0.0005, "Bedient, Huber and Vieux, 5th edition, equation 6-8 (read)"},
		{"1 ha at 1 mm/h", flow(1e4, mmph, 1), 0.00278, 0.000005, "same, SI (read)"},
		{"1 m2 at 75 mm/h", flow(1, 75*mmph, l), 0.021, 0.0005, "UK guide to EN 12056-3, 0.021 L/(s m2) (read)"},
	} {
		near(t, tt.what, tt.got, tt.want, tt.tolerance, tt.source)
	}
	// The exact factor against the rounded one of the codes, by hand: 0.0104 / 0.0103896 = 1.0010.
	near(t, "rounding of the codes' factor", 0.0104/flow(sqft, inph, g), 1.0010, 0.00005, "by hand")
}

// By hand from the rules' texts, on walls of 10 m.
func TestWallArea(t *testing.T) {
	wall := func(height quantity.Length, bearing float64) rainfall.Wall {
		return rainfall.Wall{Length: 10, Height: height, Bearing: bearing}
	}
	for _, tt := range []struct {
		what, rule string
		walls      []rainfall.Wall
		want       float64
	}{
		{"half of one (IPC 1106.4, read)", "half", []rainfall.Wall{wall(4, 0)}, 20},
		{"half of both (IPC 1106.4, read)", "half", []rainfall.Wall{wall(4, 0), wall(6, 180)}, 50},
		{"a quarter (Chicago 18-29-1106.4, read)", "quarter", []rainfall.Wall{wall(4, 0), wall(6, 90)}, 25},
		{"none", "none", []rainfall.Wall{wall(4, 0)}, 0},
		{"one wall 50 % (UPC 1106.4, read)", "50-35-0", []rainfall.Wall{wall(4, 0)}, 20},
		{"two adjoining, equal, 35 % (UPC, read)", "50-35-0", []rainfall.Wall{wall(4, 0), wall(4, 90)}, 28},
		{"adjoining across north", "50-35-0", []rainfall.Wall{wall(4, 30), wall(4, -58)}, 28},
		{"two adjoining, unequal (UPC, read): 35 % of 2 x 40, 50 % of 20", "50-35-0", []rainfall.Wall{wall(4, 0), wall(6, 270)}, 38},
		{"two opposite, equal (UPC, read)", "50-35-0", []rainfall.Wall{wall(4, 10), wall(4, 185)}, 0},
		{"two opposite, unequal (UPC, recalled): 50 % of 20", "50-35-0", []rainfall.Wall{wall(4, 0), wall(6, 180)}, 10},
		{"three (UPC, recalled): 50 % of the middle one, 30", "50-35-0", []rainfall.Wall{wall(3, 270), wall(3, 0), wall(3, 90)}, 15},
		{"three, of which two are higher and opposite", "50-35-0", []rainfall.Wall{wall(5, 270), wall(3, 0), wall(5, 90)}, 15},
		{"three, of which one is higher: 15, 50 % of 20", "50-35-0", []rainfall.Wall{wall(5, 270), wall(3, 0), wall(3, 90)}, 25},
		{"four, one higher (UPC, recalled): 50 % of 20", "50-35-0", []rainfall.Wall{wall(3, 270), wall(3, 0), wall(3, 90), wall(5, 180)}, 10},
		{"three, the middle one 6 m long and 3 m high (UPC, recalled): 50 % of 18", "50-35-0", []rainfall.Wall{wall(3, 270), {Length: 6, Height: 3, Bearing: 0}, wall(3, 90)}, 9},
		{"the same turned, the middle one named first", "50-35-0", []rainfall.Wall{{Length: 6, Height: 3, Bearing: 135}, wall(3, 45), wall(3, 225)}, 9},
		{"two stretches of one side are one wall", "50-35-0", []rainfall.Wall{wall(4, 0), wall(4, 5)}, 40},
		{"no walls", "50-35-0", nil, 0},
	} {
		got, rule, err := rainfall.WallArea(tt.rule, tt.walls)
		if err != nil || rule.Name != tt.rule || rule.Source.Text == "" {
			t.Errorf("%s: %+v, %v", tt.what, rule, err)
		}
		near(t, tt.what, got, tt.want, 1e-9, "by hand")
	}
	// Canadian code practice (read): 12 m2 of roof and half of a wall of 12 m2 make 18 m2, 540 L of 30 mm.
	if area, _, err := rainfall.WallArea("half", []rainfall.Wall{{Length: 0.5, Height: 3}}); err != nil || !(math.Abs(area-0.75) <= 1e-12) {
		t.Errorf("a wall of half a metre: %g m2, %v, want 0.75", area, err)
	}
	area, _, err := rainfall.WallArea("half", []rainfall.Wall{{Length: 4, Height: 3}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "roof and wall", 12+area, 18, 1e-12, "Canadian code practice (read)")
	near(t, "litres", (12+area)*0.030/quantity.Litre, 540, 1e-9, "Canadian code practice (read)")
}

func TestWallAreaRefuses(t *testing.T) {
	var unknown *rainfall.RuleError
	if _, _, err := rainfall.WallArea("third", nil); !errors.As(err, &unknown) || !strings.Contains(err.Error(), "half, 50-35-0, quarter, none") {
		t.Errorf("%v", err)
	}
	for _, w := range []rainfall.Wall{{Length: -1, Height: 1}, {Length: 1, Height: quantity.Length(math.NaN())}, {Length: 1, Height: 1, Bearing: math.Inf(1)}} {
		if _, _, err := rainfall.WallArea("half", []rainfall.Wall{w}); err == nil {
			t.Errorf("%+v is taken", w)
		}
	}
}
