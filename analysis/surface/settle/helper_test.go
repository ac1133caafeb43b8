package settle_test

import (
	"testing"

	"runnel/analysis/surface"
	"runnel/analysis/surface/surfacetest"
)

var (
	build, refused = surfacetest.Build, surfacetest.Refused
	has, says      = surfacetest.Has, surfacetest.Says
	near, volume   = surfacetest.Near, surfacetest.Volume
)

// at returns the vertex at (x, y), or fails.
func at(t *testing.T, tin *surface.TIN, x, y float64) int32 {
	t.Helper()
	for v := range tin.X {
		if near(tin.X[v], x, 1e-9) && near(tin.Y[v], y, 1e-9) {
			return int32(v)
		}
	}
	t.Fatalf("no vertex at (%g, %g)", x, y)
	return -1
}
