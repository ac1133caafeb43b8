package taper_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

const (
	foot      = float64(quantity.Foot)
	inch      = float64(quantity.Inch)
	boardFoot = foot * foot * inch
)

func built(tb testing.TB, r *roof.Roof) *surface.Surface {
	tb.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func planOf(tb testing.TB, s *surface.Surface) *domain.Domain {
	tb.Helper()
	d, err := domain.New(s.TIN)
	if err != nil {
		tb.Fatal(err)
	}
	return d
}

// level is a walled level rectangle with its corner at the origin.
func level(l, w float64) *roof.Roof {
	return shape.New("level", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, 0), shape.At(0, w, 0))
}

// drain adds a drain with an invert.
func drain(r *roof.Roof, x, y, invert float64) {
	o := shape.Drain(r, x, y, 0.3)
	o.Invert, o.HasInvert = invert, true
}

// least is the lowest surface that meets p, drawn.
func least(p *taper.Problem) (*taper.Design, error) {
	s, err := taper.Solve(p)
	if err != nil {
		return nil, err
	}
	return s.Design(), nil
}

func design(tb testing.TB, r *roof.Roof, slope, thickness float64, gauge func(axis orb.Point) domain.Gauge) *taper.Design {
	tb.Helper()
	s := built(tb, r)
	d := planOf(tb, s)
	out, err := least(&taper.Problem{
		Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s),
		Gauge: gauge(d.Axis), Slope: slope, Thickness: thickness,
	})
	if err != nil {
		tb.Fatal(err)
	}
	return out
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %.2g", what, got, want, tolerance)
	}
}

// TestPyramid: fill over a level rectangle with a drain in the middle, four-way. Volume s*(L*L*W/4 + W*W*W/12), valleys at
// s/sqrt(2), by hand: the integral of s*max(|x|, |y|).
func TestPyramid(t *testing.T) {
	const l, w, slope = 24.0, 15.0, 0.02
	r := level(l, w)
	drain(r, l/2, w/2, 0)
	d := design(t, r, slope, 0, domain.FourWay)
	near(t, "volume", d.Fill.Volume, slope*(l*l*w/4+w*w*w/12), 1e-6)
	near(t, "area", d.Fill.Area, l*w, 1e-6)
	near(t, "greatest", d.Fill.Thickest, slope*l/2, 1e-9)
	if len(d.Facets) != 4 || len(d.Lines) != 4 || len(d.Vertices) != 9 {
		t.Errorf("%d facets, %d lines, %d vertices; want 4, 4, 9", len(d.Facets), len(d.Lines), len(d.Vertices))
	}
	for _, v := range d.Lines {
		if v.Kind != roof.Valley {
			t.Errorf("a line is a %d", v.Kind)
		}
		near(t, "valley", v.Slope, slope*math.Sqrt(0.5), 1e-9)
	}
}

// TestDisc: over a disc with its drain in the middle four equal falls fill (4/pi)*sin(pi/4) = 0.900 of what a cone fills: by hand, the integral of
// cos over a wedge.
func TestDisc(t *testing.T) {
	const radius, slope, n = 10.0, 0.02, 360
	var corners []roof.Position
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		corners = append(corners, shape.At(radius*cos, radius*sin, 0))
	}
	r := shape.New("disc", corners...)
	drain(r, 0, 0, 0)
	d := design(t, r, slope, 0, domain.FourWay)
	cone := slope * 2 * math.Pi * radius * radius * radius / 3
	near(t, "share of the cone", d.Fill.Volume/cone, 4/math.Pi*math.Sin(math.Pi/4), 2e-4)
}

// TestHip: gutters all round. Volume s*W*W*(3L-W)/12, by hand.
func TestHip(t *testing.T) {
	const l, w, slope = 24.0, 10.0, 0.02
	r := level(l, w)
	r.Outline.Edge = roof.Gutter
	d := design(t, r, slope, 0, domain.FourWay)
	near(t, "volume", d.Fill.Volume, slope*w*w*(3*l-w)/12, 1e-6)
	if len(d.Facets) != 4 || len(d.Lines) != 5 {
		t.Errorf("%d facets and %d lines; want 4 and 5", len(d.Facets), len(d.Lines))
	}
	for _, v := range d.Lines {
		if v.Kind != roof.Hip && v.Kind != roof.Ridge {
			t.Errorf("a line is a %d", v.Kind)
		}
	}
}

// TestOneWayBoardFeet: 40 by 40 ft at 1/4 in per ft to a gutter. A trade article gives 8,400 board feet (READ), an average of 5.25 in, which is
// the mean of what starts at nothing, 8,000, and at 1/2 in, 8,800: both by hand.
func TestOneWayBoardFeet(t *testing.T) {
	r := level(40*foot, 40*foot)
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(40*foot, 0))
	thin := design(t, r, 1.0/48, 0, domain.FourWay)
	thick := design(t, r, 1.0/48, inch/2, domain.FourWay)
	near(t, "from nothing", thin.Fill.Volume/boardFoot, 8000, 0.5)
	near(t, "from 1/2 in", thick.Fill.Volume/boardFoot, 8800, 0.5)
	near(t, "published", (thin.Fill.Volume+thick.Fill.Volume)/2/boardFoot, 8400, 0.5)
	near(t, "rise", thin.Fill.Thickest, 10*inch, 1e-4)
}

// TestGutterOfATriangle: along a gutter of 12 m the roof rises square to it however sharp its corners there are: over a triangle 9 m deep by s 12 x 9 x 9/6, by hand a prism's third.
func TestGutterOfATriangle(t *testing.T) {
	const slope = 0.02
	for _, x := range []float64{0, 4, 12} { // of the corner opposite
		r := shape.New("triangle", shape.At(0, 0, 0), shape.At(12, 0, 0), shape.At(x, 9, 0))
		shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(12, 0))
		d := design(t, r, slope, 0, func(orb.Point) domain.Gauge { return domain.FourWay(orb.Point{1, 0}) })
		near(t, "volume", d.Fill.Volume, slope*12*9*9/6, 1e-6)
		near(t, "greatest", d.Fill.Thickest, slope*9, 1e-9)
		if len(d.Facets) != 1 {
			t.Errorf("%d facets", len(d.Facets))
		}
	}
}

// TestThicknesses: 40 by 40 ft from 1/2 in at 1/4 in per ft: low centre on average 3.833 in, at most 5.5 in, 6,133 board feet; low edges all round
// 2.167 in and 3,467 board feet. By hand: t0 + (2/3)*s*a/2 and t0 + (1/3)*s*a/2.
func TestThicknesses(t *testing.T) {
	low := level(40*foot, 40*foot)
	drain(low, 20*foot, 20*foot, 0)
	d := design(t, low, 1.0/48, inch/2, domain.FourWay)
	near(t, "low centre, average", d.Fill.Volume/d.Fill.Area/inch, 23.0/6, 1e-3)
	near(t, "low centre, greatest", d.Fill.Thickest/inch, 5.5, 1e-3)
	near(t, "low centre, board feet", d.Fill.Volume/boardFoot, 6133.33, 0.5)
	high := level(40*foot, 40*foot)
	high.Outline.Edge = roof.Gutter
	d = design(t, high, 1.0/48, inch/2, domain.FourWay)
	near(t, "high centre, average", d.Fill.Volume/d.Fill.Area/inch, 13.0/6, 1e-3)
	near(t, "high centre, board feet", d.Fill.Volume/boardFoot, 3466.67, 0.5)
}

// TestTwoWayCricket: two outlets 40 ft apart on a wall, crickets half as wide as long (a full diamond; half of it lies on the roof, 10 ft deep),
// planes at 1/4 in per ft: valleys 22.36 ft long at 0.1118 in per ft, by hand from s*sin(atan(W/L)).
func TestTwoWayCricket(t *testing.T) {
	r := level(40*foot, 30*foot)
	for _, x := range []float64{0, 40 * foot} {
		o := shape.Scupper(r, x, 0, 0.2)
		o.Invert, o.HasInvert = 0, true
	}
	d := design(t, r, 1.0/48, 0, func(axis orb.Point) domain.Gauge { return domain.TwoWay(axis, 0.5) })
	valleys := d.Valleys()
	if len(valleys) != 2 {
		t.Fatalf("%d valleys, want 2", len(valleys))
	}
	for _, v := range valleys {
		near(t, "length in ft", v.Length/foot, math.Sqrt(500), 1e-3)
		near(t, "fall in in per ft", v.Slope*12, 0.25*0.5/math.Sqrt(1.25), 1e-6)
	}
}

// court is an L-shaped roof with three curbs and three drains, all on a grid of half a metre; in is its plan.
func court() (r *roof.Roof, in func(x, y float64) bool, drains [][3]float64) {
	r = shape.New("court", shape.At(0, 0, 0), shape.At(30, 0, 0), shape.At(30, 10, 0), shape.At(12, 10, 0), shape.At(12, 22, 0), shape.At(0, 22, 0))
	curbs := [][4]float64{{4, 4, 8, 6}, {14, 3, 15.5, 8}, {3, 12, 6, 16.5}}
	for _, c := range curbs {
		shape.Curb(r, shape.Bare(c[0], c[1]), shape.Bare(c[2], c[1]), shape.Bare(c[2], c[3]), shape.Bare(c[0], c[3]))
	}
	drains = [][3]float64{{2.5, 19, 0.01}, {20, 5, 0}, {6, 2, 0.02}}
	for _, p := range drains {
		drain(r, p[0], p[1], p[2])
	}
	in = func(x, y float64) bool {
		for _, c := range curbs {
			if x > c[0] && x < c[2] && y > c[1] && y < c[3] {
				return false
			}
		}
		return x >= 0 && y >= 0 && (x <= 30 && y <= 10 || x <= 12 && y <= 22)
	}
	return r, in, drains
}

// TestLeastAgainstGrid: every node of the reference agrees, curbs and re-entrant corner in the way. So no place can be lowered.
func TestLeastAgainstGrid(t *testing.T) {
	const slope = 1.0 / 48
	r, in, drains := court()
	d := design(t, r, slope, 0, domain.FourWay)
	g := &grid{h: 0.25, nx: 120, ny: 88, open: in, base: func(_, _ float64) float64 { return 0 }}
	g.solve(slope, drains...)
	nodes, worst := 0, 0.0
	for i := range g.z {
		if x, y := float64(i%121)*g.h, float64(i/121)*g.h; !math.IsInf(g.z[i], 1) && in(x, y) {
			z, ok := d.Height(orb.Point{x, y})
			if !ok {
				t.Fatalf("no surface at (%g, %g)", x, y)
			}
			worst = math.Max(worst, math.Abs(z-g.z[i]))
			nodes++
		}
	}
	if nodes < 5000 || worst > 1e-6 {
		t.Errorf("%d nodes, %g m apart at most", nodes, worst)
	}
}

// TestTurnedRoof: the same roof turned by an angle is filled alike.
func TestTurnedRoof(t *testing.T) {
	r, _, _ := court()
	want := design(t, r, 1.0/48, 0.0127, domain.FourWay)
	turned, _, _ := court()
	turn(turned, 0.6)
	got := design(t, turned, 1.0/48, 0.0127, domain.FourWay)
	near(t, "volume", got.Fill.Volume, want.Fill.Volume, 1e-4)
	if len(got.Facets) != len(want.Facets) {
		t.Errorf("%d facets, not %d", len(got.Facets), len(want.Facets))
	}
}

// TestAdmissible: at 10,000 random places of uneven roofs the surface clears the base by the thickness, its plane has the slope, and from the
// place a straight way on the roof falls at the slope in the gauge: no place is stuck short of an outlet.
func TestAdmissible(t *testing.T) {
	const slope, thickness = 1.0 / 48, 0.0127
	places := 0
	for seed := uint64(0); places < 10000; seed++ {
		r := shape.Random(seed, 150)
		s := built(t, r)
		if len(taper.Sources(s)) == 0 {
			continue
		}
		d, err := least(&taper.Problem{
			Domain: planOf(t, s), Base: taper.Existing(s.TIN), Sources: taper.Sources(s),
			Gauge: domain.FourWay(planOf(t, s).Axis), Slope: slope, Thickness: thickness,
		})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		random := rand.New(rand.NewPCG(seed, 7))
		locate := surface.NewLocator(s.TIN)
		box := d.Facets[0].Polygon.Bound()
		for _, f := range d.Facets {
			box = box.Union(f.Polygon.Bound())
		}
		for range 500 {
			p := orb.Point{
				box.Min[0] + random.Float64()*(box.Max[0]-box.Min[0]),
				box.Min[1] + random.Float64()*(box.Max[1]-box.Min[1]),
			}
			base, on := locate.HeightAt(p[0], p[1])
			if !on {
				continue
			}
			places++
			z, _ := d.Height(p)
			if z < base+thickness-2e-6 {
				t.Errorf("seed %d: %g above the base at %v", seed, z-base, p)
			}
			falls(t, seed, d, p, slope, locate)
		}
	}
}

// falls looks for a way of a centimetre, or of less beside the border, in 32 directions.
func falls(t *testing.T, seed uint64, d *taper.Design, p orb.Point, slope float64, locate *surface.Locator) {
	t.Helper()
	f := d.Facets[d.FacetAt(p)]
	if !(math.Abs(math.Sqrt(f.DX*f.DX+f.DY*f.DY)-slope) <= 1e-9) {
		t.Errorf("seed %d: a plane of %g, %g", seed, f.DX, f.DY)
	}
	z, _ := d.Height(p)
	for _, step := range []float64{0.01, 0.001} {
		for k := range 32 {
			sin, cos := math.Sincos(math.Pi * float64(k) / 16)
			v := orb.Point{step * cos, step * sin}
			q := orb.Point{p[0] - v[0], p[1] - v[1]}
			if _, on := locate.Locate(q[0], q[1]); !on {
				continue
			}
			if y, _ := d.Height(q); y <= z-slope*d.Gauge.N(v)+1e-9 {
				return
			}
		}
	}
	t.Errorf("seed %d: no way falls from %v", seed, p)
}

// busy is a roof of 40 by 25 m with six drains, ten curbs askew and about 300 spots that are 3 mm off at most.
func busy() *roof.Roof {
	r := level(40, 25)
	for i := range 3 {
		for j := range 2 {
			drain(r, 7.1+13*float64(i), 6.1+12*float64(j), 0.01*float64(i))
		}
	}
	for i := range 10 {
		x, y := 2+3.7*float64(i), 3+7*float64(i%3)
		shape.Curb(r, shape.Bare(x, y), shape.Bare(x+1.5, y+0.2), shape.Bare(x+1.3, y+1.7), shape.Bare(x-0.2, y+1.5))
	}
	random := rand.New(rand.NewPCG(1, 2))
	shape.Grid(r, 0, 0, 40, 25, 20, 15, func(_, _ float64) float64 { return math.Round(6*random.Float64()-3) / 1000 })
	return r
}

func BenchmarkLeast(b *testing.B) {
	s := built(b, busy())
	d := planOf(b, s)
	for b.Loop() {
		if _, err := least(&taper.Problem{
			Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s),
			Gauge: domain.FourWay(d.Axis), Slope: 1.0 / 48, Thickness: inch / 2,
		}); err != nil {
			b.Fatal(err)
		}
	}
}

// height returns the elevation of a surface at p.
func height(s *surface.Surface, p orb.Point) (float64, bool) {
	return surface.NewLocator(s.TIN).HeightAt(p[0], p[1])
}

// TestLeastOverASlope: over a base z = 5 + x/100 + y/50 on 10 by 10 m a taper of 3 % from the corner (0, 0), 20 mm thick at least, stands at 5.02 + 0.03 max(x, y): nowhere nearer to the base than there. By
// hand, the integral of max(x, y) over the square is 2 a3/3 and that of x is a3/2, so that the fill is a3 (0.02 - 0.005 - 0.01) + 0.02 a2 = 7 m3.
func TestLeastOverASlope(t *testing.T) {
	const a = 10.0
	base := func(x, y float64) float64 { return 5 + x/100 + y/50 }
	r := shape.New("slope", shape.At(0, 0, base(0, 0)), shape.At(a, 0, base(a, 0)), shape.At(a, a, base(a, a)), shape.At(0, a, base(0, a)))
	shape.Spot(r, 3, 7, base(3, 7))
	s := built(t, r)
	d := planOf(t, s)
	p := &taper.Problem{
		Domain: d, Base: taper.Existing(s.TIN), Sources: []taper.Source{{Plan: orb.Point{0, 0}, Z: math.Inf(-1)}}, Gauge: domain.FourWay(d.Axis), Slope: 0.03, Thickness: 0.02,
	}
	out, err := least(p)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volume", out.Fill.Volume, 7, 1e-6)
	solved, err := taper.Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volume by two integrals", solved.Volume(), 7, 1e-6)
	near(t, "level of the source", out.Outlets[0].Top, 5.02, 1e-6)
	for _, v := range out.Vertices {
		near(t, "base", v.Base, base(v.Plan[0], v.Plan[1]), 1e-6)
		near(t, "thickness", v.Thickness(), 5.02+0.03*math.Max(v.Plan[0], v.Plan[1])-base(v.Plan[0], v.Plan[1]), 1e-6)
	}
	p.Sources[0].Plan = orb.Point{4, 3} // its corners lie within the facets of the base, too
	if out, err = least(p); err != nil {
		t.Fatal(err)
	}
	inner := 0
	for _, v := range out.Vertices {
		near(t, "base", v.Base, base(v.Plan[0], v.Plan[1]), 1e-6)
		if v.Plan[0] > 0.1 && v.Plan[0] < a-0.1 && v.Plan[1] > 0.1 && v.Plan[1] < a-0.1 {
			inner++
		}
	}
	if inner == 0 {
		t.Error("no corner lies within the roof")
	}
}
