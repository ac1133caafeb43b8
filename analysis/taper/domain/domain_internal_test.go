package domain

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// The plans of these tests: a square of 10 m; an L of the same size, whose arms are 4 m wide, with its inner corner at (4, 4); a square with a curb of 2 m in its middle; one with two curbs that touch in (4, 4); and a square into whose north side a
// V is cut, with its tip at (5, 5).
var (
	square = Polygon{{0, 0}, {10, 0}, {10, 10}, {0, 10}}
	ell    = Polygon{{0, 0}, {10, 0}, {10, 4}, {4, 4}, {4, 10}, {0, 10}}
	middle = Polygon{{4, 4}, {6, 4}, {6, 6}, {4, 6}}
	touch  = [2]Polygon{{{2, 2}, {4, 2}, {4, 4}, {2, 4}}, {{4, 4}, {6, 4}, {6, 6}, {4, 6}}}
	vee    = Polygon{{0, 0}, {10, 0}, {10, 10}, {7, 10}, {5, 5}, {3, 10}, {0, 10}}
)

// planOf returns the plan of a level roof with curbs.
func planOf(t *testing.T, outline Polygon, curbs ...Polygon) *Domain {
	t.Helper()
	positions := func(ring Polygon) []roof.Position {
		out := make([]roof.Position, len(ring))
		for i, p := range ring {
			out[i] = shape.At(p[0], p[1], 0)
		}
		return out
	}
	r := shape.New("plan", positions(outline)...)
	for _, c := range curbs {
		shape.Curb(r, positions(c)...)
	}
	d, err := New(shape.Build(t, r).TIN)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// sizes returns the areas of polygons, summed, and fails where one is not convex and counter-clockwise.
func sizes(t *testing.T, of []Polygon) float64 {
	t.Helper()
	sum := 0.0
	for _, p := range of {
		for i := range p {
			if vector.Turn(p[i], p[(i+1)%len(p)], p[(i+2)%len(p)]) < -1e-9 {
				t.Errorf("%v turns right", p)
			}
		}
		sum += vector.Area(p)
	}
	return sum
}

// TestEdgesAndCorners: each border is edges end to end with the roof on their left, so the outline runs one way round and curbs the other; a corner is where the roof takes up more than half a turn: one of an L, four of a curb, eight of two.
func TestEdgesAndCorners(t *testing.T) {
	for _, c := range []struct {
		name    string
		d       *Domain
		edges   int
		corners []orb.Point
		area    float64
	}{
		{"square", planOf(t, square), 4, nil, 100},
		{"L", planOf(t, ell), 6, []orb.Point{{4, 4}}, 64},
		{"curb", planOf(t, square, middle), 8, []orb.Point{{4, 4}, {4, 6}, {6, 4}, {6, 6}}, 96},
		{"curbs that touch", planOf(t, square, touch[0], touch[1]), 12, []orb.Point{{2, 2}, {2, 4}, {4, 2}, {4, 6}, {6, 4}, {6, 6}}, 92},
		{"V", planOf(t, vee), 7, []orb.Point{{5, 5}}, 90},
		{"small L", planOf(t, Polygon{{0, 0}, {1, 0}, {1, 0.5}, {0.5, 0.5}, {0.5, 1}, {0, 1}}), 6, []orb.Point{{0.5, 0.5}}, 0.75},
	} {
		if len(c.d.Edges) != c.edges {
			t.Errorf("%s: %d edges, want %d", c.name, len(c.d.Edges), c.edges)
		}
		area := 0.0
		for i, e := range c.d.Edges {
			if c.d.Edges[e.next].A != e.B || c.d.Before[e.next] != i {
				t.Errorf("%s: edge %d ends at %v, the next starts at %v, before which is %d", c.name, i, e.B, c.d.Edges[e.next].A, c.d.Before[e.next])
			}
			area += vector.Cross(e.A, e.B) / 2
		}
		if !(math.Abs(area-c.area) <= 1e-9) {
			t.Errorf("%s: borders round %g m2, want %g", c.name, area, c.area)
		}
		var corners []orb.Point
		for _, e := range c.d.Corners {
			corners = append(corners, c.d.Edges[e].A)
		}
		slices.SortFunc(corners, func(a, b orb.Point) int { return slices.Compare(a[:], b[:]) })
		if !slices.Equal(corners, c.corners) {
			t.Errorf("%s: inner corners %v, want %v", c.name, corners, c.corners)
		}
		if c.d.Axis != (orb.Point{1, 0}) {
			t.Errorf("%s: main edge along %v", c.name, c.d.Axis)
		}
	}
}

// TestConvexParts: parts are convex and cover the roof once. A convex roof is one part. Each inner corner needs two diagonals at most, so with n of them there are 2n + 1 parts at most, and more than one as soon as there is a corner.
func TestConvexParts(t *testing.T) {
	for _, c := range []struct {
		name string
		d    *Domain
		area float64
		most int
	}{
		{"square", planOf(t, square), 100, 1},
		{"six corners, none inner", planOf(t, Polygon{{2, 0}, {8, 0}, {10, 5}, {8, 10}, {2, 10}, {0, 5}}), 80, 1},
		{"L", planOf(t, ell), 64, 3},
		{"curb", planOf(t, square, middle), 96, 9},
		{"V", planOf(t, vee), 90, 3},
	} {
		if got := sizes(t, c.d.Parts); !(math.Abs(got-c.area) <= 1e-6) {
			t.Errorf("%s: parts of %g m2, want %g", c.name, got, c.area)
		}
		if n := len(c.d.Parts); n > c.most || c.most > 1 && n < 2 {
			t.Errorf("%s: %d parts, at most %d", c.name, n, c.most)
		}
	}
}

// TestJoined: two squares side by side are one rectangle; a square and one of half its height would have an inner corner. Corners that stand on a line stay.
func TestJoined(t *testing.T) {
	west, east := Polygon{{0, 0}, {1, 0}, {1, 1}, {0, 1}}, Polygon{{1, 0}, {2, 0}, {2, 1}, {1, 1}}
	whole, ok := joined(west, east, orb.Point{1, 0}, orb.Point{1, 1})
	if !ok || len(whole) != 6 || !(math.Abs(vector.Area(whole)-2) <= 1e-12) {
		t.Errorf("%v, %v", whole, ok)
	}
	for _, p := range append(append(Polygon{}, west...), east...) {
		if n := len(slices.DeleteFunc(slices.Clone(whole), func(q orb.Point) bool { return q != p })); n != 1 {
			t.Errorf("%v stands %d times in %v", p, n, whole)
		}
	}
	// A triangle with its tip at (2, 3) on the east side: at (1, 1) the whole turns right.
	if whole, ok = joined(west, Polygon{{1, 0}, {2, 3}, {1, 1}}, orb.Point{1, 0}, orb.Point{1, 1}); ok {
		t.Errorf("an inner corner: %v", whole)
	}
	if got := around(west, orb.Point{1, 1}); !slices.Equal(got, Polygon{{1, 1}, {0, 1}, {0, 0}, {1, 0}}) {
		t.Errorf("from (1, 1) on: %v", got)
	}
	if got := around(west, orb.Point{5, 5}); got != nil {
		t.Errorf("from no corner of it on: %v", got)
	}
}

// TestStraight: corners less than a tenth of a millimetre off the line through their neighbours are none, however many there are in a row; those farther off stay, and so do slow bends, whose corners are each nearer than that to their neighbours' line.
func TestStraight(t *testing.T) {
	for _, c := range []struct {
		name       string
		ring, want Polygon
	}{
		{"square", square, square},
		{"a corner on the line", Polygon{{0, 0}, {5, 0}, {10, 0}, {10, 10}, {0, 10}}, square},
		{"0.09 mm off it", Polygon{{0, 0}, {5, -0.00009}, {10, 0}, {10, 10}, {0, 10}}, square},
		{"0.11 mm off it", Polygon{{0, 0}, {5, -0.00011}, {10, 0}, {10, 10}, {0, 10}}, Polygon{{0, 0}, {5, -0.00011}, {10, 0}, {10, 10}, {0, 10}}},
		{"three on one side", Polygon{{0, 0}, {10, 0}, {10, 2}, {10, 5}, {10, 8}, {10, 10}, {0, 10}}, square},
		{"begun in the middle of a side", Polygon{{10, 5}, {10, 10}, {0, 10}, {0, 0}, {10, 0}}, square},
		{"of two farthest west, the south one first", Polygon{{0, 10}, {0, 0}, {10, 0}, {10, 10}}, square},
		{"a corner on the side that closes the ring", Polygon{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 4}}, square},
	} {
		if got := Straight(c.ring); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	// A bend of ten steps of 1 m, each turned by 0.0001: the middle of three stands 0.00005 m off the line of its neighbours, but five steps on 0.0001 * 25 / 2 = 0.00125 m off the first.
	bend, p, a := Polygon{{0, 0}}, orb.Point{0, 0}, 0.0
	for range 10 {
		p = orb.Point{p[0] + math.Cos(a), p[1] + math.Sin(a)}
		bend, a = append(bend, p), a+0.0001
	}
	bend = append(bend, orb.Point{10, 10}, orb.Point{0, 10})
	kept := Straight(bend)
	if len(kept) <= 4 {
		t.Errorf("a slow bend of %d corners is %d: %v", len(bend), len(kept), kept)
	}
	for _, p := range bend {
		far := math.Inf(1)
		for i, a := range kept {
			far = min(far, vector.Distance(p, vector.Nearest([]orb.Point{a, kept[(i+1)%len(kept)]}, p)))
		}
		if !(far <= Bent) {
			t.Errorf("%v stands %g m off what is kept", p, far)
		}
	}
}

// TestOffLine: (1, 2) stands 2 m off the x axis and 7/5 m off the line through (0, 0) and (4, 3): |4*2 - 3*1|/5 = 1; from one place it is the distance from that.
func TestOffLine(t *testing.T) {
	p := orb.Point{1, 2}
	for _, c := range []struct {
		a, b orb.Point
		want float64
	}{
		{orb.Point{0, 0}, orb.Point{9, 0}, 2},
		{orb.Point{0, 0}, orb.Point{4, 3}, 1},
		{orb.Point{4, 3}, orb.Point{0, 0}, 1},
		{orb.Point{0, 0}, orb.Point{0.04, 0.03}, 1},
		{orb.Point{4, 6}, orb.Point{4, 6}, 5},
		{orb.Point{2, 2}, orb.Point{7, 2}, 0},
	} {
		if got := OffLine(p, c.a, c.b); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("from the line through %v and %v: %g m, want %g", c.a, c.b, got, c.want)
		}
	}
}

// TestHolds: a place on a west or south side counts as on the roof, one on an east or north side as off it, so that of two roofs that share a side one holds it. What a curb takes is off the roof.
func TestHolds(t *testing.T) {
	ground, curb := planOf(t, square), planOf(t, square, middle)
	for _, c := range []struct {
		d    *Domain
		p    orb.Point
		want bool
	}{
		{ground, orb.Point{5, 5}, true},
		{ground, orb.Point{0, 5}, true},
		{ground, orb.Point{5, 0}, true},
		{ground, orb.Point{10, 5}, false},
		{ground, orb.Point{5, 10}, false},
		{ground, orb.Point{-1, 5}, false},
		{ground, orb.Point{11, 5}, false},
		{ground, orb.Point{5, -1}, false},
		{curb, orb.Point{5, 5}, false},
		{curb, orb.Point{3, 5}, true},
		{curb, orb.Point{7, 5}, true},
		{curb, orb.Point{5, 7}, true},
		{planOf(t, vee), orb.Point{5, 6}, false},  // in the V
		{planOf(t, vee), orb.Point{3.5, 8}, true}, // its side stands at 3.8
		{planOf(t, vee), orb.Point{4, 8}, false},
	} {
		if got := c.d.holds(c.p); got != c.want {
			t.Errorf("%v: %v", c.p, got)
		}
	}
}

// TestSnap: a place within a millimetre of the border goes onto it, to the nearest side or corner; others stay.
func TestSnap(t *testing.T) {
	d := planOf(t, square, middle)
	for _, c := range []struct{ q, want orb.Point }{
		{orb.Point{3, 0.0009}, orb.Point{3, 0}},
		{orb.Point{3, -0.0009}, orb.Point{3, 0}},
		{orb.Point{3, 0.0011}, orb.Point{3, 0.0011}},
		{orb.Point{9.9995, 0.0008}, orb.Point{10, 0.0008}},         // 0.5 mm from the east side, 0.8 from the south one
		{orb.Point{-0.0006, -0.0006}, orb.Point{0, 0}},             // beyond a corner: 0.85 mm off
		{orb.Point{-0.0008, -0.0008}, orb.Point{-0.0008, -0.0008}}, // 1.13 mm off
		{orb.Point{3.9993, 5}, orb.Point{4, 5}},
		{orb.Point{5, 5}, orb.Point{5, 5}},
	} {
		if got := d.Snap(c.q); !(vector.Distance(got, c.want) <= 1e-9) {
			t.Errorf("%v goes to %v, want %v", c.q, got, c.want)
		}
	}
}

// TestMiddle: of a triangle and of four places that are no parallelogram, by hand.
func TestMiddle(t *testing.T) {
	for _, c := range []struct {
		p    Polygon
		want orb.Point
	}{
		{Polygon{{0, 0}, {6, 0}, {0, 3}}, orb.Point{2, 1}},
		{Polygon{{1, 1}, {5, 1}, {6, 3}, {0, 7}}, orb.Point{3, 3}},
	} {
		if got := Middle(c.p); !(vector.Distance(got, c.want) <= 1e-12) {
			t.Errorf("%v, want %v", got, c.want)
		}
	}
}

// TestFacetAt: every place of the roof has the facet whose corners lie round it, and none off it.
func TestFacetAt(t *testing.T) {
	r := shape.New("L", shape.At(0, 0, 0), shape.At(10, 0, 0), shape.At(10, 4, 0), shape.At(4, 4, 0), shape.At(4, 10, 0), shape.At(0, 10, 0))
	s := shape.Build(t, r)
	d, err := New(s.TIN)
	if err != nil {
		t.Fatal(err)
	}
	rnd := rand.New(rand.NewPCG(3, 5))
	for range 200 {
		q := orb.Point{10 * rnd.Float64(), 10 * rnd.Float64()}
		f, ok := d.FacetAt(q)
		if on := q[0] <= 4 || q[1] <= 4; ok != on {
			t.Errorf("%v: %v", q, ok)
		}
		for c := range int32(3) {
			if !ok {
				break
			}
			if a, b := s.TIN.V[3*f+c], s.TIN.V[3*f+(c+1)%3]; vector.Turn(orb.Point{s.TIN.X[a], s.TIN.Y[a]}, orb.Point{s.TIN.X[b], s.TIN.Y[b]}, q) < -1e-9 {
				t.Errorf("%v lies beyond a side of facet %d", q, f)
			}
		}
	}
}

// TestBorderThatCrosses: a border whose edges cross has no plan: 2 m to the right and up and 2 m to the right and down cross in their middles.
func TestBorderThatCrosses(t *testing.T) {
	d := &Domain{Edges: []Edge{{orb.Point{0, 0}, orb.Point{2, 2}, 1}, {orb.Point{2, 2}, orb.Point{2, 0}, 2}, {orb.Point{2, 0}, orb.Point{0, 2}, 3}, {orb.Point{0, 2}, orb.Point{0, 0}, 0}}}
	err := d.divide()
	if err == nil || err.Error() != "taper: 1 edges of the roof's border cross" {
		t.Errorf("%v", err)
	}
}
