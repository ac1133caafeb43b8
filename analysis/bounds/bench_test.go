package bounds

import (
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/shape"
)

// BenchmarkReplicates makes the replicates of the ponds and catchments of a roof of 10,000 spots that is level but for errors of 3 mm, so that
// water stands all over it.
func BenchmarkReplicates(b *testing.B) {
	d := rand.New(rand.NewPCG(1, 9))
	r := shape.New("level", shape.Bare(0, 0), shape.Bare(200, 0), shape.Bare(200, 200), shape.Bare(0, 200))
	shape.Grid(r, 0, 0, 200, 200, 99, 99, func(_, _ float64) float64 { return 0.003 * d.NormFloat64() })
	for x := 25.0; x < 200; x += 50 {
		for y := 25.0; y < 200; y += 50 {
			shape.Drain(r, x, y, 0.3)
		}
	}
	m := modelOf(b, r)
	b.ReportAllocs()
	for b.Loop() {
		for i := range min(mostPonds, len(m.Ponds.Ponds)) {
			m.pond(int32(i), pondWork/mostPonds)
		}
		m.catchments()
	}
}
