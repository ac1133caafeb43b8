package takeoff

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
)

func triangle(a, b, c orb.Point) float64 { return vector.Turn(a, b, c) / 2 }

// integral returns the integral of what runs linearly over a convex polygon.
func integral(on []orb.Point, t []float64) float64 {
	sum := 0.0
	for k := 1; k+1 < len(on); k++ {
		sum += float64(triangle(on[0], on[k], on[k+1]) * (t[0] + t[k] + t[k+1]) / 3)
	}
	return sum
}

// bothSides returns the volume above 0 and below it, both positive.
func bothSides(on []orb.Point, t []float64) (over, under float64) {
	whole := integral(on, t)
	p, u := side(on, t)
	over = integral(p, u)
	return over, math.Max(0, over-whole)
}

// side returns the part of a convex polygon on which t is not below 0, with t at its corners.
func side(on []orb.Point, t []float64) (out []orb.Point, u []float64) {
	for i, p := range on {
		k := (i + 1) % len(on)
		if t[i] >= 0 {
			out, u = append(out, p), append(u, t[i])
		}
		if (t[i] >= 0) != (t[k] >= 0) {
			s := t[i] / (t[i] - t[k])
			out, u = append(out, orb.Point{p[0] + float64(s*(on[k][0]-p[0])), p[1] + float64(s*(on[k][1]-p[1]))}), append(u, 0)
		}
	}
	return out, u
}

// flat is a plane of thickness: t at at, uphill gradient g.
type flat struct {
	at orb.Point
	t  float64
	g  orb.Point
}

func (f *flat) thickness(p orb.Point) float64 {
	return f.t + float64(f.g[0]*(p[0]-f.at[0])) + float64(f.g[1]*(p[1]-f.at[1]))
}

// fit returns the plane of least squares through the thickness of parts, and how far it is off at most [m]. The integrals
// are exact: the mean of the sides' middles over a triangle.
func fit(parts []part) (f flat, off float64) {
	var w float64
	each := func(do func(q orb.Point, t, weight float64)) {
		for i := range parts {
			p := &parts[i]
			for k := 1; k+1 < len(p.on); k++ {
				corner := [3]int{0, k, k + 1}
				a := triangle(p.on[0], p.on[k], p.on[k+1]) / 3
				for s := range corner {
					m, n := corner[s], corner[(s+1)%3]
					do(orb.Point{(p.on[m][0] + p.on[n][0]) / 2, (p.on[m][1] + p.on[n][1]) / 2}, (p.t[m]+p.t[n])/2, a)
				}
			}
		}
	}
	each(func(q orb.Point, t, a float64) {
		w += a
		f.at[0] += float64(a * q[0])
		f.at[1] += float64(a * q[1])
		f.t += float64(a * t)
	})
	if !(w > 0) {
		return f, math.Inf(1)
	}
	f.at, f.t = orb.Point{f.at[0] / w, f.at[1] / w}, f.t/w
	var xx, xy, yy, xt, yt float64
	each(func(q orb.Point, t, a float64) {
		x, y := q[0]-f.at[0], q[1]-f.at[1]
		xx += float64(a * x * x)
		xy += float64(a * x * y)
		yy += float64(a * y * y)
		xt += float64(a * x * (t - f.t))
		yt += float64(a * y * (t - f.t))
	})
	if d := float64(xx*yy) - float64(xy*xy); d > 1e-12*float64((xx+yy)*(xx+yy)) {
		f.g = orb.Point{(float64(xt*yy) - float64(yt*xy)) / d, (float64(yt*xx) - float64(xt*xy)) / d}
	}
	for i := range parts {
		for k, q := range parts[i].on {
			off = math.Max(off, math.Abs(parts[i].t[k]-f.thickness(q)))
		}
	}
	return f, off
}

// clip returns the part of a polygon on which a plane of thickness is at least t, and the length of the line at which it
// is cut. A ring that is not convex keeps edges along that line that enclose nothing.
func clip(polygon orb.Polygon, f *flat, t float64, above bool) (out orb.Polygon, cut float64) {
	sign := choose.If(above, 1.0, -1)
	for _, ring := range polygon {
		if len(ring) < 4 {
			continue
		}
		open := ring[:len(ring)-1]
		u := gather.Each(open, func(p orb.Point) float64 { return sign * (f.thickness(p) - t) })
		kept, v := side(open, u)
		if len(kept) < 3 {
			continue
		}
		for i := range kept {
			if k := (i + 1) % len(kept); math.Abs(v[i]) < 1e-9 && math.Abs(v[k]) < 1e-9 {
				dx, dy := kept[k][0]-kept[i][0], kept[k][1]-kept[i][1]
				cut += vector.Norm(dx, dy)
			}
		}
		out = append(out, append(orb.Ring(kept), kept[0]))
	}
	return out, cut
}

// over returns area and volume of a plane of thickness over a polygon.
func (f *flat) over(polygon orb.Polygon) (area, volume float64) {
	for _, ring := range polygon {
		for k := 1; k+2 < len(ring); k++ {
			a := triangle(ring[0], ring[k], ring[k+1])
			area += a
			volume += float64(a * (f.thickness(ring[0]) + f.thickness(ring[k]) + f.thickness(ring[k+1])) / 3)
		}
	}
	return area, volume
}
