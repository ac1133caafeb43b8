package vector_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// By hand, on the triangle of 3, 4 and 5.
func TestLengths(t *testing.T) {
	a, b := orb.Point{1, 2}, orb.Point{4, -2}
	for name, got := range map[string]float64{
		"norm": vector.Norm(-3, 4), "length": vector.Length(orb.Point{4, 3}), "distance": vector.Distance(a, b), "back": vector.Distance(b, a),
	} {
		if got != 5 {
			t.Errorf("%s: %v, not 5", name, got)
		}
	}
	if got := vector.Minus(b, a); got != (orb.Point{3, -4}) {
		t.Errorf("b - a is %v", got)
	}
	if dot, cross := vector.Dot(a, b), vector.Cross(a, b); dot != 0 || cross != -10 {
		t.Errorf("dot %v, cross %v", dot, cross)
	}
	if got := vector.Along(a, b, 0.25); got != (orb.Point{1.75, 1}) {
		t.Errorf("a quarter of the way is %v", got)
	}
}

// By hand: an L of 4 by 3 without its corner of 2 by 2; far from the origin, open and closed, both ways round.
func TestAreaOfAnL(t *testing.T) {
	ring := []orb.Point{{0, 0}, {4, 0}, {4, 1}, {2, 1}, {2, 3}, {0, 3}}
	for i := range ring {
		ring[i] = vector.Minus(ring[i], orb.Point{-1 << 20, -1 << 21})
	}
	closed := slices.Concat(ring, ring[:1])
	back := make([]orb.Point, 0, 7)
	for i := range closed {
		back = append(back, closed[6-i])
	}
	if a, b, c := vector.Area(ring), vector.Area(closed), vector.Area(back); a != 8 || b != 8 || c != -8 {
		t.Errorf("areas %v, %v, %v; not 8, 8, -8", a, b, c)
	}
	if got := vector.Area(ring[:2]); got != 0 {
		t.Errorf("two corners have an area of %v", got)
	}
}

// By hand: a line with a corner, and places before its beginning, beside it, at the corner and off its end.
func TestNearestPlaces(t *testing.T) {
	line := []orb.Point{{0, 0}, {4, 0}, {4, 0}, {4, 4}}
	for p, want := range map[orb.Point]orb.Point{{-3, 4}: {0, 0}, {1, -2}: {1, 0}, {7, -4}: {4, 0}, {3, 3}: {4, 3}, {4, 9}: {4, 4}} {
		if at := vector.Nearest(line, p); at != want {
			t.Errorf("nearest to %v: %v, not %v", p, at, want)
		}
	}
	if at := vector.Nearest(line[:1], orb.Point{3, 4}); at != line[0] {
		t.Errorf("one point: %v", at)
	}
	if at := vector.Nearest(nil, orb.Point{3, 4}); at != (orb.Point{3, 4}) {
		t.Errorf("no line: %v", at)
	}
	if got := vector.Foot(line[1], line[2], orb.Point{9, 9}); got != 0 {
		t.Errorf("the foot on no stretch is %v", got)
	}
}

// A direction reads alike as a vector and as a bearing, and the words change 22.5 degrees to either side of each point.
func TestCompass(t *testing.T) {
	for k, want := range []string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"} {
		for _, off := range []float64{-22, -1, 0, 1, 22} {
			degrees := 45*float64(k) + off
			sin, cos := math.Sincos(degrees * math.Pi / 180)
			for _, got := range []string{vector.Compass(3*sin, 3*cos), vector.CompassAt(degrees), vector.CompassAt(degrees - 360), vector.CompassAt(degrees + 360)} {
				if got != want {
					t.Errorf("%v degrees: %s, not %s", degrees, got, want)
				}
			}
		}
	}
}

// By hand: sums, multiples, quarter turns, unit vectors and twice the area of a triangle that has no corner at the origin and no side along an axis.
func TestArithmetic(t *testing.T) {
	a, b, c := orb.Point{1, 7}, orb.Point{4, 9}, orb.Point{3, 12}
	for name, pair := range map[string][2]orb.Point{
		"a + b":                      {vector.Plus(a, b), {5, 16}},
		"2 a":                        {vector.Scaled(a, 2), {2, 14}},
		"3 c":                        {vector.Scaled(c, 3), {9, 36}},
		"-a/2":                       {vector.Scaled(a, -0.5), {-0.5, -3.5}},
		"a turned by none":           {vector.Quarter(a, 0), a},
		"a turned by one quarter":    {vector.Quarter(a, 1), {-7, 1}},
		"a turned by two quarters":   {vector.Quarter(a, 2), {-1, -7}},
		"a turned by three quarters": {vector.Quarter(a, 3), {7, -1}},
		"a unit vector":              {vector.Unit(orb.Point{-6, 8}), {-0.6, 0.8}},
		"one of a short vector":      {vector.Unit(orb.Point{0, -1e-9}), {0, -1}},
		"one of length 1":            {vector.Unit(orb.Point{0, -1}), {0, -1}},
		"one of no length":           {vector.Unit(orb.Point{}), {1, 0}},
	} {
		if !(vector.Distance(pair[0], pair[1]) <= 1e-15) {
			t.Errorf("%s is %v, not %v", name, pair[0], pair[1])
		}
	}
	// b - a is (3, 2) and c - a is (2, 5): 3 x 5 - 2 x 2.
	if ccw, cw := vector.Turn(a, b, c), vector.Turn(a, c, b); ccw != 11 || cw != -11 {
		t.Errorf("the turn is %v and back %v, not 11 and -11", ccw, cw)
	}
	if dot, cross := vector.Dot(a, c), vector.Cross(a, c); dot != 87 || cross != 12-21 {
		t.Errorf("dot %v, cross %v, not 87 and -9", dot, cross)
	}
}

// No direction is called east; short ones have the words of long ones.
func TestCompassOfShortAndNone(t *testing.T) {
	for v, want := range map[orb.Point]string{{}: "east", {0, 0.5}: "north", {0, -0.5}: "south", {-0.2, 0.2}: "north-west", {0.2, -0.2}: "south-east", {-1e-9, 0}: "west", {0.3, 0.3}: "north-east"} {
		if got := vector.Compass(v[0], v[1]); got != want {
			t.Errorf("%v is called %s, not %s", v, got, want)
		}
	}
}
