package traverse_test

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/traverse"
)

// turned turns legs to the left by the angle whose sine is sin and cosine cos, or mirrors them first.
func turned(legs []traverse.Leg, sin, cos float64, mirror bool) []traverse.Leg {
	out := slices.Clone(legs)
	for i := range out {
		e, n := out[i].East, out[i].North
		if mirror {
			e = -e
		}
		out[i].East, out[i].North = cos*e-sin*n, sin*e+cos*n
	}
	return out
}

// Slips of lengths and directions are the same ones however the roof is turned, by quarters, by eighths and by the angle of 3, 4 and 5, and in its mirror image. A wall that
// is left out is told where it runs along a point of the compass, which a roof by 3, 4 and 5 has none of.
func TestSlipsTurnWithTheRoof(t *testing.T) {
	root := math.Sqrt2 / 2
	for name, walls := range map[string][]any{
		"a foot":           {"E", 121.0, "N", 60.0, "W", 40.0, "S", 10.0, "W", 80.0, "S", 50.0},
		"left out":         {"E", 120.0, "N", 60.0, "W", 40.0, "W", 80.0, "S", 50.0},
		"said twice":       {"E", 120.0, "N", 60.0, "W", 40.0, "W", 40.0, "S", 10.0, "W", 80.0, "S", 50.0},
		"the first twice":  {"E", 120.0, "N", 60.0, "W", 120.0, "S", 60.0, "E", 120.0},
		"backward":         {"E", 120.0, "N", 60.0, "W", 40.0, "N", 10.0, "W", 80.0, "S", 50.0},
		"transposed":       {"E", 48.0, "N", 30.0, "W", 84.0, "S", 30.0},
		"the last is gone": {"E", 120.0, "N", 60.0, "W", 120.0},
	} {
		plain := legs(walls...)
		want := traverse.Slips(plain, traverse.Close(plain), quantity.Foot)
		if len(want) == 0 {
			t.Errorf("%s: no slip", name)
		}
		for _, c := range []struct {
			sin, cos float64
			mirror   bool
		}{{1, 0, false}, {0, -1, false}, {-1, 0, false}, {0, 1, true}, {root, root, false}, {root, -root, true}, {0.6, 0.8, false}, {0.8, -0.6, true}} {
			l := turned(plain, c.sin, c.cos, c.mirror)
			got := traverse.Slips(l, traverse.Close(l), quantity.Foot)
			i := 0
			for _, w := range want {
				if w.Kind == traverse.LeftOut && math.Abs(c.sin*c.cos) == 0.48 {
					continue
				}
				if i >= len(got) || got[i].Kind != w.Kind || got[i].Leg != w.Leg || !(math.Abs(float64(got[i].Want-w.Want)) <= 1e-9) {
					t.Errorf("%s, turned by %+v: %+v, want %+v", name, c, got, want)
					break
				}
				i++
			}
			if i != len(got) {
				t.Errorf("%s, turned by %+v: %d slips, want %d", name, c, len(got), i)
			}
		}
	}
}

// By hand: a rectangle of 120 by 60 ft without its last wall lacks 60 ft to the south, square to its neighbours in the list: the first and the third; so it belongs at the end. Of an L whose first wall is gone the
// walls round the gap run north and south, and it belongs at the end of the list, which is before the first.
func TestWhereAWallIsMissing(t *testing.T) {
	for _, c := range []struct {
		name        string
		walls       []any
		leg         int
		want        float64 // ft
		east, north float64
	}{
		{"the last", []any{"E", 120.0, "N", 60.0, "W", 120.0}, 3, 60, 0, -1},
		{"the first", []any{"N", 60.0, "W", 40.0, "S", 10.0, "W", 80.0, "S", 50.0}, 5, 120, 1, 0},
		{"the second", []any{"E", 120.0, "W", 120.0, "S", 60.0}, 1, 60, 0, 1},
	} {
		l := legs(c.walls...)
		found := false
		for _, s := range traverse.Slips(l, traverse.Close(l), quantity.Foot) {
			if s.Kind != traverse.LeftOut {
				continue
			}
			for _, k := range []int{s.Leg - 1, s.Leg % len(l)} {
				if cos := l[k].East*s.East + l[k].North*s.North; !(math.Abs(cos) <= 1e-12) {
					t.Errorf("%s: a wall before the %dth is not square to its neighbours", c.name, s.Leg)
				}
			}
			if s.Leg == c.leg {
				found = math.Abs(float64(s.Want/quantity.Foot)-c.want) <= 1e-9 && math.Abs(s.East-c.east) <= 1e-12 && math.Abs(s.North-c.north) <= 1e-12
			}
		}
		if !found {
			t.Errorf("%s: %+v", c.name, traverse.Slips(l, traverse.Close(l), quantity.Foot))
		}
	}
}

// A missing wall runs along one of the eight points of the compass, to 2 degrees: of walls east, north and back by a direction off the west, what is missing is 100 ft at that angle to the south.
func TestMissingWallsRunByTheCompass(t *testing.T) {
	for degrees, told := range map[float64]bool{0: true, 1.9: true, 2.2: false, 20: false, 43.1: true, 45: true, 46.9: true, 42.5: false, 47.5: false, 88.1: true, 87.5: false, 90: true} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		// The wall that is gone runs along (sin, -cos); the two beside it stand square to it.
		l := []traverse.Leg{
			{East: cos, North: sin, Length: 200 * quantity.Foot}, {East: -sin, North: cos, Length: 100 * quantity.Foot}, {East: -cos, North: -sin, Length: 200 * quantity.Foot},
		}
		got := false
		for _, s := range traverse.Slips(l, traverse.Close(l), quantity.Foot) {
			got = got || s.Kind == traverse.LeftOut && s.Leg == 3 && math.Abs(s.East-sin) <= 1e-9 && math.Abs(s.North+cos) <= 1e-9
		}
		if got != told {
			t.Errorf("%g degrees off the south: told %v", degrees, got)
		}
	}
}

// A missing wall stands square to both of its neighbours, to a cosine of 0.1: 5.74 degrees. By hand: of three walls of a rectangle of 200 by 60 ft the third leans in by so many degrees, and ends straight above the beginning.
func TestSquareToItsNeighbours(t *testing.T) {
	for degrees, told := range map[float64]bool{0: true, 5.6: true, 5.9: false, -5.6: true, -5.9: false} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		l := legs("E", 200.0, "N", 60.0, "W", 200.0/cos)
		l[2].East, l[2].North = -cos, sin
		got := false
		for _, s := range traverse.Slips(l, traverse.Close(l), quantity.Foot) {
			got = got || s.Kind == traverse.LeftOut && s.Leg == 3
		}
		if got != told {
			t.Errorf("%g degrees: told %v", degrees, got)
		}
	}
}

// In feet the digits of whole feet change places and the rest stays: 84.5 for 48.5. In metres with decimals they change over the point too: 21.34 for 12.34, 13.24, 12.43. Equal neighbours and the last
// digit change with nothing.
func TestWhichDigitsChangePlaces(t *testing.T) {
	for _, c := range []struct {
		unit   quantity.Length
		wrong  float64
		right  float64
		transp bool
	}{
		{quantity.Foot, 84.5, 48.5, true},
		{quantity.Foot, 132, 123, true},
		{quantity.Foot, 123, 321, false},
		{quantity.Metre, 12.34, 21.34, true},
		{quantity.Metre, 12.34, 13.24, true},
		{quantity.Metre, 12.34, 12.43, true},
		{quantity.Metre, 12.34, 12.52, false},
		{quantity.Metre, 12.34, 123.4, false}, // the point is no digit
		{quantity.Metre, 12.01, 10.21, true},
		{quantity.Foot, 12.34, 13.24, false},
		{quantity.Metre, 48, 84, true},
		{quantity.Metre, 2.1, 1.2, true},
	} {
		l := legs("E", 1.0, "N", 1.0, "W", 1.0, "S", 1.0)
		for i, n := range []float64{c.wrong, 30, c.right, 30} {
			l[i].Length = quantity.Length(n) * c.unit
		}
		got := false
		for _, s := range traverse.Slips(l, traverse.Close(l), c.unit) {
			got = got || s.Kind == traverse.Transposed && s.Leg == 0 && math.Abs(float64(s.Want/c.unit)-c.right) <= 1e-6
		}
		if got != c.transp {
			t.Errorf("%g for %g: transposed %v, %+v", c.wrong, c.right, got, traverse.Slips(l, traverse.Close(l), c.unit))
		}
	}
}

// Walls said twice are alike to the inch and run alike: of 40 ft after 40 ft and half an inch one is too many; after 40 ft and two inches it is another wall, as it is where the second runs across the first.
func TestSaidTwiceToTheInch(t *testing.T) {
	for inches, twice := range map[float64]bool{0: true, 0.5: true, 0.99: true, 2: false} {
		l := legs("E", 120.0, "N", 60.0, "W", 40.0, "W", 40.0+inches/12, "W", 80.0, "S", 60.0)
		got := false
		for _, s := range traverse.Slips(l, traverse.Close(l), quantity.Foot) {
			got = got || s.Kind == traverse.SaidTwice && s.Leg == 3
		}
		if got != twice {
			t.Errorf("%g in more: said twice %v", inches, got)
		}
	}
}

// What is allowed is still allowed: walls of 3 m too far east and 4 m too far north close where 5 m are, and nothing is left out. Where they end 4 m east and 4 m north of their beginning one said a metre too long explains it. A wall is never said to be none: by hand, one of 1 m that is half a metre too long.
func TestJustAllowed(t *testing.T) {
	c := traverse.Closure{East: 3, North: 4, Allowed: 5}
	if !c.Within() {
		t.Error("5 m are more than 5 m")
	}
	l := legs("E", 100.0, "N", 60.0, "W", 100.0)
	for _, s := range traverse.Slips(l, traverse.Closure{North: 5, Allowed: 5}, quantity.Metre) {
		if s.Kind == traverse.LeftOut {
			t.Errorf("%+v though all close", s)
		}
	}
	told := false
	for _, s := range traverse.Slips(l, traverse.Closure{East: 4, North: 4, Allowed: 5}, quantity.Metre) {
		told = told || s.Kind == traverse.Unit && s.Leg == 0
	}
	if !told {
		t.Error("a metre less leaves 5 m, and is not told")
	}
	l[0].Length = 1
	for _, s := range traverse.Slips(l, traverse.Closure{East: 0.5, Allowed: 0.6}, quantity.Metre) {
		if s.Leg == 0 && s.Kind != traverse.LeftOut && s.Want <= 0 {
			t.Errorf("%+v", s)
		}
	}
}
