package rainload

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/capacity"
	"runnel/analysis/gather"
	"runnel/analysis/queue"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// group is outlets that stand in one water.
type group struct {
	outlets  []int32
	static   float64
	level    float64
	known    bool
	overEdge bool    // an open edge holds the level
	vertices []int32 // below level and joined to the inlets
	to       *group  // to which it passes on what its outlets do not take at level, a saddle
	passed   float64 // [m3/s]
	gone     bool    // part of another group
}

// builder holds what settles the waters.
type builder struct {
	Input
	invert []float64 // per outlet: elevation from which it takes water
	held   []bool    // per outlet: a pond stands up to its inlet
	edge   []bool    // per vertex: an open edge takes water there
	at     [][]int32 // per vertex that is in a footprint: outlets there; nil elsewhere
	seen   []int32   // per vertex: mark of the last flood
	mark   int32
	groups []*group
}

func newBuilder(in Input) *builder {
	n := len(in.TIN.X)
	b := &builder{Input: in, invert: make([]float64, len(in.Outlets)), held: make([]bool, len(in.Outlets)), edge: make([]bool, n), at: make([][]int32, n), seen: make([]int32, n)}
	for i := range in.Outlets {
		o := &in.Outlets[i]
		b.invert[i] = o.Inlet()
		for _, v := range o.Vertices {
			if o.Type == roof.EdgeOutlet {
				b.edge[v] = true
			} else {
				b.at[v] = append(b.at[v], int32(i))
			}
		}
	}
	for k := range in.Ponds.Ponds {
		p := &in.Ponds.Ponds[k]
		if p.ToOutlet >= 0 && p.Level == b.invert[p.ToOutlet] {
			b.held[p.ToOutlet] = true
		}
	}
	return b
}

// gather makes a group of every outlet that water comes to: where rain is given, those with a flow; and those that
// hold a pond or stand in one that is as high as they are.
func (b *builder) gather() {
	for i := range b.Outlets {
		if b.Outlets[i].Type == roof.EdgeOutlet || !b.takes(i) {
			continue
		}
		b.groups = append(b.groups, &group{outlets: []int32{int32(i)}, static: b.invert[i], level: b.invert[i]})
	}
}

// takes reports whether water comes to outlet i.
func (b *builder) takes(i int) bool {
	if b.Inflow != nil && b.Inflow[i] > 0 {
		return true
	}
	for _, v := range b.Outlets[i].Vertices {
		if p := b.Ponds.Of[v]; p >= 0 && b.Ponds.Ponds[p].Level >= b.invert[i] {
			return true
		}
	}
	return b.held[i]
}

// settle finds the level of every group. A group whose water would rise over a saddle stands at the saddle and passes on
// what its outlets do not take there; where the water beyond stands as high, the two become one.
func (b *builder) settle() {
	queue := slices.Clone(b.groups)
	for turns := 100 * len(b.Outlets); len(queue) > 0; turns-- {
		g := queue[0]
		queue = queue[1:]
		if g.gone {
			continue
		}
		if turns < 0 { // no roof was found on which this happens
			g.known = false
			continue
		}
		if beyond := b.raise(g); beyond != nil {
			queue = append(queue, beyond)
		}
		for _, h := range b.groups {
			if h.to == g && !h.gone && g.level >= h.level {
				b.merge(h, g)
				queue = append(queue, g)
			}
		}
	}
	b.unite()
	b.groups = slices.DeleteFunc(b.groups, func(g *group) bool { return g.gone })
}

// unite makes one of groups that stand at one level in one water, as outlets with equal inverts do.
func (b *builder) unite() {
	of := make([]*group, len(b.TIN.X))
	for _, g := range b.groups {
		if g.gone {
			continue
		}
		for _, v := range g.vertices {
			if h := of[v]; h != nil && !h.gone && h.level == g.level {
				h.known = h.known && g.known
				h.overEdge = h.overEdge || g.overEdge
				b.merge(g, h)
				h.vertices = append(h.vertices, g.vertices...)
				slices.Sort(h.vertices)
				h.vertices = slices.Compact(h.vertices)
				break
			}
		}
		if !g.gone {
			for _, v := range g.vertices {
				of[v] = g
			}
		}
	}
}

// merge puts the outlets of group g into group into.
func (b *builder) merge(g, into *group) {
	g.gone = true
	into.outlets = append(into.outlets, g.outlets...)
	slices.Sort(into.outlets)
	into.static = math.Min(into.static, g.static)
	for _, h := range b.groups {
		if h.to == g {
			h.to = into
		}
	}
	if into.to == into {
		into.to = nil
	}
}

// groupOf returns the group of an outlet, made where there is none.
func (b *builder) groupOf(o int32) *group {
	for _, g := range b.groups {
		if !g.gone && slices.Contains(g.outlets, o) {
			return g
		}
	}
	g := &group{outlets: []int32{o}, static: b.invert[o], level: b.invert[o]}
	b.groups = append(b.groups, g)
	return g
}

// raise finds the level of a group and its water. It returns the group beyond a saddle that the water reaches, which
// must be raised again.
func (b *builder) raise(g *group) (beyond *group) {
	g.to, g.overEdge = nil, false
	g.level, g.known = b.levelOf(g)
	saddle, outlet := b.rise(g)
	if saddle >= g.level {
		g.vertices = b.flood(b.lowest(g), g.level)
		return nil
	}
	if outlet < 0 {
		g.overEdge = true
	} else {
		g.to = b.groupOf(outlet)
		g.passed = math.Max(0, b.flowTo(g)-b.taken(g, math.Max(saddle, g.static)))
		beyond = g.to
	}
	if saddle <= g.static { // nothing stands at the inlets: the roof falls away from them
		g.level, g.vertices = g.static, nil
		return beyond
	}
	g.level = saddle
	g.vertices = b.flood(b.lowest(g), g.level)
	return beyond
}

// lowest returns the outlets of a group at whose inlets its water begins to stand. A higher one is reached by that water or lies above it, on roof that may fall elsewhere.
func (b *builder) lowest(g *group) []int32 {
	return gather.Where(g.outlets, func(o int32) bool { return b.invert[o] <= g.static })
}

// rise lets the water of a group rise to its level, and returns the elevation over which it first reaches an open edge
// or another outlet that lies lower, and that outlet, -1 for an edge; +Inf where it reaches neither.
func (b *builder) rise(g *group) (saddle float64, outlet int32) {
	b.mark++
	var q queue.Queue
	add := func(v int32) {
		if b.seen[v] != b.mark && b.TIN.Z[v] < g.level {
			b.seen[v] = b.mark
			q.Push(b.TIN.Z[v], v)
		}
	}
	b.seeds(b.lowest(g), g.level, add)
	water := math.Inf(-1)
	for len(q) > 0 {
		_, v := q.Pop()
		water = math.Max(water, b.TIN.Z[v])
		if b.edge[v] {
			return water, -1
		}
		for _, o := range b.at[v] {
			if over := math.Max(water, b.invert[o]); over < g.level && !slices.Contains(g.outlets, o) {
				return over, o
			}
		}
		b.around(v, add)
	}
	return math.Inf(1), -1
}

// flowTo returns what comes to a group: to its outlets, and from groups that pass on to it [m3/s].
func (b *builder) flowTo(g *group) float64 {
	flow := 0.0
	for _, o := range g.outlets {
		if b.Inflow != nil {
			flow += b.Inflow[o]
		}
	}
	for _, h := range b.groups {
		if h.to == g && !h.gone {
			flow += h.passed
		}
	}
	return flow
}

// highest is the greatest head that is looked at [m].
const highest = 100.0

// levelOf returns the level at which the outlets of a group carry what comes to them. It is that of the lowest inlet,
// and not known, where rain is given and an outlet that it comes to has no law, or takes too little at any head.
func (b *builder) levelOf(g *group) (level float64, known bool) {
	if b.Inflow == nil {
		return g.static, false
	}
	for _, o := range g.outlets {
		if b.Inflow[o] > 0 && (b.Laws == nil || b.Laws[o] == nil) {
			return g.static, false
		}
	}
	takes := func(head float64) float64 { return b.taken(g, g.static+head) }
	flow := b.flowTo(g)
	if takes(highest) < flow {
		return g.static, false
	}
	return g.static + capacity.LeastHead(0, highest, flow, takes), true
}

// taken returns what the outlets of a group carry at a level [m3/s].
func (b *builder) taken(g *group, level float64) float64 {
	sum := 0.0
	for _, o := range g.outlets {
		if b.Laws != nil && b.Laws[o] != nil && level > b.invert[o] {
			sum += b.Laws[o](level - b.invert[o])
		}
	}
	return sum
}

// flood returns the vertices below a level that are joined to the inlets of outlets along the mesh, ascending.
func (b *builder) flood(outlets []int32, level float64) []int32 {
	b.mark++
	var found []int32
	add := func(v int32) {
		if b.seen[v] != b.mark && b.TIN.Z[v] < level {
			b.seen[v] = b.mark
			found = append(found, v)
		}
	}
	b.seeds(outlets, level, add)
	for i := 0; i < len(found); i++ {
		b.around(found[i], add)
	}
	slices.Sort(found)
	return found
}

// seeds visits where the water of outlets begins: their inlets, and what lies beside an inlet that is just at the level.
func (b *builder) seeds(outlets []int32, level float64, visit func(int32)) {
	for _, o := range outlets {
		for _, v := range b.Outlets[o].Vertices {
			if visit(v); b.TIN.Z[v] == level {
				b.around(v, visit)
			}
		}
	}
}

// around visits the neighbours of a vertex along the edges of the mesh.
func (b *builder) around(v int32, visit func(int32)) {
	t := b.TIN
	first := t.Out[v]
	for e := first; ; {
		visit(t.V[surface.Next(e)])
		visit(t.V[surface.Prev(e)])
		e = t.Twin[surface.Prev(e)]
		if e < 0 || e == first {
			return
		}
	}
}

// waters returns the groups as waters, deepest first.
func (b *builder) waters(l *Load) []Water {
	out := make([]Water, 0, len(b.groups))
	area, volume := b.shares(l)
	for i, g := range b.groups {
		w := Water{Outlets: g.outlets, Static: g.static, Level: g.level, Head: g.level - g.static, HeadKnown: g.known, OverEdge: g.overEdge}
		w.Inflow = b.flowTo(g)
		b.measure(&w, g)
		w.Area, w.Volume, w.Weight = area[i], volume[i], volume[i]*standard.WaterDensity
		out = append(out, w)
	}
	slices.SortStableFunc(out, func(p, q Water) int {
		return cmp.Or(cmp.Compare(q.Depth, p.Depth), cmp.Compare(p.Outlets[0], q.Outlets[0]))
	})
	return out
}
