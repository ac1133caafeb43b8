package place_test

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/place"
)

// rectangle is 20 by 10 m with a drain at (10, 5).
func rectangle(t *testing.T) *place.Finder {
	t.Helper()
	r := level(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, 10}, orb.Point{0, 10})
	shape.Drain(r, 10, 5, 0.3).Label = "RD-1"
	return finder(t, r)
}

// What is nearer than 0.15 m is at hand; nothing farther off than 6 m is named as standing next to a place.
func TestAtHandAndInReach(t *testing.T) {
	f := rectangle(t)
	said(t, f, 10.14, 5, "at RD-1")
	said(t, f, 10.16, 5, "5.0 m from the south wall, 9.8 m from the east wall; 0.2 m east of RD-1")
	said(t, f, 4.1, 5, "4.1 m from the west wall, 5.0 m from the south wall; 5.9 m west of RD-1")
	said(t, f, 3.7, 5, "3.7 m from the west wall, 5.0 m from the south wall")
	said(t, f, 0.14, 3, "at the west wall, 3.0 m from the south wall")
	said(t, f, 0.16, 3, "0.2 m from the west wall, 3.0 m from the south wall")
	// A foot of the square way that is 20 mm outside still counts as on the roof, one 31.5 mm outside does not: 30 mm is where two places are one.
	said(t, f, -0.02, 3, "at the west wall, 3.0 m from the south wall")
	// By hand: hypot(10.0315, 2) = 10.2 m from the drain.
	said(t, f, -0.0315, 3, "10.2 m west of RD-1")
	said(t, f, 20.0315, 3, "10.2 m east of RD-1")
}

// A wall of 0.95 m is none to measure from, one of 1.05 m is: the right end of this roof leans back above a wall of that height.
func TestShortestWall(t *testing.T) {
	for _, c := range []struct {
		end  float64
		want string
	}{
		{1.05, "0.5 m from the east wall, 0.6 m from the south wall"},
		{0.95, "0.6 m from the south wall, 19.5 m from the west wall"},
	} {
		said(t, finder(t, level(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, c.end}, orb.Point{18.9, 3}, orb.Point{0, 3})), 19.5, 0.6, c.want)
	}
}

// Two walls are measured from that meet at an angle whose sine is 0.5 or more: a right triangle with legs 12 and h has the sine h / hypot(12, h) at its east
// end, 0.519 for 7.3 and 0.483 for 6.6. From (8, 0.8) the long side is nearer than the west one.
func TestAskew(t *testing.T) {
	triangle := func(h float64) *place.Finder {
		return finder(t, level(orb.Point{0, 0}, orb.Point{12, 0}, orb.Point{0, h}))
	}
	// 12 m at the angle of the long side: (12 h - 8 h - 12 x 0.8) / hypot(12, h) = 19.6 / 14.05 = 1.4.
	said(t, triangle(7.3), 8, 0.8, "0.8 m from the south wall, 1.4 m from the north-east wall")
	said(t, triangle(6.6), 8, 0.8, "0.8 m from the south wall, 8.0 m from the west wall")
}

// Walls of one name are told apart by lengths that differ by more than 0.3 m, else by where they stand: a U with arms 4 m wide and 4.28 or 4.32 m wide.
func TestSameLength(t *testing.T) {
	u := func(wide float64) *place.Finder {
		return finder(t, level(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, 12}, orb.Point{20 - wide, 12}, orb.Point{20 - wide, 4}, orb.Point{4, 4}, orb.Point{4, 12}, orb.Point{0, 12}))
	}
	said(t, u(4.28), 1.5, 11, "1.0 m from the 4.0 m long north wall in the west, 1.5 m from the 12.0 m long west wall")
	said(t, u(4.32), 1.5, 11, "1.0 m from the 4.0 m long north wall, 1.5 m from the 12.0 m long west wall")
}

// notched is a roof of 14 by 6 m whose north side is cut in by a notch that reaches down to y = 2 between x = 4 and 4.8, with sides of pieces too short and too crooked to
// measure from; turned gives each corner its place.
func notched(t *testing.T, turned func(x, y float64) orb.Point) *place.Finder {
	t.Helper()
	var ring []orb.Point
	for _, c := range [][2]float64{
		{0, 0},
		{14, 0},
		{14, 6},
		{4.8, 6},
		{4.7, 5.2},
		{4.8, 4.4},
		{4.7, 3.6},
		{4.8, 2.8},
		{4.7, 2},
		{4.1, 2},
		{4, 2.8},
		{4.1, 3.6},
		{4, 4.4},
		{4.1, 5.2},
		{4, 6},
		{0, 6},
	} {
		ring = append(ring, turned(c[0], c[1]))
	}
	area := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		area += p[0]*q[1] - q[0]*p[1]
	}
	if area < 0 { // a mirror image: its corners the other way round
		for i, k := 0, len(ring)-1; i < k; i, k = i+1, k-1 {
			ring[i], ring[k] = ring[k], ring[i]
		}
	}
	return finder(t, level(ring...))
}

// The way from (5.2, 4) to the west wall crosses the notch, so that the east wall counts, though it stands farther off; below the notch, from (5.2, 1), the west wall is reached.
// The same in the mirror and turned by quarters, in words that turn too.
func TestBlockedWay(t *testing.T) {
	for name, c := range map[string]struct {
		turned func(x, y float64) orb.Point
		words  *strings.Replacer
	}{
		"as it is":             {func(x, y float64) orb.Point { return orb.Point{x, y} }, strings.NewReplacer()},
		"mirrored":             {func(x, y float64) orb.Point { return orb.Point{50 - x, y} }, strings.NewReplacer("west", "east", "east", "west")},
		"turned by a quarter":  {func(x, y float64) orb.Point { return orb.Point{-y, x + 30} }, strings.NewReplacer("north", "west", "west", "south", "south", "east", "east", "north")},
		"turned by two":        {func(x, y float64) orb.Point { return orb.Point{40 - x, 90 - y} }, strings.NewReplacer("north", "south", "south", "north", "west", "east", "east", "west")},
		"mirrored and turned":  {func(x, y float64) orb.Point { return orb.Point{y, x} }, strings.NewReplacer("north", "east", "east", "north", "west", "south", "south", "west")},
		"shifted by far, west": {func(x, y float64) orb.Point { return orb.Point{x - 1000, y + 3000} }, strings.NewReplacer()},
	} {
		t.Run(name, func(t *testing.T) {
			f := notched(t, c.turned)
			for _, p := range []struct {
				x, y float64
				want string
			}{
				{5.2, 4, "2.0 m from the 9.2 m long north wall, 8.8 m from the east wall"},
				{5.2, 1, "1.0 m from the south wall, 5.2 m from the west wall"},
				{3.6, 4.5, "1.5 m from the 4.0 m long north wall, 3.6 m from the west wall"},
				{4.4, 0.5, "0.5 m from the south wall, 4.4 m from the west wall"},
			} {
				at := c.turned(p.x, p.y)
				said(t, f, at[0], at[1], c.words.Replace(p.want))
			}
		})
	}
}

// Where a roof lies on its grid tells nothing: the same words for the same places of an L, a U and a lozenge 700 m east and 3000 m south.
func TestShifted(t *testing.T) {
	for name, corners := range map[string][]orb.Point{
		"L":       {{0, 0}, {20, 0}, {20, 6}, {8, 6}, {8, 15}, {0, 15}},
		"U":       {{0, 0}, {20, 0}, {20, 12}, {16, 12}, {16, 4}, {4, 4}, {4, 12}, {0, 12}},
		"C":       {{0, 0}, {12, 0}, {12, 4}, {4, 4}, {4, 16}, {12, 16}, {12, 20}, {0, 20}},
		"lozenge": {{-20, 0}, {0, -1}, {20, 0}, {0, 1}},
	} {
		t.Run(name, func(t *testing.T) {
			moved := make([]orb.Point, len(corners))
			for i, c := range corners {
				moved[i] = orb.Point{c[0] + 700, c[1] - 3000}
			}
			here, there := level(corners...), level(moved...)
			f, g := finder(t, here), finder(t, there)
			for x := -16.0; x <= 19; x += 3.5 {
				for y := -0.1; y < 20; y += 1.7 {
					if want, got := plain(f.Of(orb.Point{x, y})), plain(g.Of(orb.Point{x + 700, y - 3000})); got != want {
						t.Errorf("(%g, %g): %q here, %q there", x, y, want, got)
					}
				}
			}
		})
	}
}

// A C whose two ends are alike: their east walls are told apart by north and south, wherever it lies.
func TestC(t *testing.T) {
	f := finder(t, level(orb.Point{30, -50}, orb.Point{42, -50}, orb.Point{42, -46}, orb.Point{34, -46}, orb.Point{34, -34}, orb.Point{42, -34}, orb.Point{42, -30}, orb.Point{30, -30}))
	said(t, f, 41, -48.5, "1.0 m from the 4.0 m long east wall in the south, 1.5 m from the 12.0 m long south wall")
	said(t, f, 41, -31.5, "1.0 m from the 4.0 m long east wall in the north, 1.5 m from the 12.0 m long north wall")
}

// An octagon of 0.77 m a side has no wall to measure from: its westernmost corner counts, (-1, 0).
func TestSmallAndRound(t *testing.T) {
	const h = 0.70710678
	f := finder(t, level(orb.Point{1, 0}, orb.Point{h, h}, orb.Point{0, 1}, orb.Point{-h, h}, orb.Point{-1, 0}, orb.Point{-h, -h}, orb.Point{0, -1}, orb.Point{h, -h}))
	said(t, f, 0.5, 0, "1.5 m east of the roof's west end")
	said(t, f, -1, 0.5, "0.5 m north of the roof's west end")
}

// Beyond the end of a wall, by more than 30 mm, nothing is measured from it. The west wall ends at y = 3; a spot at y = 3.02, which rounding put there, is still before it, one at 3.04 is not.
func TestBeyondTheEndOfAWall(t *testing.T) {
	f := finder(t, level(orb.Point{0, 0}, orb.Point{20, 0}, orb.Point{20, 6}, orb.Point{8, 6}, orb.Point{8, 3}, orb.Point{0, 3}))
	said(t, f, 7.5, 3.02, "at the 8.0 m long north wall, 7.5 m from the 3.0 m long west wall in the west")
	said(t, f, 7.5, 3.04, "on the roof") // off it, where nothing is reached square
}
