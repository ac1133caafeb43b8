package slope

import (
	"slices"

	"runnel/analysis/geometry/regression"
	"runnel/analysis/surface"
)

const (
	mergePasses = 4
	scrap       = 8  // facets; fewer make no plane worth trying
	mergeRatio  = 20 // a region this many times larger keeps its plane when it takes in a small one
)

// merger joins regions that lie on one plane though a breakline or a stray spot parts them.
type merger struct {
	*grower
	parent, head, tail []int32 // per region: joined into; first and last facet
	next               []int32 // per facet: the next of its region, -1 at the end
}

// merge joins adjoining regions whose facets all lie on one plane; a breakline that does not fold the
// surface ends up inside a plane so.
func (g *grower) merge() {
	m := g.newMerger()
	for range mergePasses {
		joined := false
		for _, pair := range m.borders() {
			if a, b := m.root(int32(pair>>32)), m.root(int32(pair&(1<<32-1))); a != b && m.onePlane(a, b) {
				m.join(a, b)
				joined = true
			}
		}
		if !joined {
			break
		}
	}
	for f, r := range g.region {
		if r >= 0 {
			g.region[f] = m.root(r)
		}
	}
}

func (g *grower) newMerger() *merger {
	n := len(g.sums)
	m := &merger{grower: g, parent: make([]int32, n), head: make([]int32, n), tail: make([]int32, n), next: make([]int32, len(g.region))}
	for r := range m.parent {
		m.parent[r], m.head[r] = int32(r), -1
	}
	for f, r := range g.region {
		m.next[f] = -1
		if r < 0 {
			continue
		}
		if m.head[r] < 0 {
			m.head[r] = int32(f)
		} else {
			m.next[m.tail[r]] = int32(f)
		}
		m.tail[r] = int32(f)
	}
	return m
}

// borders returns the adjoining pairs of regions that may lie on one plane, each once, as
// low<<32 | high, ascending. Two scraps with no breakline between were tried while growing.
func (m *merger) borders() []int64 {
	var pairs []int64
	last := int64(-1)
	for e, w := range m.t.Twin {
		if w < int32(e) || m.region[e/3] < 0 || m.region[w/3] < 0 || m.t.Flag[e]&surface.FoldEdge != 0 {
			continue
		}
		a, b := m.root(m.region[e/3]), m.root(m.region[w/3])
		if a == b || max(m.count[a], m.count[b]) < scrap && m.t.Flag[e]&surface.BreaklineEdge == 0 {
			continue
		}
		pair := int64(min(a, b))<<32 | int64(max(a, b))
		if pair != last {
			pairs = append(pairs, pair)
		}
		last = pair
	}
	slices.Sort(pairs)
	return slices.Compact(pairs)
}

func (m *merger) root(r int32) int32 {
	for m.parent[r] != r {
		m.parent[r] = m.parent[m.parent[r]]
		r = m.parent[r]
	}
	return r
}

// onePlane reports whether two regions lie on one plane.
func (m *merger) onePlane(a, b int32) bool {
	if m.count[a] < m.count[b] {
		a, b = b, a
	}
	if m.count[a] > mergeRatio*m.count[b] {
		// a patch of neighbouring strays in a plane, or a scrap beyond a breakline
		p, ok := m.sums[a].Plane(thin)
		return ok && m.allFit(b, &p, 3)
	}
	p, ok := m.sums[a].Plus(m.sums[b]).Plane(thin)
	return ok && m.allFit(b, &p, 1) && m.allFit(a, &p, 1)
}

// allFit reports whether all facets of region r lie on p, but for one in a hundred; each may have so
// many stray corners.
func (m *merger) allFit(r int32, p *regression.Plane, strays int) bool {
	off := int32(0)
	for f := m.head[r]; f >= 0; f = m.next[f] {
		if m.strays(f, p, 1e6) > strays {
			off++
			if off > m.count[r]/100 {
				return false
			}
		}
	}
	return true
}

// join makes b a part of a, or a of b: the larger stays.
func (m *merger) join(a, b int32) {
	if m.count[a] < m.count[b] {
		a, b = b, a
	}
	m.parent[b] = a
	m.next[m.tail[a]] = m.head[b]
	m.tail[a] = m.tail[b]
	m.sums[a] = m.sums[a].Plus(m.sums[b])
	m.count[a] += m.count[b]
}
