package flow

import (
	"runnel/analysis/surface"
)

// part is the water of a stretch of a facet's upper side that leaves over one of its lower sides.
//
// Positions on the upper side run from 0 at its end to 1 at its origin, as they do on the neighbour's
// half-edge; positions on the lower side run from its origin. Both rise together.
type part struct {
	side   int32   // the lower side
	s0, s1 float64 // stretch of the upper side
	w0, w1 float64 // stretch of the lower side
	l0, l1 float64 // plan length of the way through the facet at either end [m]
}

// down returns the position on the lower side below position s of the upper side.
func (p *part) down(s float64) float64 { return carry(s, p.s0, p.s1, p.w0, p.w1) }

// up returns the position on the upper side above position w of the lower side.
func (p *part) up(w float64) float64 { return carry(w, p.w0, p.w1, p.s0, p.s1) }

// through returns the way through the facet at position w of the lower side.
func (p *part) through(w float64) float64 { return carry(w, p.w0, p.w1, p.l0, p.l1) }

// carry maps x linearly from [x0, x1] to [y0, y1], never outside it and exactly at both ends.
func carry(x, x0, x1, y0, y1 float64) float64 {
	switch {
	case x <= x0:
		return y0
	case x >= x1:
		return y1
	}
	y := y0 + float64((x-x0)/(x1-x0)*(y1-y0))
	if y0 <= y1 {
		return max(y0, min(y1, y))
	}
	return max(y1, min(y0, y))
}

// ratio returns part/whole held within 0 and 1; both are positive up to rounding.
func ratio(part, whole float64) float64 {
	switch {
	case part <= 0 || whole <= 0:
		return 0
	case part >= whole:
		return 1
	}
	return part / whole
}

// parts returns what becomes of the water that enters a facet over its side t (Run < 0): one part, or
// two where the corner opposite divides it.
func (n *Network) parts(t int32) (p [2]part, count int) {
	q := n.square(t)
	return n.partsOf(t, &q)
}

// partsOf is parts of side t whose facet is q.
func (n *Network) partsOf(t int32, q *square) (p [2]part, count int) {
	next, prev := surface.Next(t), surface.Prev(t)
	outNext, outPrev := n.t.Run[next] > 0, n.t.Run[prev] > 0
	switch {
	case outNext && outPrev:
		s := ratio(q.across-q.acrossTop, q.across)
		h := max(0, q.top-between(q.along, 0, s))
		p[0] = part{side: next, s0: 0, s1: s, w0: 0, w1: 1, l0: 0, l1: h}
		p[1] = part{side: prev, s0: s, s1: 1, w0: 0, w1: 1, l0: h, l1: 0}
		return p, 2
	case outNext:
		w, l := 1.0, max(0, q.top)
		if n.t.Run[prev] < 0 {
			w, l = n.cornerExit(t)
		}
		p[0] = part{side: next, s0: 0, s1: 1, w0: 0, w1: w, l0: 0, l1: l}
	default:
		w, l := 0.0, max(0, q.top-q.along)
		if n.t.Run[next] < 0 {
			w, l = n.cornerExit(next)
		}
		p[0] = part{side: prev, s0: 0, s1: 1, w0: w, w1: 1, l0: l, l1: 0}
	}
	return p, 1
}

// square is a facet seen in its own fall: the end of a side and the corner opposite, measured from the
// side's origin across and along the direction in which water runs [m].
type square struct {
	across, along  float64 // end of the side
	acrossTop, top float64 // corner opposite: across, along
}

func (n *Network) square(t int32) square {
	m := n.t
	a, b, c := m.V[t], m.V[surface.Next(t)], m.V[surface.Prev(t)]
	dx, dy, _ := n.fall(t / 3)
	bx, by := m.X[b]-m.X[a], m.Y[b]-m.Y[a]
	cx, cy := m.X[c]-m.X[a], m.Y[c]-m.Y[a]
	return square{
		across: cross(bx, by, dx, dy), along: dot(bx, by, dx, dy),
		acrossTop: cross(cx, cy, dx, dy), top: dot(cx, cy, dx, dy),
	}
}

// cornerExit returns the position on the side opposite corner e at which water from that corner, running
// into the facet, leaves it, and the way through.
func (n *Network) cornerExit(e int32) (w, through float64) {
	q := n.square(e)
	w = ratio(q.across, q.across-q.acrossTop)
	return w, max(0, between(q.along, q.top, w))
}
