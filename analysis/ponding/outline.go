package ponding

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// Outline returns the water's edge of pond p when full: outer rings counter-clockwise, each followed by
// its islands, clockwise. Water that touches itself at a point is cut there, and a crest at exactly the
// level between its waters is not drawn, so rings never cross or touch themselves. A pond of no depth has
// no outline.
//
// The facets are marched in order; ground at exactly the level is dry. A cut through an edge is computed
// once, from the edge's lower end, so rings close exactly.
func (ps *Ponds) Outline(p int32) Outline {
	m := marcher{ps: ps, pond: p, level: ps.Ponds[p].Level, at: map[int32]int32{}}
	for _, f := range ps.Ponds[p].Facets {
		m.facet(f)
	}
	return nest(m.rings())
}

// marcher collects directed pieces of the outline, water on their left. Their ends have keys: 2e for the
// cut through edge e (the lower of its two half-edges), 2e+1 for the wet vertex where border half-edge e
// starts.
type marcher struct {
	ps    *Ponds
	pond  int32
	level float64
	from  []orb.Point     // per piece: where it starts
	next  []int32         // per piece: key where it ends
	at    map[int32]int32 // key -> piece that starts there
}

func (m *marcher) facet(f int32) {
	t, z := m.ps.t, m.ps.z
	in, out := int32(-1), int32(-1)
	for e := 3 * f; e < 3*f+3; e++ {
		wet, wetNext := z[t.V[e]] < m.level, z[t.V[surface.Next(e)]] < m.level
		if wet != wetNext {
			if wet {
				out = e
			} else {
				in = e
			}
		}
		if t.Twin[e] >= 0 || !wet && !wetNext {
			continue
		}
		start, end := m.cut(e), m.cut(e)
		if wet {
			start = 2*e + 1
		}
		if wetNext {
			end = 2*m.along(e) + 1
		}
		m.piece(start, e, end)
	}
	if out < 0 {
		return
	}
	end := m.cut(in)
	if far := m.beyond(surface.Next(out)); far >= 0 {
		end = m.cut(far)
	}
	m.piece(m.cut(out), out, end)
}

// beyond returns, for an edge at exactly the level with water of this pond on both sides, the edge on
// which the outline goes on: past the end of e instead of along it. -1 for any other edge.
func (m *marcher) beyond(e int32) int32 {
	t, z := m.ps.t, m.ps.z
	twin := t.Twin[e]
	if twin < 0 || z[t.V[e]] != m.level || z[t.V[twin]] != m.level || m.ps.Of[t.V[surface.Prev(twin)]] != m.pond {
		return -1
	}
	return surface.Next(twin)
}

// piece adds a piece that starts on half-edge e.
func (m *marcher) piece(start, e, end int32) {
	t, z := m.ps.t, m.ps.z
	a, b := t.V[e], t.V[surface.Next(e)]
	if z[b] < z[a] {
		a, b = b, a
	}
	s := (m.level - z[a]) / (z[b] - z[a])
	p := orb.Point{t.X[a] + float64(s*(t.X[b]-t.X[a])), t.Y[a] + float64(s*(t.Y[b]-t.Y[a]))}
	if z[b] == m.level {
		p = orb.Point{t.X[b], t.Y[b]}
	}
	if start&1 == 1 {
		p = orb.Point{t.X[t.V[e]], t.Y[t.V[e]]}
	}
	m.at[start] = int32(len(m.from))
	m.from, m.next = append(m.from, p), append(m.next, end)
}

// cut returns the key of the cut through the edge of half-edge e.
func (m *marcher) cut(e int32) int32 {
	if twin := m.ps.t.Twin[e]; twin >= 0 && twin < e {
		return 2 * twin
	}
	return 2 * e
}

// along returns the border half-edge that follows border half-edge e.
func (m *marcher) along(e int32) int32 {
	e = surface.Next(e)
	for m.ps.t.Twin[e] >= 0 {
		e = surface.Next(m.ps.t.Twin[e])
	}
	return e
}

// rings joins the pieces.
func (m *marcher) rings() []orb.Ring {
	var rings []orb.Ring
	used := make([]bool, len(m.from))
	for i := range m.from {
		var walk []orb.Point
		for k := int32(i); !used[k]; k = m.at[m.next[k]] {
			used[k] = true
			walk = append(walk, m.from[k])
		}
		rings = split(walk, rings)
	}
	return rings
}

// split appends the ring of a walk, cut wherever it comes to one place twice. Two vertices can stand at one
// place, where the surface touches itself.
func split(walk []orb.Point, rings []orb.Ring) []orb.Ring {
	var open []orb.Point
	index := make(map[orb.Point]int, len(walk))
	for _, p := range append(walk, walk[:min(1, len(walk))]...) {
		i, seen := index[p]
		if !seen {
			index[p] = len(open)
			open = append(open, p)
			continue
		}
		if ring := open[i:]; len(ring) >= 3 && vector.Area(ring) != 0 {
			rings = append(rings, append(slices.Clone(orb.Ring(ring)), p))
		}
		for _, gone := range open[i+1:] {
			delete(index, gone)
		}
		open = open[:i+1]
	}
	return rings
}

// nest puts every island into the smallest outer ring around it.
func nest(rings []orb.Ring) Outline {
	var outline Outline
	var size []float64
	for _, r := range rings {
		if a := vector.Area(r); a > 0 {
			outline, size = append(outline, orb.Polygon{r}), append(size, a)
		}
	}
	for _, r := range rings {
		if vector.Area(r) > 0 {
			continue
		}
		best, least := 0, math.Inf(1)
		for i := range outline {
			middle := orb.Point{(r[0][0] + r[1][0]) / 2, (r[0][1] + r[1][1]) / 2}
			if len(outline) > 1 && size[i] < least && planar.RingContains(outline[i][0], middle) {
				best, least = i, size[i]
			}
		}
		if len(outline) > 0 {
			outline[best] = append(outline[best], r)
		}
	}
	return outline
}
