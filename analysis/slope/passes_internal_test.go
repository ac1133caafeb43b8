package slope

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// leaning is the stretch of a valley whose planes rise 1 % to either side of the line through (10, 20) along (4, 3)/5, and on which it is 12 m long from 1 m beyond that place.
func leaning() *stretch {
	const tx, ty = 0.8, 0.6
	nx, ny := -ty, tx
	plane := func(rise float64) *Plane {
		gx, gy := rise*nx, rise*ny
		return planeThrough(gx, gy, -gx*10-gy*20)
	}
	return &stretch{p: plane(0.01), q: plane(-0.01), fold: 0.02, nx: nx, ny: ny, tx: tx, ty: ty, foot: orb.Point{10, 20}, from: 1, to: 13}
}

// A drain stands on a stretch of valley where it is no farther off it than the spacing, 1.5 m, and half its bowl, and on the way from 1 m before its upper end to two spacings before its lower one: a valley ends at its outlet. Overflows and
// edges do not drain first.
func TestPasses(t *testing.T) {
	for _, c := range []struct {
		name       string
		along, off float64
		kind       roof.OutletType
		duty       roof.Duty
		want       bool
	}{
		{"amid the stretch", 5, 0, roof.Drain, roof.Primary, true},
		{"beside it", 5, 1.64, roof.Drain, roof.Primary, true}, // 1.5 m and 0.15
		{"beside it on the other side", 5, -1.64, roof.Drain, roof.Primary, true},
		{"too far beside it", 5, 1.66, roof.Drain, roof.Primary, false},
		{"too far on the other side", 5, -1.66, roof.Drain, roof.Primary, false},
		{"at its upper end", 0.01, 0, roof.Drain, roof.Primary, true},
		{"above it", -0.01, 0, roof.Drain, roof.Primary, false},
		{"before its lower end", 9.99, 0, roof.Drain, roof.Primary, true},
		{"at its lower end", 10.01, 0, roof.Drain, roof.Primary, false},
		{"an overflow", 5, 0, roof.Scupper, roof.Overflow, false},
		{"an edge", 5, 0, roof.EdgeOutlet, roof.Primary, false},
	} {
		s := leaning()
		at := orb.Point{10 + 0.8*c.along - 0.6*c.off, 20 + 0.6*c.along + 0.8*c.off}
		l := &liner{
			roof:    &roof.Roof{Outlets: []roof.Outlet{{Bowl: 0.3}}},
			surface: &surface.Surface{Spacing: 1.5, Outlets: []surface.Outlet{{Type: c.kind, Duty: c.duty, Plan: at, Source: 0}}},
		}
		if !(math.Abs(s.off(at)-c.off) <= 1e-9) {
			t.Fatalf("%s: %g m off the line, want %g", c.name, s.off(at), c.off)
		}
		if got := l.passes(s); got != c.want {
			t.Errorf("%s: it passes an outlet %v", c.name, got)
		}
	}
}

// Half of a bowl, or of a scupper's width where that is more, is the radius of an outlet that was measured; others have none.
func TestRadius(t *testing.T) {
	l := &liner{roof: &roof.Roof{Outlets: []roof.Outlet{{Bowl: 0.3, Width: 0.2}, {Width: 0.5}}}}
	for source, want := range map[int]float64{0: 0.15, 1: 0.25, 2: 0, -1: 0} {
		if got := l.radius(&surface.Outlet{Source: source}); got != want {
			t.Errorf("outlet %d: %g m, want %g", source, got, want)
		}
	}
	if got := (&liner{}).radius(&surface.Outlet{}); got != 0 {
		t.Errorf("without a roof: %g m", got)
	}
}

// A plane lies where it is the higher of two where its facets do in the mean, each by its area: of a level roof of 4 by 3 m, cut by the line x = 1.5, the facets west of x = 2 lie 0.5 m west of the line in the mean, those from x = 1 to 3 half a metre east.
func TestHigher(t *testing.T) {
	row := make([]float64, 5)
	s := shape.Build(t, shape.Heights(1, row, row, row, row))
	within := func(from, to float64) (facets []int32) {
		for f := range int32(s.TIN.Facets()) {
			inside := true
			for _, v := range s.TIN.V[3*f : 3*f+3] {
				inside = inside && s.TIN.X[v] >= from && s.TIN.X[v] <= to
			}
			if inside {
				facets = append(facets, f)
			}
		}
		return facets
	}
	// p rises to the east, so that it stands above q east of the line.
	line := &stretch{p: planeThrough(0.01, 0, -0.015), q: planeThrough(-0.01, 0, 0.015), fold: 0.02, nx: 1, ty: 1, foot: orb.Point{1.5, 0}}
	for _, c := range []struct {
		from, to float64
		want     bool
	}{{0, 2, false}, {1, 3, true}, {1, 2, false}, {0, 1, false}, {2, 4, true}, {0, 4, true}, {0, 3, false}} {
		if c.from+c.to == 3 { // evenly on both sides: neither
			continue
		}
		l := &liner{grower: &grower{t: s.TIN}, slopes: &Slopes{Planes: []Plane{{}, {Facets: within(c.from, c.to)}}}}
		if got := l.higher(line, 1); got != c.want {
			t.Errorf("facets from x = %g to %g: higher %v", c.from, c.to, got)
		}
	}
}

// One triangle lies where its centroid does, from whichever corner it begins: by hand 1 m east of the origin.
func TestHigherByTheCentroid(t *testing.T) {
	for first := range int32(3) {
		l := &liner{grower: &grower{t: &surface.TIN{X: []float64{0, 3, 0}, Y: []float64{0, 0, 3}, Z: make([]float64, 3), V: []int32{first, (first + 1) % 3, (first + 2) % 3}}}, slopes: &Slopes{Planes: []Plane{{Facets: []int32{0}}}}}
		for x, want := range map[float64]bool{0.9: true, 1.1: false} {
			east := &stretch{p: planeThrough(0.01, 0, -0.01*x), q: planeThrough(-0.01, 0, 0.01*x), fold: 0.02, nx: 1, ty: 1}
			north := &stretch{p: planeThrough(0, 0.01, -0.01*x), q: planeThrough(0, -0.01, 0.01*x), fold: 0.02, ny: 1, tx: 1}
			if l.higher(east, 0) != want || l.higher(north, 0) != want {
				t.Errorf("from corner %d against a line at %g: want higher %v", first, x, want)
			}
		}
	}
}

// A stretch of valley takes in what stands within the spacing of its line, and what two tolerances would move that by; by hand, 1 m and 2 x 5 mm / 4 %. Of a chain with places at x = 1, 3, 6 and 10, one of them off it by 1.3 m, it covers the part between two that are near, however the valley runs.
func TestWhatAStretchCovers(t *testing.T) {
	for _, c := range []struct {
		off     [4]float64
		covered float64
		near    int
		turn    [2]float64
	}{{[4]float64{1.2, -1.2, 0, 1.2}, 9, 4, [2]float64{1, 0}}, {[4]float64{0, 0, 0, 1.3}, 5, 3, [2]float64{0.8, 0.6}}, {[4]float64{0, 0, -1.3, 0}, 2, 3, [2]float64{0, 1}}, {[4]float64{-1.3, 0, 0.5, 0}, 7, 3, [2]float64{-0.6, 0.8}}, {[4]float64{1.3, 1.3, 1.3, 1.3}, 0, 0, [2]float64{0.6, -0.8}}} {
		cos, sin := c.turn[0], c.turn[1]
		turned := func(gx, gy, z float64) *Plane { return planeThrough(cos*gx-sin*gy, sin*gx+cos*gy, z) }
		p, q := turned(-0.01, 0.02, 1-0.06), turned(-0.01, -0.02, 1+0.06)
		tin := &surface.TIN{V: []int32{0, 1, 4, 1, 2, 4, 2, 3, 4}, Twin: []int32{1, 0, -1, 4, 3, -1, 7, 6, -1}, X: []float64{1, 3, 6, 10, 99}, Y: []float64{3 + c.off[0], 3 + c.off[1], 3 + c.off[2], 3 + c.off[3], 99}, Z: make([]float64, 5)}
		on := make([]orb.Point, 5) // the places moved onto the line
		for v := range tin.X {
			x, y := tin.X[v], tin.Y[v]
			on[v] = orb.Point{cos*x - sin*3, sin*x + cos*3}
			tin.X[v], tin.Y[v] = cos*x-sin*y, sin*x+cos*y
		}
		l := &liner{grower: &grower{t: tin}, surface: &surface.Surface{Spacing: 1}, slopes: &Slopes{Tolerance: 0.005}}
		s := newStretch(p, q)
		at, covered := l.stretchOver(s, []chain{{edges: []int32{0, 3, 6}}})
		if len(at) != c.near || !(math.Abs(covered-c.covered) <= 1e-9) {
			t.Errorf("%v: %v near, covers %g m, want %d and %g", c.off, at, covered, c.near, c.covered)
		}
		for v, d := range at {
			if place := s.along(d); !(math.Hypot(place[0]-on[v][0], place[1]-on[v][1]) <= 1e-9) {
				t.Errorf("%v: vertex %d stands at %v", c.off, v, place)
			}
		}
	}
}

// Water gathers where the roof rises from a line to both sides, or to one and hardly falls to the other, by the error of each plane: twice it, and half of 1 in 1,000 at least. By hand; with left and right changed, and the other way up, it parts.
func TestWhatWaterDoesBetweenPlanes(t *testing.T) {
	for _, c := range []struct {
		left, right, el, er float64 // rise away from the line, and the planes' errors
		want                class
	}{
		{0.02, 0.02, 0, 0, gathers},
		{0.0004, 0.0015, 0, 0, gathers},
		{-0.0004, 0.0015, 0, 0, gathers},
		{-0.0006, 0.0020, 0, 0, crossed},
		{-0.0004, 0.0013, 0, 0, crossed}, // 0.9 in 1,000 is no fold
		{-0.0009, 0.0040, 0.0005, 0, gathers},
		{-0.0011, 0.0040, 0.0005, 0, crossed},
		{0.0009, 0.0019, 0.0005, 0.001, crossed},
		{0.0009, 0.0021, 0.0005, 0.001, gathers},
		{0.02, -0.02, 0, 0, crossed},
	} {
		for _, change := range []bool{false, true} {
			left, right, el, er := c.left, c.right, c.el, c.er
			if change {
				left, right, el, er = right, left, er, el
			}
			for sign, want := range map[float64]class{1: c.want, -1: map[class]class{gathers: parts, crossed: crossed}[c.want]} {
				l := &liner{slopes: &Slopes{Planes: []Plane{{Gradient: [2]float64{0, sign * left}, Sigma: el}, {Gradient: [2]float64{0, -sign * right}, Sigma: er}}}}
				if got := l.meeting(0, 1, 0, 1); got != want {
					t.Errorf("%+v, changed %v, times %g: %d, want %d", c, change, sign, got, want)
				}
			}
		}
	}
}

// A cricket's edge is one valley, or one ridge, where it is that somewhere and never the other; where it is both it stays in parts.
func TestOneClassOfACricketsEdge(t *testing.T) {
	for _, c := range []struct {
		is   []class
		want []class
	}{
		{[]class{gathers, crossed, gathers}, []class{gathers}},
		{[]class{crossed, parts, parts, crossed}, []class{parts}},
		{[]class{crossed}, []class{crossed}},
		{nil, []class{crossed}},
		{[]class{gathers, parts}, []class{gathers, parts}},
		{[]class{parts, crossed, gathers}, []class{parts, crossed, gathers}},
	} {
		var runs []run
		for _, k := range c.is {
			runs = append(runs, run{class: k})
		}
		var got []class
		for _, r := range oneClass(runs, nil) {
			got = append(got, r.class)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%v becomes %v, want %v", c.is, got, c.want)
		}
	}
}
