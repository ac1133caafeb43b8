package mend

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/cricket"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
)

// By hand, on a roof that rises 2 % to the north: through a sump of 4 ft a new drain takes only what stands within 2 ft of it; a place a metre off and 20 mm lower counts for one of 8 ft, from whose level ring of 0.3024 m it
// rises to there at 1/24.
func TestASumpTakesWhatItReaches(t *testing.T) {
	d := designing(t, func(_, y float64) float64 { return 0.02 * y }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}})
	p := &Pond{ID: "P1", Outlet: -1, Pit: orb.Point{6, 5}, low: 0.1, pits: []orb.Point{{6, 5}, {7, 5}}, lows: []float64{0.1, 0.08}}
	for width, want := range map[float64]float64{standard.SumpWidth: 0.1, standard.SumpWidest: 0.08 - (1-0.3024)/24} {
		o := roof.Outlet{Plan: orb.Point{6, 5}, Type: roof.Drain, Bowl: 0.3}
		m, z, ok := d.sumpFor(p, &o, width)
		if !ok || z > want+1e-9 || z < want-1e-4-2e-5 || o.Invert != z || m.Area != width*width || m.Sump != width {
			t.Errorf("%g m wide: %t, inlet at %g, want %g; %+v", width, ok, z, want, m)
		}
	}
}

// By hand: a plane of 1 % from 30 mm over a roof of 2 % meets it 3 m up. A pond 2.5 m deep up the roof has it looked at as far as 1.2 x 2.5 + 0.5 = 3.5 m, where it lies under the roof: the hollow at 3.6 m and beyond is none of its own.
// It is 45 mm x m in section from wall to wall, 12 m: 0.54 m3 on 36 m2, less the last 0.2 m, where it is thinner than 2 mm.
func TestATaperLooksNoFartherThanItMustMeet(t *testing.T) {
	z := func(_, y float64) float64 {
		if y > 5.6 && y < 6.4 {
			return 0.02*y - 0.08
		}
		return 0.02 * y
	}
	var spots []orb.Point
	for _, y := range []float64{2, 5.59, 5.61, 6.39, 6.41} {
		for x := 0.5; x < 12; x++ {
			spots = append(spots, orb.Point{x, y})
		}
	}
	d := designing(t, func(x, y float64) float64 {
		if x == 0 || x == 12 {
			return 0.02 * y
		}
		return z(x, y)
	}, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}}, spots...)
	c := crest{at: orb.Point{6, 2}, up: orb.Point{0, 1}, across: orb.Point{-1, 0}, z: 0.04 + 0.03, lo: -6, hi: 6, deep: 2.5}
	e := &ease{crest: &c, fall: 0.01}
	if !d.laidFlush(e) {
		t.Fatal("meets nowhere")
	}
	mendtest.About(t, "looks [m]", e.long, 3.5)
	for what, v := range map[string][3]float64{
		"up the roof [m]": {e.run, 2.8, 0.06}, "area [m2]": {e.wedge.area, 12 * 2.8, 1}, "volume [m3]": {e.wedge.volume, 12 * (0.045 - 0.0002), 0.016}, "thickest [m]": {e.wedge.thick, 0.03, 0.0005},
	} {
		if !(math.Abs(v[0]-v[1]) <= v[2]) {
			t.Errorf("%s: %g, want %g", what, v[0], v[1])
		}
	}
	mendtest.About(t, "3 m up", e.at(3, 1), 0.1)
	mendtest.About(t, "down the strip", e.at(-0.24, 0), 0.07-0.01)
	// Down a strip of 1/24 the crest, 30 mm over the roof, comes down to it within 0.03 / (1/24 - 0.02) = 1.385 m.
	for strip, flush := range map[float64]bool{1.3: false, 1.4: true} {
		e := &ease{crest: &c, fall: 0.01, strip: strip}
		if got := d.laidFlush(e); got != flush || len(e.patches()) != 2 {
			t.Errorf("a strip of %g m ends on the roof: %t, %d planes", strip, got, len(e.patches()))
		}
	}
	c.deep = 1 // looked at as far as 5.5 m up, well before the wall
	if steep := (&ease{crest: &c, fall: 0.03}); d.laidFlush(steep) {
		t.Errorf("a plane steeper than the roof meets it at %g m", steep.long)
	}
	if len(e.patches()) != 1 {
		t.Errorf("%d planes without a strip", len(e.patches()))
	}
}

// By hand: across a roof that falls 2 % to the east lies a rise of 50 mm, a metre up and down: its top at x = 4 m stands at 0.13 m; the water before it reaches as far as the roof is that
// high, 2.5 m up from the top, and from wall to wall.
func TestCrestOfARise(t *testing.T) {
	z := func(x, _ float64) float64 { return 0.02*math.Abs(x-8) + 0.05*math.Max(0, 1-math.Abs(x-4)) }
	var spots []orb.Point
	for _, x := range []float64{1, 2, 3, 4, 5, 8} {
		for y := range 11 {
			spots = append(spots, orb.Point{x, float64(y)})
		}
	}
	d := designing(t, z, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}}, spots...)
	for i := range d.Ponds {
		p := &d.Ponds[i]
		if p.Pit[0] > 4 {
			continue
		}
		c, ok := d.crestOf(p, orb.Point{-1, 0})
		if !ok || !(math.Abs(c.z-0.13) <= 0.0016) || c.rough > 0.0016 || !(math.Abs(c.e) <= 1e-3) || !(math.Abs(c.at[0]-4) <= 0.06) || !(math.Abs(c.deep-2.5) <= 0.07) || !(math.Abs(c.hi-c.lo-10) <= 1e-6) || !(math.Abs(c.up[0]+1) <= 1e-6) {
			t.Errorf("%t, %+v", ok, c)
		}
		return
	}
	t.Error("no pond before the rise")
}

// The roof is read in rows along each of four directions: each place that they say lies where they say, as high as the plane of the roof there, and none where there is no roof. By hand they begin four and a half boards before what
// must be built up, end at the wall, are a half board apart, or so far that sixty do, and cover the roof from side to side.
func TestGroundIsReadInRows(t *testing.T) {
	for _, far := range []float64{8, 30} {
		z := func(x, y float64) float64 { return 1 + 0.01*x - 0.004*y }
		corners := []orb.Point{{0, 0}, {far, 0}, {far, 10}, {0, 10}}
		d := designing(t, z, corners)
		must := []orb.Point{{4, 3}, {6.5, 5}, {5, 6.5}}
		for k := range 4 {
			g := d.groundTo(must, k)
			near, end, left, right := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
			for _, q := range must {
				near = math.Min(near, q[0]*g.up[0]+q[1]*g.up[1])
			}
			for _, q := range corners {
				s, t := q[0]*g.up[0]+q[1]*g.up[1], q[1]*g.up[0]-q[0]*g.up[1]
				end, left, right = math.Max(end, s), math.Min(left, t), math.Max(right, t)
			}
			mendtest.About(t, "nearest", g.near, near)
			mendtest.About(t, "farthest", g.far, end)
			mendtest.About(t, "first", g.first, near-4.5*standard.Board)
			mendtest.About(t, "step", g.step, math.Max(standard.Board/4, (end-near+4.5*standard.Board)/60))
			mendtest.About(t, "between rows", g.wide, math.Max(standard.Board/2, (right-left)/60))
			mendtest.About(t, "first row", g.side, left+g.wide/2)
			if rest := right - left - float64(len(g.rows))*g.wide; !(math.Abs(rest) <= g.wide/2+1e-9) {
				t.Errorf("%d rows leave %g m of %g", len(g.rows), rest, right-left)
			}
			on := 0
			for i, row := range g.rows {
				if rest := end - g.first - float64(len(row))*g.step; !(math.Abs(rest) <= g.step/2+1e-9) {
					t.Errorf("%d places leave %g m", len(row), rest)
				}
				for j, got := range row {
					s, across := g.first+(float64(j)+0.5)*g.step, g.side+float64(i)*g.wide
					q := orb.Point{s*g.up[0] - across*g.up[1], s*g.up[1] + across*g.up[0]}
					inside := q[0] >= 0 && q[0] <= far && q[1] >= 0 && q[1] <= 10
					if inside {
						on++
					}
					if inside == math.IsNaN(got) || inside && math.Abs(got-z(q[0], q[1])) > 2e-5 {
						t.Fatalf("row %d, place %d, at %v: %g, want %g", i, j, q, got, z(q[0], q[1]))
					}
				}
			}
			if on < 50 {
				t.Errorf("%d places on the roof", on)
			}
		}
	}
}

// By hand, on a walled roof that rises 2 % to the north, with a slit from the north: an overflow 50.8 mm (OverflowHeight) over an inlet at 70 mm stands at 120.8 mm, so at the first place where the roof is lower, 2 ft clear of
// walls and in sight. Over a sump of 8 ft the roof is as low as the sides of the sump, 1/24 a metre: a metre off at 111.7 instead of 120 mm; over one of 4 ft it stays, 0.8 mm under the overflow, less than the millimetre that counts as under it.
func TestOverflowStandsWhereItMay(t *testing.T) {
	d := designing(t, func(_, y float64) float64 { return 0.02 * y }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {8.5, 10}, {8.5, 4}, {8, 4}, {8, 10}, {0, 10}})
	o := &roof.Outlet{Plan: orb.Point{6, 5}, Type: roof.Drain, Diameter: 0.1, Bowl: 0.3}
	p := &Pond{ID: "P1"}
	off, wall, high, hidden, sump, good := orb.Point{-1, 5}, orb.Point{0.6, 5}, orb.Point{5, 7}, orb.Point{9.5, 5}, orb.Point{6, 6}, orb.Point{5, 5.9}
	for _, c := range []struct {
		name   string
		places []orb.Point
		width  float64
		ok     bool
		at     orb.Point
	}{
		{"the good one", []orb.Point{off, wall, high, hidden, sump, good}, standard.SumpWidth, true, good},
		{"in a wide sump", []orb.Point{off, wall, high, hidden, sump, good}, standard.SumpWidest, true, sump},
		{"off the roof", []orb.Point{off}, standard.SumpWidth, false, orb.Point{}},
		{"at the wall", []orb.Point{wall}, standard.SumpWidth, false, orb.Point{}},
		{"too high", []orb.Point{high}, standard.SumpWidest, false, orb.Point{}},
		{"behind the slit", []orb.Point{hidden}, standard.SumpWidest, false, orb.Point{}},
		{"0.8 mm under it", []orb.Point{sump}, standard.SumpWidth, false, orb.Point{}},
	} {
		over, need, ok := d.overflowFor(p, o, c.places, 0.07, c.width)
		if !need || ok != c.ok || ok && over.Plan != c.at {
			t.Errorf("%s: need %t, ok %t, at %v, want %t at %v", c.name, need, ok, over.Plan, c.ok, c.at)
		}
		if ok && (over.Duty != roof.Overflow || math.Abs(over.Invert-0.1208) > 1e-12 || over.Diameter != 0.1) {
			t.Errorf("%s: %+v", c.name, over)
		}
	}
	d.Surface.Outlets[0].Line = orb.LineString{{0, 0}, {1, 0}}
	if _, need, ok := d.overflowFor(p, o, []orb.Point{good}, 0.07, 1.2); need || ok {
		t.Error("a roof with an open edge needs an overflow")
	}
}

// By hand, a cricket on a side of 4 m that faces (0.6, 0.8), whose tip stands 1.5 m off: each half is 1.5 m2, and 0.05 m under the side; along its valley from the corner to the tip it lies in the field, and at the middle of
// the side it is rate times 2 sin(phi) thick, where tan(phi) = 1.5 / 2: 2 x 0.6 x 0.05 = 60 mm. So whichever way the side faces.
func TestPlanesOfACricket(t *testing.T) {
	for _, out := range []orb.Point{{0.6, 0.8}, {-0.8, 0.6}, {1, 0}, {0, -1}} {
		f := &field{at: orb.Point{3, 1}, z: 2, grad: [2]float64{0.02 * out[0], 0.02 * out[1]}, out: out}
		on := func(q orb.Point) float64 { return 2 + 0.02*(out[0]*(q[0]-3)+out[1]*(q[1]-1)) }
		a := orb.Point{7, -2}
		along := orb.Point{-out[1], out[0]} // the roof lies on the right of it
		off := func(s, t float64) orb.Point {
			return orb.Point{a[0] + s*along[0] + t*out[0], a[1] + s*along[1] + t*out[1]}
		}
		b, mid, tip := off(4, 0), off(2, 0), off(2, 1.5)
		halves := f.triangle(a, b, cricket.Triangle{Width: 4, Apex: 1.5, Rate: 0.05})
		if len(halves) != 2 {
			t.Fatalf("%d planes", len(halves))
		}
		for i, corner := range []orb.Point{a, b} {
			p := &halves[i]
			at := func(q orb.Point) float64 { return p.Z + p.DX*(q[0]-p.Plan[0]) + p.DY*(q[1]-p.Plan[1]) }
			mendtest.About(t, "corner", at(corner), on(corner))
			mendtest.About(t, "tip", at(tip), on(tip))
			mendtest.About(t, "middle", at(mid), on(mid)+0.06)
			ring := append(orb.Ring(nil), p.On...)
			ring = append(ring, ring[0])
			mendtest.About(t, "area", planar.Area(ring), 1.5+2*0.05)
			if ring.Orientation() != orb.CCW || !planar.RingContains(ring, off(2+0.5*float64(2*i-1), -0.04)) {
				t.Errorf("half %d mendtest.Lies on %v", i, p.On)
			}
		}
	}
}

// By hand: planes of 1.5 times the criterion of 1/8 in per ft from a drain at (6, 1.5) take a place 2.5 m off along one wall and 2 m along the other at its lowest 2.5 times that below, and one that is 4 m off and 50 mm higher 4 times:
// the drain goes down by what the worse of the two asks, to the tenth of a millimetre, and a square of 8 m is laid.
func TestRetaperTakesAllLowPlaces(t *testing.T) {
	d := designing(t, func(_, y float64) float64 { return 0.01 * y }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}})
	const slope = 1.5 / 96
	for _, c := range []struct{ near, far, z, side float64 }{
		{0.02, 0.07, 0.02 - 2.5*slope, 8},
		{0.06, 0.07, 0.07 - 4*slope, 8},
		{0.02, 0.015 + 4*slope, 0.02 - 2.5*slope, 8},
	} {
		p := &Pond{ID: "P1", Outlet: 0, pits: []orb.Point{{8, 4}, {2, 3}}, lows: []float64{c.near, c.far}, low: c.near}
		m, ok := d.retaper(p)
		if !ok {
			t.Fatal("no new taper")
		}
		if z := m.Inverts[d.Surface.Outlets[0].Source]; z > c.z+1e-9 || z < c.z-1e-4 {
			t.Errorf("goes down to %g, want %g", z, c.z)
		}
		mendtest.About(t, "area", m.Area, c.side*c.side)
	}
	if _, ok := d.retaper(&Pond{ID: "P1", Outlet: 0, pits: []orb.Point{{8, 14}}, lows: []float64{0}}); ok {
		t.Error("a place off the roof is drained")
	}
}

// By hand: a sump of 4 ft with strips of 1 ft is 1.8288 m square at its rim and 0.6 m at its level floor, 40 mm down: what comes out is the frustum between the two squares. It is level with the roof at its rim, and falls half
// a board in half the width of its sides.
func TestSumpTakesOutItsFrustum(t *testing.T) {
	const flat, deep, top = 0.3, 0.04, 0.1
	rim := standard.SumpWidth/2 + standard.SumpEdge
	d := designing(t, func(_, _ float64) float64 { return top }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}})
	o := &d.Surface.Outlets[0]
	m := d.sumpAt(&Pond{ID: "P1", Outlet: 0}, o, top-deep, flat, standard.SumpWidth, deep/(rim-flat))
	a := taper.Alter(d.Domain, d.Base)
	m.Apply(a)
	out := a.Design()
	low, high := 4*flat*flat, 4*rim*rim
	if want := deep / 3 * (low + high + math.Sqrt(low*high)); !(math.Abs(out.Fill.Cut-want) <= 1e-5) || out.Fill.Volume > 1e-6 {
		t.Errorf("takes out %.6f m3 and fills %g, want %.6f", out.Fill.Cut, out.Fill.Volume, want)
	}
	for n, want := range map[float64]float64{0: top - deep, 0.29: top - deep, (flat + rim) / 2: top - deep/2, rim + 0.01: top} {
		if got, ok := out.Height(orb.Point{6 + n, 1.5}); !ok || !(math.Abs(got-want) <= 1e-5) {
			t.Errorf("%g m off: %g, %t, want %g", n, got, ok, want)
		}
	}
	if m.Area != standard.SumpWidth*standard.SumpWidth || m.Inverts[o.Source] != top-deep || m.Change.At != o.Plan {
		t.Errorf("%+v", m)
	}
}

// By hand: a raised vertex lifts a pyramid on the facets round it, a third of their area times its height; three of a facet a prism on it and what slopes from it.
func TestVolumeOfRaisedVertices(t *testing.T) {
	d := designing(t, func(x, y float64) float64 { return 0.01*x + 0.02*y }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}}, orb.Point{4, 5}, orb.Point{9, 6}, orb.Point{5, 8})
	tin := d.Surface.TIN
	round := make([]float64, len(tin.X)) // area of the facets at each vertex
	for f := range tin.Facets() {
		v := tin.V[3*f : 3*f+3]
		at := func(k int) orb.Point { return orb.Point{tin.X[v[k]], tin.Y[v[k]]} }
		area := planar.Area(orb.Ring{at(0), at(1), at(2), at(0)})
		for _, k := range v {
			round[k] += math.Abs(area)
		}
	}
	sum, all := 0.0, map[int32]float64{}
	for v := range int32(len(tin.X)) {
		up := 0.01 * float64(v+1)
		mendtest.About(t, "one vertex", d.volume(map[int32]float64{v: d.Base.Z[v] + up}), up*round[v]/3)
		all[v] = d.Base.Z[v] + up
		sum += up * round[v] / 3
	}
	mendtest.About(t, "all vertices", d.volume(all), sum)
	mendtest.About(t, "area that all touch", d.Touched(all), 120)
}

// By hand: from 10 m2 on a fill of less than 5 mm on average is too thin.
func TestWideThinFillsFeather(t *testing.T) {
	for _, c := range []struct {
		volume, area float64
		feathers     bool
	}{{0.0539, 11, true}, {0.0561, 11, false}, {0.001, 10, false}, {0.001, 10.01, true}, {0.2, 30, false}, {0.14, 30, true}} {
		if Feathers(c.volume, c.area) != c.feathers {
			t.Errorf("%g m3 on %g m2: %t", c.volume, c.area, !c.feathers)
		}
	}
}
