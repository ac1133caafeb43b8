package storm

import (
	"fmt"
	"math"
	"testing"
	"time"

	"runnel/analysis/geometry/shape"
)

func weir(width float64) Law {
	return func(h float64) float64 { return 1.8 * width * h * math.Sqrt(h) }
}

func TestSmoke(t *testing.T) {
	for seed := range uint64(2000) {
		s := shape.Build(t, shape.Random(seed, 300))
		laws := make([]Law, len(s.Outlets))
		for i := range laws {
			if i%3 != 2 {
				laws[i] = weir(0.2)
			}
		}
		m, err := New(s, laws)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []Case{{}, {Wet: true}} {
			for _, e := range []float64{0, 4e-3 / 86400} {
				start := time.Now()
				r, err := m.Route(Storm{Rain: Steps{[]float64{0, 600, 1800, 3600}, []float64{1e-5, 5e-5, 1e-6}}, Evaporation: e}, c)
				if err != nil {
					t.Errorf("seed %d: %v", seed, err)
					continue
				}
				if seed < 12 && !c.Wet && e == 0 {
					fmt.Println(seed, len(s.Outlets), len(m.tree), time.Since(start), r.Deepest, r.MassError, r.Fallen, r.Left, len(r.Events), r.DrainTime/3600)
				}
			}
		}
	}
}
