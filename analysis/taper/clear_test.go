package taper_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// sagging is a walled roof of 24 by 12 m that falls to its drain by less than asked, with a hump on the way and a dish behind it.
func sagging(x, y float64) float64 {
	z := 0.008 * math.Max(math.Abs(x-6), math.Abs(y-6))
	z += 0.06 * math.Exp(-((x-12)*(x-12)/6 + (y-6)*(y-6)/30))
	z -= 0.08 * math.Exp(-((x-18)*(x-18)+(y-6)*(y-6))/6)
	return math.Round(z*1e5) / 1e5
}

// meshed is that roof with spots on a grid of n steps a metre.
func meshed(n int) *roof.Roof {
	r := shape.New("sagging", shape.At(0, 0, sagging(0, 0)), shape.At(24, 0, sagging(24, 0)), shape.At(24, 12, sagging(24, 12)), shape.At(0, 12, sagging(0, 12)))
	shape.Grid(r, 0, 0, 24, 12, 24*n, 12*n, sagging)
	o := shape.Drain(r, 6, 6, 0.3)
	o.Invert, o.HasInvert = sagging(6, 6), true
	return r
}

// TestClearAgainstGrid: on an uneven base the fill comes within 1 % of a reference by another method on a finer grid.
func TestClearAgainstGrid(t *testing.T) {
	const slope = 1.0 / 96
	s := built(t, meshed(4))
	d := planOf(t, s)
	p := &taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s), Gauge: domain.FourWay(d.Axis), Slope: slope}
	z := taper.Clear(p, taper.Seeds(s, p.Sources))
	got := taper.Raised(d, p.Base, z).Fill.Volume

	g := &grid{h: 0.125, nx: 192, ny: 96, base: sagging, open: func(_, _ float64) bool { return true }}
	g.solve(slope, [3]float64{6, 6, sagging(6, 6)})
	want := 0.0
	for j := range g.ny {
		for i := range g.nx {
			x, y := (float64(i)+0.5)*g.h, (float64(j)+0.5)*g.h
			n := i + (g.nx+1)*j
			top := (g.z[n] + g.z[n+1] + g.z[n+g.nx+1] + g.z[n+g.nx+2]) / 4
			want += math.Max(0, top-sagging(x, y)) * g.h * g.h
		}
	}
	near(t, "volume", got, want, 0.01*want)
}

// TestClearedRoofDrains: the surface so filled, read as a survey, holds nothing; it is nowhere lower than it was.
func TestClearedRoofDrains(t *testing.T) {
	r := meshed(1)
	s := built(t, r)
	before, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	d := planOf(t, s)
	p := &taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s), Gauge: domain.FourWay(d.Axis), Slope: 1.0 / 96}
	out := taper.Raised(d, p.Base, taper.Clear(p, taper.Seeds(s, p.Sources)))
	again := built(t, out.Roof(r, s))
	after, err := ponding.Find(again.Cut, again.Outlets, again.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	deepest := func(ps *ponding.Ponds) (depth float64) {
		for _, p := range ps.Ponds {
			depth = math.Max(depth, p.Depth)
		}
		return depth
	}
	if deepest(before) < 0.05 || deepest(after) > 0.001 {
		t.Errorf("water %g m deep before and %g after", deepest(before), deepest(after))
	}
	if out.Fill.Cut > 1e-9 || out.Fill.Volume <= 0 {
		t.Errorf("%+v", out.Fill)
	}
}

// TestLowerTo: a drain on a plane level at 0 is set down by d and the surface cut to planes of slope s round it: by hand a pyramid of
// base (2d/s)^2 and volume 4*d^3/(3*s^2), its cut line a square d/s from the drain.
func TestLowerTo(t *testing.T) {
	const depth, slope = 0.06, 1.0 / 48
	r := level(20, 14)
	shape.Grid(r, 0, 0, 20, 14, 10, 7, func(_, _ float64) float64 { return 0 })
	drain(r, 9, 7, 0)
	s := built(t, r)
	d := planOf(t, s)
	a := taper.Alter(d, taper.Existing(s.TIN))
	a.LowerTo(&taper.Problem{
		Domain: d, Base: taper.Existing(s.TIN), Gauge: domain.FourWay(d.Axis), Slope: slope,
		Sources: []taper.Source{{Outlet: 0, Plan: orb.Point{9, 7}, Z: -depth}},
	}, 0)
	out := a.Design()
	near(t, "cut", out.Fill.Cut, 4*depth*depth*depth/(3*slope*slope), 1e-6)
	near(t, "fill", out.Fill.Volume, 0, 1e-9)
	near(t, "area", out.Fill.Area, 4*depth*depth/(slope*slope), 1e-4)
	near(t, "deepest", out.Fill.Thinnest, -depth, 1e-6)
	if line := out.CutLines(); len(line) != 1 || len(line[0]) != 5 {
		t.Errorf("cut lines %v", line)
	}
	next := out.Roof(r, s)
	next.Outlets[0].Invert = -depth
	again := built(t, next)
	z, _ := height(again, orb.Point{9, 7})
	near(t, "drain", z, -depth, 1e-5)
	z, _ = height(again, orb.Point{9 + depth/slope/2, 7.3})
	near(t, "half way", z, -depth/2, 1e-4)
}

// TestRaise: a square pyramid set on a level roof is filled, by hand a third of base times height.
func TestRaise(t *testing.T) {
	r := level(10, 10)
	s := built(t, r)
	a := taper.Alter(planOf(t, s), taper.Existing(s.TIN))
	top := orb.Point{5, 5}
	corners := []orb.Point{{3, 3}, {7, 3}, {7, 7}, {3, 7}}
	for i, g := range []orb.Point{{0, 0.05}, {-0.05, 0}, {0, -0.05}, {0.05, 0}} {
		a.Raise(taper.Patch{On: []orb.Point{corners[i], corners[(i+1)%4], top}, Plan: top, Z: 0.1, DX: g[0], DY: g[1]})
	}
	d := a.Design()
	near(t, "fill", d.Fill.Volume, 16*0.1/3, 1e-9)
	near(t, "greatest", d.Fill.Thickest, 0.1, 1e-9)
}

// TestClearToAGutter, by hand: a level roof of 16 by 12 m on spots a metre apart is filled to fall 2 % to a gutter along its south side: as high as 2 % of the way to it, 0.02 * 16 * 12^2 / 2 = 23.04 m3. To a drain that stands 50 mm over the roof in the middle of a facet all of it stands that high at least.
func TestClearToAGutter(t *testing.T) {
	r := level(16, 12)
	shape.Grid(r, 0, 0, 16, 12, 16, 12, func(_, _ float64) float64 { return 0 })
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(16, 0))
	s := built(t, r)
	d := planOf(t, s)
	p := &taper.Problem{Domain: d, Base: taper.Existing(s.TIN).Prepared(), Sources: taper.Sources(s), Gauge: domain.FourWay(d.Axis), Slope: 0.02}
	seeds := taper.Seeds(s, p.Sources)
	if len(seeds) != 17 {
		t.Errorf("%d seeds along a gutter of 17 spots", len(seeds))
	}
	z := taper.Clear(p, seeds)
	for v := range z {
		if want := 0.02 * s.TIN.Y[v]; !(math.Abs(z[v]-want) <= 1e-9) {
			t.Errorf("(%g, %g) stands at %g, want %g", s.TIN.X[v], s.TIN.Y[v], z[v], want)
		}
	}
	near(t, "fill", taper.Raised(d, p.Base, z).Fill.Volume, 23.04, 1e-6)
	p.Sources = []taper.Source{{Outlet: -1, Plan: orb.Point{5.3, 4.4}, Z: 0.05}, {Outlet: -1, Plan: orb.Point{40, 4}, Z: -9}}
	if seeds = taper.Seeds(s, p.Sources); len(seeds) != 3 {
		t.Errorf("%d seeds of a drain within a facet and one off the roof, want its three corners", len(seeds))
	}
	least := math.Inf(1)
	for _, h := range taper.Clear(p, seeds) {
		least = math.Min(least, h)
	}
	near(t, "lowest", least, 0.05, 1e-12)
}

// TestRaisedFoldsStayLines: a roof whose spots are raised by 1 % of x, its ridge among them, is written with the ridge as the one line, through every spot on it, and all in their places; read again it has these heights.
func TestRaisedFoldsStayLines(t *testing.T) {
	r := level(20, 10)
	shape.Grid(r, 2, 2, 18, 8, 8, 3, func(_, _ float64) float64 { return 0 })
	shape.Breakline(r, roof.Ridge, shape.At(2, 4, 0), shape.At(18, 4, 0)) // over seven spots between its ends
	s := built(t, r)
	z := append([]float64(nil), s.TIN.Z...)
	for v := range z {
		z[v] += 0.01 * s.TIN.X[v]
	}
	out := taper.Raised(planOf(t, s), taper.Existing(s.TIN), z).Roof(r, s)
	if len(out.Breaklines) != 1 || len(out.Breaklines[0].Line) != 9 || out.Breaklines[0].ID != r.Breaklines[0].ID || out.Breaklines[0].Type != roof.Ridge {
		t.Fatalf("%+v", out.Breaklines)
	}
	for i, p := range out.Breaklines[0].Line {
		near(t, "x", p.Plan[0], 2+2*float64(i), 1e-9)
		near(t, "y", p.Plan[1], 4, 1e-9)
		near(t, "z", p.Z, 0.01*p.Plan[0], 1e-9)
	}
	again := built(t, out)
	for v := range again.TIN.X {
		near(t, "read again", again.TIN.Z[v], 0.01*again.TIN.X[v], 2e-5)
	}
	if len(again.TIN.X) != len(s.TIN.X) {
		t.Errorf("%d places, before %d", len(again.TIN.X), len(s.TIN.X))
	}
}
