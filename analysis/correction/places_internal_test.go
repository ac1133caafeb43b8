package correction

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// lies are three ways in which the same figure may lie: as it is, at the angle of the triangle 3, 4, 5 and far off, and past a quarter turn.
var lies = []func(x, y float64) orb.Point{
	func(x, y float64) orb.Point { return orb.Point{x, y} },
	func(x, y float64) orb.Point { return orb.Point{0.8*x - 0.6*y + 40, 0.6*x + 0.8*y - 70} },
	func(x, y float64) orb.Point { return orb.Point{-0.6*x - 0.8*y, 0.8*x - 0.6*y + 20} },
}

func samePlace(t *testing.T, what string, got, want orb.Point) {
	t.Helper()
	if !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= 1e-9) {
		t.Errorf("%s at %v, want %v", what, got, want)
	}
}

// flat designs for a walled roof of 12 by 10 m that lies so, with a drain at (6, 1.5), its corners and some places more measured.
func flat(t *testing.T, to func(x, y float64) orb.Point, z func(x, y float64) float64, more ...orb.Point) *designer {
	t.Helper()
	var ring []roof.Position
	for _, p := range []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}} {
		q := to(p[0], p[1])
		ring = append(ring, shape.At(q[0], q[1], z(p[0], p[1])))
	}
	r := shape.New("flat", ring...)
	r.Outline.Edge = roof.Wall
	for _, p := range more {
		q := to(p[0], p[1])
		shape.Spot(r, q[0], q[1], z(p[0], p[1]))
	}
	q := to(6, 1.5)
	o := shape.Drain(r, q[0], q[1], 0.3)
	o.Invert, o.HasInvert = z(6, 1.5), true
	return designerOf(t, r)
}

// By hand: from a place on a wall 1 and 1.5 m to either side; a scupper 0.3 m before the wall stands in it where it is nearest, one 0.7 m off (over 2 ft) in none.
func TestPlacesAlongAWall(t *testing.T) {
	for _, to := range lies {
		a, b := to(2, 0), to(10, 0)
		w := parapet{to(4, 0), orb.Point{(b[0] - a[0]) / 8, (b[1] - a[1]) / 8}}
		got := w.along(1)
		for i, x := range []float64{5, 3, 5.5, 2.5} {
			samePlace(t, "along a wall", got[i], to(x, 0))
		}
		d := flat(t, to, func(_, _ float64) float64 { return 0 })
		got = d.alongWall(to(4, 0.3), 1)
		if len(got) != 4 {
			t.Fatalf("%d places", len(got))
		}
		slices.SortFunc(got, func(p, q orb.Point) int {
			return int(1e6 * (lineLength(orb.LineString{a, p}) - lineLength(orb.LineString{a, q})))
		})
		for i, x := range []float64{2.5, 3, 5, 5.5} {
			samePlace(t, "along the south wall", got[i], to(x, 0))
		}
		for _, p := range d.alongWall(to(11.8, 5), 1) {
			if n := d.beside(p); !(lineLength(orb.LineString{n, p}) <= 1e-6) || !(math.Abs(lineLength(orb.LineString{p, to(12, 5)})-1.25) <= 0.2501) {
				t.Errorf("along the east wall at %v", p)
			}
		}
		if got := d.alongWall(to(4, 0.7), 1); got != nil {
			t.Errorf("in no wall: %v", got)
		}
	}
}

// By hand: 2 ft (0.6096 m) from another outlet, half its bowl and 1 ft (0.3048 m) where that is more: 1.1048 m from a bowl of 1.6 m.
func TestClearOfABowl(t *testing.T) {
	d := flat(t, lies[0], func(_, _ float64) float64 { return 0 }) // its drain stands at (6, 1.5)
	for _, c := range []struct {
		bowl, far float64
		clear     bool
	}{{0.3, 0.60, false}, {0.3, 0.62, true}, {1.6, 1.10, false}, {1.6, 1.11, true}, {0.61, 0.61, true}, {0.63, 0.615, false}} {
		d.roof.Outlets[0].Bowl = quantity.Length(c.bowl)
		for _, u := range []orb.Point{{1, 0}, {-1, 0}, {0, 1}, {0.6, -0.8}} {
			if got := d.clearOfOutlets(orb.Point{6 + c.far*u[0], 1.5 + c.far*u[1]}); got != c.clear {
				t.Errorf("%g m from a bowl of %g m: clear %t", c.far, c.bowl, got)
			}
		}
	}
}

// By hand: the way from (5, 2) to the middle (1, -1) enters a square of half a side of 2 m, 4 m along and 3 m across, half way; from within it begins where it stands. So it does turned, in the gauge that turns with it.
func TestWhereAWayEntersASquare(t *testing.T) {
	for _, to := range lies {
		o, e := to(0, 0), to(1, 0)
		g := domain.FourWay(orb.Point{e[0] - o[0], e[1] - o[1]})
		samePlace(t, "enters", towardsSquare(&g, to(1, -1), to(5, 2), 2), to(3, 0.5))
		samePlace(t, "within", towardsSquare(&g, to(1, -1), to(2, 0), 2), to(2, 0))
		samePlace(t, "square on", towardsSquare(&g, to(1, -1), to(1, 9), 2), to(1, 1))
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
	about(t, "fall", cuts[0].fall, 0.01)
	about(t, "length", lineLength(cuts[0].line), 3)
	samePlace(t, "begins", cuts[0].line[0], orb.Point{5, 0})
	samePlace(t, "ends", cuts[0].line[1], orb.Point{2, 0})
	for _, p := range sides[:2] { // along the line they fall 1 %, and rise 1/2 in per ft beside it
		about(t, "at its start", p.Z+p.DX*(5-p.Plan[0])+p.DY*(0-p.Plan[1]), 0.04)
		about(t, "at the outlet", p.Z+p.DX*(0-p.Plan[0])+p.DY*(0-p.Plan[1]), -0.01)
		side := math.Copysign(0.5, p.On[2][1])
		about(t, "beside it", p.Z+p.DX*(0-p.Plan[0])+p.DY*(side-p.Plan[1]), -0.01+0.5/24)
	}
}

// By hand: low places at 3, 2 and 1 m from a drain whose inlet stands at 50 mm: that it is set down so that each falls 1.1 times the least of valleys (1/96): the lowest of 0.040 - 3, 0.030 - 2, 0.045 - 1 times 1.1/96 m, down to a tenth of a millimetre. One within the sump comes along with none,
// and nothing is cut where the lowest place itself is.
func TestChannelsFromLowPlaces(t *testing.T) {
	d := flat(t, lies[0], func(_, _ float64) float64 { return 0 })
	o := &d.s.Outlets[0] // at (6, 1.5)
	o.Invert = 0.05
	p := &pond{pits: []orb.Point{{9, 1.5}, {6, 3.5}, {5, 1.5}, {6, 1.9}}, lows: []float64{0.040, 0.030, 0.045, 0.020}}
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
	p = &pond{pits: []orb.Point{{9, 1.5}, {9, 2}, {9, 3}, {9, 4}, {9, 5}}, lows: make([]float64, 5)}
	if from, _, _ := d.channelFrom(p, o); len(from) != 4 {
		t.Errorf("%d channels, four at most", len(from))
	}
}

// By hand: a place on the roof stays; one in a wall or on a curb comes to the edge nearest to it.
func TestBesideWhatStandsInAWall(t *testing.T) {
	for _, to := range lies {
		d := flat(t, to, func(_, _ float64) float64 { return 0 })
		samePlace(t, "on the roof", d.beside(to(3, 4)), to(3, 4))
		samePlace(t, "in the east wall", d.beside(to(12.3, 4)), to(12, 4))
		samePlace(t, "in the south wall", d.beside(to(5, -0.2)), to(5, 0))
		samePlace(t, "beyond a corner", d.beside(to(-3, -4)), to(0, 0))
	}
}

// By hand: a spot 24 mm high in the middle of a grid of level spots stands proud by 24 mm at most, and by more than the roof falls over a disc under it takes off that, spots far off not at all; taken off, it comes to the mean of those round it, near the plane.
func TestOneSpotStandsProud(t *testing.T) {
	for k, to := range lies {
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
			high := d.vertexAt(to(5.1, 5.1))
			samePlace(t, "the spot", orb.Point{d.s.TIN.X[high], d.s.TIN.Y[high]}, to(5, 5))
			about(t, "a spot 3 m off", d.proud(d.vertexAt(to(8.05, 5.05)), 0.65), 0)
			if got := d.proud(high, 0.65); !(got <= 0.024+1e-9) || !(got >= 0.006) {
				t.Errorf("laid %d on %g: %g proud", k, fall, got)
			}
			set := d.bridged([]int32{high})
			if len(set) != 1 || !(math.Abs(set[high]-5*fall) <= 0.005) {
				t.Errorf("laid %d on %g: comes to %g, want %g", k, fall, set[high], 5*fall)
			}
			about(t, "as far as the next", d.far(high, d.vertexAt(to(6.05, 5.05))), 1)
		}
	}
}

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
	d := flat(t, lies[0], z, more...)
	pair := []int32{d.vertexAt(orb.Point{5.01, 5.01}), d.vertexAt(orb.Point{6.01, 5.01})}
	low := d.vertexAt(orb.Point{8.01, 5.01})
	set := d.bridged(append(slices.Clone(pair), low))
	for _, v := range pair {
		if !(math.Abs(set[v]) <= 0.002) {
			t.Errorf("a spot of the pair comes to %g", set[v])
		}
	}
	about(t, "a low spot", set[low], -0.02)
	about(t, "extent", d.extent(pair), 1)
	about(t, "extent on a line", d.extentOn(orb.LineString{{0, 0}, {12, 0}}, append(slices.Clone(pair), low)), 3)
	about(t, "extent across it", d.extentOn(orb.LineString{{0, 0}, {0, 10}}, pair), 0)
	near := d.within(orb.Point{5, 5}, 1.1)
	if len(near) != 5 {
		t.Errorf("%d spots within 1.1 m, want itself and four", len(near))
	}
	round := []int32{d.vertexAt(orb.Point{4.01, 4.01}), d.vertexAt(orb.Point{6.01, 4.01}), d.vertexAt(orb.Point{6.01, 6.01}), d.vertexAt(orb.Point{4.01, 6.01})}
	if !d.rings(round, orb.Point{5, 5}) || d.rings(round[:3], orb.Point{5, 5}) || d.rings(round, orb.Point{3.5, 5}) {
		t.Error("four spots round a place ring it, three do not, nor four on one side")
	}
	if d.rings([]int32{round[0], round[1], round[2], d.vertexAt(orb.Point{3.01, 7.01})}, orb.Point{5, 5}) {
		t.Error("one stands 2.8 m off, over 2 m")
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
	for k, to := range lies {
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
		samePlace(t, "uphill", c.up, north(-0.5, math.Cos(math.Pi/6)))
		about(t, "rises along it", math.Abs(c.e), 0.011)
		about(t, "rough", c.rough, 0.011)
		first := to(0, 0)
		across := vector.Dot(orb.Point{first[0] - c.at[0], first[1] - c.at[1]}, c.across)
		about(t, "at the first place", c.z+c.e*across, 1.001+0.007)
		samePlace(t, "a place on it", c.on(0, across), first)
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
		samePlace(t, "least", lo, orb.Point{-0.8, 0.2})
		samePlace(t, "greatest", hi, orb.Point{2.5, 3})
	}
	a, b := fitted([]float64{1, 2, 4}, []float64{3, 5, 9})
	about(t, "a straight line at 0", a, 1)
	about(t, "its rise", b, 2)
	if a, b = fitted([]float64{2, 2}, []float64{1, 3}); a != 2 || b != 0 {
		t.Errorf("of one place %g, %g", a, b)
	}
}

// By hand: a curb 250 mm high on a roof raised by 60 mm beside it keeps 190 mm, 13 less than 8 in (203.2 mm): it is raised first where that is allowed, else named as a limit. One of 300 mm keeps enough; 200 mm would, too, to the 5 mm that nobody measures better; one that nobody measured is named as not known; and
// where the roof stays nothing is looked at.
func TestHeightLeftAtACurb(t *testing.T) {
	ring := orb.LineString{{3, 4}, {4, 4}, {4, 5}, {3, 5}, {3, 4}}
	for i, c := range []struct {
		height, up float64
		allowed    bool
		want       string
	}{
		{0.25, 0.06, true, "raised"},
		{0.25, 0.06, false, "limit"},
		{0.3, 0.06, true, "checked"},
		{0.2601, 0.06, true, "checked"},
		{0.2581, 0.06, false, "limit"},
		{0.2583, 0.06, false, "checked"},
		{0, 0.06, true, "unknown"},
		{0.05, 0, true, ""},
		{0.05, 0.0009, true, ""},
	} {
		d := flat(t, lies[0], func(_, _ float64) float64 { return 0 })
		d.flashing = standard.FlashingHeight
		if !c.allowed {
			d.in.Steering.Forbid = []Kind{RaiseCurb}
		}
		a := taper.Alter(d.domain, d.base)
		if c.up > 0 {
			a.Raise(taper.Patch{On: []orb.Point{{2, 3}, {5, 3}, {5, 6}, {2, 6}}, Plan: orb.Point{2, 3}, Z: c.up})
		}
		o := &Option{Design: a.Design()}
		d.curb(o, "RTU-1", ring, c.height)
		got := ""
		switch {
		case len(o.Changes) == 1 && o.Changes[0].Kind == RaiseCurb && len(o.Flags) == 1:
			got = "raised"
			about(t, "by", o.Changes[0].What.Args[0].Value, standard.FlashingHeight-(c.height-c.up))
		case len(o.Limits) == 1:
			got = "limit"
			about(t, "left", o.Limits[0].Available.Value, c.height-c.up)
		case len(o.Checked) == 1:
			got = "checked"
		case len(o.Unknown) == 1:
			got = "unknown"
		}
		if got != c.want {
			t.Errorf("%d: %q, want %q: %+v", i, got, c.want, o)
		}
	}
}

// Low places are levelled by flat boards and leveller, by leveller alone where no flat board lies; crickets are the sections flatter than the fields.
func TestWhatLiesUnderBoards(t *testing.T) {
	for bands, want := range map[int]string{0: ": leveller, ", 1: ": flat boards and leveller over them, "} {
		if got := levelled(&taper.Leveller{Bands: make([]taper.Band, bands)}); !strings.Contains(got, want) {
			t.Errorf("%d bands: %q", bands, got)
		}
	}
	facet := func(x, y float64) taper.Facet { return taper.Facet{Taper: orb.Point{x, y}} }
	for want, d := range map[float64]*taper.Design{
		0:    {Slope: 0.02, Facets: []taper.Facet{facet(0.02, 0), facet(0, -0.02), facet(0.016, 0.012)}},
		0.01: {Slope: 0.02, Facets: []taper.Facet{facet(0.02, 0), facet(-0.006, 0.008)}},
	} {
		if got := cricketTaper(d); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("crickets of %g, want %g", got, want)
		}
	}
}

// A curb with a cricket beside it is raised for that cricket's pond: within 1 m of its ring.
func TestCurbIsRaisedForItsCricket(t *testing.T) {
	ring := orb.LineString{{3, 4}, {4, 4}, {4, 5}, {3, 5}, {3, 4}}
	for far, want := range map[float64]string{0.9: "P07", 1.1: ""} {
		d := flat(t, lies[0], func(_, _ float64) float64 { return 0 })
		d.flashing = standard.FlashingHeight
		a := taper.Alter(d.domain, d.base)
		a.Raise(taper.Patch{On: []orb.Point{{2, 3}, {5, 3}, {5, 6}, {2, 6}}, Plan: orb.Point{2, 3}, Z: 0.1})
		o := &Option{Design: a.Design(), Changes: []Change{{Kind: Cricket, Pond: "P07", At: orb.Point{4 + far, 4.5}}, {Kind: LowerRise, Pond: "P08", At: orb.Point{4, 4.5}}}}
		d.curb(o, "RTU-1", ring, 0.2)
		if n := len(o.Changes); n != 3 || o.Changes[2].Pond != want || !slices.Contains(o.Decides, finding.Roofer) {
			t.Errorf("%g m off: %+v", far, o.Changes)
		}
	}
}

// Places where a wall is adjoined by something higher let no scupper through: within 2 ft of that edge's line.
func TestAdjoinedWall(t *testing.T) {
	d := flat(t, lies[0], func(_, _ float64) float64 { return 0 })
	d.roof.Edges = []roof.Edge{{Line: []roof.Position{{Plan: orb.Point{0, 10}}, {Plan: orb.Point{6, 10}}}, AdjoiningHeight: 3}, {Line: []roof.Position{{Plan: orb.Point{12, 0}}, {Plan: orb.Point{12, 10}}}}}
	for q, want := range map[orb.Point]bool{{3, 10}: true, {6.6, 10}: true, {6.62, 10}: false, {12, 5}: false} {
		if got := d.adjoined(q); got != want {
			t.Errorf("%v: %t", q, got)
		}
	}
}
