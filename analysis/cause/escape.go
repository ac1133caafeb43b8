package cause

import (
	"math"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Change is a trial change to the roof: vertices whose elevation in model.z differs from the surface's,
// and an outlet set to another invert.
type change struct {
	lowered []int32 // vertices, any order; their new elevations stand in model.z
	outlet  int32   // outlet set down, -1 none
	invert  float64 // its new invert
}

// Left is the water that a change leaves.
type left struct {
	depth, volume float64
}

// Escape returns what stands in pond p after a change that lowers ground or outlets.
//
// The new level of a place is the least, over all ways out, of the highest point on the way. Lowering can
// only lower levels, so the old ones are upper bounds. The flood starts at the pond and the changed ground,
// with the old levels as what is to be had outside, and spreads to other ground only where it lowers the
// level there. That gives the same levels as a flood over the whole roof, at the cost of what changes.
func (m *model) escape(p int32, wet []int32, ch change) left {
	level := m.flood(wet, ch)
	return m.water(p, wet, level)
}

// flood returns a reader of the new levels.
func (m *model) flood(wet []int32, ch change) func(v int32) float64 {
	m.stamp += 2
	in, done := m.stamp-1, m.stamp
	region := make([]int32, 0, len(wet)+len(ch.lowered))
	for _, list := range [2][]int32{wet, ch.lowered} {
		for _, v := range list {
			if m.mark[v] != in {
				m.mark[v] = in
				region = append(region, v)
			}
		}
	}
	level := func(v int32) float64 {
		if m.mark[v] == in || m.mark[v] == done {
			return m.dist[v]
		}
		return m.ps.Level[v]
	}
	m.queue = m.queue[:0]
	for _, v := range region {
		if m.dist[v] = m.wayOut(v, in, ch); !math.IsInf(m.dist[v], 1) {
			m.queue.Push(m.dist[v], v)
		}
	}
	for len(m.queue) > 0 {
		key, v := m.queue.Pop()
		if m.mark[v] == done {
			continue
		}
		m.mark[v] = done
		m.around(v, func(w int32) {
			if h := math.Max(key, m.z[w]); h < level(w) {
				m.mark[w], m.dist[w] = in, h
				m.queue.Push(h, w)
			}
		})
	}
	return level
}

// wayOut returns the level at which water at v leaves the region at once, +Inf where it cannot.
func (m *model) wayOut(v, in int32, ch change) float64 {
	key := math.Inf(1)
	if o := m.sink[v]; o >= 0 {
		key = math.Max(m.z[v], m.invert(o, v, ch))
	}
	m.around(v, func(w int32) {
		if m.mark[w] != in {
			key = math.Min(key, math.Max(m.z[v], m.ps.Level[w]))
		}
	})
	return key
}

// invert returns the elevation at which outlet o takes water at vertex v.
func (m *model) invert(o, v int32, ch change) float64 {
	out := &m.s.Outlets[o]
	switch {
	case out.Type == roof.EdgeOutlet:
		return m.z[v]
	case o == ch.outlet:
		return math.Min(ch.invert, out.Invert)
	default:
		return out.Invert
	}
}

// water sums up what stands over the facets of pond p and over the ground that was changed.
func (m *model) water(p int32, wet []int32, level func(int32) float64) left {
	var l left
	for _, v := range wet {
		l.depth = math.Max(l.depth, level(v)-m.z[v])
	}
	if l.depth <= surface.Grid {
		return left{}
	}
	for _, f := range m.ps.Ponds[p].Facets {
		h := math.Inf(-1)
		var z [3]float64
		for c := range int32(3) {
			v := m.t.V[3*f+c]
			z[c] = m.z[v]
			if w := level(v); w > z[c] {
				h = math.Max(h, w)
			}
		}
		_, volume := under(z, h, m.t.FacetArea(f))
		l.volume += volume
	}
	return l
}

// under returns plan area and volume of water at level h over a facet of plan area a with corners at z.
// Source: integral of a linear depth over the wet part of a triangle; with corners p <= q <= r:
// one corner wet: area a (h-p)^2/((q-p)(r-p)), volume area (h-p)/3; two wet: the whole less the dry tip.
func under(z [3]float64, h, a float64) (area, volume float64) {
	p, q, r := z[0], z[1], z[2]
	if p > q {
		p, q = q, p
	}
	if q > r {
		q, r = r, q
	}
	if p > q {
		p, q = q, p
	}
	switch {
	case h <= p:
		return 0, 0
	case h >= r:
		return a, a * (h - (p+q+r)/3)
	case h <= q:
		area = a * (h - p) / (q - p) * ((h - p) / (r - p))
		return area, area * (h - p) / 3
	default:
		tip := float64(a * (r - h) / (r - p) * ((r - h) / (r - q)))
		return a - tip, float64(a*(h-(p+q+r)/3)) + float64(tip*(r-h)/3)
	}
}
