package settle_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// place is a point of the settled surface as it lies on the roof.
type settledAt struct {
	z, sigma       float64
	spot           string
	assumed, found bool
}

// settledOf lists what a roof is settled to, by place, brought back to where it lies before; and how long its edges of each flag are.
func settledOf(s *surface.Surface, r *roof.Roof, back func(p orb.Point) orb.Point) (map[string]settledAt, map[surface.EdgeFlag]float64) {
	at, long := map[string]settledAt{}, map[surface.EdgeFlag]float64{}
	t := s.TIN
	for v := range t.X {
		p := back(orb.Point{t.X[v], t.Y[v]})
		a := settledAt{z: t.Z[v], sigma: t.Sigma[v], assumed: t.Assumed[v], found: t.Found[v]}
		if t.Spot[v] >= 0 {
			a.spot = r.Spots[t.Spot[v]].ID
		}
		at[fmt.Sprintf("%.4f %.4f", p[0]+1e-9, p[1]+1e-9)] = a
	}
	for e := range t.V {
		if f := t.Flag[e] &^ surface.TieEdge; f != 0 {
			b := t.End(int32(e))
			long[f] += math.Hypot(t.X[b]-t.X[t.V[e]], t.Y[b]-t.Y[t.V[e]])
		}
	}
	return at, long
}

// TestSettledAlikeAtASlant: random roofs turned by the angle of the triangle 3, 4, 5, which keeps places on the grid, and moved far off, are settled to the same points: same places, elevations to a unit of the grid, spots and errors, the same of them assumed or of folds found; and edges of each kind are as long.
// Places that are worked out may round to the next one of the grid, and a foot that hangs on what is seen past a line may so come or go.
func TestSettledAlikeAtASlant(t *testing.T) {
	points, left := 0, 0
	for seed := range uint64(30) {
		there := func(p orb.Point) orb.Point {
			return orb.Point{0.8*p[0] - 0.6*p[1] + 300, 0.6*p[0] + 0.8*p[1] - 500}
		}
		back := func(p orb.Point) orb.Point {
			x, y := p[0]-300, p[1]+500
			return orb.Point{0.8*x + 0.6*y, 0.8*y - 0.6*x}
		}
		r, slant := shape.Random(seed, 90), shape.Random(seed, 90)
		for _, x := range []*roof.Roof{r, slant} {
			for i := range x.Spots {
				x.Spots[i].Z += 0.00001 * float64(i*i%41-20) // no ties
			}
		}
		shape.Places(slant, func(p *orb.Point) { *p = there(*p) })
		a, b := build(t, r), build(t, slant)
		want, long := settledOf(a, r, func(p orb.Point) orb.Point { return p })
		got, longer := settledOf(b, slant, back)
		for k, w := range want {
			points++
			g, ok := got[k]
			if !ok {
				left++
				continue
			}
			if !(math.Abs(g.z-w.z) <= 2.5e-5) || !(math.Abs(g.sigma-w.sigma) <= 1e-12) || g.spot != w.spot || g.assumed != w.assumed || g.found != w.found {
				t.Errorf("seed %d at %s: %+v, straight %+v", seed, k, g, w)
			}
		}
		left += max(0, len(got)-len(want))
		for f, w := range long {
			if !(math.Abs(longer[f]-w) <= 1e-3) {
				t.Errorf("seed %d: %g m of edges %b, straight %g", seed, longer[f], f, w)
			}
		}
		if !(math.Abs(a.Area-b.Area) <= 1e-3) || !(math.Abs(a.AssumedShare-b.AssumedShare) <= 1e-6) || len(a.Warnings) != len(b.Warnings) {
			t.Errorf("seed %d: %g m2 and %g assumed, straight %g and %g; %v and %v", seed, b.Area, b.AssumedShare, a.Area, a.AssumedShare, b.Warnings, a.Warnings)
		}
	}
	if left > points/50 {
		t.Errorf("%d of %d points stand elsewhere", left, points)
	}
}

// TestEdgesAlongASlantedWall: by hand, a roof of 20 by 10 m with a gutter of two pieces along one side and a free edge over half of the next, turned and far off: 20 m and 5 m of open edge, wherever it lies. An edge may pass its corner by as much as lies on the line, 20 mm at either
// end, but not cut it.
func TestEdgesAlongASlantedWall(t *testing.T) {
	for _, to := range []func(x, y float64) orb.Point{
		func(x, y float64) orb.Point { return orb.Point{x, y} },
		func(x, y float64) orb.Point { return orb.Point{0.8*x - 0.6*y + 300, 0.6*x + 0.8*y - 500} },
		func(x, y float64) orb.Point { return orb.Point{-0.6*x - 0.8*y - 90, 0.8*x - 0.6*y + 700} },
	} {
		at := func(x, y float64) roof.Position { p := to(x, y); return shape.At(p[0], p[1], 0.01*y) }
		bare := func(x, y float64) roof.Position { p := to(x, y); return shape.Bare(p[0], p[1]) }
		made := func(edges ...[]roof.Position) *roof.Roof {
			r := shape.New("box", at(0, 0), at(20, 0), at(20, 10), at(0, 10))
			p := to(7, 4)
			shape.Spot(r, p[0], p[1], 0.04)
			for _, e := range edges {
				shape.Edge(r, roof.Gutter, e...)
			}
			return r
		}
		for name, r := range map[string]*roof.Roof{
			"exact":                        made([]roof.Position{bare(0, 0), bare(8, 0), bare(20, 0)}, []roof.Position{bare(20, 0), bare(20, 5)}),
			"passing its corners by 18 mm": made([]roof.Position{bare(-0.018, 0), bare(20.018, 0)}, []roof.Position{bare(20, 0), bare(20, 5)}),
			"wavy by 15 mm":                made([]roof.Position{bare(0, 0.015), bare(8, -0.015), bare(20, 0.015)}, []roof.Position{bare(20, 0), bare(20, 5)}),
		} {
			s := build(t, r)
			open := 0.0
			for e, flag := range s.TIN.Flag {
				if flag&surface.OpenEdge != 0 {
					a, b := s.TIN.V[e], s.TIN.End(int32(e))
					open += math.Hypot(s.TIN.X[b]-s.TIN.X[a], s.TIN.Y[b]-s.TIN.Y[a])
				}
			}
			if !(math.Abs(open-25) <= 0.05) {
				t.Errorf("%s: %g m of open edge, want 25", name, open)
			}
		}
		if p := refused(t, made([]roof.Position{bare(15, 0), bare(20, 5)})); len(p) != 1 {
			t.Errorf("across a corner: %v", p)
		}
	}
}
