package fold

import (
	"math"
	"math/rand/v2"
	"testing"
)

// fitted is the plane through points of z = a + bx + cy.
func fitted(t *testing.T, rnd *rand.Rand, a, b, c float64) *Plane {
	t.Helper()
	var m moments
	for range 12 {
		x, y := rnd.Float64()*10-5, rnd.Float64()*10-5
		m.add(x, y, a+b*x+c*y, 1+rnd.Float64())
	}
	p, ok := m.fit()
	if !ok || p.Spots != 12 {
		t.Fatalf("%t, %+v", ok, p)
	}
	return &p
}

// By hand: planes that rise 2 % to the east, to the west and to the north from 0 at (3, 1), 0 at (3, 1) and 0 at (3, 1) meet there.
func TestThreePlanesMeet(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	p := [3]*Plane{fitted(t, rnd, -0.06, 0.02, 0), fitted(t, rnd, 0.06, -0.02, 0), fitted(t, rnd, -0.02, 0, 0.02)}
	if x, y, ok := common(p); !ok || !(math.Abs(x-3) <= 1e-9) || !(math.Abs(y-1) <= 1e-9) {
		t.Errorf("(%g, %g), %t", x, y, ok)
	}
	// Whatever three planes, where they meet all three stand alike.
	for range 100 {
		q := [3]*Plane{}
		for k := range q {
			q[k] = fitted(t, rnd, rnd.Float64(), rnd.Float64()-0.5, rnd.Float64()-0.5)
		}
		if x, y, ok := common(q); ok && (!(math.Abs(q[0].At(x, y)-q[1].At(x, y)) <= 1e-6) || !(math.Abs(q[0].At(x, y)-q[2].At(x, y)) <= 1e-6)) {
			t.Fatalf("at (%g, %g) they stand at %g, %g and %g", x, y, q[0].At(x, y), q[1].At(x, y), q[2].At(x, y))
		}
	}
	// Two that are alike meet a third on a line, in no place.
	if _, _, ok := common([3]*Plane{p[0], p[1], p[0]}); ok {
		t.Error("two planes meet in a place")
	}
}

// A triangle of legs 3 and 4: what lies 50 mm off its sides is inside.
func TestInsideClearOfTheSides(t *testing.T) {
	x, y := [3]float64{1, 4, 1}, [3]float64{2, 2, 6}
	for at, want := range map[[2]float64]bool{
		{2, 3}: true, {2, 2.06}: true, {2, 2.04}: false, {1.06, 4}: true, {1.04, 4}: false, {2, 1.9}: false, {0.9, 3}: false,
		{2.45, 3.98}: true, {2.47, 3.99}: false, {3, 5}: false, // the long side runs through (2.5, 4)
	} {
		if got := inside(x, y, at[0], at[1]); got != want {
			t.Errorf("%v: %t", at, got)
		}
	}
}

// The variance of a plane is what it scatters by where its spots do, and points in a strip make none: the product of spreads across and along, in squares of their
// sum, is 0.005 for spots 0.0708 m off a line along which they stand 1 m apart.
func TestPlaneIsAsSureAsItsSpots(t *testing.T) {
	at := [][2]float64{{-2, -1}, {3, 0}, {1, 2}, {-1, 3}, {2, -2}}
	const n = 20000
	rnd := rand.New(rand.NewPCG(2, 2))
	sum, told := 0.0, 0.0
	for range n {
		var m moments
		for i, p := range at {
			s := 0.002 * float64(1+i%2)
			m.add(p[0], p[1], s*rnd.NormFloat64(), 1/(s*s))
		}
		p, _ := m.fit()
		z := p.At(4, 1)
		sum, told = sum+z*z/n, p.sigma(4, 1)
	}
	if !(math.Abs(math.Sqrt(sum)-told) <= 0.02*told) {
		t.Errorf("%g by trial, %g told", math.Sqrt(sum), told)
	}
	for off, want := range map[float64]bool{0.0715: true, 0.0705: false} {
		for _, u := range [][2]float64{{1, 0}, {0.6, 0.8}, {0, 1}} { // along the line
			var m moments
			for _, p := range [][2]float64{{-1, off}, {-1, -off}, {1, off}, {1, -off}} {
				m.add(p[0]*u[0]-p[1]*u[1], p[0]*u[1]+p[1]*u[0], 0, 1)
			}
			if _, ok := m.fit(); ok != want {
				t.Errorf("%g off a line to %v: %t", off, u, ok)
			}
		}
	}
	var two moments
	two.add(0, 0, 0, 1)
	two.add(1, 1, 0, 1)
	if _, ok := two.fit(); ok {
		t.Error("two spots make a plane")
	}
}

// A surface of the second degree through points on one gives its coefficients back; seven points leave nothing to judge it by.
func TestBowlOfPoints(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	want := [terms]float64{0.3, -0.02, 0.05, 0.011, -0.007, 0.004}
	var q bowl
	for range 12 {
		x, y := rnd.Float64()*2-1, rnd.Float64()*2-1
		z := want[0] + want[1]*x + want[2]*y + want[3]*x*x + want[4]*x*y + want[5]*y*y
		q.add(x, y, z, 1+rnd.Float64())
	}
	got, ok := q.solve()
	for i := range want {
		if !ok || !(math.Abs(got[i]-want[i]) <= 1e-9) {
			t.Fatalf("%v, want %v", got, want)
		}
	}
	q.n = terms + 1
	if _, ok := q.solve(); ok {
		t.Error("seven points are judged")
	}
	var line bowl
	for k := range 12 {
		line.add(float64(k)/6-1, float64(k)/6-1, 0, 1)
	}
	if _, ok := line.solve(); ok {
		t.Error("points on a line make a bowl")
	}
}

// The least misfit that only one plane in two hundred passes, against the table of chi-squared at 0.995: 10.597 of 2, 25.188 of 10 and 66.766 of 40; never under 1.25.
func TestMostMisfit(t *testing.T) {
	for free, chi2 := range map[int]float64{2: 10.597, 10: 25.188, 20: 39.997, 40: 66.766} {
		if got, want := mostMisfit(free), math.Sqrt(chi2/float64(free)); !(math.Abs(got-want) <= 0.01*want) {
			t.Errorf("%d free: %g, want %g", free, got, want)
		}
	}
	if got := mostMisfit(4000); got != 1.25 {
		t.Errorf("of many %g", got)
	}
	if got := stated([]float64{0.003, 0, 0.004, -1}); !(math.Abs(got-math.Sqrt((9e-6+16e-6)/2)) <= 1e-15) {
		t.Errorf("stated %g", got)
	}
	if got := stated([]float64{0, 0.003}); got != 0.003 {
		t.Errorf("stated once %g", got)
	}
	if got := stated([]float64{0, 0}); got != 0 {
		t.Errorf("not stated %g", got)
	}
}
