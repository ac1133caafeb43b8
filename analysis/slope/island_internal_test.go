package slope

import (
	"slices"
	"testing"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/surface"
)

// By hand: three facets of a strip, one that stands alone, and two that share a side. What holds no plane becomes one region a connected part; what holds one stays, and parts it.
func TestPartsWithoutAPlane(t *testing.T) {
	twin := slices.Repeat([]int32{-1}, 18)
	link := func(a, b int32) { twin[a], twin[b] = b, a }
	link(1, 3)   // facets 0 and 1
	link(4, 8)   // facets 1 and 2
	link(14, 15) // facets 4 and 5
	for _, c := range []struct{ before, want []int32 }{
		{[]int32{-1, -1, -1, -1, -1, -1}, []int32{0, 0, 0, 1, 2, 2}},
		{[]int32{-1, 0, -1, -1, -1, 0}, []int32{1, 0, 2, 3, 4, 0}},
		{[]int32{0, 0, 0, 0, 0, 0}, []int32{0, 0, 0, 0, 0, 0}},
	} {
		g := &grower{t: &surface.TIN{V: make([]int32, 18), Twin: twin}, region: slices.Clone(c.before), weak: slices.Repeat([]bool{true}, 6)}
		g.sums = append(g.sums, make([]regression.Sums, max(0, int(slices.Max(c.before))+1))...)
		g.islands()
		if !slices.Equal(g.region, c.want) || len(g.sums) != int(slices.Max(c.want))+1 {
			t.Errorf("%v becomes %v with %d sums, want %v", c.before, g.region, len(g.sums), c.want)
		}
		for f := range g.weak {
			if g.weak[f] != (c.before[f] >= 0) {
				t.Errorf("%v: facet %d weak %t", c.before, f, g.weak[f])
			}
		}
	}
}
