package surface_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry"
	"runnel/analysis/surface"
	"runnel/analysis/surface/surfacetest"
)

var (
	build, refused = surfacetest.Build, surfacetest.Refused
	has, says      = surfacetest.Has, surfacetest.Says
	near, volume   = surfacetest.Near, surfacetest.Volume
)

func slope(t *surface.TIN, f int32) float64 { return math.Hypot(t.DX[f], t.DY[f]) }

// footprint returns the plan area of an outlet's facets.
func footprint(s *surface.Surface, o *surface.Outlet) float64 {
	sum := 0.0
	for _, f := range o.Facets {
		sum += s.Cut.FacetArea(f)
	}
	return sum
}

// length returns the plan length of an outlet's half-edges.
func length(s *surface.Surface, o *surface.Outlet) float64 {
	sum := 0.0
	for _, e := range o.Edges {
		a, b := s.Cut.V[e], s.Cut.End(e)
		sum += math.Hypot(s.Cut.X[b]-s.Cut.X[a], s.Cut.Y[b]-s.Cut.Y[a])
	}
	return sum
}

// proveSigns checks the signs of flow: exact on the TIN, and on the cut one never a facet without a way in or out.
func proveSigns(t *testing.T, s *surface.Surface) {
	t.Helper()
	for f := range int32(s.TIN.Facets()) {
		a, b, c := s.TIN.V[3*f], s.TIN.V[3*f+1], s.TIN.V[3*f+2]
		g := s.TIN
		nx, ny, _ := geometry.Normal(g.GX[a], g.GY[a], g.GZ[a], g.GX[b], g.GY[b], g.GZ[b], g.GX[c], g.GY[c], g.GZ[c])
		for e := 3 * f; e < 3*f+3; e++ {
			u, v := g.V[e], g.End(e)
			if want := geometry.Across(nx, ny, g.GX[v]-g.GX[u], g.GY[v]-g.GY[u]); int(g.Run[e]) != want {
				t.Fatalf("half-edge %d has sign %d, not %d", e, g.Run[e], want)
			}
		}
	}
	for f := range int32(s.Cut.Facets()) {
		in, out := 0, 0
		for e := 3 * f; e < 3*f+3; e++ {
			switch s.Cut.Run[e] {
			case 1:
				out++
			case -1:
				in++
			}
		}
		if s.Cut.Level(f) != (in+out == 0) || in+out > 0 && (in == 0 || out == 0) {
			t.Fatalf("facet %d of the cut surface has %d ways in and %d out, level %v", f, in, out, s.Cut.Level(f))
		}
	}
}

// proveCut checks that cutting moved nothing: every vertex of the cut TIN lies on its facet's old plane, and old ones are as
// they were. Vertices stand on the grid, each up to a unit or two off the edge that
// it splits, which may itself be a piece of one: so the plane is met to a few units times the slope.
func proveCut(t *testing.T, s *surface.Surface) {
	t.Helper()
	for v := range s.TIN.X {
		if s.TIN.X[v] != s.Cut.X[v] || s.TIN.Y[v] != s.Cut.Y[v] || s.TIN.Z[v] != s.Cut.Z[v] {
			t.Fatalf("vertex %d moved", v)
		}
	}
	for f := range int32(s.Cut.Facets()) {
		p := s.Cut.Parent[f]
		if s.Cut.DX[f] != s.TIN.DX[p] || s.Cut.DY[f] != s.TIN.DY[p] {
			t.Fatalf("facet %d of the cut surface has another gradient than its parent", f)
		}
		for _, v := range s.Cut.V[3*f : 3*f+3] {
			want := s.TIN.Height(p, s.Cut.X[v], s.Cut.Y[v])
			if !near(s.Cut.Z[v], want, 6*surface.Grid*slope(s.TIN, p)+1e-9) {
				t.Fatalf("vertex %d of the cut surface stands at %.12f, its facet of slope %g at %.12f", v, s.Cut.Z[v], slope(s.TIN, p), want)
			}
			if s.Cut.Level(f) && s.Cut.Z[v] != s.TIN.Z[s.TIN.V[3*p]] {
				t.Fatalf("vertex %d of a level facet stands at %.17g, not %.17g", v, s.Cut.Z[v], s.TIN.Z[s.TIN.V[3*p]])
			}
		}
	}
}
