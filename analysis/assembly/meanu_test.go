package assembly_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/assembly"
)

// oneWay returns U of a strip that tapers from one R to another, as two triangles; films included in both.
func oneWay(low, high float64) float64 {
	return (assembly.MeanU([3]float64{low, low, high}) + assembly.MeanU([3]float64{low, high, high})) / 2
}

// TestStateTable compares with rows of the tables of U of tapered insulation in the Washington State Energy Code, WAC 51-11C-610226, Table A102.2.6
// (READ), whose other layers have R 0.78. The rows with less than R-5 at the thinnest place are printed up to 0.013 higher than the
// integral and are left out; 0.0012 is the greatest difference of the others over all of the table.
func TestStateTable(t *testing.T) {
	const films = 0.78
	for _, c := range []struct{ least, most, u float64 }{
		{5, 10, 0.125}, {5, 30, 0.068}, {10, 20, 0.066}, {15, 30, 0.045}, {20, 40, 0.034}, {30, 60, 0.023},
	} {
		if u := oneWay(c.least+films, c.most+films); !(math.Abs(u-c.u) <= 0.0012) {
			t.Errorf("one way from R-%g to R-%g: U %.4f, the table has %.3f", c.least, c.most, u, c.u)
		}
	}
	for _, c := range []struct{ least, most, u float64 }{{5, 10, 0.112}, {5, 30, 0.049}, {10, 20, 0.059}, {20, 40, 0.030}} {
		u := assembly.MeanU([3]float64{c.least + films, c.most + films, c.most + films})
		if !(math.Abs(u-c.u) <= 0.0012) {
			t.Errorf("to a drain in the middle from R-%g to R-%g: U %.4f, the table has %.3f", c.least, c.most, u, c.u)
		}
	}
}

// TestEfficiency: true R over the R of the average thickness where R varies tenfold: 0.711 one way, 0.722 where the roof is highest in the
// middle, 0.864 where it is lowest there. ASHRAE Transactions 117, part 1, on tapered insulation (READ, abstract: 100 % down to about 70 % for
// ratios of 1 to 10); the three figures are by own integration of the forms of ISO 6946.
func TestEfficiency(t *testing.T) {
	for _, c := range []struct {
		name             string
		u, average, want float64
	}{
		{"one way", oneWay(1, 10), 5.5, 0.711},
		{"high in the middle", assembly.MeanU([3]float64{10, 1, 1}), 4, 0.722},
		{"low in the middle", assembly.MeanU([3]float64{1, 10, 10}), 7, 0.864},
		{"even", oneWay(3, 3), 3, 1},
	} {
		if got := 1 / c.u / c.average; !(math.Abs(got-c.want) <= 0.0005) {
			t.Errorf("%s: %.4f, want %.3f", c.name, got, c.want)
		}
	}
}

// TestTwoEqualCorners compares with the closed forms of ISO 6946 (form FROM MEMORY) for triangles with two equal corners: thinnest at the
// apex (2/b)(1 - (a/b) ln(1+b/a)), thickest at the apex (2/b)((1+a/b) ln(1+b/a) - 1), with a the least R and b the difference.
func TestTwoEqualCorners(t *testing.T) {
	for _, a := range []float64{0.2, 1, 7} {
		for _, b := range []float64{0.05, 0.4, 3, 90} {
			l := math.Log1p(b / a)
			thin, thick := 2/b*(1-a/b*l), 2/b*((1+a/b)*l-1)
			if got := assembly.MeanU([3]float64{a + b, a, a + b}); !(math.Abs(got/thin-1) <= 1e-9) {
				t.Errorf("thinnest at the apex, %g and %g more: %.12g, want %.12g", a, b, got, thin)
			}
			if got := assembly.MeanU([3]float64{a, a + b, a}); !(math.Abs(got/thick-1) <= 1e-9) {
				t.Errorf("thickest at the apex, %g and %g more: %.12g, want %.12g", a, b, got, thick)
			}
		}
	}
}

// TestMeanUAgainstCounting compares with the mean over 250,000 small triangles, whatever the corners.
func TestMeanUAgainstCounting(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	for range 12 {
		r := [3]float64{0.3 + 5*rnd.Float64(), 0.3 + 5*rnd.Float64(), 0.3 + 5*rnd.Float64()}
		const n = 500
		sum := 0.0
		at := func(i, j float64) float64 { return r[0] + (r[1]-r[0])*i/n + (r[2]-r[0])*j/n }
		for i := range n {
			for j := range n - i {
				sum += 1 / at(float64(i)+1./3, float64(j)+1./3)
				if i+j < n-1 {
					sum += 1 / at(float64(i)+2./3, float64(j)+2./3)
				}
			}
		}
		if got, want := assembly.MeanU(r), sum/n/n; !(math.Abs(got/want-1) <= 2e-5) {
			t.Errorf("%v: %.9f, counted %.9f", r, got, want)
		}
	}
}

// TestMeanUNearEqual: as corners become equal the mean goes over into 1/R without a step. By hand: for corners m-d, m, m+d the mean is
// (1 + d2/(12 m2) * 2 + ...)/m, the variance of a linear function over a triangle being the sum of squares over 12.
func TestMeanUNearEqual(t *testing.T) {
	const m = 4.0
	for d := 1e-12; d < 0.02; d *= 3 {
		got := assembly.MeanU([3]float64{m - d, m, m + d})
		want := (1 + 2*d*d/(12*m*m)) / m
		if !(math.Abs(got/want-1) <= 1e-9) {
			t.Errorf("corners %g apart: %.15f, want %.15f", d, got, want)
		}
	}
}

// TestMeanUWithoutFilms: one corner of 0 still has a mean, two have none.
func TestMeanUWithoutFilms(t *testing.T) {
	// thinnest at the apex with a = 0: 2/b (ISO 6946 form, limit)
	if got := assembly.MeanU([3]float64{0, 4, 4}); !(math.Abs(got-0.5) <= 1e-12) {
		t.Errorf("one corner of 0: %g, want 0.5", got)
	}
	if got := assembly.MeanU([3]float64{2, math.Inf(1), 4}); got != 0 {
		t.Errorf("one corner without end: %g", got)
	}
	if got := assembly.MeanU([3]float64{0, 0, 4}); !math.IsInf(got, 1) {
		t.Errorf("two corners of 0: %g, want no limit", got)
	}
}
