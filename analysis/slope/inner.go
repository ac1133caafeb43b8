package slope

import (
	"math"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// inner counts the spots that bear each plane: those round which every facet, on this side of breaklines and found folds, was measured and belongs to the plane,
// or to a flat one where the plane itself is flat. A plane all of whose spots stand on its border may be nothing but the facets that reach over
// a fold between the spots. It is 0 where those spots stand on one line, to half the spacing of the spots [m].
func (d *describer) inner(s *Slopes, spacing float64) {
	for i := range s.Planes {
		p := &s.Planes[i]
		d.stamp++
		d.used = d.used[:0]
		for _, f := range p.Facets {
			for e := 3 * f; e < 3*f+3; e++ {
				v := d.t.V[e]
				if d.vertexMark[v] == d.stamp || d.inferred(v) || !d.whole(s, e, int32(i)) {
					continue
				}
				d.vertexMark[v] = d.stamp
				d.used = append(d.used, v)
			}
		}
		if d.breadth() > spacing/2 {
			p.Inner = len(d.used)
		}
	}
}

// whole reports whether the facets round the start of half-edge e, up to breaklines, found folds and the border, have no assumed corner and belong to plane i
// or are flat as it is.
func (d *describer) whole(s *Slopes, e, i int32) bool {
	t := d.t
	same := func(g int32) bool {
		k := s.Plane[g/3]
		for h := g / 3 * 3; h < g/3*3+3; h++ {
			if v := t.V[h]; int(v) < len(t.Assumed) && t.Assumed[v] {
				return false
			}
		}
		return k == i || s.Planes[i].BelowMin && s.Planes[k].BelowMin
	}
	if !same(e) {
		return false
	}
	for h := surface.Prev(e); t.Flag[h]&parting == 0 && t.Twin[h] >= 0; {
		g := t.Twin[h]
		if g == e {
			return true
		}
		if !same(g) {
			return false
		}
		h = surface.Prev(g)
	}
	for h := e; t.Flag[h]&parting == 0 && t.Twin[h] >= 0; {
		g := surface.Next(t.Twin[h])
		if !same(g) {
			return false
		}
		h = g
	}
	return true
}

// breadth returns how far the vertices at work stand off the line from the first of them to the one farthest from it [m].
func (d *describer) breadth() float64 {
	if len(d.used) < 3 {
		return 0
	}
	t, a := d.t, d.used[0]
	var ux, uy, length float64
	for _, v := range d.used {
		if x, y := t.X[v]-t.X[a], t.Y[v]-t.Y[a]; vector.Norm(x, y) > length {
			ux, uy, length = x, y, vector.Norm(x, y)
		}
	}
	most := 0.0
	for _, v := range d.used {
		off := float64((t.X[v]-t.X[a])*uy) - float64((t.Y[v]-t.Y[a])*ux)
		most = math.Max(most, math.Abs(off)/math.Max(length, 1e-9))
	}
	return most
}
