package settle_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

func TestCurbCornersAreInterpolated(t *testing.T) {
	r := shape.Plane(10, 10, 0.02, 5)
	shape.Curb(r, shape.Bare(4.5, 4.5), shape.Bare(5.5, 4.5), shape.At(5.5, 5.5, 0.3), shape.Bare(4.5, 5.5))
	s := build(t, r)
	for _, p := range [][3]float64{{4.5, 4.5, 0.09}, {5.5, 4.5, 0.09}, {5.5, 5.5, 0.3}, {4.5, 5.5, 0.11}} {
		if v := at(t, s.TIN, p[0], p[1]); !near(s.TIN.Z[v], p[2], 1e-9) {
			t.Errorf("curb corner (%g, %g) stands at %g, want %g", p[0], p[1], s.TIN.Z[v], p[2])
		}
	}
	if s.Area != 99 || !says(s, "3 curb corners") {
		t.Errorf("area %g, warnings %q", s.Area, s.Warnings)
	}
}

func TestFacesOfACurbTakeTheirOwnSide(t *testing.T) {
	for _, hole := range []bool{false, true} {
		r := square()
		ring := []roof.Position{shape.Bare(4, 4.5), shape.Bare(6, 4.5), shape.Bare(6, 5.5), shape.Bare(4, 5.5), shape.Bare(4, 4.5)}
		if hole {
			r.Outline.Rings = append(r.Outline.Rings, ring)
		} else {
			shape.Curb(r, ring[:4]...)
		}
		for x := 4.25; x < 6; x += 0.5 {
			shape.Spot(r, x, 4.4, 1)
			shape.Spot(r, x, 5.6, 1.1)
		}
		s := build(t, r)
		for x := 4.25; x < 6; x += 0.5 {
			for _, p := range [][2]float64{{4.5, 1}, {5.5, 1.1}} {
				v := at(t, s.TIN, x, p[0])
				if !near(s.TIN.Z[v], p[1], 1e-9) || s.TIN.Assumed[v] {
					t.Errorf("hole %v: foot at (%g, %g) stands at %g, want %g; assumed %v", hole, x, p[0], s.TIN.Z[v], p[1], s.TIN.Assumed[v])
				}
			}
		}
		if !says(s, "4 curb corners") || !says(s, "points of curbs opposite spots") {
			t.Errorf("hole %v: %v", hole, s.Warnings)
		}
	}
}

func TestABreaklineHidesSpotsFromACurb(t *testing.T) {
	r := square()
	r.Spots = nil
	shape.Breakline(r, roof.Valley, shape.At(2, 4, 0.5), shape.At(8, 4, 0.5))
	shape.Curb(r, shape.Bare(4.5, 4.1), shape.Bare(5.5, 4.1), shape.Bare(5.5, 5), shape.Bare(4.5, 5))
	for _, p := range [][2]float64{{4.3, 4.2}, {5.7, 4.2}, {4.3, 4.6}, {5.7, 4.6}, {4.3, 5.2}, {5.7, 5.2}} {
		shape.Spot(r, p[0], p[1], 1+0.1*p[1])
	}
	for x := 4.5; x <= 5.5; x += 0.25 {
		shape.Spot(r, x, 3.9, 1.2)
	}
	s := build(t, r)
	for _, x := range []float64{4.5, 5.5} {
		if v := at(t, s.TIN, x, 4.1); !near(s.TIN.Z[v], 1.41, 0.012) { // kept within the range of its spots: not under 1.42
			t.Errorf("curb corner at %g stands at %g, its own side at 1.41", x, s.TIN.Z[v])
		}
	}
}

func TestACurbInAValleyTakesTheValleysElevation(t *testing.T) {
	want := func(x, y float64) float64 { return 0.3 * math.Max(math.Abs(x-15)/15, math.Abs(y-10)/10) }
	corners := [][2]float64{{0, 0}, {30, 0}, {30, 20}, {0, 20}}
	ring := make([]roof.Position, 0, len(corners))
	for _, c := range corners {
		ring = append(ring, shape.At(c[0], c[1], 0.3))
	}
	r := shape.New("valleys", ring...)
	for _, c := range corners {
		shape.Breakline(r, roof.Valley, shape.At(15, 10, 0), shape.At(c[0], c[1], 0.3))
	}
	shape.Curb(r, shape.Bare(3, 3), shape.Bare(5, 3), shape.Bare(5, 4.5), shape.Bare(3, 4.5))
	s := build(t, r)
	for v := range s.TIN.X {
		x, y := s.TIN.X[v], s.TIN.Y[v]
		if !near(s.TIN.Z[v], want(x, y), 1e-5) {
			t.Errorf("(%g, %g) stands at %g, want %g", x, y, s.TIN.Z[v], want(x, y))
		}
	}
	if n := len(s.TIN.X); n != 5+4+2 {
		t.Errorf("%d vertices, want corners, middle, curb and two crossings", n)
	}
}

// Holes of the outline are curbs too.
func TestHolesAreCurbs(t *testing.T) {
	r := square()
	r.Outline.Rings = append(r.Outline.Rings, []roof.Position{
		shape.Bare(4, 4), shape.Bare(4, 6), shape.Bare(6, 6), shape.Bare(6, 4), shape.Bare(4, 4),
	})
	s := build(t, r)
	if s.Area != 96 {
		t.Errorf("area %g, want 96", s.Area)
	}
	for e, o := range s.TIN.Twin {
		if hole := s.TIN.X[s.TIN.V[e]] > 0 && s.TIN.X[s.TIN.V[e]] < 10; o < 0 && hole != (s.TIN.Flag[e]&surface.CurbEdge != 0) {
			t.Errorf("border half-edge %d has flags %#x", e, s.TIN.Flag[e])
		}
	}
}

func TestCurbsNearTheOutline(t *testing.T) {
	for _, to := range []func(x, y float64) orb.Point{
		func(x, y float64) orb.Point { return orb.Point{x, y} },
		func(x, y float64) orb.Point { return orb.Point{0.8*x - 0.6*y + 300, 0.6*x + 0.8*y - 500} },
	} {
		for off, area := range map[float64]float64{0.015: 96, 0.03: 96 + 2*0.03} {
			at := func(x, y float64) roof.Position { p := to(x, y); return shape.At(p[0], p[1], 0.02*y) }
			bare := func(x, y float64) roof.Position { p := to(x, y); return shape.Bare(p[0], p[1]) }
			for k := range 4 { // on any side
				turned := func(x, y float64) (float64, float64) {
					x, y = x-5, y-5
					for range k {
						x, y = -y, x
					}
					return x + 5, y + 5
				}
				r := shape.New("square", at(0, 0), at(10, 0), at(10, 10), at(0, 10))
				var ring []roof.Position
				for _, c := range [][2]float64{{4, off}, {6, off}, {6, 2}, {4, 2}} {
					ring = append(ring, bare(turned(c[0], c[1])))
				}
				shape.Curb(r, ring...)
				p := to(5, 5)
				shape.Spot(r, p[0], p[1], 0.1)
				if s := build(t, r); !near(s.Area, area, 1e-3) {
					t.Errorf("%g m off, side %d: %g m2, want %g", off, k, s.Area, area)
				}
			}
		}
	}
}

func TestSpotsInCornersOfCurbs(t *testing.T) {
	r := shape.New("wide", shape.At(100, -50, 0), shape.At(140, -50, 0), shape.At(140, -20, 0), shape.At(100, -20, 0))
	inside, outside := 0, 0
	for _, c := range [][4]float64{{102, -48, 110, -40}, {120, -45, 138, -42}, {105, -30, 108, -22}} {
		shape.Curb(r, shape.Bare(c[0], c[1]), shape.Bare(c[2], c[1]), shape.Bare(c[2], c[3]), shape.Bare(c[0], c[3]))
		for i := range 4 {
			x, y := c[2*(i%2)], c[1+2*(i/2)]
			dx, dy := 0.2-0.4*float64(i%2), 0.2-0.4*float64(i/2) // towards the middle
			shape.Spot(r, x+dx, y+dy, 0)
			shape.Spot(r, x-dx, y-dy, 0)
			inside, outside = inside+1, outside+1
		}
	}
	s := build(t, r)
	used := 0
	for _, i := range s.TIN.Spot {
		if i >= 0 {
			used++
		}
	}
	if used != outside || !says(s, "12 spots inside") {
		t.Errorf("%d of %d spots used, %d in curbs: %q", used, outside, inside, s.Warnings)
	}
}
