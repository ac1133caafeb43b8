package geometry_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry"
)

// pt is a point on the integer grid.
type pt struct{ x, y int32 }

// bigOrient is the orientation determinant in unbounded integers.
func bigOrient(a, b, c pt) int {
	l := new(big.Int).Mul(diff(b.x, a.x), diff(c.y, a.y))
	r := new(big.Int).Mul(diff(b.y, a.y), diff(c.x, a.x))
	return l.Cmp(r)
}

// bigInCircle is the in-circle determinant in unbounded integers, expanded along the lifted column.
func bigInCircle(a, b, c, d pt) int {
	sum := new(big.Int)
	for _, t := range [][3]pt{{a, b, c}, {b, c, a}, {c, a, b}} {
		px, py := diff(t[0].x, d.x), diff(t[0].y, d.y)
		lift := new(big.Int).Add(new(big.Int).Mul(px, px), new(big.Int).Mul(py, py))
		m := new(big.Int).Sub(
			new(big.Int).Mul(diff(t[1].x, d.x), diff(t[2].y, d.y)),
			new(big.Int).Mul(diff(t[1].y, d.y), diff(t[2].x, d.x)))
		sum.Add(sum, lift.Mul(lift, m))
	}
	return sum.Sign()
}

func diff(a, b int32) *big.Int { return big.NewInt(int64(a) - int64(b)) }

func orient(a, b, c pt) int { return geometry.Orient(a.x, a.y, b.x, b.y, c.x, c.y) }

func inCircle(a, b, c, d pt) int {
	return geometry.InCircle(a.x, a.y, b.x, b.y, c.x, c.y, d.x, d.y)
}

// corner returns a point of the square of the largest allowed span, extremes included.
func corner(r *rand.Rand) pt {
	half := func() int32 {
		switch r.IntN(8) {
		case 0:
			return -(1 << 29) + 1
		case 1:
			return 1 << 29
		}
		return r.Int32N(geometry.MaxSpan) - (1<<29 - 1)
	}
	return pt{half(), half()}
}

func clamp(v float64) int32 {
	return int32(math.Round(min(max(v, -(1<<29)+1), 1<<29)))
}

// Orient equals the determinant in math/big on 500,000 cases, half within two units of degeneracy.
func TestOrientExact(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 1))
	zero := 0
	for i := range 500_000 {
		a, b, c := corner(r), corner(r), corner(r)
		if i%2 == 0 {
			s := r.Float64()*3 - 1
			c.x = clamp(float64(a.x)+s*float64(int64(b.x)-int64(a.x))) + r.Int32N(3) - 1
			c.y = clamp(float64(a.y)+s*float64(int64(b.y)-int64(a.y))) + r.Int32N(3) - 1
			c.x, c.y = clamp(float64(c.x)), clamp(float64(c.y))
		}
		got, want := orient(a, b, c), bigOrient(a, b, c)
		if got != want {
			t.Fatalf("orient %v %v %v = %d, exact %d", a, b, c, got, want)
		}
		if want == 0 {
			zero++
		}
	}
	if zero < 100 {
		t.Errorf("only %d collinear cases were tried", zero)
	}
}

// InCircle equals the determinant in math/big on 500,000 cases, half within two units of degeneracy.
func TestInCircleExact(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 1))
	zero := 0
	for i := range 500_000 {
		a, b, c, d := corner(r), corner(r), corner(r), corner(r)
		switch i % 4 {
		case 0: // rectangle: exactly cocircular, then up to one unit off
			c, d = pt{b.x, a.y}, pt{a.x, b.y}
			b, c = c, b
			d.x = clamp(float64(d.x + r.Int32N(3) - 1))
		case 2: // a circle of any radius, rounded to the grid
			radius := math.Exp(r.Float64()*14) + 2
			on := func() pt {
				s, co := math.Sincos(2 * math.Pi * r.Float64())
				return pt{clamp(radius * co), clamp(radius * s)}
			}
			a, b, c, d = on(), on(), on(), on()
		}
		if orient(a, b, c) < 0 {
			b, c = c, b
		}
		got, want := inCircle(a, b, c, d), bigInCircle(a, b, c, d)
		if got != want {
			t.Fatalf("in-circle %v %v %v %v = %d, exact %d", a, b, c, d, got, want)
		}
		if want == 0 {
			zero++
		}
	}
	if zero < 10_000 {
		t.Errorf("only %d cocircular cases were tried", zero)
	}
}

// grid puts a coordinate on a grid of 2^25 units a metre, the finest on which 24 stays within MaxSpan.
func grid(v float64) int32 { return int32(math.Round(v * (1 << 25))) }

// Kettner, Mehlhorn, Pion, Schirra, Yap, "Classroom examples of robustness problems in geometric computations",
// Computational Geometry 40(1), 2008: points about (0.5, 0.5) against the line through (12, 12) and (24, 24), the
// offsets taken in grid units since smaller ones vanish on the grid. Plain float64 is wrong on
// thousands of the originals.
func TestOrientKettner(t *testing.T) {
	for name, line := range map[string][2]float64{"12-24": {12, 24}, "8.8-12.1": {8.8000000000000007, 12.1}} {
		q, r := pt{grid(line[0]), grid(line[0])}, pt{grid(line[1]), grid(line[1])}
		on := 0
		for i := range int32(256) {
			for j := range int32(256) {
				p := pt{grid(0.5) + i, grid(0.5) + j}
				got, want := orient(p, q, r), bigOrient(p, q, r)
				if got != want {
					t.Fatalf("%s: %d at %d, %d, exact %d", name, got, i, j, want)
				}
				if got == 0 {
					on++
				}
			}
		}
		if on != 256 {
			t.Errorf("%s: %d points on the diagonal, by symmetry 256", name, on)
		}
	}
}

// Failure A1 of the same paper: on the grid as in exact arithmetic p4 lies left of p3-p1 or on it, never
// right, so that the hull keeps p4.
func TestOrientKettnerA1(t *testing.T) {
	p1 := pt{grid(7.3000000000000194), grid(7.3000000000000167)}
	p3 := pt{grid(24.00000000000005), grid(24.000000000000053)}
	p4 := pt{grid(0.50000000000001621), grid(0.50000000000001243)}
	if got, want := orient(p3, p1, p4), bigOrient(p3, p1, p4); got != want || got > 0 {
		t.Errorf("orient(p3, p1, p4) = %d, exact %d", got, want)
	}
}

// The near-collinear grid of the public robust-predicates tests (r = 0.95 + 2^-43 i/128, q = 18, p = 16.8), steps in
// grid units: by symmetry as many points left as right, and one a row on the line.
func TestOrientNearCollinear(t *testing.T) {
	q, p := pt{grid(18), grid(18)}, pt{grid(16.8), grid(16.8)}
	var count [3]int
	for i := range int32(128) {
		for j := range int32(128) {
			r := pt{grid(0.95) + i, grid(0.95) + j}
			got, want := orient(r, q, p), bigOrient(r, q, p)
			if got != want {
				t.Fatalf("%d at %d, %d, exact %d", got, i, j, want)
			}
			count[got+1]++
		}
	}
	if count != [3]int{8128, 128, 8128} {
		t.Errorf("right, on, left: %v, published 8128, 128, 8128", count)
	}
}

// Across equals the degree-three determinant in math/big.
func TestAcrossExact(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 1))
	zero := 0
	for i := range 200_000 {
		a, b, c := corner(r), corner(r), corner(r)
		z := [3]int32{r.Int32N(1 << 29), r.Int32N(1 << 29), r.Int32N(1 << 29)}
		if i%2 == 0 {
			z = [3]int32{r.Int32N(3), r.Int32N(3), r.Int32N(3)}
		}
		nx, ny, nz := geometry.Normal(a.x, a.y, z[0], b.x, b.y, z[1], c.x, c.y, z[2])
		if got, want := sign(nz), bigOrient(a, b, c); got != want {
			t.Fatalf("sign of nz %d, orientation %d", got, want)
		}
		ex, ey := b.x-a.x, b.y-a.y
		want := new(big.Int).Sub(new(big.Int).Mul(big.NewInt(nx), big.NewInt(int64(ey))),
			new(big.Int).Mul(big.NewInt(ny), big.NewInt(int64(ex)))).Sign()
		if got := geometry.Across(nx, ny, ex, ey); got != want {
			t.Fatalf("across = %d, exact %d", got, want)
		}
		if want == 0 {
			zero++
		}
	}
	if zero < 100 {
		t.Errorf("only %d parallel cases were tried", zero)
	}
}

// Water on a facet that falls to the east leaves over its east edge and comes in over its west edge.
func TestAcrossSense(t *testing.T) {
	// a (0,0) high, b (10,0) low, c (0,10) high: the facet falls east.
	nx, ny, _ := geometry.Normal(0, 0, 5, 10, 0, 0, 0, 10, 5)
	if got := geometry.Across(nx, ny, -10, 10); got != 1 {
		t.Errorf("over b-c %d, want +1", got)
	}
	if got := geometry.Across(nx, ny, 0, -10); got != -1 {
		t.Errorf("over c-a %d, want -1", got)
	}
	if got := geometry.Across(nx, ny, 10, 0); got != 0 {
		t.Errorf("along a-b %d, want 0", got)
	}
}

// The least that tells: one unit along one unit.
func TestAcrossByOne(t *testing.T) {
	for ey := int32(-1); ey <= 1; ey++ {
		if got := geometry.Across(1, 0, 0, ey); got != int(ey) {
			t.Errorf("%d, want %d", got, ey)
		}
	}
}

// The shoelace formula in unbounded integers gives twice the area of a triangle; the normal has that upward and stands square to its sides.
func TestAreaAndNormalExact(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 2))
	for range 2000 {
		x, y, z := make([]int32, 3), make([]int32, 3), make([]int32, 3)
		for i := range x {
			p := corner(r)
			x[i], y[i], z[i] = p.x, p.y, r.Int32N(1<<20)
		}
		twice, product := new(big.Int), func(a, b int64) *big.Int { return new(big.Int).Mul(big.NewInt(a), big.NewInt(b)) }
		for i := range x {
			j := (i + 1) % 3
			twice.Add(twice, product(int64(x[i]), int64(y[j])))
			twice.Sub(twice, product(int64(x[j]), int64(y[i])))
		}
		nx, ny, nz := geometry.Normal(x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2])
		if got := geometry.TwiceArea(x, y, 0, 1, 2); twice.Cmp(big.NewInt(got)) != 0 || got != nz {
			t.Fatalf("%v %v: %d and %d, want %v", x, y, got, nz, twice)
		}
		for i := range x {
			j := (i + 1) % 3
			along := product(nx, int64(x[j]-x[i]))
			along.Add(along, product(ny, int64(y[j]-y[i])))
			if along.Add(along, product(nz, int64(z[j]-z[i]))).Sign() != 0 {
				t.Fatalf("%v %v %v: the normal leans along side %d", x, y, z, i)
			}
		}
	}
}

// By hand: a grid unit is ten micrometres, and halves go away from 0.
func TestGridUnits(t *testing.T) {
	for v, want := range map[float64]int32{1.23456: 123456, -0.000016: -2, 0.000025: 3, -0.000025: -3} {
		if got := geometry.OnGrid(v); got != want {
			t.Errorf("%g m are %d, want %d", v, got, want)
		}
	}
	if got := geometry.Metres(-123456); got != -1.23456 {
		t.Errorf("%g m", got)
	}
}

func sign(v int64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

func BenchmarkInCircle(b *testing.B) {
	r := rand.New(rand.NewPCG(14, 1))
	p := make([]pt, 1024)
	for i := range p {
		p[i] = corner(r)
	}
	sum := 0
	for i := 0; b.Loop(); i++ {
		k := i & 1023
		sum += inCircle(p[k], p[(k+1)&1023], p[(k+2)&1023], p[(k+3)&1023])
	}
	if sum > b.N {
		b.Fatal("impossible")
	}
}
