package ponding

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// follow goes the way down until it comes to a vertex or an end.
func (d *descent) follow(w way) (arrival, outcome, bool) {
	if w.to >= 0 {
		return at(w.to), outcome{}, false
	}
	if o := first(d.ps.sinks.facet, w.e/3); o >= 0 {
		end, done := intoOutlet(o)
		return arrival{}, end, done
	}
	t := d.ps.t
	e := surface.Next(w.e) // the side opposite the vertex
	return d.across(e, d.hit(e, orb.Point{t.X[w.from], t.Y[w.from]}, d.downhill(w.e/3)))
}

// across follows water that leaves its facet over half-edge e at s until it comes to a vertex or an end.
func (d *descent) across(e int32, s float64) (arrival, outcome, bool) {
	for ; d.steps > 0; d.steps-- {
		if end, done := d.endOn(e, s); done {
			return arrival{}, end, true
		}
		next, place, on := d.cross(e, s)
		if !on {
			return place, outcome{}, false
		}
		e, s = next.e, next.s
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

// sidePlace is a place on half-edge e, from 0 at its start to 1.
type sidePlace struct {
	e int32
	s float64
}

// cross takes water over half-edge e at s through the facet beyond. It returns the place where the water
// leaves that facet, if it goes on there; else where it came to.
func (d *descent) cross(e int32, s float64) (next sidePlace, to arrival, on bool) {
	t := d.ps.t
	g := t.Twin[e]
	if g < 0 {
		return next, d.lowerEnd(e, s), false // along the wall
	}
	if d.inwards(g) <= 0 {
		return next, d.lowerEnd(e, s), false // a valley, or level
	}
	a, b, c := t.V[g], t.V[surface.Next(g)], t.V[surface.Prev(g)]
	down := d.downhill(g / 3)
	along := d.to(a, b)
	p := orb.Point{t.X[a] + float64((1-s)*along[0]), t.Y[a] + float64((1-s)*along[1])}
	side := vector.Cross(down, orb.Point{t.X[c] - p[0], t.Y[c] - p[1]})
	out := surface.Next(g) // c is on the left: over b-c
	switch {
	case side == 0:
		return next, at(c), false
	case side < 0:
		out = surface.Prev(g)
	}
	return sidePlace{out, d.hit(out, p, down)}, to, true
}

// inwards returns the sign of the flow at half-edge e on its own facet: 1 away from it into the facet, -1
// out over it, 0 along it. What rounding could have made counts as along.
func (d *descent) inwards(e int32) int {
	z := d.ps.z
	a, b, c := d.ps.t.V[e], d.ps.t.V[surface.Next(e)], d.ps.t.V[surface.Prev(e)]
	p, q := d.to(a, b), d.to(a, c)
	l := (z[b] - z[a]) * (float64(p[0]*q[0]) + float64(p[1]*q[1]))
	r := (z[c] - z[a]) * (float64(p[0]*p[0]) + float64(p[1]*p[1]))
	switch {
	case math.Abs(l-r) <= 1e-12*(math.Abs(l)+math.Abs(r)):
		return 0
	case l > r:
		return 1
	}
	return -1
}

// hit returns where on half-edge e, from 0 at its start to 1, the ray from p meets it.
func (d *descent) hit(e int32, p, ray orb.Point) float64 {
	t := d.ps.t
	a := t.V[e]
	along := d.to(a, t.V[surface.Next(e)])
	s := vector.Cross(orb.Point{p[0] - t.X[a], p[1] - t.Y[a]}, ray) / vector.Cross(along, ray)
	if math.IsNaN(s) {
		return 0.5
	}
	return min(max(s, 0), 1)
}

// lowerEnd returns the lower end of half-edge e or, where it is level, both.
func (d *descent) lowerEnd(e int32, s float64) arrival {
	a, b := d.ps.t.V[e], d.ps.t.V[surface.Next(e)]
	switch {
	case d.ps.z[a] < d.ps.z[b]:
		return at(a)
	case d.ps.z[a] > d.ps.z[b]:
		return at(b)
	}
	l := d.distance(a, b)
	return arrival{step{nanometres(s * l), a}, step{nanometres((1 - s) * l), b}}
}

// arrival is where water comes to: a vertex, twice, or both ends of a level edge and how far they are.
type arrival [2]step

func at(v int32) arrival { return arrival{{0, v}, {0, v}} }

// nanometres rounds a length, so that equal ways compare equal.
func nanometres(l float64) float64 { return math.Round(l * 1e9) }
