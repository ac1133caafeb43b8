package slope_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
)

// rows is a roof of length by width with a gutter along y = 0, shot every metre on rows turned by 25 degrees, with stated errors of sigma and nothing coded.
func rows(t *testing.T, length, width, sigma float64, seed uint64, height func(x, y float64) float64) *slope.Slopes {
	t.Helper()
	random := rand.New(rand.NewPCG(seed, 5))
	r := shape.New("rows", shape.Bare(0, 0), shape.Bare(length, 0), shape.Bare(length, width), shape.Bare(0, width))
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(length, 0))
	sin, cos := math.Sincos(25 * math.Pi / 180)
	dx, dy := random.Float64(), random.Float64()
	for i := -40; i < 40; i++ {
		for j := -40; j < 40; j++ {
			u, v := float64(i)+dx, float64(j)+dy
			if x, y := u*cos-v*sin, u*sin+v*cos; x > 0.1 && x < length-0.1 && y > 0.1 && y < width-0.1 {
				shape.Spot(r, x, y, height(x, y)+sigma*random.NormFloat64())
			}
		}
	}
	for i := range r.Spots {
		r.Spots[i].Sigma = quantity.Length(sigma)
	}
	_, got := study(t, r, standard.Defaults())
	return got
}

// The lower 6 m of a shed of 20 by 14 m fall 0.4 %, the rest 2.2 %. With errors of 10 mm a plane through the lower part lies on spots up to a metre beyond it too,
// and then on more: one plane of two slopes. Of ten surveys, in nine a plane of 60 m2 or more must fall 0.4 % to 0.25 %, and the largest 2.2 %: a plane
// of half that would have either slope to 0.1 % by the errors alone.
func TestPlanesSettleAtTheBreakBetweenThem(t *testing.T) {
	good := 0
	for seed := range uint64(10) {
		got := rows(t, 20, 14, 0.01, seed, func(_, y float64) float64 { return 0.004*y + 0.018*math.Max(0, y-6) })
		flat := false
		for i := range got.Planes {
			flat = flat || got.Planes[i].Area >= 60 && math.Abs(got.Planes[i].Slope-0.004) < 0.0025
		}
		if flat && math.Abs(got.Planes[0].Slope-0.022) < 0.0025 {
			good++
		}
	}
	if good < 9 {
		t.Errorf("%d of 10 surveys", good)
	}
}

// A V of 2.5 % falls 0.4 % along y = 6 to x = 0. With errors of 10 and 20 mm, every metre, a quarter of the change of slope, 12 mm, tells no spot from the other side:
// the valley is the one line where the planes meet. Each plane, of some 110 spots over 19 by 5 m, knows its slope along the valley to 0.02 and 0.04 %.
func TestValleyThatErrorsHideIsOneLine(t *testing.T) {
	for _, sigma := range []float64{0.01, 0.02} {
		good := 0
		for seed := range uint64(10) {
			got := rows(t, 20, 12, sigma, seed, func(x, y float64) float64 { return 0.004*x + 0.025*math.Abs(y-6) })
			for i := range got.Valleys {
				v := &got.Valleys[i]
				if v.Length < 15 {
					continue
				}
				n := len(v.Plan)
				off := math.Max(math.Abs(v.Plan[0][1]-6), math.Abs(v.Plan[n-1][1]-6))
				if v.Met && v.BelowMin && v.Resolved && math.Abs(v.Slope-0.004) < 0.0015 && v.Plan[0][0] > v.Plan[n-1][0] && off < 50*sigma {
					good++
				}
			}
		}
		if good < 8 {
			t.Errorf("errors of %g m: %d of 10 surveys", sigma, good)
		}
	}
}

// The same upside down is a ridge: no valley lies there.
func TestRidgeThatErrorsHideIsNoValley(t *testing.T) {
	for seed := range uint64(10) {
		got := rows(t, 20, 12, 0.01, seed, func(x, y float64) float64 { return 0.004*x - 0.025*math.Abs(y-6) })
		for i := range got.Valleys {
			if v := &got.Valleys[i]; v.Hidden {
				t.Errorf("survey %d: a valley of %.1f m", seed, v.Length)
			}
		}
	}
}
