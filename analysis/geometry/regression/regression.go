// Package regression fits planes through points by weighted least squares, and solves the equations of other fits.
package regression

import "runnel/analysis/geometry/vector"

// Sums are those of a plane z = a + dx x + dy y. Coordinates are best taken from a place among the points: the sums of squares
// would swallow what they differ by.
type Sums struct{ N, X, Y, Z, XX, XY, YY, XZ, YZ float64 }

// Add takes in one point of weight one.
func (m *Sums) Add(x, y, z float64) {
	m.N++
	m.X += x
	m.Y += y
	m.Z += z
	m.XX += float64(x * x)
	m.XY += float64(x * y)
	m.YY += float64(y * y)
	m.XZ += float64(x * z)
	m.YZ += float64(y * z)
}

// Weigh takes in one point of weight w.
func (m *Sums) Weigh(w, x, y, z float64) {
	m.N += w
	m.X += float64(w * x)
	m.Y += float64(w * y)
	m.Z += float64(w * z)
	m.XX += float64(float64(w*x) * x)
	m.XY += float64(float64(w*x) * y)
	m.YY += float64(float64(w*y) * y)
	m.XZ += float64(float64(w*x) * z)
	m.YZ += float64(float64(w*y) * z)
}

// Facet takes in the integral over a facet on which z is linear, from its corners; area is its plan area.
func (m *Sums) Facet(x, y, z [3]float64, area float64) {
	sx, sy, sz := x[0]+x[1]+x[2], y[0]+y[1]+y[2], z[0]+z[1]+z[2]
	a3, a12 := area/3, area/12
	m.N += area
	m.X += float64(a3 * sx)
	m.Y += float64(a3 * sy)
	m.Z += float64(a3 * sz)
	m.XX += float64(a12 * (dot3(x, x) + float64(sx*sx)))
	m.XY += float64(a12 * (dot3(x, y) + float64(sx*sy)))
	m.YY += float64(a12 * (dot3(y, y) + float64(sy*sy)))
	m.XZ += float64(a12 * (dot3(x, z) + float64(sx*sz)))
	m.YZ += float64(a12 * (dot3(y, z) + float64(sy*sz)))
}

// dot3 returns the scalar product; the conversions keep it the same on every processor.
func dot3(a, b [3]float64) float64 {
	return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2])
}

// Plus returns the sums over both sets.
func (m Sums) Plus(o Sums) Sums {
	return Sums{m.N + o.N, m.X + o.X, m.Y + o.Y, m.Z + o.Z, m.XX + o.XX, m.XY + o.XY, m.YY + o.YY, m.XZ + o.XZ, m.YZ + o.YZ}
}

// Plane is a fitted plane about the centroid of its points, with the inverse of their spread.
type Plane struct {
	N, X, Y, Z    float64 // weight and centroid
	DX, DY        float64 // uphill gradient
	IXX, IXY, IYY float64 // inverse of the centred second moments
}

// Spread returns the second moments about the centroid.
func (m Sums) Spread() (xx, xy, yy float64) {
	x, y := m.X/m.N, m.Y/m.N
	return m.XX - float64(m.X*x), m.XY - float64(m.X*y), m.YY - float64(m.Y*y)
}

// Plane solves the normal equations. ok is false where there are none, or they lie on one line, or so nearly that what the determinant of
// their second moments is of the product of its diagonal is not over least.
func (m Sums) Plane(least float64) (p Plane, ok bool) {
	p.N, p.X, p.Y, p.Z = m.N, m.X/m.N, m.Y/m.N, m.Z/m.N
	cxx, cxy, cyy := m.Spread()
	cxz := m.XZ - float64(m.X*p.Z)
	cyz := m.YZ - float64(m.Y*p.Z)
	det := float64(cxx*cyy) - float64(cxy*cxy)
	if !(det > least*float64(cxx*cyy)) {
		return p, false
	}
	p.IXX, p.IXY, p.IYY = cyy/det, -cxy/det, cxx/det
	p.DX = float64(p.IXX*cxz) + float64(p.IXY*cyz)
	p.DY = float64(p.IXY*cxz) + float64(p.IYY*cyz)
	return p, true
}

// At returns the plane's elevation.
func (p *Plane) At(x, y float64) float64 { return p.Z + float64(p.DX*(x-p.X)) + float64(p.DY*(y-p.Y)) }

// Leverage returns the variance of the plane's elevation at a place, in units of the variance of a point of weight one.
func (p *Plane) Leverage(x, y float64) float64 {
	ux, uy := x-p.X, y-p.Y
	return 1/p.N + float64(ux*(float64(p.IXX*ux)+float64(p.IXY*uy))) + float64(uy*(float64(p.IXY*ux)+float64(p.IYY*uy)))
}

// Slope returns rise over run.
func (p *Plane) Slope() float64 { return vector.Norm(p.DX, p.DY) }
