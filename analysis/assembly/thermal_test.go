package assembly_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/assembly"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// rOf returns R in ft2 h degF/Btu of layers of polyiso, in inches.
func rOf(t *testing.T, inches ...float64) float64 {
	t.Helper()
	r := sloped()
	var c roof.Core
	c.Plan = [2]float64{5, 5}
	for _, i := range inches {
		c.Layers = append(c.Layers, roof.Layer{Material: "polyiso", Thickness: quantity.Length(i * inch)})
	}
	r.Cores = []roof.Core{c}
	return assembly.Of(study(t, r, false)).Cores[0].R / quantity.RUnit
}

// TestLTTR: long-term thermal resistance of polyiso boards from 2014 as reprinted (READ), and the thickness to a tenth of an
// inch that two equal layers need for R-20, 25, 30 and 35 by the same article: 1.8, 2.2, 2.6 and 3.1 in.
func TestLTTR(t *testing.T) {
	for _, c := range []struct{ inches, r float64 }{{1, 5.6}, {1.5, 8.6}, {2, 11.4}, {3, 17.4}, {4, 23.6}} {
		if got := rOf(t, c.inches); !(math.Abs(got-c.r) <= 1e-9) {
			t.Errorf("%g in: R %.3f, want %.1f", c.inches, got, c.r)
		}
	}
	for _, c := range []struct{ r, inches float64 }{{20, 1.8}, {25, 2.2}, {30, 2.6}, {35, 3.1}} {
		if enough, less := rOf(t, c.inches, c.inches), rOf(t, c.inches-0.1, c.inches-0.1); enough < c.r || less >= c.r {
			t.Errorf("R-%g: two layers of %g in give %.2f, of 0.1 in less %.2f", c.r, c.inches, enough, less)
		}
	}
}

// trap is a roof that tapers one way at 1/4 in per ft from t0 inches over the length, R 5.7 per inch as stated by the user.
func trap(t *testing.T, t0 float64) *assembly.Result {
	t.Helper()
	return trapOn(t, t0)
}

// trapOn is that roof with further layers under the taper, which raise nothing but the thickness of its cores.
func trapOn(t *testing.T, t0 float64, under ...roof.Layer) *assembly.Result {
	t.Helper()
	r := sloped()
	for i := range r.Outline.Rings[0] { // 40 ft long: 10 in of rise
		if p := &r.Outline.Rings[0][i]; p.Plan[0] > 45*foot {
			p.Plan[0], p.Z = 40*foot, 110*inch
		}
	}
	kept := r.Spots[:0]
	for _, s := range r.Spots {
		if s.Plan[0] < 39.9*foot {
			kept = append(kept, s)
		}
	}
	r.Spots = kept
	at := lines()
	var inches []float64
	for i := range at {
		at[i][0] *= 0.75
		inches = append(inches, t0+at[i][0]/4)
	}
	cut(r, "hand", at, inches...)
	for i := range r.Cores {
		r.Cores[i].Layers = append(r.Cores[i].Layers, under...)
	}
	in := study(t, r, false)
	in.PerMetre = map[string]float64{"Polyiso": 5.7 * quantity.RUnit / inch}
	in.Method = assembly.AreaU
	return assembly.Of(in)
}

// TestTrap: 1/2 to 10-1/2 in at R 5.7 per inch one way (OWN example of the trade notes; by hand: ln((59.85+0.78)/(2.85+0.78))/57 = 0.04939, so R 20.2 with films
// and 19.5 without). The R of the average thickness is 31.4: the methods give opposite answers to R-25.
func TestTrap(t *testing.T) {
	r := trap(t, 0.5).R
	if !r.Known || r.Chosen != assembly.AreaU || !(math.Abs(r.Share-1) <= 1e-9) {
		t.Fatalf("%+v", r)
	}
	want := map[assembly.Method]float64{
		assembly.LeastR: 2.85, assembly.LeastPlusInch: 8.55, assembly.WithinInch: 2.85, assembly.AreaU: 19.465, assembly.AverageThickness: 31.35,
	}
	for _, row := range r.Rows {
		w, asked := want[row.Method]
		if got := row.R / quantity.RUnit; asked && (!row.OK || !(math.Abs(got-w) <= 0.01)) {
			t.Errorf("%s: R %.3f, want %.2f", row.Method, got, w)
		}
		if row.OK != (row.Why == "") || row.Source == "" || row.Meaning == "" {
			t.Errorf("%s: %+v", row.Method, row)
		}
		if row.Method == assembly.AreaU && !(math.Abs(1/row.U/quantity.RUnit-20.245) <= 0.01) {
			t.Errorf("with films R %.3f, want 20.2", 1/row.U/quantity.RUnit)
		}
		if row.Method == assembly.AverageTable && (row.OK || !strings.Contains(row.Why, "R-5")) {
			t.Errorf("the table of averages holds from R-5 at the thinnest place: %+v", row)
		}
	}
}

// TestTaperOnFlatBoards: 2 in of mineral wool, flat, under polyiso that tapers one way from 1/2 to 10-1/2 in at R 5.7 per inch as stated by the user. By hand, with
// a = flat R + 2.85 + films 0.78: U = ln((a + 57)/a)/57 (ISO 6946, annex on tapered layers, form recalled); the flat boards are never
// averaged with the taper.
func TestTaperOnFlatBoards(t *testing.T) {
	wool, ok := standard.FindMaterial("mineral wool")
	if !ok {
		t.Fatal("no mineral wool in the table")
	}
	r := trapOn(t, 0.5, roof.Layer{Material: "mineral wool", Thickness: 2 * quantity.Inch, Condition: "sound"}).R
	if !r.Known {
		t.Fatalf("%+v", r)
	}
	a := 2*inch*wool.PerMetre/quantity.RUnit + 2.85
	if got := r.LeastR / quantity.RUnit; !(math.Abs(got/a-1) <= 1e-3) {
		t.Errorf("least R %.4f, want %.4f", got, a)
	}
	if got := r.GreatestR / quantity.RUnit; !(math.Abs(got/(a+57)-1) <= 1e-3) {
		t.Errorf("greatest R %.4f, want %.4f", got, a+57)
	}
	u := math.Log((a+0.78+57)/(a+0.78)) / 57
	for _, row := range r.Rows {
		if got := row.U * quantity.RUnit; row.Method == assembly.AreaU && !(math.Abs(got/u-1) <= 1e-3) {
			t.Errorf("U %.6f, want %.6f", got, u)
		}
	}
}

// TestAverageTable: the table of average R that equals an even R (Washington State Energy Code, earlier form, READ; at least R-5, 1/4 in per ft or less). The
// integral for one way from R-5 must give the table's even R or a little more: it was drawn up on the cautious side. By hand for an
// average of 20, from 5 to 35: 30/ln(35.78/5.78) - 0.78 = 15.7.
func TestAverageTable(t *testing.T) {
	const films = 0.78
	for _, c := range standard.AverageSteps {
		r := 1/oneWay(5+films, 2*c.Average-5+films) - films
		if r < c.Even || r > c.Even+1.5 {
			t.Errorf("average R-%g: by integration R %.2f, the table says %g", c.Average, r, c.Even)
		}
	}
	// 1 to 11 in at 5.7 per inch: average 34.2, between 29 and 39 in the table: 20 + 5*(5.2/10) = 22.6 (by hand)
	for _, row := range trap(t, 1).R.Rows {
		if row.Method == assembly.AverageTable && (!row.OK || !(math.Abs(row.R/quantity.RUnit-22.6) <= 0.01)) {
			t.Errorf("average R-34.2: %+v, want R 22.6", row)
		}
	}
}

// rises is a roof 48 ft long whose insulation tapers from t0 to t1 inches over its length, R 5.0 per inch as stated by the user, on a fall of the
// surface of slope.
func rises(t *testing.T, slope, t0, t1 float64) map[assembly.Method]assembly.ResistanceRow {
	t.Helper()
	l, w := 50*foot, 30*foot
	r := shape.New("rises", shape.At(0, 0, 0), shape.At(l, 0, slope*l), shape.At(l, w, slope*l), shape.At(0, w, 0))
	shape.Grid(r, 0, 0, l, w, 10, 6, func(x, _ float64) float64 { return slope * x })
	shape.Edge(r, roof.Gutter, shape.Bare(0, w), shape.Bare(0, 0))
	var inches []float64
	for _, p := range lines() {
		inches = append(inches, t0+(t1-t0)*p[0]/50)
	}
	cut(r, "hand", lines(), inches...)
	in := study(t, r, false)
	in.PerMetre = map[string]float64{"polyiso": 5 * quantity.RUnit / inch}
	out := map[assembly.Method]assembly.ResistanceRow{}
	for _, row := range assembly.Of(in).R.Rows {
		out[row.Method] = row
	}
	return out
}

// Where the thickness varies decides which way of saying one R applies. By hand, R 5 per inch: from 4 to 4-1/2 in the R 1 in over the thinnest would be 25,
// but no place has more than 22.5; the true one is 2.5 / ln(23.28/20.78) - 0.78 = 21.23 and counts as it varies by 1 in or less. From 4 to 5-1/2 in it
// varies by more: the thinnest, 20, counts; 1 in over it 25.
func TestRWhereThicknessVariesLittle(t *testing.T) {
	for _, c := range []struct{ t1, inch, within float64 }{{4.5, 22.5, 2.5/math.Log(23.28/20.78) - 0.78}, {5.5, 25, 20}} {
		rows := rises(t, quarter, 4, c.t1)
		if got := rows[assembly.LeastPlusInch].R / quantity.RUnit; !(math.Abs(got-c.inch) <= 0.02) {
			t.Errorf("4 to %g in: 1 in over the thinnest R %.3f, want %.2f", c.t1, got, c.inch)
		}
		if got := rows[assembly.WithinInch].R / quantity.RUnit; !(math.Abs(got-c.within) <= 0.02) {
			t.Errorf("4 to %g in: within an inch R %.3f, want %.2f", c.t1, got, c.within)
		}
	}
}

// The table of averages holds up to 1/4 in per ft: 50 ft at 1/4 in are 12-1/2 in, at 3/8 in 18-3/4 in.
func TestAverageTableEndsAtAQuarter(t *testing.T) {
	if row := rises(t, quarter, 2, 14.5)[assembly.AverageTable]; !row.OK {
		t.Errorf("at 1/4 in per ft: %+v", row)
	}
	if row := rises(t, 1.5*quarter, 2, 20.75)[assembly.AverageTable]; row.OK || !strings.Contains(row.Why, "1/4 in per ft") {
		t.Errorf("at 3/8 in per ft: %+v", row)
	}
}
