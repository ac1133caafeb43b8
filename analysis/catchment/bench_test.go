package catchment_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/catchment"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// falls is sixteen squares of four-way falls of 2 % to drains, spots about a metre apart with 3 mm noise.
func falls(spots int) *roof.Roof {
	r := rand.New(rand.NewPCG(1, 2))
	n := int(math.Sqrt(float64(spots)))
	side := float64(n)
	height := func(x, y float64) float64 {
		u, v := math.Mod(x*4/side, 1)-0.5, math.Mod(y*4/side, 1)-0.5
		return math.Round((0.02*max(math.Abs(u), math.Abs(v))*side/4+0.003*(2*r.Float64()-1))*1e5) / 1e5
	}
	roof := shape.New("falls", shape.Bare(0, 0), shape.Bare(side, 0), shape.Bare(side, side), shape.Bare(0, side))
	shape.Grid(roof, 0, 0, side, side, n, n, height)
	for i := range 4 {
		for j := range 4 {
			shape.Drain(roof, (float64(i)+0.5)*side/4, (float64(j)+0.5)*side/4, 1)
		}
	}
	return roof
}

func BenchmarkTrace(b *testing.B) {
	for _, spots := range []int{10000, 100000} {
		x := run(b, falls(spots), all)
		for _, listed := range [][]bool{nil, make([]bool, len(x.p.Ponds))} {
			b.Run(fmt.Sprintf("%d/listed=%v", spots, listed == nil), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, _, err := catchment.Trace(x.s, x.p, func() []bool { return listed }); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(len(x.p.Ponds)), "ponds")
			})
		}
	}
}
