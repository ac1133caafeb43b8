package ponding

// release joins a group that has a way out with all it touches. A pit under an outlet that takes only
// standing water is a pond of no depth: dry paths end there.
func (j *joiner) release(g *group, h float64) {
	switch {
	case g.first >= j.n:
	case j.joinedByOutlet(g):
		j.pitsUnderOutlet(g, h)
	case g.mark&(seenLower|seenSink) == 0:
		j.heldPit(g.first, h, func(x int32) bool { return j.find(x) == j.find(g.first) })
	}
	r := j.find(g.first)
	for i := g.touches; i >= 0; i = j.touches[i].nextOfGroup {
		r = j.unite(r, j.below[j.touches[i].below].root)
	}
	j.node[r] = none
}

// heldPit makes a pond of no depth at a pit; in says which members stand with it.
func (j *joiner) heldPit(first int32, h float64, in func(x int32) bool) {
	pit := j.leaf(first, h)
	for i, x := range j.members {
		if x < j.n && j.mark[i]&seenOutlet != 0 && in(x) {
			j.tree[pit].HeldBy, j.tree[pit].turn = j.sinks.takes(x, h), 1
			return
		}
	}
}

// joinedByOutlet reports whether an outlet of this very level is part of a group: then its vertices need not touch.
func (j *joiner) joinedByOutlet(g *group) bool {
	for i := len(j.members) - 1; i >= 0 && j.members[i] >= j.n; i-- {
		if j.find(j.members[i]) == j.find(g.first) {
			return true
		}
	}
	return false
}

// pitsUnderOutlet makes a pond of no depth of every level set of a group, taken by edges of the surface alone, that is a pit.
func (j *joiner) pitsUnderOutlet(g *group, h float64) {
	mark := make(map[int32]uint8, len(j.members))
	root := j.find(g.first)
	for i, x := range j.members {
		if x < j.n && j.find(x) == root {
			mark[x] = j.mark[i]
		}
	}
	part := make(map[int32]int32, len(mark)) // per vertex: smallest of its level set
	for _, x := range j.members {
		if _, mine := mark[x]; !mine {
			continue
		}
		if _, seen := part[x]; seen {
			continue
		}
		part[x] = x
		var all uint8
		for queue := []int32{x}; len(queue) > 0; queue = queue[1:] {
			all |= mark[queue[0]]
			for _, y := range j.star.neighbours(queue[0]) {
				if _, mine := mark[y]; !mine {
					continue
				}
				if _, seen := part[y]; !seen {
					part[y], queue = x, append(queue, y)
				}
			}
		}
		if all&(seenLower|seenSink) == 0 {
			j.heldPit(x, h, func(y int32) bool { p, ok := part[y]; return ok && p == x })
		}
	}
}
