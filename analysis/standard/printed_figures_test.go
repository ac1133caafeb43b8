package standard_test

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Resistances as printed [ft2 h degF/Btu]: per inch of boards (ASTM C578; ASHRAE Handbook Fundamentals; quoted data), and of built-up roofing 3/8 in
// thick. Beside it stands a weight where the list of dead loads has none [lb/ft2 per inch, or lb/ft2 of a sheet].
func TestResistancesAsPrinted(t *testing.T) {
	for _, p := range []struct {
		material   string
		thick      float64 // [in] for which r is printed
		r, weighs  float64
		insulation bool
	}{
		{"polyiso", 1, 5.6, 0.25, true},
		{"hd polyiso", 1, 5, 0, true},
		{"eps type i", 1, 3.6, 0.2, true},
		{"eps type viii", 1, 3.8, 0.2, true},
		{"eps type ii", 1, 4, 0.2, true},
		{"eps type ix", 1, 4.2, 0, true},
		{"eps", 1, 3.6, 0, true},
		{"xps", 1, 5, 0, true},
		{"perlite", 1, 2.78, 0, true},
		{"fiberboard", 1, 2.78, 0, true},
		{"cellular glass", 1, 2.86, 0, true},
		{"spf", 1, 6, 0, true},
		{"mineral wool", 1, 3.8, 0, true},
		{"gypsum", 1, 1.1, 4, false},
		{"plywood", 1, 1.25, 3.2, false},
		{"bur", 0.375, 0.33, 0, false},
		{"gravel bur", 0.375, 0.33, 0, false},
		{"mod bit", 1, 0, 1.5, false},
		{"tpo", 1, 0, 0, false},
		{"vapor barrier", 1, 0, 0, false},
	} {
		m, ok := standard.FindMaterial(p.material)
		if !ok || m.Insulates() != p.insulation {
			t.Errorf("%s: %+v", p.material, m)
			continue
		}
		if got := m.PerMetre * p.thick * float64(quantity.Inch) / quantity.RUnit; !(math.Abs(got-p.r) <= 1e-9) {
			t.Errorf("%s: R %g, printed %g", p.material, got, p.r)
		}
		got := m.Weight / quantity.PoundPerSquareFoot
		if !m.Sheet {
			got *= float64(quantity.Inch)
		}
		if p.weighs > 0 && !(math.Abs(got-p.weighs) <= 1e-9) {
			t.Errorf("%s: %g lb/ft2, printed %g", p.material, got, p.weighs)
		}
	}
	// A material whose resistance nobody knows is no insulation, whatever stands beside it.
	if (&standard.Material{PerMetre: 50}).Insulates() || (&standard.Material{RKnown: true}).Insulates() {
		t.Error("an unknown resistance, or none, insulates")
	}
	// ASTM C1289, long-term resistances in force from 2014, as reprinted: thickness [in] and R.
	printed := [][2]float64{{1, 5.6}, {1.5, 8.6}, {2, 11.4}, {3, 17.4}, {4, 23.6}}
	for i, row := range standard.LTTR {
		if !(math.Abs(row.Thickness-0.0254*printed[i][0]) <= 1e-12) || !(math.Abs(row.R/quantity.RUnit-printed[i][1]) <= 1e-9) {
			t.Errorf("polyiso %+v, printed %v", row, printed[i])
		}
	}
}

// Slopes [in per ft] of the columns of International Plumbing Code, Table 1106.2, and of tapered boards as they are sold; factors of gutters by length over
// depth [%], EN 12056-3, Table 6; what vertical leaders drain at 1 in/h [ft2], International Plumbing Code 2000, Table 1106.2; the upper ends [mm] of
// the errors of instruments.
func TestSlopesAndFactorsAsPrinted(t *testing.T) {
	same := func(what string, got []float64, unit float64, printed ...float64) {
		t.Helper()
		if !slices.EqualFunc(got, printed, func(a, b float64) bool { return math.Abs(a/unit-b) <= 1e-9 }) {
			t.Errorf("%s: %v of %g, printed %v", what, got, unit, printed)
		}
	}
	same("pipes", standard.PipeSlopes, 1.0/12, 0.0625, 0.125, 0.25, 0.5)
	same("boards", standard.BoardRates, 1.0/12, 0.0625, 0.125, 0.1875, 0.25, 0.375, 0.5)
	same("gutters", standard.GutterLengths, 1, 50, 100, 150, 200, 250, 300, 350, 400, 450, 500)
	same("their factors", standard.GutterFactors, 0.01, 100, 93, 86, 80, 77, 73, 70, 67, 63, 60)
	var areas, misses []float64
	for _, r := range standard.LeaderAreaRows {
		areas = append(areas, r.DiameterInches, r.SquareFeet)
	}
	for _, i := range standard.Instruments() {
		misses = append(misses, i.Error)
	}
	same("leaders", areas, 1, 2, 2880, 3, 8800, 4, 18400, 5, 34600, 6, 54000, 8, 116000)
	same("instruments", misses, 0.001, 3, 5, 20, 50, 20)
}
