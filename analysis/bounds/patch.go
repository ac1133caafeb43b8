package bounds

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// model is one surface prepared for replicates.
type model struct {
	*Input
	t       *surface.TIN // with the footprints cut in
	corner  [][3]int32   // per vertex that a footprint made: the vertices of the TIN between which it lies
	weight  [][3]float64 // and their weights
	shift   []float64    // per vertex of t: plainest surface less measured [m]
	sinks   []sink
	mark    []int32 // per vertex: the stamp of the patch that it is in
	index   []int32 // per vertex: its number in that patch
	facet   []int32 // per facet: the stamp
	stamp   int32
	foot    [][]int32 // per vertex in a footprint: the sinks that take water there; nil elsewhere
	hasFoot []bool
	origin  orb.Point // least x and y of the surface, in its pose [m]
}

// sink is an outlet as water meets it.
type sink struct {
	vertices []int32
	invert   float64 // [m]
	over     float64 // invert less the lowest surface, where the invert was not measured [m]
	assumed  bool
}

func newModel(in *Input) *model {
	t := in.Surface.Cut
	m := &model{Input: in, t: t, mark: make([]int32, len(t.X)), index: make([]int32, len(t.X)), facet: make([]int32, t.Facets())}
	own := len(in.Surface.TIN.X)
	m.corner, m.weight = make([][3]int32, len(t.X)-own), make([][3]float64, len(t.X)-own)
	for f := range int32(t.Facets()) {
		for e := 3 * f; e < 3*f+3; e++ {
			if v := t.V[e]; int(v) >= own {
				m.place(int(v)-own, v, t.Parent[f])
			}
		}
	}
	m.origin = orb.Point{math.Inf(1), math.Inf(1)}
	for v := range own {
		p := m.placeOf(int32(v))
		m.origin = orb.Point{math.Min(m.origin[0], p[0]), math.Min(m.origin[1], p[1])}
	}
	m.shift = make([]float64, len(t.X))
	for v := range own {
		m.shift[v] = in.Evidence.Plain[v] - in.Surface.TIN.Z[v]
	}
	m.carry(m.shift)
	m.foot, m.hasFoot = make([][]int32, len(t.X)), make([]bool, len(t.X))
	for i := range in.Surface.Outlets {
		o := &in.Surface.Outlets[i]
		s := sink{vertices: o.Vertices, invert: o.Invert, assumed: o.InvertAssumed, over: o.Invert - o.Low}
		if o.Type == roof.EdgeOutlet {
			s.invert = math.Inf(-1)
		}
		m.sinks = append(m.sinks, s)
		for _, v := range o.Vertices {
			m.foot[v], m.hasFoot[v] = append(m.foot[v], int32(i)), true
		}
	}
	return m
}

// placeOf returns where vertex v stands in the pose of the roof [m].
func (m *model) placeOf(v int32) orb.Point { return m.t.Pose.Plan(orb.Point{m.t.X[v], m.t.Y[v]}) }

// diceAt returns the dice of the pond whose lowest vertex is v: by its place on the roof to a tenth of a metre, wherever the roof stands and however it is
// turned.
func (m *model) diceAt(v int32) *dice {
	p := m.placeOf(v)
	tenths := func(v float64) uint64 { return uint64(math.Round(v/surface.Grid)) / (0.1 / surface.Grid) }
	return &dice{rand.NewPCG(tenths(p[0]-m.origin[0]), tenths(p[1]-m.origin[1]))}
}

// apart returns the model with marks of its own, so that patches of both may be made at once.
func (m *model) apart() *model {
	out := *m
	out.mark, out.index, out.facet, out.stamp = make([]int32, len(m.mark)), make([]int32, len(m.index)), make([]int32, len(m.facet)), 0
	return &out
}

// place finds where vertex v lies on the facet of the TIN that it was cut into.
func (m *model) place(i int, v, parent int32) {
	s, t := m.Surface.TIN, m.t
	a, b, c := s.V[3*parent], s.V[3*parent+1], s.V[3*parent+2]
	bx, by, cx, cy := s.X[b]-s.X[a], s.Y[b]-s.Y[a], s.X[c]-s.X[a], s.Y[c]-s.Y[a]
	px, py := t.X[v]-s.X[a], t.Y[v]-s.Y[a]
	cross := float64(bx*cy) - float64(by*cx)
	wb := (float64(px*cy) - float64(py*cx)) / cross
	wc := (float64(bx*py) - float64(by*px)) / cross
	m.corner[i], m.weight[i] = [3]int32{a, b, c}, [3]float64{1 - wb - wc, wb, wc}
}

// carry gives the vertices that footprints made their share of what their facet's corners have.
func (m *model) carry(values []float64) {
	own := len(values) - len(m.corner)
	for i := range m.corner {
		c, w := &m.corner[i], &m.weight[i]
		values[own+i] = float64(w[0]*values[c[0]]) + float64(w[1]*values[c[1]]) + float64(w[2]*values[c[2]])
	}
}

// patch is a part of the surface on which water is filled in by itself.
type patch struct {
	vertex []int32      // of the cut TIN
	facets [][3]int32   // corners, as numbers in vertex
	area   []float64    // of the facets [m2]
	first  []int32      // per vertex, and one past the last: its neighbours in near
	near   []int32      //
	far    []float64    // how far each of them is [m]
	beyond []float64    // per vertex: level of the water at the border to the rest of the surface; -Inf inside, +Inf never
	open   []bool       // per vertex: on an edge over which water leaves
	sinks  []int32      // outlets with a vertex in it
	feet   [][]int32    // of each of these: numbers of its vertices
	base   []float64    // elevations about which replicates are made [m]
	made   [][3]int32   // as model.corner of the vertices from own on, as numbers in vertex; -1 where the corner is outside
	weight [][3]float64 //
	own    int          // vertices from here on were made by footprints
}

// around gathers the patch within reach of some facets of the cut TIN [m]; a reach of +Inf gathers the whole surface.
func (m *model) around(seed []int32, reach float64) *patch {
	t := m.t
	m.stamp++
	queue := append([]int32{}, seed...)
	box := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, f := range seed {
		m.facet[f] = m.stamp
		for e := 3 * f; e < 3*f+3; e++ {
			v := t.V[e]
			box = [4]float64{math.Min(box[0], t.X[v]), math.Min(box[1], t.Y[v]), math.Max(box[2], t.X[v]), math.Max(box[3], t.Y[v])}
		}
	}
	reach += surface.Grid / 2 // what lies just as far is within, wherever the roof stands
	inside := func(v int32) bool {
		return t.X[v] >= box[0]-reach && t.Y[v] >= box[1]-reach && t.X[v] <= box[2]+reach && t.Y[v] <= box[3]+reach
	}
	for i := 0; i < len(queue); i++ {
		f := queue[i]
		for e := 3 * f; e < 3*f+3; e++ {
			o := t.Twin[e]
			if o < 0 || m.facet[o/3] == m.stamp || !inside(t.V[e]) && !inside(t.End(e)) {
				continue
			}
			m.facet[o/3] = m.stamp
			queue = append(queue, o/3)
		}
	}
	return m.patchOf(queue)
}

// side is one edge of a patch, seen from a.
type side struct{ a, b int32 }

// patchOf makes the patch of facets that are marked with the stamp.
func (m *model) patchOf(facets []int32) *patch {
	p := &patch{}
	m.number(p, facets)
	p.beyond, p.open = make([]float64, len(p.vertex)), make([]bool, len(p.vertex))
	for i := range p.beyond {
		p.beyond[i] = math.Inf(1)
	}
	var sides []side
	t := m.t
	for _, f := range facets {
		a, b, d := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		p.facets = append(p.facets, [3]int32{m.index[a], m.index[b], m.index[d]})
		p.area = append(p.area, (float64((t.X[b]-t.X[a])*(t.Y[d]-t.Y[a]))-float64((t.Y[b]-t.Y[a])*(t.X[d]-t.X[a])))/2)
		for e := 3 * f; e < 3*f+3; e++ {
			sides = m.edge(p, e, sides)
		}
	}
	m.link(p, sides)
	m.equip(p)
	return p
}

// number lists the vertices of facets, those of the TIN first, then those that footprints made, in an order that does not hang on how the roof lies. What is drawn for them goes by that order.
func (m *model) number(p *patch, facets []int32) {
	for _, f := range facets {
		for _, v := range m.t.V[3*f : 3*f+3] {
			if m.mark[v] != m.stamp {
				m.mark[v] = m.stamp
				p.vertex = append(p.vertex, v)
			}
		}
	}
	own := int32(len(m.Surface.TIN.X))
	slices.SortFunc(p.vertex, func(a, b int32) int {
		if min(a, b) < own {
			return int(a - b)
		}
		return cmp.Or(m.t.Pose.Before(orb.Point{m.t.X[a], m.t.Y[a]}, orb.Point{m.t.X[b], m.t.Y[b]}), int(a-b))
	})
	for i, v := range p.vertex {
		m.index[v] = int32(i)
	}
	p.own = len(p.vertex)
	for p.own > 0 && p.vertex[p.own-1] >= own {
		p.own--
	}
}

// edge adds half-edge e to the sides of a patch, with its twin where that is none of the patch's own, and notes what lies beyond it.
func (m *model) edge(p *patch, e int32, sides []side) []side {
	t := m.t
	a, b := m.index[t.V[e]], m.index[t.End(e)]
	switch o := t.Twin[e]; {
	case o < 0:
		if t.Flag[e]&surface.OpenEdge != 0 {
			p.open[a], p.open[b] = true, true
		}
	case m.facet[o/3] != m.stamp:
		for _, i := range [2]int32{a, b} {
			p.beyond[i] = m.Ponds.Level[p.vertex[i]]
		}
	default:
		return append(sides, side{a, b}) // the twin comes by itself
	}
	return append(sides, side{a, b}, side{b, a})
}

// link lists the neighbours of every vertex of a patch, ascending.
func (m *model) link(p *patch, sides []side) {
	t, n := m.t, len(p.vertex)
	p.first = make([]int32, n+1)
	for _, s := range sides {
		p.first[s.a+1]++
	}
	for i := range n {
		p.first[i+1] += p.first[i]
	}
	p.near, p.far = make([]int32, len(sides)), make([]float64, len(sides))
	at := append([]int32{}, p.first...)
	for _, s := range sides {
		p.near[at[s.a]] = s.b
		at[s.a]++
	}
	for a := range n {
		v := p.vertex[a]
		list := p.near[p.first[a]:p.first[a+1]]
		slices.Sort(list)
		for k, b := range list {
			w := p.vertex[b]
			dx, dy := float64(t.GX[w]-t.GX[v])*surface.Grid, float64(t.GY[w]-t.GY[v])*surface.Grid
			p.far[int(p.first[a])+k] = vector.Norm(dx, dy)
		}
	}
}

// equip gives a patch its outlets and the places of the vertices that footprints made.
func (m *model) equip(p *patch) {
	number := map[int32]int{}
	for i, v := range p.vertex {
		if !m.hasFoot[v] {
			continue
		}
		for _, s := range m.foot[v] {
			k, ok := number[s]
			if !ok {
				k = len(p.sinks)
				number[s] = k
				p.sinks, p.feet = append(p.sinks, s), append(p.feet, nil)
			}
			p.feet[k] = append(p.feet[k], int32(i))
		}
	}
	own := int32(len(m.Surface.TIN.X))
	for _, v := range p.vertex[p.own:] {
		var c [3]int32
		for k, w := range m.corner[v-own] {
			c[k] = -1
			if m.mark[w] == m.stamp {
				c[k] = m.index[w]
			}
		}
		p.made, p.weight = append(p.made, c), append(p.weight, m.weight[v-own])
	}
}
