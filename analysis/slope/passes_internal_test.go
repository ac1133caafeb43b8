package slope

import (
	"math"
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
