package cause

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// terrain is a walled roof of 20 by 16 m with spots every half metre, and the model of it.
func terrain(t *testing.T, height func(x, y float64) float64, drains ...orb.Point) *view {
	t.Helper()
	r := shape.New("terrain", shape.At(0, 0, height(0, 0)), shape.At(20, 0, height(20, 0)), shape.At(20, 16, height(20, 16)), shape.At(0, 16, height(0, 16)))
	shape.Grid(r, 0, 0, 20, 16, 40, 32, height)
	for _, p := range drains {
		o := shape.Drain(r, p[0], p[1], 0.3)
		o.Invert, o.HasInvert = 0, true
	}
	return viewOn(t, r)
}

// viewOn is a view of a roof without a pond.
func viewOn(t *testing.T, r *roof.Roof) *view {
	t.Helper()
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return &view{model: newModel(s, &slope.Slopes{}, &ponding.Ponds{}, standard.Defaults()), site: &site{p: &ponding.Pond{HeldBy: -1}, outlet: -1}}
}

// By hand: a drain on a level round of so wide a radius, beyond which the roof falls 10 %: at 4 ft (1.22 m) and 8 ft (2.44 m) it is looked whether the roof lies lower. Where only the east half falls, half of the directions do.
func TestRoofFallsAwayFromADrain(t *testing.T) {
	beyond := func(radius float64, falls func(dx, dy float64) bool, at orb.Point) func(x, y float64) float64 {
		return func(x, y float64) float64 {
			dx, dy := x-at[0], y-at[1]
			if !falls(dx, dy) {
				return 1
			}
			return 1 - 0.1*math.Max(0, math.Hypot(dx, dy)-radius)
		}
	}
	all := func(float64, float64) bool { return true }
	middle := orb.Point{10, 8}
	for name, c := range map[string]struct {
		at     orb.Point
		height func(x, y float64) float64
		want   float64
	}{
		"from 0.5 m on":                  {middle, beyond(0.5, all, middle), 1},
		"from 1.7 m on, seen at 8 ft":    {middle, beyond(1.7, all, middle), 1},
		"from 3.2 m on":                  {middle, beyond(3.2, all, middle), 0},
		"east half":                      {middle, beyond(0.5, func(dx, _ float64) bool { return dx > 0 }, middle), 0.5},
		"south half, from 1.7 m on":      {middle, beyond(1.7, func(_, dy float64) bool { return dy < 0 }, middle), 0.5},
		"in a corner of 90 degrees":      {orb.Point{0.25, 0.25}, beyond(0.3, all, orb.Point{0.25, 0.25}), 1},
		"at a wall, half of it":          {orb.Point{0.25, 8}, beyond(0.5, all, orb.Point{0.25, 8}), 1},
		"a hollow at 4 ft, high at 8 ft": {middle, func(x, y float64) float64 { return 1 - 0.05*math.Max(0, 1-math.Abs(math.Hypot(x-10, y-8)-1.2)) }, 1},
	} {
		v := terrain(t, c.height, c.at)
		got, top := v.fallsAway(0)
		if !(math.Abs(got-c.want) <= 1e-9) || !(math.Abs(top-1) <= 0.01) {
			t.Errorf("%s: %g of the directions, from %g m; want %g from 1 m", name, got, top, c.want)
		}
	}
	// Where a roof runs out in a point of 11 degrees fewer than four directions lie on it.
	r := shape.New("point", shape.At(0, 0, 1), shape.At(20, 0, 1), shape.At(20, 4, 0.5))
	shape.Spot(r, 15, 1, 0.9)
	o := shape.Drain(r, 0.8, 0.05, 0.02)
	o.Invert, o.HasInvert = 1, true
	if got, _ := viewOn(t, r).fallsAway(0); got != 0 {
		t.Errorf("in a point: %g of the directions", got)
	}
}

// An outlet takes water that stands at its inlet, and none that stands a hair lower.
func TestOutletTakesWaterAtItsInlet(t *testing.T) {
	v := terrain(t, func(_, _ float64) float64 { return 0 }, orb.Point{10, 8})
	at := v.s.Outlets[0].Vertices[0]
	level := v.invert(0, at, change{outlet: -1})
	if !v.takes(0, at, level) || !v.takes(0, at, level+0.01) || v.takes(0, at, level-1e-9) {
		t.Errorf("with its inlet at %g m", level)
	}
}

// By hand: the mean of the roof on a ring of 1 ft round a drain on a plane is that at the drain; of a cone of 5 %, 15 mm above it. In a corner less than a quarter of the ring lies on the roof.
func TestRingRoundADrain(t *testing.T) {
	for name, c := range map[string]struct {
		at     orb.Point
		height func(x, y float64) float64
		want   float64
		ok     bool
	}{
		"plane":    {orb.Point{10, 8}, func(x, y float64) float64 { return 0.02*x + 0.01*y }, 0.28, true},
		"cone":     {orb.Point{10, 8}, func(x, y float64) float64 { return 0.05 * math.Hypot(x-10, y-8) }, 0.05 * 0.3048, true},
		"wall":     {orb.Point{0.01, 8}, func(_, y float64) float64 { return 0.01 * y }, 0.08, true},
		"a corner": {orb.Point{0.01, 0.01}, func(_, y float64) float64 { return 0.01 * y }, 0, true},
	} {
		v := terrain(t, c.height, c.at)
		got, ok := v.ring(0, rings[0])
		if ok != c.ok || name != "a corner" && !(math.Abs(got-c.want) <= 0.004) {
			t.Errorf("%s: %g, %t; want %g, %t", name, got, ok, c.want, c.ok)
		}
	}
}

// By hand: water stands at (10, 0) with its lip at (12, 0), spots 1 m apart. A valley that falls from (0, 0) to (9, 0) and one from (13, 0) on are one, interrupted between, as long as they run in one line to 20 degrees, nobody coded them, spots within their planes bear them, and they end and begin near by. However all lies.
func TestInterruptedValley(t *testing.T) {
	at := func(x, y, turn float64) orb.Point {
		sin, cos := math.Sincos(turn * math.Pi / 180)
		return orb.Point{x + 8*cos, y + 8*sin}
	}
	for name, c := range map[string]struct {
		above, below [2]orb.Point
		change       func(a, b *slope.Line, planes []slope.Plane)
		want         bool
	}{
		"in line":              {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, nil, true},
		"15 degrees off":       {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13, 0}, at(13, 0, 15)}, nil, true},
		"25 degrees off":       {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13, 0}, at(13, 0, 25)}, nil, false},
		"upper one 25 off":     {[2]orb.Point{at(9, 0, 155), {9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, nil, false},
		"back":                 {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13, 0}, {5, 0}}, nil, false},
		"coded":                {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, func(a, _ *slope.Line, _ []slope.Plane) { a.Named = true }, false},
		"a short one":          {[2]orb.Point{{7.6, 0}, {9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, nil, false},
		"long enough":          {[2]orb.Point{{7.4, 0}, {9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, nil, true},
		"ends 2.9 m before":    {[2]orb.Point{{0, 0}, {7.1, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, nil, true},
		"ends 3.1 m before":    {[2]orb.Point{{0, 0}, {6.9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, nil, false},
		"begins 1.4 m beyond":  {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13.4, 0}, {20, 0}}, nil, true},
		"begins 1.6 m beyond":  {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13.6, 0}, {20, 0}}, nil, false},
		"0.4 m beside":         {[2]orb.Point{{0, 0.4}, {9, 0.4}}, [2]orb.Point{{13, 0.4}, {20, 0.4}}, nil, true},
		"0.6 m beside":         {[2]orb.Point{{0, 0.6}, {9, 0.6}}, [2]orb.Point{{13, 0.6}, {20, 0.6}}, nil, false},
		"a plane that is flat": {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, func(_, _ *slope.Line, p []slope.Plane) { p[1].BelowMin = true }, false},
		"no spot within":       {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, func(_, _ *slope.Line, p []slope.Plane) { p[1].Inner = 0 }, false},
		"nothing on one side":  {[2]orb.Point{{0, 0}, {9, 0}}, [2]orb.Point{{13, 0}, {20, 0}}, func(_, b *slope.Line, _ []slope.Plane) { b.Left = -1 }, false},
	} {
		for k, to := range []func(p orb.Point) orb.Point{
			func(p orb.Point) orb.Point { return p },
			func(p orb.Point) orb.Point { return orb.Point{0.8*p[0] - 0.6*p[1] + 40, 0.6*p[0] + 0.8*p[1] - 70} },
			func(p orb.Point) orb.Point { return orb.Point{-0.6*p[0] + 0.8*p[1], 0.8*p[0] + 0.6*p[1]} },
			func(p orb.Point) orb.Point { return orb.Point{3 * p[0], 3 * p[1]} }, // spots 3 m apart, and all else as far
		} {
			times := vector.Distance(to(orb.Point{}), to(orb.Point{1, 0}))
			line := func(ends [2]orb.Point) slope.Line {
				a, b := to(ends[0]), to(ends[1])
				return slope.Line{Plan: orb.LineString{a, b}, Length: math.Hypot(b[0]-a[0], b[1]-a[1]), Left: 0, Right: 1}
			}
			planes := []slope.Plane{{Inner: 3}, {Inner: 2}}
			lines := []slope.Line{line(c.above), line(c.below)}
			if c.change != nil {
				c.change(&lines[0], &lines[1], planes)
			}
			deep, lip := to(orb.Point{10, 0}), to(orb.Point{12, 0})
			tin := &surface.TIN{X: []float64{deep[0], lip[0]}, Y: []float64{deep[1], lip[1]}, Z: []float64{0, 0.02}, Found: make([]bool, 2)}
			m := &model{t: tin, s: &surface.Surface{TIN: tin, Cut: tin}, sl: &slope.Slopes{Valleys: lines, Planes: planes}, scale: times}
			upper, gap := m.interrupted(&site{deep: 0, way: way{v: []int32{0, 1}, s: []float64{0, 2 * times}, lip: 1}})
			if (upper != nil) != c.want || (gap != nil) != c.want {
				t.Errorf("%s, laid %d: %v, %v", name, k, upper, gap)
				continue
			}
			if c.want && (upper != &m.sl.Valleys[0] || gap[0] != lines[0].Plan[1] || gap[1] != lines[1].Plan[0]) {
				t.Errorf("%s, laid %d: %v, %v", name, k, upper, gap)
			}
		}
	}
}

// By hand: a valley with sides of 3 % runs through the lowest place; the lip that water takes lies 30 degrees off its line. The roof rises by planes to both sides of the line that is looked for, whichever way all lies: it stands in a trough. On a plane, and on a ridge, it does not.
func TestWaterInATroughAskew(t *testing.T) {
	for k, to := range []func(x, y float64) orb.Point{
		func(x, y float64) orb.Point { return orb.Point{x, y} },
		func(x, y float64) orb.Point { return orb.Point{0.8*x - 0.6*y, 0.6*x + 0.8*y} },
		func(x, y float64) orb.Point { return orb.Point{-0.6*x - 0.8*y, 0.8*x - 0.6*y} },
		func(x, y float64) orb.Point { return orb.Point{-y, x} },
	} {
		for name, c := range map[string]struct {
			height func(x, y float64) float64
			want   float64
		}{
			"valley": {func(_, y float64) float64 { return 0.03 * math.Abs(y) }, 1},
			"flat":   {func(_, y float64) float64 { return 0.004 * math.Abs(y) }, 0},
			"plane":  {func(_, y float64) float64 { return 1 + 0.03*y }, 0},
			"ridge":  {func(_, y float64) float64 { return 1 - 0.03*math.Abs(y) }, 0},
			"valley to the lip": {func(x, y float64) float64 { // beyond it one plane goes on
				if x > 4.2 {
					return 0.03 * y
				}
				return 0.03 * math.Abs(y)
			}, 0},
			"valley from the lowest place on": {func(x, y float64) float64 {
				if x < -0.2 {
					return 0.03 * y
				}
				return 0.03 * math.Abs(y)
			}, 0},
		} {
			at := func(x, y float64) roof.Position { p := to(x, y); return shape.At(p[0], p[1], c.height(x, y)) }
			r := shape.New("trough", at(-10, -8), at(10, -8), at(10, 8), at(-10, 8))
			for x := -9.5; x < 10; x += 0.5 {
				for y := -7.5; y < 8; y += 0.5 {
					p := to(x, y)
					shape.Spot(r, p[0], p[1], c.height(x, y))
				}
			}
			v := viewOn(t, r)
			v.noise = 0.0001
			find := func(x, y float64) int32 {
				p := to(x, y)
				best, far := int32(-1), math.Inf(1)
				for i := range v.t.X {
					if d := math.Hypot(v.t.X[i]-p[0], v.t.Y[i]-p[1]); d < far {
						best, far = int32(i), d
					}
				}
				return best
			}
			v.scale, v.deep = 1, find(0, 0)
			v.way = way{v: []int32{v.deep, find(3.5, 2), find(7, 2)}, s: []float64{0, 4, 7.5}, lip: 1, end: -1}
			if got := v.inTrough(); !(math.Abs(got-c.want) <= 0.02) {
				t.Errorf("%s, laid %d: %g, want %g", name, k, got, c.want)
			}
		}
	}
}

// By hand: a valley whose sides rise by 3/4 of the least slope of planes stands half way between half of it and all of it. It is looked for on lines every 8 degrees to either side of the way to the lip: here it lies 24 off.
func TestTroughHalfWay(t *testing.T) {
	for _, side := range []float64{1, -1} {
		least := standard.Defaults().MinSlope
		height := func(_, y float64) float64 { return 0.75 * least * math.Abs(y-8) }
		sin, cos := math.Sincos(side * 24 * math.Pi / 180)
		r := shape.New("trough", shape.At(0, 0, height(0, 0)), shape.At(20, 0, height(0, 0)), shape.At(20, 16, height(0, 16)), shape.At(0, 16, height(0, 16)))
		shape.Grid(r, 0, 0, 20, 16, 20, 16, height)
		shape.Spot(r, 6+4*cos, 8+4*sin, height(0, 8+4*sin))
		v := viewOn(t, r)
		v.scale, v.noise, v.deep = 1, 0, spotAt(t, v, 6, 8)
		lip := v.deep
		for i, x := range v.t.X {
			if math.Hypot(x-6-4*cos, v.t.Y[i]-8-4*sin) < 0.01 {
				lip = int32(i)
			}
		}
		v.way = way{v: []int32{v.deep, lip, lip}, s: []float64{0, 4, 7.5}, lip: 1, end: -1}
		near(t, "trough", v.inTrough(), 0.5, 0.01)
	}
}

// By hand: of the places 1, 1.5 and 2 spacings to either side of a line the one counts that stands highest by its way off, over the lowest of the line and half a spacing to its sides, less twice the error of a spot; of both sides the flatter one.
func TestSidesOfALine(t *testing.T) {
	least := standard.Defaults().MinSlope
	for name, c := range map[string]struct {
		at    [4]float64 // height 1, 1.5, 2 and 3 m off [least slopes]
		noise float64
		want  float64
	}{
		"at one spacing":        {[4]float64{0.75, 0, 0, 0}, 0, 0.5},
		"at one and a half":     {[4]float64{0, 0.75 * 1.5, 0, 0}, 0, 0.5},
		"at two":                {[4]float64{0, 0, 1.5, 9}, 0, 0.5},
		"within the error":      {[4]float64{0, 0, 1.5, 9}, 0.1, 0.3},
		"beyond two":            {[4]float64{0, 0, 0, 9}, 0, 0},
		"everywhere":            {[4]float64{1, 1.5, 2, 3}, 0, 1},
		"one by a half at most": {[4]float64{0.5, 0.75, 1, 1.5}, 0, 0},
	} {
		for _, wide := range []float64{1, 2} { // spacing
			for turn := range 4 {
				off := func(x, y float64) float64 { // of the line, signed
					return [4]float64{y - 8, 10 - x, 8 - y, x - 10}[turn]
				}
				v := terrain(t, func(x, y float64) float64 {
					h := 0.0
					for k, at := range []float64{1, 1.5, 2, 3} {
						if math.Abs(math.Abs(off(x, y))/wide-at) < 0.01 {
							h = c.at[k]
						}
					}
					if off(x, y) > 0 { // the other side is steep enough
						h = 2 * off(x, y) / wide
					}
					return h * least * wide
				})
				v.scale, v.noise, v.deep = wide, c.noise*least*wide, spotAt(t, v, 10, 8)
				u := [4][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}[turn]
				near(t, name, v.sides(u, 1.5), c.want, 0.01)
			}
		}
	}
}

// Of valleys, by hand from the shares and distances that their scores are drawn between, each half way.
func TestScoresOfValleysHalfWay(t *testing.T) {
	// a line that covers half of 0.3 to 0.7 of the water's length, over which it stands half of 0.6 to 0.3 of its depth deep
	valley := func(change func(v *view, l *slope.Line)) *view {
		v := halves(1)
		l := &slope.Line{Named: true, Type: roof.Valley, Slope: 1.5 * v.c.MinValleySlope}
		v.valley = wetValley{line: l, length: 1.5, beside: 0.45 * v.depth}
		v.crest.rise = 1.35 // half of 0.9 to 1.8 m: 0.4 and half of 0.6
		if change != nil {
			change(v, l)
		}
		return v
	}
	for _, c := range []struct {
		name string
		rule func(v *view) (Candidate, bool)
		v    *view
		want float64
	}{
		// along half of both, its slope half of twice the least to the least, half resolved
		{"coded", valleyFlat, valley(nil), 0.9 * 0.25 * 0.5 * 0.7 * 0.5},
		// it falls back by 0.55 of the depth, half of 0.3 to 0.8, and does not fall less than twice the least
		{"coded, falling back", valleyFlat, valley(func(v *view, l *slope.Line) { l.Slope, l.BackFall = 1, 0.55*v.depth }), 0.9 * 0.25 * 0.5 * 0.7 * 0.5},
		// uncoded: twice as long as wide, half of 1.5 to 2.5; 0.4 of its length at a curb, half of 0.6 to 0.2
		{"uncoded", valleyFlat, valley(func(v *view, l *slope.Line) { l.Named, v.wide, v.shore.curb, v.crest.ok = false, 1.5, 1.2, false }), 0.9 * 0.25 * 0.25 * 0.5 * 0.7 * 0.5},
		// the way runs up valleys over 0.55 of itself, half of 0.4 to 0.7, over a metre: 0.4 and a ninth of 0.6
		{"up the valley", valleyFlat, valley(func(v *view, l *slope.Line) {
			l.Slope, v.valley.back, v.valley.length, v.crest.rise = 1, 0.55, 0, 0
		}), 0.9 * 0.5 * (0.4 + 0.6/9) * 0.5},
		{"cricket", cricketFlat, valley(func(_ *view, l *slope.Line) { l.Type = roof.Cricket }), 0.95 * 0.25 * 0.5 * 0.5},
		{"cricket, falling back", cricketFlat, valley(func(v *view, l *slope.Line) { l.Type, l.Slope, l.BackFall = roof.Cricket, 1, 0.55*v.depth }), 0.95 * 0.25 * 0.5 * 0.5},
		{"told by the sides alone", valleyFlat, valley(func(v *view, _ *slope.Line) { v.valley.line, v.trough, v.shore.curb = nil, 0.6, 1.2 }), 0.9 * 0.6 * 0.5 * 0.7 * 0.5},
	} {
		got, ok := c.rule(c.v)
		if !ok || !(math.Abs(got.Score-c.want) <= 1e-9) {
			t.Errorf("%s: %g, %t, want %g", c.name, got.Score, ok, c.want)
		}
	}
	for name, v := range map[string]*view{
		"no line and no sides":     valley(func(v *view, _ *slope.Line) { v.valley.line = nil }),
		"the edge of a cricket":    valley(func(_ *view, l *slope.Line) { l.Type = roof.Cricket }),
		"deep under water":         valley(func(v *view, _ *slope.Line) { v.valley.beside = v.depth }),
		"held by a primary outlet": valley(func(v *view, _ *slope.Line) { v.p.HeldBy = 0; v.s.Outlets = []surface.Outlet{{}} }),
	} {
		if got, ok := valleyFlat(v); ok {
			t.Errorf("%s: %g", name, got.Score)
		}
	}
}

// Of outlets, by hand. Where the roof falls away from a drain over half of the directions, 2/3 of 0.3 to 0.6, the lowest water lies 0.55 of its depth under the roof there, half of 0.3 to 0.8, and 1.5 ft from it, half of 1 to 2 ft; water that stands over roof and inlet by 0.3 of its depth is held half by something else (0.5 to 0.1).
// At an edge: 1.125 m from the lip to it, half of 1.8 to 0.45, the lowest water 2.7 m off, half of 3.6 to 1.8.
func TestScoresOfOutletsHalfWay(t *testing.T) {
	on := func(held float64) *view {
		v := terrain(t, func(x, y float64) float64 {
			if x <= 10 {
				return 1
			}
			return 1 - 0.1*math.Max(0, math.Hypot(x-10, y-8)-0.5)
		}, orb.Point{10, 8})
		v.outlet, v.depth, v.noise = 0, 0.1, 0.001
		_, top := v.fallsAway(0)
		v.low, v.p.Level = top-0.055, top+held*v.depth
		best, far := int32(-1), math.Inf(1)
		for i := range v.t.X {
			if d := math.Abs(math.Hypot(v.t.X[i]-10, v.t.Y[i]-8) - 0.5); d < far {
				best, far = int32(i), d
			}
		}
		v.deep = best
		return v
	}
	for held, want := range map[float64]float64{0: 1, 0.3: 0.5, 0.6: 0} {
		v := on(held)
		away := math.Hypot(v.t.X[v.deep]-10, v.t.Y[v.deep]-8)
		share := (away - 0.3048) / 0.3048
		got, ok := outletOnHigh(v)
		if want *= 0.95 * (0.5 - 0.3) / 0.3 * 0.5 * share; !ok || !(math.Abs(got.Score-want) <= 1e-6) {
			t.Errorf("held over it by %g of the depth: %g, %t, want %g", held, got.Score, ok, want)
		}
	}
	tin := &surface.TIN{
		X: []float64{0, 0, 0, -5, 5}, Y: []float64{2.7, 1.125, 0, 0, 0}, Z: []float64{0, 0.03, 0, 0, 0}, V: []int32{3, 4, 0}, Twin: []int32{-1, -1, -1},
	}
	edge := halves(1)
	edge.t, edge.s = tin, &surface.Surface{TIN: tin, Cut: tin, Outlets: []surface.Outlet{{Type: roof.EdgeOutlet, Edges: []int32{0}}}}
	edge.sink = none(5)
	edge.outlet, edge.deep = 0, 0
	edge.way = way{v: []int32{0, 1, 2}, s: []float64{0, 1.575, 2.7}, lip: 1, end: 0}
	if got, ok := edgeHigh(edge); !ok || !(math.Abs(got.Score-0.95*0.5*0.5*0.5) <= 1e-9) {
		t.Errorf("an edge left high: %g, %t", got.Score, ok)
	}
	edge.crest.ok = false
	if _, ok := edgeHigh(edge); ok {
		t.Error("without a crest")
	}
	edge.crest.ok, edge.outlet = true, -1
	if _, ok := edgeHigh(edge); ok {
		t.Error("without an outlet")
	}
	edge.outlet, edge.s.Outlets[0].Type = 0, roof.Drain
	if _, ok := edgeHigh(edge); ok {
		t.Error("a drain is no edge")
	}
}

// A pond of less than a square metre has its rectangle as well: 0.6 by 0.2 m; of no area it is at its origin and has no sides.
func TestMomentsOfASmallRectangle(t *testing.T) {
	m := moments{origin: orb.Point{5, 7}}
	at := func(u, v float64) orb.Point { return orb.Point{5 + 0.8*u - 0.6*v, 7 + 0.6*u + 0.8*v} }
	m.triangle(at(-0.3, -0.1), at(0.3, -0.1), at(0.3, 0.1))
	m.triangle(at(-0.3, -0.1), at(0.3, 0.1), at(-0.3, 0.1))
	centre, axis, long, wide := m.rectangle()
	if !(math.Hypot(centre[0]-5, centre[1]-7) <= 1e-9) || !(math.Abs(long-0.6) <= 1e-9) || !(math.Abs(wide-0.2) <= 1e-9) || !(math.Abs(axis[0]*0.8+axis[1]*0.6) >= 1-1e-9) {
		t.Errorf("centre %v, axis %v, sides %g and %g", centre, axis, long, wide)
	}
	none := moments{origin: orb.Point{5, 7}}
	if centre, _, long, wide := none.rectangle(); centre != (orb.Point{5, 7}) || long != 0 || wide != 0 {
		t.Errorf("of nothing %v, %g, %g", centre, long, wide)
	}
}
