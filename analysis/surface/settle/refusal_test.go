package settle_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// Each row is a square roof of 10 m with one thing wrong: what is refused, where, and what mends it.
func TestRefusalsSayWhatAndWhere(t *testing.T) {
	for _, c := range []struct {
		name       string
		spoil      func(r *roof.Roof)
		rule, mend string
		x, y       float64 // no number: no place is told
	}{
		{"no outline", func(r *roof.Roof) { r.Outline.Rings = nil }, "the roof has no outline", "give a polygon with role outline", none, none},
		{"two corners", func(r *roof.Roof) { r.Outline.Rings[0] = r.Outline.Rings[0][:3] }, "the roof has no outline", "give a polygon with role outline", none, none},
		{"corners on a line", func(r *roof.Roof) {
			r.Outline.Rings[0] = []roof.Position{shape.Bare(1, 0), shape.Bare(5, 0), shape.Bare(9, 0), shape.Bare(1, 0)}
		}, "the outline encloses no area", "give at least three corners that are not on one line", 1, 0},
		{"a curb on a line", func(r *roof.Roof) { shape.Curb(r, shape.Bare(4, 4), shape.Bare(5, 5), shape.Bare(6, 6)) }, "the curb encloses no area", "give at least three corners that are not on one line", 4, 4},
		{"a curb of two corners", func(r *roof.Roof) { shape.Curb(r, shape.Bare(4, 4), shape.Bare(5, 5)) }, "the curb encloses no area", "give at least three corners that are not on one line", 4, 4},
		{"a breakline of one place", func(r *roof.Roof) { shape.Breakline(r, roof.Valley, shape.At(3, 4, 1), shape.At(3.004, 4, 1)) }, "the breakline has no length", "give it a second point or leave it out", 3, 4},
		{"a curb over all", func(r *roof.Roof) {
			r.Spots = nil
			shape.Curb(r, shape.At(0, 0, 1), shape.At(10, 0, 1), shape.At(10, 10, 1), shape.At(0, 10, 1))
		}, "curbs cover the whole roof", "leave curbs out or mend them", 0, 0},
		{"a drain of no number", func(r *roof.Roof) { shape.Drain(r, 4, 4, math.NaN()) }, "outlet has a number that is not finite", "mend its properties", 4, 4},
		{"a scupper without end", func(r *roof.Roof) { shape.Scupper(r, 4, 0, math.Inf(1)) }, "outlet has a number that is not finite", "mend its properties", 4, 0},
		{"an inlet of no number", func(r *roof.Roof) {
			o := shape.Drain(r, 4, 4, 0.3)
			o.Invert, o.HasInvert = math.NaN(), true
		}, "outlet has a number that is not finite", "mend its properties", 4, 4},
		{"a corner far off", func(r *roof.Roof) { shape.Breakline(r, roof.Ridge, shape.At(2, 2, 1), shape.At(6000, 2, 1)) }, "place is more than 5 km from the roof's origin", "mend its numbers", 6000, 2},
		{"elevations far apart", func(r *roof.Roof) { r.Spots[0].Z, r.Spots[1].Z = -3000, 3000 }, "elevations span more than 5 km", "check the units of the elevations", none, none},
		{"an elevation of a breakline far off", func(r *roof.Roof) { shape.Breakline(r, roof.Ridge, shape.At(2, 2, 1), shape.At(6, 2, 6000)) }, "elevations span more than 5 km", "check the units of the elevations", none, none},
		{"an elevation of the outline far off", func(r *roof.Roof) { r.Outline.Rings[0][1].Z = -6000 }, "elevations span more than 5 km", "check the units of the elevations", none, none},
		{"an edge along no wall", func(r *roof.Roof) { shape.Edge(r, roof.Gutter, shape.Bare(2, 5), shape.Bare(8, 5)) }, "edge G1 does not lie on the outline here", "draw it along the outline", 2, 5},
	} {
		r := square()
		c.spoil(r)
		p := refused(t, r)
		if p[0].Rule != c.rule || p[0].Mend != c.mend || p[0].HasAt != !math.IsNaN(c.x) || p[0].HasAt && !(math.Hypot(p[0].At[0]-c.x, p[0].At[1]-c.y) <= 1e-4) {
			t.Errorf("%s: %+v", c.name, p)
		}
	}
}

var none = math.NaN()

// What looks odd, but is none of that: three corners are enough for an outline and a curb, a curb without corners and a breakline without points are nothing, a curb outside has no effect and is said, an edge may have a point twice.
func TestOddThingsThatAreTaken(t *testing.T) {
	tri := shape.New("triangle", shape.At(0, 0, 0), shape.At(10, 0, 0), shape.At(0, 10, 0.2))
	shape.Spot(tri, 2, 2, 0.04)
	shape.Curb(tri, shape.Bare(3, 3), shape.Bare(4, 3), shape.Bare(3, 4))
	if s := build(t, tri); !near(s.Area, 50-0.5, 1e-9) {
		t.Errorf("a triangle of 50 m2 less one of 0.5: %g", s.Area)
	}
	r := square()
	r.Curbs = append(r.Curbs, roof.Curb{})
	r.Breaklines = append(r.Breaklines, roof.Breakline{})
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(4, 0), shape.Bare(4, 0), shape.Bare(10, 0))
	shape.Curb(r, shape.Bare(20, 20), shape.Bare(22, 20), shape.Bare(22, 22), shape.Bare(20, 22))
	s := build(t, r)
	if !near(s.Area, 100, 1e-9) || !says(s, "1 curb outside the outline has no effect") {
		t.Errorf("area %g, warnings %q", s.Area, s.Warnings)
	}
	// A range of 4.9 km is taken: a roof measured from sea level in feet that nobody converted stands there.
	r = square()
	for i := range r.Spots {
		r.Spots[i].Z = 4900
	}
	for i := range r.Outline.Rings[0] {
		r.Outline.Rings[0][i].Z = 4900
	}
	if s = build(t, r); !near(s.TIN.Z[0], 4900, 1e-9) {
		t.Errorf("stands at %g", s.TIN.Z[0])
	}
}

// Nine curbs, a spot in each: what lies in a curb is left out, whichever of several it is, and wherever the roof lies.
func TestSpotsInOneOfManyCurbs(t *testing.T) {
	for _, at := range [][2]float64{{0, 0}, {-40, 25}, {25, -60}} {
		spotsInCurbs(t, at)
	}
}

func spotsInCurbs(t *testing.T, at [2]float64) {
	t.Helper()
	r := square()
	move := func(p *roof.Position) { p.Plan[0], p.Plan[1] = p.Plan[0]+at[0], p.Plan[1]+at[1] }
	for i := range r.Outline.Rings[0] {
		move(&r.Outline.Rings[0][i])
	}
	for i := range r.Spots {
		move(&r.Spots[i].Position)
	}
	for i := range 9 {
		x, y := at[0]+0.5+3*float64(i%3), at[1]+0.5+3*float64(i/3)
		shape.Curb(r, shape.Bare(x, y), shape.Bare(x+2, y), shape.Bare(x+2, y+2), shape.Bare(x, y+2))
		shape.Spot(r, x+1, y+1, 1.5)
	}
	s := build(t, r)
	if !near(s.Area, 100-9*4, 1e-9) {
		t.Errorf("%g m2", s.Area)
	}
	for i := range 9 {
		if has(s.TIN, at[0]+1.5+3*float64(i%3), at[1]+1.5+3*float64(i/3)) {
			t.Errorf("the spot in curb %d stands on the roof", i+1)
		}
	}
	if !says(s, "spots inside a curb were left out") {
		t.Errorf("warnings %q", s.Warnings)
	}
}
