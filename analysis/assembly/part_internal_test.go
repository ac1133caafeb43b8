package assembly

import (
	"math"
	"testing"
)

// The gradient of thickness in units of the surface's is a turn and a scale, J = [ux uy; -uy ux] / s, and its covariance J C J', here by
// multiplying the matrices out; the error of the unit adds (sigma/s)^2 of the squared length to both variances.
func TestPartOfTheSurface(t *testing.T) {
	g := Gradient{X: 0.012, Y: -0.004, XX: 4e-6, XY: 1.5e-6, YY: 1e-6, Known: true}
	for _, turn := range []float64{0, 0.3, 1.2, 2.5, 4} {
		const slope = 0.02
		sin, cos := math.Sincos(turn)
		for _, own := range []float64{0, 1e-6} {
			surface := Gradient{X: slope * cos, Y: slope * sin, XX: own, YY: own, Known: true}
			j := [2][2]float64{{cos / slope, sin / slope}, {-sin / slope, cos / slope}}
			c := [2][2]float64{{g.XX, g.XY}, {g.XY, g.YY}}
			var want [2]float64
			var cov [2][2]float64
			for a := range 2 {
				want[a] = j[a][0]*g.X + j[a][1]*g.Y
				for b := range 2 {
					for k := range 2 {
						for l := range 2 {
							cov[a][b] += j[a][k] * c[k][l] * j[b][l]
						}
					}
				}
			}
			unit := own / (slope * slope) * (want[0]*want[0] + want[1]*want[1])
			p := part(surface, g)
			for name, d := range map[string]float64{
				"along": p.X - want[0], "across": p.Y - want[1], "variance along": p.XX - cov[0][0] - unit, "variance across": p.YY - cov[1][1] - unit, "covariance": p.XY - cov[0][1],
			} {
				if !(math.Abs(d) <= 1e-9) {
					t.Errorf("turned by %g, error of the surface %g: %s is off by %g", turn, own, name, d)
				}
			}
		}
	}
}
