package fold

import (
	"math"

	"runnel/analysis/geometry/regression"
)

// moments are the sums of a least-squares plane, each point weighted by 1 over its variance.
type moments struct {
	sums regression.Sums
	n    int
}

func (m *moments) add(x, y, z, w float64) {
	m.n++
	m.sums.Weigh(w, x, y, z)
}

// Plane is a fitted plane.
type Plane struct {
	regression.Plane
	Spots int // that it rests on
}

// fit solves the normal equations; ok is false where the points lie on one line, or in a strip.
func (m *moments) fit() (p Plane, ok bool) {
	if m.n < 3 {
		return p, false
	}
	p.Spots = m.n
	xx, xy, yy := m.sums.Spread()
	if trace := xx + yy; !(float64(xx*yy)-float64(xy*xy) > leastSpread*float64(trace*trace)) {
		return p, false
	}
	p.Plane, ok = m.sums.Plane(0)
	return p, ok
}

// leastSpread is the least product of a plane's two spreads, in squares of their sum: less is a strip of spots, whose slope across is not known.
const leastSpread = 0.005

// sigma returns the standard deviation of the plane's elevation at a place [m].
func (p *Plane) sigma(x, y float64) float64 { return math.Sqrt(p.Leverage(x, y)) }
