package catchment

import (
	"testing"

	"github.com/paulmach/orb"
)

// By hand: a hole lies in the smallest ring round it; not in one beside it whose box holds it, nor in one that its longest side's middle alone lies in.
func TestHolesAreNested(t *testing.T) {
	box := func(x0, y0, x1, y1 float64) orb.Ring {
		return orb.Ring{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}
	}
	hole := func(x0, y0, x1, y1 float64) orb.Ring {
		return orb.Ring{{x0, y0}, {x0, y1}, {x1, y1}, {x1, y0}, {x0, y0}}
	}
	angle := orb.Ring{{0, 0}, {20, 0}, {20, 2}, {2, 2}, {2, 20}, {0, 20}, {0, 0}} // an L: its box holds what stands in its corner
	for _, c := range []struct {
		name string
		out  []orb.Ring
		hole orb.Ring
		in   int // of those, -1 for none
	}{
		{"in the inner one", []orb.Ring{box(0, 0, 10, 10), box(2, 2, 8, 8)}, hole(3, 3, 5, 5), 1},
		{"in the outer one", []orb.Ring{box(0, 0, 10, 10), box(2, 2, 8, 8)}, hole(0.5, 0.5, 1.5, 1.5), 0},
		{"in the corner of an L", []orb.Ring{angle}, hole(5, 5, 6, 6), -1},
		{"out of all", []orb.Ring{box(0, 0, 10, 10)}, hole(11, 1, 12, 2), -1},
		{"half out", []orb.Ring{box(0, 0, 10, 10)}, hole(-3, 4, 9, 5), -1},
	} {
		m := nest(append(append([]orb.Ring(nil), c.out...), c.hole))
		if len(m) != len(c.out) {
			t.Fatalf("%s: %d polygons", c.name, len(m))
		}
		for _, p := range m {
			own := false
			for i, r := range c.out {
				own = own || i == c.in && r[0] == p[0][0] && r[2] == p[0][2]
			}
			if (len(p) == 2) != own {
				t.Errorf("%s: %v has %d holes", c.name, p[0], len(p)-1)
			}
		}
	}
}
