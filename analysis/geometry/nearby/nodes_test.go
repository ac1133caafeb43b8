package nearby_test

import (
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/nearby"
)

// Nodes finds what trying every node finds: in crowds that fill the stretches of their blocks, far apart, across the middle of the
// grid, in a table that has to grow, and after nodes were moved.
func TestNodesFindTheNearest(t *testing.T) {
	const reach = 1000
	for seed := range uint64(16) {
		r := rand.New(rand.NewPCG(seed, 3))
		span := []int32{3_000, 60_000, 2_000_000, 1 << 29}[seed%4]
		place := func() (x, y int32) { return r.Int32N(2*span) - span, r.Int32N(2*span) - span }
		nodes := nearby.NewNodes(8, reach)
		var xs, ys []int32
		found := 0
		for n := range int32(700) {
			x, y := place()
			if n > 0 && r.IntN(3) == 0 { // beside another
				k := r.Int32N(n)
				x, y = xs[k]+r.Int32N(reach), ys[k]-r.Int32N(reach)
			}
			want, least := int32(-1), int64(reach*reach)
			for k := range xs {
				dx, dy := int64(xs[k])-int64(x), int64(ys[k])-int64(y)
				if d := dx*dx + dy*dy; d < least || d == least && want < 0 {
					want, least = int32(k), d
				}
			}
			if got := nodes.Find(x, y, xs, ys); got != want {
				t.Fatalf("seed %d: at (%d, %d) stands %d, want %d", seed, x, y, got, want)
			}
			if want >= 0 {
				found++
			}
			xs, ys = append(xs, x), append(ys, y)
			nodes.Put(n, x, y)
			if k := r.Int32N(n + 1); r.IntN(4) == 0 {
				x, y = place()
				nodes.Move(k, xs[k], ys[k], x, y)
				xs[k], ys[k] = x, y
			}
		}
		if found < 100 {
			t.Errorf("seed %d: only %d places were taken", seed, found)
		}
	}
}
