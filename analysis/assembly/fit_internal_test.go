package assembly

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// Readings on a plane give it back, whatever their errors, with nothing left; the covariance of the gradient is what repeated readings scatter by.
func TestPlaneOfReadings(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	plane := func(p orb.Point) float64 { return 0.1 + 0.004*(p[0]-103) - 0.002*(p[1]-57) }
	var rs []reading
	for range 9 {
		p := orb.Point{100 + 8*rnd.Float64(), 50 + 12*rnd.Float64()}
		rs = append(rs, reading{p, plane(p), 0.002 + 0.004*rnd.Float64()})
	}
	f, ok := fitPlane(rs)
	if !ok || !(math.Abs(f.gx-0.004) <= 1e-12) || !(math.Abs(f.gy+0.002) <= 1e-12) || f.chi2 > 1e-12 || f.inflate() != 1 {
		t.Fatalf("%+v", f)
	}
	if v, _ := f.at(orb.Point{90, 70}); !(math.Abs(v-plane(orb.Point{90, 70})) <= 1e-12) {
		t.Errorf("%g, want %g", v, plane(orb.Point{90, 70}))
	}
	const n = 20000
	var xx, xy, yy, zz float64
	far := orb.Point{112, 66}
	noisy := make([]reading, len(rs))
	for range n {
		for i, r := range rs {
			noisy[i] = reading{r.at, r.value + r.sigma*rnd.NormFloat64(), r.sigma}
		}
		g, _ := fitPlane(noisy)
		dx, dy := g.gx-0.004, g.gy+0.002
		z, _ := g.at(far)
		z -= plane(far)
		xx, xy, yy, zz = xx+dx*dx/n, xy+dx*dy/n, yy+dy*dy/n, zz+z*z/n
	}
	_, sigma := f.at(far)
	for name, c := range map[string][2]float64{"east": {xx, f.ixx}, "both": {xy, f.ixy}, "north": {yy, f.iyy}, "far": {zz, sigma * sigma}} {
		if math.Abs(c[0]-c[1]) > 0.04*math.Sqrt(xx*yy) && math.Abs(c[0]-c[1]) > 0.05*math.Abs(c[1]) {
			t.Errorf("variance %s: %g by trial, %g told", name, c[0], c[1])
		}
	}
	if _, ok := fitPlane(rs[:2]); ok {
		t.Error("two readings make a plane")
	}
	// Nearly on a line: 0.05 of their spread along it is the least.
	for across, want := range map[float64]bool{0.06: true, 0.04: false} {
		line := []reading{{orb.Point{-1, across}, 0, 1}, {orb.Point{-1, -across}, 0, 1}, {orb.Point{1, across}, 0, 1}, {orb.Point{1, -across}, 0, 1}}
		if _, ok := fitPlane(line); ok != want {
			t.Errorf("%g across: %t", across, ok)
		}
	}
}

// By hand: three readings at (0, 0), (2, 0) and (0, 2) and a fourth at (2, 2) that stands four errors off their plane leave 4 standard errors squared over one degree of freedom, four corners sharing
// the misfit.
func TestMisfitWidensErrors(t *testing.T) {
	rs := []reading{{orb.Point{0, 0}, 0, 0.001}, {orb.Point{2, 0}, 0, 0.001}, {orb.Point{0, 2}, 0, 0.001}, {orb.Point{2, 2}, 0.004, 0.001}}
	f, _ := fitPlane(rs)
	if !(math.Abs(f.chi2-4) <= 1e-9) || !(math.Abs(f.inflate()-4) <= 1e-9) {
		t.Errorf("chi2 %g, inflated by %g", f.chi2, f.inflate())
	}
	// The middle is known to half the error of one, doubled.
	if v, sigma := f.at(orb.Point{1, 1}); !(math.Abs(v-0.001) <= 1e-12) || !(math.Abs(sigma-0.001) <= 1e-12) {
		t.Errorf("in the middle %g +- %g", v, sigma)
	}
	if inflation(9, 0) != 1 || inflation(3, 6) != 1 || inflation(12, 6) != 2 {
		t.Error("inflation of 9 of 0, 3 of 6 and 12 of 6")
	}
}

// By hand: thickness of 50, 60 and 80 mm where the surface stands at 0, 0.1 and 0.3 m grows by a tenth of it, exactly.
func TestShareOfInsulation(t *testing.T) {
	rs := []reading{{value: 0.05, sigma: 0.002}, {value: 0.06, sigma: 0.004}, {value: 0.08, sigma: 0.003}}
	f, ok := fitShare(rs, []float64{0, 0.1, 0.3})
	if !ok || !(math.Abs(f.k-0.1) <= 1e-12) || f.chi2 > 1e-12 {
		t.Fatalf("%+v", f)
	}
	if v, _ := f.at(0.5); !(math.Abs(v-0.1) <= 1e-12) {
		t.Errorf("at 0.5 m %g", v)
	}
	// Of equal errors of 2 mm at -0.1 and 0.1 and in the middle the share is known to 2 mm over sqrt(0.02) m, the mean to 2/sqrt(3) mm.
	for i := range rs {
		rs[i].sigma = 0.002
	}
	f, _ = fitShare(rs, []float64{-0.1, 0, 0.1})
	if !(math.Abs(math.Sqrt(f.varK)-0.002/math.Sqrt(0.02)) <= 1e-12) || !(math.Abs(math.Sqrt(f.varMean)-0.002/math.Sqrt(3)) <= 1e-12) {
		t.Errorf("%+v", f)
	}
	for high, want := range map[float64]bool{0.026: true, 0.023: false} { // root mean square over three: 0.816 of it, 20 mm at least
		if _, ok := fitShare(rs, []float64{-high, 0, high}); ok != want {
			t.Errorf("a surface that rises %g either way: %t", high, ok)
		}
	}
	if _, ok := fitShare(rs[:2], []float64{0, 1}); ok {
		t.Error("two readings make a share")
	}
}

// By hand: readings of 0, 6 and 0 mm, each good to 2 mm, where the surface stands at 0, 0.1 and 0.2 m: the best line is level at 2 mm; they lie 2, 4 and 2 mm off it, (1 + 4 + 1) errors squared over one degree of freedom. So the middle, else good to
// 2 mm / root 3, is good to root 6 of that, 2.83 mm; a share over 0.2 m, else 2 mm / root(2 x 0.01 m2), likewise.
func TestMisfitOfAShare(t *testing.T) {
	rs := []reading{{value: 0, sigma: 0.002}, {value: 0.006, sigma: 0.002}, {value: 0, sigma: 0.002}}
	f, ok := fitShare(rs, []float64{0, 0.1, 0.2})
	if !ok || !(math.Abs(f.k) <= 1e-12) || !(math.Abs(f.chi2-6) <= 1e-9) || !(math.Abs(f.inflate()-6) <= 1e-9) {
		t.Fatalf("%+v, inflated by %g", f, f.inflate())
	}
	if v, sigma := f.at(0.1); !(math.Abs(v-0.002) <= 1e-12) || !(math.Abs(sigma-0.002*math.Sqrt2) <= 1e-12) {
		t.Errorf("in the middle %g give or take %g", v, sigma)
	}
	if v, sigma := f.at(0.2); !(math.Abs(v-0.002) <= 1e-12) || !(math.Abs(sigma-0.002*math.Sqrt(6*(1.0/3+0.01/0.02))) <= 1e-12) {
		t.Errorf("at its end %g give or take %g", v, sigma)
	}
	for free, want := range map[int]float64{1: 6.635, 2: 9.210, 5: 15.086, 10: 23.209} { // tables of chi-squared, 1 %
		if got := limit(free); !(math.Abs(got/want-1) <= 0.025) {
			t.Errorf("%d degrees of freedom: %g, want %g", free, got, want)
		}
	}
}

// A misfit widens all of a gradient's covariance alike: along, across and between. By hand, on a lopsided triangle and a fourth place: by the squares of what is off, with one degree of freedom.
func TestMisfitWidensAGradient(t *testing.T) {
	rs := []reading{{orb.Point{0, 0}, 0, 0.001}, {orb.Point{5, 1}, 0, 0.001}, {orb.Point{2, 4}, 0, 0.001}, {orb.Point{6, 6}, 0.01, 0.001}}
	f, ok := fitPlane(rs)
	g := f.gradient()
	for what, c := range map[string][2]float64{"along": {g.XX, f.ixx}, "across": {g.YY, f.iyy}, "between": {g.XY, f.ixy}} {
		if !ok || f.chi2 < 2 || c[1] == 0 || !(math.Abs(c[0]/c[1]/f.chi2-1) <= 1e-9) {
			t.Errorf("%s: %g, %g alone, with %g squares", what, c[0], c[1], f.chi2)
		}
	}
}

// By hand: an assembly that is 50 mm thick at the least, of 2 m2 K/W there, gains and loses 30 m K/W with its thickness, and has never less than nothing.
func TestResistanceByThickness(t *testing.T) {
	r := Resistance{Least: 0.05, LeastR: 2, PerMetre: 30}
	for thickness, want := range map[float64]float64{0.05: 2, 0.08: 2.9, 0.02: 1.1, 0: 0.5, -0.1: 0} {
		if got := r.At(thickness); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("%g m: %g, want %g", thickness, got, want)
		}
	}
}
