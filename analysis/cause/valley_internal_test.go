package cause

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/ponding"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// straight is a model of places on the x axis, a metre apart from x = 0 on, with a spot at each.
func straight(z ...float64) *model {
	t := &surface.TIN{X: make([]float64, len(z)), Y: make([]float64, len(z)), Z: z, Found: make([]bool, len(z))}
	for i := range z {
		t.X[i] = float64(i)
	}
	return &model{t: t, s: &surface.Surface{TIN: t, Cut: t}, sl: &slope.Slopes{}, ps: &ponding.Ponds{}, sink: none(len(z)), valley: none(len(z)), ridge: none(len(z)), scale: 1}
}

// wayAlong is the way along the places of such a model, with its lip at one of them.
func wayAlong(m *model, lip int) way {
	w := way{lip: lip, end: -1, deep: m.t.Z[0]}
	for i := range m.t.X {
		w.v, w.s = append(w.v, int32(i)), append(w.s, float64(i))
	}
	return w
}

// TestWayUpValleys, by hand: of the four steps of a metre to the lip at x = 4 those count whose middle lies within half a spacing, half a metre, of a valley that the water or its lip touches, nobody coded, and spots bear; or of the gap between two.
func TestWayUpValleys(t *testing.T) {
	line := func(x0, y0, x1, y1 float64) orb.LineString { return orb.LineString{{x0, y0}, {x1, y1}} }
	for _, c := range []struct {
		name   string
		plan   orb.LineString
		at     []int32 // places through which the valley goes
		gap    orb.LineString
		change func(l *slope.Line, m *model)
		want   float64
	}{
		{"half of it", line(0, 0, 2, 0), []int32{0}, nil, nil, 0.5},
		{"and a little more", line(0, 0, 2.01, 0), []int32{0}, nil, nil, 0.75},
		{"0.49 m beside", line(0, 0.49, 2, 0.49), []int32{0}, nil, nil, 0.5},
		{"0.51 m beside", line(0, 0.51, 2, 0.51), []int32{0}, nil, nil, 0},
		{"all of it and on", line(0, 0, 9, 0), []int32{0, 1, 2, 3, 4, 5}, nil, nil, 1},
		{"at the lip alone", line(4, 0, 3, 0), []int32{4}, nil, nil, 0.25},
		{"on the way alone", line(0, 0, 2, 0), []int32{2}, nil, nil, 0},
		{"coded", line(0, 0, 2, 0), []int32{0}, nil, func(l *slope.Line, _ *model) { l.Named = true }, 0},
		{"a level plane to the left", line(0, 0, 2, 0), []int32{0}, nil, func(_ *slope.Line, m *model) { m.sl.Planes[0].BelowMin = true }, 0},
		{"a level plane to the right", line(0, 0, 2, 0), []int32{0}, nil, func(_ *slope.Line, m *model) { m.sl.Planes[1].BelowMin = true }, 0},
		{"the planes the other way round", line(0, 0, 2, 0), []int32{0}, nil, func(l *slope.Line, _ *model) { l.Left, l.Right = 1, 0 }, 0.5},
		{"no plane to the left", line(0, 0, 2, 0), []int32{0}, nil, func(l *slope.Line, _ *model) { l.Left = -1 }, 0},
		{"no plane to the right", line(0, 0, 2, 0), []int32{0}, nil, func(l *slope.Line, _ *model) { l.Right = -1 }, 0},
		{"no spot within the left", line(0, 0, 2, 0), []int32{0}, nil, func(_ *slope.Line, m *model) { m.sl.Planes[0].Inner = 0 }, 0},
		{"no spot within, but a fold found", line(0, 0, 2, 0), []int32{0}, nil, func(l *slope.Line, m *model) {
			m.sl.Planes[0].Inner, l.Vertices, m.s.TIN.Found[1] = 0, []int32{0, 1}, true
		}, 0.5},
		{"a gap", nil, nil, line(1, 0, 3, 0), nil, 0.5},
		{"a gap and a valley before it", line(0, 0, 1.6, 0), []int32{0}, line(2.2, 0, 3, 0), nil, 0.75},
		{"a gap over a valley", line(0, 0, 2, 0), []int32{0}, line(1, 0, 3, 0), nil, 0.75},
	} {
		m := straight(0, 0.01, 0.02, 0.03, 0.04, 0.01)
		m.sl.Planes = []slope.Plane{{Inner: 2}, {Inner: 1}}
		m.sl.Valleys = []slope.Line{{Plan: c.plan, Left: 0, Right: 1}}
		for _, v := range c.at {
			m.valley[v] = 0
		}
		if c.change != nil {
			c.change(&m.sl.Valleys[0], m)
		}
		st := &site{wet: []int32{0, 1}, way: wayAlong(m, 4)}
		near(t, c.name, m.upValleys(st, c.gap), c.want, 1e-12)
	}
	m := straight(0.04, 0.01)
	st := &site{wet: []int32{0}, way: wayAlong(m, 0)}
	near(t, "a lip at its own lowest place", m.upValleys(st, orb.LineString{{0, 0}, {1, 0}}), 0, 0)
	// The cut surface has more places than the one whose lines are known.
	m = straight(0, 0.01, 0.02)
	m.s.TIN = &surface.TIN{X: make([]float64, 2)}
	m.valley[2] = 0
	for v, want := range []int32{-1, -1, -1} {
		if got := m.lineAt(m.valley, int32(v)); got != want {
			t.Errorf("a line at place %d: %d", v, got)
		}
	}
	m.valley[1] = 0
	if got := m.lineAt(m.valley, 1); got != 0 {
		t.Errorf("a line at the last place that is known: %d", got)
	}
}

// TestValleyUnderWater, by hand: water to 20 mm stands over 3 m of a line that lies level over 2 m and then rises by 40 mm over 2 m. Of two lines the one with the more water over it counts, of two alike the coded one, else the first. How deep it lies beside the lip is told where it comes nearest.
func TestValleyUnderWater(t *testing.T) {
	tin := &surface.TIN{
		X: []float64{0, 2, 4, 0, 2.5, 0, 3, 2.5, 3, 1}, Y: []float64{0, 0, 0, 5, 5, 8, 8, 1, 1, 3},
		Z: []float64{0, 0, 0.04, 0, 0, 0, 0, 0.02, 0.02, 0.02}, Found: make([]bool, 10),
	}
	rising := slope.Line{Plan: orb.LineString{{0, 0}, {2, 0}, {4, 0}}, Vertices: []int32{0, 1, 2}, Left: -1}
	short := slope.Line{Plan: orb.LineString{{0, 5}, {2.5, 5}}, Vertices: []int32{3, 4}, Left: -1}
	same := slope.Line{Plan: orb.LineString{{0, 8}, {3, 8}}, Vertices: []int32{5, 6}, Left: -1}
	coded := func(l slope.Line) slope.Line {
		l.Named = true
		return l
	}
	for _, c := range []struct {
		name   string
		lines  []slope.Line
		lip    int32
		want   int
		length float64
		beside float64
	}{
		{"the longer under water, first", []slope.Line{rising, short}, 7, 0, 3, 0.01},
		{"the longer under water, last", []slope.Line{short, rising}, 7, 1, 3, 0.01},
		{"the same, none coded", []slope.Line{rising, same}, 7, 0, 3, 0.01},
		{"the same, the second coded", []slope.Line{rising, coded(same)}, 7, 1, 3, 0.02},
		{"the same, the first coded", []slope.Line{coded(rising), same}, 7, 0, 3, 0.01},
		{"the same, both coded", []slope.Line{coded(rising), coded(same)}, 7, 0, 3, 0.01},
		{"a shorter one that is coded", []slope.Line{rising, coded(short)}, 7, 0, 3, 0.01},
		{"a lip where it comes out of the water", []slope.Line{rising}, 8, 0, 3, 0},
		{"a lip beside what is level", []slope.Line{rising}, 9, 0, 3, 0.02},
		{"none", nil, 7, -1, 0, 0},
	} {
		m := &model{t: tin, s: &surface.Surface{TIN: tin, Cut: tin}, sl: &slope.Slopes{Valleys: c.lines}, ps: &ponding.Ponds{Of: make([]int32, 10)}, valley: none(10), scale: 1}
		m.ps.Of[2] = -1
		lines(m.valley, c.lines)
		st := &site{p: &ponding.Pond{Level: 0.02}, wet: []int32{0, 1, 3, 4, 5, 6}, way: way{v: []int32{0, c.lip}, s: []float64{0, 3}, lip: 1}}
		got := m.valleyOf(st)
		which := -1
		for i := range c.lines {
			if got.line == &m.sl.Valleys[i] {
				which = i
			}
		}
		if which != c.want {
			t.Errorf("%s: line %d, want %d", c.name, which, c.want)
		}
		near(t, c.name+": under water", got.length, c.length, 1e-12)
		near(t, c.name+": beside the lip", got.beside, c.beside, 1e-12)
		near(t, c.name+": up valleys", got.back, 0, 0)
	}
}

// TestValleyInterruptedByWater, by hand: no valley goes through the water that stands at x = 10, but one that falls to it and one that goes on beyond its lip are one line: that is its valley, of which nothing lies under water, and the way from x = 10 to x = 12 runs along the gap.
func TestValleyInterruptedByWater(t *testing.T) {
	tin := &surface.TIN{X: []float64{10, 12, 0, 9, 13, 20}, Y: make([]float64, 6), Z: []float64{0, 0.02, 0.2, 0.015, 0.01, -0.1}, Found: make([]bool, 6)}
	valleys := []slope.Line{
		{Plan: orb.LineString{{0, 0}, {9, 0}}, Vertices: []int32{2, 3}, Length: 9, Left: 0, Right: 1},
		{Plan: orb.LineString{{13, 0}, {20, 0}}, Vertices: []int32{4, 5}, Length: 7, Left: 0, Right: 1},
	}
	m := &model{t: tin, s: &surface.Surface{TIN: tin, Cut: tin}, sl: &slope.Slopes{Valleys: valleys, Planes: []slope.Plane{{Inner: 1}, {Inner: 1}}}, ps: &ponding.Ponds{Of: none(6)}, valley: none(6), scale: 1}
	st := &site{p: &ponding.Pond{Level: 0.02}, wet: []int32{0}, way: way{v: []int32{0, 1}, s: []float64{0, 2}, lip: 1}}
	got := m.valleyOf(st)
	if got.line != &m.sl.Valleys[0] || got.length != 0 {
		t.Errorf("%+v", got)
	}
	near(t, "up valleys", got.back, 1, 1e-12)
	near(t, "beside the lip", got.beside, 0.005, 1e-12) // its end at x = 9 lies at 15 mm
}

// TestLinesThroughAPlace: the first line through a place counts, and one that was coded before one that was not.
func TestLinesThroughAPlace(t *testing.T) {
	of := none(4)
	lines(of, []slope.Line{{Vertices: []int32{0, 1}}, {Vertices: []int32{1, 2}}, {Vertices: []int32{2, 1}, Named: true}, {Vertices: []int32{2}, Named: true}})
	for v, want := range []int32{0, 2, 2, -1} {
		if of[v] != want {
			t.Errorf("place %d: line %d, want %d", v, of[v], want)
		}
	}
	// By hand: of two outlets that share a place the lower one takes the water, of two as low the first.
	for inverts, want := range map[[2]float64]int32{{1, 2}: 0, {2, 1}: 1, {1, 1}: 0} {
		tin := &surface.TIN{X: []float64{0}, Y: []float64{0}, Z: []float64{0}}
		s := &surface.Surface{TIN: tin, Cut: tin, Spacing: 0.2, Outlets: []surface.Outlet{{Vertices: []int32{0}, Invert: inverts[0]}, {Vertices: []int32{0}, Invert: inverts[1]}}}
		m := newModel(s, &slope.Slopes{}, &ponding.Ponds{}, standard.Defaults())
		if m.sink[0] != want {
			t.Errorf("inverts %v: outlet %d, want %d", inverts, m.sink[0], want)
		}
		near(t, "least scale", m.scale, 0.3, 0)
		s.Spacing = 0.4
		near(t, "scale", newModel(s, &slope.Slopes{}, &ponding.Ponds{}, standard.Defaults()).scale, 0.4, 0)
	}
}

// TestTargetOfWater: the outlet at the end of its way; else the one it is held by, or spills to, or its spill spills to; none where that ends nowhere, or goes round and round.
func TestTargetOfWater(t *testing.T) {
	dry := ponding.Pond{HeldBy: -1, ToOutlet: -1, ToPond: -1}
	with := func(change func(p *ponding.Pond)) ponding.Pond {
		p := dry
		change(&p)
		return p
	}
	to := func(next int32) ponding.Pond { return with(func(p *ponding.Pond) { p.ToPond = next }) }
	held := with(func(p *ponding.Pond) { p.HeldBy, p.ToOutlet = 3, 4 })
	spills := with(func(p *ponding.Pond) { p.ToOutlet = 4 })
	for _, c := range []struct {
		name  string
		end   int32
		ponds []ponding.Pond
		want  int32
	}{
		{"at the end of its way", 5, []ponding.Pond{held}, 5},
		{"the first of them", 0, []ponding.Pond{held}, 0},
		{"held", -1, []ponding.Pond{held}, 3},
		{"spills", -1, []ponding.Pond{spills}, 4},
		{"over a pond", -1, []ponding.Pond{to(1), spills}, 4},
		{"over a pond that is held", -1, []ponding.Pond{to(1), held}, 3},
		{"over two", -1, []ponding.Pond{to(2), spills, to(1)}, 4},
		{"nowhere", -1, []ponding.Pond{to(1), dry}, -1},
		{"round and round", -1, []ponding.Pond{to(1), to(0)}, -1},
	} {
		m := &model{ps: &ponding.Ponds{Ponds: c.ponds}}
		if got := m.target(&site{p: &m.ps.Ponds[0], way: way{end: c.end}}); got != c.want {
			t.Errorf("%s: outlet %d, want %d", c.name, got, c.want)
		}
	}
}

// TestLowestOfWater: the lowest of the places under water, the first of its pits where none is.
func TestLowestOfWater(t *testing.T) {
	m := straight(0.03, 0.01, 0.02, 0.01)
	for _, c := range []struct {
		pit  int32
		wet  []int32
		want int32
	}{{2, nil, 2}, {2, []int32{0, 2}, 2}, {2, []int32{0, 1, 2, 3}, 1}, {0, []int32{2, 3}, 3}, {3, []int32{1, 3}, 3}} {
		if got := m.lowest(&site{p: &ponding.Pond{Pits: []int32{c.pit}}}, c.wet); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// TestPondsByTheirPlaces: places 1, 4 and 5 lie in pond 0, none in pond 1, place 2 in pond 2.
func TestPondsByTheirPlaces(t *testing.T) {
	first, wet := byPond(&ponding.Ponds{Ponds: make([]ponding.Pond, 3), Of: []int32{-1, 0, 2, -1, 0, 0}})
	want := [][]int32{{1, 4, 5}, {}, {2}}
	for p := range want {
		got := wet[first[p]:first[p+1]]
		if len(got) != len(want[p]) {
			t.Fatalf("pond %d: %v, want %v", p, got, want[p])
		}
		for i := range got {
			if got[i] != want[p][i] {
				t.Errorf("pond %d: %v, want %v", p, got, want[p])
			}
		}
	}
}

// TestDoubtsAboutALip, on a square of two facets that meet on a diagonal chosen by rule: the lip hangs on it where it is one of its ends. A place whose elevation was inferred leaves doubt wherever it is.
func TestDoubtsAboutALip(t *testing.T) {
	for _, c := range []struct {
		name          string
		deep, lip     int32
		assumed       []int32
		tie           bool
		wantLip, want bool
	}{
		{"beside the diagonal", 3, 1, nil, true, false, false},
		{"at its first end", 3, 0, nil, true, false, true},
		{"at its second end", 3, 2, nil, true, false, true},
		{"a diagonal that was not chosen", 3, 0, nil, false, false, false},
		{"an inferred lip", 3, 1, []int32{1}, false, true, true},
		{"an inferred lowest place", 3, 1, []int32{3}, false, false, true},
		{"another place inferred", 3, 1, []int32{0}, false, false, false},
		{"no lip", 3, -1, []int32{1}, true, false, false},
		{"no lip, an inferred lowest place", 3, -1, []int32{3}, false, false, true},
	} {
		tin := &surface.TIN{
			X: make([]float64, 4), V: []int32{0, 1, 2, 0, 2, 3}, Twin: []int32{-1, -1, 3, 2, -1, -1}, Out: []int32{0, 1, 4, 5}, Assumed: make([]bool, 4),
		}
		tin.Flag = append(tin.Flag, 0, 0, 0, 0, 0, 0)
		if c.tie {
			tin.Flag[2] |= surface.TieEdge
			tin.Flag[3] |= surface.TieEdge
		}
		for _, v := range c.assumed {
			tin.Assumed[v] = true
		}
		lip, doubt := (&model{t: tin}).doubts(&site{deep: c.deep, p: &ponding.Pond{Lip: c.lip}})
		if lip != c.wantLip || doubt != c.want {
			t.Errorf("%s: %t, %t; want %t, %t", c.name, lip, doubt, c.wantLip, c.want)
		}
	}
}

// TestHeadingOverALip: from the middle of the climb to the lip; of a way of one step, from its start.
func TestHeadingOverALip(t *testing.T) {
	tin := &surface.TIN{X: []float64{0, 0, 1, 1, 4}, Y: []float64{0, 3, 3, 7, 11}}
	m := &model{t: tin}
	for _, c := range []struct {
		v    []int32
		s    []float64
		want [2]float64
	}{
		{[]int32{0, 1}, []float64{0, 3}, [2]float64{0, 1}},
		{[]int32{3, 4}, []float64{0, 5}, [2]float64{0.6, 0.8}},
		{[]int32{0, 1, 2, 3}, []float64{0, 3, 4, 8}, [2]float64{0, 1}},                                  // 4 of 8 m back it stands at (1, 3)
		{[]int32{0, 2, 3, 4}, []float64{0, 4, 8, 13}, [2]float64{3 / math.Sqrt(73), 8 / math.Sqrt(73)}}, // 6.5 of 13 m back is before (1, 7): at (1, 3)
	} {
		got := m.heading(&way{v: c.v, s: c.s, lip: len(c.v) - 1})
		near(t, "east", got[0], c.want[0], 1e-12)
		near(t, "north", got[1], c.want[1], 1e-12)
	}
}
