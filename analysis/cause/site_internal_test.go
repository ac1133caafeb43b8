package cause

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// modelOf runs the steps before the causes on a roof and returns the model with the site of its worst pond.
func modelOf(t *testing.T, r *roof.Roof) (*model, *site) {
	t.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	sl, err := slope.Of(s, r, standard.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	if len(ps.Ponds) == 0 {
		t.Fatal("no pond")
	}
	m := newModel(s, sl, ps, standard.Defaults())
	first, wet := byPond(ps)
	return m, m.site(0, wet[first[0]:first[1]])
}

// shed falls from y = 12 to a gutter along y = 0 over a width of 20 m; rows of spots at ys.
func shed(ys []float64, height func(y float64) float64) *roof.Roof {
	r := shape.New("shed", shape.At(0, 0, height(0)), shape.At(20, 0, height(0)), shape.At(20, 12, height(12)), shape.At(0, 12, height(12)))
	for _, y := range ys {
		for x := range 21 {
			shape.Spot(r, float64(x), y, height(y))
		}
	}
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	return r
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %g, want %g within %g", what, got, want, tolerance)
	}
}

// TestSiteOfAWedge: behind a ridge of 30 mm across a fall of 20 mm per m at y = 4, its feet at 3.9 and 4.1,
// water stands from y = 4 to where the plane has the ridge's top, 80 + 30 = 110 mm: y = 5.5. By hand: a
// rectangle of 20 by 1.5 m against 1.5 m of wall at each end; lowest at the foot, 82 mm.
func TestSiteOfAWedge(t *testing.T) {
	m, st := modelOf(t, shed([]float64{0, 1, 2, 3, 3.9, 4, 4.1, 5, 6, 8, 10, 12}, func(y float64) float64 {
		return 0.02*y + 0.03*math.Max(0, 1-math.Abs(y-4)/0.1)
	}))
	near(t, "level", st.p.Level, 0.11, 1e-9)
	near(t, "lowest", st.low, 0.082, 1e-9)
	near(t, "length", st.long, 20, 1e-6)
	near(t, "width", st.wide, 1.5, 1e-6)
	near(t, "middle", st.centre[1], 4.75, 1e-6)
	near(t, "axis", math.Abs(st.axis[0]), 1, 1e-9)
	near(t, "wall", st.shore.wall, 3, 1e-6)
	near(t, "curb", st.shore.curb, 0, 0)
	near(t, "open edge", st.shore.open, 0, 0)
	if st.outlet < 0 || !m.edgeOutlet(st.outlet) {
		t.Errorf("the water should reach the gutter, not outlet %d", st.outlet)
	}
	last := len(st.way.v) - 1
	near(t, "end of the way", m.t.Y[st.way.v[last]], 0, 0)
	near(t, "length of the way", st.way.s[last], 4.1, 1e-6)
	near(t, "lip on the way", m.t.Z[st.way.v[st.way.lip]], 0.11, 1e-9)
}

// TestCrestOfARidge: 0.1 m from foot to top, 30 mm above the plane on both sides, as long as the eye follows.
func TestCrestOfARidge(t *testing.T) {
	m, st := modelOf(t, shed([]float64{0, 1, 2, 3, 3.9, 4, 4.1, 5, 6, 8, 10, 12}, func(y float64) float64 {
		return 0.02*y + 0.03*math.Max(0, 1-math.Abs(y-4)/0.1)
	}))
	c := m.crestOf(st)
	near(t, "rise", c.rise, 0.1, riseStep/2)
	near(t, "across", c.across[1], -1, 0.01)
	near(t, "over the ground before", c.up, 0.03, 1e-4)
	near(t, "over the ground beyond", c.down, 0.03, 1e-4)
	near(t, "hump", c.hump, 1, 0.01)
	if c.length < 5 {
		t.Errorf("length %g m of a ridge of 20 m", c.length)
	}
}

// TestCrestOfAStep: below y = 4 all is 23 mm thicker: the crest stands 23 mm over the ground before carried on,
// and on the ground beyond carried back.
func TestCrestOfAStep(t *testing.T) {
	m, st := modelOf(t, shed([]float64{0, 1, 2, 3, 3.85, 4, 5, 6, 8, 10, 12}, func(y float64) float64 {
		return 0.02*y + 0.023*math.Min(1, math.Max(0, (4-y)/0.15))
	}))
	c := m.crestOf(st)
	near(t, "rise", c.rise, 0.15, 1.5*riseStep)
	near(t, "over the ground before", c.up, 0.023, 1e-4)
	near(t, "over the ground beyond", c.down, 0, 1e-4)
}

// TestHollowIsNoHump: a bowl of radius 3 m sunk by 80 mm into a plane of 20 mm per m: its lip is the plane.
func TestHollowIsNoHump(t *testing.T) {
	r := shape.New("dish", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 14, 0.28), shape.At(0, 14, 0.28))
	shape.Grid(r, 0, 0, 20, 14, 40, 28, func(x, y float64) float64 {
		d := math.Hypot(x-10, y-7) / 3
		return 0.02*y - 0.08*math.Max(0, 1-d*d)
	})
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	m, st := modelOf(t, r)
	if c := m.crestOf(st); c.hump > 0.1 {
		t.Errorf("a hollow's lip is held for a hump by %g", c.hump)
	}
	// z = 0.02 y - 0.08 + 0.08 d²/9: both curvatures are 2 * 0.08/9 under the water's middle
	b, ok := fitBend(m.sampled(st, st.p.Facets))
	if !ok {
		t.Fatal("no fit")
	}
	big, small, _ := eigen(b.xx, b.xy, b.yy)
	near(t, "greater curvature", big, 0.16/9, 0.002)
	near(t, "lesser curvature", small, 0.16/9, 0.004) // the lip's side holds facets of the plane as well
	if wider := m.basinOf(st); wider.small <= 0 || wider.explained < 0.3 {
		t.Errorf("a bowl is not seen in %+v", wider)
	}
}

// TestTypicalSlope: on a plane of 3 % half of the roof slopes 3 %, whatever lies in it.
func TestTypicalSlope(t *testing.T) {
	m, st := modelOf(t, shed([]float64{0, 1, 2, 3, 3.9, 4, 4.1, 5, 6, 8, 10, 12}, func(y float64) float64 {
		return 0.03*y + 0.03*math.Max(0, 1-math.Abs(y-4)/0.1)
	}))
	near(t, "typical slope", m.typicalSlope(m.ground(st, 5)), 0.03, 1e-6)
}

// TestProbe: readings between spots lie on the plane; off the roof there is none, and the next one on it is
// right again.
func TestProbe(t *testing.T) {
	m, st := modelOf(t, shed([]float64{0, 1, 2, 3, 3.9, 4, 4.1, 5, 6, 8, 10, 12}, func(y float64) float64 {
		return 0.02*y + 0.03*math.Max(0, 1-math.Abs(y-4)/0.1)
	}))
	m.probe.start(st.deep)
	for _, p := range [][3]float64{{3.3, 9.1, 0.182}, {17.9, 0.4, 0.008}, {10.5, 4, 0.11}, {0, 12, 0.24}} {
		h, ok := m.probe.height(p[0], p[1])
		if !ok {
			t.Fatalf("no reading at %v", p[:2])
		}
		near(t, "reading", h, p[2], 1e-9)
		if _, ok := m.probe.height(25, p[1]); ok {
			t.Error("a reading off the roof")
		}
	}
}

// TestNoise: stated deviations count by their root mean square; else the scatter, but no more than 3 mm; else 2 mm.
func TestNoise(t *testing.T) {
	for _, c := range []struct {
		sigma   []float64
		scatter float64
		want    float64
	}{
		{[]float64{0.003, 0, 0.004}, 0.01, math.Sqrt((9e-6 + 16e-6) / 2)},
		{[]float64{0, 0}, 0.0015, 0.0015},
		{[]float64{0, 0}, 0.012, 0.003},
		{nil, 0, 0.002},
	} {
		near(t, "noise", noiseOf(&surface.TIN{Sigma: c.sigma}, c.scatter), c.want, 1e-12)
	}
}

// TestRamp runs either way and stays within 0 and 1.
func TestRamp(t *testing.T) {
	for _, c := range [][4]float64{{0, 1, 3, 0}, {2, 1, 3, 0.5}, {9, 1, 3, 1}, {9, 3, 1, 0}, {1.5, 3, 1, 0.75}} {
		near(t, "ramp", ramp(c[0], c[1], c[2]), c[3], 1e-12)
	}
}
