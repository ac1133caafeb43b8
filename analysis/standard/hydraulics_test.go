package standard_test

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/standard"
)

// A second sheet of the 24-hour storms, in steps of 0.1 h (read), taken at the half hours: types II and III agree with
// FHWA HDS-2, Table 6.5 (read), within 0.001, the last of its three decimals, but for type III at 10.5 h, 0.2165 against 0.212.
func TestStormsAgreeWithASecondSheet(t *testing.T) {
	second := map[string][]float64{
		"scs-ii": {
			0, 0.00513, 0.0105, 0.01613, 0.022, 0.02813, 0.0345, 0.04113, 0.048, 0.05525,
			0.063, 0.07125, 0.08, 0.08925, 0.099, 0.10925, 0.12, 0.13225, 0.147, 0.163,
			0.181, 0.204, 0.235, 0.283, 0.663, 0.735, 0.772, 0.799, 0.82, 0.83763,
			0.8535, 0.86763, 0.88, 0.89119, 0.90175, 0.91169, 0.921, 0.92969, 0.93775, 0.94519,
			0.952, 0.95844, 0.96475, 0.97094, 0.977, 0.98294, 0.98875, 0.99444, 1,
		},
		"scs-iii": {
			0, 0.005, 0.01, 0.015, 0.02, 0.02519, 0.03075, 0.03669, 0.043, 0.04969,
			0.05675, 0.06419, 0.072, 0.08063, 0.0905, 0.10163, 0.114, 0.12844, 0.14575, 0.16594,
			0.189, 0.2165, 0.25, 0.298, 0.5, 0.702, 0.75, 0.7835, 0.811, 0.83406,
			0.85425, 0.87156, 0.886, 0.89838, 0.9095, 0.91938, 0.928, 0.93581, 0.94325, 0.95031,
			0.957, 0.96336, 0.96944, 0.97523, 0.98075, 0.98598, 0.99094, 0.99561, 1,
		},
	}
	for _, s := range standard.ScsStorms {
		if len(s.Cumulative) != 49 || s.Cumulative[0] != 0 || s.Cumulative[48] != 1 || !slices.IsSorted(s.Cumulative) {
			t.Errorf("%s is no day's storm: %v", s.Name, s.Cumulative)
		}
		for i, want := range second[s.Name] {
			if s.Name == "scs-iii" && i == 21 {
				continue
			}
			if !(math.Abs(s.Cumulative[i]-want) <= 0.0011) {
				t.Errorf("%s at %g h: %v, the other sheet has %v", s.Name, float64(i)/2, s.Cumulative[i], want)
			}
		}
	}
}

// Manning's law: at four times the slope a pipe carries twice the water. Each column of International Plumbing Code,
// Table 1106.2 (read) is 2^0.5 of the one before within its rounding to whole gallons (1.3 gpm and 0.2 %); the 5 in pipe, out
// of line with its neighbours, obeys it too.
func TestSlopedPipesGoByTheRootOfTheSlope(t *testing.T) {
	for _, row := range standard.PipeRows {
		for i := 1; i < len(row.SlopedGPM); i++ {
			want := row.SlopedGPM[i-1] * math.Sqrt2
			if !(math.Abs(row.SlopedGPM[i]-want) <= 1.3+0.002*want) {
				t.Errorf("%g in, column %d: %g gpm, by the root of the slope %.1f", row.DiameterInches, i, row.SlopedGPM[i], want)
			}
		}
	}
}

// What every table must be: heads and sizes rise, and flows with them.
func TestTablesRise(t *testing.T) {
	rising := func(name string, values []float64) {
		t.Helper()
		for i := 1; i < len(values); i++ {
			if values[i] <= values[i-1] {
				t.Errorf("%s: %g follows %g", name, values[i], values[i-1])
			}
		}
	}
	for _, r := range standard.ScupperRows {
		rising("scupper heads", r.HeadInches)
		rising("scupper flows", r.FlowGPM)
	}
	for _, r := range standard.DrainRows {
		rising("drain heads", r.HeadInches)
		rising("drain flows", r.FlowGPM)
	}
	vertical := []float64{}
	for _, r := range standard.PipeRows {
		vertical = append(vertical, r.VerticalGPM)
		rising("sloped pipe", r.SlopedGPM)
	}
	rising("vertical pipes", vertical)
	rising("heads of crests", standard.CrestHeadsFeet)
	rising("breadths of crests", standard.CrestBreadthsFeet)
	for _, rows := range standard.SlopedAreaRows {
		for i := 1; i < len(rows); i++ {
			rising("pipes by area", []float64{rows[i-1].DiameterInches, rows[i].DiameterInches})
			rising("areas", []float64{rows[i-1].SquareFeet, rows[i].SquareFeet})
		}
	}
}

// Metric and inch forms of one coefficient: 3.33 in feet is 1.84 in metres (Francis formula, read), 2.9 in inches and gallons is a discharge coefficient of 0.60 (by hand 2.9 against
// 2/3 x 0.6 x (2 g)^0.5 = 2.887 in those units).
func TestCoefficientsInBothUnits(t *testing.T) {
	root := math.Sqrt(0.3048)
	for _, tt := range []struct{ got, want, tolerance float64 }{
		{standard.FrancisWeir * root, 1.84, 0.005},
		{standard.ScupperWeir * 0.6 / 2.887, 0.60, 0.005},
	} {
		if !(math.Abs(tt.got-tt.want) <= tt.tolerance) {
			t.Errorf("%v, want %v", tt.got, tt.want)
		}
	}
}

func TestDesignStormsAndWallRulesSayWhereTheyStand(t *testing.T) {
	for _, s := range standard.DesignStorms() {
		if s.Code == "" || s.Section == "" || s.Primary == "" && s.Overflow == "" {
			t.Errorf("%+v", s)
		}
	}
	for _, r := range standard.WallRules() {
		if r.Name == "" || r.What == "" || r.Source.Text == "" {
			t.Errorf("%+v", r)
		}
	}
}

// The types come from one kind of curve (a burst about which rain grows and wanes), printed to three decimals: what falls in half an hour grows up to the burst and wanes after it, but for what rounding of two ordinates and hand-drawn curves make of it.
func TestStormsGrowAndWane(t *testing.T) {
	for _, s := range standard.ScsStorms {
		burst, step := 1, func(i int) float64 { return s.Cumulative[i] - s.Cumulative[i-1] }
		for i := 1; i < len(s.Cumulative); i++ {
			if step(i) > step(burst) {
				burst = i
			}
		}
		for i := 2; i < len(s.Cumulative); i++ {
			if d := step(i) - step(i-1); i <= burst && d < -0.0021 || i > burst+1 && d > 0.0021 {
				t.Errorf("%s: %.3f in the half hour to %g h after %.3f", s.Name, step(i), float64(i)/2, step(i-1))
			}
		}
	}
}

// Approved Document H (England), 2015 edition, Table 2, gutter sizes: what half round gutters of these sizes carry [mm, l/s] (from memory), by the coefficient and the share that is counted on.
func TestHalfRoundGuttersAsPrinted(t *testing.T) {
	for size, want := range map[float64]float64{75: 0.38, 100: 0.78, 115: 1.11, 125: 1.37, 150: 2.16} {
		if got := standard.GutterCounted * standard.GutterHalfRound * math.Pow(math.Pi*size*size/8, 1.25); !(math.Abs(got-want) <= 0.015*want) {
			t.Errorf("%g mm: %.3f l/s, want %g", size, got, want)
		}
	}
}

// A name keeps its letters and digits, the first and the last of them too, and letters beyond the Latin ones.
func TestPlainNames(t *testing.T) {
	for name, want := range map[string]string{"  PIR 2009/A-Z": "pir 2009 a z", "@[`{~": "", "09az": "09az", "Größe_10": "größe 10"} {
		if got := standard.Plain(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}
