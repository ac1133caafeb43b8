package ponding

// Spills says where full depressions spill to on the dry surface. Looks are kept; it is not for several
// goroutines at once unless All was called.
type Spills struct {
	ps     *Ponds
	into   []int32 // per node: node of a pit, -2-outlet, or unknown
	leaf   []int32 // per pit vertex: its node
	inside nesting
	d      *descent
}

const unknown = int32(-1)

// Spills returns where the depressions of the tree spill to.
func (ps *Ponds) Spills() *Spills {
	s := &Spills{
		ps: ps, into: make([]int32, len(ps.Tree)), leaf: make([]int32, len(ps.z)), inside: newNesting(ps.Tree),
		d: newDescent(ps),
	}
	s.d.dry = true
	for v := range s.leaf {
		s.leaf[v] = -1
	}
	for k := range ps.Tree {
		s.into[k] = unknown
		if ps.Tree[k].Left < 0 {
			s.leaf[ps.Tree[k].Pit] = int32(k)
		}
	}
	return s
}

// Leaf returns the node of the pit at vertex v, the smallest of its level set; -1 where there is none.
func (s *Spills) Leaf(v int32) int32 { return s.leaf[v] }

// Size returns how many nodes a node has with its parts and theirs.
func (s *Spills) Size(k int32) int32 { return s.inside.size[k] }

// Of returns the node of the pit, or else the outlet, that full node k spills to; -1 for none. A node that
// merges with another spills into that one; one without a way out spills nowhere.
func (s *Spills) Of(k int32) (pit, outlet int32) {
	if s.into[k] == unknown {
		if n := &s.ps.Tree[k]; n.Lip < 0 && n.HeldBy < 0 {
			return -1, -1
		}
		s.into[k] = s.find(k)
	}
	if s.into[k] <= -2 {
		return -1, -2 - s.into[k]
	}
	return s.into[k], -1
}

// From returns the node of the pit, or else the outlet, that water which runs from vertex v ends in.
func (s *Spills) From(v int32) (pit, outlet int32) {
	end := s.d.run(at(v), false, anywhere)
	if end.outlet >= 0 {
		return -1, end.outlet
	}
	return s.leaf[end.pit], -1
}

// All looks at every node, so that later looks change nothing.
func (s *Spills) All() *Spills {
	for k := range s.into {
		s.Of(int32(k))
	}
	return s
}

// beside returns the node that k merges with.
func (ps *Ponds) beside(k int32) int32 {
	p := &ps.Tree[ps.Tree[k].Parent]
	return p.Left + p.Right - k
}

func (s *Spills) find(k int32) int32 {
	n := &s.ps.Tree[k]
	if n.HeldBy >= 0 {
		return -2 - n.HeldBy
	}
	allowed := func(y int32) bool {
		q := s.ps.Of[y]
		return q < 0 || s.ps.before(q, n.Pond)
	}
	if n.Parent >= 0 {
		beside := s.ps.beside(k)
		allowed = func(y int32) bool { return s.inside.within(s.ps.nodeOf[y], beside) }
	}
	end := s.d.spill(n.Lip, allowed)
	if end.outlet >= 0 {
		return -2 - end.outlet
	}
	return s.leaf[end.pit]
}

// nesting numbers the nodes so that those within one stand together after it.
type nesting struct{ number, size []int32 }

func newNesting(tree []Node) nesting {
	n := nesting{make([]int32, len(tree)), make([]int32, len(tree))}
	for k := range tree {
		n.size[k] = 1
		if p := &tree[k]; p.Left >= 0 {
			n.size[k] += n.size[p.Left] + n.size[p.Right]
		}
	}
	next := int32(0)
	for k := len(tree) - 1; k >= 0; k-- {
		p := &tree[k]
		if p.Parent < 0 {
			n.number[k] = next
			next += n.size[k]
		}
		if p.Left >= 0 {
			n.number[p.Left] = n.number[k] + 1
			n.number[p.Right] = n.number[p.Left] + n.size[p.Left]
		}
	}
	return n
}

// within reports whether node k, which may be none, is part of node.
func (n nesting) within(k, node int32) bool {
	return k != none && n.number[k] >= n.number[node] && n.number[k] < n.number[node]+n.size[node]
}

// NodeOf returns the innermost node whose own part vertex v is in: water that rises from the pits of the
// tree first covers v there. -1 where v had a way out.
func (ps *Ponds) NodeOf(v int32) int32 { return ps.nodeOf[v] }
