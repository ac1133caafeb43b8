package slope

import "runnel/analysis/geometry/vector"

// moments are the sums of a weighted least-squares plane z = a + dx x + dy y.
type moments struct{ n, x, y, z, xx, xy, yy, xz, yz float64 }

// add takes in one point of weight one.
func (m *moments) add(x, y, z float64) {
	m.n++
	m.x += x
	m.y += y
	m.z += z
	m.xx += float64(x * x)
	m.xy += float64(x * y)
	m.yy += float64(y * y)
	m.xz += float64(x * z)
	m.yz += float64(y * z)
}

// plus returns the sums over both sets.
func (m moments) plus(o moments) moments {
	return moments{
		m.n + o.n, m.x + o.x, m.y + o.y, m.z + o.z,
		m.xx + o.xx, m.xy + o.xy, m.yy + o.yy, m.xz + o.xz, m.yz + o.yz,
	}
}

// addFacet takes in the integral over a facet on which z is linear; area is its plan area.
func (m *moments) addFacet(x, y, z [3]float64, area float64) {
	sx, sy, sz := x[0]+x[1]+x[2], y[0]+y[1]+y[2], z[0]+z[1]+z[2]
	a3, a12 := area/3, area/12
	m.n += area
	m.x += float64(a3 * sx)
	m.y += float64(a3 * sy)
	m.z += float64(a3 * sz)
	m.xx += float64(a12 * (dot3(x, x) + float64(sx*sx)))
	m.xy += float64(a12 * (dot3(x, y) + float64(sx*sy)))
	m.yy += float64(a12 * (dot3(y, y) + float64(sy*sy)))
	m.xz += float64(a12 * (dot3(x, z) + float64(sx*sz)))
	m.yz += float64(a12 * (dot3(y, z) + float64(sy*sz)))
}

// dot3 returns the scalar product; the conversions keep it the same on every processor.
func dot3(a, b [3]float64) float64 {
	return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2])
}

// fit is a fitted plane about the centroid of its points, with the inverse of their spread.
type fit struct {
	n, x, y, z    float64 // weight and centroid
	dx, dy        float64 // uphill gradient
	ixx, ixy, iyy float64 // inverse of the centred second moments
}

// fit solves the normal equations; ok is false when the points lie on one line.
func (m moments) fit() (p fit, ok bool) {
	if m.n <= 0 {
		return p, false
	}
	p.n, p.x, p.y, p.z = m.n, m.x/m.n, m.y/m.n, m.z/m.n
	cxx := m.xx - float64(m.x*p.x)
	cxy := m.xy - float64(m.x*p.y)
	cyy := m.yy - float64(m.y*p.y)
	cxz := m.xz - float64(m.x*p.z)
	cyz := m.yz - float64(m.y*p.z)
	det := float64(cxx*cyy) - float64(cxy*cxy)
	if !(det > 1e-12*float64(cxx*cyy)) {
		return p, false
	}
	p.ixx, p.ixy, p.iyy = cyy/det, -cxy/det, cxx/det
	p.dx = float64(p.ixx*cxz) + float64(p.ixy*cyz)
	p.dy = float64(p.ixy*cxz) + float64(p.iyy*cyz)
	return p, true
}

// at returns the plane's elevation.
func (p *fit) at(x, y float64) float64 {
	return p.z + float64(p.dx*(x-p.x)) + float64(p.dy*(y-p.y))
}

// leverage returns the variance of the plane's elevation at a place, in units of one point's variance.
func (p *fit) leverage(x, y float64) float64 {
	ux, uy := x-p.x, y-p.y
	return 1/p.n + float64(ux*(float64(p.ixx*ux)+float64(p.ixy*uy))) + float64(uy*(float64(p.ixy*ux)+float64(p.iyy*uy)))
}

// slope returns rise over run.
func (p *fit) slope() float64 { return vector.Norm(p.dx, p.dy) }
