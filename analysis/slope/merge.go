package slope

import (
	"slices"

	"runnel/analysis/surface"
)

const (
	mergePasses = 4
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
		for _, pair := range g.borders(m.root) {
			a, b := m.root(int32(pair>>32)), m.root(int32(pair&(1<<32-1)))
			if a != b && m.onePlane(a, b) {
				m.join(a, b)
				joined = true
			}
		}
		if !joined {
			break
		}
	}
	for f := range g.region {
		g.region[f] = m.root(g.region[f])
	}
}

func (g *grower) newMerger() *merger {
	n := len(g.sums)
	m := &merger{grower: g, parent: make([]int32, n), head: make([]int32, n), tail: make([]int32, n), next: make([]int32, len(g.region))}
	for r := range m.parent {
		m.parent[r], m.head[r] = int32(r), -1
	}
	for f := range g.region {
		r := g.region[f]
		m.next[f] = -1
		if m.head[r] < 0 {
			m.head[r] = int32(f)
		} else {
			m.next[m.tail[r]] = int32(f)
		}
		m.tail[r] = int32(f)
	}
	return m
}

// borders returns the adjoining pairs of regions, each once, as low<<32 | high, ascending.
func (g *grower) borders(root func(int32) int32) []int64 {
	var pairs []int64
	last := int64(-1)
	for e, w := range g.t.Twin {
		if w < int32(e) {
			continue
		}
		a, b := root(g.region[e/3]), root(g.region[w/3])
		if a == b {
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
		p, ok := m.sums[a].fit()
		return ok && m.allFit(b, &p)
	}
	p, ok := m.sums[a].plus(m.sums[b]).fit()
	return ok && m.allFit(b, &p) && m.allFit(a, &p)
}

// allFit reports whether all facets of region r lie on p, but for one in a hundred.
func (m *merger) allFit(r int32, p *fit) bool {
	off := int32(0)
	for f := m.head[r]; f >= 0; f = m.next[f] {
		if ok, _ := m.fits(f, p, 1e6); !ok {
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
	m.sums[a] = m.sums[a].plus(m.sums[b])
	m.count[a] += m.count[b]
}

// Regions that are too small to be called planes join a neighbour.
const (
	leastPlane = 0.1   // [m2], about a square foot
	mostPlanes = 10000 // the largest are kept
)

// dissolve joins every region that is too small to be called a plane to the neighbour with which it
// shares the longest border; its facets do not count in that plane's fit.
func (g *grower) dissolve() {
	keep := g.kept()
	var queue []int32
	for f := range g.region {
		if !keep[g.region[f]] {
			g.region[f], g.weak[f] = -1, true
		}
	}
	for f := range g.region {
		if g.region[f] < 0 && g.neighbour(int32(f)) >= 0 {
			queue = append(queue, int32(f))
		}
	}
	for i := 0; i < len(queue); i++ {
		f := queue[i]
		if g.region[f] >= 0 {
			continue
		}
		g.region[f] = g.neighbour(f)
		for e := 3 * f; e < 3*f+3; e++ {
			if w := g.t.Twin[e]; w >= 0 && g.region[w/3] < 0 {
				queue = append(queue, w/3)
			}
		}
	}
	g.islands()
}

// kept marks the regions that stay planes.
func (g *grower) kept() []bool {
	size := make([]float64, len(g.sums))
	for f, r := range g.region {
		size[r] += area(g.t, int32(f))
	}
	least := leastPlane
	if sorted := slices.Clone(size); len(sorted) > mostPlanes {
		slices.Sort(sorted)
		least = max(least, sorted[len(sorted)-mostPlanes])
	}
	keep := make([]bool, len(size))
	for r, a := range size {
		keep[r] = a >= least
	}
	return keep
}

// neighbour returns the region with which facet f shares the longest border, -1 none.
func (g *grower) neighbour(f int32) int32 {
	t, best, length := g.t, int32(-1), 0.0
	for e := 3 * f; e < 3*f+3; e++ {
		w := t.Twin[e]
		if w < 0 || g.region[w/3] < 0 {
			continue
		}
		r, sum := g.region[w/3], 0.0
		for d := 3 * f; d < 3*f+3; d++ {
			if k := t.Twin[d]; k >= 0 && g.region[k/3] == r {
				a, b := t.V[d], t.V[surface.Next(d)]
				sum += hypot(t.X[b]-t.X[a], t.Y[b]-t.Y[a])
			}
		}
		if sum > length {
			best, length = r, sum
		}
	}
	return best
}

// islands makes one region of every connected part that holds no plane at all.
func (g *grower) islands() {
	for f := range g.region {
		if g.region[f] >= 0 {
			continue
		}
		id := int32(len(g.sums))
		g.sums = append(g.sums, moments{})
		stack := []int32{int32(f)}
		g.region[f] = id
		for len(stack) > 0 {
			k := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			g.weak[k] = false
			for e := 3 * k; e < 3*k+3; e++ {
				if w := g.t.Twin[e]; w >= 0 && g.region[w/3] < 0 {
					g.region[w/3] = id
					stack = append(stack, w/3)
				}
			}
		}
	}
}
