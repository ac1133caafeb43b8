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

// cellSegments makes n points of which the first 2*71*71 are the ends of one segment in each cell of a 71 by 71
// grid, so that no two segments cross.
func cellSegments(n int) (x, y []float64, segs []mesh.Segment) {
	const k = 71
	r := rand.New(rand.NewPCG(3, 1))
	cell := 1000.0 / k
	for j := range k {
		for i := range k {
			a := [2]float64{0.02 + 0.3*r.Float64(), 0.02 + 0.96*r.Float64()}
			b := [2]float64{0.68 + 0.3*r.Float64(), 0.02 + 0.96*r.Float64()}
			if r.IntN(2) == 1 {
				a, b = [2]float64{a[1], a[0]}, [2]float64{b[1], b[0]}
			}
			segs = append(segs, mesh.Segment{A: int32(len(x)), B: int32(len(x) + 1), Flag: 1})
			x = append(x, (float64(i)+a[0])*cell, (float64(i)+b[0])*cell)
			y = append(y, (float64(j)+a[1])*cell, (float64(j)+b[1])*cell)
		}
	}
	for len(x) < n {
		x, y = append(x, 1000*r.Float64()), append(y, 1000*r.Float64())
	}
	return x, y, segs
}

func BenchmarkConstrain(b *testing.B) {
	x, y, segs := cellSegments(100_000)
	z := heights(x, y)
	b.Run("100k+5k", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, crossings, err := mesh.Triangulate(snap(x), snap(y), snap(z), segs); err != nil || len(crossings) > 0 {
				b.Fatal(err, crossings)
			}
		}
	})
}
