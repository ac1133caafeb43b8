package fold_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/fold"
	"runnel/analysis/mesh"
)

// grid is a field of n by n spots step apart round the origin, turned by angle, with the given height and normal errors of sigma.
func grid(t *testing.T, n int, step, angle, sigma float64, height func(x, y float64) float64) *fold.Field {
	t.Helper()
	r := rand.New(rand.NewPCG(uint64(n), 11))
	sin, cos := math.Sincos(angle)
	var places [][2]float64
	for i := range n {
		for j := range n {
			u, v := (float64(i)-float64(n-1)/2)*step, (float64(j)-float64(n-1)/2)*step
			places = append(places, [2]float64{u*cos - v*sin, u*sin + v*cos})
		}
	}
	return field(t, places, func(x, y float64) float64 { return height(x, y) + sigma*r.NormFloat64() })
}

// field is a field of spots at places, each measured.
func field(t *testing.T, places [][2]float64, height func(x, y float64) float64) *fold.Field {
	t.Helper()
	const unit = 1e5
	f := &fold.Field{}
	var x, y, z []int32
	for i, p := range places {
		x, y = append(x, int32(math.Round(p[0]*unit))), append(y, int32(math.Round(p[1]*unit)))
		f.X, f.Y = append(f.X, float64(x[i])/unit), append(f.Y, float64(y[i])/unit)
		f.Z = append(f.Z, height(f.X[i], f.Y[i]))
		z = append(z, int32(math.Round(f.Z[i]*unit)))
	}
	m, _, err := mesh.Triangulate(x, y, z, nil)
	if err != nil {
		t.Fatal(err)
	}
	n := len(places)
	f.V, f.Twin = m.V, m.Twin
	f.Sigma, f.Measured, f.Coded = make([]float64, n), make([]bool, n), make([]bool, n)
	for v := range f.Measured {
		f.Measured[v] = true
	}
	return f
}

// vee rises 2 % to both sides of a valley along the x axis that rises 0.5 %.
func vee(x, y float64) float64 { return 0.005*x + 0.02*math.Abs(y) }

// Every point of the fold of a V lies on its valley, y = 0, at the valley's own elevation, and the fold runs from side to side of the field. By
// how much a point may lie off the line follows from the errors of the two planes, of some 90 spots each: their heights beside it to a
// fifth of a spot's error or so, over the 4 % by which the slope changes.
func TestValleyOfAV(t *testing.T) {
	for _, sigma := range []float64{0, 0.002, 0.005} {
		f := grid(t, 14, 2, 0.44, sigma, vee)
		got := fold.Find(f)
		if len(got.Planes) != 2 || got.Lines != 1 {
			t.Fatalf("sigma %g: %d planes, %d folds", sigma, len(got.Planes), got.Lines)
		}
		// Scatter over that of a level is told about planes, of 196 spots to a tenth or so.
		if told := got.Scatter; sigma > 0.003 != (told > 0) || told > 0 && !(math.Abs(told-sigma) <= 0.15*sigma) || told > 0 && got.Sigma != told {
			t.Errorf("sigma %g: told as %g about planes, and as %g in all", sigma, told, got.Sigma)
		}
		for v := range f.Sigma {
			f.Sigma[v] = 0.01
		}
		if got = fold.Find(f); got.Scatter != 0 || !(math.Abs(got.Sigma-0.01) <= 1e-12) {
			t.Errorf("sigma %g, stated as 10 mm: told as %g about planes, and as %g in all", sigma, got.Scatter, got.Sigma)
		}
		from, to := math.Inf(1), math.Inf(-1)
		for _, p := range got.Points {
			if p.Vertex >= 0 {
				continue
			}
			if !(math.Abs(p.Y) <= sigma/0.04+1e-9) || !(math.Abs(p.Z-0.005*p.X) <= sigma+1e-9) {
				t.Errorf("sigma %g: a point of the fold at (%.3f, %.3f, %.4f)", sigma, p.X, p.Y, p.Z)
			}
			from, to = math.Min(from, p.X), math.Max(to, p.X)
		}
		if !(from <= -13) || !(to >= 13) {
			t.Errorf("sigma %g: the fold runs from %.2f to %.2f", sigma, from, to)
		}
		if len(got.Links) < len(got.Points)-1 {
			t.Errorf("sigma %g: %d points, but %d links", sigma, len(got.Points), len(got.Links))
		}
	}
}

// Between spots a V lies off the mesh by a quarter of what the slope changes, 4 %, times the way from spot to spot across it, 2 m: up to 20 mm. A valley lies
// no lower than its planes meet, so downwards the error is theirs; upside down, a ridge may be blunt down to the mesh.
func TestBlunt(t *testing.T) {
	for _, up := range []float64{1, -1} {
		most := 0.0
		for _, p := range fold.Find(grid(t, 14, 2, 0.44, 0.002, func(x, y float64) float64 { return up * vee(x, y) })).Points {
			if p.Edge < 0 || math.Hypot(p.X, p.Y) > 10 { // long edges of the hull are apart
				continue
			}
			most = math.Max(most, p.Sigma)
			if up > 0 && (!(p.Below > 0) || !(p.Below <= 0.001)) || up < 0 && p.Below != p.Sigma {
				t.Errorf("up %g: the error is %.1f mm, downwards %.1f", up, 1000*p.Sigma, 1000*p.Below)
			}
		}
		if !(most >= 0.012) || !(most <= 0.03) {
			t.Errorf("up %g: the error is %.1f mm at most", up, 1000*most)
		}
	}
}

// A hip roof, and upside down a four-way fall, of 2 %: four planes that meet in pairs on the diagonals, |x| = |y|.
func TestFourPlanes(t *testing.T) {
	for _, up := range []float64{1, -1} {
		f := grid(t, 16, 1.7, 0.3, 0.002, func(x, y float64) float64 { return up * 0.02 * math.Max(math.Abs(x), math.Abs(y)) })
		got := fold.Find(f)
		if len(got.Planes) != 4 || got.Lines != 4 {
			t.Fatalf("up %g: %d planes, %d folds", up, len(got.Planes), got.Lines)
		}
		for _, p := range got.Points {
			if d := math.Abs(math.Abs(p.X)-math.Abs(p.Y)) / math.Sqrt2; d > 0.12 && p.Edge >= 0 {
				t.Errorf("up %g: a point of a fold at (%.3f, %.3f) is %.0f mm off the diagonal", up, p.X, p.Y, 1000*d)
			}
		}
	}
}

// Planes of hundreds of spots each whose first floods run over the fold: at 0.8 and 1 % the planes part by three standard deviations only some spacings beyond it.
// They draw back, however many spots a flood has reached.
func TestManySpots(t *testing.T) {
	for _, c := range []struct{ fall, sigma float64 }{{0.01, 0.003}, {0.01, 0.008}, {0.008, 0.012}} {
		f := grid(t, 45, 1.2, 0.3, c.sigma, func(x, y float64) float64 { return c.fall * math.Max(math.Abs(x), math.Abs(y)) })
		if got := fold.Find(f); len(got.Planes) != 4 || got.Lines != 4 || got.Scatter != 0 {
			t.Errorf("%g %%, errors of %g mm: %d planes, %d folds", 100*c.fall, 1000*c.sigma, len(got.Planes), got.Lines)
		}
	}
}

// Strips of six spots across, on which no large disc stands, beside ground that bends in waves and makes no plane: seeds that come to grief on the bends
// leave the strips to smaller ones. Of x from 4 to 22 every spot inside a strip has a plane, and one
// for each of the three strips.
func TestStripsBesideWaves(t *testing.T) {
	const wide = 6
	f := grid(t, 48, 1, 0, 0.001, func(x, y float64) float64 {
		if x > 4 {
			return 0.04 * math.Abs(math.Mod(x-4, 2*wide)-wide)
		}
		return 0.03*math.Sin(x/3)*math.Sin(y/3) + 0.24
	})
	got := fold.Find(f)
	planes := map[int32]bool{}
	for v, x := range f.X {
		across := math.Mod(x-4, wide)
		if x < 4 || x > 22 || across < 1 || across > wide-1 {
			continue
		}
		if planes[got.Label[v]] = true; got.Label[v] < 0 {
			t.Errorf("the spot at (%g, %g) has no plane", x, f.Y[v])
		}
	}
	if len(planes) != 3 {
		t.Errorf("%d planes in three strips", len(planes))
	}
}

// What is no fold: one plane, whatever its errors; a step between two planes of one slope; a dish and a roll,
// which bend by 2 mm a metre for each metre.
func TestNoFold(t *testing.T) {
	shapes := map[string]struct {
		sigma  float64
		height func(x, y float64) float64
	}{
		"plane":       {0, func(x, y float64) float64 { return 0.02*x + 0.01*y }},
		"rough plane": {0.02, func(x, y float64) float64 { return 0.02*x + 0.01*y }},
		"level":       {0.003, func(_, _ float64) float64 { return 0 }},
		"dish":        {0, func(x, y float64) float64 { return 0.001 * (x*x + y*y) }},
		"rough dish":  {0.003, func(x, y float64) float64 { return 0.001 * (x*x + y*y) }},
		"roll":        {0.001, func(x, y float64) float64 { return 0.02*y + 0.001*x*x }},
		"step": {0.001, func(x, y float64) float64 {
			if y > 0.2 {
				return 0.02*x + 0.05
			}
			return 0.02 * x
		}},
	}
	for name, s := range shapes {
		got := fold.Find(grid(t, 14, 2, 0.44, s.sigma, s.height))
		if got.Lines != 0 || len(got.Links) != 0 {
			t.Errorf("%s: %d folds", name, got.Lines)
		}
		if name == "rough dish" && got.Scatter != 0 {
			t.Errorf("%s: it scatters by %g m about planes", name, got.Scatter)
		}
	}
}

// A coded line bounds planes: nothing is found along it.
func TestCodedLineWins(t *testing.T) {
	f := grid(t, 15, 2, 0, 0.001, vee)
	for v := range f.Coded {
		f.Coded[v] = math.Abs(f.Y[v]) < 1e-9
	}
	if got := fold.Find(f); got.Lines != 0 || len(got.Planes) != 2 {
		t.Errorf("%d folds between %d planes", got.Lines, len(got.Planes))
	}
}

// The order of the spots tells nothing: the same folds from the vertices numbered backwards.
func TestOrderDoesNotMatter(t *testing.T) {
	f := grid(t, 14, 2, 0.44, 0.002, vee)
	a := fold.Find(f)
	n := int32(len(f.X))
	b := *f
	b.X, b.Y, b.Z, b.V = make([]float64, n), make([]float64, n), make([]float64, n), make([]int32, len(f.V))
	for v := range n {
		b.X[n-1-v], b.Y[n-1-v], b.Z[n-1-v] = f.X[v], f.Y[v], f.Z[v]
	}
	for e, v := range f.V {
		b.V[e] = n - 1 - v
	}
	c := fold.Find(&b)
	if len(c.Points) != len(a.Points) || len(a.Points) == 0 {
		t.Fatalf("%d points and %d", len(a.Points), len(c.Points))
	}
	for i, p := range a.Points {
		if q := c.Points[i]; !(math.Abs(p.X-q.X) <= 1e-9) || !(math.Abs(p.Y-q.Y) <= 1e-9) || !(math.Abs(p.Z-q.Z) <= 1e-9) {
			t.Errorf("point %d at %v and %v", i, p, q)
		}
	}
}

// Two planes that meet 1 % by 1 % between spots 1 m apart, with errors of 20 mm: too little to say where. In a valley the mesh may stand over the roof, so
// that spots beside it may count for less downwards; at a ridge the mesh runs under the roof, and nothing is open.
func TestNothingIsOpenAtARidge(t *testing.T) {
	for _, up := range []float64{1, -1} {
		open := 0
		for n := 8; n < 16; n++ {
			got := fold.Find(grid(t, n, 1, 0.44, 0.012, func(x, y float64) float64 { return up * (0.005*x + 0.012*math.Abs(y)) }))
			for _, o := range got.Open {
				if o > 0 {
					open++
				}
			}
		}
		if up > 0 && open == 0 || up < 0 && open > 0 {
			t.Errorf("up %g: %d spots are open", up, open)
		}
	}
}

// The same valley where every fifth vertex is no spot but a corner that follows the spots beside it, as that of a curb: spots are open, corners never, so that water
// behind a curb is not let out over a corner that nobody measured. That some of these would be open as spots is seen on the first form.
func TestOnlySpotsAreOpen(t *testing.T) {
	spots, corners, would := 0, 0, 0
	for n := 8; n < 16; n++ {
		valley := func(x, y float64) float64 { return 0.005*x + 0.012*math.Abs(y) }
		for v, o := range fold.Find(grid(t, n, 1, 0.44, 0.012, valley)).Open {
			if v%5 == 0 && o > 0 {
				would++
			}
		}
		f := grid(t, n, 1, 0.44, 0.012, valley)
		for v := range f.Measured {
			f.Measured[v] = v%5 != 0
		}
		for v, o := range fold.Find(f).Open {
			switch {
			case o == 0:
			case f.Measured[v]:
				spots++
			default:
				corners++
			}
		}
	}
	if spots == 0 || would == 0 || corners > 0 {
		t.Errorf("%d spots are open and %d corners, %d of these where they are spots", spots, corners, would)
	}
}

// Three four-way falls in a row, each longer than wide, of 2 %: their south sides are one plane and their north sides another, which would meet along the middle of
// the whole row, though the sides between rise there to 120 mm above it. Where those have too few spots to be planes, their spots alone say so. Each point of a
// fold is on the roof, to four standard deviations of a spot, or to what the roof rises over half the way from it to the diagonal that it belongs to.
func TestPlanesThatMeetOnlyAtDrains(t *testing.T) {
	const sigma = 0.004
	bays := func(x, y float64) float64 {
		u := math.Mod(x+18, 12) - 6
		return 0.02 * math.Max(math.Abs(u), math.Abs(y))
	}
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 77))
		step := 2.2 + 0.02*float64(seed)
		places := [][2]float64{{-18, -9}, {18, -9}, {18, 9}, {-18, 9}, {-12, 0}, {0, 0}, {12, 0}}
		for x := -18 + step/2; x < 18; x += step {
			for y := -9 + step/2; y < 9; y += step {
				places = append(places, [2]float64{x + 0.3*(2*r.Float64()-1), y + 0.3*(2*r.Float64()-1)})
			}
		}
		f := field(t, places, func(x, y float64) float64 { return bays(x, y) + sigma*r.NormFloat64() })
		for v := range f.Sigma {
			f.Sigma[v] = sigma
		}
		for _, p := range fold.Find(f).Points {
			if off := p.Z - bays(p.X, p.Y); off < -0.02*step/2-4*sigma {
				t.Errorf("seed %d: a point of a fold at (%.2f, %.2f) lies %.0f mm below the roof", seed, p.X, p.Y, -1000*off)
			}
		}
	}
}

// A valley of two sides of 2 %, 25 degrees off a grid of 5 m, whose spots are good to 2 mm. A spot beside it that is 3.5 standard deviations too high, does not break the
// valley there: where its edges ended, the mesh dammed the valley. One that stands 60 mm over both sides is something else, and no fold passes it.
func TestStrayBesideAValley(t *testing.T) {
	const sigma, step = 0.002, 5.0
	sin, cos := math.Sincos(25 * math.Pi / 180)
	roof := func(x, y float64) float64 { return 0.005*(x*cos+y*sin) + 0.02*math.Abs(y*cos-x*sin) }
	broken := func(up float64) (missing, tried int) {
		var places [][2]float64
		for i := -6; i <= 6; i++ {
			for j := -5; j <= 5; j++ {
				places = append(places, [2]float64{float64(i)*step + 0.1*float64(j%3), float64(j)*step + 0.1*float64(i%3)})
			}
		}
		for k, p := range places {
			if off := math.Abs(p[1]*cos - p[0]*sin); off < 0.5 || off > 2.5 || math.Hypot(p[0], p[1]) > 20 {
				continue // beside the valley, and not at the border
			}
			lengths := [2]float64{}
			for turn, more := range [2]float64{0, up} {
				f := field(t, places, roof)
				for v := range f.Sigma {
					f.Sigma[v] = sigma
				}
				f.Z[k] += more
				got := fold.Find(f)
				for _, l := range got.Links {
					a, b := got.Points[l[0]], got.Points[l[1]]
					lengths[turn] += math.Hypot(b.X-a.X, b.Y-a.Y)
				}
			}
			if tried++; lengths[1] < lengths[0]-0.3*step {
				missing++
			}
		}
		return missing, tried
	}
	if missing, tried := broken(3.5 * sigma); missing > 0 || tried < 5 {
		t.Errorf("%d of %d strays break the valley", missing, tried)
	}
	if missing, tried := broken(0.06); missing < tried {
		t.Errorf("%d of %d spots 60 mm high break the valley, want all", missing, tried)
	}
}

// Two planes rise 2 % away from each other, with rows of spots 2 m apart up to the gap between them. Over a gap of one row the valley is found. By hand: 140 spots on 26 by 24 m
// have 2.1 m to themselves; over 8 m, which is more than two and a half of that, a third part of the roof may stand between both and nothing is found.
func TestNoFoldOverAGap(t *testing.T) {
	for near, lines := range map[float64]int{2: 1, 4: 0} {
		var places [][2]float64
		for i := range 14 {
			for j := range 5 {
				x, y := 2*float64(i)-13, near+2*float64(j)
				places = append(places, [2]float64{x, y}, [2]float64{x, -y})
			}
		}
		if got := fold.Find(field(t, places, vee)); got.Lines != lines || (lines == 0) != (len(got.Points) == 0) {
			t.Errorf("rows %g m off: %d folds of %d points, want %d", near, got.Lines, len(got.Points), lines)
		}
	}
}
