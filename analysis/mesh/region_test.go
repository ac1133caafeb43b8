package mesh_test

import (
	"testing"

	"runnel/analysis/mesh"
)

// A square of 4 by 2 with a wall across its middle is two regions of two triangles each on both sides of it, one where walls of that kind do not count,
// and one where the wall has a gap.
func TestRegions(t *testing.T) {
	const wall, line = 1 << 3, 1 << 4
	x, y, z := []int32{0, 400, 400, 0, 200, 200, 200}, []int32{0, 0, 200, 200, 0, 200, 100}, make([]int32, 7)
	for _, c := range []struct {
		segments []mesh.Segment
		mask     uint8
		want     int
	}{
		{[]mesh.Segment{{A: 4, B: 6, Flag: wall}, {A: 6, B: 5, Flag: wall}}, wall, 2},
		{[]mesh.Segment{{A: 4, B: 6, Flag: wall}, {A: 6, B: 5, Flag: line}}, wall | line, 2},
		{[]mesh.Segment{{A: 4, B: 6, Flag: wall}, {A: 6, B: 5, Flag: wall}}, line, 1},
		{[]mesh.Segment{{A: 4, B: 6, Flag: wall}, {A: 6, B: 5, Flag: line}}, wall, 1},
	} {
		m, _, err := mesh.Triangulate(x, y, z, c.segments)
		if err != nil {
			t.Fatal(err)
		}
		region, n := mesh.Regions(m.Twin, m.Flag, c.mask)
		if n != c.want || region[0] != 0 {
			t.Errorf("%+v by %#x: %d regions, want %d", c.segments, c.mask, n, c.want)
		}
		for f := range int32(len(region)) { // east and west of the wall
			east := func(f int32) bool { return m.X[m.V[3*f]]+m.X[m.V[3*f+1]]+m.X[m.V[3*f+2]] > 600 }
			if c.want == 2 && (region[f] == region[0]) != (east(f) == east(0)) {
				t.Errorf("triangle %d is of region %d", f, region[f])
			}
		}
	}
}
