package taper_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// altered is a level roof of 20 by 14 m with its corner at (0, 0), to be changed, and the problem of a drain at (x, y) that is set down to z with falls of 2 %.
func altered(t *testing.T, x, y, z float64) (*taper.Alteration, *taper.Problem) {
	t.Helper()
	r := level(20, 14)
	drain(r, x, y, 0)
	s := built(t, r)
	d := planOf(t, s)
	return taper.Alter(d, taper.Existing(s.TIN)), &taper.Problem{
		Domain: d, Base: taper.Existing(s.TIN), Gauge: domain.FourWay(d.Axis), Slope: 0.02,
		Sources: []taper.Source{{Outlet: 0, Plan: orb.Point{x, y}, Z: z}},
	}
}

// frustum returns the volume between squares of half sides a and b at heights h apart.
func frustum(a, b, h float64) float64 { return 4 * h * (a*a + a*b + b*b) / 3 }

// TestSump: 60 mm deep over a square of 0.6 m to each side, rising 2 % from there. It meets the level roof after 3 m, 3.6 m from the drain: a frustum. Where it ends 1.6 m from the drain it still is 40 mm deep: a frustum 20 mm
// high under a box of 40 mm.
func TestSump(t *testing.T) {
	for _, c := range []struct{ reach, volume, half float64 }{
		{10, frustum(0.6, 3.6, 0.06), 3.6},
		{1.6, frustum(0.6, 1.6, 0.02) + 3.2*3.2*0.04, 1.6},
	} {
		a, p := altered(t, 9, 7, -0.06)
		a.Sump(p, 0.6, c.reach)
		d := a.Design()
		near(t, "cut", d.Fill.Cut, c.volume, 1e-6)
		near(t, "filled", d.Fill.Volume, 0, 1e-9)
		near(t, "area", d.Fill.Area, 4*c.half*c.half, 1e-4)
		for _, at := range []struct{ off, want float64 }{{0.3, -0.06}, {0.59, -0.06}, {1.1, -0.05}, {1.59, -0.0402}} {
			for _, v := range []orb.Point{{at.off, 0.2}, {-at.off, -0.2}, {0.1, at.off}, {-0.1, -at.off}} {
				z, _ := d.Height(orb.Point{9 + v[0], 7 + v[1]})
				near(t, "height", z, at.want, 1e-9)
			}
		}
		if lines := d.CutLines(); len(lines) != 1 || len(lines[0]) != 5 || lines[0][0] != lines[0][4] {
			t.Errorf("cut lines %v, want a closed square", lines)
		}
	}
}

// TestLowerToNoFarther: a pyramid of 2 % from 60 mm below the drain that ends 1 m from it is 40 mm deep there: a box of 40 mm over 2 by 2 m, and a pyramid of 20 mm below it.
func TestLowerToNoFarther(t *testing.T) {
	a, p := altered(t, 9, 7, -0.06)
	a.LowerTo(p, 1)
	d := a.Design()
	near(t, "cut", d.Fill.Cut, 4*0.04+4*0.02/3, 1e-6)
	near(t, "area", d.Fill.Area, 4, 1e-4)
}

// TestCutLinesAtAWall: a drain 1 m off the west wall is set down by 60 mm at 2 %: what is cut reaches 3 m north, south and east of it, and as far as the wall. New work lies on the left of its line, which
// begins on the wall in the north and runs round to the wall in the south with new work on its right, or the other way: it is open and has four corners.
func TestCutLinesAtAWall(t *testing.T) {
	a, p := altered(t, 1, 7, -0.06)
	a.LowerTo(p, 0)
	lines := a.Design().CutLines()
	if len(lines) != 1 || len(lines[0]) != 4 {
		t.Fatalf("cut lines %v, want one of four corners", lines)
	}
	for i, want := range []orb.Point{{0, 4}, {4, 4}, {4, 10}, {0, 10}} { // counter-clockwise round the new work
		if q := lines[0][i]; !(math.Hypot(q[0]-want[0], q[1]-want[1]) <= 1e-4) {
			t.Errorf("corner %d at %v, want %v", i, q, want)
		}
	}
	// Two that lie apart have a line each.
	a, p = altered(t, 5, 7, -0.02)
	p.Sources = append(p.Sources, taper.Source{Outlet: 0, Plan: orb.Point{15, 7}, Z: -0.04})
	a.LowerTo(p, 0)
	sides := 0.0
	lines = a.Design().CutLines()
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			sides += math.Hypot(l[i][0]-l[i-1][0], l[i][1]-l[i-1][1])
		}
	}
	if len(lines) != 2 {
		t.Errorf("cut lines %v, want two", lines)
	}
	near(t, "sides of 2 and 4 m", sides, 4*2+4*4, 1e-3)
}

// square is a level patch at z over a square.
func square(x, y, side, z float64) taper.Patch {
	return taper.Patch{On: []orb.Point{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}, Plan: orb.Point{x, y}, Z: z}
}

// TestHolesThatTouchInACorner: two raised squares of 2 m that touch in a corner are two facets of 4 m2, and leave two holes of four corners in what stays, not one of eight.
func TestHolesThatTouchInACorner(t *testing.T) {
	for _, mirrored := range []bool{false, true} {
		a, _ := altered(t, 9, 12, 0)
		if mirrored {
			a.Raise(square(4, 6, 2, 0.05), square(6, 4, 2, 0.05))
		} else {
			a.Raise(square(4, 4, 2, 0.05), square(6, 6, 2, 0.05))
		}
		d := a.Design()
		fresh := 0
		for i := range d.Facets {
			f := &d.Facets[i]
			if !f.Existing {
				fresh++
				near(t, "area", f.Area, 4, 1e-6)
				near(t, "filled", f.Fill, 0.2, 1e-9)
				if len(f.Polygon) != 1 || len(f.Polygon[0]) != 5 {
					t.Errorf("raised: %v", f.Polygon)
				}
				continue
			}
			near(t, "what stays", f.Area, 20*14-8, 1e-6)
			if len(f.Polygon) != 3 {
				t.Fatalf("%d rings, want the outline and two holes: %v", len(f.Polygon), f.Polygon)
			}
			for k, ring := range f.Polygon {
				if len(ring) != 5 || (ring.Orientation() == orb.CCW) != (k == 0) {
					t.Errorf("ring %d: %v", k, ring)
				}
			}
		}
		if fresh != 2 {
			t.Errorf("%d new facets, want 2", fresh)
		}
	}
}

// TestLowerAndRaise: a patch that lies above the roof lowers nothing and one below raises nothing; both changes of one place stand as the later one leaves it. By hand: a square of 16 m2 at -20 mm, over
// its quarter one at -50 mm, another quarter filled again to -5 mm.
func TestLowerAndRaise(t *testing.T) {
	a, _ := altered(t, 18, 12, 0)
	a.Lower(square(2, 2, 4, 0.01))
	a.Raise(square(2, 2, 4, -0.01))
	if d := a.Design(); d.Fill.Area != 0 || d.Fill.Volume != 0 || d.Fill.Cut != 0 || len(d.CutLines()) != 0 {
		t.Errorf("%+v of nothing", d.Fill)
	}
	a, _ = altered(t, 18, 12, 0)
	a.Lower(square(2, 2, 4, -0.02), square(2, 2, 2, -0.05))
	a.Raise(square(4, 4, 2, -0.005))
	d := a.Design()
	near(t, "cut", d.Fill.Cut, 8*0.02+4*0.05+4*0.005, 1e-9)
	near(t, "area", d.Fill.Area, 16, 1e-6)
	near(t, "deepest", d.Fill.Thinnest, -0.05, 1e-12)
	near(t, "shallowest", d.Fill.Thickest, -0.005, 1e-12)
	for _, p := range []struct{ x, y, want float64 }{{3, 3, -0.05}, {5, 5, -0.005}, {3, 5, -0.02}, {5, 3, -0.02}, {7, 3, 0}, {1, 1, 0}} {
		z, _ := d.Height(orb.Point{p.x, p.y})
		near(t, "height", z, p.want, 1e-9)
	}
}

// TestPlanesOfTwoDrainsAreTwo: drains at (5, 5) and (15, 5) of a roof of 20 by 15 m. North of both the planes are one, y - 5 m times the slope on either side of x = 10 m, but the water of each goes to its own drain: eight facets.
// By hand, three sides of each drain have 25 m2, and the two north of them the other 150 m2; where both ways are as long either may have it, but each has what lies west or east of the other's cone, 62.5 m2.
func TestPlanesOfTwoDrainsAreTwo(t *testing.T) {
	r := level(20, 15)
	drain(r, 5, 5, 0)
	drain(r, 15, 5, 0)
	d := design(t, r, 0.02, 0, domain.FourWay)
	if len(d.Facets) != 8 {
		t.Errorf("%d facets, want 8", len(d.Facets))
	}
	north := 0.0
	for i := range d.Facets {
		f := &d.Facets[i]
		if f.DY < 0.01 {
			near(t, "area", f.Area, 25, 1e-6)
			continue
		}
		north += f.Area
		if f.Area < 62.5-1e-6 {
			t.Errorf("%g m2 north of a drain, want 62.5 at least", f.Area)
		}
	}
	near(t, "north", north, 150, 1e-6)
}

// TestClearWithin: of a level roof with spots every metre only those of a strip 6 m wide may move, from its edges at 4 mm on. The least surface there that falls 2 % in four ways rises from there with the way to the nearer of
// its edges: to 64 mm in the middle. Where more thickness is asked for the first row has that, and the rest rises from there. All others stay, wherever the seeds stand.
func TestClearWithin(t *testing.T) {
	r := level(16, 12)
	shape.Grid(r, 0, 0, 16, 12, 16, 12, func(_, _ float64) float64 { return 0 })
	s := built(t, r)
	d := planOf(t, s)
	p := &taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Gauge: domain.FourWay(d.Axis), Slope: 0.02}
	off := func(v int) float64 { return 3 - math.Abs(s.TIN.X[v]-8) } // how far inside the strip
	inside := make([]bool, len(s.TIN.X))
	var seeds []taper.Seed
	for v := range s.TIN.X {
		switch o := off(v); {
		case o > 0.5:
			inside[v] = true
		case o > -0.5:
			seeds = append(seeds, taper.Seed{Vertex: int32(v), Z: 0.004})
		}
	}
	for _, thick := range []float64{0, 0.024, 0.07} {
		p.Thickness = thick
		for v, z := range taper.ClearWithin(p, seeds, inside) {
			want := 0.0
			if inside[v] {
				want = math.Max(0.004+0.02*off(v), thick+0.02*(off(v)-1))
			}
			if !(math.Abs(z-want) <= 1e-9) {
				t.Errorf("(%g, %g) stands at %g, want %g", s.TIN.X[v], s.TIN.Y[v], z, want)
			}
		}
	}
}

// TestRoofWrittenAsASurvey: two patches of one level whose corners stand 15 mm apart are raised on a roof with a curb that nobody measured. Written as a survey, every spot that was measured where the roof stays is there once, at its elevation and by its own name; what no spot measured there is there once, the corners of roof and curb;
// and of new corners none stand nearer to each other than 30 mm, the second of each pair being told by the first. Read again it has the same heights.
func TestRoofWrittenAsASurvey(t *testing.T) {
	height := func(x, y float64) float64 { return 1 + 0.01*x - 0.02*y }
	r := shape.New("rises", shape.At(0, 0, height(0, 0)), shape.At(20, 0, height(20, 0)), shape.At(20, 14, height(20, 14)), shape.At(0, 14, height(0, 14)))
	shape.Grid(r, 1, 1, 19, 13, 9, 6, height)
	shape.Curb(r, shape.Bare(14.2, 8.2), shape.Bare(15.7, 8.2), shape.Bare(15.7, 9.7), shape.Bare(14.2, 9.7))
	s := built(t, r)
	a := taper.Alter(planOf(t, s), taper.Existing(s.TIN))
	a.Raise(square(3.5, 3.5, 2, 1.2), square(5.515, 3.5, 2, 1.2))
	d := a.Design()
	n := d.Roof(r, s)
	within := func(p orb.Point, by float64) bool {
		return p[0] > 3.5-by && p[0] < 7.515+by && p[1] > 3.5-by && p[1] < 5.5+by
	}
	seen := map[string]int{}
	drawn := 0
	var fresh []orb.Point
	for _, p := range n.Spots {
		seen[p.ID]++
		switch {
		case strings.HasPrefix(p.ID, "T"):
			fresh = append(fresh, p.Plan)
		case strings.HasPrefix(p.ID, "N"):
			drawn++
			corner := math.Abs(math.Abs(p.Plan[0]-10)-10)+math.Abs(math.Abs(p.Plan[1]-7)-7) < 1e-6 // of the roof
			if !corner && (math.Abs(p.Plan[0]-14.95) > 0.8 || math.Abs(p.Plan[1]-8.95) > 0.8) {
				t.Errorf("%s at %v was measured", p.ID, p.Plan)
			}
		default:
			if want := height(p.Plan[0], p.Plan[1]); !within(p.Plan, 0.03) && !(math.Abs(p.Z-want) <= 1e-6) {
				t.Errorf("%s stands at %g, want %g", p.ID, p.Z, want)
			}
		}
	}
	for _, p := range r.Spots {
		want := 1
		if p.Plan == (orb.Point{15, 9}) { // within the curb
			want = 0
		}
		if !within(p.Plan, 0.03) && seen[p.ID] != want {
			t.Errorf("%s is there %d times", p.ID, seen[p.ID])
		}
	}
	if drawn < 8 {
		t.Errorf("%d places that nobody measured, want the corners of roof and curb and what stands between", drawn)
	}
	if len(fresh) != 6 {
		t.Errorf("%d new corners, want the four outer ones and two between", len(fresh))
	}
	for i, p := range fresh {
		for _, q := range fresh[:i] {
			if !(math.Hypot(p[0]-q[0], p[1]-q[1]) >= 0.03) {
				t.Errorf("new corners at %v and %v", p, q)
			}
		}
	}
	again := built(t, n)
	for _, p := range []struct{ x, y, want float64 }{{4.5, 4.5, 1.2}, {6.5, 4.5, 1.2}, {10, 10, height(10, 10)}, {2, 12, height(2, 12)}, {18, 2, height(18, 2)}, {13.5, 9, height(13.5, 9)}} {
		z, _ := surface.NewLocator(again.TIN).HeightAt(p.x, p.y)
		near(t, "read again", z, p.want, 5e-4)
	}
}
