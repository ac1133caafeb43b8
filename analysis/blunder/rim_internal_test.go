package blunder

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// searching is the finder of a roof whose places lie 100 m east and 50 m south of where r has them.
func searching(t *testing.T, r *roof.Roof) *finder {
	t.Helper()
	shape.Places(r, func(p *orb.Point) { *p = orb.Point{p[0] + 100, p[1] - 50} })
	return newFinder(r, shape.Build(t, r), 0.002)
}

// vertexAt returns the vertex at a place of the roof before it was moved.
func (f *finder) vertexAt(t *testing.T, x, y float64) int32 {
	t.Helper()
	for v := range f.t.X {
		if math.Hypot(f.t.X[v]-x-100, f.t.Y[v]-y+50) < 1e-6 {
			return int32(v)
		}
	}
	t.Fatalf("no vertex at (%g, %g)", x, y)
	return -1
}

// level is a level roof of n by m squares of a step.
func level(n, m int, step float64) *roof.Roof {
	rows := make([][]float64, m+1)
	for j := range rows {
		rows[j] = make([]float64, n+1)
	}
	return shape.Heights(step, rows...)
}

// A corner of the border may be set off by the fall of a cricket's side, 6 %, to the nearer of the points beside it: 120 mm on a grid of 2 m, and 75 mm at least, as on one of 1 m. A point on a straight side, or
// inside, is no corner.
func TestCornerOfTheBorder(t *testing.T) {
	for _, c := range []struct{ step, most float64 }{{2, 0.12}, {1, 0.075}, {5, 0.3}} {
		f := searching(t, level(4, 3, c.step))
		for i := range 5 {
			for j := range 4 {
				v := f.vertexAt(t, float64(i)*c.step, float64(j)*c.step)
				corner := (i == 0 || i == 4) && (j == 0 || j == 3)
				for _, sign := range []float64{1, -1} {
					if f.corner(v, sign*(c.most-0.001)) != corner || f.corner(v, sign*(c.most+0.001)) {
						t.Errorf("step %g: (%d, %d) is a corner: %v, by more: %v", c.step, i, j, f.corner(v, sign*(c.most-0.001)), f.corner(v, sign*(c.most+0.001)))
					}
				}
			}
		}
	}
}

// A spot within 0.25 m of both walls of a corner stands in it. It may be off by 75 mm, or by anything where the measured point nearest to it shows no steeper fall than 4 %.
func TestInCorner(t *testing.T) {
	for _, c := range []struct {
		x, y  float64 // from the corner
		rise  float64 // of the spot over the foot of the wall, which is the point nearest to it
		off   float64
		stand bool
	}{
		{0.24, 0.24, 0.02, 0.074, true},
		{0.24, 0.24, 0.02, 0.076, false},
		{0.24, 0.24, 0.009, 0.3, true}, // 0.04 x 0.24 = 9.6 mm
		{0.24, 0.24, 0.0102, 0.3, false},
		{0.24, 0.24, -0.009, -0.3, true},
		{0.26, 0.24, 0, 0.01, false},
		{0.24, 0.26, 0, 0.01, false},
	} {
		r := shape.New("corner", shape.At(0, 0, 0), shape.At(c.x, 0, 0), shape.At(10, 0, 0), shape.At(10, 10, 0), shape.At(0, 10, 0), shape.At(0, c.y, 0))
		shape.Spot(r, c.x, c.y, c.rise)
		shape.Spot(r, 5, 5, 0)
		for i := range r.Outline.Rings[0] { // the roof lies at 7 m
			r.Outline.Rings[0][i].Z += 7
		}
		for i := range r.Spots {
			r.Spots[i].Z += 7
		}
		f := searching(t, r)
		if got := f.corner(f.vertexAt(t, c.x, c.y), c.off); got != c.stand {
			t.Errorf("%+v: %v", c, got)
		}
	}
	// A spot within reach of one wall alone, at two of its points in one direction and its opposite, stands in no corner.
	r := shape.New("side", shape.At(0, 0, 0), shape.At(4.8, 0, 0), shape.At(5.2, 0, 0), shape.At(10, 0, 0), shape.At(10, 10, 0), shape.At(0, 10, 0))
	shape.Spot(r, 5, 0.05, 0)
	f := searching(t, r)
	if f.corner(f.vertexAt(t, 5, 0.05), 0.01) {
		t.Error("a spot at one wall stands in a corner")
	}
}

// A survey round the edge has 85 % of its points on the border or next to it. Of n by n points all but (n - 4) squared are: 32 of 36, 40 of 49.
func TestRoundEdges(t *testing.T) {
	for n, want := range map[int]bool{4: true, 5: true, 6: true, 7: false, 9: false} {
		if f := searching(t, level(n-1, n-1, 2)); f.edges != want {
			t.Errorf("%d by %d points: round the edge %v", n, n, f.edges)
		}
	}
}

// ring is the south side of a roof of 20 by 10 m with points on its border alone, 2 m apart along it, and more points as given.
func ring(more ...orb.Point) *roof.Roof {
	var corners []roof.Position
	for x := 0.0; x < 20; x += 2 {
		corners = append(corners, shape.At(x, 0, 0))
	}
	corners = append(corners, shape.At(20, 0, 0), shape.At(20, 10, 0), shape.At(0, 10, 0), shape.At(0, 2, 0))
	r := shape.New("ring", corners...)
	for _, p := range more {
		shape.Spot(r, p[0], p[1], 0)
	}
	return r
}

// In a survey round the edge a point is off by the fall of 4 % to the second nearest of its neighbours, 80 mm over 2 m, where all within 1.3 times that distance stand along the wall, to 20 degrees, or along two walls
// from their corner.
func TestRim(t *testing.T) {
	polar := func(x, y, far, degrees float64) orb.Point {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return orb.Point{math.Round((x+far*cos)*1000) / 1000, math.Round((y+far*sin)*1000) / 1000}
	}
	for _, c := range []struct {
		name string
		more []orb.Point
		x    float64
		off  float64
		edge bool // the survey is one round the edge
		want bool
	}{
		{"along a wall", nil, 10, 0.079, true, true},
		{"by more than the roof falls", nil, 10, 0.081, true, false},
		{"below", nil, 10, -0.079, true, true},
		{"no survey round the edge", nil, 10, 0.079, false, false},
		{"at a corner", nil, 0, 0.079, true, true},
		{"a point inside", []orb.Point{polar(10, 0, 2.2, 60)}, 10, 0.01, true, false},
		{"a point inside, to the other side", []orb.Point{polar(10, 0, 2.2, 120)}, 10, 0.01, true, false},
		{"one 18 degrees off the wall", []orb.Point{polar(10, 0, 2.2, 18)}, 10, 0.01, true, true},
		{"one 18 degrees off the wall, to the other side", []orb.Point{polar(10, 0, 2.2, 162)}, 10, 0.01, true, true},
		{"one 22 degrees off it", []orb.Point{polar(10, 0, 2.2, 22)}, 10, 0.01, true, false},
		{"one inside beyond 1.3 times", []orb.Point{polar(10, 0, 2.65, 60)}, 10, 0.01, true, true},
		{"one inside at 1.27 times", []orb.Point{polar(10, 0, 2.54, 60)}, 10, 0.01, true, false},
		{"one in the corner", []orb.Point{polar(0, 0, 2.2, 45)}, 0, 0.01, true, false},
		{"one at the corner's wall", []orb.Point{polar(0, 0, 2.2, 75)}, 0, 0.01, true, true},
	} {
		f := searching(t, ring(c.more...))
		f.edges = c.edge
		if got := f.rim(f.vertexAt(t, c.x, 0), c.off); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// The point nearest to a place beyond reach, by brute force over all that were measured; those found odd or inferred tell nothing.
func TestNearestTo(t *testing.T) {
	f := searching(t, level(6, 4, 1.5))
	for v := range f.without {
		f.without[v], f.t.Assumed[v] = v%7 == 3, v%5 == 2
	}
	for _, p := range []orb.Point{{103, -47}, {101.2, -49.3}, {100, -50}, {109, -44}} {
		for _, reach := range []float64{0, 0.5, 2, 5, 40} {
			want := 0.0
			for v := range f.t.X {
				d := math.Hypot(f.t.X[v]-p[0], f.t.Y[v]-p[1])
				if v%7 != 3 && v%5 != 2 && d > reach && (want == 0 || d < want) {
					want = d
				}
			}
			if got := f.nearestTo(p, reach); !(math.Abs(got-want) <= 1e-12) {
				t.Errorf("from %v beyond %g m: %g, want %g", p, reach, got, want)
			}
		}
	}
}

// At the border the end of a coded line may be off by 6 % of the way to its next point, 60 mm over 1 m, and 75 mm at most; other points of the border, and the line's points inside, may not.
func TestCrown(t *testing.T) {
	for _, c := range []struct{ step, most float64 }{{1, 0.06}, {2, 0.075}} {
		r := level(4, 4, c.step)
		shape.Breakline(r, roof.Ridge, shape.At(2*c.step, 0, 0), shape.At(2*c.step, c.step, 0), shape.At(2*c.step, 2*c.step, 0))
		f := searching(t, r)
		for i := range 5 {
			for j := range 5 {
				v := f.vertexAt(t, float64(i)*c.step, float64(j)*c.step)
				want := i == 2 && j == 0
				if got := f.crown(v, -(c.most - 0.0001)); got != want || f.crown(v, c.most+0.0001) {
					t.Errorf("step %g: (%d, %d) is the top of a cricket: %v", c.step, i, j, got)
				}
			}
		}
	}
}

// A drain of 0.15 m radius lets the roof down within 0.6 m of its footprint, by 150 mm; on a survey round the edge by 4 % of the way to the nearest point beyond as well.
func TestSump(t *testing.T) {
	f := searching(t, level(6, 6, 0.5))
	f.at, f.reach = []orb.Point{{101.5, -48.5}}, []float64{0.75}
	v := f.vertexAt(t, 1.5, 1)
	out := f.vertexAt(t, 1.5, 2.5)
	for _, c := range []struct {
		v     int32
		off   float64
		edges bool
		want  bool
	}{{v, -0.149, false, true}, {v, -0.151, false, false}, {v, 0.1, false, false}, {out, -0.1, false, false}, {v, -0.189, true, true}, {v, -0.191, true, false}, {out, -0.1, true, false}} {
		f.edges = c.edges
		// The nearest point beyond 0.75 m of the drain stands 1 m off it, two squares away: 40 mm more.
		if got := f.sump(c.v, c.off); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	if f.atOutlet(v) != 0 || f.atOutlet(out) != -1 {
		t.Errorf("at outlets %d and %d", f.atOutlet(v), f.atOutlet(out))
	}
}

// What was measured is a spot that nobody calls meant, or a point of a line that has an elevation; never what was inferred.
func TestMeasured(t *testing.T) {
	r := shape.New("some", shape.At(0, 0, 0), shape.Bare(10, 0), shape.At(10, 10, 0), shape.Bare(0, 10))
	shape.Spot(r, 4, 4, 0)
	shape.Spot(r, 6, 5, 0)
	r.Kept = []string{"P1"}
	f := searching(t, r)
	for _, c := range []struct {
		x, y float64
		want bool
	}{{0, 0, true}, {10, 0, false}, {10, 10, true}, {0, 10, false}, {4, 4, false}, {6, 5, true}} {
		if got := f.measured(f.vertexAt(t, c.x, c.y)); got != c.want {
			t.Errorf("(%g, %g) was measured: %v", c.x, c.y, got)
		}
	}
}

// Lines through a point that run straight on to 160 degrees foretell its height between their next points, each weighted by the way to the other, with the errors of all three.
func TestBetween(t *testing.T) {
	for _, c := range []struct {
		degrees float64 // by which the way bends
		ok      bool
	}{{0, true}, {19, true}, {21, false}, {-19, true}, {-21, false}, {180, false}} {
		sin, cos := math.Sincos(c.degrees * math.Pi / 180)
		f := &finder{noise: 0.002, without: make([]bool, 3), t: &surface.TIN{
			X: []float64{10, 7, 10 + 4*cos}, Y: []float64{20, 20, 20 + 4*sin}, Z: []float64{1, 1.07, 1.14}, Sigma: []float64{0.003, 0.007, 0},
		}}
		p, ok := f.between(0, 1, 2)
		if ok != c.ok {
			t.Errorf("a bend of %g degrees: %v", c.degrees, ok)
		}
		// 4/7 x 1.07 + 3/7 x 1.14, and 3, 4 and 6/7 mm: the last point states no error and has the noise.
		if want := math.Sqrt(9+16+36./49) / 1000; ok && (!(math.Abs(p.z-1.1) <= 1e-12) || !(math.Abs(p.sigma-want) <= 1e-12)) {
			t.Errorf("%+v, want 1.1 and %g", p, want)
		}
		for _, w := range []int{1, 2} {
			f.without = make([]bool, 3)
			f.without[w] = true
			if _, ok := f.between(0, 1, 2); ok {
				t.Error("between points of which one was found odd")
			}
		}
	}
}

// A point of the border is foretold by its four nearest: those at 1 and 2 m to the east, by 0 and 1 m to the north, have a leverage of 1/4 + 1.5 x 1.5 / 1 + 0.5 x 0.5 / 1 at it, which adds to its own error.
func TestFromFew(t *testing.T) {
	r := shape.Heights(1, []float64{5, 0.01, 0.02, 0.03}, []float64{0.02, 0.03, 0.04, 0.05}, []float64{0, 0, 0, 0})
	f := searching(t, r)
	v := f.vertexAt(t, 0, 0)
	var near []neighbour
	for _, p := range []orb.Point{{1, 0}, {1, 1}, {2, 0}, {2, 1}, {3, 2}} {
		near = append(near, neighbour{f.vertexAt(t, p[0], p[1]), math.Hypot(p[0], p[1])})
	}
	p, ok := f.fromFew(v, near)
	if want := f.sigma(v) * math.Sqrt(3.75); !ok || !(math.Abs(p.z) <= 1e-6) || !(math.Abs(p.sigma-want) <= 1e-9) {
		t.Errorf("%+v, %v, want 0 and %g", p, ok, want)
	}
	if _, ok := f.fromFew(v, near[:3]); ok {
		t.Error("three points foretell a fourth")
	}
	if _, ok := f.fromFew(f.vertexAt(t, 1, 1), near); ok {
		t.Error("a point inside is foretold by few")
	}
}
