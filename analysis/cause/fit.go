package cause

import "math"

// Sample is a place with its elevation and the plan area it stands for.
type sample struct{ x, y, z, w float64 }

// Bend is a surface fitted by least squares: z = c + gx x + gy y + (xx x² + 2 xy x y + yy y²)/2, with x
// and y from the origin of the samples. A plane has no second part.
type bend struct {
	c, gx, gy  float64
	xx, xy, yy float64
	rms        float64 // of the residuals, by weight [m]
}

func (b *bend) at(x, y float64) float64 {
	return b.c + float64(b.gx*x) + float64(b.gy*y) + (float64(b.xx*x*x)+float64(2*b.xy*x*y)+float64(b.yy*y*y))/2
}

// fitPlane fits a plane; false when the samples do not span one.
func fitPlane(s []sample) (bend, bool) { return fit(s, 3) }

// fitBend fits a surface of the second degree; false when the samples do not span one.
func fitBend(s []sample) (bend, bool) { return fit(s, 6) }

func fit(s []sample, terms int) (bend, bool) {
	var b bend
	if len(s) < terms {
		return b, false
	}
	var a [6][7]float64
	for _, p := range s {
		row := [7]float64{1, p.x, p.y, p.x * p.x / 2, p.x * p.y, p.y * p.y / 2, p.z}
		for i := range terms {
			for j := range terms {
				a[i][j] += float64(p.w * row[i] * row[j])
			}
			a[i][6] += float64(p.w * row[i] * row[6])
		}
	}
	u, ok := solve(&a, terms)
	if !ok {
		return b, false
	}
	b = bend{c: u[0], gx: u[1], gy: u[2], xx: u[3], xy: u[4], yy: u[5]}
	sum, weight := 0.0, 0.0
	for _, p := range s {
		r := p.z - b.at(p.x, p.y)
		sum += float64(p.w * r * r)
		weight += p.w
	}
	b.rms = math.Sqrt(sum / weight)
	return b, true
}

// solve solves the first n rows of a (right side in column 6) by elimination with pivoting, each row
// scaled by its diagonal so that "singular" does not hang on the unit.
func solve(a *[6][7]float64, n int) (u [6]float64, ok bool) {
	var scale [6]float64
	for i := range n {
		if scale[i] = a[i][i]; !(scale[i] > 0) {
			return u, false
		}
	}
	for i := range n {
		p := i
		for r := i + 1; r < n; r++ {
			if math.Abs(a[r][i])/scale[r] > math.Abs(a[p][i])/scale[p] {
				p = r
			}
		}
		a[i], a[p] = a[p], a[i]
		scale[i], scale[p] = scale[p], scale[i]
		if !(math.Abs(a[i][i]) > 1e-9*scale[i]) {
			return u, false
		}
		for r := i + 1; r < n; r++ {
			k := a[r][i] / a[i][i]
			for c := i; c < 7; c++ {
				a[r][c] -= float64(k * a[i][c])
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		u[i] = a[i][6]
		for c := i + 1; c < n; c++ {
			u[i] -= float64(a[i][c] * u[c])
		}
		u[i] /= a[i][i]
	}
	return u, true
}
