package surface_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// survey is a square roof of n spots about a metre apart, shaken, with four-way falls to drains, curbs without
// elevations, crossing-free breaklines and an outline without elevations.
func survey(n int) *roof.Roof {
	side := math.Round(math.Sqrt(float64(n)))
	rnd := rand.New(rand.NewPCG(1, uint64(n)))
	r := shape.New("survey", shape.Bare(0, 0), shape.Bare(side, 0), shape.Bare(side, side), shape.Bare(0, side))
	fold := func(v float64) float64 { return math.Abs(v - 16*math.Round(v/16)) }
	height := func(x, y float64) float64 { return math.Round(20*math.Max(fold(x), fold(y))) / 1000 }
	for y := 0.5; y < side; y++ {
		for x := 0.5; x < side; x++ {
			px, py := x+0.4*(rnd.Float64()-0.5), y+0.4*(rnd.Float64()-0.5)
			shape.Spot(r, px, py, height(px, py))
		}
	}
	for y := 16.0; y < side; y += 16 {
		for x := 16.0; x < side; x += 16 {
			shape.Drain(r, x, y, 0.3)
			shape.Curb(r, shape.Bare(x+3, y+1), shape.Bare(x+4, y+1), shape.Bare(x+4, y+2), shape.Bare(x+3, y+2))
			shape.Breakline(r, roof.Valley, shape.At(x+0.5, y+0.5, 0.01), shape.At(x+6, y+6, 0.12))
		}
	}
	return r
}

func BenchmarkBuild(b *testing.B) {
	for _, n := range []int{300, 10_000, 100_000} {
		r := survey(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := surface.Build(r, surface.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
