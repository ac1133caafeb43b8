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

// Cells over 4 by 2 m whose boxes stand in the lower left and the upper right quarter: a box that reaches into a cell of theirs meets one, one in the empty corners or short of all does not. About as many cells
// are made as were asked for, whatever the shape.
func TestMeetsAndReaches(t *testing.T) {
	by := orb.Point{-100, 300}
	box := func(x0, y0, x1, y1 float64) orb.Bound {
		return orb.Bound{Min: orb.Point{x0 + by[0], y0 + by[1]}, Max: orb.Point{x1 + by[0], y1 + by[1]}}
	}
	boxes := []orb.Bound{box(0, 0, 0.4, 0.4), box(3.6, 1.6, 4, 2)}
	g := nearby.NewBoxes(2, 800, func(i int) orb.Bound { return boxes[i] })
	for _, c := range []struct {
		b    orb.Bound
		want bool
	}{
		{box(0.2, 0.2, 0.3, 0.3), true},
		{box(-3, -3, 0.1, 0.1), true},
		{box(-3, -3, -0.2, 0.1), false},
		{box(-3, -3, 0.1, -0.2), false},
		{box(1, 0.5, 3, 1.5), false},
		{box(0, 1.5, 0.3, 2), false},
		{box(3.5, 0, 4, 0.5), false},
		{box(3.8, 0, 3.9, 1.9), true},
		{box(-1, 1.7, 3.7, 1.8), true},
		{box(0.2, 0.3, 3, 1.5), true},
	} {
		if got := g.Meets(c.b); got != c.want {
			t.Errorf("%v: meets %v", c.b, got)
		}
	}
	for p, want := range map[orb.Point]bool{{0, 0}: true, {-0.5, 0}: true, {-0.51, 1}: false, {1, -0.5}: true, {1, -0.51}: false, {9, 9}: true} {
		if got := g.Reaches(p[0]+by[0], p[1]+by[1], 0.5); got != want {
			t.Errorf("%v: reaches %v", p, got)
		}
	}
	for _, c := range []struct{ w, h float64 }{{4, 2}, {100, 100}, {300, 2}, {2, 300}, {10, 70}} {
		n := nearby.NewBoxes(1, 500, func(int) orb.Bound { return box(0, 0, c.w, c.h) }).Cells()
		if n < 400 || n > 1000 {
			t.Errorf("%d cells over %g by %g m, asked for 500", n, c.w, c.h)
		}
	}
}
