package storm

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/surface"
)

// survey is a walled roof with about one spot per square metre: sixteen four-way falls of
// 0.5 % to drains, noise of 5 mm, and an overflow scupper in the middle of each side, 50 mm above the roof there.
func survey(tb testing.TB, spots int) *surface.Surface {
	tb.Helper()
	const slope, noise = 0.005, 0.005 // of little fall, so that noise makes thousands of pits
	rng := rand.New(rand.NewPCG(7, uint64(spots)))
	side := math.Round(math.Sqrt(float64(spots)))
	height := func(x, y float64) float64 {
		u, v := math.Mod(x/side*4, 1)-0.5, math.Mod(y/side*4, 1)-0.5
		return slope*max(math.Abs(u), math.Abs(v))*side/4 + noise*(rng.Float64()*2-1)
	}
	r := shape.New("survey", shape.Bare(0, 0), shape.Bare(side, 0), shape.Bare(side, side), shape.Bare(0, side))
	for i := range int(side) {
		for j := range int(side) {
			x, y := float64(i)+0.05+0.9*rng.Float64(), float64(j)+0.05+0.9*rng.Float64()
			shape.Spot(r, x, y, height(x, y))
		}
	}
	for _, a := range []float64{0.125, 0.375, 0.625, 0.875} {
		for _, b := range []float64{0.125, 0.375, 0.625, 0.875} {
			shape.Drain(r, a*side, b*side, 0.3)
		}
	}
	for _, p := range [][2]float64{{0.5, 0}, {1, 0.5}, {0.5, 1}, {0, 0.5}} {
		o := shape.Scupper(r, p[0]*side, p[1]*side, 0.3)
		o.Duty, o.Invert, o.HasInvert = 1, slope*side/8+0.05, true
	}
	return shape.Build(tb, r)
}

func weirs(s *surface.Surface, width float64) []Law {
	laws := make([]Law, len(s.Outlets))
	for i := range laws {
		laws[i] = weir(width)
	}
	return laws
}

// hours is a storm of some hours in steps of six minutes, highest in the middle.
func hours(n int) Steps {
	s := Steps{Time: []float64{0}}
	for i := range 10 * n {
		s.Time = append(s.Time, float64(i+1)*360)
		s.Rate = append(s.Rate, 3e-5/(1+math.Abs(float64(i)-float64(5*n))/3))
	}
	return s
}

func BenchmarkNew(b *testing.B) {
	for _, n := range []int{300, 100_000} {
		s := survey(b, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := New(s, weirs(s, 0.6)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkRoute(b *testing.B) {
	for _, n := range []int{300, 100_000} {
		s := survey(b, n)
		m, err := New(s, weirs(s, 0.6))
		if err != nil {
			b.Fatal(err)
		}
		for name, storm := range map[string]Storm{
			"1h":  {Rain: hours(1)},
			"24h": {Rain: hours(24)},
			"dry": {Rain: hours(1), Evaporation: 4e-3 / 86400},
		} {
			b.Run(fmt.Sprintf("%d/%s", n, name), func(b *testing.B) {
				for b.Loop() {
					if _, err := m.route(storm, Case{}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

func BenchmarkBlockages(b *testing.B) {
	s := survey(b, 300)
	for b.Loop() {
		m, err := New(s, weirs(s, 0.6))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := m.Blockages(Storm{Rain: hours(1)}, m.Cases(false)); err != nil {
			b.Fatal(err)
		}
	}
}

// weir is a sharp-crested weir of a width [m]: 1.8 b h^1.5, a round figure for tests.
func weir(width float64) Law {
	return func(h float64) float64 { return 1.8 * width * h * math.Sqrt(h) }
}
