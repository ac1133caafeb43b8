package offset_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/offset"
)

// lRing is an L of 120 by 60 with 80 by 10 cut off its north-west corner.
var lRing = orb.Ring{{0, 0}, {120, 0}, {120, 60}, {80, 60}, {80, 50}, {0, 50}, {0, 0}}

func TestWallsFaceOutward(t *testing.T) {
	walls := offset.Walls(lRing, false)
	for i, want := range []string{"south", "east", "north", "west", "north", "west"} {
		if got := offset.Names[walls[i].Faces]; got != want {
			t.Errorf("wall %d faces %s, want %s", i+1, got, want)
		}
	}
	if got := offset.Facing(walls, 6); len(got) != 2 || got[0].Number != 4 || got[1].Number != 6 {
		t.Errorf("west walls %+v", got)
	}
	// taped clockwise from the same corner, the first wall is that in the west
	walls = offset.Walls(lRing, true)
	for i, want := range []string{"west", "north", "west", "north", "east", "south"} {
		if got := offset.Names[walls[i].Faces]; got != want {
			t.Errorf("clockwise: wall %d faces %s, want %s", i+1, got, want)
		}
	}
	if walls[0].Length != 50 || walls[5].Length != 120 {
		t.Errorf("lengths %g and %g", walls[0].Length, walls[5].Length)
	}
}

func TestTwoOffsetsGiveAPlace(t *testing.T) {
	walls := offset.Walls(lRing, false)
	for _, tt := range []struct {
		a        int
		fromA    float64
		b        int
		fromB    float64
		want     orb.Point
		possible bool
	}{
		{5, 12, 0, 30, orb.Point{12, 30}, true},
		{3, 8, 2, 5, orb.Point{88, 55}, true}, // from the wall of the step
		{1, 8, 4, 5, orb.Point{112, 45}, true},
		{5, 12, 3, 8, orb.Point{}, false}, // both run north and south
	} {
		got, ok := offset.At(&walls[tt.a], tt.fromA, &walls[tt.b], tt.fromB)
		if ok != tt.possible || ok && (!(math.Abs(got[0]-tt.want[0]) <= 1e-9) || !(math.Abs(got[1]-tt.want[1]) <= 1e-9)) {
			t.Errorf("%g from wall %d, %g from wall %d: %v %v", tt.fromA, tt.a+1, tt.fromB, tt.b+1, got, ok)
		}
	}
	// a wall at 45 degrees: 10 from the line x + y = 100 on the side of the origin, 20 from the south wall
	slanted := offset.Walls(orb.Ring{{0, 0}, {100, 0}, {0, 100}, {0, 0}}, false)
	got, ok := offset.At(&slanted[1], 10, &slanted[0], 20)
	if want := 80 - 10*math.Sqrt2; !ok || !(math.Abs(got[0]-want) <= 1e-9) || !(math.Abs(got[1]-20) <= 1e-9) {
		t.Errorf("slanted: %v", got)
	}
	if turned, ok := offset.At(&slanted[0], 20, &slanted[1], 10); !ok || turned != got {
		t.Errorf("slanted, the other way round: %v", turned)
	}
}

func TestNearestWallsAreThoseThatAPlaceStandsBefore(t *testing.T) {
	walls := offset.Walls(lRing, false)
	a, b, ok := offset.Nearest(walls, orb.Point{88, 55})
	if !ok || a.Number != 3 || b.Number != 4 {
		t.Errorf("%+v %+v", a, b)
	}
	a, b, ok = offset.Nearest(walls, orb.Point{60, 20})
	if !ok || a.Number != 1 || b.Number != 2 && b.Number != 6 {
		t.Errorf("%+v %+v", a, b)
	}
}

func TestTowardGoesAlongTheLine(t *testing.T) {
	got, ok := offset.Toward(orb.Point{10, 10}, orb.Point{13, 14}, 10) // 3, 4, 5
	if want := (orb.Point{16, 18}); !ok || got != want {
		t.Errorf("%v", got)
	}
	if _, ok := offset.Toward(orb.Point{1, 1}, orb.Point{1, 1}, 1); ok {
		t.Error("one place gives a direction")
	}
}

func TestPointsOfTheCompass(t *testing.T) {
	for i := range offset.Names {
		v := offset.Vector(i)
		if got := offset.Point(v[0], v[1]); got != i {
			t.Errorf("%s reads as %s", offset.Names[i], offset.Names[got])
		}
	}
}

// Of the walls of a roof of 0.4 by 0.3 each looks square to the inside, east and north, west and south by turns, however short it is; a wall of no length looks nowhere.
func TestShortWalls(t *testing.T) {
	for size := 0.1; size < 200; size *= 10 {
		walls := offset.Walls(orb.Ring{{0, 0}, {4 * size, 0}, {4 * size, 3 * size}, {0, 3 * size}, {0, 3 * size}, {0, 0}}, false)
		for i, want := range [][2]float64{{0, 1}, {-1, 0}, {0, -1}, {0, 0}, {1, 0}} {
			if got := walls[i].In; !(math.Abs(got[0]-want[0]) <= 1e-12) || !(math.Abs(got[1]-want[1]) <= 1e-12) {
				t.Errorf("wall %d of a roof of %g: inside is %v, want %v", i+1, 4*size, got, want)
			}
		}
	}
}
