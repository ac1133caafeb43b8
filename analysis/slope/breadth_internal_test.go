package slope

import (
	"math"
	"testing"

	"runnel/analysis/surface"
)

// By hand, far from the origin: of vertices on a line from (0, 0) to (8, 6) one stands 2 m off it to the left and one 1 m to the right.
func TestBreadthOfVertices(t *testing.T) {
	const ox, oy = 300.0, -150.0
	at := [][2]float64{{0, 0}, {4 - 1.2, 3 + 1.6}, {8, 6}, {2 + 0.6, 1.5 - 0.8}}
	tin := &surface.TIN{}
	for _, p := range at {
		tin.X, tin.Y = append(tin.X, ox+p[0]), append(tin.Y, oy+p[1])
	}
	d := &describer{grower: &grower{t: tin}}
	for _, c := range []struct {
		used []int32
		want float64
	}{{[]int32{0, 1, 2, 3}, 2}, {[]int32{0, 2, 3}, 1}, {[]int32{0, 2}, 0}} {
		d.used = c.used
		if got := d.breadth(); !(math.Abs(got-c.want) <= 1e-9) {
			t.Errorf("%v: %g, want %g", c.used, got, c.want)
		}
	}
}
