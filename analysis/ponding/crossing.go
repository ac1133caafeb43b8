package ponding

import (
	"math"

	"runnel/analysis/surface"
)

// follow goes the way down until it comes to a vertex or an end.
func (d *descent) follow(w way) (int32, outcome, bool) {
	if w.to >= 0 {
		return w.to, outcome{}, false
	}
	if o := first(d.ps.sinks.facet, w.e/3); o >= 0 {
		end, done := intoOutlet(o)
		return 0, end, done
	}
	t := d.ps.t
	e := surface.Next(w.e) // the side opposite the vertex
	return d.across(e, d.hit(e, vector{t.X[w.from], t.Y[w.from]}, d.downhill(w.e/3)))
}

// across follows water that leaves its facet over half-edge e at s until it comes to a vertex or an end.
func (d *descent) across(e int32, s float64) (int32, outcome, bool) {
	for ; d.steps > 0; d.steps-- {
		if end, done := d.endOn(e, s); done {
			return 0, end, true
		}
		next, at, vertex := d.cross(e, s)
		if vertex >= 0 {
			return vertex, outcome{}, false
		}
		e, s = next, at
	}
	d.edges = true
	return d.lowerEnd(e, s), outcome{}, false
}

// endOn reports the end of water that leaves its facet over half-edge e at s, if it ends there.
func (d *descent) endOn(e int32, s float64) (outcome, bool) {
	ps := d.ps
	if ps.t.Twin[e] < 0 {
		if o := first(ps.sinks.edge, e); o >= 0 {
			return intoOutlet(o)
		}
	} else if o := first(ps.sinks.facet, ps.t.Twin[e]/3); o >= 0 {
		return intoOutlet(o)
	}
	if d.dry {
		return outcome{}, false
	}
	a, b := ps.t.V[e], ps.t.V[surface.Next(e)]
	z := ps.z[a] + float64(s*(ps.z[b]-ps.z[a]))
	if ps.z[b] < ps.z[a] {
		a = b
	}
	if ps.Of[a] >= 0 && z < ps.Level[a] {
		return outcome{ps.Of[a], -1, -1}, true
	}
	return outcome{}, false
}

// cross takes water over half-edge e at s through the facet beyond. It returns the half-edge and place
// where the water leaves that facet, or the vertex it comes to.
func (d *descent) cross(e int32, s float64) (int32, float64, int32) {
	t := d.ps.t
	g := t.Twin[e]
	if g < 0 {
		return 0, 0, d.lowerEnd(e, s) // along the wall
	}
	a, b, c := t.V[g], t.V[surface.Next(g)], t.V[surface.Prev(g)]
	down := d.downhill(g / 3)
	if cross(d.to(a, b), down) <= 0 {
		return 0, 0, d.lowerEnd(e, s) // a valley, or level
	}
	along := d.to(a, b)
	p := vector{t.X[a] + float64((1-s)*along.x), t.Y[a] + float64((1-s)*along.y)}
	side := cross(down, vector{t.X[c] - p.x, t.Y[c] - p.y})
	out := surface.Next(g) // c is on the left: over b-c
	switch {
	case side == 0:
		return 0, 0, c
	case side < 0:
		out = surface.Prev(g)
	}
	return out, d.hit(out, p, down), -1
}

// hit returns where on half-edge e, from 0 at its start to 1, the ray from p meets it.
func (d *descent) hit(e int32, p, ray vector) float64 {
	t := d.ps.t
	a := t.V[e]
	along := d.to(a, t.V[surface.Next(e)])
	s := cross(vector{p.x - t.X[a], p.y - t.Y[a]}, ray) / cross(along, ray)
	if math.IsNaN(s) {
		return 0.5
	}
	return min(max(s, 0), 1)
}

// lowerEnd returns the lower end of half-edge e; where it is level, the end nearer to s.
func (d *descent) lowerEnd(e int32, s float64) int32 {
	a, b := d.ps.t.V[e], d.ps.t.V[surface.Next(e)]
	if d.ps.z[a] < d.ps.z[b] || d.ps.z[a] == d.ps.z[b] && s <= 0.5 {
		return a
	}
	return b
}
