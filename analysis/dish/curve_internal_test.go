package dish

import (
	"testing"

	"github.com/paulmach/orb"
)

// By hand, each way round and with x and y changed: stretches that cross, touch at an end or lie on each other meet; those apart on one line, beside each
// other, or in reach of each other's line alone do not.
func TestMeet(t *testing.T) {
	for _, c := range []struct {
		name       string
		a, b, c, d orb.Point
		want       bool
	}{
		{"a cross", orb.Point{0, 0}, orb.Point{4, 4}, orb.Point{0, 4}, orb.Point{4, 0}, true},
		{"a foot on a wall", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{2, 0}, orb.Point{2, 3}, true},
		{"on each other", orb.Point{0, 0}, orb.Point{4, 2}, orb.Point{2, 1}, orb.Point{6, 3}, true},
		{"apart on one line", orb.Point{0, 0}, orb.Point{2, 1}, orb.Point{4, 2}, orb.Point{6, 3}, false},
		{"apart on a level line", orb.Point{0, 1}, orb.Point{2, 1}, orb.Point{3, 1}, orb.Point{6, 1}, false},
		{"beside each other", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{0, 1}, orb.Point{4, 1}, false},
		{"short of the line", orb.Point{0, 0}, orb.Point{4, 0}, orb.Point{2, 1}, orb.Point{2, 3}, false},
		{"short of a slanted line", orb.Point{0, 0}, orb.Point{4, 4}, orb.Point{4, 1}, orb.Point{2.4, 1.8}, false},
		{"the same, a tenth as long", orb.Point{0, 0}, orb.Point{0.4, 0.4}, orb.Point{0.4, 0.1}, orb.Point{0.24, 0.18}, false},
	} {
		turned := func(p orb.Point) orb.Point { return orb.Point{p[1], p[0]} }
		for _, got := range []bool{
			meet(c.a, c.b, c.c, c.d), meet(c.b, c.a, c.c, c.d), meet(c.c, c.d, c.a, c.b), meet(c.d, c.c, c.b, c.a),
			meet(turned(c.a), turned(c.b), turned(c.c), turned(c.d)),
		} {
			if got != c.want {
				t.Errorf("%s: %v", c.name, got)
			}
		}
	}
}
