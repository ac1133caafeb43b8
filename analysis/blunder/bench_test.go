package blunder_test

import (
	"math/rand/v2"
	"testing"

	"runnel/analysis/blunder"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/surface"
)

// BenchmarkFind looks through 10,000 spots of one plane with errors of 3 mm, none of them odd.
func BenchmarkFind(b *testing.B) {
	d := rand.New(rand.NewPCG(1, 8))
	r := shape.New("plane", shape.Bare(0, 0), shape.Bare(200, 0), shape.Bare(200, 200), shape.Bare(0, 200))
	shape.Grid(r, 0, 0, 200, 200, 99, 99, func(x, _ float64) float64 { return 0.02*x + 0.003*d.NormFloat64() })
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		blunder.Find(r, s, 0.003)
	}
}
