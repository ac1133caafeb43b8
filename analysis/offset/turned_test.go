package offset_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/offset"
)

// leaning is a rectangle of 100 by 50 along (4, 3)/5 whose first corner stands at (30, -20).
func leaning() orb.Ring {
	return orb.Ring{{30, -20}, {110, 40}, {80, 80}, {0, 20}, {30, -20}}
}

// A place along and square to the walls of a rectangle that leans by 3, 4 and 5 stands at (30 + 0.8 a - 0.6 b, -20 + 0.6 a + 0.8 b): the two offsets give it, whichever wall comes first, and the walls
// measure them.
func TestOffsetsOfALeaningRoof(t *testing.T) {
	walls := offset.Walls(leaning(), false)
	for _, c := range [][2]float64{{10, 5}, {0, 0}, {99, 49}, {40, 25}} {
		p := orb.Point{30 + 0.8*c[0] - 0.6*c[1], -20 + 0.6*c[0] + 0.8*c[1]}
		for k, want := range []float64{c[1], 100 - c[0], 50 - c[1], c[0]} {
			if got := walls[k].Distance(p); !(math.Abs(got-want) <= 1e-9) {
				t.Errorf("%v lies %g from wall %d, want %g", c, got, k+1, want)
			}
		}
		for _, pair := range [][4]float64{{0, c[1], 3, c[0]}, {3, c[0], 0, c[1]}, {1, 100 - c[0], 2, 50 - c[1]}, {2, 50 - c[1], 3, c[0]}} {
			got, ok := offset.At(&walls[int(pair[0])], pair[1], &walls[int(pair[2])], pair[3])
			if !ok || !(planar.Distance(got, p) <= 1e-9) {
				t.Errorf("%g from wall %g and %g from wall %g: %v, want %v", pair[1], pair[0]+1, pair[3], pair[2]+1, got, p)
			}
		}
		if _, ok := offset.At(&walls[0], 1, &walls[2], 1); ok {
			t.Error("two walls side by side give a place")
		}
	}
	for k, want := range []string{"south-east", "north-east", "north-west", "south-west"} { // the bearings of their outward normals are 143, 53, 323 and 233 degrees
		if got := offset.Names[walls[k].Faces]; got != want || walls[k].Number != k+1 || !(math.Abs(walls[k].Length-[]float64{100, 50, 100, 50}[k]) <= 1e-9) {
			t.Errorf("wall %d: %+v, want %s", k+1, walls[k], want)
		}
	}
}

// Two walls give a place where the sine of their angle is 0.35 or more: a second wall along (cos, sin) of 21 degrees does (0.358), one of 20 does not (0.342).
func TestLeastAngle(t *testing.T) {
	for degrees, want := range map[float64]bool{21: true, 20: false, 90: true, 159: true, 160: false, 0: false} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		a := offset.Wall{From: orb.Point{5, 7}, To: orb.Point{15, 7}, Length: 10, In: [2]float64{0, 1}}
		b := offset.Wall{From: orb.Point{5, 7}, To: orb.Point{5 + 10*cos, 7 + 10*sin}, Length: 10, In: [2]float64{-sin, cos}}
		at, ok := offset.At(&a, 1, &b, -2)
		if ok != want || ok && (!(math.Abs(a.Distance(at)-1) <= 1e-9) || !(math.Abs(b.Distance(at)+2) <= 1e-9)) {
			t.Errorf("%g degrees: %v, %v", degrees, at, ok)
		}
		// The same limit for the second of the two walls from which a place is taped with the least tape.
		place := orb.Point{5 + 3*math.Cos(degrees*math.Pi/360), 7 + 3*math.Sin(degrees*math.Pi/360)}
		b.In = [2]float64{sin, -cos} // towards the first
		if degrees == 0 {
			continue
		}
		if _, second, ok := offset.Nearest([]offset.Wall{a, b}, place); ok != want || ok && second == nil {
			t.Errorf("%g degrees: two walls to tape from %v", degrees, ok)
		}
	}
}

// Of random places on an L the two walls to tape from are, by going through all walls: the nearest before which the place stands, and the nearest of those square to it.
func TestNearestByBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	for _, by := range []orb.Point{{}, {1000, -300}} {
		ring := make(orb.Ring, len(lRing))
		for i, p := range lRing {
			ring[i] = orb.Point{p[0] + by[0], p[1] + by[1]}
		}
		walls := offset.Walls(ring, false)
		for range 300 {
			x, y := 120*r.Float64(), 60*r.Float64()
			if x < 80 && y > 50 {
				continue
			}
			least := map[bool]float64{true: math.Inf(1), false: math.Inf(1)} // by whether the wall runs east and west
			for _, w := range []struct{ low, high, away float64 }{{0, 120, y}, {80, 120, 60 - y}, {0, 80, 50 - y}} {
				if x >= w.low && x <= w.high && w.away >= 0 {
					least[true] = math.Min(least[true], w.away)
				}
			}
			for _, w := range []struct{ low, high, away float64 }{{0, 60, 120 - x}, {50, 60, x - 80}, {0, 50, x}} {
				if y >= w.low && y <= w.high && w.away >= 0 {
					least[false] = math.Min(least[false], w.away)
				}
			}
			p := orb.Point{x + by[0], y + by[1]}
			a, b, ok := offset.Nearest(walls, p)
			if !ok {
				t.Fatalf("(%g, %g): no two walls", x, y)
			}
			if d, e := a.Distance(p), b.Distance(p); !(math.Abs(d-math.Min(least[true], least[false])) <= 1e-9) || !(math.Abs(e-math.Max(least[true], least[false])) <= 1e-9) {
				t.Errorf("(%g, %g): %g and %g, want %v", x, y, d, e, least)
			}
		}
	}
	if _, _, ok := offset.Nearest(offset.Walls(lRing, false), orb.Point{-5, -5}); ok {
		t.Error("a place off the roof, before no wall, is taped from two")
	}
}

// A place stands before a wall up to both its ends: at the corners of a square, and a hair beyond them.
func TestBeforeTheEnds(t *testing.T) {
	wall := offset.Walls(orb.Ring{{0, 0}, {0.5, 0}, {0.5, 9}, {0, 9}, {0, 0}}, false)
	for x, want := range map[float64]bool{0: true, 0.5: true, 0.25: true, -0.001: false, 0.501: false} {
		a, _, _ := offset.Nearest(wall[:1], orb.Point{x, 3})
		if (a != nil) != want {
			t.Errorf("x = %g stands before the wall: %v", x, a != nil)
		}
	}
	none := []offset.Wall{{From: orb.Point{1, 1}, To: orb.Point{1, 1}}}
	if a, _, _ := offset.Nearest(none, orb.Point{1, 1}); a != nil {
		t.Error("a wall of no length is taped from")
	}
	one := []offset.Wall{{From: orb.Point{1, 1}, To: orb.Point{2, 1}, Length: 1, In: [2]float64{0, 1}}}
	if a, _, _ := offset.Nearest(one, orb.Point{1.5, 4}); a == nil {
		t.Error("a wall of length 1 is not")
	}
}

// Inside is on the ring, in it, or within reach of it, the reach itself too.
func TestInside(t *testing.T) {
	for p, want := range map[orb.Point]bool{{60, 25}: true, {120, 30}: true, {120.5, 30}: true, {120.51, 30}: false, {40, 55}: false, {40, 50.5}: true, {40, 50.6}: false, {-0.3, -0.4}: true, {-0.31, -0.4}: false} {
		if got := offset.Inside(lRing, p, 0.5); got != want {
			t.Errorf("%v: inside %v", p, got)
		}
	}
}

// By hand: (7, -2) towards (4, 2) is (-3, 4)/5; ten along it (1, 6), none at all the place itself, and back (8.2, -3.6).
func TestTowardFromAnywhere(t *testing.T) {
	for d, want := range map[float64]orb.Point{10: {1, 6}, 0: {7, -2}, -2: {8.2, -3.6}} {
		if got, ok := offset.Toward(orb.Point{7, -2}, orb.Point{4, 2}, d); !ok || !(planar.Distance(got, want) <= 1e-12) {
			t.Errorf("%g: %v, want %v", d, got, want)
		}
	}
}

// A wall without length has no side, and the vectors of the compass have length 1.
func TestUnits(t *testing.T) {
	for i := range offset.Names {
		v := offset.Vector(i)
		sin, cos := math.Sincos(float64(i) * math.Pi / 4)
		if !(math.Abs(v[0]-sin) <= 1e-12) || !(math.Abs(v[1]-cos) <= 1e-12) {
			t.Errorf("%s is %v", offset.Names[i], v)
		}
	}
	walls := offset.Walls(orb.Ring{{3, 3}, {3, 3}, {5, 3}, {3, 3}}, false)
	if w := walls[0]; w.Length != 0 || w.In != [2]float64{} {
		t.Errorf("%+v", w)
	}
	if got := offset.Walls(nil, false); len(got) != 0 {
		t.Errorf("no ring has walls: %+v", got)
	}
}
