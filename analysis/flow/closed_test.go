package flow

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// TestClosedForms traces surfaces whose areas and travels follow from their formulas.
func TestClosedForms(t *testing.T) {
	rising := func(int, int) bool { return true }
	south := func(_, y float64) bool { return y == 0 }
	// Both ways to cut the squares: facets must not matter on a plane.
	plane := func(nx, ny int, dx, dy int32, diagonal func(int, int) bool) *surface.Surface {
		s := grid(nx, ny, func(i, j int) int32 { return int32(i)*dx + int32(j)*dy }, diagonal).walled()
		gutter(s, south)
		return s
	}
	pyramid := grid(10, 10, func(i, j int) int32 { return 2000 * max(abs(i-5), abs(j-5)) }, func(i, j int) bool { return (i < 5) == (j < 5) }).walled()
	bowl(pyramid, func(x, y float64) bool { return x > 3.9 && x < 6.1 && y > 3.9 && y < 6.1 })
	hip := grid(10, 10, func(i, j int) int32 { return -2000 * max(abs(i-5), abs(j-5)) }, func(i, j int) bool { return (i < 5) == (j < 5) }).walled()
	gutter(hip, south)
	gutter(hip, func(x, _ float64) bool { return x == 0 })
	gutter(hip, func(x, _ float64) bool { return x > 9.9 })
	gutter(hip, func(_, y float64) bool { return y > 9.9 })
	valley := grid(8, 10, func(i, j int) int32 { return 4000*abs(i-4) + 3000*int32(j) }, rising).walled()
	gutter(valley, south)
	terrace := grid(4, 6, func(_, j int) int32 { return 1000 * int32(min(j, 2)+max(j-4, 0)) }, rising).walled()
	gutter(terrace, south)
	sqrt2 := math.Sqrt2
	for _, c := range []struct {
		name            string
		s               *surface.Surface
		area, max, mean float64 // of label 0
		level           float64
	}{
		// by hand: travel is the distance to the gutter, 8 at most, 4 in the mean
		{"plane", plane(10, 8, 0, 2000, rising), 80, 8, 4, 0},
		// by hand: water falls along (-3,-4)/5; above the line 3y = 4x it meets the west wall after 5x/3 and
		// follows it for y-4x/3, below it meets the gutter after 5y/4; integral 96 + 10 over 24 m2
		{"plane along a wall, rising diagonals", plane(3, 8, 1500, 2000, rising), 24, 9, 106.0 / 24, 0},
		{"plane along a wall, falling diagonals", plane(3, 8, 1500, 2000, func(int, int) bool { return false }), 24, 9, 106.0 / 24, 0},
		// by hand: z = max(|x|, |y|) folds in valleys on the diagonals; travel (x-|y|) + sqrt2 (|y|-1) in the east
		// sector beyond |y| = 1, x-1 within; the bowl itself counts with travel 0
		{"four-way falls", pyramid, 100, 4 * sqrt2, 8 * (8 + 32.0/3*(1+sqrt2)) / 100, 0},
		// by hand: a quarter of the square reaches the south side, travel up to 5, a third of that in the mean
		{"hipped", hip, 25, 5, 5.0 / 3, 0},
		// by hand: falls along (-4,-3)/5: where 4y >= 3x first 5x/4 to the valley, then y-3x/4; else 5y/3
		// straight to the gutter; the mean is worked out at valleyMean
		{"valley", valley, 80, 12, valleyMean(4, 10), 0},
		// by hand: from the top 2 down, at most 0.5 along the terrace's rim, 2 across it, 2 down
		{"terrace", terrace, 24, 6.5, math.NaN(), 8},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := trace(t, c.s, Options{Tolerance: -1})
			near(t, "area", n.Area[0], c.area, 1e-9)
			near(t, "longest travel", n.TravelMax[0], c.max, 1e-9)
			near(t, "level area", n.Indeterminate, c.level, 1e-9)
			if !math.IsNaN(c.mean) {
				near(t, "mean travel", n.TravelMean[0], c.mean, 1e-9)
			}
			if p, err := n.PathFrom(n.Farthest[0]); err != nil || !(math.Abs(p.Travel-c.max) <= 1e-4) || p.Label != 0 {
				t.Errorf("path from the farthest place: label %d, %.9f m, %v", p.Label, p.Travel, err)
			}
		})
	}
}

func abs(i int) int32 { return int32(max(i, -i)) }

// valleyMean is the mean travel of half a valley w wide and l long whose sides fall along (-4,-3)/5:
// the sum of y + x/2 above the line y = 3x/4, and of 5y/3 below it.
func valleyMean(w, l float64) float64 {
	above := w*l*l/2 - 9*w*w*w/96 + l*w*w/4 - w*w*w/8
	below := 5.0 / 6 * 9 / 16 * w * w * w / 3
	return (above + below) / (w * l)
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

// TestCone traces a fan of n facets round its lowest point. By hand: in a facet of half angle a water
// falls along the middle line to the nearer spoke; the longest travel is the radius, the mean is
// radius (1 + cos a) / 3, which tends to 2/3 of the radius.
func TestCone(t *testing.T) {
	const n, radius = 16, 20.0
	d := &draft{x: []int32{0}, y: []int32{0}, z: []int32{0}}
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		d.x = append(d.x, int32(math.Round(cos*radius*metre)))
		d.y = append(d.y, int32(math.Round(sin*radius*metre)))
		d.z = append(d.z, 40000)
		d.facets = append(d.facets, [3]int32{0, int32(i + 1), int32((i+1)%n + 1)})
	}
	net := trace(t, d.walled(), Options{})
	if len(net.Ends) != 1 || net.Ends[0] != (End{Outlet: -1, Pit: 0}) {
		t.Fatalf("ends: %v", net.Ends)
	}
	near(t, "area", net.Area[0], n/2*radius*radius*math.Sin(2*math.Pi/n), 1e-3)
	near(t, "longest travel", net.TravelMax[0], radius, 1e-4)
	near(t, "mean travel", net.TravelMean[0], radius*(1+math.Cos(math.Pi/n))/3, 1e-4)
}

// TestCurb puts a curb across a plane. By hand: of the 100 m2 less 4 m2 either half belongs to its own
// side; the water behind the curb runs 5 m down, 1 m along it and 5 m on.
func TestCurb(t *testing.T) {
	r := shape.New("curb", shape.At(0, 0, 0), shape.At(5, 0, 0), shape.At(10, 0, 0), shape.At(10, 10, 0.2), shape.At(0, 10, 0.2))
	shape.Curb(r, shape.Bare(4, 3), shape.Bare(6, 3), shape.Bare(6, 5), shape.Bare(4, 5))
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(5, 0))
	shape.Edge(r, roof.Free, shape.Bare(5, 0), shape.Bare(10, 0))
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := trace(t, s, Options{})
	for i, side := range []float64{-1, 1} {
		near(t, "area", n.Area[i], 48, 1e-9)
		near(t, "longest travel", n.TravelMax[i], 11, 1e-3)
		p, ok, err := n.path(5+side*1e-3, 9.5)
		if !ok || err != nil || p.Label != Label(i) {
			t.Fatalf("path behind the curb: %v, %v, label %d", ok, err, p.Label)
		}
		if d := planar.DistanceFrom(p.Line, orb.Point{5 + side, 4}); d > 1e-9 {
			t.Errorf("the path keeps %g m off the curb's side", d)
		}
		near(t, "travel", p.Travel, 4.5+1-1e-3+5, 1e-6)
	}
}

// TestHighOutlet raises a drain's invert above its bowl. By hand: dry paths pass it, so all water goes to
// the pit at its centre, or with the invert down to the drain.
func TestHighOutlet(t *testing.T) {
	s := grid(10, 10, func(i, j int) int32 { return 2000 * max(abs(i-5), abs(j-5)) }, func(i, j int) bool { return (i < 5) == (j < 5) }).walled()
	bowl(s, func(x, y float64) bool { return x > 3.9 && x < 6.1 && y > 3.9 && y < 6.1 })
	n := trace(t, s, Options{})
	near(t, "area of the drain", n.Area[0], 100, 1e-9)
	s.Outlets[0].Low, s.Outlets[0].Invert = 0, 0.05
	n = trace(t, s, Options{})
	near(t, "area of the drain", n.Area[0], 0, 0)
	near(t, "area of the pit", n.Area[1], 100, 1e-9)
	if n.Ends[1].Pit != 60 {
		t.Errorf("pit at vertex %d, want 60", n.Ends[1].Pit)
	}
}

// takenSquare is a plane of 10 by 8 m that falls to a gutter at y = 0, and by facet the outlet that takes its water: 1 on the square at (4, 3), else none.
func takenSquare() (s *surface.Surface, takenBy []int32) {
	s = grid(10, 8, func(_, j int) int32 { return 2000 * int32(j) }, func(int, int) bool { return true }).walled()
	gutter(s, func(_, y float64) bool { return y == 0 })
	s.Outlets = append(s.Outlets, surface.Outlet{Invert: 1, Low: 0})
	takenBy = none(s.Cut.Facets())
	square := 2 * (3*10 + 4)
	takenBy[square], takenBy[square+1] = 1, 1
	return s, takenBy
}

// TestTaken gives a facet of the roof to an outlet. By hand: on a plane to a gutter, the column of water
// above a taken square ends there.
func TestTaken(t *testing.T) {
	s, takenBy := takenSquare()
	n := trace(t, s, Options{Taken: takenBy})
	near(t, "area taken", n.Area[1], 5, 1e-9)
	near(t, "area left", n.Area[0], 75, 1e-9)
}

// Water that comes to a taken square goes on in it, by hand 7 m and as far again as it stands east: that above the square runs 2 m on the mean and 4 m at most to its side from 4 to 5 m, that on
// the square itself nowhere.
func TestTravelGoesOnWhereItIsTaken(t *testing.T) {
	s, takenBy := takenSquare()
	n, err := Prepare(s, Options{Tolerance: -1, Taken: takenBy, Shore: none(len(s.Cut.X))})
	if err != nil {
		t.Fatal(err)
	}
	if err := n.Finish(func(l Label, at Landing) float64 {
		if l != 1 || !(math.Abs(at.Point[1]-4) <= 1e-9) || at.Point[0] < 4 || at.Point[0] > 5 {
			t.Errorf("end %d takes water at %+v", l, at)
		}
		return 7 + at.Point[0]
	}); err != nil {
		t.Fatal(err)
	}
	near(t, "area taken", n.Area[1], 5, 1e-9)
	near(t, "mean travel", n.TravelMean[1], 4*(2+7+4.5)/5, 1e-6)
	near(t, "longest travel", n.TravelMax[1], 4+7+5, 1e-3)
	near(t, "mean travel past it", n.TravelMean[0], (72*4+3*1.5)/75, 1e-6)
}

// TestEmpty traces nothing.
func TestEmpty(t *testing.T) {
	s := (&draft{}).walled()
	n := trace(t, s, Options{})
	if label, _ := n.At(0, 0); label != Unlabelled || len(n.Ends) != 0 {
		t.Errorf("label %d, %d ends", label, len(n.Ends))
	}
	if _, ok, err := n.path(0, 0); ok || err != nil {
		t.Errorf("a path on nothing: %v, %v", ok, err)
	}
}

// TestLevelFloor: on a level floor of one square cut in two with a drain of no extent at one corner, all water runs to that corner. By hand, for a
// side a: the farthest place is the other end of the diagonal, a 2^0.5; the mean distance of a square from its corner is
// a (2^0.5 + ln(1 + 2^0.5)) / 3 = 0.76520 a (calculus; both halves alike when the diagonal runs from the corner).
func TestLevelFloor(t *testing.T) {
	const a = 6.0
	d := &draft{
		x: []int32{0, a * metre, a * metre, 0}, y: []int32{0, 0, a * metre, a * metre}, z: []int32{0, 0, 0, 0},
		facets: [][3]int32{{0, 1, 2}, {0, 2, 3}},
	}
	s := d.walled()
	s.Outlets = append(s.Outlets, surface.Outlet{Type: roof.Drain, Vertices: []int32{0}})
	n := trace(t, s, Options{Tolerance: -1})
	near(t, "area", n.Area[0], a*a, 1e-9)
	near(t, "longest travel", n.TravelMax[0], a*math.Sqrt2, 1e-9)
	near(t, "mean travel", n.TravelMean[0], a*(math.Sqrt2+math.Log(1+math.Sqrt2))/3, 1e-6*a)
}
