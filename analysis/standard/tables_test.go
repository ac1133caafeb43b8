package standard_test

import (
	"slices"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// Every cell of the tables stands here as it was printed, and none is missing.
func TestTablesAsPrinted(t *testing.T) {
	cells := 0
	for _, want := range printedDrains {
		i := slices.IndexFunc(standard.DrainRows, func(r standard.DrainRow) bool { return r.DiameterInches == want.diameter })
		cells += cell(t, "drain", want.flow, standard.DrainRows[i].HeadFlow, want.head)
	}
	for _, want := range printedScuppers {
		i := slices.IndexFunc(standard.ScupperRows, func(r standard.ScupperRow) bool {
			return r.WidthInches == want.width && r.OpeningInches == want.opening
		})
		cells += cell(t, "scupper", want.flow, standard.ScupperRows[i].HeadFlow, want.head)
	}
	have := 0
	for _, r := range standard.DrainRows {
		have += len(r.HeadInches)
	}
	for _, r := range standard.ScupperRows {
		have += len(r.HeadInches)
	}
	if cells != have || cells != 15+42 {
		t.Errorf("%d cells of drains and scuppers were compared, %d stand in the tables, 57 were printed", cells, have)
	}
}

// cell compares one flow at one head.
func cell(t *testing.T, what string, want float64, row standard.HeadFlow, head float64) int {
	t.Helper()
	i := slices.Index(row.HeadInches, head)
	if i < 0 || row.FlowGPM[i] != want {
		t.Errorf("%s at %g in: %v, printed %g gpm", what, head, row, want)
	}
	return 1
}

func TestLeadersAndPipesAsPrinted(t *testing.T) {
	if len(standard.LeaderRows) != len(printedLeaders) || len(standard.PipeRows) != len(printedPipes) {
		t.Fatalf("%d leaders and %d pipes, printed %d and %d", len(standard.LeaderRows), len(standard.PipeRows), len(printedLeaders), len(printedPipes))
	}
	for _, want := range printedLeaders {
		if !slices.ContainsFunc(standard.LeaderRows, func(r standard.LeaderRow) bool {
			return r.WidthInches == want.width && r.DepthInches == want.depth && r.FlowGPM == want.flow
		}) {
			t.Errorf("leader %g x %g in: %g gpm was printed", want.width, want.depth, want.flow)
		}
	}
	for _, want := range printedPipes {
		if !slices.ContainsFunc(standard.PipeRows, func(r standard.PipeRow) bool {
			return r.DiameterInches == want[0] && r.VerticalGPM == want[1] && slices.Equal(r.SlopedGPM, want[2:])
		}) {
			t.Errorf("pipe of %g in: %v was printed", want[0], want[1:])
		}
	}
}

func TestAreasOfOlderCodesAsPrinted(t *testing.T) {
	n := 0
	for k, slope := range standard.SlopedAreaSlopes {
		for _, r := range standard.SlopedAreaRows[k] {
			i := slices.IndexFunc(printedAreas, func(p struct{ slope, diameter, area float64 }) bool {
				return p.slope/12 == slope && p.diameter == r.DiameterInches
			})
			if i < 0 || printedAreas[i].area != r.SquareFeet {
				t.Errorf("%g in at %g in per ft: %g ft2", r.DiameterInches, 12*slope, r.SquareFeet)
			}
			n++
		}
	}
	if n != len(printedAreas) {
		t.Errorf("%d areas, %d were printed", n, len(printedAreas))
	}
}

func TestCrestsAsPrinted(t *testing.T) {
	if want := len(standard.CrestHeadsFeet) * len(standard.CrestBreadthsFeet); want != len(printedCrests) {
		t.Fatalf("%d cells, %d were printed", want, len(printedCrests))
	}
	for _, p := range printedCrests {
		i, j := slices.Index(standard.CrestHeadsFeet, p.head), slices.Index(standard.CrestBreadthsFeet, p.breadth)
		if i < 0 || j < 0 || standard.CrestCoefficients[i][j] != p.coefficient {
			t.Errorf("head %g ft, breadth %g ft: %g was printed", p.head, p.breadth, p.coefficient)
		}
	}
}

func TestDeadLoadsAsPrinted(t *testing.T) {
	for _, p := range printedLoads {
		m, ok := standard.FindMaterial(p.material)
		if !ok || !m.WeightKnown {
			t.Fatalf("%s has no weight", p.material)
		}
		got := m.Weight / quantity.PoundPerSquareFoot
		if !m.Sheet {
			got *= float64(quantity.Inch)
		}
		if d := got - p.psf; d > 1e-9 || d < -1e-9 {
			t.Errorf("%s weighs %g psf, %g was printed", p.material, got, p.psf)
		}
	}
}

// Figures that corrections are compared with, in SI by NIST SP 811 (1 lbf/ft2 = 47.88026 Pa, 1 in = 25.4 mm).
func TestFiguresOfCorrections(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
		source    string
	}{
		{"second layer", standard.SecondLayerLoad, 3 * 47.88026, "International Existing Building Code, 2009, section 606.2: 3 psf (read)"},
		{"share of gravity load", standard.GravityShare, 0.05, "International Existing Building Code, 2009, section 606.2: 5 % (read)"},
		{"flashing", standard.FlashingHeight, 0.2032, "8 in (read in several texts)"},
		{"overflow", standard.OverflowHeight, 0.0508, "International Residential Code, section R903.4.1: 2 in (read)"},
		{"scupper", standard.LeastScupper, 0.1016, "International Building Code, 2021, section 1502.3: 4 in (read)"},
	} {
		if d := c.got/c.want - 1; d > 1e-6 || d < -1e-6 {
			t.Errorf("%s: %g, want %g (%s)", c.name, c.got, c.want, c.source)
		}
	}
}

// Least R per inch at 75 degF: ASTM C578 (Type I and II read in quotations, VIII and IX from memory); extruded 5.0 (read).
func TestLeastResistanceOfPolystyrene(t *testing.T) {
	for words, want := range map[string]float64{
		"2 in EPS Type I": 3.6, "EPS type 8": 3.8, "EPS Type II, tapered": 4.0, "eps type IX": 4.2, "expanded polystyrene": 3.6, "XPS": 5.0,
	} {
		m, ok := standard.FindMaterial(words)
		if !ok {
			t.Fatalf("%s is not in the table", words)
		}
		if d := m.PerMetre*float64(quantity.Inch)/quantity.RUnit - want; d > 1e-9 || d < -1e-9 {
			t.Errorf("%s: %g more per inch than the standard's %g", words, d, want)
		}
	}
}

// Where a clause moved with the editions, each edition is named with its own number; no source names a magazine, an association or a program.
func TestSourcesNameDocumentsByEdition(t *testing.T) {
	slope, _ := standard.Cite("min_slope")
	for text, want := range map[string][]string{
		standard.GravityShareSource.Text: {"2009 section 606.2", "2012 and 2015 section 707.2", "2018 and 2021 section 706.2"},
		standard.SecondLayerSource.Text:  {"2009 section 606.2", "2012 and 2015 section 707.2", "2018 and 2021 section 706.2"},
		standard.RainLoadSource.Text:     {"ASCE 7-05, equation 8-1", "7-16, equation 8.3-1", "section 1611.1"},
		standard.PondingHeadSource.Text:  {"ASCE 7-22, equation 8.2-1"},
		slope.Text:                       {"re-covered or replaced", "2012 section 1510.1", "2015 and 2018 section 1511.1", "2021 section 1512.1", "48 h"},
		standard.LeastPlusInchSource:     {"2015 and 2018", "C402.2.1"},
	} {
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("%q does not say %q", text, w)
			}
		}
	}
	for _, s := range standard.DesignStorms() {
		if s.Code == "International Building Code" && s.Edition == "2024" && !strings.Contains(s.Overflow, "15 minutes") {
			t.Errorf("%+v", s)
		}
	}
}
