package fold

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// meshed is a grower on squares of a step, whose spots are good to sigma: each has up to six neighbours, along the axes and on the diagonal to the north-east and back.
func meshed(n int, step, sigma float64) *grower {
	f := squares(n, step)
	at := map[[2]int32]int32{}
	for e := range f.V {
		at[[2]int32{f.V[e], (&grower{Field: f}).end(int32(e))}] = int32(e)
	}
	for e := range f.V {
		twin, ok := at[[2]int32{(&grower{Field: f}).end(int32(e)), f.V[e]}]
		if !ok {
			twin = -1
		}
		f.Twin = append(f.Twin, twin)
	}
	f.Sigma = slices.Repeat([]float64{sigma}, len(f.X))
	return newGrower(f)
}

// laid is the plane that rises to the east through four spots that are good to sigma, 1 m to the east or west and to the north or south of (x, y): (dx, dy) off it, its variance is sigma2 (1 + dx2 + dy2)/4.
func laid(x, y, z, rise, sigma float64) Plane {
	var m moments
	for _, d := range [4][2]float64{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
		m.add(x+d[0], y+d[1], z+rise*d[0], 1/(sigma*sigma))
	}
	p, _ := m.fit()
	return p
}

// By hand, on squares of 2 m: inside the field are two edges each way of 2 m and four diagonals, (1 + root 2) m on the mean. The spot in the middle has six neighbours, a corner two or three.
func TestNeighbours(t *testing.T) {
	g := meshed(2, 2, 0.001)
	for n, want := range map[int]float64{1: 2 * math.Sqrt2, 2: 1 + math.Sqrt2} {
		if got := meshed(n, 2, 0.001).spacing(); !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("%d by %d squares: spacing %g m, want %g", n, n, got, want)
		}
	}
	for v, want := range [][]int32{{1, 3, 4}, {0, 2, 4, 5}, {1, 5}, {0, 4, 6, 7}, {0, 1, 3, 5, 7, 8}} {
		if got := slices.Sorted(slices.Values(g.around(int32(v)))); !slices.Equal(got, want) {
			t.Errorf("round %d: %v, want %v", v, got, want)
		}
	}
}

// Spots that state no error are good to what is typical, none is better than 1.5 mm. Means are taken where three errors are more than 2 % of the spacing, here 2.414 m: from 16.1 mm on. That of the middle spot is of seven, less those that nobody measured.
func TestErrorsAndMeans(t *testing.T) {
	g := meshed(2, 2, 0.001)
	g.Sigma[1], g.Sigma[2] = 0, 0.004
	for v := range g.Z {
		g.Z[v] = float64(v * v)
	}
	h := g.anew(0.0160)
	if h.mean != nil || h.sigma[0] != 0.0015 || h.sigma[1] != 0.0160 || h.sigma[2] != 0.004 {
		t.Errorf("errors of %v, means %v", h.sigma[:3], h.mean)
	}
	g.Measured[8] = false
	h = g.anew(0.0162)
	if h.mean == nil {
		t.Fatal("no means")
	}
	// Of 4 and its neighbours 0, 1, 3, 5 and 7 without 8: six spots whose numbers add up to 20 and their squares to 100; one of three stands a column west, one of three a column east.
	want := [3]float64{1002 + 2*(-1+1-1+0)/6.0, -498 + 2*(-1-1+1)/6.0, 100.0 / 6}
	for i := range want {
		if !(math.Abs(h.mean[4][i]-want[i]) <= 1e-9) || h.count[4] != 6 {
			t.Errorf("mean %v of %g, want %v", h.mean[4], h.count[4], want)
		}
	}
	// A spot keeps to a level plane while it lies within three of its errors and the mean within 2.5 of its own.
	h.sigma[4] = 0.01
	p := level(0, 0, 0)
	for _, c := range []struct {
		z, mean float64
		want    bool
	}{{0.0299, 0, true}, {0.0301, 0, false}, {0, 0.0102, true}, {0, 0.01025, false}, {0, -0.01025, false}} { // 2.5 x 10 mm / root 6 = 10.206 mm
		h.Z[4], h.mean[4][2] = c.z, c.mean
		if got := h.keeps(&p, 4); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	// Of a plane through four spots 2 m to the west the variance there is 1.25 of a spot's: with a sixth of that for six spots 1.417, and 2.5 of its root 29.756 mm.
	p, h.Z[4] = laid(1000, -500, 0, 0, 0.01), 0
	for mean, want := range map[float64]bool{0.0297: true, 0.0298: false, -0.0297: true, -0.0298: false} {
		h.mean[4] = [3]float64{1002, -500, mean}
		if got := h.keeps(&p, 4); got != want {
			t.Errorf("a mean %g m off a plane that is not sure: %v", mean, got)
		}
	}
	p = level(0, 0, 0)
	if h.mean = nil; !h.keeps(&p, 4) {
		t.Error("without means its own height counts alone")
	}
}

// By hand: a plane is known within three errors of a spot. Of one through four spots round the origin that is where 1 + dx2 is no more than 36; 5.9 m off its variance is 8.95 of a spot's, and three errors of both together 9.46 of a spot's.
func TestFitsWhereThePlaneIsKnown(t *testing.T) {
	g := meshed(2, 2, 0.01)
	p := laid(1000, -500, 0, 0, 0.01)
	for _, c := range []struct {
		east, off float64
		want      bool
	}{{5.9, 0.0946, true}, {5.9, 0.0947, false}, {5.9, -0.0946, true}, {5.91, 0, true}, {5.93, 0, false}, {0, 0.0335, true}, {0, 0.0336, false}} {
		g.X[4], g.Y[4], g.Z[4] = 1000+c.east, -500, c.off
		if got := g.fits(&p, 4); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// The scatter of 4,225 spots on a plane, each with a normal error of 5 mm, is told to a twentieth. Fewer than twelve spots with four neighbours tell none.
func TestScatterOfSpots(t *testing.T) {
	g := meshed(64, 2, 0)
	rnd := rand.New(rand.NewPCG(5, 5))
	for v := range g.Z {
		g.Z[v] = 0.02*(g.X[v]-1000) + 0.005*rnd.NormFloat64()
	}
	if got := g.scatter(); !(math.Abs(got-0.005) <= 0.00025) {
		t.Errorf("%.3f mm", 1000*got)
	}
	g = meshed(3, 2, 0)
	for v := range g.Z {
		g.Z[v] = 0.01 * float64(v%2)
	}
	if got := g.scatter(); !(got > 0) {
		t.Error("twelve spots tell nothing")
	}
	g.Coded[5] = true // it still is a neighbour
	if got := g.scatter(); got != 0 {
		t.Errorf("eleven spots tell %g m", got)
	}
}

// By hand: planes that change by 6 % stand a quarter of 6 % of the spacing off the mesh, which must be a quarter of a spot's error at least: 2.414 m and 145 mm, or 1.5 mm and 25 mm.
func TestTooDense(t *testing.T) {
	g := meshed(2, 2, 0.001)
	for typical, want := range map[float64]bool{0.144: false, 0.146: true} {
		if g.typical = typical; g.tooDense() != want {
			t.Errorf("errors of %g m: %v", typical, !want)
		}
	}
	for step, want := range map[float64]bool{0.0205: true, 0.021: false} { // spacing 1.2071 steps
		if g = meshed(2, step, 0.0001); g.tooDense() != want {
			t.Errorf("%g m apart: %v", step, !want)
		}
	}
}

// By hand: a spot has six neighbours, then twelve and eighteen more. Rings end at spots of coded lines and at vertices that more than 200 others stand round, unless they begin there; spots of a plane and what was not measured are left out.
func TestDiscs(t *testing.T) {
	g := meshed(6, 1, 0.001)
	size := func(rings int) int { g.disc(24, rings); return len(g.set) }
	for rings, want := range []int{1, 7, 19, 37} {
		if got := size(rings); got != want {
			t.Errorf("%d rings: %d spots, want %d", rings, got, want)
		}
	}
	g.label[25], g.Measured[17] = 0, false
	if got := size(1); got != 5 {
		t.Errorf("of six neighbours one on a plane and one not measured: %d spots, want 5", got)
	}
	g = meshed(6, 1, 0.001)
	for v := 21; v < 28; v++ {
		g.Coded[v] = v != 24
	}
	if got := size(2); got != 17 { // 19 on the middle row and beside it but its two ends, that only coded spots lead to
		t.Errorf("on a coded line: %d spots, want 17", got)
	}
	for _, n := range []int32{200, 201} {
		f := &Field{X: make([]float64, n+1), Y: make([]float64, n+1), Z: make([]float64, n+1), Sigma: make([]float64, n+1), Measured: slices.Repeat([]bool{true}, int(n+1)), Coded: make([]bool, n+1)}
		for k := range n { // round vertex n
			next := (k + 1) % n
			f.V, f.Twin = append(f.V, n, k, next), append(f.Twin, 3*((k+n-1)%n)+2, -1, 3*next)
		}
		g = newGrower(f)
		want := int(n + 1)
		if n > hub {
			want = 6
		}
		if got := size(2); got != want {
			t.Errorf("beside a hub of %d: %d spots, want %d", n, got, want)
		}
		if g.disc(n, 1); len(g.set) != int(n+1) {
			t.Errorf("from a hub of %d: %d spots", n, len(g.set))
		}
	}
}

// On a plain grid, of whose spots each has six neighbours, the discs that are tried have the centred hexagonal numbers of 4, 3, 2 and 1 rings, 1 + 3 r (r + 1): the largest first.
func TestSizesOfDiscs(t *testing.T) {
	g := meshed(10, 1, 0.001)
	var got []int
	for _, rings := range discs {
		g.disc(60, rings)
		got = append(got, len(g.set))
	}
	if !slices.Equal(got, []int{61, 37, 19, 7}) {
		t.Errorf("%v spots", got)
	}
}

// The best seed lies nearest to its plane; then counts the number of spots, the way from the middle, and the lower elevation.
func TestBestSeedFirst(t *testing.T) {
	g := meshed(2, 2, 0.001)
	copy(g.Z, []float64{0, 2, 1, 1, 5})
	want := []seed{{4, -1, 1, 5, 9}, {4, -1, 2, 9, 9}, {4, -1, 2, 8, 3}, {2, 7, 2, 8, 4}, {3, 5, 2, 8, 4}, {3, 6, 2, 8, 4}, {1, -1, 2, 8, 4}}
	for k := range want {
		got := slices.Clone(want)
		got[0], got[k] = got[k], got[0]
		slices.Reverse(got)
		if got = g.bestFirst(got); !slices.Equal(got, want) {
			t.Errorf("%v", got)
		}
	}
}

// star is a field of squares of 1 m whose middle spot and its six neighbours alone are measured, and lie d of their errors over and under a plane by turns, which no plane can follow: they scatter by d root (6/4).
func star(d float64) *grower {
	g := meshed(2, 1, 0.005)
	g.Measured[2], g.Measured[6] = false, false
	for k, v := range []int32{5, 8, 7, 3, 0, 1} {
		g.Z[v] = 0.02*(g.X[v]-1000) + d*0.005*float64(1-2*(k%2))
	}
	g.Z[4] = 0.02
	return g
}

// By hand: the table of chi-squared has 14.860 at 0.995 for the four degrees of freedom of seven spots, which is 1.574 of their errors by turns. So many start a plane and make one; of spots that bend more all round are given up, those that no plane takes as well. Spots of coded lines are none of a plane's.
func TestSevenSpots(t *testing.T) {
	for d, want := range map[float64]bool{0: true, 1.53: true, 1.62: false, -1.53: true, -1.62: false} {
		g := star(d)
		seeds := g.seeds(1)
		if (len(seeds) == 1) != want {
			t.Fatalf("%g errors off: %d seeds", d, len(seeds))
		}
		if want && (seeds[0].v != 4 || seeds[0].e != -1 || seeds[0].spots != 7 || seeds[0].misfit != math.Round(1000*math.Sqrt(1.5)*math.Abs(d)) || !(math.Abs(seeds[0].far-1001*1001-499*499) <= 1e-6)) {
			t.Errorf("%g errors off: %+v", d, seeds[0])
		}
		g.Coded[8] = true
		g.grow(4, level(0, 0.02, 0))
		if (len(g.list) == 1) != want {
			t.Errorf("%g errors off: %d planes", d, len(g.list))
		}
		for v := range g.label {
			on := want && g.Measured[v] && v != 8
			if (g.label[v] == 0) != on || (g.tried[v] == 1) == want || g.bent[v] != 0 {
				t.Errorf("%g errors off: spot %d is on plane %d, tried %d times, bent %d", d, v, g.label[v], g.tried[v], g.bent[v])
			}
		}
	}
	few := star(0)
	few.Measured[5] = false
	six := few.seeds(1)
	few.Measured[8] = false
	if five := few.seeds(1); len(six) != 1 || len(five) != 0 {
		t.Errorf("%d seeds of six spots, %d of five", len(six), len(five))
	}
	for k, spoil := range []func(g *grower){func(g *grower) { g.Coded[4] = true }, func(g *grower) { g.label[4] = 0 }, func(g *grower) { g.tried[4] = mostTries }, func(g *grower) { g.bent[4] = mostTries }, func(g *grower) { g.Measured[4] = false }} {
		g := star(0)
		if spoil(g); len(g.seeds(1)) != 0 {
			t.Errorf("way %d: the middle starts a plane", k)
		}
	}
	g := star(0)
	for range mostTries + 3 {
		g.most = append(g.most[:0], 4)
		g.giveUp(g.tried)
	}
	if g.tried[4] != mostTries || g.tried[2] != 0 {
		t.Errorf("tried %v times", g.tried)
	}
}

// A flood takes the spots that lie on the plane and are joined to where it starts by such, ends at coded ones, and leaves out those of other planes.
func TestFlood(t *testing.T) {
	g, p := meshed(6, 1, 0.01), level(0, 0, 0)
	for v := range g.Z { // a wall of two columns, open in one place, and a spot alone beyond it
		if x := v % 7; x == 3 || x == 4 {
			g.Z[v] = 0.0301
		}
	}
	g.flood(0, &p)
	if len(g.set) != 21 {
		t.Errorf("%d spots before a wall, want 21", len(g.set))
	}
	g.Z[24], g.Z[25] = 0.0299, 0.0299
	if g.flood(0, &p); len(g.set) != 21+2+14 {
		t.Errorf("%d spots through a gap, want 37", len(g.set))
	}
	g.Coded[24] = true
	if g.flood(0, &p); len(g.set) != 22 {
		t.Errorf("%d spots to a coded one, want 22", len(g.set))
	}
	g.label[0], g.label[1] = 1, 1
	if g.flood(2, &p); len(g.set) != 20 {
		t.Errorf("%d spots beside another plane, want 20", len(g.set))
	}
}

// By hand: of the two triangles of a square, whose corners lie d of their errors over and under a plane by turns, the scatter is 2 d, and 2.807 is what one degree of freedom may have (root of 7.879). They start from the lower end of their edge, or from the one that is on no coded line.
func TestPairsOfTriangles(t *testing.T) {
	for _, c := range []struct {
		d, rise float64
		coded   []int32
		up      []int32
		from    int32 // -1: no start
	}{
		{0, 0.1, nil, nil, 0},
		{0, -0.1, nil, nil, 3},
		{1.39, 0.1, nil, nil, 0},
		{1.42, 0.1, nil, nil, -1},
		{0, 0.1, []int32{0}, nil, 3},
		{0, -0.1, []int32{3}, nil, 0},
		{0, 0.1, []int32{3}, nil, 0},
		{0, 0.1, []int32{0, 3}, nil, -1},
		{0, 0.1, []int32{1, 2}, nil, 0},
		{0, 0.1, nil, []int32{0, 3}, -1},
		{0, 0.1, nil, []int32{0}, 0},
		{0, 0.1, nil, []int32{3}, 0},
	} {
		g := meshed(1, 1, 0.01)
		for v := range g.Z {
			g.Z[v] = c.rise*(g.X[v]-1000) + c.d*0.01*[]float64{1, -1, -1, 1}[v]
		}
		for _, v := range c.coded {
			g.Coded[v] = true
		}
		for _, v := range c.up {
			g.tried[v] = mostTries
		}
		got := g.quads()
		if c.from < 0 {
			if len(got) != 0 {
				t.Errorf("%+v: %+v", c, got)
			}
			continue
		}
		far := g.X[c.from]*g.X[c.from] + g.Y[c.from]*g.Y[c.from]
		if len(got) != 1 || got[0] != (seed{c.from, 2, math.Round(2000 * c.d), 4, far}) {
			t.Errorf("%+v: %+v", c, got)
		}
	}
	g := meshed(1, 1, 0.01)
	if g.label[1] = 0; len(g.quads()) != 0 {
		t.Error("a corner of another plane")
	}
}

// Two rows of spots, on which no ring of neighbours stands whole, are a plane by pairs of triangles; one of fewer than six spots is none.
func TestPlaneOfTwoRows(t *testing.T) {
	for n, want := range map[int]int{2: 1, 5: 1, 1: 0} {
		g := meshed(6, 1, 0.003)
		for v := range g.X {
			x, y := v%7, v/7
			g.Measured[v] = (y == 2 || y == 3) && x <= n
			g.Z[v] = 0.02*float64(x) + 0.01*float64(y)
		}
		g.planes()
		on := 0
		for _, l := range g.label {
			on += int(l + 1)
		}
		if len(g.list) != want || on != want*2*(n+1) {
			t.Errorf("two rows of %d: %d planes of %d spots", n+1, len(g.list), on)
		}
	}
}
