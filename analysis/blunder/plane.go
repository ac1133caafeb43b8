package blunder

// sums are those of a weighted least-squares plane z = c + gx x + gy y.
type sums struct{ w, x, y, z, xx, xy, yy, xz, yz float64 }

// add takes in one point.
func (m *sums) add(w, x, y, z float64) {
	m.w += w
	m.x += float64(w * x)
	m.y += float64(w * y)
	m.z += float64(w * z)
	m.xx += float64(w * float64(x*x))
	m.xy += float64(w * float64(x*y))
	m.yy += float64(w * float64(y*y))
	m.xz += float64(w * float64(x*z))
	m.yz += float64(w * float64(y*z))
}

// plane is a fitted plane about the centroid of its points, with the inverse of their spread.
type plane struct {
	w, x, y, z    float64
	gx, gy        float64
	ixx, ixy, iyy float64
}

// plane solves the normal equations; ok is false when the points lie on one line.
func (m *sums) plane() (p plane, ok bool) {
	if m.w <= 0 {
		return p, false
	}
	p.w, p.x, p.y, p.z = m.w, m.x/m.w, m.y/m.w, m.z/m.w
	cxx := m.xx - float64(m.x*p.x)
	cxy := m.xy - float64(m.x*p.y)
	cyy := m.yy - float64(m.y*p.y)
	cxz := m.xz - float64(m.x*p.z)
	cyz := m.yz - float64(m.y*p.z)
	det := float64(cxx*cyy) - float64(cxy*cxy)
	if !(det > 1e-6*float64(cxx*cyy)) {
		return p, false
	}
	p.ixx, p.ixy, p.iyy = cyy/det, -cxy/det, cxx/det
	p.gx = float64(p.ixx*cxz) + float64(p.ixy*cyz)
	p.gy = float64(p.ixy*cxz) + float64(p.iyy*cyz)
	return p, true
}

// at returns the plane's elevation.
func (p *plane) at(x, y float64) float64 { return p.z + float64(p.gx*(x-p.x)) + float64(p.gy*(y-p.y)) }

// leverage returns the variance of the plane's elevation at a place, in units of a point's variance of weight one.
func (p *plane) leverage(x, y float64) float64 {
	ux, uy := x-p.x, y-p.y
	return 1/p.w + float64(ux*(float64(p.ixx*ux)+float64(p.ixy*uy))) + float64(uy*(float64(p.ixy*ux)+float64(p.iyy*uy)))
}
