package settle

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/fold"
	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
	"runnel/analysis/roof"
)

// By hand: round a corner that juts out into the roof a place is faced by either side, in a corner that lies back only by both. The roof lies on the left of the pieces.
func TestWhichSideOfACornerFacesAPlace(t *testing.T) {
	d := empty()
	node := func(x, y float64) int32 {
		return d.add(geometry.OnGrid(x), geometry.OnGrid(y), source{isCurb, 0})
	}
	a, o, jut, back := node(-4, 0), node(0, 0), node(0, -3), node(0, 3)
	in := span{0, 0, a, o}
	b := &beside{planes: planes{d: d}}
	for _, c := range []struct {
		x, y               float64
		only, juts, setsIn bool // by the piece along y = 0 alone; by it and the one to the south; to the north
	}{
		{-2, 1, true, true, true},
		{2, 1, true, true, false},
		{2, -1, false, true, false},
		{-2, -1, false, false, false},
		{-2, 0, true, true, true},
		{2, 0, true, true, false},
	} {
		n := node(c.x, c.y)
		if got := b.faces(n, in, in); got != c.only {
			t.Errorf("(%g, %g) before one piece: %t", c.x, c.y, got)
		}
		if got := b.faces(n, in, span{0, 1, o, jut}); got != c.juts {
			t.Errorf("(%g, %g) round a corner that juts out: %t", c.x, c.y, got)
		}
		if got := b.faces(n, in, span{0, 1, o, back}); got != c.setsIn {
			t.Errorf("(%g, %g) in a corner: %t", c.x, c.y, got)
		}
	}
}

// A place as far from two pieces goes to the first of them, whichever way it lies; one as far as the reach is within.
func TestAsFarFromTwoPieces(t *testing.T) {
	d := empty()
	for _, p := range [][2]int32{{0, 0}, {1000, 0}, {0, 200}, {1000, 200}, {1000, 0}, {1000, 200}} {
		d.add(p[0], p[1], source{isSpot, 0})
	}
	l := d.newLines([]span{{0, 0, 0, 1}, {0, 1, 2, 3}, {0, 2, 4, 5}}, 100)
	for at, want := range map[[2]int32]foot{{500, 100}: {seg: 0, far: 100, t: 0.5}, {900, 100}: {seg: 0, far: 100, t: 0.9}, {950, 150}: {seg: 1, far: 50, t: 0.95}, {1000, 0}: {seg: 0, far: 0, t: 1}, {1050, 250}: {seg: 1, t: 1, far: 70.71067811865476}} {
		if got := l.nearest(at[0], at[1], nil); got.seg != want.seg || got.t != want.t || got.far-want.far > 1e-9 || want.far-got.far > 1e-9 {
			t.Errorf("from %v: piece %d at %g, %g along, want %+v", at, got.seg, got.far, got.t, want)
		}
	}
	if got := l.nearest(500, 100, func(s *span) bool { return s.at > 0 }); got.seg != 1 {
		t.Errorf("of those that count: piece %d", got.seg)
	}
}

// A turned edge leaves a mesh: every side has the ends of its twin, the other way round, and the same flags, every triangle runs counter-clockwise, and together they cover what they did.
func TestTurnedEdgesLeaveAMesh(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	x, y := []int32{0, 100000, 100000, 0}, []int32{0, 0, 80000, 80000}
	for range 40 {
		x, y = append(x, 1+rnd.Int32N(99998)), append(y, 1+rnd.Int32N(79998))
	}
	m, _, err := mesh.Triangulate(x, y, make([]int32, len(x)), nil)
	if err != nil {
		t.Fatal(err)
	}
	turned := 0
	for e := range int32(len(m.V)) {
		if !turnable(m, e) {
			continue
		}
		turn(m, e)
		turned++
		area := int64(0)
		for f := range int32(len(m.V) / 3) {
			a, b, c := m.V[3*f], m.V[3*f+1], m.V[3*f+2]
			if meshOrient(m, a, b, c) <= 0 {
				t.Fatalf("after edge %d triangle %d is turned over", e, f)
			}
			area += int64(m.X[b]-m.X[a])*int64(m.Y[c]-m.Y[a]) - int64(m.Y[b]-m.Y[a])*int64(m.X[c]-m.X[a])
		}
		if area != 2*100000*80000 {
			t.Fatalf("after edge %d they cover %d", e, area)
		}
		for k := range int32(len(m.V)) {
			if o := m.Twin[k]; o >= 0 && (m.Twin[o] != k || m.V[k] != m.V[mesh.Next(o)] || m.V[o] != m.V[mesh.Next(k)] || m.Flag[k] != m.Flag[o]) {
				t.Fatalf("after edge %d side %d does not meet its twin %d", e, k, o)
			}
		}
	}
	if turned < 30 {
		t.Errorf("%d edges were turned", turned)
	}
}

// By hand: of a closed ring whose first point is known the last ones take their elevation from it: round a square of 2 m, at 0 and, two corners on, 0.4, the others stand at 0.2.
func TestARingIsDrawnOverItsFirstPoint(t *testing.T) {
	d := empty()
	c := chain{source: source{isCurb, 0}, closed: true}
	var ring []int32
	for _, p := range [][2]float64{{0, 0}, {2, 0}, {2, 2}, {0, 2}} {
		ring = append(ring, d.add(geometry.OnGrid(p[0]), geometry.OnGrid(p[1]), c.source))
	}
	for _, n := range append(ring, ring[0]) {
		c.push(n, true)
	}
	d.z[ring[0]], d.how[ring[0]] = 0, given
	d.z[ring[2]], d.how[ring[2]] = geometry.OnGrid(0.4), given
	d.chains = []chain{c}
	for _, k := range []int{1, 3} {
		if z, ok := d.along(0, ring[k]); !ok || z != geometry.OnGrid(0.2) {
			t.Errorf("corner %d would stand at %g, %v", k, geometry.Metres(z), ok)
		}
	}
	if !d.draw(&c, nil) {
		t.Fatal("nothing was drawn")
	}
	for _, k := range []int{1, 3} {
		if n := ring[k]; d.z[n] != geometry.OnGrid(0.2) || d.how[n] != drawn {
			t.Errorf("corner %d stands at %g", k, geometry.Metres(d.z[n]))
		}
	}
}

// A breakline that comes back to its first point is a ring, whose points without elevations have neighbours both ways round.
func TestClosedBreakline(t *testing.T) {
	for end, want := range map[float64]bool{4: true, 4.5: false} {
		d := ground(false)
		d.r.Breaklines = []roof.Breakline{{Line: []roof.Position{at3(4, 4, 1), at2(6, 4), at3(6, 6, 2), at2(4, 6), at2(4, end)}}}
		d.placeBreaklines()
		if len(d.chains) != 2 || d.chains[1].closed != want {
			t.Fatalf("back to %g: %+v", end, d.chains[1:])
		}
		if _, ok := d.along(1, d.chains[1].node[3]); ok != want {
			t.Errorf("back to %g: a point after the last elevation has one: %v", end, ok)
		}
	}
}

// A curb that lies inside the outline, wholly or with a corner, is none outside; one that lies beyond it is said to be.
func TestCurbsInsideTheOutline(t *testing.T) {
	for x, want := range map[float64]int{4: 0, 9: 0, 11: 1} { // the outline ends at 10
		d := ground(false)
		d.r.Curbs = []roof.Curb{{Ring: []roof.Position{at2(x, 4), at2(x+2, 3), at2(x+2, 5), at2(x, 4)}}}
		before := d.notes.n[noteCurbOutside]
		if d.placeCurbs(); len(d.chains) != 2 || d.notes.n[noteCurbOutside]-before != want {
			t.Errorf("from %g m on: %d chains, %d outside", x, len(d.chains), d.notes.n[noteCurbOutside])
		}
	}
}

// A point of a fold at a node with an elevation is that node, the first one too; elsewhere it is made, as sure as it is.
func TestNodeOfAFold(t *testing.T) {
	d := ground(false)
	nodes := len(d.x)
	for n := range nodes {
		if got := d.foldNode(&fold.Point{X: geometry.Metres(d.x[n]), Y: geometry.Metres(d.y[n]), Z: 7}, middles{}); got != int32(n) {
			t.Errorf("node %d is taken for %d", n, got)
		}
	}
	n := d.foldNode(&fold.Point{X: 3, Y: 4, Z: 0.5, Sigma: 0.02, Below: 0.01}, middles{})
	if int(n) != nodes || d.x[n] != m(3) || d.y[n] != m(4) || d.z[n] != m(0.5) || d.how[n] != found || d.doubt[n] != 0.02 || d.below[n] != 0.01 {
		t.Errorf("node %d at (%d, %d, %d)", n, d.x[n], d.y[n], d.z[n])
	}
}

// A breakline of one place has no length, however often it is written down; of none there is nothing to say.
func TestBreaklineOfOnePlace(t *testing.T) {
	for n, want := range []int{0, 1, 1} {
		d := ground(false)
		d.r.Breaklines = []roof.Breakline{{Line: []roof.Position{at3(4, 4, 1), at3(4, 4, 1)}[:n]}}
		if d.placeBreaklines(); len(d.rules()) != want || len(d.chains) != 1 {
			t.Errorf("%d times: %v", n, d.rules())
		}
	}
}

// Without curbs the outline and the breaklines bound triangles, each piece of them.
func TestWhatBoundsTriangles(t *testing.T) {
	d := ground(false)
	d.strung(isCurb, 0, true, [3]float64{2, 2, 0}, [3]float64{3, 2, 0}, [3]float64{3, 3, 0})
	d.curbs = 2
	d.strung(isBreakline, 0, false, [3]float64{5, 1, 0}, [3]float64{5, 2, 0}, [3]float64{5, 3, 0})
	for curbs, want := range map[bool][3]int{false: {4, 0, 2}, true: {4, 3, 2}} {
		var got [3]int
		for _, s := range d.segments(curbs) {
			got[s.chain]++
		}
		if got != want {
			t.Errorf("with curbs %v: %v pieces of outline, curb and breakline, want %v", curbs, got, want)
		}
	}
}

// By hand: a spot 0.3 m over the plane of eight about it, whatever that rises, stands on a thing from 0.1 m on, or from 6 % of the way to the nearest of them. Of more only the nearest eight count; seven tell nothing, nor do eight on a line.
func TestSpotsOnThings(t *testing.T) {
	build := func(far, dx, dy float64, at ...[2]float64) (*draft, []int32) {
		r := &roof.Roof{}
		r.Frame.Metres = 1
		plane := func(x, y float64) float64 { return 7 + dx*(x-50) + dy*(y+20) }
		r.Spots = append(r.Spots, roof.Spot{Position: at3(50, -20, plane(50, -20)+0.3)})
		var others []int32
		for _, p := range at {
			x, y := 50+far*p[0], -20+far*p[1]
			r.Spots = append(r.Spots, roof.Spot{Position: at3(x, y, plane(x, y))})
			others = append(others, int32(len(r.Spots)-1))
		}
		return newDraft(r, 1, nil), others
	}
	ring := [][2]float64{{1, 0}, {1, 1}, {0, 1.1}, {-1, 1}, {-1.2, 0}, {-1, -1}, {0, -1.3}, {1, -1}}
	for _, c := range []struct{ far, dx, dy, least float64 }{{1, 0, 0, 0.1}, {1, 0.02, -0.01, 0.1}, {1.6, 0.02, 0.03, 0.1}, {2, -0.02, 0.03, 0.12}, {5, 0.01, 0, 0.3}} {
		d, others := build(c.far, c.dx, c.dy, ring...)
		if lift, least, ok := d.lift(0, others); !ok || !(math.Abs(lift-0.3) <= 1e-9) || !(math.Abs(least-c.least) <= 1e-9) {
			t.Errorf("%+v: %g over it, %g at least, %v", c, lift, least, ok)
		}
		if _, _, ok := d.lift(0, others[1:]); ok {
			t.Errorf("%+v: seven spots tell it", c)
		}
		more, others := build(c.far, c.dx, c.dy, append([][2]float64{{3, 3}, {-3, 2}}, ring...)...)
		more.r.Spots[1].Z += 9
		more.r.Spots[2].Z -= 5
		if lift, least, ok := more.lift(0, others); !ok || !(math.Abs(lift-0.3) <= 1e-9) || !(math.Abs(least-c.least) <= 1e-9) {
			t.Errorf("%+v, beside two far off: %g over it, %g at least, %v", c, lift, least, ok)
		}
	}
	d, others := build(1, 0, 0, [2]float64{1, 1}, [2]float64{2, 2}, [2]float64{3, 3}, [2]float64{4, 4}, [2]float64{-1, -1}, [2]float64{-2, -2}, [2]float64{-3, -3}, [2]float64{-4, -4})
	if _, _, ok := d.lift(0, others); ok {
		t.Error("spots on a line tell it")
	}
}

// By hand: at a corner of a curb, at (4, 4), three spots on its side give the elevation, here 2 % up to the north from 0.5, where one stands within 2 m; two do not, nor do spots behind the curb or another line.
func TestPlaneBesideACurb(t *testing.T) {
	for _, c := range []struct {
		name  string
		spots [][2]float64
		line  bool // along x = 3.5, before all of them
		want  bool
	}{
		{"three", [][2]float64{{3, 3}, {3, 5}, {2, 4}}, false, true},
		{"two", [][2]float64{{3, 3}, {3, 5}}, false, false},
		{"the nearest 1.99 m off", [][2]float64{{2.01, 4}, {2, 3}, {2, 5}}, false, true},
		{"the nearest 2.01 m off", [][2]float64{{1.99, 4}, {1.9, 3}, {1.9, 5}}, false, false},
		{"one of three behind", [][2]float64{{3, 3}, {3, 5}, {4.5, 4.5}}, false, false},
		{"behind a breakline", [][2]float64{{3, 3}, {3, 5}, {2, 4}}, true, false},
	} {
		d := ground(true)
		corner := d.strung(isCurb, 0, true, [3]float64{4, 4, none}, [3]float64{4, 6, none}, [3]float64{6, 6, none}, [3]float64{6, 4, none})
		d.curbs = 2
		if c.line {
			d.strung(isBreakline, 0, false, [3]float64{3.5, 0, none}, [3]float64{3.5, 10, none})
		}
		for i, p := range c.spots {
			n := d.add(m(p[0]), m(p[1]), source{isSpot, int32(i)})
			d.z[n], d.how[n], d.spot[n] = m(0.5+0.02*p[1]), given, int32(i)
		}
		b := d.newBeside()
		before, after := span{1, 3, corner[3], corner[0]}, span{1, 0, corner[0], corner[1]}
		z, how := b.height(d.x[corner[0]], d.y[corner[0]], before, after)
		if (how == drawn) != c.want || c.want && z != m(0.5+0.02*4) {
			t.Errorf("%s: %g, %v", c.name, geometry.Metres(z), how)
		}
	}
}

// Beside a corner of a curb all spots count that are as far as the sixth, in whatever order they were read: here the sixth and the seventh.
func TestSpotsAsFarAsTheLast(t *testing.T) {
	spots := [][3]float64{{3.4, 3.4, 0.5}, {3, 2.5, 0.53}, {2.5, 3, 0.52}, {3, 2.2, 0.51}, {2.2, 3, 0.54}, {3.2, 1.5, 0.4}, {1.5, 3.2, 0.7}}
	var first int32
	for k, order := range [][]int{{0, 1, 2, 3, 4, 5, 6}, {0, 2, 1, 4, 3, 6, 5}, {6, 5, 4, 3, 2, 1, 0}} {
		d := ground(true)
		corner := d.strung(isCurb, 0, true, [3]float64{4, 4, none}, [3]float64{4, 6, none}, [3]float64{6, 6, none}, [3]float64{6, 4, none})
		d.curbs = 2
		for i, s := range order {
			n := d.add(m(spots[s][0]), m(spots[s][1]), source{isSpot, int32(i)})
			d.z[n], d.how[n], d.spot[n] = m(spots[s][2]), given, int32(i)
		}
		z, how := d.newBeside().height(d.x[corner[0]], d.y[corner[0]], span{1, 3, corner[3], corner[0]}, span{1, 0, corner[0], corner[1]})
		if k == 0 {
			first = z
		}
		if how != drawn || z != first {
			t.Errorf("in the order %v: %d, %v, want %d", order, z, how, first)
		}
	}
}

// By hand: four or more feet by turns h over and under a line are h root (4/5) off the best one, which must be 20 mm and four of the spots' errors. They must stand along half of the edge.
func TestWhenAFootBends(t *testing.T) {
	off := 0.02 / math.Sqrt(0.8) // of the pattern +-+-: the best line takes a fifth of its squares
	for _, c := range []struct {
		n                  int
		from, to, h, sigma float64
		want               bool
	}{
		{4, 0.2, 0.71, 1.01 * off, 0, true},
		{4, 0.2, 0.71, 0.99 * off, 0, false},
		{4, 0.2, 0.69, 9 * off, 0, false},
		{3, 0.2, 0.9, 9 * off, 0, false},
		{4, 0, 0.51, 2 * off, 0.0099, true},
		{4, 0, 0.51, 2 * off, 0.0101, false},
	} {
		for _, slope := range []float64{0, 0.5, -2} {
			var s stretch
			for i := range c.n {
				at := c.from + (c.to-c.from)*float64(i)/float64(c.n-1)
				s.add(at, 7+slope*at+c.h*float64(1-2*(i%2)), c.sigma)
			}
			if got := s.bends(); got != c.want {
				t.Errorf("%+v, at a slope of %g: %v", c, slope, got)
			}
		}
	}
}

// Spots within reach of a wall that stand on the roof's side of it give feet: none that stands on the outline or on a curb, and nothing that is no spot.
func TestWhatGivesFeet(t *testing.T) {
	d := ground(true)
	var want int32
	for i, role := range []role{isSpot, isCurb, isHole, isOutline, isBreakline, isSpot} {
		n := d.add(m(8), m(2+float64(i)), source{role, 0})
		if d.spot[n] = int32(i); i == 0 {
			want = n
		}
		if i == 5 {
			d.spot[n] = -1
		}
	}
	got := map[int32]bool{}
	for _, f := range d.findFeet(d.spans(0, 1), 2.5) {
		got[f.spot] = true
	}
	if len(got) != 2 || !got[want] || !got[want+4] { // spots on breaklines do
		t.Errorf("feet of %v, want of %d and %d", got, want, want+4)
	}
}

// By hand: of four places on a plane quadrilateral three lie on one valley, level: the triangle between them is none of the roof, so its long side is turned, and both triangles beside it are said to have changed.
func TestLevelTriangleOnAValleyIsTurned(t *testing.T) {
	d := straight([][3]int32{{0, 0, 50}, {4000, 0, 50}, {4000, 4000, 50}})
	n := d.add(-1000, 5000, source{isSpot, 0})
	d.z[n], d.how[n] = 90, given
	m, _, err := mesh.Triangulate(d.x, d.y, d.z, []mesh.Segment{{A: 0, B: 1, Flag: 1}, {A: 1, B: 2, Flag: 1}})
	if err != nil {
		t.Fatal(err)
	}
	level := func() int {
		for f := range len(m.V) / 3 {
			if m.Z[m.V[3*f]] == 50 && m.Z[m.V[3*f+1]] == 50 && m.Z[m.V[3*f+2]] == 50 {
				return f
			}
		}
		return -1
	}
	if len(m.V) != 6 || level() < 0 {
		t.Fatalf("no level triangle: %v", m.V)
	}
	turned := d.turnArtefacts(m, []int32{0, 1, 2, 3})
	if level() >= 0 || len(turned) != 2 || !turned[0] || !turned[1] {
		t.Errorf("%v, changed %v", m.V, turned)
	}
	if again := d.turnArtefacts(m, []int32{0, 1, 2, 3}); len(again) != 0 {
		t.Errorf("once more: %v", again)
	}
}

// A level triangle on a valley is turned whichever of its corners comes first, and whichever triangle comes first.
func TestLevelTriangleIsTurnedInAnyOrder(t *testing.T) {
	places := [][3]int32{{0, 0, 50}, {4000, 0, 50}, {4000, 4000, 50}, {-1000, 5000, 90}}
	for _, order := range [][]int{{0, 1, 2, 3}, {3, 0, 1, 2}, {2, 3, 0, 1}, {1, 2, 3, 0}, {2, 1, 0, 3}, {3, 2, 1, 0}, {1, 0, 3, 2}, {0, 3, 2, 1}} {
		d := empty()
		node := make([]int32, 4) // of each place
		for _, k := range order {
			node[k] = d.add(places[k][0], places[k][1], source{isBreakline, 0})
			d.z[node[k]], d.how[node[k]] = places[k][2], given
		}
		k := chain{source: source{isBreakline, 0}}
		for _, n := range node[:3] {
			k.push(n, true)
		}
		d.chains = append(d.chains, k)
		m, _, err := mesh.Triangulate(d.x, d.y, d.z, []mesh.Segment{{A: node[0], B: node[1], Flag: 1}, {A: node[1], B: node[2], Flag: 1}})
		if err != nil {
			t.Fatal(err)
		}
		if turned := d.turnArtefacts(m, []int32{0, 1, 2, 3}); len(turned) != 2 {
			t.Errorf("%v: changed %v", order, turned)
		}
		for f := range len(m.V) / 3 {
			if m.Z[m.V[3*f]] == 50 && m.Z[m.V[3*f+1]] == 50 && m.Z[m.V[3*f+2]] == 50 {
				t.Errorf("%v: triangle %d is level", order, f)
			}
		}
	}
}
