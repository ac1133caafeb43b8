package fold

import "math"

// moments are the sums of a least-squares plane, each point weighted by 1 over its variance.
type moments struct{ n, w, x, y, z, xx, xy, yy, xz, yz float64 }

func (m *moments) add(x, y, z, w float64) {
	m.n++
	m.w += w
	m.x += float64(w * x)
	m.y += float64(w * y)
	m.z += float64(w * z)
	m.xx += float64(float64(w*x) * x)
	m.xy += float64(float64(w*x) * y)
	m.yy += float64(float64(w*y) * y)
	m.xz += float64(float64(w*x) * z)
	m.yz += float64(float64(w*y) * z)
}

// Plane is a fitted plane.
type Plane struct {
	Spots         int     // that it rests on
	DX, DY        float64 // uphill gradient
	x, y, z       float64 // centre
	w             float64 // sum of weights
	ixx, ixy, iyy float64 // inverse of the centred second moments
}

// fit solves the normal equations; ok is false where the points lie on one line.
func (m *moments) fit() (p Plane, ok bool) {
	if m.n < 3 {
		return p, false
	}
	p.Spots, p.w, p.x, p.y, p.z = int(m.n), m.w, m.x/m.w, m.y/m.w, m.z/m.w
	cxx, cxy, cyy := m.xx-float64(m.x*p.x), m.xy-float64(m.x*p.y), m.yy-float64(m.y*p.y)
	cxz, cyz := m.xz-float64(m.x*p.z), m.yz-float64(m.y*p.z)
	det, trace := float64(cxx*cyy)-float64(cxy*cxy), cxx+cyy
	if !(det > leastSpread*float64(trace*trace)) {
		return p, false
	}
	p.ixx, p.ixy, p.iyy = cyy/det, -cxy/det, cxx/det
	p.DX = float64(p.ixx*cxz) + float64(p.ixy*cyz)
	p.DY = float64(p.ixy*cxz) + float64(p.iyy*cyz)
	return p, true
}

// leastSpread is the least product of a plane's two spreads, in squares of their sum: less is a strip of spots, whose slope across is not known.
const leastSpread = 0.005

// At returns the plane's elevation [m].
func (p *Plane) At(x, y float64) float64 {
	return p.z + float64(p.DX*(x-p.x)) + float64(p.DY*(y-p.y))
}

// sigma returns the standard deviation of the plane's elevation at a place [m].
func (p *Plane) sigma(x, y float64) float64 { return math.Sqrt(p.variance(x, y)) }

func (p *Plane) variance(x, y float64) float64 {
	ux, uy := x-p.x, y-p.y
	return 1/p.w + float64(ux*(float64(p.ixx*ux)+float64(p.ixy*uy))) + float64(uy*(float64(p.ixy*ux)+float64(p.iyy*uy)))
}
