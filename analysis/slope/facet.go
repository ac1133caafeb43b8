package slope

import (
	"math"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Aspect returns the bearing, degrees clockwise from grid north in [0, 360), of the direction water
// runs on a plane of that uphill gradient; NaN when the plane is level.
func Aspect(dx, dy float64) float64 {
	if dx == 0 && dy == 0 {
		return math.NaN()
	}
	a := math.Atan2(-dx, -dy) * 180 / math.Pi
	if a < 0 {
		a += 360
	}
	if a > 360-1e-9 { // north but for rounding
		a = 0
	}
	return a
}

// corners returns the corners of facet f about an origin.
func corners(t *surface.TIN, f int32, ox, oy float64) (x, y, z [3]float64) {
	for c := range 3 {
		v := t.V[3*f+int32(c)]
		x[c], y[c], z[c] = t.X[v]-ox, t.Y[v]-oy, t.Z[v]
	}
	return x, y, z
}

// facets fills slope, aspect and, where sigma is known, the standard error of every facet.
func (g *grower) facets(s *Slopes) {
	t, n := g.t, g.t.Facets()
	s.Slope, s.Aspect = make([]float64, n), make([]float64, n)
	for f := range n {
		s.Slope[f] = vector.Norm(t.DX[f], t.DY[f])
		s.Aspect[f] = Aspect(t.DX[f], t.DY[f])
	}
	if g.sigma == nil {
		return
	}
	s.Sigma = make([]float64, n)
	for f := range n {
		s.Sigma[f] = facetSigma(t, int32(f), g.sigma)
	}
}

// facetSigma returns an upper bound of the standard error of a facet's slope: the root of the summed
// variances of both components of its gradient,
//
//	sqrt(sum of sigma_i^2 |e_i|^2) / (2 A)
//
// with e_i the edge opposite corner i and A the plan area. Independent errors of elevation.
func facetSigma(t *surface.TIN, f int32, sigma []float64) float64 {
	x, y, _ := corners(t, f, t.X[t.V[3*f]], t.Y[t.V[3*f]])
	sum := 0.0
	for c := range 3 {
		a, b := (c+1)%3, (c+2)%3
		ex, ey := x[b]-x[a], y[b]-y[a]
		s := sigma[t.V[3*f+int32(c)]]
		sum += float64(s * s * (float64(ex*ex) + float64(ey*ey)))
	}
	return math.Sqrt(sum) / (2 * t.FacetArea(f))
}
