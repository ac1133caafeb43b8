package taper

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
	"runnel/analysis/taper/domain"
)

// A way to a side comes out at the least of the side's elevation and the fall on the way from there: compared with ten thousand places along the side.
// Four falls square to each other rise by the greater of the two distances along and across; an end that no way has reached counts for nothing.
func TestLeastOverASide(t *testing.T) {
	x, y := []float64{3, 0, 1}, []float64{1, -2, 4}
	for _, z := range [][2]float64{{0, 0}, {0.1, 0}, {0, 0.15}, {-0.05, 0.02}, {math.Inf(1), 0.03}, {0.03, math.Inf(1)}} {
		c := &clearing{
			p: &Problem{Base: Base{TIN: &surface.TIN{X: x, Y: y}}, Gauge: domain.FourWay(orb.Point{1, 0}), Slope: 0.02},
			z: []float64{math.Inf(1), z[0], z[1]},
		}
		want := math.Inf(1)
		for i := range 10001 {
			s := float64(i) / 10000
			height := z[0] + s*(z[1]-z[0])
			switch {
			case i == 0:
				height = z[0]
			case i == 10000:
				height = z[1]
			case math.IsInf(z[0], 1) || math.IsInf(z[1], 1):
				continue
			}
			dx, dy := math.Abs(x[0]-x[1]-s*(x[2]-x[1])), math.Abs(y[0]-y[1]-s*(y[2]-y[1]))
			want = math.Min(want, height+0.02*math.Max(dx, dy))
		}
		for _, got := range []float64{c.over(0, 1, 2), c.over(0, 2, 1)} {
			if !(math.Abs(got-want) < 1e-5) {
				t.Errorf("ends at %v: %g, want %g", z, got, want)
			}
		}
	}
}
