package evidence

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// near fails where got is farther than tolerance from want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// inputOf is a roof whose elevations all have one standard error.
func inputOf(t *testing.T, r *roof.Roof, sigma float64) *Input {
	t.Helper()
	s := shape.Build(t, r)
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	return &Input{Surface: s, Ponds: ps, Errors: ErrorsOf(s, r).Equal(sigma)}
}

// TestThresholdsAtCurbs: squares of normal quantiles of one in a hundred: 2.326 squared for one curb, 6.63 for two (5.41 + 1.76 ln 2), 7.85 for four; no more than what holds elsewhere, which holds where there is none.
func TestThresholdsAtCurbs(t *testing.T) {
	for _, c := range []struct {
		curbs           int
		elsewhere, want float64
	}{{0, 9, 9}, {0, 3, 3}, {1, 9, 5.41}, {2, 9, 6.63}, {4, 9, 7.85}, {12, 7, 7}, {1, 5, 5}} {
		near(t, "curbs", atCurbs(c.curbs, c.elsewhere), c.want, 0.005)
	}
}

// TestPriceOfMoving: by hand: an element measured at 2 that costs 3 to lower and 5 to raise by a metre, squared: to 1 it is 3, to 4 it is 20, and to where it is nothing.
func TestPriceOfMoving(t *testing.T) {
	e := &element{z: 2, low: 3, high: 5}
	for level, want := range map[float64]float64{1: 3, 0: 12, 2: 0, 4: 20} {
		near(t, "moved", e.moved(level), want, 1e-12)
	}
}

// TestPlaneThroughPoints: by hand: of the corners of a square of 2 m about (5, 1) that stand on 3 + x/2 - y/4, height and gradient come back at the origin, and its variance is 1/4 + 5*5/4 + 1/4: that of the mean and of the gradient over the way from the mean. Two points fix none, nor do points on a line.
func TestPlaneThroughPoints(t *testing.T) {
	var f fit
	for _, p := range [][2]float64{{4, 0}, {6, 0}, {6, 2}, {4, 2}} {
		f.add(p[0], p[1], 3+p[0]/2-p[1]/4)
	}
	h, gx, gy, variance, ok := f.plane()
	if !ok {
		t.Fatal("no plane")
	}
	near(t, "height", h, 3, 1e-9)
	near(t, "east", gx, 0.5, 1e-12)
	near(t, "north", gy, -0.25, 1e-12)
	near(t, "variance", variance, 0.25+25./4+1./4, 1e-9)
	for _, points := range [][][2]float64{{{0, 0}, {1, 1}}, {{0, 0}, {1, 1}, {2, 2}, {5, 5}}, {{0, 0}, {0, 1}, {0, 2}}} {
		var f fit
		for _, p := range points {
			f.add(p[0], p[1], 1)
		}
		if _, _, _, _, ok := f.plane(); ok {
			t.Errorf("%v fix a plane", points)
		}
	}
	var three fit
	for _, p := range [][2]float64{{0, 0}, {1, 0}, {0, 1}} {
		three.add(p[0], p[1], p[0])
	}
	if _, gx, _, _, ok := three.plane(); !ok || !(math.Abs(gx-1) <= 1e-12) {
		t.Errorf("three corners: %g, %v", gx, ok)
	}
}

// hexagon is a spot in the middle of six that stand a metre off it, as a TIN; all are level but the middle, which stands h over them.
func hexagon(h float64) *surface.TIN {
	t := &surface.TIN{X: []float64{0}, Y: []float64{0}, Z: []float64{h}, GX: []int32{0}, GY: []int32{0}}
	for k := range 6 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 3)
		t.X, t.Y, t.Z = append(t.X, cos), append(t.Y, sin), append(t.Z, 0)
		t.GX, t.GY = append(t.GX, int32(math.Round(1e5*cos))), append(t.GY, int32(math.Round(1e5*sin)))
	}
	return t
}

// TestResidualOfASpot: by hand: the mean of six level spots has a variance of 1/6, so a spot h over them is h/sqrt(7/6) off in units of one error. Five spots tell nothing, nor do six that lie to one side so that their plane is worse known than a spot.
func TestResidualOfASpot(t *testing.T) {
	tin := hexagon(0.012)
	all := []int32{0, 1, 2, 3, 4, 5, 6}
	r, ok := residualOf(tin, 0, all)
	if !ok || r.v != 0 {
		t.Fatalf("%+v, %v", r, ok)
	}
	near(t, "off", r.off, 0.012/math.Sqrt(7./6), 1e-12)
	near(t, "unit", r.unit, math.Sqrt(7./6), 1e-12)
	from := slices.Clone(r.from[:])
	slices.Sort(from)
	if !slices.Equal(from, all[1:]) {
		t.Errorf("from %v", r.from)
	}
	if _, ok := residualOf(tin, 0, all[:6]); ok {
		t.Error("five others tell something")
	}
	tin.X[0], tin.GX[0] = 5, 500000 // beside the six about the origin: 1/6 + 25/3 is over 1
	if _, ok := residualOf(tin, 0, all); ok {
		t.Error("a spot far beside the others is told something")
	}
}

// TestNearestOfMany: the six nearest, the nearest first, equals by number, against sorting all; on a grid, where many are as far.
func TestNearestOfMany(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for range 100 {
		tin := &surface.TIN{}
		var all []int32
		for i := range 3 + rnd.IntN(30) {
			tin.GX, tin.GY = append(tin.GX, int32(rnd.IntN(7))), append(tin.GY, int32(rnd.IntN(7)))
			all = append(all, int32(i))
		}
		v := int32(rnd.IntN(len(all)))
		rnd.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		want := slices.DeleteFunc(slices.Clone(all), func(w int32) bool { return w == v })
		far := func(w int32) int32 {
			dx, dy := tin.GX[w]-tin.GX[v], tin.GY[w]-tin.GY[v]
			return dx*dx + dy*dy
		}
		slices.SortFunc(want, func(a, b int32) int { return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a, b)) })
		want = want[:min(neighbours, len(want))]
		if list, n := nearest(tin, v, all); !slices.Equal(list[:n], want) {
			t.Fatalf("%v, want %v", list[:n], want)
		}
	}
}

// TestErrorOfResiduals: of twenty residuals of 1 to 20 mm, of either sign, a quarter stays below the sixth, a half below the eleventh; nineteen tell nothing; none is better than the least error.
func TestErrorOfResiduals(t *testing.T) {
	var rest []residual
	for i := range 20 {
		off := 0.001 * float64(20-i)
		if i%2 == 0 {
			off = -off
		}
		rest = append(rest, residual{off: off})
	}
	near(t, "half", errorOf(rest, 0.5, 0.5), 0.022, 1e-12)
	near(t, "a quarter", errorOf(rest, 0.25, 0.5), 0.012, 1e-12)
	if got := errorOf(rest[:19], 0.5, 0.5); got != 0 {
		t.Errorf("of nineteen: %g", got)
	}
	for i := range rest {
		rest[i].off = 1e-9
	}
	if got := errorOf(rest, 0.5, 0.5); !(got > 1e-6) {
		t.Errorf("spots that are exact: %g", got)
	}
}

// TestDoubtfulErrors: over twice what is stated, and over 8 mm, by which roofs are uneven; what was not stated is not doubted.
func TestDoubtfulErrors(t *testing.T) {
	for _, c := range []struct {
		e    Errors
		want bool
	}{
		{Errors{Source: Stated, Typical: 0.005, Scatter: 0.0101}, true},
		{Errors{Source: Stated, Typical: 0.005, Scatter: 0.01}, false},
		{Errors{Source: Stated, Typical: 0.001, Scatter: 0.0079}, false},
		{Errors{Source: Stated, Typical: 0.001, Scatter: 0.0081}, true},
		{Errors{Source: Usual, Typical: 0.001, Scatter: 0.05}, false},
		{Errors{Source: Planes, Typical: 0.001, Scatter: 0.05}, false},
	} {
		if got := c.e.Doubtful(); got != c.want {
			t.Errorf("%+v: %v", c.e, got)
		}
	}
}

// TestOffsetsNeedSpotsAmongEachOther: each spot of one file amid six of another tells of the offset by 6/7 of a squared error: five of them are less than 5 and tell nothing, six do. By hand each residual is 10 mm less in units of its own, sqrt(7/6), so the offset is 10 mm; it is sure where that is over three standard errors, of sigma/sqrt(36/7).
func TestOffsetsNeedSpotsAmongEachOther(t *testing.T) {
	tin := hexagon(0.01)
	r, _ := residualOf(tin, 0, []int32{0, 1, 2, 3, 4, 5, 6})
	in := func(v int32) float64 {
		if v == 0 {
			return 1
		}
		return 0
	}
	for n, want := range map[int]float64{5: 0, 6: 0.01} {
		rest := slices.Repeat([]residual{r}, n)
		b, sure := offsetOf(tin, rest, in, 0.001)
		if near(t, "offset", b, want, 1e-12); sure != (want > 0) {
			t.Errorf("of %d: sure %v", n, sure)
		}
	}
	six := slices.Repeat([]residual{r}, 6)
	edge := 0.01 / 3 * math.Sqrt(36./7)
	if _, sure := offsetOf(tin, six, in, edge*1.001); sure {
		t.Error("under three standard errors it is sure")
	}
	if _, sure := offsetOf(tin, six, in, edge*0.999); !sure {
		t.Error("over three standard errors it is not sure")
	}
	if b, sure := offsetOf(tin, six, func(int32) float64 { return 1 }, 0.001); b != 0 || sure {
		t.Errorf("of one file with itself: %g, %v", b, sure)
	}
}

// TestSidesOfCellsTried: with spots 1 m apart on a fall of 1 %: an error under 0.35 of the fall from spot to spot is judged by the spots alone; one up to 1.3 times by spots and by cells of two and three; greater ones by cells from the first whose error, down by the square of their side, is small enough; cells of fewer than 30 are none. Where none will do, the spots are taken.
func TestSidesOfCellsTried(t *testing.T) {
	for _, c := range []struct {
		ratio    float64 // of the error to the fall
		measured int
		want     []int
	}{
		{0.34, 10000, []int{1}},
		{0.36, 10000, []int{1, 2, 3}},
		{1.29, 10000, []int{1, 2, 3}},
		{1.31, 10000, []int{2, 3}},
		{5.19, 10000, []int{2, 3}},
		{5.21, 10000, []int{3}},
		{11.8, 10000, []int{4}},
		{30, 10000, []int{5}},
		{0.5, 119, []int{1}},
		{0.5, 120, []int{1, 2}},
		{0.5, 270, []int{1, 2, 3}},
		{0.5, 269, []int{1, 2}},
		{1.5, 100, []int{1}},
		{83, 100000, []int{8}},
		{84, 100000, []int{1}},
	} {
		g := &ground{low: []float64{1 / (c.ratio * c.ratio * 1e-4)}, measured: c.measured}
		if got := scalesOf(g, &Input{Surface: &surface.Surface{Spacing: 1}}, 0.01); !slices.Equal(got, c.want) {
			t.Errorf("%g times the fall, %d spots: %v, want %v", c.ratio, c.measured, got, c.want)
		}
	}
	g := &ground{low: []float64{1 / 9e-6, 1 / 1e-6, 1 / 4e-6, 1 / 25e-6}} // errors of 3, 1, 2 and 5 mm: in order 1, 2, 3, 5
	near(t, "median error", g.typicalError(), 0.003, 1e-12)
}

// TestCellsOfAPlane: sixteen spots a metre apart on a level plane, good to 1 to 16 mm: cells of two by two stand at the means of their four, weighed by their squared errors, and cost as much as all four. One without a measured spot takes the place of its first and cannot be raised. Cells are neighbours where spots of them
// are; what leaves, stands in a fold or beside a curb in one spot does so in its cell; into each outlet the lowest door counts.
func TestCellsOfAPlane(t *testing.T) {
	const n = 4
	g := &ground{first: []int32{0}, firstDoor: []int32{0}, sink: make([]bool, n*n), fold: make([]bool, n*n), curb: make([]bool, n*n), curbs: 3, invert: []float64{1, 2}, outWeight: []float64{4, 5}}
	for i := range n * n {
		x, y := i/n, i%n
		g.x, g.y, g.z = append(g.x, float64(x)), append(g.y, float64(y)), append(g.z, 0.5)
		w := 1e6 / float64((i+1)*(i+1))
		g.low, g.high = append(g.low, w), append(g.high, w)
		for _, d := range [4][2]int{{-1, 0}, {0, -1}, {0, 1}, {1, 0}} {
			if u, v := x+d[0], y+d[1]; u >= 0 && u < n && v >= 0 && v < n {
				g.near = append(g.near, int32(u*n+v))
			}
		}
		g.first = append(g.first, int32(len(g.near)))
		switch i {
		case 5: // (1, 1), in the south-west cell
			g.doors = append(g.doors, door{outlet: 0, at: 0.4, own: 1, weight: 7}, door{outlet: 1, at: 0.3, own: 1, weight: 7})
		case 4: // (1, 0), in it too
			g.doors = append(g.doors, door{outlet: 0, at: 0.2, own: 0.5, weight: 9})
		}
		g.firstDoor = append(g.firstDoor, int32(len(g.doors)))
	}
	g.sink[2], g.fold[13], g.curb[10] = true, true, true // (0, 2), (3, 1), (2, 2)
	for _, i := range []int{10, 11, 14, 15} {            // the north-east cell was not measured
		g.high[i] = 0
	}
	out, of := g.cells(&Input{Surface: &surface.Surface{Spacing: 1}}, 2)
	if len(out.z) != 4 || out.measured != 3 || out.curbs != 3 {
		t.Fatalf("%d cells, %d measured, %d curbs", len(out.z), out.measured, out.curbs)
	}
	cell := func(x, y int) int32 { return of[x*n+y] }
	for i := range n * n {
		if of[i] != cell(i/n/2*2, i%n/2*2) {
			t.Errorf("spot %d lies in cell %d", i, of[i])
		}
	}
	sw, nw, se, ne := cell(0, 0), cell(0, 2), cell(2, 0), cell(2, 2)
	weight, x := 0.0, 0.0
	for _, i := range []int{0, 1, 4, 5} {
		weight, x = weight+g.low[i], x+g.low[i]*g.x[i]
	}
	near(t, "weight", out.low[sw], weight, 1e-6*weight)
	near(t, "weight upwards", out.high[sw], weight, 1e-6*weight)
	near(t, "place", out.x[sw], x/weight, 1e-12)
	near(t, "height", out.z[sw], 0.5, 1e-12)
	near(t, "not measured: weight", out.low[ne], g.low[10], 1e-6*g.low[10])
	if out.high[ne] != 0 || out.x[ne] != 2 || out.y[ne] != 2 {
		t.Errorf("not measured: %g at (%g, %g)", out.high[ne], out.x[ne], out.y[ne])
	}
	for c := range int32(4) {
		if out.sink[c] != (c == nw) || out.fold[c] != (c == se) || out.curb[c] != (c == ne) {
			t.Errorf("cell %d: leaves %v, fold %v, curb %v", c, out.sink[c], out.fold[c], out.curb[c])
		}
	}
	beside := func(a, b int32) bool { return slices.Contains(out.around(a), b) }
	if !beside(sw, nw) || !beside(sw, se) || beside(sw, ne) || !beside(ne, nw) || !beside(ne, se) || beside(nw, se) || len(out.near) != 8 {
		t.Errorf("neighbours %v from %v", out.near, out.first)
	}
	if doors := out.doorsOf(sw); !slices.Equal(doors, []door{{outlet: 0, at: 0.2, weight: 9}, {outlet: 1, at: 0.3, weight: 7}}) || len(out.doors) != 2 {
		t.Errorf("doors %+v", out.doors)
	}
}

// TestCellThatBends: over the valley of TestBendOverAFold, with a fold known in it, a cell of 3 m is off by its bend over a quarter of its side besides: 1/9 of the spots' variance and the square of that.
func TestCellThatBends(t *testing.T) {
	const a = 0.02
	g := &ground{first: make([]int32, 10), sink: make([]bool, 9), fold: make([]bool, 9)}
	of := make([]int32, 9)
	for i := range 9 {
		x, y := float64(i/3-1), float64(i%3-1)
		g.x, g.y, g.z = append(g.x, x), append(g.y, y), append(g.z, a*math.Abs(x))
		g.low, g.high = append(g.low, 5/(a*a)), append(g.high, 5/(a*a))
		of[i] = int32(i)
	}
	g.fold[4] = true
	var out ground
	g.average(&out, of, 3, make([]int32, 9))
	bend := 4 * math.Sqrt(2.0/15) * a / math.Sqrt(8)
	variance := a*a/45 + bend*3/4*bend*3/4
	near(t, "weight", out.low[0]*variance, 1, 1e-9)
	near(t, "height", out.z[0], 2*a/3, 1e-5)
	if !out.fold[0] || out.measured != 1 {
		t.Errorf("%+v", out)
	}
}

// TestHoodEndsAtFolds: the measured vertices up to so many edges off, by widening a set over all edges; nothing beyond a breakline is seen but what stands on it; what was assumed or found is left out.
func TestHoodEndsAtFolds(t *testing.T) {
	r := shape.Plane(12, 12, 0.02, 6)
	shape.Breakline(r, roof.GradeBreak, shape.At(0, 6, 0.12), shape.At(12, 6, 0.12))
	tin := shape.Build(t, r).TIN
	tin.Assumed[3], tin.Found[5] = true, true
	on := map[int32]bool{}
	for v := range tin.X {
		on[int32(v)] = tin.Y[v] == 6
	}
	h := newHood(tin)
	for v := range int32(len(tin.X)) {
		if h.fold[v] != on[v] {
			t.Fatalf("(%g, %g) stands on a fold: %v", tin.X[v], tin.Y[v], h.fold[v])
		}
		for edges := range 4 {
			reached := map[int32]bool{v: true}
			for range edges {
				wider := map[int32]bool{}
				for e := range tin.V {
					a, b := tin.V[e], tin.End(int32(e))
					wider[a] = wider[a] || reached[a] || reached[b] && (!on[b] || b == v)
					wider[b] = wider[b] || reached[b] || reached[a] && (!on[a] || a == v)
				}
				reached = wider
			}
			var want []int32
			for w, in := range reached {
				if in && w != 3 && w != 5 {
					want = append(want, w)
				}
			}
			got := slices.Clone(h.within(v, edges))
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Fatalf("%d edges about (%g, %g): %v, want %v", edges, tin.X[v], tin.Y[v], got, want)
			}
		}
	}
}

// TestNeighboursOfTheGround: those of the TIN, each once, ascending; a spot 0.29 m before the corner of a curb stands at its foot, one 0.31 m before it does not; curbs are counted.
func TestNeighboursOfTheGround(t *testing.T) {
	r := shape.Plane(12, 12, 0.02, 3)
	corner := func(x, y float64) roof.Position { return shape.At(x, y, 0.02*y) }
	shape.Curb(r, corner(2, 2), corner(3, 2), corner(3, 3), corner(2, 3))
	shape.Curb(r, corner(9, 9), corner(10, 9), corner(10, 10), corner(9, 10))
	shape.Spot(r, 2, 1.71, 0.02*1.71)
	shape.Spot(r, 9, 8.69, 0.02*8.69)
	in := inputOf(t, r, 0.004)
	g := groundOf(in, 0.02)
	if g.curbs != 2 {
		t.Errorf("%d curbs", g.curbs)
	}
	tin := in.Surface.TIN
	for v := range tin.X {
		p := orb.Point{tin.X[v], tin.Y[v]}
		want := p[0] >= 2 && p[0] <= 3 && p[1] >= 2 && p[1] <= 3 || p[0] >= 9 && p[0] <= 10 && p[1] >= 9 && p[1] <= 10 || p == orb.Point{2, 1.71}
		if got := g.curb[g.number[v]]; got != want {
			t.Errorf("%v at a curb: %v", p, got)
		}
		near := map[int32]bool{}
		for e := range tin.V {
			a, b := tin.V[e], tin.End(int32(e))
			if int(a) == v {
				near[g.number[b]] = true
			}
			if int(b) == v {
				near[g.number[a]] = true
			}
		}
		list := g.around(g.number[v])
		if len(list) != len(near) || !slices.IsSorted(list) {
			t.Errorf("%v: neighbours %v, want %v", p, list, near)
		}
		for _, w := range list {
			if !near[w] {
				t.Errorf("%v: %d is no neighbour", p, w)
			}
		}
	}
}

// TestSpotsThatTell: every spot of a plane that six others stand round tells of the errors, the first as well; its plane falls 2 %. Spots on a breakline tell none, nor do corners, measured or not.
func TestSpotsThatTell(t *testing.T) {
	for _, coded := range []bool{false, true} {
		r := shape.New("plane", shape.At(0, 0, 0), shape.At(12, 0, 0), shape.Bare(12, 12), shape.Bare(0, 12))
		shape.Spot(r, 6, 6, 0.12) // the first spot stands in the middle
		for x := 1.0; x < 12; x += 2 {
			for y := 1.0; y < 12; y += 2 {
				shape.Spot(r, x, y, 0.02*y)
			}
		}
		if coded {
			shape.Breakline(r, roof.GradeBreak, shape.At(1, 6, 0.12), shape.At(11, 6, 0.12))
		}
		tin := shape.Build(t, r).TIN
		rest, fall := neighbourhoods(tin)
		near(t, "fall", fall, 0.02, 1e-4)
		told := map[int32]bool{}
		for _, q := range rest {
			if told[tin.Spot[q.v]] = true; tin.Spot[q.v] < 0 {
				t.Errorf("coded %v: what stands at (%g, %g) is no spot", coded, tin.X[q.v], tin.Y[q.v])
			}
			near(t, "off the plane", q.off, 0, 1e-4)
		}
		if told[0] == coded || len(told) < 20 {
			t.Errorf("coded %v: the first spot tells %v, %d do", coded, told[0], len(told))
		}
	}
}
