package evidence_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/evidence"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// trial is one kind of drained roof: a rectangle of m by n squares of spots, without a low place as built.
type trial struct {
	name string
	make func(m, n int, step float64) (*roof.Roof, func(x, y float64) float64)
}

// trials are drained roofs whose spots stand on a grid, jittered so that the diagonals fall by chance.
func trials() []trial {
	return []trial{
		{"plane", func(m, n int, step float64) (*roof.Roof, func(x, y float64) float64) {
			l, w := float64(m)*step, float64(n)*step
			r := shape.New("plane", shape.Bare(0, 0), shape.Bare(l, 0), shape.Bare(l, w), shape.Bare(0, w))
			shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(l, 0))
			return r, func(_, y float64) float64 { return 0.02 * y }
		}},
		{"four ways", func(m, n int, step float64) (*roof.Roof, func(x, y float64) float64) {
			l, w := float64(m)*step, float64(n)*step
			r := shape.New("four", shape.Bare(0, 0), shape.Bare(l, 0), shape.Bare(l, w), shape.Bare(0, w))
			o := shape.Drain(r, l/2, w/2, 0.3)
			z := func(x, y float64) float64 { return 0.02 * math.Max(math.Abs(x-l/2), math.Abs(y-w/2)) }
			o.Invert, o.HasInvert = 0, true
			return r, z
		}},
	}
}

// survey measures a roof on a grid of squares with errors of one standard deviation; inverts too.
func survey(r *roof.Roof, z func(x, y float64) float64, m, n int, step, sigma float64, random *rand.Rand) {
	id := 0
	for j := range n {
		for i := range m {
			x := (float64(i) + 0.5 + 0.1*(random.Float64()-0.5)) * step
			y := (float64(j) + 0.5 + 0.1*(random.Float64()-0.5)) * step
			shape.Spot(r, x, y, z(x, y)+sigma*random.NormFloat64())
			id++
		}
	}
	for i := range r.Outlets {
		o := &r.Outlets[i]
		o.Invert += sigma * random.NormFloat64()
		shape.Spot(r, o.Plan[0], o.Plan[1], z(o.Plan[0], o.Plan[1])+sigma*random.NormFloat64())
	}
	for i := range r.Spots {
		r.Spots[i].Sigma = quantity.Length(sigma)
	}
}

func judged(tb testing.TB, r *roof.Roof) (*surface.Surface, *ponding.Ponds, *evidence.Result) {
	tb.Helper()
	s := shape.Build(tb, r)
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		tb.Fatal(err)
	}
	e := evidence.ErrorsOf(s, r, 0)
	return s, ps, evidence.Judge(&evidence.Input{Surface: s, Ponds: ps, Sigma: e.Sigma, Invert: e.Typical})
}

func TestScratch(t *testing.T) {
	for _, k := range trials() {
		for _, step := range []float64{0.6, 1.5, 3, 5} {
			for _, sigma := range []float64{0.002, 0.005, 0.016, 0.03} {
				bad, ponds, runs := 0, 0, 200
				most := 0.0
				th := 0.0
				for seed := range runs {
					random := rand.New(rand.NewPCG(uint64(seed), 77))
					r, z := k.make(20, 12, step)
					survey(r, z, 20, 12, step, sigma, random)
					_, ps, res := judged(t, r)
					any := false
					for p, v := range res.Ponds {
						if ps.Ponds[p].Depth > 0.00635 {
							ponds++
							any = any || v.Shown
						}
						most = max(most, v.Evidence)
					}
					th = res.Threshold
					if any {
						bad++
					}
				}
				fmt.Printf("%s step %g sigma %g: %d of %d shown; ponds %d, most E %.1f T %.1f\n", k.name, step, sigma, bad, runs, ponds, most, th)
			}
		}
	}
}
