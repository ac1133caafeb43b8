package taper_test

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// dished is a level roof of 20 by 10 m with a dish of 2 by 2 m, 10 mm deep in its middle, at (16, 5).
func dished() *roof.Roof {
	r := level(20, 10)
	for _, p := range []orb.Point{{15, 4}, {17, 4}, {17, 6}, {15, 6}} {
		shape.Spot(r, p[0], p[1], 0)
	}
	shape.Spot(r, 16, 5, -0.010)
	return r
}

// gutter makes the lower long edge of r a gutter.
func gutter(r *roof.Roof) {
	r.Edges = append(r.Edges, roof.Edge{Type: roof.Gutter, Line: []roof.Position{shape.At(0, 0, 0), shape.At(20, 0, 0)}})
}

func laid(t *testing.T, r *roof.Roof, c taper.Courses) *taper.Design {
	t.Helper()
	s := built(t, r)
	d := planOf(t, s)
	l, err := taper.Lay(&taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s), Gauge: domain.FourWay(d.Axis)})
	if err != nil {
		t.Fatal(err)
	}
	tried, err := l.Try(c)
	if err != nil {
		t.Fatal(err)
	}
	out := tried.Design()
	near(t, "volume tried and drawn", out.Fill.Volume, tried.Volume(), 1e-9)
	return out
}

// TestStockOnLevelRoof: four ways to a drain in the middle of 20 by 10 m, boards of 2 % from 12.7 mm on. The mean of max(|x|, |y|) from the middle is
// 4*(2/3*5^3 + 5*(10^2 - 5^2)/2)/200 = 1083.333/200 m, so the boards are 200*0.0127 + 0.02*1083.333 = 24.20667 m3, the corners 12.7 + 200 mm. One
// way to a gutter along a long edge: 200*0.0127 + 0.02*200*5 = 22.54 m3.
func TestStockOnLevelRoof(t *testing.T) {
	c := taper.Courses{Start: 0.0127, Taper: 0.02, Fall: 0.02, Within: 0.003}
	four := level(20, 10)
	drain(four, 10, 5, 0)
	d := laid(t, four, c)
	near(t, "four-way", d.Fill.Volume, 24.206667, 1e-6)
	near(t, "thickest", d.Fill.Thickest, 0.2127, 1e-9)
	if len(d.Facets) != 4 || d.Leveller.Volume != 0 {
		t.Errorf("%d sections, leveller %+v", len(d.Facets), d.Leveller)
	}
	one := level(20, 10)
	gutter(one)
	d = laid(t, one, c)
	near(t, "one-way", d.Fill.Volume, 22.54, 1e-6)
	if len(d.Facets) != 1 {
		t.Errorf("%d sections", len(d.Facets))
	}
}

// TestStockOverDish: the dish is a pyramid of 4/3*0.010 m3. Boards of 2 % on a surface that is to fall 2 % need it filled; on the whole roof the new surface
// is then as over level ground. Where less than the dish is asked for nothing is filled, and boards lie in it.
func TestStockOverDish(t *testing.T) {
	for name, outlet := range map[string]func(*roof.Roof){
		"four-way": func(r *roof.Roof) { drain(r, 10, 5, 0) },
		"one-way":  gutter,
	} {
		r := dished()
		outlet(r)
		d := laid(t, r, taper.Courses{Start: 0.0127, Taper: 0.02, Fall: 0.02, Within: 0.003})
		near(t, name+": leveller", d.Leveller.Volume, 0.04/3, 1e-6)
		near(t, name+": deepest", d.Leveller.Deepest, 0.010, 1e-9)
		near(t, name+": over the dish", over(t, d, 16, 5), map[string]float64{"four-way": 0.0127 + 0.12, "one-way": 0.0127 + 0.10}[name], 1e-9)
		boards := 0.0
		d.Parts(func(p *taper.Part) {
			for k := 2; k < len(p.On); k++ {
				u, v := orb.Point{p.On[k-1][0] - p.On[0][0], p.On[k-1][1] - p.On[0][1]}, orb.Point{p.On[k][0] - p.On[0][0], p.On[k][1] - p.On[0][1]}
				boards += (u[0]*v[1] - u[1]*v[0]) / 2 * (p.Boards[0] + p.Boards[k-1] + p.Boards[k]) / 3
			}
		})
		near(t, name+": boards", boards, map[string]float64{"four-way": 24.206667, "one-way": 22.54}[name], 1e-6)
		d = laid(t, r, taper.Courses{Start: 0.0127, Taper: 0.02, Fall: 0.02, Within: 0.011})
		near(t, name+": left as it is", d.Leveller.Volume, 0, 0)
		near(t, name+": in the dish", over(t, d, 16, 5), map[string]float64{"four-way": 0.0027 + 0.12, "one-way": 0.0027 + 0.10}[name], 1e-9)
	}
}

// TestBandsOfFlatBoards: over a pyramid of 4 m2 that is 10 mm deep, the area that is d deep or deeper is 4 (1 - d/10 mm)^2 m2: 1.44 at 4 mm, 0.16 at 8 mm. Flat boards of 4 mm
// take what a half of one covers, a second layer where boards are small, and leveller the rest of 4/3*0.010 m3.
func TestBandsOfFlatBoards(t *testing.T) {
	for _, c := range []struct {
		board float64
		bands []taper.Band
		taken float64
	}{
		{1, []taper.Band{{Thickness: 0.004, Area: 1.44}}, 1.44 * 0.004},
		{0.2, []taper.Band{{Thickness: 0.004, Area: 1.28}, {Thickness: 0.008, Area: 0.16}}, 1.60 * 0.004},
		{4, nil, 0},
	} {
		r := dished()
		gutter(r)
		n := laid(t, r, taper.Courses{Start: 0.0127, Taper: 0.02, Fall: 0.02, Within: 0.003, Step: 0.004, Board: c.board}).Leveller
		near(t, "poured", n.Poured, 0.04/3-c.taken, 1e-6)
		if len(n.Bands) != len(c.bands) {
			t.Fatalf("boards of %g m2: %+v, want %+v", c.board, n.Bands, c.bands)
		}
		for i, want := range c.bands {
			near(t, "thickness", n.Bands[i].Thickness, want.Thickness, 1e-12)
			near(t, "area", n.Bands[i].Area, want.Area, 1e-4)
		}
	}
}

func over(t *testing.T, d *taper.Design, x, y float64) float64 {
	t.Helper()
	z, ok := d.Height(orb.Point{x, y})
	if !ok {
		t.Fatalf("no height at %g, %g", x, y)
	}
	return z
}

// TestRunsOverAFallingBase: on a base that rises 1 % to the east four ways of boards of 2 % fall 3 % in the east, 1 % in the west, root(1 + 4) % north and south. By hand the sections round a drain in the middle of 20 by 10 m have 75 m2 east and west, 25 m2
// north and south. Each plane of the base has runs of its own, none where there is no plane.
func TestRunsOverAFallingBase(t *testing.T) {
	r := shape.New("falling", shape.At(0, 0, 0), shape.At(20, 0, 0.2), shape.At(20, 10, 0.2), shape.At(0, 10, 0))
	shape.Grid(r, 0, 0, 20, 10, 10, 5, func(x, _ float64) float64 { return 0.01 * x })
	drain(r, 10, 5, 0.1)
	s := built(t, r)
	d := planOf(t, s)
	l, err := taper.Lay(&taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s), Gauge: domain.FourWay(d.Axis)})
	if err != nil {
		t.Fatal(err)
	}
	c, err := l.Try(taper.Courses{Start: 0.0127, Taper: 0.02, Fall: 0.001, Within: 0.003})
	if err != nil {
		t.Fatal(err)
	}
	west := func(f int32) bool {
		x := 0.0
		for _, v := range s.TIN.V[3*f : 3*f+3] {
			x += s.TIN.X[v] / 3
		}
		return x < 10
	}
	side := math.Sqrt(5) / 100
	for name, c2 := range map[string]struct {
		plane func(f int32) int32
		want  []taper.Run
	}{
		"one plane": {func(int32) int32 { return 0 }, []taper.Run{{Area: 75, Slope: 0.01}, {Area: 25, Slope: side}, {Area: 25, Slope: side}, {Area: 75, Slope: 0.03}}},
		"two planes": {
			func(f int32) int32 {
				if west(f) {
					return 4
				}
				return 7
			},
			[]taper.Run{{Area: 75, Slope: 0.01}, {Area: 12.5, Slope: side}, {Area: 12.5, Slope: side}, {Area: 12.5, Slope: side}, {Area: 12.5, Slope: side}, {Area: 75, Slope: 0.03}},
		},
		"none in the west": {
			func(f int32) int32 {
				if west(f) {
					return -1
				}
				return 0
			},
			[]taper.Run{{Area: 12.5, Slope: side}, {Area: 12.5, Slope: side}, {Area: 75, Slope: 0.03}},
		},
	} {
		got := c.Runs(c2.plane)
		slices.SortFunc(got, func(a, b taper.Run) int { return cmp.Compare(a.Slope, b.Slope) })
		if len(got) != len(c2.want) {
			t.Errorf("%s: %v, want %v", name, got, c2.want)
			continue
		}
		for i, want := range c2.want {
			near(t, name+": area", got[i].Area, want.Area, 1e-6)
			near(t, name+": slope", got[i].Slope, want.Slope, 1e-9)
		}
	}
}

// TestHeaviest: boards from 12.7 mm on, 2 % over 10 m, of 300 Pa a metre of thickness weigh 0.2127 * 300 = 63.81 Pa at the far wall. Over the dish they are 112.7 mm thick, on 10 mm of leveller of 20 kPa a metre: 0.1127 * 300 + 0.010 * 20000 = 233.81 Pa;
// where flat boards take 8 mm of that 0.1207 * 300 + 0.002 * 20000 = 76.21 Pa. Those end on squares of 2 (1 - d/10 mm) m: 4.8 m round at 4 mm, 1.6 m at 8 mm.
func TestHeaviest(t *testing.T) {
	r := dished()
	gutter(r)
	c := taper.Courses{Start: 0.0127, Taper: 0.02, Fall: 0.02, Within: 0.003}
	d := laid(t, r, c)
	near(t, "on leveller", d.Heaviest(300, 20000), 233.81, 1e-4)
	near(t, "light leveller", d.Heaviest(300, 100), 63.81, 1e-4)
	if p := d.Leveller.Places; len(p) != 1 || len(p[0].Outline) != 1 || len(p[0].Outline[0]) != 5 || p[0].At != (orb.Point{16, 5}) {
		t.Errorf("low places %+v", p)
	} else if box := p[0].Outline.Bound(); box.Min != (orb.Point{15, 4}) || box.Max != (orb.Point{17, 6}) || p[0].Outline[0].Orientation() != orb.CCW {
		t.Errorf("low place %v", p[0].Outline)
	}
	c.Step, c.Board = 0.004, 0.2
	d = laid(t, r, c)
	near(t, "on flat boards", d.Heaviest(300, 20000), 76.21, 1e-4)
	round := []float64{4.8, 1.6}
	for i, b := range d.Leveller.Bands {
		length := 0.0
		for _, e := range b.Edges {
			length += math.Hypot(e[1][0]-e[0][0], e[1][1]-e[0][1])
		}
		near(t, "edge of flat boards", length, round[i], 1e-3)
	}
}

// TestWhatNobodyMeasuredStaysAssumed: the corners of a roof, level at 5 m, were not measured. Written as a survey those where the roof stays are assumed as before; where it is raised they are not.
func TestWhatNobodyMeasuredStaysAssumed(t *testing.T) {
	r := shape.New("high", shape.Bare(0, 0), shape.Bare(20, 0), shape.Bare(20, 10), shape.Bare(0, 10))
	shape.Grid(r, 1, 1, 19, 9, 9, 4, func(_, _ float64) float64 { return 5 })
	s := built(t, r)
	z := slices.Clone(s.TIN.Z)
	for v := range z {
		if s.TIN.X[v] > 10 {
			z[v] += 0.05
		}
	}
	west, east := 0, 0
	for _, p := range taper.Raised(planOf(t, s), taper.Existing(s.TIN), z).Roof(r, s).Spots {
		if p.Origin.File != "design" {
			continue
		}
		raised := p.Plan[0] > 10
		near(t, "elevation", p.Z, map[bool]float64{false: 5, true: 5.05}[raised], 1e-9)
		if p.Assumed == raised {
			t.Errorf("%s at %v: assumed %t", p.ID, p.Plan, p.Assumed)
		}
		if raised {
			east++
		} else {
			west++
		}
	}
	if west < 2 || east != west {
		t.Errorf("%d and %d places that nobody measured, want two corners each and as many feet of walls", west, east)
	}
}
