// Package projection maps longitude and latitude to metres in the plane and back.
//
// The method is Krueger's series in the third flattening n, to the sixth power, as given by C. F. F. Karney,
// "Transverse Mercator with an accuracy of a few nanometers", Journal of Geodesy 85 (2011), equations 7 to
// 36 (recalled, and checked against PROJ): latitude to conformal latitude, to the sphere's transverse
// Mercator, and a trigonometric series from there to the ellipsoid. Within 30 degrees of the central
// meridian it is good to some nanometres. No call allocates, and results are the same on every processor.
package projection

import "math"

// Ellipsoid is a figure of the earth.
type Ellipsoid struct {
	Radius     float64 // equatorial [m]
	Flattening float64
}

// WGS84 is the ellipsoid of the World Geodetic System 1984: NIMA TR8350.2, third edition, table 3.1 (recalled).
var WGS84 = Ellipsoid{Radius: 6378137, Flattening: 1 / 298.257223563}

// Parameters place a transverse Mercator projection.
type Parameters struct {
	Lon0, Lat0                  float64 // degrees
	Scale                       float64 // on the central meridian
	FalseEasting, FalseNorthing float64 // metres, at Lon0, Lat0
}

// order is the power of n to which the series go.
const order = 6

// TransverseMercator is a projection with its constants worked out.
type TransverseMercator struct {
	lon0   float64 // degrees
	e2, e  float64 // first eccentricity
	radius float64 // scale times rectifying radius [m]
	alpha  [order]float64
	beta   [order]float64
	x0, y0 float64 // easting and northing of the crossing of central meridian and equator
}

// NewTransverseMercator works out the constants of a projection of ellipsoid at p.
func NewTransverseMercator(ellipsoid Ellipsoid, p Parameters) TransverseMercator {
	f := ellipsoid.Flattening
	n := f / (2 - f)
	m := TransverseMercator{lon0: p.Lon0, e2: float64(f * (2 - f)), x0: p.FalseEasting}
	m.e = math.Sqrt(m.e2)
	q := float64(n * n)
	m.radius = p.Scale * ellipsoid.Radius / (1 + n) * polynomial(q, 1, 1.0/4, 1.0/64) // the next term is under 1e-19
	m.alpha = forwardSeries(n)
	m.beta = inverseSeries(n)
	_, y := m.Forward(p.Lon0, p.Lat0)
	m.y0 = p.FalseNorthing - y
	return m
}

// Forward returns easting and northing [m] of a longitude and latitude [degrees].
func (m *TransverseMercator) Forward(lon, lat float64) (x, y float64) {
	sinLat, cosLat := sincos(radians(lat))
	sinLon, cosLon := sincos(radians(math.Remainder(lon-m.lon0, 360)))
	t := m.conformal(sinLat / cosLat)
	xi := atan2(t, cosLon)
	eta := asinh(sinLon / math.Sqrt(float64(t*t)+float64(cosLon*cosLon)))
	dXi, dEta := series(&m.alpha, xi, eta)
	return m.x0 + float64(m.radius*(eta+dEta)), m.y0 + float64(m.radius*(xi+dXi))
}

// Inverse returns longitude and latitude [degrees] of an easting and northing [m].
func (m *TransverseMercator) Inverse(x, y float64) (lon, lat float64) {
	xi, eta := (y-m.y0)/m.radius, (x-m.x0)/m.radius
	dXi, dEta := series(&m.beta, xi, eta)
	xi, eta = xi-dXi, eta-dEta
	sinXi, cosXi := sincos(xi)
	sinhEta, _ := sinhcosh(eta)
	t := m.geographic(sinXi / math.Sqrt(float64(sinhEta*sinhEta)+float64(cosXi*cosXi)))
	return m.lon0 + degrees(atan2(sinhEta, cosXi)), degrees(atan(t))
}

// conformal returns the tangent of the conformal latitude; t is the tangent of the latitude (Karney 7-9).
func (m *TransverseMercator) conformal(t float64) float64 {
	secant := root1(t)
	s, _ := sinhcosh(float64(m.e * atanh(float64(m.e*t)/secant)))
	return float64(t*root1(s)) - float64(s*secant)
}

// geographic is the inverse of conformal, by Newton's method (Karney 19-21).
func (m *TransverseMercator) geographic(target float64) float64 {
	t := target
	for range 6 {
		have := m.conformal(t)
		step := (target - have) / root1(have) * (1 + float64((1-m.e2)*float64(t*t))) / float64((1-m.e2)*root1(t))
		t += step
		if math.Abs(step) <= 1e-16*math.Max(1, math.Abs(t)) {
			break
		}
	}
	return t
}

// series returns the sums of c[j] sin 2jx cosh 2jy and c[j] cos 2jx sinh 2jy, j from 1 (Karney 11, 12).
func series(c *[order]float64, x, y float64) (sumX, sumY float64) {
	sin2, cos2 := sincos(float64(2 * x))
	sinh2, cosh2 := sinhcosh(float64(2 * y))
	sin, cos, sinh, cosh := sin2, cos2, sinh2, cosh2
	for j := range order {
		sumX += float64(c[j] * float64(sin*cosh))
		sumY += float64(c[j] * float64(cos*sinh))
		sin, cos = float64(sin*cos2)+float64(cos*sin2), float64(cos*cos2)-float64(sin*sin2)
		sinh, cosh = float64(sinh*cosh2)+float64(cosh*sinh2), float64(cosh*cosh2)+float64(sinh*sinh2)
	}
	return sumX, sumY
}

func radians(d float64) float64 { return float64(d * (math.Pi / 180)) }
func degrees(r float64) float64 { return float64(r * (180 / math.Pi)) }
