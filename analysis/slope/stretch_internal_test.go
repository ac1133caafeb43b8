package slope

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/surface"
)

// planeThrough is the plane with a gradient and an elevation at the origin.
func planeThrough(gx, gy, z float64) *Plane { return &Plane{Gradient: [2]float64{gx, gy}, Offset: z} }

// By hand: planes that rise 2 % to the north and to the south from y = 3, where both stand at 1 and fall 1 % to the east, meet along y = 3; a place 2 m north of it is
// where the first stands 0.08 m above the second, and 2 m off it.
func TestStretchOfAValley(t *testing.T) {
	p, q := planeThrough(-0.01, 0.02, 1-0.06), planeThrough(-0.01, -0.02, 1+0.06)
	for _, c := range []struct {
		a, b *Plane
		side float64
	}{{p, q, 1}, {q, p, -1}} {
		s := newStretch(c.a, c.b)
		if !(math.Abs(s.fold-0.04) <= 1e-12) || !(math.Abs(s.nx) <= 1e-12) || !(math.Abs(s.ny-c.side) <= 1e-12) || !(math.Abs(s.tx-1) <= 1e-12) || !(math.Abs(s.ty) <= 1e-12) {
			t.Errorf("%+v", s)
		}
		for at, want := range map[orb.Point]float64{{5, 5}: 2, {-7, 3}: 0, {0, 1}: -2} {
			if got := s.off(at); !(math.Abs(got-c.side*want) <= 1e-9) {
				t.Errorf("%v is %g off, want %g", at, got, c.side*want)
			}
		}
		s.foot = orb.Point{2, 3}
		if got := s.along(4); got != (orb.Point{6, 3}) {
			t.Errorf("4 m down from %v is %v", s.foot, got)
		}
	}
}

// Whatever two planes, along their stretch both fall, alike and by ValleySlope, and square to it they part by fold a metre.
func TestStretchOfAnyPlanes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 9))
	for range 200 {
		p, q := planeThrough(rnd.Float64()-0.5, rnd.Float64()-0.5, rnd.Float64()), planeThrough(rnd.Float64()-0.5, rnd.Float64()-0.5, rnd.Float64())
		s := newStretch(p, q)
		at := orb.Point{rnd.Float64() * 9, rnd.Float64() * 9}
		on := orb.Point{at[0] - s.off(at)*s.nx, at[1] - s.off(at)*s.ny}
		down := orb.Point{on[0] + s.tx, on[1] + s.ty}
		beside := orb.Point{on[0] + s.nx, on[1] + s.ny}
		fall := ValleySlope(p.Gradient, q.Gradient)
		for name, off := range map[string]float64{
			"planes part": p.At(on) - q.At(on), "first falls": p.At(on) - p.At(down) - fall, "second falls": q.At(on) - q.At(down) - fall,
			"square to it": p.At(beside) - q.At(beside) - s.fold,
		} {
			if !(math.Abs(off) <= 1e-9) {
				t.Fatalf("%s by %g", name, off)
			}
		}
	}
}

// By hand: a plane of 10 by 4 m is 4 m wide, a square as wide as its side, and one with a hole of 2 by 2 m, area 36 and border 36, 9 less the root of 45.
func TestWidthOfAPlane(t *testing.T) {
	box := func(w, h float64) orb.Ring { return orb.Ring{{0, 0}, {w, 0}, {w, h}, {0, h}, {0, 0}} }
	for _, c := range []struct {
		rings []orb.Ring
		area  float64
		want  float64
	}{{[]orb.Ring{box(10, 4)}, 40, 4}, {[]orb.Ring{box(5, 5)}, 25, 5}, {[]orb.Ring{box(10, 4), {{4, 1}, {4, 3}, {6, 3}, {6, 1}, {4, 1}}}, 36, 9 - math.Sqrt(45)}} {
		p := &Plane{Outline: orb.MultiPolygon{orb.Polygon(c.rings)}, Area: c.area}
		for _, got := range []float64{p.Width(), p.WidthAt(0.5)} {
			if !(math.Abs(got-c.want) <= 1e-9) {
				t.Errorf("%v: %g m wide, want %g", c.rings, got, c.want)
			}
		}
	}
}

// By hand: planes that rise 3 % and 2 % away from a valley along (-0.8, 0.6), down which both fall 1 %, good to 0.1 % and 0.2 %: the valley falls 1 %, good to twice root((2 % x 0.1 %)2 + (3 % x 0.2 %)2) / 5 %. However the valley runs.
func TestWhereTwoPlanesMeet(t *testing.T) {
	for _, u := range [][2]float64{{1, 0}, {0, 1}, {-0.8, 0.6}, {0.6, -0.8}, {-0.6, -0.8}} {
		rise := func(left float64) [2]float64 { // uphill: against u, and to the left of it
			return [2]float64{-0.01*u[0] - left*u[1], -0.01*u[1] + left*u[0]}
		}
		l := &liner{slopes: &Slopes{Planes: []Plane{{Gradient: rise(0.03), Sigma: 0.001}, {Gradient: rise(-0.02), Sigma: 0.002}}}}
		slope, sigma := l.meet(&Line{Left: 0, Right: 1})
		want := 2 * math.Hypot(0.02*0.001, 0.03*0.002) / 0.05
		if !(math.Abs(slope-0.01) <= 1e-12) || !(math.Abs(sigma-want) <= 1e-12) {
			t.Errorf("along %v: %g give or take %g, want 0.01 and %g", u, slope, sigma, want)
		}
	}
}

// By hand: planes that differ in one direction only meet along the other: gradients (g, s) and (-g, s) along y, where both rise by s. Alike they meet nowhere.
func TestPlanesThatDifferOneWay(t *testing.T) {
	for _, c := range []struct{ a, b [2]float64 }{{[2]float64{0.03, 0.01}, [2]float64{-0.03, 0.01}}, {[2]float64{0.01, 0.03}, [2]float64{0.01, -0.05}}, {[2]float64{0.03, -0.01}, [2]float64{0.02, -0.01}}} {
		if got := ValleySlope(c.a, c.b); !(math.Abs(got-0.01) <= 1e-12) {
			t.Errorf("%v and %v meet at %g, want 0.01", c.a, c.b, got)
		}
	}
	if got := ValleySlope([2]float64{0.01, 0.02}, [2]float64{0.01, 0.02}); !math.IsNaN(got) {
		t.Errorf("planes alike meet at %g", got)
	}
}

// The foot of a stretch is the place on the line nearest to the chain's first vertex, and its ends lie as far along as the chain's. By hand: planes that meet along y = 3 and fall 1 % to the east; a chain from (1, 3.2) to (6, 2.9) covers it from x = 1 to 6, however the chain runs. One vertex
// of three stands on both planes, by 3 mm; where one stands off by more than may be, nothing is measured.
func TestWhatAChainCovers(t *testing.T) {
	p, q := planeThrough(-0.01, 0.02, 1-0.06), planeThrough(-0.01, -0.02, 1+0.06)
	at := []orb.Point{{1, 3.2}, {4, 3.05}, {6, 2.9}}
	tin := &surface.TIN{}
	for _, a := range at {
		tin.X, tin.Y, tin.Z = append(tin.X, a[0]), append(tin.Y, a[1]), append(tin.Z, math.Max(p.At(a), q.At(a)))
	}
	for _, order := range [][]int32{{0, 1, 2}, {2, 1, 0}, {1, 0, 2}} {
		l := &liner{grower: &grower{t: tin}}
		s := newStretch(p, q)
		if !l.measure(s, order, 0.25) {
			t.Fatalf("%v: not measured", order)
		}
		if want := (orb.Point{at[order[0]][0], 3}); !(math.Hypot(s.foot[0]-want[0], s.foot[1]-want[1]) <= 1e-12) {
			t.Errorf("%v: foot at %v, want %v", order, s.foot, want)
		}
		for what, got := range map[string]orb.Point{"begins": s.along(s.from), "ends": s.along(s.to)} {
			want := orb.Point{map[string]float64{"begins": 1, "ends": 6}[what], 3}
			if !(math.Hypot(got[0]-want[0], got[1]-want[1]) <= 1e-9) {
				t.Errorf("%v: %s at %v, want %v", order, what, got, want)
			}
		}
		if len(s.on) != 1 || s.on[0] != 1 {
			t.Errorf("%v: %v stand on both", order, s.on)
		}
		if l.measure(newStretch(p, q), order, 0.15) {
			t.Errorf("%v: measured though a vertex stands 0.2 m off", order)
		}
	}
}

// All facets of a region lie on a plane where none is off it, or one in a hundred, whichever it is. By hand: strips of unit squares at 0 of which one facet is raised by a metre.
func TestOneInAHundredMayBeOff(t *testing.T) {
	for _, c := range []struct {
		facets, off int
		want        bool
	}{{99, -1, true}, {99, 0, false}, {99, 50, false}, {99, 98, false}, {100, 0, true}, {100, 99, true}} {
		tin := &surface.TIN{}
		g := &grower{t: tin, around: [3]int32{0, 1, 2}}
		for f := range c.facets {
			for _, p := range [][2]float64{{0, 0}, {1, 0}, {0, 1}} {
				tin.V = append(tin.V, int32(len(tin.X)))
				z := 0.0
				if f == c.off {
					z = 1
				}
				tin.X, tin.Y, tin.Z = append(tin.X, p[0]+float64(f)), append(tin.Y, p[1]), append(tin.Z, z)
			}
			g.region = append(g.region, 0)
		}
		g.sums, g.count = make([]regression.Sums, 1), []int32{int32(c.facets)}
		var level regression.Sums
		for _, p := range [][2]float64{{0, 0}, {50, 0}, {0, 1}, {50, 1}} {
			level.Add(p[0], p[1], 0)
		}
		plane, ok := level.Plane(thin)
		if got := g.newMerger().allFit(0, &plane, 1); !ok || got != c.want {
			t.Errorf("%+v: all fit %v", c, got)
		}
	}
}
