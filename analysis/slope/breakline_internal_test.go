package slope

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/roof"
)

// An edge follows the breakline that lies within 10 cm of its middle and turns off it by no more over its length; the nearest of several, the first of equals.
func TestEdgeFollowsTheNearestBreakline(t *testing.T) {
	line := func(p ...orb.Point) roof.Breakline {
		b := roof.Breakline{}
		for _, q := range p {
			b.Line = append(b.Line, roof.Position{Plan: q})
		}
		return b
	}
	l := newLocator([]roof.Breakline{line(orb.Point{0, 0}, orb.Point{10, 0}, orb.Point{10, 8}), line(orb.Point{0, 0.15}, orb.Point{10, 0.15}), line(orb.Point{0, 0}, orb.Point{10, 0})})
	for _, c := range []struct {
		a, b orb.Point
		want int
	}{
		{orb.Point{2, 0}, orb.Point{4, 0}, 0},
		{orb.Point{2, 0.15}, orb.Point{4, 0.15}, 1},
		{orb.Point{2, 0.07}, orb.Point{4, 0.07}, 0},
		{orb.Point{2, 0.08}, orb.Point{4, 0.08}, 1},
		{orb.Point{2, -0.095}, orb.Point{4, -0.095}, 0},
		{orb.Point{2, -0.105}, orb.Point{4, -0.105}, -1},
		{orb.Point{2, 0.245}, orb.Point{4, 0.245}, 1},
		{orb.Point{2, 0.255}, orb.Point{4, 0.255}, -1},
		{orb.Point{10, 3}, orb.Point{10, 5}, 0},
		{orb.Point{9.8, 3}, orb.Point{10.2, 5}, -1},
		{orb.Point{9.95, 3}, orb.Point{10.05, 5}, 0},
		{orb.Point{9.875, 3}, orb.Point{10.125, 5}, -1}, // its ends lie 125 mm off
		{orb.Point{9.905, 3}, orb.Point{10.095, 5}, 0},
		{orb.Point{5, 5}, orb.Point{6, 5}, -1},
		{orb.Point{-5, 0}, orb.Point{-4, 0}, -1},
	} {
		if got := l.find(c.a, c.b); got != c.want {
			t.Errorf("%v to %v follows %d, want %d", c.a, c.b, got, c.want)
		}
	}
	if newLocator(nil).find(orb.Point{}, orb.Point{1, 0}) != -1 {
		t.Error("an edge follows a breakline that there is not")
	}
	random := rand.New(rand.NewPCG(3, 5))
	at := func() orb.Point { return orb.Point{20*random.Float64() - 5, 20*random.Float64() - 5} }
	for range 1000 { // distances against another library's
		s, p := segment{a: at(), b: at()}, at()
		if got, want := s.distance(p), planar.DistanceFromSegment(s.a, s.b, p); !(math.Abs(got-want) <= 1e-9) {
			t.Fatalf("%v from %v to %v: %g, want %g", p, s.a, s.b, got, want)
		}
	}
}
