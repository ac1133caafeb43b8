package settle

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
	"runnel/analysis/roof"
)

// By hand: two readings of one place, 10 mm apart, good to 1 and 3 mm, have the mean 1 mm above the better one and the error 3/sqrt(10); where nobody says how good they
// are, three of one place have their plain mean.
func TestMeanOfOnePlace(t *testing.T) {
	d := empty()
	n := d.add(0, 0, source{isSpot, 0})
	d.z[n], d.how[n], d.sigma[n] = geometry.OnGrid(1), given, 0.001
	d.average(n, geometry.OnGrid(1.010), 0.003)
	if d.z[n] != geometry.OnGrid(1.001) || !(math.Abs(d.sigma[n]-0.003/math.Sqrt(10)) <= 1e-12) {
		t.Errorf("weighted: %d, %g", d.z[n], d.sigma[n])
	}
	m := d.add(50, 0, source{isSpot, 1})
	d.z[m], d.how[m] = 100, given
	d.average(m, 130, 0)
	d.average(m, 160, 0)
	if d.z[m] != 130 || d.sigma[m] != 0 {
		t.Errorf("plain: %d, %g", d.z[m], d.sigma[m])
	}
}

// By hand: elevations of one place on lines, 2 mm apart, have the plain mean, and the error of that where both are stated, 3 and 4 mm: 2.5 mm. Where one is, that.
func TestMeanOfLinesThatMeet(t *testing.T) {
	for _, c := range [][3]float64{{0.003, 0.004, 0.0025}, {0, 0.004, 0.004}, {0.003, 0, 0.003}, {0, 0, 0}} {
		d := empty()
		n := d.add(0, 0, source{isBreakline, 0})
		if !d.meet(n, geometry.OnGrid(1), c[0]) || d.z[n] != geometry.OnGrid(1) || d.sigma[n] != c[0] {
			t.Errorf("%v: the first stands at %d, good to %g", c, d.z[n], d.sigma[n])
		}
		if !d.meet(n, geometry.OnGrid(1.002), c[1]) || d.z[n] != geometry.OnGrid(1.001) || !(math.Abs(d.sigma[n]-c[2]) <= 1e-12) {
			t.Errorf("%v: both at %d, good to %g", c, d.z[n], d.sigma[n])
		}
		if d.meet(n, geometry.OnGrid(2), 0) {
			t.Errorf("%v: another metre up is the same place", c)
		}
	}
}

// A coordinate comes back from its distance to the middle, whether the two ends are an odd or an even number of units apart, on either side. By hand: amid 3 and
// 10, at 6.5, a unit and a half off is 8 and 5.
func TestMiddle(t *testing.T) {
	for _, ends := range [][]int32{{3, 10}, {-7, 4, 9}, {100000, 100000}, {-1, 0}} {
		m := middleOfAll(ends)
		for v := int32(-60); v < 60; v++ {
			if got := m.to(m.from(v)); got != v {
				t.Errorf("amid %v %d comes back as %d", ends, v, got)
			}
		}
	}
	m := middleOfAll([]int32{3, 10})
	if a, b := m.to(1.5e-5), m.to(-1.5e-5); a != 8 || b != 5 {
		t.Errorf("%d and %d", a, b)
	}
	if got := m.from(8); !(math.Abs(got-1.5e-5) <= 1e-18) {
		t.Errorf("8 lies %g m off", got)
	}
	// Halfway between two the one nearer the middle: 1 unit off 6.5 lies between 7 and 8.
	if a, b := m.to(1e-5), m.to(-1e-5); a != 7 || b != 6 {
		t.Errorf("halfway: %d and %d", a, b)
	}
}

// The plane through points on a plane is that plane; of points on a line it rises along the line only. Moments by hand.
func TestGradientOfMoments(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 7))
	for range 100 {
		a, b := rnd.Float64()-0.5, rnd.Float64()-0.5
		var xx, xy, yy, xz, yz float64
		for range 9 {
			x, y := rnd.Float64()*4-2, rnd.Float64()*4-2
			z := a*x + b*y
			xx, xy, yy, xz, yz = xx+x*x, xy+x*y, yy+y*y, xz+x*z, yz+y*z
		}
		if gx, gy := gradient(xx, xy, yy, xz, yz, collinear); !(math.Abs(gx-a) <= 1e-9) || !(math.Abs(gy-b) <= 1e-9) {
			t.Fatalf("(%g, %g), want (%g, %g)", gx, gy, a, b)
		}
	}
	// (-1, -2), (0, 0) and (1, 2) with z = 5x rise 5 over each (1, 2): 1 to the east and 2 to the north are 5.
	if gx, gy := gradient(2, 4, 8, 10, 20, collinear); !(math.Abs(gx-1) <= 1e-12) || !(math.Abs(gy-2) <= 1e-12) {
		t.Errorf("on a line: (%g, %g), want (1, 2)", gx, gy)
	}
	// (1, 0), (-1, 0) and (0, 0.1) and (0, -0.1): spreads 2 and 0.02, a product of 0.0098 of their sum squared: in line within 0.01, not within 0.009.
	if _, gy := gradient(2, 0, 0.02, 2, 0.02, 0.01); !(math.Abs(gy-0.02/(2.02*2.02)*0.02) <= 1e-12) {
		t.Errorf("nearly in line: %g across", gy)
	}
	if _, gy := gradient(2, 0, 0.02, 2, 0.02, 0.009); !(math.Abs(gy-1) <= 1e-12) {
		t.Errorf("beside each other: %g across", gy)
	}
	if gx, gy := gradient(0, 0, 0, 1, 1, collinear); gx != 0 || gy != 0 {
		t.Errorf("at one place: %g, %g", gx, gy)
	}
}

// straight returns a draft with chains between the places that are given, each with its elevation, in grid units.
func straight(chains ...[][3]int32) *draft {
	d := empty()
	for i, c := range chains {
		s := source{isBreakline, int32(i)}
		k := chain{source: s}
		for _, p := range c {
			n := d.at(p[0], p[1])
			if n < 0 {
				n = d.add(p[0], p[1], s)
			}
			d.z[n], d.how[n] = p[2], given
			k.push(n, true)
		}
		d.chains = append(d.chains, k)
	}
	return d
}

// By hand: the lines from (0, 0) to (40000, 20000) and from (30000, 0) to (10000, 20000) cross at (20000, 10000), half way along both, where one stands at 150 and the other at
// 350. They get a common node there at 250, which lies on both.
func TestLinesThatCrossShareANode(t *testing.T) {
	d := straight([][3]int32{{0, 0, 100}, {40000, 20000, 200}}, [][3]int32{{30000, 0, 300}, {10000, 20000, 400}})
	spans := d.spans(0, 2)
	d.uncross(spans, 0, spans[1].a, spans[1].b)
	d.applySplits()
	n := d.exactly(20000, 10000)
	if n < 0 || d.z[n] != 250 || d.how[n] != drawn {
		t.Fatalf("node %d", n)
	}
	for c := range d.chains {
		if !slices.Contains(d.chains[c].node, n) || len(d.chains[c].node) != 3 {
			t.Errorf("line %d runs through %v", c, d.chains[c].node)
		}
	}
	for i, s := range d.spans(0, 2) {
		if d.covers(s, n) != (s.a == n || s.b == n) {
			t.Errorf("piece %d", i)
		}
	}
	if !d.covers(spans[0], n) || !d.covers(spans[1], n) || d.covers(spans[0], spans[1].a) || !d.covers(spans[0], spans[0].b) {
		t.Error("the whole lines hold the node and their own ends, and no other")
	}
	if d.exactly(20000, 10001) >= 0 || d.exactly(20001, 10000) >= 0 {
		t.Error("a node stands a unit away")
	}
	// 3/4 of the way along the first line, and of the elevation.
	m := d.add(30000, 15000, source{isSpot, 0})
	if got := d.along1(spans[0], m); !(math.Abs(got-0.75) <= 1e-12) || d.mix(spans[0].a, spans[0].b, got) != 175 {
		t.Errorf("%g along", got)
	}
	beyond := d.add(60000, 30000, source{isSpot, 1})
	if got := d.along1(spans[0], beyond); !(math.Abs(got-1.5) <= 1e-12) || d.covers(spans[0], beyond) {
		t.Errorf("beyond the end: %g", got)
	}
}

// By hand, round a closed ring of 3 by 4 m with elevations at two corners: from (3, 0) at 0 to (0, 4) at 0.7 one way runs over (3, 4), 4 of 7 m, and the other over
// (0, 0), 3 of 7 m.
func TestElevationsRoundARing(t *testing.T) {
	d := empty()
	at := map[[2]float64]int32{}
	c := chain{source: source{isCurb, 0}, closed: true}
	for _, p := range [][2]float64{{0, 0}, {3, 0}, {3, 4}, {0, 4}, {0, 0}} {
		n := d.at(geometry.OnGrid(p[0]), geometry.OnGrid(p[1]))
		if n < 0 {
			n = d.add(geometry.OnGrid(p[0]), geometry.OnGrid(p[1]), c.source)
		}
		at[p] = n
		c.push(n, true)
	}
	d.z[at[[2]float64{3, 0}]], d.how[at[[2]float64{3, 0}]] = 0, given
	d.z[at[[2]float64{0, 4}]], d.how[at[[2]float64{0, 4}]] = geometry.OnGrid(0.7), given
	if !d.draw(&c, nil) {
		t.Fatal("nothing was drawn")
	}
	for p, want := range map[[2]float64]float64{{3, 4}: 0.4, {0, 0}: 0.3} {
		if n := at[p]; d.z[n] != geometry.OnGrid(want) || d.how[n] != drawn {
			t.Errorf("%v stands at %g, want %g", p, geometry.Metres(d.z[n]), want)
		}
	}
	if got := d.length(&c, 1, 3); !(math.Abs(got-7e5) <= 1e-6) {
		t.Errorf("from corner 1 to corner 3 %g", got)
	}
	if got := d.length(&c, 3, 1); !(math.Abs(got-7e5) <= 1e-6) {
		t.Errorf("and on round to corner 1 %g", got)
	}
}

// A walker finds the plane of a mesh wherever it starts, and nothing outside it.
func TestWalkerOnAPlane(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 2))
	x, y := []int32{0, 1000000, 1000000, 0}, []int32{0, 0, 800000, 800000}
	for range 60 {
		x, y = append(x, 1+rnd.Int32N(999998)), append(y, 1+rnd.Int32N(799998))
	}
	z := make([]int32, len(x))
	for i := range x {
		z[i] = (3*x[i] - 2*y[i]) / 100
	}
	m, _, err := mesh.Triangulate(x, y, z, nil)
	if err != nil {
		t.Fatal(err)
	}
	w := &walker{m: m}
	for range 400 {
		px, py := rnd.Int32N(1000001), rnd.Int32N(800001)
		got, ok := w.height(px, py)
		if want := (3*float64(px) - 2*float64(py)) / 100; !ok || !(math.Abs(float64(got)-want) <= 2) {
			t.Fatalf("(%d, %d) stands at %d, %t, want %g", px, py, got, ok, want)
		}
	}
	for _, p := range [][2]int32{{-5, 400000}, {1000010, 400000}, {500000, -9}, {500000, 800020}} {
		if _, ok := w.height(p[0], p[1]); ok {
			t.Errorf("%v lies on the mesh", p)
		}
	}
}

func at3(x, y, z float64) roof.Position {
	return roof.Position{Plan: orb.Point{x, y}, Z: z, HasZ: true}
}

func at2(x, y float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}} }

// What cannot be a place or an elevation is named; the grid of 2^30 units of a hundredth of a millimetre ends at
// 10,737 m, and a roof may be half as wide.
func TestBadPositions(t *testing.T) {
	for _, c := range []struct {
		p    roof.Position
		want string
	}{
		{at3(1, 2, 3), ""},
		{at3(0, 0, 10737), ""},
		{at2(5368, -5368), ""},
		{at2(math.NaN(), 0), "coordinate is not finite"},
		{at2(0, math.Inf(-1)), "coordinate is not finite"},
		{at2(5369, 0), "place is more than 5 km from the roof's origin"},
		{at2(0, -5369), "place is more than 5 km from the roof's origin"},
		{at3(0, 0, 10738), "elevation is not finite or beyond 10 km"},
		{at3(0, 0, -10738), "elevation is not finite or beyond 10 km"},
		{at3(0, 0, math.NaN()), "elevation is not finite or beyond 10 km"},
	} {
		if got := badPosition(c.p, maxWide); got != c.want {
			t.Errorf("%v: %q, want %q", c.p, got, c.want)
		}
	}
}

// A settled roof says where it is: inside the outer ring, curbs included, and which edge runs past a place of the outline.
func TestGroundSaysWhere(t *testing.T) {
	r := &roof.Roof{
		Outline: roof.Outline{Rings: [][]roof.Position{{at3(0, 0, 0), at3(12, 0, 0.2), at3(12, 8, 0.2), at3(0, 8, 0), at3(0, 0, 0)}}},
		Curbs:   []roof.Curb{{Ring: []roof.Position{at2(4, 3), at2(6, 3), at2(6, 5), at2(4, 5), at2(4, 3)}}},
		Edges:   []roof.Edge{{Line: []roof.Position{at2(0, 0), at2(12, 0)}, Type: roof.Gutter}, {Line: []roof.Position{at2(12, 0), at2(12, 8)}, Type: roof.Free}},
		Outlets: []roof.Outlet{{Feature: roof.Feature{ID: "D1"}, Plan: orb.Point{2, 2}, Bowl: 0.3}},
	}
	g, err := Of(r, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	for p, want := range map[orb.Point]bool{{1, 1}: true, {5, 4}: true, {13, 4}: false, {-0.1, 4}: false, {1e9, 0}: false, {0, math.Inf(1)}: false} {
		if g.InOutline(p) != want {
			t.Errorf("%v inside: %t", p, !want)
		}
	}
	for p, want := range map[orb.Point]int32{{6, 0}: 0, {12, 4}: 1, {6, 8}: -1, {6, 0.039}: 0, {6, 0.05}: -1} { // 20 mm, twice
		if got := g.EdgeAt(p[0]*geometry.PerMetre, p[1]*geometry.PerMetre); got != want {
			t.Errorf("%v: edge %d, want %d", p, got, want)
		}
	}
	if g.OnLine() != 0.04 || g.Reach() != 1 {
		t.Errorf("twice the tolerances are %g and %g", g.OnLine(), g.Reach())
	}
	if g.Net != 2*(12*8-4)*1e10 || g.Folds != 0 || len(g.Spot) != len(g.Mesh.X) {
		t.Errorf("%d, %d folds, %d of %d", g.Net, g.Folds, len(g.Spot), len(g.Mesh.X))
	}
	if g.Refusal() != nil {
		t.Error("nothing was refused")
	}
	g.NoteMoved(0)
	g.RefuseOutlet(0, orb.Point{2, 2}, "rule", "mend")
	if g.Refusal() == nil || len(g.Sentences()) == 0 || g.OutletName(0) == "outlet " {
		t.Errorf("%v, %q, %q", g.Refusal(), g.Sentences(), g.OutletName(0))
	}
}

// A node that two lines get in common goes to every line along the one that is crossed, drawn that way or the other, and along a part of it; a line that only ends where it begins is left alone. By hand: the crossing of TestLinesThatCrossShareANode, beside a line twice as long over the one that is crossed, and one from its end to the east.
func TestAllLinesAlongACrossedOneShareTheNode(t *testing.T) {
	for _, back := range []bool{false, true} {
		d := straight([][3]int32{{0, 0, 100}, {40000, 20000, 200}}, [][3]int32{{30000, 0, 300}, {10000, 20000, 400}}, [][3]int32{{10000, 20000, 400}, {30000, 0, 300}},
			[][3]int32{{40000, -10000, 250}, {0, 30000, 450}}, [][3]int32{{30000, 0, 300}, {60000, 0, 300}}, [][3]int32{{10000, 20000, 400}, {-20000, 20000, 300}})
		spans := d.spans(0, len(d.chains))
		a, b := spans[1].a, spans[1].b
		if back {
			a, b = b, a
		}
		d.uncross(spans, 0, a, b)
		d.applySplits()
		n := d.exactly(20000, 10000)
		for c, want := range []int{3, 3, 3, 5, 2, 2} {
			if got := d.chains[c].node; len(got) != want || slices.Contains(got, n) != (c < 4) {
				t.Errorf("drawn back %v: line %d runs through %v", back, c, got)
			}
		}
	}
}
