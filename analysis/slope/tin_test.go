package slope_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/mesh"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// survey collects spots and breaklines for a surface made by hand over their convex hull.
type survey struct {
	x, y, z  []float64
	sigma    []float64
	segments []mesh.Segment
	roof     roof.Roof
	index    map[[2]int32]int32
	gx, gy   []int32
	gz       []int32
	outlets  []surface.Outlet
}

func grid(v float64) int32 { return int32(math.Round(v / surface.Grid)) }

// spot adds a spot once and returns its vertex.
func (s *survey) spot(x, y, z float64) int32 {
	if s.index == nil {
		s.index = map[[2]int32]int32{}
	}
	k := [2]int32{grid(x), grid(y)}
	if v, ok := s.index[k]; ok {
		return v
	}
	v := int32(len(s.x))
	s.index[k] = v
	s.gx, s.gy, s.gz = append(s.gx, k[0]), append(s.gy, k[1]), append(s.gz, grid(z))
	s.x, s.y, s.z = append(s.x, float64(k[0])*surface.Grid), append(s.y, float64(k[1])*surface.Grid), append(s.z, float64(grid(z))*surface.Grid)
	return v
}

// breakline adds a breakline through positions.
func (s *survey) breakline(kind roof.BreaklineType, at ...[3]float64) {
	b := roof.Breakline{Type: kind}
	last := int32(-1)
	for _, p := range at {
		v := s.spot(p[0], p[1], p[2])
		b.Line = append(b.Line, roof.Position{Plan: orb.Point{p[0], p[1]}, Z: p[2], HasZ: true})
		if last >= 0 && last != v {
			s.segments = append(s.segments, mesh.Segment{A: last, B: v, Flag: uint8(surface.BreaklineEdge)})
		}
		last = v
	}
	s.roof.Breaklines = append(s.roof.Breaklines, b)
}

// surface triangulates what was collected.
func (s *survey) surface(tb testing.TB) *surface.Surface {
	tb.Helper()
	m, crossings, err := mesh.Triangulate(s.gx, s.gy, s.gz, s.segments)
	if err != nil || len(crossings) > 0 {
		tb.Fatalf("triangulate: %v, %d crossings", err, len(crossings))
	}
	tin := &surface.TIN{
		X: s.x, Y: s.y, Z: s.z, GX: m.X, GY: m.Y, GZ: m.Z, V: m.V, Twin: m.Twin, Sigma: s.sigma,
		Flag: make([]surface.EdgeFlag, len(m.V)), Out: make([]int32, len(s.x)),
	}
	for v := range tin.Out {
		tin.Out[v] = -1
	}
	for e := range m.V {
		tin.Flag[e] = surface.EdgeFlag(m.Flag[e])
		if tin.Out[m.V[e]] < 0 || m.Twin[e] < 0 {
			tin.Out[m.V[e]] = int32(e)
		}
	}
	for f := range int32(tin.Facets()) {
		a, b, c := tin.V[3*f], tin.V[3*f+1], tin.V[3*f+2]
		ux, uy, uz := s.x[b]-s.x[a], s.y[b]-s.y[a], s.z[b]-s.z[a]
		vx, vy, vz := s.x[c]-s.x[a], s.y[c]-s.y[a], s.z[c]-s.z[a]
		det := ux*vy - uy*vx
		dx, dy := (uz*vy-vz*uy)/det, (ux*vz-vx*uz)/det
		if m.Z[a] == m.Z[b] && m.Z[b] == m.Z[c] {
			dx, dy = 0, 0
		}
		tin.DX, tin.DY = append(tin.DX, dx), append(tin.DY, dy)
	}
	return &surface.Surface{TIN: tin, Cut: tin, Outlets: s.outlets}
}

// lattice returns places about the given distance apart over a rectangle, its border included: rows as a
// surveyor walks them, not quite straight nor even.
func lattice(l, w, apart float64, r *rand.Rand) [][2]float64 {
	nx, ny := max(1, int(math.Round(l/apart))), max(1, int(math.Round(w/apart)))
	var out [][2]float64
	for j := 0; j <= ny; j++ {
		for i := 0; i <= nx; i++ {
			x, y := l*float64(i)/float64(nx), w*float64(j)/float64(ny)
			if r != nil && i > 0 && i < nx {
				x += apart * 0.3 * (2*r.Float64() - 1)
			}
			if r != nil && j > 0 && j < ny {
				y += apart * 0.3 * (2*r.Float64() - 1)
			}
			out = append(out, [2]float64{x, y})
		}
	}
	return out
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}
