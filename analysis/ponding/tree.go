package ponding

import "runnel/analysis/surface"

// none is the node of a component from which water has a way out.
const none = int32(-1)

// joiner sweeps the surface upwards. Its elements are the vertices, then the outlets; the components of
// what lies below the sweep are sets of a union-find.
type joiner struct {
	t     *surface.TIN
	z     []float64
	star  *star
	sinks *sinks
	n     int32 // vertices

	set  []int32 // per element: parent, or minus the size at a root
	node []int32 // per root: the component's node, none if it has a way out
	of   []int32 // per vertex: its node
	tree []Node

	near []int32 // scratch
	slot []int32 // scratch per root: its number in the batch, or -1
	batch
}

// batch is what happens at one level: groups of elements at that level that touch each other, and the
// components below that they touch.
type batch struct {
	members []int32 // elements, vertices first
	mark    []uint8 // per member: seen* flags
	touches []touch // by member
	groups  []group
	below   []component
}

type touch struct{ via, group, below, nextOfGroup, nextOfBelow int32 }

type group struct {
	first   int32 // smallest element
	touches int32 // head of a list of touches, -1 empty
	mark    uint8
	open    bool
}

type component struct {
	root    int32
	touches int32 // head of a list of touches
	lip     int32 // best way out so far: an outlet as a negative number, else a vertex; meaningful when reached
	reached bool
	open    bool
}

// What a member of a group has seen around it.
const (
	seenLower  uint8 = 1 << iota // a lower vertex across an edge
	seenSink                     // an outlet in which dry paths end
	seenOutlet                   // an outlet at or below this level
)

// join builds the tree of depressions.
func join(t *surface.TIN, z []float64, st *star, s *sinks) *joiner {
	n, m := len(z), len(s.level)
	j := &joiner{
		t: t, z: z, star: st, sinks: s, n: int32(n),
		set: make([]int32, n+m), node: make([]int32, n+m), of: make([]int32, n), slot: make([]int32, n+m),
	}
	for i := range j.set {
		j.set[i], j.slot[i] = -1, -1
	}
	vertices, outlets := byElevation(z), byElevation(s.level)
	for len(vertices)+len(outlets) > 0 {
		t.Halt.Look()
		h := 0.0
		if len(outlets) == 0 || len(vertices) > 0 && z[vertices[0]] <= s.level[outlets[0]] {
			h = z[vertices[0]]
		} else {
			h = s.level[outlets[0]]
		}
		j.members = j.members[:0]
		for len(vertices) > 0 && z[vertices[0]] == h {
			j.members, vertices = append(j.members, vertices[0]), vertices[1:]
		}
		for len(outlets) > 0 && s.level[outlets[0]] == h {
			j.members, outlets = append(j.members, j.n+outlets[0]), outlets[1:]
		}
		j.advance(h)
	}
	return j
}

// advance takes in all elements at level h.
func (j *joiner) advance(h float64) {
	j.meet(h)
	j.number()
	j.findWaysOut(h)
	for g := range j.groups {
		if j.groups[g].open {
			j.release(&j.groups[g], h)
		} else {
			j.merge(&j.groups[g], h)
		}
	}
	for _, x := range j.members {
		if x < j.n {
			j.of[x] = j.node[j.find(x)]
		}
	}
}

// meet joins members that touch each other, and lists the components below that each touches.
func (j *joiner) meet(h float64) {
	j.touches, j.mark = j.touches[:0], j.mark[:0]
	for _, x := range j.members {
		from, mark := len(j.touches), uint8(0)
		for _, y := range j.around(x) {
			hy := j.elevation(y)
			if hy > h {
				continue
			}
			if y >= j.n {
				mark |= seenOutlet
				if j.sinks.dry[y-j.n] {
					mark |= seenSink
				}
			} else if hy < h && x < j.n {
				mark |= seenLower
			}
			if hy == h {
				j.unite(x, y)
				continue
			}
			j.touch(x, j.find(y), from)
		}
		j.mark = append(j.mark, mark)
	}
}

// touch notes that x touches the component of root, once; from is x's first touch.
func (j *joiner) touch(x, root int32, from int) {
	for i := from; i < len(j.touches); i++ {
		if j.touches[i].below == root {
			return
		}
	}
	j.touches = append(j.touches, touch{via: x, below: root})
}

// number gives groups and components their numbers in the batch, and links the touches to both.
func (j *joiner) number() {
	j.groups, j.below = j.groups[:0], j.below[:0]
	for i, x := range j.members {
		r := j.find(x)
		if j.slot[r] < 0 {
			j.slot[r] = int32(len(j.groups))
			j.groups = append(j.groups, group{first: x, touches: -1})
		}
		g := &j.groups[j.slot[r]]
		g.mark |= j.mark[i]
		g.open = g.open || x >= j.n
	}
	for i := range j.touches {
		if c := &j.touches[i]; j.slot[c.below] < 0 {
			j.slot[c.below] = int32(len(j.below))
			j.below = append(j.below, component{root: c.below, touches: -1, open: j.node[c.below] == none})
		}
	}
	for i := len(j.touches) - 1; i >= 0; i-- {
		c := &j.touches[i]
		c.group, c.below = j.slot[j.find(c.via)], j.slot[c.below]
		c.nextOfGroup, j.groups[c.group].touches = j.groups[c.group].touches, int32(i)
		c.nextOfBelow, j.below[c.below].touches = j.below[c.below].touches, int32(i)
		j.groups[c.group].open = j.groups[c.group].open || j.below[c.below].open
	}
	for i := range j.below {
		j.slot[j.below[i].root] = -1
	}
	for _, x := range j.members {
		j.slot[j.find(x)] = -1
	}
}

// findWaysOut spreads the way out over all that meets at level h, in turns: first what touches an outlet
// or a component with a way out, then what touches those, and so on. So no two ponds spill into each other.
func (j *joiner) findWaysOut(h float64) {
	var frontier, reached []int32
	for g := range j.groups {
		if j.groups[g].open {
			frontier = append(frontier, int32(g))
		}
	}
	for turn := int32(1); len(frontier) > 0; turn++ {
		reached = reached[:0]
		for _, g := range frontier {
			for i := j.groups[g].touches; i >= 0; i = j.touches[i].nextOfGroup {
				c := &j.below[j.touches[i].below]
				if c.open {
					continue
				}
				lip := j.touches[i].via
				if lip >= j.n {
					lip -= int32(len(j.set)) // outlets before vertices
				}
				if !c.reached {
					c.reached, c.lip = true, lip
					reached = append(reached, j.touches[i].below)
				}
				c.lip = min(c.lip, lip)
			}
		}
		frontier = frontier[:0]
		for _, b := range reached {
			c := &j.below[b]
			c.open = true
			j.spill(j.node[c.root], c.lip, h, turn)
			for i := c.touches; i >= 0; i = j.touches[i].nextOfBelow {
				if g := j.touches[i].group; !j.groups[g].open {
					j.groups[g].open = true
					frontier = append(frontier, g)
				}
			}
		}
	}
}

// spill ends a node: it is full at h and has a way out at lip.
func (j *joiner) spill(node, lip int32, h float64, turn int32) {
	p := &j.tree[node]
	p.Level, p.turn = h, turn
	if lip < 0 {
		p.HeldBy = lip + int32(len(j.set)) - j.n
	} else {
		p.Lip = lip
	}
}

// merge joins a group without a way out with the components it touches: none makes a pit, one grows, two
// or more become one depression.
func (j *joiner) merge(g *group, h float64) {
	r, node, lip := j.find(g.first), none, int32(-1)
	for i := g.touches; i >= 0; i = j.touches[i].nextOfGroup {
		c := &j.touches[i]
		root := j.find(j.below[c.below].root)
		other := j.node[root]
		switch node {
		case other:
		case none:
			node, lip = other, c.via
		default:
			node = j.pair(node, other, lip, c.via, h)
		}
		r = j.unite(r, root)
		j.node[r] = node
	}
	if node == none {
		node = j.leaf(g.first, h)
	}
	j.node[r] = node
	j.tree[node].Level = h
}

func (j *joiner) leaf(pit int32, h float64) int32 {
	j.tree = append(j.tree, Node{
		Pit: pit, Parent: -1, Left: -1, Right: -1, Base: h, Level: h, Lip: -1, HeldBy: -1,
	})
	return int32(len(j.tree) - 1)
}

// pair makes one depression of two that meet at level h, where a spills at lipA and b at lipB.
func (j *joiner) pair(a, b, lipA, lipB int32, h float64) int32 {
	k := int32(len(j.tree))
	pit, other := j.tree[a].Pit, j.tree[b].Pit
	if j.z[other] < j.z[pit] || j.z[other] == j.z[pit] && other < pit {
		pit = other
	}
	for _, c := range [2]struct{ node, lip int32 }{{a, lipA}, {b, lipB}} {
		p := &j.tree[c.node]
		p.Parent, p.Level, p.Lip = k, h, c.lip
	}
	j.tree = append(j.tree, Node{
		Pit: pit, Parent: -1, Left: a, Right: b, Base: h, Level: h, Lip: -1, HeldBy: -1,
	})
	return k
}

// around returns the elements that touch x; the slice is reused.
func (j *joiner) around(x int32) []int32 {
	if x >= j.n {
		return j.sinks.verts[x-j.n]
	}
	if !j.sinks.foot[x] {
		return j.star.neighbours(x)
	}
	j.near = append(j.near[:0], j.star.neighbours(x)...)
	for _, p := range j.sinks.outletsAt(x) {
		j.near = append(j.near, j.n+p.outlet)
	}
	return j.near
}

func (j *joiner) elevation(x int32) float64 {
	if x >= j.n {
		return j.sinks.level[x-j.n]
	}
	return j.z[x]
}

func (j *joiner) find(x int32) int32 {
	for j.set[x] >= 0 {
		if p := j.set[x]; j.set[p] >= 0 {
			j.set[x] = j.set[p]
		}
		x = j.set[x]
	}
	return x
}

// unite joins the sets of a and b and returns the root; the caller sets its node.
func (j *joiner) unite(a, b int32) int32 {
	a, b = j.find(a), j.find(b)
	if a == b {
		return a
	}
	if j.set[a] > j.set[b] {
		a, b = b, a
	}
	j.set[a] += j.set[b]
	j.set[b] = a
	return a
}
