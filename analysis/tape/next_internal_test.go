package tape

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/offset"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// By hand: hulls of a square with points in it and on its sides, of a triangle by 3, 4 and 5, of what lies on one line, and of two points. Places far east and north have the same hulls.
func TestHullArea(t *testing.T) {
	for _, c := range []struct {
		name   string
		points []orb.Point
		want   float64
	}{
		{"a square with points in it and on its sides", []orb.Point{{2, 2}, {4, 0}, {1, 3}, {0, 0}, {4, 4}, {2, 0}, {0, 4}, {4, 2}, {0, 1}}, 16},
		{"a triangle", []orb.Point{{3, 0}, {0, 0}, {0, 4}}, 6},
		{"a thin triangle with a point beside its long side", []orb.Point{{0, 0}, {10, 0.2}, {5, 0.05}, {10, 0}}, 1},
		{"a line", []orb.Point{{0, 0}, {3, 3}, {1, 1}, {2, 2}}, 0},
		{"two points", []orb.Point{{0, 0}, {3, 3}}, 0},
		{"one", []orb.Point{{0, 0}}, 0},
		{"a lozenge", []orb.Point{{0, 1}, {1, 0}, {0, -1}, {-1, 0}, {0, 0}, {0.5, -0.5}}, 2},
	} {
		for _, by := range []orb.Point{{}, {1000, 3000}, {-700, 20}} {
			moved := make([]orb.Point, len(c.points))
			for i, p := range c.points {
				moved[i] = orb.Point{p[0] + by[0], p[1] + by[1]}
			}
			if got := hullArea(moved); !(math.Abs(got-c.want) <= 1e-6) {
				t.Errorf("%s, moved by %v: %g m2, want %g", c.name, by, got, c.want)
			}
		}
	}
}

// The hull of random points by brute force: a pair is a side of it where every other point lies to its left, and the shoelace over all sides is its area.
func TestHullAreaByBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		p := make([]orb.Point, 3+r.IntN(20))
		for i := range p {
			p[i] = orb.Point{math.Round(30 * r.Float64()), math.Round(20 * r.Float64())}
		}
		twice := 0.0
		for i, a := range p {
			for k, b := range p {
				side, last := a != b, true
				for m, q := range p {
					turn := (b[0]-a[0])*(q[1]-a[1]) - (b[1]-a[1])*(q[0]-a[0])
					side = side && turn >= 0
					// Of points on one side only the whole side counts, and of equal ones the first.
					along := (b[0]-a[0])*(q[0]-a[0]) + (b[1]-a[1])*(q[1]-a[1])
					if turn == 0 && (along < 0 || along > planar.DistanceSquared(a, b)) || q == a && m < i || q == b && m < k {
						last = false
					}
				}
				if side && last {
					twice += a[0]*b[1] - b[0]*a[1]
				}
			}
		}
		if got := hullArea(p); !(math.Abs(got-twice/2) <= 1e-9) {
			t.Errorf("%v: %g, want %g", p, got, twice/2)
		}
	}
}

// Spots asked for twice within 0.1 m under one code are one; under two codes, or farther apart, they are two.
func TestDistinct(t *testing.T) {
	spots := []Spot{
		{Code: "LOW 1", Plan: orb.Point{5, 5}},
		{Code: "LOW 1", Plan: orb.Point{5.09, 5}},
		{Code: "LOW 2", Plan: orb.Point{5, 5}},
		{Code: "LOW 1", Plan: orb.Point{5, 5.11}},
		{Code: "LOW 2", Plan: orb.Point{5, 5}},
	}
	got := distinct(spots)
	if len(got) != 3 || got[0].Plan != spots[0].Plan || got[1].Code != "LOW 2" || got[2].Plan != spots[3].Plan {
		t.Errorf("%+v", got)
	}
}

// From the first corner always to the nearest that is left.
func TestWalked(t *testing.T) {
	walls := []offset.Wall{{From: orb.Point{10, 0}, To: orb.Point{20, 0}}}
	var spots []Spot
	for _, x := range []float64{2, 19, 9, 14, 8, 11.5} {
		spots = append(spots, Spot{Plan: orb.Point{x, 0}})
	}
	var order []float64
	for _, s := range walked(slices.Clone(spots), walls) {
		order = append(order, s.Plan[0])
	}
	// By hand: 9 is 1 m from 10, 8 is 1 m on; 11.5 is 3.5 m back and 2 is 6 m on; then 14, 19, 2.
	if want := []float64{9, 8, 11.5, 14, 19, 2}; !slices.Equal(order, want) {
		t.Errorf("%v, want %v", order, want)
	}
	if got := walked(spots[:1], walls); len(got) != 1 || got[0].Plan != spots[0].Plan {
		t.Errorf("one spot: %+v", got)
	}
}

// Before an outlet the roof is read 1, 2, 4 ... ft off, or 0.3, 0.6, 1.2 ... m, as far as the pond's lowest place.
func TestSteps(t *testing.T) {
	for _, c := range []struct {
		imperial bool
		total    float64
		want     []float64
	}{
		{true, 9 * 0.3048, []float64{0.3048, 0.6096, 1.2192, 2.4384}},
		{true, 0.3048, nil},
		{false, 2.3, []float64{0.3, 0.6, 1.2}},
		{false, 2.5, []float64{0.3, 0.6, 1.2, 2.4}},
		{false, 0, nil},
	} {
		s := &Survey{Roof: &roof.Roof{Imperial: c.imperial}}
		got := s.steps(c.total)
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) <= 1e-12 }) {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// rect is a roof of l by w m whose lower left corner stands at (100, 50).
func rect(l, w float64) *Survey {
	r := &roof.Roof{}
	r.Outline.Rings = [][]roof.Position{{}}
	for _, p := range []orb.Point{{0, 0}, {l, 0}, {l, w}, {0, w}, {0, 0}} {
		r.Outline.Rings[0] = append(r.Outline.Rings[0], roof.Position{Plan: orb.Point{100 + p[0], 50 + p[1]}})
	}
	return &Survey{Roof: r}
}

// The grid of a roof of 10 by 7 m begins 0.3 m from its walls, goes on by 3 m and ends 0.3 m before the other wall: x of 0.3, 3.3, 6.3, 9.3 would be followed by 9.7, and a last whole step within a quarter
// of one from that is left out: 0.3, 3.3, 6.3, 9.7; y of 0.3, 3.3, 6.7, for 6.3 is left out too. Rows are walked up and down.
func TestGrid(t *testing.T) {
	var got, want []orb.Point
	for _, s := range rect(10, 7).grid() {
		got = append(got, s.Plan)
		if s.Code != "SPOT" {
			t.Errorf("a spot of the grid has the code %q", s.Code)
		}
	}
	xs := []float64{0.3, 3.3, 6.3, 9.7}
	for j, y := range []float64{0.3, 3.3, 6.7} {
		for i := range xs {
			if j == 1 {
				i = 3 - i
			}
			want = append(want, orb.Point{100 + xs[i], 50 + y})
		}
	}
	if !slices.EqualFunc(got, want, func(a, b orb.Point) bool { return planar.Distance(a, b) <= 1e-9 }) {
		t.Errorf("%v, want %v", got, want)
	}
	// By hand: 0.3, 3.3 ... 54.3 and 56.7 on 57 m are 20, so 57 by 57 m have 400, which is as many as are listed; 60 by 57 m have 21 by 20, and nobody walks that.
	if n := len(rect(57, 57).grid()); n != 400 {
		t.Errorf("%d spots on 57 by 57 m, want 400", n)
	}
	if n := len(rect(60, 57).grid()); n != 0 {
		t.Errorf("%d spots on 60 by 57 m, want none", n)
	}
	imperial := rect(12.192, 6.096) // 40 by 20 ft: 1, 11, 21, 31, 39 ft, less 31 + 7.5 < 39: five; 1, 11, 19: three
	imperial.Roof.Imperial = true
	spots := imperial.grid()
	if len(spots) != 15 || !(planar.Distance(spots[1].Plan, orb.Point{100 + 11*float64(quantity.Foot), 50 + float64(quantity.Foot)}) <= 1e-9) {
		t.Errorf("%d spots on 40 by 20 ft, the second at %v", len(spots), spots[1].Plan)
	}
}

// A grid is walked to and fro: from each spot the next lies beside it, never at the other end of a row.
func TestGridIsWalkedToAndFro(t *testing.T) {
	spots := rect(20, 30).grid()
	if len(spots) < 20 {
		t.Fatalf("%d spots", len(spots))
	}
	rows := map[float64]bool{}
	for i := range spots {
		rows[spots[i].Plan[1]] = true
		if i > 0 && !(vector.Distance(spots[i-1].Plan, spots[i].Plan) <= 4) {
			t.Errorf("from %v to %v", spots[i-1].Plan, spots[i].Plan)
		}
	}
	if len(rows) < 5 {
		t.Errorf("%d rows", len(rows))
	}
}
