package cause

import (
	"runnel/analysis/surface"
)

// Probe reads elevations of the surface at any place, walking from facet to facet. Each reading starts
// where the last one ended, so that readings near each other are cheap.
type probe struct {
	t    *surface.TIN
	at   int32 // facet of the last reading
	home int32 // facet to start anew from when the walk ran into a border
}

// start puts the probe on a facet that has vertex v as a corner.
func (p *probe) start(v int32) {
	if e := p.t.Out[v]; e >= 0 {
		p.at, p.home = e/3, e/3
	}
}

// height returns the elevation at (x, y), and false when the straight walk there leaves the roof or
// meets a curb: what lies beyond is another place for water.
func (p *probe) height(x, y float64) (float64, bool) {
	z, ok := p.walk(x, y)
	if !ok {
		p.at = p.home
		z, ok = p.walk(x, y)
	}
	if !ok {
		p.at = p.home
	}
	return z, ok
}

// maxWalk bounds a walk; a probe looks metres around a pond, never across a campus.
const maxWalk = 4096

func (p *probe) walk(x, y float64) (float64, bool) {
	t := p.t
	f := p.at
	for range maxWalk {
		e, worst := int32(-1), 0.0
		for c := range int32(3) {
			h := 3*f + c
			a, b := t.V[h], t.V[surface.Next(h)]
			ux, uy := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
			vx, vy := x-t.X[a], y-t.Y[a]
			if side := float64(ux*vy) - float64(uy*vx); side < worst {
				e, worst = h, side
			}
		}
		if e < 0 || worst > -1e-12 {
			p.at = f
			return on(t, f, x, y), true
		}
		if t.Twin[e] < 0 {
			return 0, false
		}
		f = t.Twin[e] / 3
	}
	return 0, false
}

// on returns the elevation of facet f's plane at (x, y).
func on(t *surface.TIN, f int32, x, y float64) float64 {
	a := t.V[3*f]
	return t.Z[a] + float64(t.DX[f]*(x-t.X[a])) + float64(t.DY[f]*(y-t.Y[a]))
}
