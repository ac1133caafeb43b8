package mend

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// TestAnotherSupplierTapers: the greatest taper is that of the supplier's boards, else of the usual ones, 1/2 in per ft.
func TestAnotherSupplierTapers(t *testing.T) {
	d := &Designer{}
	mendtest.About(t, "usual", d.greatestRate(), 1./24)
	d.Rates = []float64{0.01, 0.03}
	mendtest.About(t, "supplier's", d.greatestRate(), 0.03)
}

// TestBetweenOutlets: the two primary outlets in one place on whose line a place lies, to 0.15 of its length, and that are nearest to each other; none where it lies beyond both, where only one is primary, or where they do not see each other.
func TestBetweenOutlets(t *testing.T) {
	d := flat(t, mendtest.Lies[0], falling, orb.Point{6, 5})
	out := func(x, y float64, duty roof.Duty, line orb.LineString) surface.Outlet {
		return surface.Outlet{Plan: orb.Point{x, y}, Duty: duty, Line: line}
	}
	d.Surface.Outlets = []surface.Outlet{out(1, 2, roof.Primary, nil), out(11, 2, roof.Primary, nil), out(7, 2, roof.Primary, nil), out(5, 2, roof.Overflow, nil), out(3, 2, roof.Primary, orb.LineString{{3, 2}, {4, 2}})}
	for _, c := range []struct {
		x, y float64
		a, b float64
		ok   bool
	}{{4, 2, 1, 7, true}, {4, 2.89, 1, 7, true}, {4, 2.91, 1, 11, true}, {4, 3.51, 0, 0, false}, {9, 2.1, 11, 7, true}, {0.5, 2, 0, 0, false}, {11.5, 2, 0, 0, false}} {
		a, b, ok := d.between(orb.Point{c.x, c.y})
		if ok != c.ok || ok && (a.Plan[0] != c.a || b.Plan[0] != c.b) {
			t.Errorf("(%g, %g): %v, %+v, %+v", c.x, c.y, ok, a, b)
		}
	}
}

// TestBoardsThatCameUp: a dry core on a rise of 40 mm that is thicker than the others by less than 12 mm says that boards came up; by more, wet, alone or where no core stands on it nothing does. Of several on it the thinnest counts.
func TestBoardsThatCameUp(t *testing.T) {
	d := bumps(t, mendtest.Lies[0], func(_, _ float64) float64 { return 0 })
	rise := []int32{d.vertex(t, orb.Point{5, 5})}
	core := func(x, mm float64, condition string) roof.Core {
		return roof.Core{Position: roof.Position{Plan: orb.Point{x, 5}}, Layers: []roof.Layer{{Thickness: quantity.Length(mm / 2000)}, {Thickness: quantity.Length(mm / 2000), Condition: condition}}}
	}
	for _, c := range []struct {
		name  string
		cores []roof.Core
		want  bool
	}{
		{"as thick", []roof.Core{core(5, 50, "dry"), core(2, 50, ""), core(9, 50, "")}, true},
		{"11 mm thicker", []roof.Core{core(5, 61, "dry"), core(2, 50, ""), core(9, 50, "")}, true},
		{"13 mm thicker", []roof.Core{core(5, 63, "dry"), core(2, 50, ""), core(9, 50, "")}, false},
		{"the middle of the others counts", []roof.Core{core(5, 61, "dry"), core(2, 20, ""), core(9, 50, ""), core(10, 90, "")}, true},
		{"wet", []roof.Core{core(5, 50, "wet"), core(2, 50, ""), core(9, 50, "")}, false},
		{"one other", []roof.Core{core(5, 50, "dry"), core(2, 50, "")}, false},
		{"none on it", []roof.Core{core(2, 50, ""), core(9, 50, "")}, false},
		{"two on it", []roof.Core{core(5, 63, "dry"), core(5.1, 55, "dry"), core(2, 50, ""), core(9, 50, "")}, true},
		{"cores that tell nothing", []roof.Core{core(5, 50, "dry"), {}, {}, core(2, 50, "")}, false},
	} {
		d.Roof.Cores = c.cores
		if got := d.buckled(rise, 0.04); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	mendtest.About(t, "all layers", thicknessOf(&d.Roof.Cores[0]), 0.05)
}

// TestBridgedEvenly: a spot between others comes down to the mean of its neighbours, weighed by one over their distances squared; two beside each other are settled together; none comes higher than it was.
func TestBridgedEvenly(t *testing.T) {
	d := bumps(t, mendtest.Lies[0], func(x, y float64) float64 {
		switch {
		case x == 5 && y == 5:
			return 0.04
		case x == 4 && y == 5:
			return 0.012
		case x == 5 && y == 6:
			return -0.012
		}
		return 0
	})
	v := d.vertex(t, orb.Point{5, 5})
	sum, weight := 0.0, 0.0
	for _, w := range d.Star[v] {
		k := 1 / math.Pow(math.Hypot(d.Surface.TIN.X[w]-5, d.Surface.TIN.Y[w]-5), 2)
		sum, weight = sum+k*d.Surface.TIN.Z[w], weight+k
	}
	z := d.bridged([]int32{v})
	if len(z) != 1 || !(math.Abs(z[v]-sum/weight) <= 1e-5) {
		t.Errorf("%v, want %g", z, sum/weight)
	}
	low := d.vertex(t, orb.Point{5, 6})
	if z = d.bridged([]int32{low}); z[low] != d.Surface.TIN.Z[low] {
		t.Errorf("a low spot comes up to %g", z[low])
	}
	// Of two beside each other each is the mean of its neighbours, the other at its new height among them.
	w := d.vertex(t, orb.Point{4, 5})
	z = d.bridged([]int32{v, w})
	for _, own := range []int32{v, w} {
		sum, weight = 0, 0
		for _, n := range d.Star[own] {
			h := d.Surface.TIN.Z[n]
			if moved, ok := z[n]; ok {
				h = moved
			}
			k := 1 / math.Pow(d.far(own, n), 2)
			sum, weight = sum+k*h, weight+k
		}
		if !(math.Abs(z[own]-math.Min(sum/weight, d.Surface.TIN.Z[own])) <= 3e-5) {
			t.Errorf("%d at %g, want %g", own, z[own], sum/weight)
		}
	}
}

// TestChannelToAnOutlet: a channel falls from a low place straight to its outlet by what lies between, no more than the slope of new work; less than a valley must is none, nor one of 10 cm. Beside an open edge it ends where that is nearest, as high as the roof is there.
func TestChannelToAnOutlet(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 3 }, orb.Point{6, 5})
	least := d.Study.Criteria.MinValleySlope
	p := &Pond{Outlet: 0, ID: "P1"}
	for _, c := range []struct {
		name    string
		x, y, z float64
		fall    float64 // 0: none
	}{{"4 m off, 60 mm up", 10, 1.5, 3.06, 0.015}, {"as much as a valley must", 10, 1.5, 3 + 4*least + 1e-9, least}, {"less", 10, 1.5, 3 + 4*least - 1e-6, 0}, {"steep", 8, 1.5, 3.2, d.Slope}, {"too near", 6.09, 1.5, 3.2, 0}} {
		got, sides, ok := d.cut(p, orb.Point{c.x, c.y}, c.z)
		if ok != (c.fall > 0) || ok && (!(math.Abs(got.fall-c.fall) <= 1e-9) || got.line[0] != (orb.Point{c.x, c.y}) || got.line[1] != d.Surface.Outlets[0].Plan || len(sides) != 2) {
			t.Errorf("%s: %v, %+v", c.name, ok, got)
		}
	}
	d.Surface.Outlets[0].Line, d.Surface.Outlets[0].Invert = orb.LineString{{0, 0}, {12, 0}}, -9
	got, _, ok := d.cut(p, orb.Point{4, 4}, 3.06)
	if !ok || got.line[1] != (orb.Point{4, 0}) || !(math.Abs(got.fall-0.015) <= 1e-9) {
		t.Errorf("to an edge: %v, %+v", ok, got)
	}
}

// TestCoreThatIsHurt: the nearest with wet or pressed layers within 3 m of a pond's lowest place, one under its water before all.
func TestCoreThatIsHurt(t *testing.T) {
	core := func(id string, x float64, condition string) roof.Core {
		c := roof.Core{Position: roof.Position{Plan: orb.Point{x, 0.5}}, Layers: []roof.Layer{{Condition: "dry"}, {Condition: condition}}}
		c.ID = id
		return c
	}
	p := &Pond{Pit: orb.Point{0.5, 0.5}, Place: orb.MultiPolygon{{{{0, 0}, {6, 0}, {6, 1}, {0, 1}, {0, 0}}}}}
	for want, cores := range map[string][]roof.Core{
		"": {core("A", 1, "dry"), core("B", 9, "wet")}, "A": {core("A", 5.9, "wet"), core("B", -1, "wet")}, "B": {core("A", -2, "wet"), core("B", -1, "compressed")}, "C": {core("A", 1, "dry"), core("C", -2.49, "wet")},
	} {
		d := &Designer{Roof: &roof.Roof{Cores: cores}}
		got := ""
		if c := d.Damaged(p); c != nil {
			got = c.ID
		}
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	p.Place = nil
	d := &Designer{Roof: &roof.Roof{Cores: []roof.Core{core("A", -2.51, "wet")}}}
	if d.Damaged(p) != nil {
		t.Error("a core 3.01 m off")
	}
}

// TestCornersOfARing: points within a centimetre of the line through their neighbours are no corners; a ring of three points stays.
func TestCornersOfARing(t *testing.T) {
	ring := orb.LineString{{0, 0}, {2, 0.009}, {4, 0}, {4, 1.5}, {4.011, 2}, {4, 3}, {0, 3}, {0, 0}}
	want := orb.LineString{{0, 0}, {4, 0}, {4.011, 2}, {4, 3}, {0, 3}, {0, 0}}
	if got := corners(ring); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := corners(orb.LineString{{0, 0}, {1, 0}, {0, 0}}); len(got) != 3 {
		t.Errorf("%v", got)
	}
	if got := corners(orb.LineString{{0, 0}, {1, 0}, {2, 0}, {0, 0}}); len(got) < 3 {
		t.Errorf("a ring without an area: %v", got)
	}
}

// TestDirectionsOfADisc: twelve unit vectors, each once, 30 degrees apart; so places round one are as far off as asked.
func TestDirectionsOfADisc(t *testing.T) {
	var angles []float64
	for k, u := range compass {
		if !(math.Abs(math.Hypot(u[0], u[1])-1) <= 1e-12) {
			t.Errorf("%v is no unit vector", u)
		}
		angles = append(angles, math.Mod(math.Atan2(u[1], u[0])*180/math.Pi+360, 360))
		mendtest.SamePlace(t, "round (1, 2)", around(orb.Point{1, 2}, k, 3), orb.Point{1 + 3*u[0], 2 + 3*u[1]})
	}
	slices.Sort(angles)
	for k, a := range angles {
		if !(math.Abs(a-30*float64(k)) <= 1e-9) {
			t.Errorf("direction %d at %g degrees", k, a)
		}
	}
}

// TestFieldBesideACurb: before the middle of a curb's side lies the plane that falls to it, as high there as it is and as steep square to the side; where the roof falls away from the side there is none, nor off the roof.
func TestFieldBesideACurb(t *testing.T) {
	for k, to := range mendtest.Lies {
		o, e, n := to(0, 0), to(1, 0), to(0, 1)
		plane := func(east, north float64) slope.Plane {
			g := [2]float64{east*(e[0]-o[0]) + north*(n[0]-o[0]), east*(e[1]-o[1]) + north*(n[1]-o[1])}
			return slope.Plane{Gradient: g, Offset: 3 - g[0]*o[0] - g[1]*o[1]} // 3 at (0, 0)
		}
		d := halves(t, to, plane(0.01, 0.02), plane(-0.01, -0.02))
		got, ok := d.field(to(5, 5), to(2, 5)) // the north side of a curb, whose ring runs counter-clockwise
		if !ok || !(math.Abs(got.fall-0.02) <= 1e-9) || !(math.Abs(got.z-3-0.035-0.1) <= 1e-9) {
			t.Errorf("laid %d: %+v, %v", k, got, ok)
		}
		mendtest.SamePlace(t, "middle", got.at, to(3.5, 5))
		mendtest.SamePlace(t, "onto the roof", got.out, orb.Point{n[0] - o[0], n[1] - o[1]})
		if f, ok := d.field(to(2, 5), to(5, 5)); ok {
			t.Errorf("laid %d, to the south: %+v", k, f)
		}
		if f, ok := d.field(to(8, 5), to(11, 5)); !ok || !(math.Abs(f.fall-0.02) <= 1e-9) {
			t.Errorf("laid %d, in the east: %+v, %v", k, f, ok)
		}
		if f, ok := d.field(to(25, 5), to(22, 5)); ok {
			t.Errorf("laid %d, off the roof: %+v", k, f)
		}
	}
}

// TestLineOfACrest: the tops of a crest on a line at an angle, rising along it by 1 %, one of them 8 mm over the others and one 3 mm under: the line runs through them, as high as the highest, and is 11 mm rough; 30 cm off the line or 12 mm rough is no crest. How far the pond goes is told along and across it.
func TestLineOfACrest(t *testing.T) {
	for k, to := range mendtest.Lies {
		o, e, n := to(0, 0), to(1, 0), to(0, 1)
		u := orb.Point{n[0] - o[0], n[1] - o[1]} // uphill, on the pond's side
		v := orb.Point{e[0] - o[0], e[1] - o[1]}
		place := orb.MultiPolygon{{{to(1, 0.2), to(9, 0.2), to(9, 3), to(1, 3), to(1, 0.2)}}}
		tops := func(up, off float64) (at []orb.Point, z []float64) {
			for i := range 9 {
				x, y, h := 1+float64(i), 0.0, 2+0.01*float64(i)
				switch i {
				case 4:
					h += up
				case 2, 6:
					y = off
				}
				at, z = append(at, to(x, y)), append(z, h)
			}
			return at, z
		}
		at, z := tops(0.009, 0)
		c, ok := lined(at, z, u, place)
		if !ok {
			t.Fatalf("laid %d: no crest", k)
		}
		for i, q := range at {
			s, l := (q[0]-c.at[0])*c.up[0]+(q[1]-c.at[1])*c.up[1], (q[0]-c.at[0])*c.across[0]+(q[1]-c.at[1])*c.across[1]
			mendtest.About(t, "off the line", s, 0)
			if off := c.z + c.e*l - z[i]; !(off >= -1e-9) || i == 4 && !(off <= 1e-9) {
				t.Errorf("laid %d: place %d mendtest.Lies %g under the line", k, i, off)
			}
		}
		mendtest.About(t, "rough", c.rough, 0.009)
		mendtest.About(t, "deep", c.deep, 3)
		mendtest.About(t, "long", c.hi-c.lo, 8)
		mendtest.About(t, "uphill", c.up[0]*u[0]+c.up[1]*u[1], 1)
		mendtest.About(t, "along", math.Abs(c.across[0]*v[0]+c.across[1]*v[1]), 1)
		mendtest.SamePlace(t, "2 m up and 3 along", c.on(2, 3), orb.Point{c.at[0] + 2*c.up[0] + 3*c.across[0], c.at[1] + 2*c.up[1] + 3*c.across[1]})
		if at, z = tops(0.0135, 0); true {
			if _, ok := lined(at, z, u, place); ok {
				t.Errorf("laid %d: 13.5 mm rough is even", k)
			}
		}
		if at, z = tops(0, 0.45); true {
			if _, ok := lined(at, z, u, place); ok {
				t.Errorf("laid %d: places 0.35 m off are in line", k)
			}
		}
		if at, z = tops(0, 0.2); true {
			if _, ok := lined(at, z, u, place); !ok {
				t.Errorf("laid %d: places 0.16 m off are not in line", k)
			}
		}
	}
}

// TestLineThroughPlaces: y = 3 - x/2 comes back from places on it, of four off it the best is that by least squares: of (0, 0), (1, 2), (2, 1) and (3, 3) the slope is 4/5 from 1.5 in the middle. All at one x have none.
func TestLineThroughPlaces(t *testing.T) {
	for _, c := range []struct {
		x, y []float64
		a, b float64
	}{{[]float64{1, 4, 9}, []float64{2.5, 1, -1.5}, 3, -0.5}, {[]float64{0, 1, 2, 3}, []float64{0, 2, 1, 3}, 0.3, 0.8}, {[]float64{2, 2}, []float64{1, 5}, 3, 0}} {
		a, b := fitted(c.x, c.y)
		mendtest.About(t, "at 0", a, c.a)
		mendtest.About(t, "slope", b, c.b)
	}
	lo, hi := extents(orb.MultiPolygon{{{{1, 1}, {4, 5}, {1, 5}, {1, 1}}}, {{{-2, 0}, {0, 0}, {0, 1}, {-2, 0}}}}, orb.Point{1, 1}, orb.Point{0.6, 0.8}, orb.Point{-0.8, 0.6})
	// along (0.6, 0.8) from (1, 1): (4, 5) is 5 off, (-2, 0) -2.6; across (-0.8, 0.6): (1, 5) is 2.4, (-2, 0) 1.8, (4, 5) 0, (0, 0) 0.2.
	mendtest.SamePlace(t, "least", lo, orb.Point{-2.6, 0})
	mendtest.SamePlace(t, "greatest", hi, orb.Point{5, 2.4})
}

// TestNearestVertex: beside each corner of each facet the vertex at a place is that corner; off the roof there is none. Within a reach are those that such join with it.
func TestNearestVertex(t *testing.T) {
	d := bumps(t, mendtest.Lies[1], func(_, _ float64) float64 { return 0 })
	tin := d.Surface.TIN
	for f := range tin.Facets() {
		for k := range 3 {
			var q orb.Point
			for c, v := range tin.V[3*f : 3*f+3] {
				part := 0.01
				if c == k {
					part = 0.98
				}
				q[0], q[1] = q[0]+part*tin.X[v], q[1]+part*tin.Y[v]
			}
			if got, want := d.VertexAt(q), tin.V[3*f+k]; got != want {
				t.Errorf("beside vertex %d it is %d", want, got)
			}
		}
	}
	if got := d.VertexAt(mendtest.Lies[1](-1, 5)); got != -1 || d.within(mendtest.Lies[1](-1, 5), 9) != nil {
		t.Errorf("off the roof it is %d", got)
	}
}

// TestPlaneAboveAnEdge: beside a pond before an edge it is the plane that lies up the roof from it and falls to the edge by the least fall of valleys, the largest there; not one beside it, however large, nor one that is too flat or falls away from the edge. However the roof lies.
func TestPlaneAboveAnEdge(t *testing.T) {
	for k, to := range mendtest.Lies {
		o := to(0, 0)
		rising := func(by, area float64) slope.Plane {
			n := to(0, by)
			return slope.Plane{Gradient: [2]float64{n[0] - o[0], n[1] - o[1]}, Area: area}
		}
		least := standard.Defaults().MinValleySlope
		edge := orb.LineString{to(0, 0), to(12, 0)}
		for _, c := range []struct {
			name       string
			pit        orb.Point
			west, east slope.Plane
			want       int
		}{
			{"west", to(2, 1), rising(0.02, 10), rising(0.02, 99), 0},
			{"east", to(10, 1), rising(0.02, 99), rising(0.02, 10), 1},
			{"at the edge itself", to(10, 0.01), rising(0.02, 99), rising(0.02, 10), 1},
			{"just steep enough", to(2, 1), rising(1.01*least, 10), rising(0.02, 99), 0},
			{"too flat", to(2, 1), rising(0.99*least, 10), rising(0.02, 99), -1},
			{"away from the edge", to(2, 1), rising(-0.02, 10), rising(0.02, 99), -1},
		} {
			d := halves(t, to, c.west, c.east)
			got := d.planeAbove(&Pond{Pit: c.pit, pits: []orb.Point{c.pit}, Place: orb.MultiPolygon{{{c.pit, c.pit, c.pit}}}}, edge)
			if c.want < 0 && got != nil || c.want >= 0 && got != &d.Study.Slopes.Planes[c.want] {
				t.Errorf("laid %d, %s: %+v", k, c.name, got)
			}
		}
	}
}

// TestPlaneOfATent: a plane from a corner of a curb along its side, 2 m wide and 3 m deep, rises from the corner at its fall, level up the valley; it reaches 5 cm under the curb and runs counter-clockwise from either corner.
func TestPlaneOfATent(t *testing.T) {
	for k, to := range mendtest.Lies {
		o := to(0, 0)
		unit := func(x, y float64) orb.Point { p := to(x, y); return orb.Point{p[0] - o[0], p[1] - o[1]} }
		for _, along := range []float64{1, -1} {
			w := tent{corner: to(5, 5), along: unit(along, 0), out: unit(0, 1), z: 2, fall: 0.04, wide: 2, deep: 3}
			p := w.patch()
			ring := append(orb.Ring(p.On), p.On[0])
			if ring.Orientation() != orb.CCW {
				t.Errorf("laid %d: %v", k, ring)
			}
			mendtest.SamePlace(t, "along and out", w.at(2, 1), to(5+2*along, 6))
			at := func(q orb.Point) float64 { return p.Z + p.DX*(q[0]-p.Plan[0]) + p.DY*(q[1]-p.Plan[1]) }
			mendtest.About(t, "at the corner", at(to(5, 5)), 2)
			mendtest.About(t, "at the ridge", at(to(5+2*along, 5)), 2.08)
			mendtest.About(t, "up the valley", at(to(5, 8)), 2)
			for _, q := range []orb.Point{to(5, 4.95), to(5+2*along, 4.95), to(5+2*along, 8), to(5, 8)} {
				if !slices.ContainsFunc(p.On, func(c orb.Point) bool { return math.Hypot(c[0]-q[0], c[1]-q[1]) <= 1e-9 }) {
					t.Errorf("laid %d: no corner at %v of %v", k, q, p.On)
				}
			}
		}
	}
}

// TestPlaneRoundAPond: the largest plane beside a pond that stands over it and falls enough, of those in sight: one behind a slit of the roof is none.
func TestPlaneRoundAPond(t *testing.T) {
	d := designing(t, func(_, _ float64) float64 { return 0 }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {8.5, 10}, {8.5, 4}, {8, 4}, {8, 10}, {0, 10}})
	own := *d.Study
	d.Study = &own
	for _, c := range []struct {
		name       string
		pit        orb.Point
		west, east slope.Plane
		want       int // 0 west, 1 east, -1 none
	}{
		{"both in sight", orb.Point{7.5, 2}, slope.Plane{Offset: 1, Area: 10}, slope.Plane{Offset: 1, Area: 99}, 1},
		{"the larger one counts", orb.Point{7.5, 2}, slope.Plane{Offset: 1, Area: 100}, slope.Plane{Offset: 1, Area: 99}, 0},
		{"one behind the slit", orb.Point{7.3, 8}, slope.Plane{Offset: 1, Area: 10}, slope.Plane{Offset: 1, Area: 99}, 0},
		{"one that is flat", orb.Point{7.5, 2}, slope.Plane{Offset: 1, Area: 10}, slope.Plane{Offset: 1, Area: 99, BelowMin: true}, 0},
		{"one as low as the pond", orb.Point{7.5, 2}, slope.Plane{Offset: 1, Area: 10}, slope.Plane{Offset: 0.5, Area: 99}, 0},
		{"both too low", orb.Point{7.5, 2}, slope.Plane{Offset: 0.5, Area: 10}, slope.Plane{Offset: 0.5, Area: 99}, -1},
	} {
		own.Slopes = &slope.Slopes{Planes: []slope.Plane{c.west, c.east}, Plane: make([]int32, d.Surface.TIN.Facets())}
		for f := range own.Slopes.Plane {
			if q, _ := d.Surface.TIN.Middle(int32(f)); q[0] > 8.25 {
				own.Slopes.Plane[f] = 1
			}
		}
		got := d.planeRound(&Pond{Pit: c.pit, low: 0.5, size: 3})
		if c.want < 0 && got != nil || c.want >= 0 && got != &own.Slopes.Planes[c.want] {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// TestRiseRoundAPlace: what has spots in all four quarters of a place within 2 m goes round it.
func TestRiseRoundAPlace(t *testing.T) {
	d := bumps(t, mendtest.Lies[0], func(_, _ float64) float64 { return 0 })
	list := func(places ...orb.Point) (out []int32) {
		for _, p := range places {
			out = append(out, d.vertex(t, p))
		}
		return out
	}
	c := orb.Point{5.5, 5.5}
	for _, k := range []struct {
		list []int32
		want bool
	}{{list(orb.Point{5, 5}, orb.Point{6, 5}, orb.Point{5, 6}, orb.Point{6, 6}), true}, {list(orb.Point{5, 5}, orb.Point{6, 5}, orb.Point{5, 6}), false}, {list(orb.Point{6, 5}, orb.Point{5, 6}, orb.Point{6, 6}), false}, {list(orb.Point{5, 5}, orb.Point{6, 5}, orb.Point{5, 6}, orb.Point{6, 6}, orb.Point{8, 5}), false}, {list(orb.Point{4, 5}, orb.Point{7, 5}, orb.Point{5, 7}, orb.Point{6, 7}, orb.Point{5, 4}), true}} {
		if got := d.rings(k.list, c); got != k.want {
			t.Errorf("%v goes round: %v", k.list, got)
		}
	}
	mendtest.About(t, "3 by 4 m across", d.extent(list(orb.Point{5, 5}, orb.Point{8, 6}, orb.Point{6, 9})), 5)
	mendtest.About(t, "along a line", d.extentOn(orb.LineString{{0, 0}, {12, 0}}, list(orb.Point{5, 5}, orb.Point{8, 6}, orb.Point{6, 9})), 3)
	mendtest.About(t, "from one to the next", d.far(list(orb.Point{5, 5})[0], list(orb.Point{8, 9})[0]), 5)
	if v := d.VertexAt(orb.Point{5.2, 5.1}); v != d.vertex(t, orb.Point{5, 5}) {
		t.Errorf("nearest to (5.2, 5.1): %d", v)
	}
	if v := d.VertexAt(orb.Point{-5, 5}); v != -1 {
		t.Errorf("off the roof: %d", v)
	}
	near := d.within(orb.Point{5, 5}, 1.5)
	if len(near) != 9 {
		t.Errorf("within 1.5 m of (5, 5): %d spots, want 9", len(near))
	}
	if got := d.within(orb.Point{-5, 5}, 1.5); got != nil {
		t.Errorf("off the roof: %v", got)
	}
	if !d.standsOn(orb.Point{5.2, 5.2}, list(orb.Point{5, 5})) || d.standsOn(orb.Point{5.22, 5.22}, list(orb.Point{5, 5})) {
		t.Error("on a spot: within 0.3 m")
	}
}

// TestWhatStandsProud: a spot of 40 mm over a level roof stands 40 mm proud of it, its neighbours not; so does one before a wall, half of whose disc is off the roof. A disc as wide as what stands there finds nothing proud.
func TestWhatStandsProud(t *testing.T) {
	for k, to := range mendtest.Lies {
		d := bumps(t, to, func(x, y float64) float64 {
			if x == 5 && y == 5 || x == 11 && y == 4 {
				return 0.04
			}
			return 0
		})
		for _, c := range []struct {
			x, y, radius, want float64
		}{{5, 5, 1, 0.04}, {4, 5, 1, 0}, {9, 8, 1, 0}, {11, 4, 1, 0.04}, {5, 5, 0.5, 0.02}} {
			if got := d.proud(d.vertex(t, to(c.x, c.y)), c.radius); !(math.Abs(got-c.want) <= 0.0115) {
				t.Errorf("laid %d: (%g, %g) stands %g proud by a disc of %g m, want %g", k, c.x, c.y, got, c.radius, c.want)
			}
		}
		if low, ok := d.lowest(to(5, 5), 0.5); !ok || !(math.Abs(low-3.015) <= 0.0051) {
			t.Errorf("laid %d: lowest %g, %v", k, low, ok)
		}
		if _, ok := d.lowest(to(-3, 5), 0.5); ok {
			t.Errorf("laid %d: a place off the roof has a height", k)
		}
	}
}

// halves is a level roof that lies so, on whose western half one plane was found and on whose eastern half another.
func halves(t *testing.T, to func(x, y float64) orb.Point, west, east slope.Plane) *Designer {
	t.Helper()
	var spots []orb.Point
	for x := 1.0; x < 12; x++ {
		for y := 0.0; y < 10; y++ {
			spots = append(spots, orb.Point{x, y})
		}
	}
	d := flat(t, to, func(_, _ float64) float64 { return 0 }, spots...)
	own := *d.Study
	d.Study = &own
	own.Slopes = &slope.Slopes{Planes: []slope.Plane{west, east}, Plane: make([]int32, d.Surface.TIN.Facets())}
	o, u := to(0, 0), to(1, 0)
	for f := range own.Slopes.Plane {
		q, _ := d.Surface.TIN.Middle(int32(f))
		k := 0
		if (q[0]-o[0])*(u[0]-o[0])+(q[1]-o[1])*(u[1]-o[1]) > 6 {
			k = 1
		}
		own.Slopes.Plane[f] = int32(k)
		own.Slopes.Planes[k].Facets = append(own.Slopes.Planes[k].Facets, int32(f))
	}
	return d
}

// bumps is a level roof 3 m up with spots a metre apart, each raised by a height at its place.
func bumps(t *testing.T, to func(x, y float64) orb.Point, up func(x, y float64) float64) *Designer {
	t.Helper()
	var more []orb.Point
	for x := 1.0; x < 12; x++ {
		for y := 1.0; y < 10; y++ {
			if x != 6 || y != 1 {
				more = append(more, orb.Point{x, y})
			}
		}
	}
	return flat(t, to, func(x, y float64) float64 { return 3 + up(x, y) }, more...)
}

// vertex returns the vertex at a place.
func (d *Designer) vertex(t *testing.T, p orb.Point) int32 {
	t.Helper()
	for v := range d.Surface.TIN.X {
		if math.Hypot(d.Surface.TIN.X[v]-p[0], d.Surface.TIN.Y[v]-p[1]) < 1e-4 {
			return int32(v)
		}
	}
	t.Fatalf("no vertex at %v", p)
	return -1
}
