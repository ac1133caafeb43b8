package evidence_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// dished is a roof of 24 by 24 m that falls 1 % to a gutter, with a dish in its middle: a paraboloid of that depth and radius.
func dished(deep, radius float64) (*roof.Roof, func(x, y float64) float64) {
	const l = 24.0
	r := shape.New("dished", shape.Bare(0, 0), shape.Bare(l, 0), shape.Bare(l, l), shape.Bare(0, l))
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(l, 0))
	return r, func(x, y float64) float64 {
		q := ((x-l/2)*(x-l/2) + (y-l/2)*(y-l/2)) / (radius * radius)
		return 0.01*y - deep*math.Max(0, 1-q)
	}
}

// measured surveys a dished roof on a grid that lies over it by chance.
func measured(deep, radius, step, sigma float64, random *rand.Rand) *roof.Roof {
	r, z := dished(deep, radius)
	ox, oy := step*random.Float64(), step*random.Float64()
	for y := oy; y < 24; y += step {
		for x := ox; x < 24; x += step {
			px, py := x+0.1*step*(random.Float64()-0.5), y+0.1*step*(random.Float64()-0.5)
			if px > 0.05 && py > 0.05 && px < 23.95 && py < 23.95 {
				shape.Spot(r, px, py, z(px, py)+sigma*random.NormFloat64())
			}
		}
	}
	for i := range r.Spots {
		r.Spots[i].Sigma = quantity.Length(sigma)
	}
	return r
}

// truth returns the depth and area of the water that a dish holds, from spots every 0.2 m without error.
func truth(tb testing.TB, deep, radius float64) (depth, area float64) {
	tb.Helper()
	s := shape.Build(tb, measured(deep, radius, 0.2, 0, rand.New(rand.NewPCG(1, 1))))
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		tb.Fatal(err)
	}
	for i := range ps.Ponds {
		if ps.Ponds[i].Depth > depth {
			depth, area = ps.Ponds[i].Depth, ps.Ponds[i].Area
		}
	}
	return depth, area
}

// found returns the share of surveys that show the pond of a dish.
func found(tb testing.TB, deep, radius, step, sigma float64, runs int, seed uint64) float64 {
	tb.Helper()
	n := 0
	for i := range uint64(runs) {
		if shows(tb, measured(deep, radius, step, sigma, rand.New(rand.NewPCG(seed+i, 21)))) {
			n++
		}
	}
	return float64(n) / float64(runs)
}

// TestPower: which ponds a survey shows. In the settled trial a dish of 80 mm and 2 m on 1 % was shown in all surveys 0.6 m apart and
// good to 16 mm and 1.5 m apart and good to 5 mm, and in 13 % of those 1.5 m apart and good to 16 mm. RUNNEL_LONG=1 prints the whole table, by depth
// and area of the water.
func TestPower(t *testing.T) {
	for _, c := range []struct{ step, sigma, least, most float64 }{
		{0.6, 0.016, 0.9, 1}, {1.5, 0.005, 0.9, 1}, {1.5, 0.016, 0, 0.5}, {5, 0.005, 0, 0.6},
	} {
		if got := found(t, 0.08, 2, c.step, c.sigma, 20, 300); got < c.least || got > c.most {
			t.Errorf("spots %g m apart, good to %g m: %.2f show it, want %g to %g", c.step, c.sigma, got, c.least, c.most)
		}
	}
	if os.Getenv("RUNNEL_LONG") != "1" {
		return
	}
	for _, d := range [][2]float64{{0.02, 1.5}, {0.03, 3}, {0.04, 2}, {0.06, 4}, {0.08, 2}, {0.08, 4}, {0.12, 6}} {
		depth, area := truth(t, d[0], d[1])
		for _, sigma := range []float64{0.003, 0.005, 0.02, 0.05} {
			row := [4]float64{}
			for i, step := range []float64{0.6, 1.5, 3, 5} {
				row[i] = 100 * found(t, d[0], d[1], step, sigma, 60, 6_000_000)
			}
			t.Logf("dish %3.0f mm, R %g m: water %2.0f mm, %4.1f m2; sigma %2.0f mm: %3.0f %3.0f %3.0f %3.0f %% at 0.6, 1.5, 3, 5 m",
				d[0]*1000, d[1], depth*1000, area, sigma*1000, row[0], row[1], row[2], row[3])
		}
	}
}

// A valley that nobody coded, between sides of 3 %, 35 degrees off a grid of 1 m, falls back 24 mm over 4 m. A spot beside it stands up to 15 mm over it, so that
// the spots alone, which err by 3 mm, know of a low place 10 mm deep or so; the planes through them know of the valley. Of fifty such surveys 45 must show it.
func TestUncodedValleyThatFallsBackIsShown(t *testing.T) {
	floor := func(x float64) float64 {
		switch {
		case x < 5:
			return 0.015 * x
		case x < 9:
			return 0.075 - 0.006*(x-5)
		default:
			return 0.051 + 0.015*(x-9)
		}
	}
	sin, cos := math.Sincos(35 * math.Pi / 180)
	shown := 0
	for seed := range uint64(50) {
		random := rand.New(rand.NewPCG(seed, 23))
		r := shape.New("back", shape.Bare(0, -5.5), shape.Bare(16, -5.5), shape.Bare(16, 5.5), shape.Bare(0, 5.5))
		dx, dy := random.Float64(), random.Float64()
		spot := func(x, y float64) {
			shape.Spot(r, x, y, floor(x)+0.03*math.Abs(y)+0.003*random.NormFloat64())
			r.Spots[len(r.Spots)-1].Sigma = 0.003
		}
		for i := -20; i <= 20; i++ {
			for j := -20; j <= 20; j++ {
				u, v := float64(i)+dx, float64(j)+dy
				if x, y := 8+u*cos-v*sin, u*sin+v*cos; x > 0.1 && x < 15.9 && math.Abs(y) < 5.4 {
					spot(x, y)
				}
			}
		}
		spot(0.05, 0)
		o := shape.Scupper(r, 0, 0, 0.2)
		o.Invert, o.HasInvert = -0.01, true
		if shows(t, r) {
			shown++
		}
	}
	if shown < 45 {
		t.Errorf("shown by %d of 50 surveys", shown)
	}
}
