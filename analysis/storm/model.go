package storm

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"

	"runnel/analysis/fault"
	"runnel/analysis/flow"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Model is one surface made ready for any number of storms; it may be used by several goroutines at once.
type Model struct {
	s      *surface.Surface
	bare   *ponding.Ponds // of the surface on which only edges take water
	tree   []ponding.Node
	table  curves
	spills *ponding.Spills
	edges  []int32 // outlets of the surface that are edges: those of the bare surface
	mouths []mouth // per outlet of the surface

	base, full []float64 // per node: what it holds at its Base and at its Level [m3]
	order      []int32   // nodes by falling Level
	rank       []int32   // per node: its place in order
	z          []float64

	mu      sync.Mutex
	catches map[string]*catch // by outlets on slopes that work
}

// look stops the routing where nobody waits for it; tables of waters alone have no surface.
func (m *Model) look() {
	if t := m.s.TIN; t != nil {
		t.Halt.Look()
	}
}

// mouth is a drain or a scupper as water meets it.
type mouth struct {
	law           Law
	vertex        int32   // lowest of its footprint; -1 for an edge, or where others took the footprint whole
	node          int32   // innermost node whose water covers it when it starts; -1 out of reach
	invert, crest float64 // crest: level at which it starts [m]
	slope         bool    // dry paths run through it
	most          float64 // that it catches on a slope [m3/s]
	toNode        int32   // where what passes goes: node of a pit,
	toEdge        int32   // or an edge
}

// catch is the area that drains to each low place, edge and outlet on a slope [m2].
type catch struct {
	net     *flow.Network
	outlets []int32   // of the network: index of the surface's outlet
	leaf    []float64 // per node
	outlet  []float64 // per outlet of the surface
}

// New makes a surface ready. laws has one entry per outlet of the surface, or is nil; what stands there for an
// edge is not used. The error is a *fault.Error.
func New(s *surface.Surface, laws []Law) (*Model, error) {
	if laws == nil {
		laws = make([]Law, len(s.Outlets))
	}
	if len(laws) != len(s.Outlets) {
		return nil, fault.New("storm", "%d laws for %d outlets", len(laws), len(s.Outlets))
	}
	m := &Model{s: s, z: s.Cut.Z, catches: map[string]*catch{}}
	var sinks []surface.Outlet
	for i := range s.Outlets {
		if s.Outlets[i].Type == roof.EdgeOutlet {
			m.edges, sinks = append(m.edges, int32(i)), append(sinks, s.Outlets[i])
		}
	}
	var err error
	if m.bare, err = ponding.Find(s.Cut, sinks, m.z); err != nil {
		return nil, fmt.Errorf("storm: %w", err)
	}
	m.tree, m.table, m.spills = m.bare.Tree, m.bare.Table(), m.bare.Spills().All()
	m.rankNodes()
	for i := range s.Outlets {
		mo := m.mouthOf(&s.Outlets[i], laws[i])
		m.mouths = append(m.mouths, mo)
	}
	return m, nil
}

func (m *Model) rankNodes() {
	n := len(m.tree)
	m.base, m.full = make([]float64, n), make([]float64, n)
	m.order, m.rank = make([]int32, n), make([]int32, n)
	for k := range m.tree {
		node := &m.tree[k]
		if node.Left >= 0 {
			m.base[k] = m.full[node.Left] + m.full[node.Right]
		}
		m.full[k] = m.table.Volume(int32(k), node.Level)
		m.order[k] = int32(k)
	}
	slices.SortFunc(m.order, func(a, b int32) int {
		return cmp.Or(cmp.Compare(m.tree[b].Level, m.tree[a].Level), cmp.Compare(b, a))
	})
	for i, k := range m.order {
		m.rank[k] = int32(i)
	}
}

// closed reports whether a node has no way out: water rises over its Level as between walls.
func (m *Model) closed(k int32) bool { return m.tree[k].Parent < 0 && m.tree[k].Lip < 0 }

// mouthOf says how water meets an outlet.
func (m *Model) mouthOf(o *surface.Outlet, law Law) mouth {
	x := mouth{law: law, vertex: -1, node: -1, toNode: -1, toEdge: -1, invert: o.Invert}
	if o.Type == roof.EdgeOutlet || len(o.Vertices) == 0 {
		return x
	}
	high := math.Inf(-1)
	for _, v := range o.Vertices {
		if x.vertex < 0 || m.z[v] < m.z[x.vertex] {
			x.vertex = v
		}
		high = max(high, m.z[v])
	}
	x.crest = max(o.Invert, m.z[x.vertex])
	x.node = m.bare.NodeOf(x.vertex)
	low := x.node >= 0 && m.tree[x.node].Left < 0 && m.z[x.vertex] == m.tree[x.node].Base
	for x.node >= 0 && x.crest >= m.tree[x.node].Level && !m.closed(x.node) {
		x.node = m.tree[x.node].Parent
	}
	if x.slope = !low && x.invert <= m.z[x.vertex]; x.slope {
		x.most = x.takes(high - x.invert)
		x.toNode, x.toEdge = m.spills.From(x.vertex)
		if x.toEdge >= 0 {
			x.toEdge = m.edges[x.toEdge]
		}
	}
	return x
}

// takes returns the flow at a head; infinite without a law.
func (x *mouth) takes(head float64) float64 {
	if x.law == nil {
		return math.Inf(1)
	}
	if head <= 0 {
		return 0
	}
	return max(0, x.law(head))
}

// catchOf returns the areas while the outlets that are not blocked work.
func (m *Model) catchOf(blocked []bool) (*catch, error) {
	key := make([]byte, len(m.mouths))
	for i := range m.mouths {
		if m.mouths[i].slope && !blocked[i] {
			key[i] = 1
		}
	}
	m.mu.Lock()
	c := m.catches[string(key)]
	m.mu.Unlock()
	if c != nil {
		return c, nil
	}
	c, err := m.traceCatch(key)
	if err != nil {
		return nil, err
	}
	m.mu.Lock()
	m.catches[string(key)] = c
	m.mu.Unlock()
	return c, nil
}

func (m *Model) traceCatch(works []byte) (*catch, error) {
	c := &catch{leaf: make([]float64, len(m.tree)), outlet: make([]float64, len(m.mouths))}
	s := *m.s
	s.Outlets = nil
	for i := range m.mouths {
		if works[i] == 1 || m.s.Outlets[i].Type == roof.EdgeOutlet {
			c.outlets, s.Outlets = append(c.outlets, int32(i)), append(s.Outlets, m.s.Outlets[i])
		}
	}
	var err error
	if c.net, err = flow.Trace(&s, flow.Options{LabelsOnly: true}); err != nil {
		return nil, fmt.Errorf("storm: %w", err)
	}
	for label, end := range c.net.Ends {
		leaf, outlet, err := m.endOf(c, end)
		if err != nil {
			return nil, err
		}
		if outlet >= 0 {
			c.outlet[outlet] += c.net.Area[label]
		} else {
			c.leaf[leaf] += c.net.Area[label]
		}
	}
	return c, nil
}

// endOf returns the pit's node, or else the outlet, that a label stands for.
func (m *Model) endOf(c *catch, end flow.End) (leaf, outlet int32, err error) {
	if end.Outlet >= 0 {
		return -1, c.outlets[end.Outlet], nil
	}
	if leaf = m.spills.Leaf(end.Pit); leaf < 0 {
		return -1, -1, fault.New("storm", "the pit at vertex %d is not in the tree of depressions", end.Pit)
	}
	return leaf, -1, nil
}
