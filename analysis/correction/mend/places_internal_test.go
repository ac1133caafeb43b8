package mend

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/taper/domain"
)

// By hand: two spots side by side that are both 30 mm high among level ones come to level; what stands lower than its neighbours is not raised.
func TestARiseIsTakenDownEvenly(t *testing.T) {
	z := func(x, y float64) float64 {
		switch {
		case y == 5 && (x == 5 || x == 6):
			return 0.03
		case x == 8 && y == 5:
			return -0.02
		}
		return 0
	}
	var more []orb.Point
	for x := 1.0; x < 12; x++ {
		for y := 2.0; y < 10; y++ {
			more = append(more, orb.Point{x, y})
		}
	}
	d := flat(t, mendtest.Lies[0], z, more...)
	pair := []int32{d.VertexAt(orb.Point{5.01, 5.01}), d.VertexAt(orb.Point{6.01, 5.01})}
	low := d.VertexAt(orb.Point{8.01, 5.01})
	set := d.bridged(append(slices.Clone(pair), low))
	for _, v := range pair {
		if !(math.Abs(set[v]) <= 0.002) {
			t.Errorf("a spot of the pair comes to %g", set[v])
		}
	}
	mendtest.About(t, "a low spot", set[low], -0.02)
	mendtest.About(t, "extent", d.extent(pair), 1)
	mendtest.About(t, "extent on a line", d.extentOn(orb.LineString{{0, 0}, {12, 0}}, append(slices.Clone(pair), low)), 3)
	mendtest.About(t, "extent across it", d.extentOn(orb.LineString{{0, 0}, {0, 10}}, pair), 0)
	near := d.within(orb.Point{5, 5}, 1.1)
	if len(near) != 5 {
		t.Errorf("%d spots within 1.1 m, want itself and four", len(near))
	}
	round := []int32{d.VertexAt(orb.Point{4.01, 4.01}), d.VertexAt(orb.Point{6.01, 4.01}), d.VertexAt(orb.Point{6.01, 6.01}), d.VertexAt(orb.Point{4.01, 6.01})}
	if !d.rings(round, orb.Point{5, 5}) || d.rings(round[:3], orb.Point{5, 5}) || d.rings(round, orb.Point{3.5, 5}) {
		t.Error("four spots round a place ring it, three do not, nor four on one side")
	}
	if d.rings([]int32{round[0], round[1], round[2], d.VertexAt(orb.Point{3.01, 7.01})}, orb.Point{5, 5}) {
		t.Error("one stands 2.8 m off, over 2 m")
	}
}

// Places where a wall is adjoined by something higher let no scupper through: within 2 ft of that edge's line.
func TestAdjoinedWall(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 0 })
	d.Roof.Edges = []roof.Edge{{Line: []roof.Position{{Plan: orb.Point{0, 10}}, {Plan: orb.Point{6, 10}}}, AdjoiningHeight: 3}, {Line: []roof.Position{{Plan: orb.Point{12, 0}}, {Plan: orb.Point{12, 10}}}}}
	for q, want := range map[orb.Point]bool{{3, 10}: true, {6.6, 10}: true, {6.62, 10}: false, {12, 5}: false} {
		if got := d.adjoined(q); got != want {
			t.Errorf("%v: %t", q, got)
		}
	}
}

// By hand: low places at 3, 2 and 1 m from a drain whose inlet stands at 50 mm: that it is set down so that each falls 1.1 times the least of valleys (1/96): the lowest of 0.040 - 3, 0.030 - 2, 0.045 - 1 times 1.1/96 m, down to a tenth of a millimetre. One within the sump comes along with none,
// and nothing is cut where the lowest place itself is.
func TestChannelsFromLowPlaces(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 0 })
	o := &d.Surface.Outlets[0] // at (6, 1.5)
	o.Invert = 0.05
	p := &Pond{pits: []orb.Point{{9, 1.5}, {6, 3.5}, {5, 1.5}, {6, 1.9}}, lows: []float64{0.040, 0.030, 0.045, 0.020}}
	from, low, z := d.channelFrom(p, o)
	if !slices.Equal(from, p.pits[:3]) || !slices.Equal(low, p.lows[:3]) {
		t.Errorf("from %v at %v", from, low)
	}
	least := math.Inf(1)
	for i, far := range []float64{3, 2, 1} {
		least = math.Min(least, p.lows[i]-1.1/96*far)
	}
	if !(z <= least) || !(z > least-1e-4) {
		t.Errorf("set down to %g, want %g", z, least)
	}
	o.Invert = -0.2
	if _, _, z := d.channelFrom(p, o); z != -0.2 {
		t.Errorf("an inlet that is low enough goes to %g", z)
	}
	p.pits[0], p.pits[3] = p.pits[3], p.pits[0]
	if from, _, _ := d.channelFrom(p, o); from != nil {
		t.Errorf("of a low place in the sump: %v", from)
	}
	p = &Pond{pits: []orb.Point{{9, 1.5}, {9, 2}, {9, 3}, {9, 4}, {9, 5}}, lows: make([]float64, 5)}
	if from, _, _ := d.channelFrom(p, o); len(from) != 4 {
		t.Errorf("%d channels, four at most", len(from))
	}
}

// By hand: 2 ft (0.6096 m) from another outlet, half its bowl and 1 ft (0.3048 m) where that is more: 1.1048 m from a bowl of 1.6 m.
func TestClearOfABowl(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 0 }) // its drain stands at (6, 1.5)
	for _, c := range []struct {
		bowl, far float64
		clear     bool
	}{{0.3, 0.60, false}, {0.3, 0.62, true}, {1.6, 1.10, false}, {1.6, 1.11, true}, {0.61, 0.61, true}, {0.63, 0.615, false}} {
		d.Roof.Outlets[0].Bowl = quantity.Length(c.bowl)
		for _, u := range []orb.Point{{1, 0}, {-1, 0}, {0, 1}, {0.6, -0.8}} {
			if got := d.clearOfOutlets(orb.Point{6 + c.far*u[0], 1.5 + c.far*u[1]}); got != c.clear {
				t.Errorf("%g m from a bowl of %g m: clear %t", c.far, c.bowl, got)
			}
		}
	}
}

// By hand: places along a line at 30 degrees that stand 1.00, 1.01, 1.03 and 1.03 m high: the fitted line rises 11 mm from one to the next, 2.5 mm from 1.001 m at the first; the third stands 7 mm over it, the second 2 mm and the fourth 4 mm under: raised by 7 mm, rough by 11 mm. Whichever way it lies; where a place stands
// 0.4 m off the line it is no straight crest, and where it is rougher than 12 mm no even one.
func TestCrestInALine(t *testing.T) {
	at := func(off float64, to func(x, y float64) orb.Point) []orb.Point {
		var out []orb.Point
		for i := range 4 {
			s := float64(i)
			out = append(out, to(s*math.Cos(math.Pi/6), s*math.Sin(math.Pi/6)))
		}
		out[1] = to(math.Cos(math.Pi/6)-off*math.Sin(math.Pi/6), math.Sin(math.Pi/6)+off*math.Cos(math.Pi/6))
		return out
	}
	levels := []float64{1.00, 1.01, 1.03, 1.03}
	for k, to := range mendtest.Lies {
		o, e, n := to(0, 0), to(1, 0), to(0, 1)
		u := orb.Point{n[0] - o[0], n[1] - o[1]} // north as it lies: uphill within 30 degrees
		north := func(s, c float64) orb.Point {
			return orb.Point{s*(e[0]-o[0]) + c*(n[0]-o[0]), s*(e[1]-o[1]) + c*(n[1]-o[1])}
		}
		pond := orb.MultiPolygon{{{to(0, 0.2), to(2.5, 1.6), to(1.5, 3), to(-0.8, 2), to(0, 0.2)}}}
		c, ok := lined(at(0, to), levels, u, pond)
		if !ok {
			t.Fatalf("laid %d: no crest: %+v", k, c)
		}
		mendtest.SamePlace(t, "uphill", c.up, north(-0.5, math.Cos(math.Pi/6)))
		mendtest.About(t, "rises along it", math.Abs(c.e), 0.011)
		mendtest.About(t, "rough", c.rough, 0.011)
		first := to(0, 0)
		across := vector.Dot(orb.Point{first[0] - c.at[0], first[1] - c.at[1]}, c.across)
		mendtest.About(t, "at the first place", c.z+c.e*across, 1.001+0.007)
		mendtest.SamePlace(t, "a place on it", c.on(0, across), first)
		if _, ok := lined(at(0.2, to), levels, u, pond); !ok {
			t.Errorf("laid %d: a place 0.2 m off", k)
		}
		if _, ok := lined(at(0.9, to), levels, u, pond); ok {
			t.Errorf("laid %d: a place 0.9 m off", k)
		}
		if c, ok := lined(at(0, to), []float64{1, 1.013, 1.033, 1.03}, u, pond); ok {
			t.Errorf("laid %d: rough by %g", k, c.rough)
		}
		lo, hi := extents(pond, to(0, 0), orb.Point{e[0] - o[0], e[1] - o[1]}, u)
		mendtest.SamePlace(t, "least", lo, orb.Point{-0.8, 0.2})
		mendtest.SamePlace(t, "greatest", hi, orb.Point{2.5, 3})
	}
	a, b := fitted([]float64{1, 2, 4}, []float64{3, 5, 9})
	mendtest.About(t, "a straight line at 0", a, 1)
	mendtest.About(t, "its rise", b, 2)
	if a, b = fitted([]float64{2, 2}, []float64{1, 3}); a != 2 || b != 0 {
		t.Errorf("of one place %g, %g", a, b)
	}
}

// By hand: a spot 24 mm high in the middle of a grid of level spots stands proud by 24 mm at most, and by more than the roof falls over a disc under it takes off that, spots far off not at all; taken off, it comes to the mean of those round it, near the plane.
func TestOneSpotStandsProud(t *testing.T) {
	for k, to := range mendtest.Lies {
		for _, fall := range []float64{0, 0.02} {
			z := func(x, y float64) float64 {
				if x == 5 && y == 5 {
					return fall*y + 0.024
				}
				return fall * y
			}
			var more []orb.Point
			for x := 1.0; x < 12; x++ {
				for y := 2.0; y < 10; y++ {
					more = append(more, orb.Point{x, y})
				}
			}
			d := flat(t, to, z, more...)
			high := d.VertexAt(to(5.1, 5.1))
			mendtest.SamePlace(t, "the spot", orb.Point{d.Surface.TIN.X[high], d.Surface.TIN.Y[high]}, to(5, 5))
			mendtest.About(t, "a spot 3 m off", d.proud(d.VertexAt(to(8.05, 5.05)), 0.65), 0)
			if got := d.proud(high, 0.65); !(got <= 0.024+1e-9) || !(got >= 0.006) {
				t.Errorf("laid %d on %g: %g proud", k, fall, got)
			}
			set := d.bridged([]int32{high})
			if len(set) != 1 || !(math.Abs(set[high]-5*fall) <= 0.005) {
				t.Errorf("laid %d on %g: comes to %g, want %g", k, fall, set[high], 5*fall)
			}
			mendtest.About(t, "as far as the next", d.far(high, d.VertexAt(to(6.05, 5.05))), 1)
		}
	}
}

// By hand: from places 5 m and 0.1 m from the outlet at level -10 mm, at 40 and -6 mm: the first falls 50 mm over 5 m, 1 %, and is cut as far as the sump, 2 m before it; the second lies in the sump, and is no cut. Both have two sides.
func TestTrenchesToASump(t *testing.T) {
	enters := func(q orb.Point) orb.Point {
		if q[0] < 1 {
			return q
		}
		return orb.Point{2, 0}
	}
	cuts, sides := trenches([]orb.Point{{5, 0}, {0.1, 0}}, []float64{0.04, -0.006}, orb.Point{0, 0}, -0.01, enters)
	if len(cuts) != 1 || len(sides) != 4 {
		t.Fatalf("%d cuts, %d sides", len(cuts), len(sides))
	}
	mendtest.About(t, "fall", cuts[0].fall, 0.01)
	mendtest.About(t, "length", LineLength(cuts[0].line), 3)
	mendtest.SamePlace(t, "begins", cuts[0].line[0], orb.Point{5, 0})
	mendtest.SamePlace(t, "ends", cuts[0].line[1], orb.Point{2, 0})
	for _, p := range sides[:2] { // along the line they fall 1 %, and rise 1/2 in per ft beside it
		mendtest.About(t, "at its start", p.Z+p.DX*(5-p.Plan[0])+p.DY*(0-p.Plan[1]), 0.04)
		mendtest.About(t, "at the outlet", p.Z+p.DX*(0-p.Plan[0])+p.DY*(0-p.Plan[1]), -0.01)
		side := math.Copysign(0.5, p.On[2][1])
		mendtest.About(t, "beside it", p.Z+p.DX*(0-p.Plan[0])+p.DY*(side-p.Plan[1]), -0.01+0.5/24)
	}
}

// By hand: the way from (5, 2) to the middle (1, -1) enters a square of half a side of 2 m, 4 m along and 3 m across, half way; from within it begins where it stands. So it does turned, in the gauge that turns with it.
func TestWhereAWayEntersASquare(t *testing.T) {
	for _, to := range mendtest.Lies {
		o, e := to(0, 0), to(1, 0)
		g := domain.FourWay(orb.Point{e[0] - o[0], e[1] - o[1]})
		mendtest.SamePlace(t, "enters", towardsSquare(&g, to(1, -1), to(5, 2), 2), to(3, 0.5))
		mendtest.SamePlace(t, "within", towardsSquare(&g, to(1, -1), to(2, 0), 2), to(2, 0))
		mendtest.SamePlace(t, "square on", towardsSquare(&g, to(1, -1), to(1, 9), 2), to(1, 1))
	}
}

// By hand: from a place on a wall 1 and 1.5 m to either side; a scupper 0.3 m before the wall stands in it where it is nearest, one 0.7 m off (over 2 ft) in none.
func TestPlacesAlongAWall(t *testing.T) {
	for _, to := range mendtest.Lies {
		a, b := to(2, 0), to(10, 0)
		w := parapet{to(4, 0), orb.Point{(b[0] - a[0]) / 8, (b[1] - a[1]) / 8}}
		got := w.along(1)
		for i, x := range []float64{5, 3, 5.5, 2.5} {
			mendtest.SamePlace(t, "along a wall", got[i], to(x, 0))
		}
		d := flat(t, to, func(_, _ float64) float64 { return 0 })
		got = d.alongWall(to(4, 0.3), 1)
		if len(got) != 4 {
			t.Fatalf("%d places", len(got))
		}
		slices.SortFunc(got, func(p, q orb.Point) int {
			return int(1e6 * (LineLength(orb.LineString{a, p}) - LineLength(orb.LineString{a, q})))
		})
		for i, x := range []float64{2.5, 3, 5, 5.5} {
			mendtest.SamePlace(t, "along the south wall", got[i], to(x, 0))
		}
		for _, p := range d.alongWall(to(11.8, 5), 1) {
			if n := vector.Nearest(orb.LineString{to(12, 0), to(12, 10)}, p); !(LineLength(orb.LineString{n, p}) <= 1e-6) || !(math.Abs(LineLength(orb.LineString{p, to(12, 5)})-1.25) <= 0.2501) {
				t.Errorf("along the east wall at %v", p)
			}
		}
		if got := d.alongWall(to(4, 0.7), 1); got != nil {
			t.Errorf("in no wall: %v", got)
		}
	}
}
