package inspection

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// TestFlatterThanALimit: doubt counts against a plane by two of its greater deviations, and a ten-thousandth is no matter: by hand, of 1/48 = 2.0833 %.
func TestFlatterThanALimit(t *testing.T) {
	const limit = 1.0 / 48
	for _, c := range []struct {
		slope, sigma, residual float64
		want                   bool
	}{
		{limit, 0, 0, false},
		{limit - 0.9e-4, 0, 0, false},
		{limit - 1.1e-4, 0, 0, true},
		{limit + 0.001, 0, 0, false},
		{limit + 0.001, 0.0005, 0, false},
		{limit + 0.001, 0.0006, 0, true},
		{limit + 0.001, 0, 0.0006, true},
		{limit + 0.001, 0.0001, 0.0002, false},
		{0, 0, 0, true},
	} {
		in := &inspector{Results: &Results{Slopes: &slope.Slopes{Planes: []slope.Plane{
			{Area: 7, Slope: c.slope, Sigma: c.sigma, ResidualSigma: c.residual}, {Area: 5, Slope: 1}, {Area: 3},
		}}}}
		want := 3.0
		if c.want {
			want += 7
		}
		if got := in.flatterThan(limit); got != want {
			t.Errorf("%+v: %g m2, want %g", c, got, want)
		}
	}
}

// TestBaysBesideEdges: along an open edge to the east members run along it where they lie within 60 degrees of it, or nobody said how they lie: then 1 in per ft counts, and planes of 5 % on 60 of 100 m2 are flatter. Square to it 1/4 in per ft counts, for which nothing is added. A gutter that is no line, and a drain, are no edges.
func TestBaysBesideEdges(t *testing.T) {
	edge := func(line ...orb.Point) surface.Outlet {
		return surface.Outlet{Type: roof.EdgeOutlet, Line: line}
	}
	east := edge(orb.Point{0, 0}, orb.Point{10, 0})
	for _, c := range []struct {
		name      string
		outlets   []surface.Outlet
		direction float64 // -1: nobody said it
		span      float64 // of members 1 m apart
		area      float64
		square    bool
		over      bool
	}{
		{"along it", []surface.Outlet{east}, 90, 10, 60, false, false},
		{"along it, the other way", []surface.Outlet{east}, 270, 10, 60, false, false},
		{"59 degrees off it", []surface.Outlet{east}, 31, 10, 60, false, false},
		{"61 degrees off it", []surface.Outlet{east}, 29, 10, 0, true, false},
		{"square to it", []surface.Outlet{east}, 0, 10, 0, true, false},
		{"nobody said", []surface.Outlet{east}, -1, 10, 60, false, false},
		{"along it, span over 16 times", []surface.Outlet{east}, 90, 16.1, 60, false, true},
		{"along it, span 16 times", []surface.Outlet{east}, 90, 16, 60, false, false},
		{"an edge of three points", []surface.Outlet{edge(orb.Point{0, 0}, orb.Point{5, 3}, orb.Point{0, 10})}, 90, 10, 0, true, false},
		{"one along and one square", []surface.Outlet{east, edge(orb.Point{0, 0}, orb.Point{0, 10})}, 90, 10, 60, true, false},
		{"a drain", []surface.Outlet{{Type: roof.Drain, Line: orb.LineString{{0, 0}, {10, 0}}}}, 90, 10, 0, false, false},
		{"a place", []surface.Outlet{edge(orb.Point{0, 0})}, 90, 10, 0, false, false},
		{"a round line", []surface.Outlet{edge(orb.Point{0, 0}, orb.Point{5, 3}, orb.Point{0, 0})}, 90, 10, 0, false, false},
		{"none", nil, 90, 10, 0, false, false},
	} {
		in := &inspector{Results: &Results{
			Roof: &roof.Roof{}, Surface: &surface.Surface{Outlets: c.outlets, Area: 100},
			Slopes: &slope.Slopes{Planes: []slope.Plane{{Area: 60, Slope: 0.05}, {Area: 40, Slope: 0.09}}},
		}}
		s := &in.Roof.Structure
		s.HasDirection, s.MemberDirection = c.direction >= 0, c.direction
		s.MemberSpan, s.MemberSpacing = quantity.Length(c.span), 1
		f := finding.Finding{Source: "first"}
		if got := in.besideEdges(&f); got != c.area {
			t.Errorf("%s: %g m2, want %g", c.name, got, c.area)
		}
		if got := strings.Contains(f.Source, standard.BaySquareSource.Text); got != c.square {
			t.Errorf("%s: square %t in %q", c.name, got, f.Source)
		}
		if got := strings.Contains(f.Source, standard.BayParallelSource.Text); got != (c.area > 0) {
			t.Errorf("%s: along %t in %q", c.name, got, f.Source)
		}
		if got := strings.Contains(f.Why.Format, "over 16 times"); got != c.over {
			t.Errorf("%s: %q", c.name, f.Why.Format)
		}
		if got := strings.Contains(f.Why.Format, "Nobody stated"); got != (c.direction < 0) {
			t.Errorf("%s: %q", c.name, f.Why.Format)
		}
		if c.area > 0 && (len(f.Why.Args) < 2 || f.Why.Args[0].Value != 0.6 || f.Why.Args[1].Value != 1.0/12) {
			t.Errorf("%s: %+v", c.name, f.Why.Args)
		}
	}
	for degrees, want := range map[float64][2]float64{0: {0, 1}, 90: {1, 0}, 180: {0, -1}, 270: {-1, 0}, 30: {0.5, math.Sqrt(0.75)}} {
		if e, n := bearing(degrees); !(math.Abs(e-want[0]) <= 1e-12) || !(math.Abs(n-want[1]) <= 1e-12) {
			t.Errorf("%g degrees: %g east, %g north", degrees, e, n)
		}
	}
}

// TestWhenBaysAreNoted: where somebody asked for loads, by a rain for overflows, framing or a limit: on any plane flatter than 1/4 in per ft, half a square metre of it too, or any depth of water with every primary outlet blocked.
func TestWhenBaysAreNoted(t *testing.T) {
	for _, c := range []struct {
		name              string
		rain, flat, depth float64
		limit             float64
		framing           bool
		size              float64 // below 0: no note
		facts             int
	}{
		{"nobody asked", 0, 5, 0.1, 0, false, -1, 0},
		{"a rain", 1e-5, 5, 0, 0, false, 5, 1},
		{"framing", 0, 5, 0, 0, true, 5, 1},
		{"a limit", 0, 5, 0, 1000, false, 5, 1},
		{"half a square metre", 1e-5, 0.5, 0, 0, false, 0.5, 1},
		{"a depth", 1e-5, 0, 0.1, 0, false, 0, 1},
		{"half a metre on half a square metre", 1e-5, 0.5, 0.5, 0, false, 0.5, 2},
		{"neither", 1e-5, 0, 0, 0, false, -1, 0},
	} {
		in := box(t)
		in.Criteria.RainOverflow = c.rain
		in.Roof.Structure.HasDirection = c.framing
		in.Roof.Structure.LoadLimit, in.Roof.Structure.LoadLimitBy = c.limit, "the engineer"
		in.Slopes.Planes = []slope.Plane{{Area: c.flat, Slope: 0.01}, {Area: 9, Slope: 0.05}}
		in.Load = &rainload.Load{Depth: c.depth}
		got := in.bays()
		if len(got) == 0 != (c.size < 0) {
			t.Errorf("%s: %+v", c.name, got)
			continue
		}
		if len(got) == 1 && (got[0].Size != c.size || len(got[0].Measured) != c.facts || got[0].Decides != finding.Engineer) {
			t.Errorf("%s: %+v", c.name, got[0])
		}
	}
}

// TestPlanesThatFallToALine: a line to the north leads water where the planes on both sides rise away from it by the least slope of valleys or more, on an area and a width that count, and where nobody coded it, with spots within both. A line of another kind that was coded needs no planes if it is a valley or a cricket's edge; a ridge leads none.
func TestPlanesThatFallToALine(t *testing.T) {
	c := standard.Defaults()
	least := c.MinValleySlope
	around := func(w, h float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{0, 0}, {w, 0}, {w, h}, {0, h}, {0, 0}}}}
	}
	wide := func(p slope.Plane) slope.Plane {
		p.Area, p.Inner, p.Outline = 100, 1, around(10, 10)
		return p
	}
	for _, k := range []struct {
		name        string
		left, right [2]float64
		change      func(l *slope.Line, planes []slope.Plane)
		want        bool
	}{
		{"rising to both sides", [2]float64{-0.02, 0.01}, [2]float64{0.02, 0.01}, nil, true},
		{"just steep enough", [2]float64{-1.01 * least, 0}, [2]float64{1.01 * least, 0}, nil, true},
		{"too flat on the left", [2]float64{-0.99 * least, 0}, [2]float64{0.02, 0}, nil, false},
		{"too flat on the right", [2]float64{-0.02, 0}, [2]float64{0.99 * least, 0}, nil, false},
		{"falling to the left", [2]float64{0.02, 0}, [2]float64{0.02, 0}, nil, false},
		{"a ridge", [2]float64{0.02, 0}, [2]float64{-0.02, 0}, nil, false},
		{"no plane on the left", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(l *slope.Line, _ []slope.Plane) { l.Left = -1 }, false},
		{"no plane on the right", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(l *slope.Line, _ []slope.Plane) { l.Right = -1 }, false},
		{"a small plane", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(_ *slope.Line, p []slope.Plane) { p[1].Area = leastArea * 0.99 }, false},
		{"a strip 0.87 m wide", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(_ *slope.Line, p []slope.Plane) { p[1].Outline = around(114.87, 0.13) }, false},
		{"a strip 0.93 m wide", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(_ *slope.Line, p []slope.Plane) { p[1].Outline = around(107.4, 0.13) }, true},
		{"no spot within", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(_ *slope.Line, p []slope.Plane) { p[0].Inner = 0 }, false},
		{"no spot within, but coded", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(l *slope.Line, p []slope.Plane) {
			p[0].Inner, l.Named, l.Type = 0, true, roof.GradeBreak
		}, true},
		{"coded as a valley", [2]float64{0, 0}, [2]float64{0, 0}, func(l *slope.Line, _ []slope.Plane) { l.Named, l.Type = true, roof.Valley }, true},
		{"coded as a cricket's edge", [2]float64{0, 0}, [2]float64{0, 0}, func(l *slope.Line, _ []slope.Plane) { l.Named, l.Type = true, roof.Cricket }, true},
		{"coded as a grade break over nothing", [2]float64{0, 0}, [2]float64{0, 0}, func(l *slope.Line, _ []slope.Plane) { l.Named, l.Type = true, roof.GradeBreak }, false},
		{"coded as a ridge", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(l *slope.Line, _ []slope.Plane) { l.Named, l.Type = true, roof.Ridge }, false},
		{"of one point", [2]float64{-0.02, 0}, [2]float64{0.02, 0}, func(l *slope.Line, _ []slope.Plane) { l.Plan = l.Plan[:1] }, false},
	} {
		planes := []slope.Plane{wide(slope.Plane{Gradient: k.left}), wide(slope.Plane{Gradient: k.right})}
		l := slope.Line{Plan: orb.LineString{{5, 0}, {6, 3}, {5, 9}}, Left: 0, Right: 1}
		if k.change != nil {
			k.change(&l, planes)
		}
		in := &inspector{Results: &Results{Slopes: &slope.Slopes{Planes: planes}, Criteria: c}}
		if got := in.leadsWater(&l); got != k.want {
			t.Errorf("%s: %t", k.name, got)
		}
	}
}
