package geodesic

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/queue"
)

// By hand: the segment from (10, 20) to (13, 24), by 3, 4 and 5, and half of it: beside it the foot counts, beyond its ends they do.
func TestToSegment(t *testing.T) {
	a := orb.Point{10, 20}
	for _, c := range []struct{ s, b, want orb.Point }{
		{orb.Point{10 + 1.8 - 1.6, 20 + 2.4 + 1.2}, orb.Point{13, 24}, orb.Point{11.8, 22.4}},      // 3 m along it and 2 m to its left
		{orb.Point{10 + 0.3 + 0.8, 20 + 0.4 - 0.6}, orb.Point{10.45, 20.6}, orb.Point{10.3, 20.4}}, // 0.5 m along one of 0.75 m and 1 m to its right
		{orb.Point{9, 18}, orb.Point{13, 24}, a},
		{orb.Point{14, 26}, orb.Point{13, 24}, orb.Point{13, 24}},
		{orb.Point{14, 26}, a, a},
		{orb.Point{10.9, 21.2}, orb.Point{13, 24}, orb.Point{10.9, 21.2}},
	} {
		if got, want := toSegment(c.s, a, c.b), math.Hypot(c.s[0]-c.want[0], c.s[1]-c.want[1]); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("from %v to the segment to %v: %g, want %g", c.s, c.b, got, want)
		}
	}
}

// A line from a source through a place meets an edge at a part of its length, also beyond its ends and also where the place lies before the edge; side by side they meet nowhere.
func TestMeets(t *testing.T) {
	a, b := orb.Point{2, 1}, orb.Point{10, 1}
	for _, c := range []struct {
		s, q orb.Point
		want float64
	}{
		{orb.Point{4, -1}, orb.Point{4, 5}, 0.25},
		{orb.Point{4, -1}, orb.Point{5, 0}, 0.5},
		{orb.Point{6, 5}, orb.Point{6, 3}, 0.5},
		{orb.Point{0, -1}, orb.Point{1, 0}, 0},
		{orb.Point{8, -1}, orb.Point{12, 3}, 1},
		{orb.Point{0, 0}, orb.Point{-1, 1}, -3. / 8},
		{orb.Point{10, 0}, orb.Point{12, 1}, 1.25},
	} {
		if got := meets(c.s, c.q, a, b); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("from %v through %v: %g, want %g", c.s, c.q, got, c.want)
		}
	}
	if got := meets(orb.Point{0, 0}, orb.Point{1, 0}, a, b); got >= 0 && got <= 1 {
		t.Errorf("side by side they meet at %g", got)
	}
}

// A source at (4, -1) shines through the window from a quarter to a half of the edge from (2, 1) to (10, 1), its ends too: at y = 3 that is from x = 4 to 8. A corner of the triangle at hand, and the source itself, are seen from anywhere.
func TestShines(t *testing.T) {
	l := &light{from: orb.Point{4, -1}, corner: -1, a: orb.Point{2, 1}, b: orb.Point{10, 1}, t0: 0.25, t1: 0.5}
	for p, want := range map[orb.Point]bool{{4, 3}: true, {8, 3}: true, {6, 3}: true, {3.99, 3}: false, {8.01, 3}: false, {5, 1}: true, {6.01, 1}: false, {3.99, 1}: false, {4, -1}: true, {4, 0}: true} {
		if got := l.shines(p); got != want {
			t.Errorf("%v is lit: %v", p, got)
		}
	}
	l.corner = 3
	if !l.shines(orb.Point{-50, 7}) {
		t.Error("a corner is not seen")
	}
}

// A window comes before a vertex of its distance, an earlier window before a later one, and a vertex of a lesser number before one of a greater.
func TestQueueInOrder(t *testing.T) {
	want := []queue.Item{{Key: 1, ID: 9}, {Key: 2, ID: firstWindow + 3}, {Key: 2, ID: firstWindow + 4}, {Key: 2, ID: 5}, {Key: 2, ID: 6}, {Key: 3, ID: firstWindow}}
	r := rand.New(rand.NewPCG(7, 7))
	for range 50 {
		var q queue.Queue
		for _, i := range r.Perm(len(want)) {
			q.Push(want[i].Key, want[i].ID)
		}
		for _, w := range want {
			if key, id := q.Pop(); key != w.Key || id != w.ID {
				t.Fatalf("%g, %d, want %+v", key, id, w)
			}
		}
	}
}
