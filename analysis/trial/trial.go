// Package trial says where water would stand if a roof were changed a little: an outlet set to another level or blocked, a rise taken off, a
// pond filled. The mesh is kept and only elevations and outlets change, so that an answer comes at once.
//
// It is for looking, not for building: what mends a roof is worked out and checked by package correction. Vertices stand where the survey has
// points, so a change is as wide as the facets round them.
package trial

import (
	"math"
	"slices"

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
)

// FillSlope is how steeply a fill falls to the lip, rise over run: 1/4 in per ft, as new work.
const FillSlope = 1. / 48

// Change is one change.
type Change struct {
	Kind   Kind
	Outlet int     // index into Surface.Outlets, of SetOutlet and Block
	Invert float64 // new one [m], of SetOutlet
	Pond   int32   // index into the ponds as found, of Shave and Fill
}

// Result is the changed roof.
type Result struct {
	Surface *surface.TIN // the cut surface with the new elevations; its gradients and signs of flow are the old ones
	Ponds   *ponding.Ponds
	Cut     float64 // deepest cut of all changes [m]
	Built   float64 // highest fill [m]
}

// Of makes the changes one after the other on a copy of the surface and finds its ponds. found are the ponds as found. The error is that of
// ponding.Find.
func Of(s *surface.Surface, found *ponding.Ponds, changes []Change) (*Result, error) {
	t := *s.Cut
	t.Z = slices.Clone(s.Cut.Z)
	m := &maker{found: found, t: &t, outlets: slices.Clone(s.Outlets), blocked: make([]bool, len(s.Outlets))}
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
		}
	}
	var working []surface.Outlet
	for i := range m.outlets {
		m.measure(&m.outlets[i], s.Cut.Z)
		if !m.blocked[i] {
			working = append(working, m.outlets[i])
		}
	}
	ponds, err := ponding.Find(&t, working, t.Z)
	if err != nil {
		return nil, err
	}
	r := &Result{Surface: &t, Ponds: ponds}
	for v, z := range t.Z {
		r.Cut, r.Built = max(r.Cut, s.Cut.Z[v]-z), max(r.Built, z-s.Cut.Z[v])
	}
	return r, nil
}

// maker makes changes.
type maker struct {
	found   *ponding.Ponds
	t       *surface.TIN
	outlets []surface.Outlet
	blocked []bool
}

// set gives an outlet another invert.
func (m *maker) set(o int, invert float64) {
	out := &m.outlets[o]
	if out.Type == roof.EdgeOutlet {
		return // every point of an edge takes water at its own elevation
	}
	out.Invert = invert
	for _, v := range out.Vertices {
		m.t.Z[v] = min(m.t.Z[v], invert)
	}
}

// measure takes anew the lowest surface of an outlet's footprint where that changed.
func (m *maker) measure(o *surface.Outlet, before []float64) {
	if o.Type == roof.EdgeOutlet || !slices.ContainsFunc(o.Vertices, func(v int32) bool { return m.t.Z[v] != before[v] }) {
		return
	}
	o.Low = math.Inf(1)
	for _, v := range o.Vertices {
		o.Low = min(o.Low, m.t.Z[v])
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
	start, end := m.t.Z[way[0]], min(m.t.Z[way[last]], m.t.Z[way[0]])
	for i, v := range way {
		line := start + float64((end-start)*(along[i]/along[last]))
		m.t.Z[v] = min(m.t.Z[v], line)
	}
}

// wayOut returns the vertices of the way from one vertex along edges to an outlet that takes water below its level or to lower ground whose
// highest place is lowest; nil where there is none.
func (m *maker) wayOut(from int32) []int32 {
	sink := m.sinks()
	start := m.t.Z[from]
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
		if v != from && (m.t.Z[v] < start || sink[v] <= start) {
			return m.back(before, v)
		}
		m.around(v, func(w int32) {
			h := max(high[v], m.t.Z[w])
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
	level := make([]float64, len(m.t.Z))
	for v := range level {
		level[v] = math.Inf(1)
	}
	for i := range m.outlets {
		for _, v := range m.outlets[i].Vertices {
			at := m.outlets[i].Invert
			if m.outlets[i].Type == roof.EdgeOutlet {
				at = m.t.Z[v]
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
	for v, of := range m.found.Of {
		if of == p {
			m.t.Z[v] = max(m.t.Z[v], pond.Level+float64(FillSlope*vector.Norm(m.t.X[v]-x, m.t.Y[v]-y)))
		}
	}
}
