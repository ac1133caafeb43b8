package catchment_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
)

// Over level ground water takes the straight way to a drain at floor level, round the corners of a curb where that is
// between, whatever the mesh. The floor is 12 m square with spots every metre, askew, the drain at 10, 6 with a bowl of
// 0.3 m, the curb from 4, 4 to 8, 8: by hand the far corners lie sqrt(8^2 + 4^2) + sqrt(8) - 0.15 = 11.62 m off, over one corner of the curb.
func TestTravelOverLevelGround(t *testing.T) {
	r := shape.New("level", shape.At(0, 0, 0), shape.At(12, 0, 0), shape.At(12, 12, 0), shape.At(0, 12, 0))
	shape.Curb(r, shape.At(4, 4, 0), shape.At(8, 4, 0), shape.At(8, 8, 0), shape.At(4, 8, 0))
	for i := range 13 {
		for j := range 13 {
			x, y := 0.5+0.91*float64(i)+0.03*float64(j%3), 0.5+0.91*float64(j)+0.02*float64(i%4)
			if math.Max(math.Abs(x-6), math.Abs(y-6)) > 2.1 && x < 11.9 && y < 11.9 {
				shape.Spot(r, x, y, 0)
			}
		}
	}
	o := shape.Drain(r, 10, 6, 0.3)
	o.Invert, o.HasInvert = 0, true
	x := run(t, r, all)
	corners := []orb.Point{{8, 4}, {8, 8}, {4, 4}, {4, 8}}
	clear := func(p, q orb.Point) bool {
		for k := range 101 {
			s := float64(k) / 100
			if math.Max(math.Abs(p[0]+s*(q[0]-p[0])-6), math.Abs(p[1]+s*(q[1]-p[1])-6)) < 2-1e-9 {
				return false
			}
		}
		return true
	}
	drain := orb.Point{10, 6}
	far := []float64{math.Sqrt(8), math.Sqrt(8), 4 + math.Sqrt(8), 4 + math.Sqrt(8)}
	way := func(p orb.Point) float64 {
		least := math.Inf(1)
		if clear(p, drain) {
			least = math.Hypot(p[0]-10, p[1]-6)
		}
		for i, q := range corners {
			if d := math.Hypot(p[0]-q[0], p[1]-q[1]) + far[i]; d < least && clear(p, q) {
				least = d
			}
		}
		return math.Max(0, least-0.15)
	}
	longest, mean := travelOf(x.c.Full, 0)
	near(t, "longest", longest, math.Sqrt(80)+math.Sqrt(8)-0.15, 0.05)
	sum, n := 0.0, 0.0
	for i := range 96 {
		for j := range 96 {
			p := orb.Point{(float64(i) + 0.5) / 8, (float64(j) + 0.5) / 8}
			if math.Max(math.Abs(p[0]-6), math.Abs(p[1]-6)) > 2 {
				sum, n = sum+way(p), n+1
			}
		}
	}
	near(t, "mean", mean, sum/n, 0.08) // ways bend at spots beside the corners
	direct, _ := travelOf(x.c.Dry, 0)
	near(t, "direct", direct, longest, 1e-9)
}
