package contour_test

import (
	"math"
	"testing"

	"runnel/analysis/mesh"
	"runnel/analysis/surface"
)

// survey collects spots for a surface made by hand over their convex hull.
type survey struct {
	x, y, z []float64
	index   map[[2]int32]int32
	gx, gy  []int32
	gz      []int32
}

func grid(v float64) int32 { return int32(math.Round(v / surface.Grid)) }

// spot adds a spot once.
func (s *survey) spot(x, y, z float64) {
	if s.index == nil {
		s.index = map[[2]int32]int32{}
	}
	k := [2]int32{grid(x), grid(y)}
	if _, ok := s.index[k]; ok {
		return
	}
	s.index[k] = int32(len(s.x))
	s.gx, s.gy, s.gz = append(s.gx, k[0]), append(s.gy, k[1]), append(s.gz, grid(z))
	s.x, s.y, s.z = append(s.x, float64(k[0])*surface.Grid), append(s.y, float64(k[1])*surface.Grid), append(s.z, float64(grid(z))*surface.Grid)
}

// tin triangulates what was collected.
func (s *survey) tin(tb testing.TB) *surface.TIN {
	tb.Helper()
	m, crossings, err := mesh.Triangulate(s.gx, s.gy, s.gz, nil)
	if err != nil || len(crossings) > 0 {
		tb.Fatalf("triangulate: %v, %d crossings", err, len(crossings))
	}
	tin := &surface.TIN{
		X: s.x, Y: s.y, Z: s.z, GX: m.X, GY: m.Y, GZ: m.Z, V: m.V, Twin: m.Twin,
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
	return tin
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}
