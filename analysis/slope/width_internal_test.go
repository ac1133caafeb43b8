package slope

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/paulmach/orb/simplify"
)

// The length of a ring told no finer is that of the ring that orb/simplify leaves, to the last digit.
func TestCoarseRing(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		n := 3 + r.IntN(60)
		var ring orb.Ring
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			ring = append(ring, orb.Point{10*math.Cos(a) + r.Float64(), 6*math.Sin(a) + r.Float64()})
		}
		ring = append(ring, ring[0])
		for _, g := range []float64{0.01, 0.3, 1, 5, 100} {
			if a, b := coarse(ring, g), planar.Length(simplify.DouglasPeucker(g).Ring(ring.Clone())); a != b {
				t.Fatalf("%v, want %v at %v", a, b, g)
			}
		}
	}
}
