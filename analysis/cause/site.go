package cause

import (
	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Site is one pond with what the rules need to know of it.
type site struct {
	index int32
	p     *ponding.Pond
	wet   []int32 // vertices under water
	low   float64 // lowest elevation [m]
	deep  int32   // the lowest vertex

	centre orb.Point  // centroid of the water
	axis   [2]float64 // unit vector along the pond
	long   float64    // sides of the rectangle with the water's second moments [m]
	wide   float64

	shore  shore
	outlet int32 // the outlet the water should reach, -1 none
	way    way
}

// Shore is what the water stands against.
type shore struct {
	curb, wall, open float64    // wetted lengths of border [m]
	curbIn           [2]float64 // mean unit vector from the water into the curb
	wallIn           [2]float64 // mean unit vector from the water into the wall
}

// site gathers pond i; wet lists its vertices.
func (m *model) site(i int32, wet []int32) *site {
	st := &site{index: i, p: &m.ps.Ponds[i], wet: wet, outlet: -1}
	st.deep = m.lowest(st, wet)
	st.low = m.t.Z[st.deep]
	m.measure(st)
	st.way = m.wayOf(st)
	st.outlet = m.target(st)
	return st
}

// wayOf returns the pond's way out. Where an overflow holds the water, that is not the way it was meant to
// go: then it is the way to the primary outlet that rising water would reach first, over ground that now
// stands above the water.
func (m *model) wayOf(st *site) way {
	if h := st.p.HeldBy; h >= 0 && !m.primary(h) {
		if level, ok := m.levelTo(st.deep, len(st.wet), m.primary); ok {
			return m.wayFrom(st.deep, level, len(st.wet), m.primary)
		}
	}
	return m.wayFrom(st.deep, st.p.Level, len(st.wet), anyOutlet)
}

// lowest returns the lowest vertex; the first pit where the pond has no vertex of its own under water.
func (m *model) lowest(st *site, wet []int32) int32 {
	best := st.p.Pits[0]
	for _, v := range wet {
		if m.t.Z[v] < m.t.Z[best] {
			best = v
		}
	}
	return best
}

// target returns the outlet that the pond's water should reach: the one at the end of its way, and
// failing that the one its spill ends in.
func (m *model) target(st *site) int32 {
	if st.way.end >= 0 {
		return st.way.end
	}
	p := st.p
	for range m.ps.Ponds {
		switch {
		case p.HeldBy >= 0:
			return p.HeldBy
		case p.ToOutlet >= 0:
			return p.ToOutlet
		case p.ToPond < 0:
			return -1
		}
		p = &m.ps.Ponds[p.ToPond]
	}
	return -1
}

// measure sums area, first and second moments of the water's plan and the length of its shores.
func (m *model) measure(st *site) {
	t := m.t
	var mo moments
	mo.origin = orb.Point{t.X[st.deep], t.Y[st.deep]}
	for _, f := range st.p.Facets {
		ring := m.wetRing(f, st.p.Level)
		for k := 2; k < len(ring); k++ {
			mo.triangle(ring[0], ring[k-1], ring[k])
		}
		for c := range int32(3) {
			if t.Twin[3*f+c] < 0 {
				m.touch(st, 3*f+c)
			}
		}
	}
	st.shore.curbIn = unit(st.shore.curbIn)
	st.shore.wallIn = unit(st.shore.wallIn)
	st.centre, st.axis, st.long, st.wide = mo.rectangle()
}

// touch adds the wetted part of border half-edge e to the shore it belongs to.
func (m *model) touch(st *site, e int32) {
	t := m.t
	a, b := t.V[e], t.V[surface.Next(e)]
	dx, dy := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
	part := wetPart(t.Z[a], t.Z[b], st.p.Level)
	length := float64(part * vector.Norm(dx, dy))
	in := [2]float64{float64(dy * part), float64(-dx * part)} // outward of a counter-clockwise facet
	switch {
	case t.Flag[e]&surface.CurbEdge != 0:
		st.shore.curb += length
		st.shore.curbIn[0] += in[0]
		st.shore.curbIn[1] += in[1]
	case t.Flag[e]&surface.OpenEdge != 0:
		st.shore.open += length
	default:
		st.shore.wall += length
		st.shore.wallIn[0] += in[0]
		st.shore.wallIn[1] += in[1]
	}
}

// wetPart returns the share of an edge with end elevations a and b that lies below level.
func wetPart(a, b, level float64) float64 {
	switch {
	case a >= level && b >= level:
		return 0
	case a < level && b < level:
		return 1
	case a < level:
		return (level - a) / (b - a)
	default:
		return (level - b) / (a - b)
	}
}

// wetRing returns the part of facet f below level, not closed.
func (m *model) wetRing(f int32, level float64) []orb.Point {
	t := m.t
	ring := make([]orb.Point, 0, 4)
	for c := range int32(3) {
		e := 3*f + c
		a, b := t.V[e], t.V[surface.Next(e)]
		if t.Z[a] < level {
			ring = append(ring, orb.Point{t.X[a], t.Y[a]})
		}
		if (t.Z[a] < level) != (t.Z[b] < level) {
			k := (level - t.Z[a]) / (t.Z[b] - t.Z[a])
			ring = append(ring, orb.Point{t.X[a] + float64(k*(t.X[b]-t.X[a])), t.Y[a] + float64(k*(t.Y[b]-t.Y[a]))})
		}
	}
	return ring
}

// edgeOutlet reports whether outlet o is a run of gutter or free edge.
func (m *model) edgeOutlet(o int32) bool { return o >= 0 && m.s.Outlets[o].Type == roof.EdgeOutlet }
