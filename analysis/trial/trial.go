// Package trial says where water would run and stand if a roof were changed a little: an outlet set to another level or blocked, a rise taken off, a
// pond filled, a cricket built. The mesh is kept, but that the feet and the ridge of a cricket are cut into it, so that an answer comes at once.
//
// It is for looking, not for building: what mends a roof is worked out and checked by package correction. Vertices stand where the survey has
// points, so a change is as wide as the facets round them; a cricket is as wide as it is.
package trial

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/catchment"
	"runnel/analysis/flow"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Kind is what is changed.
type Kind uint8

// The kinds of change.
const (
	SetOutlet Kind = iota // its invert, and where that is lowered the roof of its footprint with it, as a drain set down in a sump
	Block                 // an outlet takes nothing
	Shave                 // the roof on a pond's way out is cut to a straight fall
	Fill                  // a pond is filled up so that its floor falls to its lip
	Cricket               // tapered boards shed water from behind a curb, a wall, or from the line between two outlets
)

// fillSlope is how steeply a fill falls to the lip, rise over run: 1/4 in per ft, as new work.
const fillSlope = 1. / 48

// Change is one change.
type Change struct {
	Kind   Kind
	Outlet int     // index into Surface.Outlets, of SetOutlet and Block
	Invert float64 // new one [m], of SetOutlet
	Pond   int32   // index into the ponds as found, of Shave and Fill

	Base   [2]orb.Point // of Cricket: the ends of its long side
	Tip    float64      // of Cricket: how far its tips stand off the base [m]; 0: as its valleys ask
	Rate   float64      // of Cricket: at which its boards rise [rise/run]; 0: as standard.CricketTimes has it
	Valley float64      // of Cricket: least fall asked of its valleys [rise/run]
}

// Result is the changed roof.
type Result struct {
	Surface *surface.Surface // the new shape; Outlets are those that work
	Working []int            // per outlet of Surface: index into the outlets as found
	Ponds   *ponding.Ponds   // of Surface
	Was     []int32          // per vertex of Surface.Cut: pond as found that covers it, -1 where it was dry
	Built   []*Built         // the crickets, in the order of the changes
	Cut     float64          // deepest cut of all changes [m]
	Raised  float64          // highest fill [m]
}

// Of makes the changes one after the other on a copy of the surface and finds its ponds. found are the ponds as found. The error is NoField for a cricket
// that would shed nothing, else a *fault.Error.
func Of(s *surface.Surface, found *ponding.Ponds, changes []Change) (*Result, error) {
	r := &Result{}
	m, err := newMaker(s, found, changes)
	if err != nil {
		return nil, err
	}
	r.Built, r.Was = m.built, m.of
	next := 0
	for _, c := range changes {
		switch c.Kind {
		case SetOutlet:
			m.set(c.Outlet, c.Invert)
		case Block:
			m.blocked[c.Outlet] = true
		case Shave:
			m.shave(c.Pond)
		case Fill:
			m.fill(c.Pond)
		case Cricket:
			m.lay(m.built[next])
			next++
		}
	}
	base := *m.s
	base.Outlets = m.outlets
	r.Surface = base.Reshape(m.z)
	working := r.Surface.Outlets[:0]
	for i := range r.Surface.Outlets {
		if !m.blocked[i] {
			working, r.Working = append(working, r.Surface.Outlets[i]), append(r.Working, i)
		}
	}
	r.Surface.Outlets = working
	if r.Ponds, err = ponding.Find(r.Surface.Cut, working, m.z); err != nil {
		return nil, err
	}
	for v, z := range m.z {
		r.Cut, r.Raised = max(r.Cut, m.t.Z[v]-z), max(r.Raised, z-m.t.Z[v])
	}
	return r, nil
}

// Catchments says what runs to which outlet of the changed roof with every pond full. The error is a *fault.Error.
func (r *Result) Catchments() (*catchment.Catchments, error) {
	n, err := flow.Trace(r.Surface, flow.Options{LabelsOnly: true})
	if err != nil {
		return nil, err
	}
	return catchment.Full(r.Surface, n, r.Ponds)
}

// maker makes changes.
type maker struct {
	found   *ponding.Ponds
	of      []int32          // per vertex: pond as found that covers it, -1 where dry
	s       *surface.Surface // as found, with the feet and ridges of crickets cut in
	t       *surface.TIN     // Cut of that
	z       []float64        // per vertex: elevation so far [m]
	foot    []bool           // per vertex: part of an outlet's footprint
	outlets []surface.Outlet
	blocked []bool
	built   []*Built
}

// newMaker shapes the crickets among the changes and cuts them in.
func newMaker(s *surface.Surface, found *ponding.Ponds, changes []Change) (*maker, error) {
	m := &maker{found: found, of: found.Of, s: s, blocked: make([]bool, len(s.Outlets))}
	on := surface.NewLocator(s.Cut)
	var rings [][]orb.Point
	for i := range changes {
		if changes[i].Kind != Cricket {
			continue
		}
		b, err := changes[i].plan(on)
		if err != nil {
			return nil, err
		}
		m.built = append(m.built, b)
		for k := range b.halves {
			rings = append(rings, b.halves[k].ring)
		}
	}
	if len(rings) > 0 {
		carved, of, err := s.Carve(rings...)
		if err != nil {
			return nil, err
		}
		m.s = carved
		m.cover(s.Cut, of)
	}
	m.t, m.z, m.outlets = m.s.Cut, slices.Clone(m.s.Cut.Z), slices.Clone(m.s.Outlets)
	m.foot = make([]bool, len(m.z))
	for i := range m.outlets {
		if m.outlets[i].Type == roof.EdgeOutlet {
			continue
		}
		for _, v := range m.outlets[i].Vertices {
			m.foot[v] = true
		}
	}
	return m, nil
}

// cover says which of the vertices that were cut in a pond as found covers. of holds for every facet the one that it was cut from.
func (m *maker) cover(before *surface.TIN, of []int32) {
	t := m.s.Cut
	m.of = append(slices.Clone(m.of), make([]int32, len(t.X)-len(m.of))...)
	for v := len(before.X); v < len(m.of); v++ {
		m.of[v] = -1
	}
	for f, old := range of {
		for _, v := range t.V[3*f : 3*f+3] {
			if int(v) < len(before.X) {
				continue
			}
			for _, w := range before.V[3*old : 3*old+3] {
				if p := m.found.Of[w]; p >= 0 && m.found.Ponds[p].Level > t.Z[v] {
					m.of[v] = p
				}
			}
		}
	}
}

// set gives an outlet another invert.
func (m *maker) set(o int, invert float64) {
	out := &m.outlets[o]
	if out.Type == roof.EdgeOutlet {
		return // every point of an edge takes water at its own elevation
	}
	out.Invert = invert
	for _, v := range out.Vertices {
		m.z[v] = min(m.z[v], invert)
	}
}

// shave cuts the roof on the lowest way from a pond's lowest place to where it lies lower, or to an outlet, down to a straight fall.
func (m *maker) shave(p int32) {
	way := m.wayOut(m.found.Ponds[p].Pits[0])
	if len(way) < 2 {
		return
	}
	along := make([]float64, len(way))
	for i := 1; i < len(way); i++ {
		a, b := way[i-1], way[i]
		along[i] = along[i-1] + vector.Norm(m.t.X[b]-m.t.X[a], m.t.Y[b]-m.t.Y[a])
	}
	last := len(way) - 1
	start, end := m.z[way[0]], min(m.z[way[last]], m.z[way[0]])
	for i, v := range way {
		line := start + float64((end-start)*(along[i]/along[last]))
		m.z[v] = min(m.z[v], line)
	}
}

// wayOut returns the vertices of the way from one vertex along edges to an outlet that takes water below its level or to lower ground whose
// highest place is lowest; nil where there is none.
func (m *maker) wayOut(from int32) []int32 {
	sink := m.sinks()
	start := m.z[from]
	high := map[int32]float64{from: start}
	before := map[int32]int32{from: -1}
	done := map[int32]bool{}
	queue := []int32{from}
	for len(queue) > 0 {
		best := 0
		for i, v := range queue {
			if high[v] < high[queue[best]] || high[v] == high[queue[best]] && v < queue[best] {
				best = i
			}
		}
		v := queue[best]
		queue = slices.Delete(queue, best, best+1)
		if done[v] {
			continue
		}
		done[v] = true
		if v != from && (m.z[v] < start || sink[v] <= start) {
			return m.back(before, v)
		}
		m.around(v, func(w int32) {
			h := max(high[v], m.z[w])
			if known, ok := high[w]; !done[w] && (!ok || h < known) {
				high[w], before[w] = h, v
				queue = append(queue, w)
			}
		})
	}
	return nil
}

func (m *maker) back(before map[int32]int32, v int32) (way []int32) {
	for ; v >= 0; v = before[v] {
		way = append(way, v)
	}
	slices.Reverse(way)
	return way
}

// around calls a function for every neighbour of a vertex.
func (m *maker) around(v int32, call func(w int32)) {
	for e := range m.t.Star(v) {
		call(m.t.End(e))
	}
	if last := m.t.Last(v); last >= 0 {
		call(m.t.V[last])
	}
}

// sinks returns for each vertex the least level at which a working outlet takes water there, +Inf where none does.
func (m *maker) sinks() []float64 {
	level := slices.Repeat([]float64{math.Inf(1)}, len(m.z))
	for i := range m.outlets {
		for _, v := range m.outlets[i].Vertices {
			at := m.outlets[i].Invert
			if m.outlets[i].Type == roof.EdgeOutlet {
				at = m.z[v]
			}
			if !m.blocked[i] {
				level[v] = min(level[v], at)
			}
		}
	}
	return level
}

// fill raises the floor of a pond to fall to its lip, or to the outlet that holds it.
func (m *maker) fill(p int32) {
	pond := &m.found.Ponds[p]
	var x, y float64
	switch {
	case pond.Lip >= 0:
		x, y = m.t.X[pond.Lip], m.t.Y[pond.Lip]
	case pond.HeldBy >= 0:
		x, y = m.outlets[pond.HeldBy].Plan[0], m.outlets[pond.HeldBy].Plan[1]
	default:
		return // there is no way out to fall to
	}
	for v, of := range m.of {
		if of == p {
			m.z[v] = max(m.z[v], pond.Level+float64(fillSlope*vector.Norm(m.t.X[v]-x, m.t.Y[v]-y)))
		}
	}
}
