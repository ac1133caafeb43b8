package domain

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// TestSees: by hand. Across the inner corner of an L, whose arms end at 4, places see each other as long as the line between them passes the corner (4, 4) on the roof's side or through it; along a border one side is enough; where curbs touch there is no way.
func TestSees(t *testing.T) {
	l, hole, two, v := planOf(t, ell), planOf(t, square, middle), planOf(t, square, touch[0], touch[1]), planOf(t, vee)
	for _, c := range []struct {
		name string
		d    *Domain
		p, q orb.Point
		want bool
	}{
		{"round the corner", l, orb.Point{1, 9}, orb.Point{9, 1}, false},
		{"just beyond the corner", l, orb.Point{1, 7.01}, orb.Point{7.01, 1}, false},
		{"through the corner", l, orb.Point{1, 7}, orb.Point{7, 1}, true},
		{"just before the corner", l, orb.Point{1, 6.99}, orb.Point{6.99, 1}, true},
		{"to the corner", l, orb.Point{1, 9}, orb.Point{4, 4}, true},
		{"from corner to corner over the gap", l, orb.Point{4, 10}, orb.Point{10, 4}, false},
		{"along a side", l, orb.Point{4, 5}, orb.Point{4, 9}, true},
		{"along a side and on", l, orb.Point{4, 9}, orb.Point{4, 1}, true},
		{"a place itself", l, orb.Point{1, 1}, orb.Point{1, 1}, true},
		{"behind a curb", hole, orb.Point{1, 5}, orb.Point{9, 5}, false},
		{"near the far end behind a curb", hole, orb.Point{1, 5}, orb.Point{6.5, 5}, false},
		{"near the near end behind a curb", hole, orb.Point{3.5, 5}, orb.Point{9, 5}, false},
		{"before a curb", hole, orb.Point{1, 5}, orb.Point{3.9, 5}, true},
		{"to a curb", hole, orb.Point{1, 5}, orb.Point{4, 5}, true},
		{"along a curb", hole, orb.Point{1, 4}, orb.Point{9, 4}, true},
		{"along a curb and 1 mm inside it", hole, orb.Point{1, 4.001}, orb.Point{9, 4.001}, false},
		{"past a curb's corner", hole, orb.Point{3, 5}, orb.Point{5, 3}, true},
		{"from curb side to opposite side", hole, orb.Point{4, 5}, orb.Point{6, 5}, false},
		{"between curbs that touch", two, orb.Point{3, 5}, orb.Point{5, 3}, false},
		{"along both curbs that touch", two, orb.Point{4, 3}, orb.Point{4, 5}, false},
		{"to where they touch", two, orb.Point{3, 5}, orb.Point{4, 4}, true},
		{"over the V", v, orb.Point{3, 9}, orb.Point{7, 9}, false},
		{"under the V's tip", v, orb.Point{1, 5}, orb.Point{9, 5}, true},
	} {
		known := len(c.d.sight)
		if got := c.d.Sees(c.p, c.q); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
		if got := c.d.Sees(c.q, c.p); got != c.want {
			t.Errorf("%s, the other way: %v", c.name, got)
		}
		if n := len(c.d.sight); n != known+1 {
			t.Errorf("%s: looked for %d times, want once for both ways", c.name, n-known)
		}
	}
}

// TestWhatAPlaceSees: the areas, by hand. From (1, 9) of the L the line past (4, 4) ends at (6.4, 0): hidden is the trapezoid beyond it, 4 m high and 3.6 and 6 m wide, 19.2 of 64 m2. Of the square with a curb, (1, 5)
// sees of the wedge through the curb's west corners, which is 2 m wide after 3 m and 6 m wide at the east side after 9 m (27 m2), only the part before the curb (3 m2).
func TestWhatAPlaceSees(t *testing.T) {
	l, hole, v := planOf(t, ell), planOf(t, square, middle), planOf(t, vee)
	for _, c := range []struct {
		name string
		d    *Domain
		p    orb.Point
		area float64
	}{
		{"L, from the end of an arm", l, orb.Point{1, 9}, 64 - 19.2},
		{"L, from its outer corner", l, orb.Point{0, 0}, 64},
		{"L, from its inner corner", l, orb.Point{4, 4}, 64},
		{"L, from where the arms meet", l, orb.Point{2, 3}, 64},
		{"square, from inside", planOf(t, square), orb.Point{3, 4}, 100},
		{"square, from a side", planOf(t, square), orb.Point{0, 4}, 100},
		{"square, from a corner", planOf(t, square), orb.Point{10, 10}, 100},
		{"before a curb", hole, orb.Point{1, 5}, 100 - (27 - 3)},
		// From a curb's west side all that lies east of it is hidden.
		{"on a curb's side", hole, orb.Point{4, 5}, 40},
		// From its corner the quarter behind it is hidden.
		{"on a curb's corner", hole, orb.Point{4, 4}, 100 - 36},
		// From (0, 10) the line to the V's tip (5, 5) runs on to (10, 0): seen are the triangle under it and the one west of the V, (0, 10), (5, 5), (3, 10): 50 + 7.5.
		{"V, from the north-west corner", v, orb.Point{0, 10}, 57.5},
	} {
		view := c.d.From(c.p)
		if got := sizes(t, view); !(math.Abs(got-c.area) <= 1e-6) {
			t.Errorf("%s: %g m2, want %g", c.name, got, c.area)
		}
		for _, p := range view {
			if p[0] != c.p || len(p) != 3 {
				t.Errorf("%s: %v is no triangle from there", c.name, p)
			}
		}
	}
	// One triangle a side that is seen, not one a ray: four of a square from its inside, two from its corner.
	d := planOf(t, square)
	if got := len(d.From(orb.Point{3, 4})); got != 4 && got != 5 {
		t.Errorf("%d triangles of a square", got)
	}
	if got := len(d.From(orb.Point{0, 0})); got != 2 {
		t.Errorf("%d triangles from a corner", got)
	}
}

// TestSightAgainstCrossings: of places drawn at random on roofs with slanted sides, p sees q where no edge crosses the line between them, tried edge by edge, and just then q lies in a triangle that p sees.
func TestSightAgainstCrossings(t *testing.T) {
	rnd := rand.New(rand.NewPCG(17, 4))
	for _, d := range []*Domain{
		planOf(t, ell), planOf(t, vee), planOf(t, square, middle), planOf(t, square, Polygon{{3, 2}, {6, 3}, {5, 7}}, Polygon{{7, 7}, {9, 6}, {8, 9}}),
	} {
		place := func() orb.Point {
			for {
				if p := (orb.Point{10 * rnd.Float64(), 10 * rnd.Float64()}); d.holds(p) {
					return p
				}
			}
		}
		seen := 0
		for range 300 {
			p, q := place(), place()
			want := true
			for _, e := range d.Edges {
				if vector.Turn(p, q, e.A)*vector.Turn(p, q, e.B) < 0 && vector.Turn(e.A, e.B, p)*vector.Turn(e.A, e.B, q) < 0 {
					want = false
				}
			}
			if got := d.Sees(p, q); got != want {
				t.Errorf("%v and %v: %v", p, q, got)
			}
			in := false
			for _, s := range d.From(p) {
				in = in || vector.Turn(s[0], s[1], q) >= 0 && vector.Turn(s[1], s[2], q) >= 0 && vector.Turn(s[2], s[0], q) >= 0
			}
			if in != want {
				t.Errorf("%v from %v: in a triangle seen %v, want %v", q, p, in, want)
			}
			if want {
				seen++
			}
		}
		if seen < 100 || seen == 300 {
			t.Errorf("%d of 300 pairs see each other", seen)
		}
	}
}

// TestHit: the first edge on a ray's way and how far it is. Edges on which the place lies do not count; of two that meet where the ray does, the first does.
func TestHit(t *testing.T) {
	l, v := planOf(t, ell), planOf(t, vee)
	s := math.Sqrt(0.5)
	for _, c := range []struct {
		name string
		d    *Domain
		p, u orb.Point
		a, b orb.Point
		far  float64
	}{
		{"east", l, orb.Point{1, 9}, orb.Point{1, 0}, orb.Point{4, 4}, orb.Point{4, 10}, 3},
		{"west", l, orb.Point{1, 9}, orb.Point{-1, 0}, orb.Point{0, 10}, orb.Point{0, 0}, 1},
		{"south", l, orb.Point{1, 9}, orb.Point{0, -1}, orb.Point{0, 0}, orb.Point{10, 0}, 9},
		{"from a side", l, orb.Point{0, 5}, orb.Point{1, 0}, orb.Point{4, 4}, orb.Point{4, 10}, 4},
		{"slanted", l, orb.Point{7, 2}, orb.Point{s, s}, orb.Point{10, 4}, orb.Point{4, 4}, 2 / s},
		{"under the corner", l, orb.Point{1, 3}, orb.Point{1, 0}, orb.Point{10, 0}, orb.Point{10, 4}, 9},
		{"onto the V's tip", v, orb.Point{1, 5}, orb.Point{1, 0}, orb.Point{7, 10}, orb.Point{5, 5}, 4},
	} {
		e, far := c.d.Hit(c.p, c.u)
		if e < 0 || c.d.Edges[e].A != c.a || c.d.Edges[e].B != c.b || !(math.Abs(far-c.far) <= 1e-9) {
			t.Errorf("%s: edge %d after %g m; want from %v to %v after %g", c.name, e, far, c.a, c.b, c.far)
		}
	}
	if e, far := l.Hit(orb.Point{20, 5}, orb.Point{1, 0}); e != -1 || !math.IsInf(far, 1) {
		t.Errorf("off the roof and away from it: edge %d after %g m", e, far)
	}
}

// TestMeet: from (1, 1) up to the right the line of the edge from (0, 4) to (2, 4) is met at (4, 4), beyond its end; the one behind is met, but not by the ray; one along the ray is not met.
func TestMeet(t *testing.T) {
	s := math.Sqrt(0.5)
	q, ok := Meet(orb.Point{1, 1}, orb.Point{s, s}, Edge{A: orb.Point{0, 4}, B: orb.Point{2, 4}})
	if !ok || !(vector.Distance(q, orb.Point{4, 4}) <= 1e-12) {
		t.Errorf("ahead: %v, %v", q, ok)
	}
	if q, ok = Meet(orb.Point{1, 1}, orb.Point{s, s}, Edge{A: orb.Point{0, -1}, B: orb.Point{2, -1}}); ok || !(vector.Distance(q, orb.Point{-1, -1}) <= 1e-12) {
		t.Errorf("behind: %v, %v", q, ok)
	}
	if _, ok = Meet(orb.Point{1, 1}, orb.Point{s, s}, Edge{A: orb.Point{3, 4}, B: orb.Point{5, 6}}); ok {
		t.Error("an edge along the ray is met")
	}
	if _, ok = Meet(orb.Point{1, 1}, orb.Point{s, s}, Edge{A: orb.Point{0, 1}, B: orb.Point{2, 1}}); ok {
		t.Error("an edge through the place itself is met ahead of it")
	}
}

// TestTurn: a quarter turn is 1: east, north, west and south are 0 to 3; halfway between them, where both parts are equal, it is a half more.
func TestTurn(t *testing.T) {
	s := math.Sqrt(0.5)
	for k, u := range []orb.Point{{1, 0}, {s, s}, {0, 1}, {-s, s}, {-1, 0}, {-s, -s}, {0, -1}, {s, -s}} {
		if got := Turn(u); !(math.Abs(got-float64(k)/2) <= 1e-12) {
			t.Errorf("%v: %g, want %g", u, got, float64(k)/2)
		}
	}
}

// TestOnAnEdge: within a micrometre of it, its ends included.
func TestOnAnEdge(t *testing.T) {
	e := Edge{A: orb.Point{1, 1}, B: orb.Point{5, 4}} // 5 m along (0.8, 0.6)
	at := func(along, beside float64) orb.Point {
		return orb.Point{1 + 0.8*along - 0.6*beside, 1 + 0.6*along + 0.8*beside}
	}
	for _, c := range []struct {
		along, beside float64
		want          bool
	}{
		{2, 0, true},
		{2, 0.9e-6, true},
		{2, -0.9e-6, true},
		{2, 1.1e-6, false},
		{2, -1.1e-6, false},
		{-0.9e-6, 0, true},
		{-1.1e-6, 0, false},
		{5 + 0.9e-6, 0, true},
		{5 + 1.1e-6, 0, false},
		{6, 0, false},
	} {
		if got := on(at(c.along, c.beside), e); got != c.want {
			t.Errorf("%g m along, %g m beside: %v", c.along, c.beside, got)
		}
	}
	// Exactly a micrometre off it, which numbers along an axis hold: before its start and to both sides.
	for _, p := range []orb.Point{{-Touch, 0}, {0, Touch}, {0, -Touch}} {
		if !on(p, Edge{A: orb.Point{0, 0}, B: orb.Point{4, 0}}) {
			t.Errorf("%v is not on it", p)
		}
	}
}

// TestDirectionsGoRound: in the order of their angles, to all corners but the place itself and along the main edge's four ways; so no two that follow each other are half a turn apart.
func TestDirectionsGoRound(t *testing.T) {
	d := planOf(t, ell)
	for _, c := range []struct {
		p orb.Point
		n int
	}{{orb.Point{4, 4}, 5 + 4}, {orb.Point{1, 2}, 6 + 4}} {
		dirs := d.directions(c.p)
		if len(dirs) != c.n {
			t.Errorf("%v: %d directions, want %d", c.p, len(dirs), c.n)
		}
		round := 0.0
		for i, a := range dirs {
			b := dirs[(i+1)%len(dirs)]
			if vector.Cross(a, b) < 0 {
				t.Errorf("%v: %v before %v", c.p, a, b)
			}
			round += math.Atan2(vector.Cross(a, b), vector.Dot(a, b))
			if !(math.Abs(vector.Length(a)-1) <= 1e-12) {
				t.Errorf("%v is no unit vector", a)
			}
		}
		if !(math.Abs(round-2*math.Pi) <= 1e-9) {
			t.Errorf("%v: all turns are %g", c.p, round)
		}
	}
}
