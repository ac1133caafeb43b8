package cause

import (
	"math"

	"runnel/analysis/geometry/regression"
)

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
	var sums [6][7]float64
	for _, p := range s {
		row := [6]float64{1, p.x, p.y, p.x * p.x / 2, p.x * p.y, p.y * p.y / 2}
		for i := range terms {
			for j := range terms {
				sums[i][j] += float64(p.w * row[i] * row[j])
			}
			sums[i][terms] += float64(p.w * row[i] * p.z)
		}
	}
	var rows [6][]float64
	var scale, u [6]float64
	for i := range terms {
		rows[i], scale[i] = sums[i][:], sums[i][i]
	}
	if !regression.Solve(rows[:terms], scale[:], 1e-9, u[:terms]) {
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
