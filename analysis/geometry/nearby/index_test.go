package nearby_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/nearby"
)

// Whatever boxes there are and in however many cells: what is near a place, or in the cells that a box meets, holds all that is there by comparing each,
// in order and each once; a cell holds no box that does not touch it.
func TestIndexAgainstAll(t *testing.T) {
	for seed := range uint64(20) {
		random := rand.New(rand.NewPCG(seed, 9))
		box := func(most float64) orb.Bound {
			x, y := 40*random.Float64()-10, 25*random.Float64()-5
			return orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + most*random.Float64(), y + most*random.Float64()}}
		}
		boxes := make([]orb.Bound, 1+random.IntN(60))
		for i := range boxes {
			boxes[i] = box(6)
		}
		all := boxes[0]
		for _, b := range boxes {
			all = all.Union(b)
		}
		cells := 1 + random.IntN(200)
		for name, g := range map[string]*nearby.Index{
			"boxes": nearby.NewBoxes(len(boxes), cells, func(i int) orb.Bound { return boxes[i] }),
			"items": nearby.NewIndex(all, len(boxes), cells, func(i int) (float64, float64) { return boxes[i].Min[1], boxes[i].Max[1] },
				func(i int, y0, y1 float64) (float64, float64, bool) {
					return boxes[i].Min[0], boxes[i].Max[0], boxes[i].Min[1] <= y1 && boxes[i].Max[1] >= y0
				}),
		} {
			held := 0
			for c := range g.Cells() {
				held += len(g.List(c))
			}
			if held < len(boxes) || held > len(boxes)*g.Cells() {
				t.Fatalf("%s: %d boxes stand in %d places of %d cells", name, len(boxes), held, g.Cells())
			}
			for range 50 {
				w := box(12)
				got := g.Within(w.Min[0], w.Min[1], w.Max[0], w.Max[1])
				if !slices.IsSorted(got) || len(slices.Compact(slices.Clone(got))) != len(got) {
					t.Fatalf("%s: %v", name, got)
				}
				near := g.Near(w.Min[0], w.Min[1])
				for i, b := range boxes {
					if b.Intersects(w) && !slices.Contains(got, int32(i)) {
						t.Fatalf("%s: box %d is not among those within %v", name, i, w)
					}
					if b.Contains(w.Min) && !slices.Contains(near, int32(i)) {
						t.Fatalf("%s: box %d is not near %v", name, i, w.Min)
					}
				}
			}
		}
	}
}
