package settle

import (
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry"
	"runnel/analysis/mesh"
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
		{-2, 1, true, true, true}, {2, 1, true, true, false}, {2, -1, false, true, false}, {-2, -1, false, false, false},
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
	if !d.draw(&c, nil) {
		t.Fatal("nothing was drawn")
	}
	for _, k := range []int{1, 3} {
		if n := ring[k]; d.z[n] != geometry.OnGrid(0.2) || d.how[n] != drawn {
			t.Errorf("corner %d stands at %g", k, geometry.Metres(d.z[n]))
		}
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
