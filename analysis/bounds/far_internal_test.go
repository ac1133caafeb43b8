package bounds

import (
	"math"
	"testing"
)

// Neighbours are as far from a vertex as they lie in plan, each the way back too.
func TestNeighboursAreAsFarAsTheyLie(t *testing.T) {
	m := modelOf(t, bumpy(2, 0.02))
	p := m.around([]int32{0}, math.Inf(1))
	if len(p.near) < 500 {
		t.Fatalf("%d neighbours", len(p.near))
	}
	for a, v := range p.vertex {
		for k := p.first[a]; k < p.first[a+1]; k++ {
			w := p.vertex[p.near[k]]
			if want := math.Hypot(m.t.X[w]-m.t.X[v], m.t.Y[w]-m.t.Y[v]); !(math.Abs(p.far[k]-want) <= 1e-9) {
				t.Fatalf("from %d to %d %g m, want %g", v, w, p.far[k], want)
			}
		}
	}
}
