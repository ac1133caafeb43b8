package regression_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/regression"
)

// point is a place, a height and a weight.
type point struct{ x, y, z, w float64 }

func some(r *rand.Rand, n int) []point {
	out := make([]point, n)
	for i := range out {
		x, y := 3+10*r.Float64(), -7+4*r.Float64()
		out[i] = point{x, y, 0.02*x - 0.05*y + 0.01*r.NormFloat64(), 0.5 + 2*r.Float64()}
	}
	return out
}

func fit(t *testing.T, points []point) *regression.Plane {
	t.Helper()
	var m regression.Sums
	for _, p := range points {
		m.Weigh(p.w, p.x, p.y, p.z)
	}
	p, ok := m.Plane(1e-9)
	if !ok {
		t.Fatal("no plane")
	}
	return &p
}

// A plane of least squares is the one that no change of height or gradient betters: the weighted residuals sum to nothing, alone and times x and y.
func TestResidualsBalance(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for range 50 {
		points := some(r, 4+r.IntN(12))
		p := fit(t, points)
		var sum, east, north float64
		for _, q := range points {
			off := q.w * (q.z - p.At(q.x, q.y))
			sum, east, north = sum+off, east+off*q.x, north+off*q.y
		}
		if !(math.Abs(sum) <= 1e-9) || !(math.Abs(east) <= 1e-9) || !(math.Abs(north) <= 1e-9) {
			t.Errorf("the residuals sum to %g, %g times x and %g times y", sum, east, north)
		}
	}
}

// The plane's height at a place is a sum of the points' heights, each times its own share, which shows where it alone is raised by 1; so the variance of that height is the sum of the squares of the
// shares over the weights.
func TestLeverageByShares(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 2))
	for range 20 {
		points := some(r, 5)
		whole := fit(t, points)
		for _, at := range [][2]float64{{5, -6}, {20, 3}, {whole.X, whole.Y}, {-4, -30}} {
			want := 0.0
			for i := range points {
				points[i].z++
				share := fit(t, points).At(at[0], at[1]) - whole.At(at[0], at[1])
				points[i].z--
				want += share * share / points[i].w
			}
			if got := whole.Leverage(at[0], at[1]); !(math.Abs(got-want) <= 1e-6*want) {
				t.Errorf("leverage at %v: %g, want %g", at, got, want)
			}
		}
	}
}

// A point of weight 3 counts as three points, and two sets together as one.
func TestWeightsAndSums(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 3))
	points := some(r, 8)
	var one, two, thrice, both regression.Sums
	for i, p := range points {
		into := &one
		if i%2 == 1 {
			into = &two
		}
		for range 3 {
			into.Add(p.x, p.y, p.z)
			both.Add(p.x, p.y, p.z)
		}
		thrice.Weigh(3, p.x, p.y, p.z)
	}
	sums := func(m regression.Sums) [9]float64 {
		return [9]float64{m.N, m.X, m.Y, m.Z, m.XX, m.XY, m.YY, m.XZ, m.YZ}
	}
	a, b, c := sums(both), sums(thrice), sums(one.Plus(two))
	for k := range a {
		if !(math.Abs(a[k]-b[k]) <= 1e-9) || !(math.Abs(a[k]-c[k]) <= 1e-9) {
			t.Errorf("sum %d: %g by points, %g by weights, %g by two sets", k, a[k], b[k], c[k])
		}
	}
}

// The integral of a polynomial of the second degree over a triangle is a third of its area times what it is at the middles of the sides (Hammer and Stroud, 1956; from memory).
func TestFacetByMidpoints(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 4))
	for range 20 {
		var x, y, z [3]float64
		for k := range x {
			x[k], y[k], z[k] = 10*r.Float64()-3, 10*r.Float64()+2, r.Float64()
		}
		area := math.Abs((x[1]-x[0])*(y[2]-y[0])-(x[2]-x[0])*(y[1]-y[0])) / 2
		var got, want regression.Sums
		got.Facet(x, y, z, area)
		for k := range x {
			n := (k + 1) % 3
			want.Weigh(area/3, (x[k]+x[n])/2, (y[k]+y[n])/2, (z[k]+z[n])/2)
		}
		for what, pair := range map[string][2]float64{
			"area": {got.N, want.N}, "x": {got.X, want.X}, "y": {got.Y, want.Y}, "z": {got.Z, want.Z}, "xx": {got.XX, want.XX}, "xy": {got.XY, want.XY},
			"yy": {got.YY, want.YY}, "xz": {got.XZ, want.XZ}, "yz": {got.YZ, want.YZ},
		} {
			if !(math.Abs(pair[0]-pair[1]) <= 1e-9*(1+area)) {
				t.Errorf("%s: %g, want %g", what, pair[0], pair[1])
			}
		}
	}
}

// By hand: of the points (0, 0), (4, 0), (4, 2) and (0, 2) the moments about (2, 1) are 16 and 4, and nothing across; a lean of the points by y/2 eastwards makes them 17, 2 and 4, with a determinant of 64 out of 68.
func TestSpread(t *testing.T) {
	for _, c := range []struct{ lean, xx, xy, yy float64 }{{0, 16, 0, 4}, {0.5, 17, 2, 4}} {
		var m regression.Sums
		for _, p := range [][2]float64{{0, 0}, {4, 0}, {4, 2}, {0, 2}} {
			m.Add(p[0]+c.lean*p[1]+100, p[1]-50, 0)
		}
		xx, xy, yy := m.Spread()
		if !(math.Abs(xx-c.xx) <= 1e-9) || !(math.Abs(xy-c.xy) <= 1e-9) || !(math.Abs(yy-c.yy) <= 1e-9) {
			t.Errorf("lean %g: %g, %g, %g, want %g, %g, %g", c.lean, xx, xy, yy, c.xx, c.xy, c.yy)
		}
		if c.lean == 0 {
			continue
		}
		for least, want := range map[float64]bool{0.94: true, 0.9418: false} { // 64/68 = 0.9412
			if _, ok := m.Plane(least); ok != want {
				t.Errorf("a plane over %g: %v", least, ok)
			}
		}
	}
}
