package assembly

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
)

// reading is one number at one place with its standard error.
type reading struct {
	at    orb.Point
	value float64
	sigma float64
}

// fit is a plane through readings by weighted least squares, about their weighted centre.
type fit struct {
	centre        orb.Point
	mean          float64 // value at the centre
	gx, gy        float64
	varMean       float64 // variance of mean
	ixx, ixy, iyy float64 // covariance of the gradient
	chi2          float64 // squares of what the readings lie off it, in standard errors
	n             int
}

// leastSpread is how far readings must lie off one line to make a plane: their spread across it as a share of that along it.
const leastSpread = 0.05

// fitPlane returns the plane through readings; ok is false where there are fewer than three, or all are nearly on one line.
func fitPlane(rs []reading) (f fit, ok bool) {
	var w, x, y, v float64
	for _, r := range rs {
		k := 1 / (r.sigma * r.sigma)
		w += k
		x += float64(k * r.at[0])
		y += float64(k * r.at[1])
		v += float64(k * r.value)
	}
	if len(rs) < 3 {
		return f, false
	}
	f.n, f.centre, f.mean, f.varMean = len(rs), orb.Point{x / w, y / w}, v/w, 1/w
	var xx, xy, yy, xv, yv float64
	for _, r := range rs {
		k := 1 / (r.sigma * r.sigma)
		dx, dy, dv := r.at[0]-f.centre[0], r.at[1]-f.centre[1], r.value-f.mean
		xx += float64(k * dx * dx)
		xy += float64(k * dx * dy)
		yy += float64(k * dy * dy)
		xv += float64(k * dx * dv)
		yv += float64(k * dy * dv)
	}
	if least, most := eigen(xx, xy, yy); !(least > leastSpread*leastSpread*most) {
		return f, false
	}
	det := float64(xx*yy) - float64(xy*xy)
	f.ixx, f.ixy, f.iyy = yy/det, -xy/det, xx/det
	f.gx = float64(f.ixx*xv) + float64(f.ixy*yv)
	f.gy = float64(f.ixy*xv) + float64(f.iyy*yv)
	for _, r := range rs {
		e := f.residual(r) / r.sigma
		f.chi2 += float64(e * e)
	}
	return f, true
}

// residual returns how far a reading lies above the plane.
func (f *fit) residual(r reading) float64 {
	return r.value - f.mean - float64(f.gx*(r.at[0]-f.centre[0])) - float64(f.gy*(r.at[1]-f.centre[1]))
}

// inflate is the factor on variances that a misfit calls for: chi2 per degree of freedom, never under 1.
func (f *fit) inflate() float64 { return inflation(f.chi2, f.n-3) }

// at returns the plane's value at a place and its standard error.
func (f *fit) at(p orb.Point) (value, sigma float64) {
	dx, dy := p[0]-f.centre[0], p[1]-f.centre[1]
	value = f.mean + float64(f.gx*dx) + float64(f.gy*dy)
	v := f.varMean + float64(dx*(float64(f.ixx*dx)+float64(f.ixy*dy))) + float64(dy*(float64(f.ixy*dx)+float64(f.iyy*dy)))
	return value, math.Sqrt(v * f.inflate())
}

// gradient returns the gradient with its covariance, widened where the fit is poor.
func (f *fit) gradient() Gradient {
	k := f.inflate()
	return Gradient{X: f.gx, Y: f.gy, XX: float64(f.ixx * k), XY: float64(f.ixy * k), YY: float64(f.iyy * k), Known: true}
}

// inflation returns chi2 per degree of freedom, never under 1; 1 where none is left.
func inflation(chi2 float64, free int) float64 {
	return choose.If(free <= 0, 1, math.Max(1, chi2/float64(free)))
}

// eigen returns the two eigenvalues of a symmetric matrix, the lesser first.
func eigen(xx, xy, yy float64) (least, most float64) {
	m, d := (xx+yy)/2, (xx-yy)/2
	r := vector.Norm(d, xy)
	return m - r, m + r
}

// shareFit is thickness against the elevation of the surface: t = mean + k (z - centre).
type shareFit struct {
	centre, mean, k float64
	varMean, varK   float64
	chi2            float64
	n               int
}

// leastRise is the least spread (root mean square) of surface elevations that a share is drawn from [m].
const leastRise = 0.02

// fitShare returns thickness against elevation for readings of thickness; z has the surface's elevation at each. ok is false
// for fewer than three readings or where the surface hardly rises between them.
func fitShare(rs []reading, z []float64) (f shareFit, ok bool) {
	var w, sz, sv float64
	for i, r := range rs {
		k := 1 / (r.sigma * r.sigma)
		w += k
		sz += float64(k * z[i])
		sv += float64(k * r.value)
	}
	if len(rs) < 3 {
		return f, false
	}
	f.n, f.centre, f.mean, f.varMean = len(rs), sz/w, sv/w, 1/w
	var zz, zv float64
	for i, r := range rs {
		k := 1 / (r.sigma * r.sigma)
		dz := z[i] - f.centre
		zz += float64(k * dz * dz)
		zv += float64(k * dz * (r.value - f.mean))
	}
	if !(math.Sqrt(zz/w) > leastRise) {
		return f, false
	}
	f.k, f.varK = zv/zz, 1/zz
	for i, r := range rs {
		e := f.residual(r, z[i]) / r.sigma
		f.chi2 += float64(e * e)
	}
	return f, true
}

// residual returns how much thicker a reading is than the fit.
func (f *shareFit) residual(r reading, z float64) float64 {
	return r.value - f.mean - float64(f.k*(z-f.centre))
}

func (f *shareFit) inflate() float64 { return inflation(f.chi2, f.n-2) }

// at returns the thickness where the surface is at z, and its standard error.
func (f *shareFit) at(z float64) (t, sigma float64) {
	d := z - f.centre
	return f.mean + float64(f.k*d), math.Sqrt((f.varMean + float64(f.varK*d*d)) * f.inflate())
}
