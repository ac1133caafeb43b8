package nearby_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/nearby"
)

// TestAgainstAll compares with a look at every place: on clouds, on lines, on one place taken often, on nothing, with boxes
// that lie inside, beside and about them.
func TestAgainstAll(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 3))
	shapes := []func() orb.Point{
		func() orb.Point { return orb.Point{100 * r.Float64(), 30 * r.Float64()} },
		func() orb.Point { return orb.Point{1e6 + 50*r.Float64(), -2e5} },
		func() orb.Point { return orb.Point{-3, 40 * r.Float64()} },
		func() orb.Point { return orb.Point{5, 5} },
		func() orb.Point { return orb.Point{float64(r.IntN(8)), float64(r.IntN(8))} },
	}
	found := 0
	for k, shape := range shapes {
		for n := range 40 {
			at := make([]orb.Point, n*n/10)
			for i := range at {
				at[i] = shape()
			}
			p := nearby.New(at)
			for range 30 {
				a, w, h := shape(), 20*r.Float64(), 20*r.Float64()
				b := orb.Bound{Min: orb.Point{a[0] - w, a[1] - h}, Max: orb.Point{a[0] + w, a[1] + h}}
				if r.IntN(3) == 0 {
					b = orb.Bound{Min: a, Max: a}
				}
				var got, want []int32
				p.Each(b, func(i int32) { got = append(got, i) })
				for i := range at {
					if b.Contains(at[i]) {
						want = append(want, int32(i))
					}
				}
				slices.Sort(got)
				if !slices.Equal(got, want) {
					t.Fatalf("shape %d, %d places: %v in %v, want %v", k, len(at), got, b, want)
				}
				found += len(got)
			}
		}
	}
	if found < 1000 {
		t.Errorf("%d places found in all", found)
	}
}
