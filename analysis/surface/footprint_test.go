package surface_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// bowlArea is the area of a regular polygon of 16 corners on a circle of diameter d: 8 r^2 sin(22.5 degrees).
func bowlArea(d float64) float64 { return 8 * d * d / 4 * math.Sin(math.Pi/8) }

// cutAt builds a roof with one drain and returns its surface and outlet.
func cutAt(t *testing.T, r *roof.Roof, x, y, bowl float64) (*surface.Surface, *surface.Outlet) {
	t.Helper()
	shape.Drain(r, x, y, bowl)
	s := build(t, r)
	proveSigns(t, s)
	proveCut(t, s)
	return s, &s.Outlets[0]
}

// Corners stand on the grid, so an area is met to the bowl's girth times half a grid unit.
func TestBowls(t *testing.T) {
	curbed := func() *roof.Roof {
		r := shape.Plane(12, 8, 0.02, 4)
		shape.Curb(r, shape.Bare(5, 3), shape.Bare(6, 3), shape.Bare(6, 5), shape.Bare(5, 5))
		return r
	}
	cases := []struct {
		name       string
		r          *roof.Roof
		x, y, bowl float64
		share      float64 // of the bowl that lies on the roof, by hand
	}{
		{"inside one facet", shape.Plane(12, 8, 0.02, 4), 1.2, 0.7, 0.2, 1},
		{"across facets", shape.Plane(12, 8, 0.02, 4), 5, 3.1, 4, 1},
		{"on a vertex", shape.Plane(12, 8, 0.02, 4), 6, 4, 0.3, 1},
		{"on an edge", shape.Plane(12, 8, 0.02, 4), 4.2, 4, 0.3, 1},
		{"in a valley's foot", shape.Pyramid(12, 8, 0.02, 1), 0, 0, 0.3, 1},
		{"half over the wall", shape.Plane(12, 8, 0.02, 4), 0, 3, 1, 0.5},
		{"over a corner", shape.Plane(12, 8, 0.02, 4), 12, 8, 1, 0.25},
		{"half over a curb", curbed(), 5, 4, 1, 0.5},
		{"over a curb's corner", curbed(), 6, 5, 1, 0.75},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			c.r.Outlets = nil
			s, o := cutAt(t, c.r, c.x, c.y, c.bowl)
			if got, want := footprint(s, o), c.share*bowlArea(c.bowl); !near(got, want, 4*c.bowl*surface.Grid) {
				t.Errorf("footprint covers %.7f, want %.7f", got, want)
			}
			if !has(s.Cut, c.x-c.bowl/2, c.y) && c.share == 1 {
				t.Error("the bowl has no corner due west")
			}
			low := math.Inf(1)
			for _, v := range o.Vertices {
				low = math.Min(low, s.Cut.Z[v])
				if d := math.Hypot(s.Cut.X[v]-c.x, s.Cut.Y[v]-c.y); d > c.bowl/2+2*surface.Grid {
					t.Errorf("vertex %d of the footprint is %.5f from the drain", v, d)
				}
			}
			if o.Low != low || o.Invert != low || !o.InvertAssumed || !o.Dry() {
				t.Errorf("low %g, invert %g, lowest vertex %g", o.Low, o.Invert, low)
			}
		})
	}
}

// On a plane rising 0.02 to the north the lowest point of a bowl is its southern corner.
func TestInverts(t *testing.T) {
	r := shape.Plane(12, 8, 0.02, 4)
	shape.Drain(r, 3, 4, 0.4).DamHeight = 0.05
	given := shape.Drain(r, 6, 4, 0.4)
	given.Invert, given.HasInvert = 0.5, true
	s := build(t, r)
	if o := s.Outlets[0]; !near(o.Low, 0.02*3.8, 1e-9) || !near(o.Invert, 0.02*3.8+0.05, 1e-9) || !o.InvertAssumed || o.Dry() {
		t.Errorf("drain with a dam: %+v", o)
	}
	if o := s.Outlets[1]; o.Invert != 0.5 || o.InvertAssumed || o.Dry() {
		t.Errorf("drain with an invert: %+v", o)
	}
}

func TestOverlappingFootprints(t *testing.T) {
	r := shape.Plane(12, 8, 0.02, 4)
	for i, in := range []float64{0.3, 0.1, 0.2} {
		o := shape.Drain(r, 5+0.1*float64(i), 4, 0.4)
		o.Invert, o.HasInvert = in, true
	}
	hidden := shape.Drain(r, 5.1, 4, 0.1)
	hidden.Invert, hidden.HasInvert, hidden.Duty, hidden.Label = 0.1, true, roof.Overflow, "OD-9"
	s := build(t, r)
	full := bowlArea(0.4)
	if got := footprint(s, &s.Outlets[1]); !near(got, full, 1e-4) {
		t.Errorf("the lowest invert has %.6f of its bowl, want all %.6f", got, full)
	}
	all := 0.0
	for i := range s.Outlets {
		all += footprint(s, &s.Outlets[i])
	}
	if a, c := footprint(s, &s.Outlets[0]), footprint(s, &s.Outlets[2]); a >= c+1e-4 || all >= 3*full || a == 0 {
		t.Errorf("footprints %.6f, %.6f, together %.6f", a, c, all)
	}
	if len(s.Outlets[3].Facets) != 0 || !says(s, "1 outlet lies wholly in the footprint of another", "OD-9") {
		t.Errorf("hidden footprint has %d facets; warnings %q", len(s.Outlets[3].Facets), s.Warnings)
	}
}

func TestScuppers(t *testing.T) {
	cases := []struct {
		name        string
		x, y, width float64
		long        float64
		px, py      float64
	}{
		{"on the wall", 5, 8, 0.2, 0.2, 5, 8},
		{"moved from inside", 5, 7.6, 0.2, 0.2, 5, 8},
		{"moved from outside", 12.3, 4.1, 0.2, 0.2, 12, 4.1},
		{"over a spot on the wall", 6, 8, 1, 1, 6, 8},
		{"wider than the spots stand apart", 6, 8, 7, 7, 6, 8},
		{"clipped at the corner", 11.95, 8, 0.2, 0.15, 11.95, 8},
		{"wider than the wall", 6, 8, 40, 12, 6, 8},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := shape.Plane(12, 8, 0.02, 4)
			shape.Scupper(r, c.x, c.y, c.width)
			s := build(t, r)
			proveCut(t, s)
			o := &s.Outlets[0]
			if !near(length(s, o), c.long, 1e-9) || !near(o.Plan[0], c.px, 1e-9) || !near(o.Plan[1], c.py, 1e-9) {
				t.Errorf("%.6f wide at %v, want %.6f at (%g, %g)", length(s, o), o.Plan, c.long, c.px, c.py)
			}
			if moved := c.px != c.x || c.py != c.y; moved != says(s, "1 scupper was moved onto the outline") {
				t.Errorf("moved %v, warnings %q", moved, s.Warnings)
			}
		})
	}
}

func TestOutletsOffTheRoofAreRefused(t *testing.T) {
	r := shape.Plane(12, 8, 0.02, 4)
	shape.Curb(r, shape.Bare(4, 4), shape.Bare(6, 4), shape.Bare(6, 6), shape.Bare(4, 6))
	shape.Drain(r, 20, 4, 0.3)
	shape.Drain(r, 5, 5, 0.3)
	shape.Scupper(r, 6, 7.4, 0.3)
	shape.Drain(r, 12.015, 3, 0.3) // within tolerance of the outline
	p := refused(t, r)
	if len(p) != 3 || !strings.Contains(p[0].Rule, "outside the roof") || !strings.Contains(p[1].Rule, "inside a curb") ||
		!strings.Contains(p[2].Rule, "0.60 m from the outline") {
		t.Errorf("problems %v", p)
	}
}

// A bare number is no name in a sentence ("south of 5"): it gets the letter of its kind. One that nobody named takes the next that is free.
func TestOutletsThatHaveNumbers(t *testing.T) {
	r := shape.Plane(12, 8, 0.02, 4)
	for i, label := range []string{"1", "07", "RD1", ""} {
		shape.Drain(r, 2+2*float64(i), 4, 0.3).Label = label
	}
	shape.Scupper(r, 6, 8, 0.1).Label = "1"
	s := build(t, r)
	for i, want := range []string{"D1", "D07", "RD1", "D2", "S1"} {
		if got := s.Outlets[i].Label; got != want {
			t.Errorf("outlet %d is called %q, not %q", i, got, want)
		}
	}
}

func TestEdgeRuns(t *testing.T) {
	r := shape.Plane(12, 8, 0.02, 4) // gutter along the south
	shape.Edge(r, roof.Free, shape.Bare(12, 2), shape.Bare(12, 6))
	shape.Edge(r, roof.Free, shape.Bare(12, 6), shape.Bare(12, 8), shape.Bare(4, 8))
	r.Edges[1].Label, r.Edges[1].Duty = "E2", roof.Overflow
	shape.Drain(r, 6, 4, 0.3).Label = "D1"
	shape.Drain(r, 8, 4, 0.3)
	shape.Drain(r, 9, 4, 0.3).Label = "D1"
	s := build(t, r)
	if len(s.Outlets) != 5 {
		t.Fatalf("%d outlets, want 5", len(s.Outlets))
	}
	for i, want := range [][2]string{{"D01", "D1"}, {"D02", "D2"}, {"D03", "D1 (2)"}, {"E01", "E1"}, {"E02", "E2"}} {
		if o := s.Outlets[i]; o.ID != want[0] || o.Label != want[1] {
			t.Errorf("outlet %d is %s %q, want %s %q", i, o.ID, o.Label, want[0], want[1])
		}
	}
	gutter, free := &s.Outlets[3], &s.Outlets[4]
	if gutter.Edge != roof.Gutter || !near(length(s, gutter), 12, 1e-9) || gutter.Invert != 0 || len(gutter.Line) != len(gutter.Edges)+1 {
		t.Errorf("gutter is %.4f long, invert %g", length(s, gutter), gutter.Invert)
	}
	// Two edges of one type meet: one run of 4 + 2 + 8 m, its lowest point at its south end, 0.02*2.
	if free.Edge != roof.Free || !near(length(s, free), 14, 1e-9) || !near(free.Invert, 0.04, 1e-9) || free.Plan[0] != 12 || free.Plan[1] != 2 {
		t.Errorf("free edge is %.4f long, invert %g at %v", length(s, free), free.Invert, free.Plan)
	}
}

// A gutter all round is one outlet that starts at its lowest x, y and closes.
func TestEdgeAllRound(t *testing.T) {
	s := build(t, shape.Hip(12, 8, 0.02))
	if len(s.Outlets) != 1 {
		t.Fatalf("%d outlets, want 1", len(s.Outlets))
	}
	o := &s.Outlets[0]
	if !near(length(s, o), 40, 1e-9) || o.Line[0] != o.Line[len(o.Line)-1] || o.Line[0][0] != 0 || o.Line[0][1] != 0 {
		t.Errorf("%.4f long from %v to %v", length(s, o), o.Line[0], o.Line[len(o.Line)-1])
	}
}

// Curbs that touch in a point part the surface there: the place has a vertex on either side.
func TestTouchingCurbsPartTheSurface(t *testing.T) {
	r := shape.Plane(10, 10, 0.02, 5)
	shape.Curb(r, shape.Bare(3, 3), shape.Bare(5, 3), shape.Bare(5, 5), shape.Bare(3, 5))
	shape.Curb(r, shape.Bare(5, 5), shape.Bare(7, 5), shape.Bare(7, 7), shape.Bare(5, 7))
	s := build(t, r)
	n := 0
	for v := range s.TIN.X {
		if s.TIN.X[v] == 5 && s.TIN.Y[v] == 5 {
			n++
		}
	}
	if n != 2 || s.Area != 92 {
		t.Errorf("%d vertices at the common corner, area %g, want 2 and 92", n, s.Area)
	}
}

// A curb across the roof leaves two parts; both are kept.
func TestCurbAcrossTheRoof(t *testing.T) {
	r := shape.Plane(10, 10, 0.02, 5)
	shape.Curb(r, shape.Bare(-1, 4.5), shape.Bare(11, 4.5), shape.Bare(11, 5.5), shape.Bare(-1, 5.5))
	if s := build(t, r); !near(s.Area, 90, 1e-9) {
		t.Errorf("area %g, want 90", s.Area)
	}
}

func TestCurbOverTheWholeRoofIsRefused(t *testing.T) {
	r := shape.Plane(10, 10, 0.02, 5)
	shape.Curb(r, shape.Bare(-1, -1), shape.Bare(11, -1), shape.Bare(11, 11), shape.Bare(-1, 11))
	if p := refused(t, r); len(p) != 1 {
		t.Errorf("problems %v", p)
	}
}

// A level roof stays exactly level under its drains, whatever the elevation.
func TestLevelStaysLevel(t *testing.T) {
	r := shape.New("level", shape.At(0, 0, 0.1), shape.At(7, 0, 0.1), shape.At(7, 7, 0.1), shape.At(0, 7, 0.1))
	shape.Grid(r, 1.1, 1.3, 6.2, 6.1, 5, 5, func(_, _ float64) float64 { return 0.1 })
	s, _ := cutAt(t, r, 3.3, 3.7, 2)
	for v, z := range s.Cut.Z {
		if z != 0.1 {
			t.Fatalf("vertex %d stands at %.17g", v, z)
		}
	}
}

// The north-west side of a bowl of 1 m runs along a wall to within the grid's rounding; it must be cut in a few places, not in
// one after the other all the way.
func TestBowlAlongAWall(t *testing.T) {
	r := shape.New("wall", shape.At(0, 0, 0.1), shape.At(8, 0, 0.1), shape.At(8, 8, 0.3), shape.At(0, 8, 0.3))
	shape.Grid(r, 1, 1, 7, 7, 3, 3, func(_, y float64) float64 { return 0.1 + y/40 })
	plain := len(build(t, r).TIN.X)
	sin, cos := math.Sincos(math.Pi / 16)
	for k := range 40 { // the side from (r cos 22.5, r sin 22.5) down to (r, 0), slid along its own line by fractions of a grid unit
		x, y := 0.5*cos*cos, 0.5*cos*sin
		turned := shape.New("slant", shape.At(-3-x, -3-y, 0.1), shape.At(x+5*sin+float64(k)*1e-6, y-5*cos, 0.1), shape.At(x-5*sin, y+5*cos, 0.3), shape.At(-4, 4, 0.3))
		shape.Spot(turned, -1, -1, 0.1)
		shape.Spot(turned, -1, 1, 0.2)
		s, _ := cutAt(t, turned, 0, 0, 1)
		if n := len(s.Cut.X); n > plain+60 {
			t.Fatalf("%d: %d vertices", k, n)
		}
	}
}

// A drain just outside the wall is moved onto it; the least bowl has a facet.
func TestSmallBowlBesideTheWall(t *testing.T) {
	for _, x := range []float64{12.019, 12, 11.9999, 0.00001} {
		s, o := cutAt(t, shape.Plane(12, 8, 0.02, 4), x, 3, 0.001)
		if len(o.Facets) == 0 || math.IsInf(o.Low, 0) || footprint(s, o) > bowlArea(0.011) {
			t.Errorf("drain at %g: %d facets over %g m2, low %g", x, len(o.Facets), footprint(s, o), o.Low)
		}
	}
}
