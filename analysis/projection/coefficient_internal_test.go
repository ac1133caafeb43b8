package projection

import (
	"math"
	"testing"
)

// powers is a power series in the third flattening n, to n^6.
type powers [7]float64

func (a powers) plus(b powers, k float64) powers {
	for i := range a {
		a[i] += k * b[i]
	}
	return a
}

func (a powers) times(b powers) (c powers) {
	for i := range a {
		for j := range len(b) - i {
			c[i+j] += a[i] * b[j]
		}
	}
	return c
}

func (a powers) over(b powers) (c powers) {
	for i := range a {
		c[i] = a[i]
		for j := range i {
			c[i] -= c[j] * b[i-j]
		}
		c[i] /= b[0]
	}
	return c
}

// eccentricity is e^2 = 4n/(1 + n)^2.
var eccentricity = powers{0, 4}.over(powers{1, 2, 1})

// sineOf returns sin(k(x + d)) for a series d without a constant, by Taylor's series about kx.
func sineOf(k, x float64, d powers) (out powers) {
	term := powers{1}
	for p := range 7 {
		out = out.plus(term, math.Sin(k*x+float64(p)*math.Pi/2))
		term = term.times(d)
		for i := range term {
			term[i] *= k / float64(p+1)
		}
	}
	return out
}

// meridian returns the distance from the equator along a meridian, as a part of (1 - e^2) times the greater axis: each power of e^2 is integrated by itself, by
// Gauss's rule of three points on each of 200 parts.
func meridian(phi float64) (m powers) {
	const parts = 200
	h := phi / parts
	power, binomial := powers{1}, 1.0 // (1 - x)^(-3/2) = 1 + 3/2 x + 15/8 x^2 + ...
	for k := range 7 {
		sum := 0.0
		for i := range parts {
			for _, p := range [3][2]float64{{-math.Sqrt(0.6), 5.0 / 18}, {0, 8.0 / 18}, {math.Sqrt(0.6), 5.0 / 18}} {
				sum += h * p[1] * math.Pow(math.Sin(h*(float64(i)+0.5+p[0]/2)), float64(2*k))
			}
		}
		m = m.plus(power, binomial*sum)
		power, binomial = power.times(eccentricity), binomial*(1.5+float64(k))/float64(k+1)
	}
	return m
}

// conformal returns the conformal latitude less phi: that of the sphere of equal angles. Its isometric latitude q is that of phi less e artanh(e sin phi), and d chi = cos chi dq.
func conformal(phi float64) powers {
	s := math.Sin(phi)
	q, power := powers{}, eccentricity
	for k := range 7 {
		q = q.plus(power, -math.Pow(s, float64(2*k+1))/float64(2*k+1))
		power = power.times(eccentricity)
	}
	sin, cos, chi := powers{s}, powers{math.Cos(phi)}, powers{}
	for i := 1; i < 7; i++ {
		for j := 1; j <= i; j++ {
			chi[i] += float64(j) * q[j] * cos[i-j] / float64(i)
		}
		for j := 1; j <= i; j++ { // sin' = cos chi', cos' = -sin chi'
			sin[i] += float64(j) * chi[j] * cos[i-j] / float64(i)
			cos[i] -= float64(j) * chi[j] * sin[i-j] / float64(i)
		}
	}
	return chi
}

// powersOf returns a series of the program as powers: it is a polynomial of the sixth degree, told by its values at seven places.
func powersOf(series func(n float64) [order]float64) (out [order]powers) {
	for i := range 7 {
		at := float64(i-3) / 2
		basis, scale := powers{1}, 1.0 // Lagrange's
		for k := range 7 {
			if k != i {
				basis = basis.times(powers{-float64(k-3) / 2, 1})
				scale *= at - float64(k-3)/2
			}
		}
		for j, v := range series(at) {
			out[j] = out[j].plus(basis, v/scale)
		}
	}
	return out
}

// On a meridian the forward series gives the rectifying latitude by the conformal one, and the inverse series takes that back, in every power of the third
// flattening to the sixth, whatever the latitude: that holds every coefficient of both against the definitions of these latitudes.
func TestSeriesAreExactToTheSixthPower(t *testing.T) {
	forward, inverse := powersOf(forwardSeries), powersOf(inverseSeries)
	quarter := meridian(math.Pi / 2)
	for _, phi := range []float64{0.2, 0.5, 0.8, 1.1, 1.4} {
		chi := conformal(phi)
		left := meridian(phi).over(quarter)
		for i := range left {
			left[i] *= math.Pi / 2
		}
		left[0] -= phi
		left = left.plus(chi, -1)
		there := powers{} // from the conformal latitude phi
		for j := range order {
			left = left.plus(forward[j].times(sineOf(2*float64(j+1), phi, chi)), -1)
			there = there.plus(forward[j], math.Sin(2*float64(j+1)*phi))
		}
		back := there
		for j := range order {
			back = back.plus(inverse[j].times(sineOf(2*float64(j+1), phi, there)), -1)
		}
		for power := range left {
			if !(math.Abs(left[power]) <= 1e-11) || !(math.Abs(back[power]) <= 1e-11) {
				t.Errorf("latitude %g, power %d: %g forward, %g and back", phi, power, left[power], back[power])
			}
		}
	}
}
