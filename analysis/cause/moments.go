package cause

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// Moments sums area, first and second moments of triangles about an origin near them.
type moments struct {
	origin     orb.Point
	area, x, y float64
	xx, xy, yy float64
}

// triangle adds a triangle. Source: the second moments of a triangle about its centroid are area/12
// times the sum over its corners of the products of their offsets from it (by integration).
func (m *moments) triangle(a, b, c orb.Point) {
	area := math.Abs(vector.Turn(a, b, c)) / 2
	cx := (a[0]+b[0]+c[0])/3 - m.origin[0]
	cy := (a[1]+b[1]+c[1])/3 - m.origin[1]
	m.area += area
	m.x += float64(area * cx)
	m.y += float64(area * cy)
	m.xx += float64(area * cx * cx)
	m.xy += float64(area * cx * cy)
	m.yy += float64(area * cy * cy)
	for _, p := range [3]orb.Point{a, b, c} {
		dx, dy := p[0]-m.origin[0]-cx, p[1]-m.origin[1]-cy
		m.xx += float64(area / 12 * dx * dx)
		m.xy += float64(area / 12 * dx * dy)
		m.yy += float64(area / 12 * dy * dy)
	}
}

// rectangle returns centroid, unit vector of the long axis, and the sides of the rectangle that has the
// same second moments (side²/12 each).
func (m *moments) rectangle() (centre orb.Point, axis [2]float64, long, wide float64) {
	if m.area <= 0 {
		return m.origin, [2]float64{1, 0}, 0, 0
	}
	cx, cy := m.x/m.area, m.y/m.area
	xx := m.xx/m.area - float64(cx*cx)
	xy := m.xy/m.area - float64(cx*cy)
	yy := m.yy/m.area - float64(cy*cy)
	big, small, axis := eigen(xx, xy, yy)
	return orb.Point{m.origin[0] + cx, m.origin[1] + cy}, axis,
		math.Sqrt(12 * math.Max(big, 0)), math.Sqrt(12 * math.Max(small, 0))
}

// eigen returns the eigenvalues of the symmetric matrix (xx xy; xy yy), greater first, and the unit
// eigenvector of the greater.
func eigen(xx, xy, yy float64) (big, small float64, axis [2]float64) {
	mean, half := (xx+yy)/2, (xx-yy)/2
	r := vector.Norm(half, xy)
	big, small = mean+r, mean-r
	switch {
	case r == 0:
		axis = [2]float64{1, 0}
	case half >= 0:
		axis = unit([2]float64{half + r, xy})
	default:
		axis = unit([2]float64{xy, r - half})
	}
	return big, small, axis
}

// unit returns v at length 1, and v itself where it is null.
func unit(v [2]float64) [2]float64 {
	l := vector.Norm(v[0], v[1])
	if l == 0 {
		return v
	}
	return [2]float64{v[0] / l, v[1] / l}
}
