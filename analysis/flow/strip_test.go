package flow

import "github.com/paulmach/orb"

// path follows water from x, y; false when that is outside the surface.
func (n *Network) path(x, y float64) (Path, bool, error) {
	f := n.index.find(x, y)
	if f < 0 {
		return Path{}, false, nil
	}
	p, err := n.PathFrom(Place{f, orb.Point{x, y}})
	return p, true, err
}

// Strip is a part of a facet that drains to one label; a facet's strips cover it without overlap.
type Strip struct {
	Facet int32
	Label Label
	Ring  orb.Ring // closed, counter-clockwise
}

// strips calls visit with the strips of facet f: its parts by label.
func (n *Network) strips(f int32, visit func(Strip)) {
	if sink := n.sinks.facet[f]; sink >= 0 {
		visit(Strip{f, Label(sink), n.ring(f)})
		return
	}
	if pooled(n.t, f) {
		visit(Strip{f, n.vertex[n.poolCorner(f)], n.ring(f)})
		return
	}
	uppers, count := n.uppers(f)
	for i := range count {
		p := &uppers[i]
		n.stretches(p.side, p.w0, p.w1, func(w0, w1 float64, label Label) {
			ring := orb.Ring{n.on(p.side, w0), n.on(p.side, w1), n.onUpper(p.t, p.up(w1)), n.onUpper(p.t, p.up(w0))}
			visit(Strip{f, label, closeRing(ring)})
		})
	}
}

// ring returns the outline of facet f.
func (n *Network) ring(f int32) orb.Ring {
	var r orb.Ring
	for _, v := range n.t.V[3*f : 3*f+3] {
		r = append(r, orb.Point{n.t.X[v], n.t.Y[v]})
	}
	return closeRing(r)
}

// closeRing drops repeated points and closes the ring.
func closeRing(r orb.Ring) orb.Ring {
	out := r[:1]
	for _, p := range r[1:] {
		if p != out[len(out)-1] {
			out = append(out, p)
		}
	}
	if out[len(out)-1] != out[0] {
		out = append(out, out[0])
	}
	return out
}
