package taper

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/taper/domain"
)

// ring is a convex polygon of n corners on an ellipse round (x, y).
func ring(rnd *rand.Rand, n int, x, y, a, b float64) domain.Polygon {
	angles := make([]float64, n)
	for i := range angles {
		angles[i] = 2 * math.Pi * rnd.Float64()
	}
	slices.Sort(angles)
	var p domain.Polygon
	for _, w := range angles {
		sin, cos := math.Sincos(w)
		p = append(p, orb.Point{x + a*cos, y + b*sin})
	}
	return p
}

// Whatever the line, both parts together are the polygon, each lies on its own side, and the share of a grid of places on each side is that of the areas.
func TestPartsOfAPolygon(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 4))
	var b buffer
	for range 300 {
		p := ring(rnd, 3+rnd.IntN(6), 3, -2, 4, 2)
		n, c := orb.Point{rnd.Float64() - 0.5, rnd.Float64() - 0.5}, (rnd.Float64()-0.5)*4
		in, out := split(p, n, c)
		if !(math.Abs(vector.Area(in)+vector.Area(out)-vector.Area(p)) <= 1e-9) {
			t.Fatalf("%v: %g and %g of %g", p, vector.Area(in), vector.Area(out), vector.Area(p))
		}
		for side, part := range map[float64]domain.Polygon{1: in, -1: out} {
			for _, q := range part {
				if side*(vector.Dot(n, q)+c) < -1e-9 {
					t.Fatalf("%v lies on the other side", q)
				}
				if inside(p, q) < -1e-9 {
					t.Fatalf("%v lies outside", q)
				}
			}
		}
		if first := b.positive(p, n, c); !(math.Abs(vector.Area(first)-vector.Area(in)) <= 1e-12) {
			t.Fatalf("the first part alone has %g, not %g", vector.Area(first), vector.Area(in))
		}
	}
	// A line that is none has everything on one side.
	p := ring(rnd, 5, 0, 0, 1, 1)
	if in, out := split(p, orb.Point{}, 1); len(in) != 5 || out != nil {
		t.Errorf("%v, %v", in, out)
	}
	if in, out := split(p, orb.Point{}, -1); in != nil || len(out) != 5 {
		t.Errorf("%v, %v", in, out)
	}
}

// By hand, two rectangles of 4 by 2 and 3 by 3 m overlap on 2 by 1.5 m; corners on a side count as inside; what lies apart has nothing in common.
func TestClip(t *testing.T) {
	box := func(x, y, w, h float64) domain.Polygon {
		return domain.Polygon{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
	}
	var b buffers
	for _, c := range []struct {
		p, by domain.Polygon
		want  float64
	}{
		{box(0, 0, 4, 2), box(2, 0.5, 3, 3), 3},
		{box(2, 0.5, 3, 3), box(0, 0, 4, 2), 3},
		{box(0, 0, 4, 2), box(1, 0, 2, 2), 4},
		{box(1, 0, 2, 2), box(0, 0, 4, 2), 4},
		{box(0, 0, 4, 2), box(5, 0, 1, 1), 0},
		{box(0, 0, 4, 2), box(4, 0, 1, 2), 0},
		{box(0, 0, 2, 2), domain.Polygon{{1, -1}, {3, 1}, {1, 3}, {-1, 1}}, 4},
		{box(0, 0, 2, 2), domain.Polygon{{1, 0}, {2, 1}, {1, 2}, {0, 1}}, 2},
	} {
		got := b.clip(c.p, halfPlanes(nil, c.by))
		if !(math.Abs(vector.Area(got)-c.want) <= 1e-9) {
			t.Errorf("%v in %v: %g, want %g", c.p, c.by, vector.Area(got), c.want)
		}
	}
	// Against a count of places for random ones.
	rnd := rand.New(rand.NewPCG(3, 8))
	for range 20 {
		p, by := ring(rnd, 7, 0, 0, 3, 2), ring(rnd, 6, 1, 0.5, 2, 3)
		if vector.Area(p) < 4 || vector.Area(by) < 4 {
			continue
		}
		got, count, n := vector.Area(b.clip(p, halfPlanes(nil, by))), 0, 0
		for x := -3.0; x < 3; x += 0.02 {
			for y := -2.0; y < 2; y += 0.02 {
				n++
				if q := (orb.Point{x, y}); inside(p, q) >= 0 && inside(by, q) >= 0 {
					count++
				}
			}
		}
		if want := 24 * float64(count) / float64(n); !(math.Abs(got-want) <= 0.15) {
			t.Errorf("%g m2 in common, %g by count", got, want)
		}
	}
}

// By hand: what a fold is by how the planes on its left and right rise away from it, and whether it falls: a valley needs water to come and none to leave.
func TestKindOfAFold(t *testing.T) {
	east := orb.Point{1, 0}
	for _, c := range []struct {
		left, right float64 // uphill gradients to the north
		slope       float64
		want        roof.BreaklineType
	}{
		{0.02, -0.02, 0.01, roof.Valley},
		{-0.02, 0.02, 0.01, roof.Hip},
		{-0.02, 0.02, 0, roof.Ridge},
		{0.02, 0.01, 0.01, roof.GradeBreak}, // water comes from the left and leaves on the right, slower: it gathers nowhere
		{0.02, 0.01, 0, roof.GradeBreak},
		{0.01, 0.02, 0.01, roof.GradeBreak}, // and faster: it parts nowhere
		{0.01, 0.02, 0, roof.GradeBreak},
		{0.02, 0.02, 0.01, roof.GradeBreak},
		{0.02, 0, 0.01, roof.Valley},
		{0, 0.02, 0.01, roof.Hip},
	} {
		if got := kind(&Facet{DY: c.left}, &Facet{DY: c.right}, east, c.slope); got != c.want {
			t.Errorf("left %g, right %g, falling %g: %s, want %s", c.left, c.right, c.slope, got, c.want)
		}
		// The same turned to the north.
		if got := kind(&Facet{DX: -c.left}, &Facet{DX: -c.right}, orb.Point{0, 1}, c.slope); got != c.want {
			t.Errorf("to the north, left %g, right %g: %s, want %s", c.left, c.right, got, c.want)
		}
	}
}

// Turning from east to the left, turn grows from 0 to 4, with whole numbers at the quarters.
func TestTurnGrows(t *testing.T) {
	last := -1.0
	for i := range 720 {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / 720)
		if got := domain.Turn(orb.Point{3 * cos, 3 * sin}); got <= last || got < 0 || got >= 4 {
			t.Fatalf("%g after %g at step %d", got, last, i)
		} else {
			last = got
		}
	}
	for want, u := range []orb.Point{{2, 0}, {0, 3}, {-1, 0}, {0, -5}} {
		if got := domain.Turn(u); got != float64(want) {
			t.Errorf("%v: %g, want %d", u, got, want)
		}
	}
}

// A group is called by its least member, in whatever order its members were joined.
func TestUnionByTheLeast(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for range 50 {
		u, group := newUnion(40), make([]int, 40)
		for i := range group {
			group[i] = i
		}
		for range 30 {
			a, b := rnd.IntN(40), rnd.IntN(40)
			u.join(int32(a), int32(b))
			low, high := min(group[a], group[b]), max(group[a], group[b])
			for i := range group {
				if group[i] == high {
					group[i] = low
				}
			}
		}
		for i := range group {
			if int(u.of(int32(i))) != group[i] {
				t.Fatalf("%d is in group %d, want %d", i, u.of(int32(i)), group[i])
			}
		}
	}
}

// By hand.
func TestSmallGeometry(t *testing.T) {
	box := domain.Polygon{{1, 1}, {4, 1}, {4, 3}, {1, 3}}
	if a, m := vector.Area(box), domain.Middle(box); a != 6 || m != (orb.Point{2.5, 2}) {
		t.Errorf("area %g, middle %v", a, m)
	}
	for q, want := range map[orb.Point]float64{{2, 2}: 1, {1.25, 2}: 0.25, {3.5, 2.75}: 0.25, {0.5, 2}: -0.5, {2, 4}: -1} {
		if got := inside(box, q); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("%v lies %g inside, want %g", q, got, want)
		}
	}
	if got := domain.OffLine(orb.Point{2, 5}, orb.Point{0, 0}, orb.Point{3, 4}); !(math.Abs(got-7.0/5) <= 1e-12) { // |3*5-4*2|/5
		t.Errorf("off a line %g", got)
	}
	if got := domain.OffLine(orb.Point{3, 4}, orb.Point{0, 0}, orb.Point{0, 0}); got != 5 {
		t.Errorf("off a place %g", got)
	}
	for k, want := range []orb.Point{{2, 1}, {-1, 2}, {-2, -1}, {1, -2}, {2, 1}} {
		if got := vector.Quarter(orb.Point{2, 1}, k); got != want {
			t.Errorf("%d quarters: %v, want %v", k, got, want)
		}
	}
	if got := domain.Straight(domain.Polygon{{0, 0}, {1, 0}, {2, 0}, {2, 1}, {2, 2}, {1, 2}, {0, 2}}); len(got) != 4 || vector.Area(got) != 4 {
		t.Errorf("corners %v", got)
	}
	c, d := newCell(box, 0), newCell(domain.Polygon{{3.5, 2.5}, {6, 2.5}, {6, 9}}, 1)
	if c.lo != (orb.Point{1, 1}) || c.hi != (orb.Point{4, 3}) || !c.meets(&d) || !d.meets(&c) {
		t.Errorf("boxes %v to %v and %v to %v", c.lo, c.hi, d.lo, d.hi)
	}
	for _, p := range []domain.Polygon{{{4, 1}, {6, 1}, {6, 3}}, {{-1, 1}, {1, 1}, {1, 3}}, {{1, 3}, {4, 3}, {4, 5}}, {{1, -3}, {4, 1}, {1, 1}}} {
		if e := newCell(p, 0); c.meets(&e) || e.meets(&c) {
			t.Errorf("%v only touches", p)
		}
	}
}
