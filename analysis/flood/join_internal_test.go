package flood

import (
	"testing"

	"github.com/paulmach/orb"
)

// box is a closed square, counter-clockwise, or clockwise where from lies beyond to.
func box(from, to float64) orb.Ring {
	if from < to {
		return orb.Ring{{from, from}, {to, from}, {to, to}, {from, to}, {from, from}}
	}
	return orb.Ring{{to, to}, {to, from}, {from, from}, {from, to}, {to, to}}
}

// A hole belongs where most of its corners lie: of four that is three, not two. Corners on the border lie in it.
func TestWithin(t *testing.T) {
	r := box(0, 4)
	for _, c := range []struct {
		name string
		h    orb.Ring
		want bool
	}{
		{"all four inside", orb.Ring{{1, 1}, {1, 2}, {2, 2}, {2, 1}, {1, 1}}, true},
		{"three inside", orb.Ring{{1, 1}, {1, 2}, {5, 2}, {2, 1}, {1, 1}}, true},
		{"two inside", orb.Ring{{1, 1}, {1, 2}, {5, 2}, {5, 1}, {1, 1}}, false},
		{"one inside", orb.Ring{{1, 1}, {1, 5}, {5, 5}, {5, 1}, {1, 1}}, false},
		{"none inside", orb.Ring{{6, 1}, {6, 5}, {8, 5}, {8, 1}, {6, 1}}, false},
		{"its own corners", r, true},
	} {
		if got := within(r, c.h); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// Water round an island with a pond on it: the outer water has the hole in which the island stands, and the pond the hole of what rises out of it. An L whose box
// holds both holes, and which is smaller than the outer water, gets neither. In whatever order the rings come.
func TestNest(t *testing.T) {
	sea, island, pond, rock := box(0, 20), box(15, 5), box(8, 12), box(11, 9)
	ell := orb.Ring{{1, 1}, {18, 1}, {18, 2}, {2, 2}, {2, 18}, {1, 18}, {1, 1}}
	for _, rings := range [][]orb.Ring{{sea, island, pond, rock, ell}, {ell, rock, pond, island, sea}, {pond, rock, ell, sea, island}, {rock, ell, island, sea, pond}} {
		holes := map[orb.Point]orb.Ring{}
		out := nest(rings)
		for _, p := range out {
			if len(p) > 2 {
				t.Errorf("the water about %v has %d holes", p[0][0], len(p)-1)
			}
			for _, h := range p[1:] {
				holes[p[0][0]] = h
			}
		}
		if len(out) != 3 || !holes[sea[0]].Equal(island) || !holes[pond[0]].Equal(rock) || len(holes[ell[0]]) != 0 {
			t.Errorf("%d polygons, %v", len(out), holes)
		}
	}
	if out := nest([]orb.Ring{pond, island}); len(out) != 1 || len(out[0]) != 1 {
		t.Errorf("a hole that stands round the water and not in it: %v", out)
	}
}
