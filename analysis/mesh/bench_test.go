package mesh_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/mesh"
)

// layout makes n points with an elevation each, in metres.
type layout struct {
	name string
	make func(n int) (x, y, z []float64)
}

func elevation(x, y float64) float64 { return 10 + 0.02*x + 0.15*math.Sin(x/37)*math.Cos(y/53) }

var layouts = []layout{
	{"uniform", func(n int) (x, y, z []float64) {
		r := rand.New(rand.NewPCG(1, 1))
		for range n {
			x, y = append(x, 1000*r.Float64()), append(y, 1000*r.Float64())
		}
		return x, y, heights(x, y)
	}},
	{"jittered", func(n int) (x, y, z []float64) { return gridded(n, 0.3) }},
	{"grid", func(n int) (x, y, z []float64) { return gridded(n, 0) }},
}

func gridded(n int, jitter float64) (x, y, z []float64) {
	r := rand.New(rand.NewPCG(2, 1))
	side := int(math.Sqrt(float64(n)))
	for j := range side {
		for i := range side {
			x = append(x, float64(i)+(2*r.Float64()-1)*jitter)
			y = append(y, float64(j)+(2*r.Float64()-1)*jitter)
		}
	}
	return x, y, heights(x, y)
}

func heights(x, y []float64) []float64 {
	z := make([]float64, len(x))
	for i := range x {
		z[i] = elevation(x[i], y[i])
	}
	return z
}

// snap puts coordinates on a grid of ten micrometres.
func snap(c []float64) []int32 {
	g := make([]int32, len(c))
	for i, v := range c {
		g[i] = int32(math.Round(v * 1e5))
	}
	return g
}

// BenchmarkTriangulate runs from float64 in to triangles out: snapping, sorting and the tie rule included.
func BenchmarkTriangulate(b *testing.B) {
	for _, size := range []struct {
		name string
		n    int
	}{{"10k", 10_000}, {"100k", 100_000}, {"1M", 1_000_000}} {
		for _, l := range layouts {
			x, y, z := l.make(size.n)
			b.Run(l.name+"/"+size.name, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, _, err := mesh.Triangulate(snap(x), snap(y), snap(z), nil); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
