package taper

import (
	"cmp"
	"math"
	"sort"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/taper/domain"
)

// flush is how far two planes may part along a common side and still be one [m].
const flush = 1e-5

// Differences of gradient that are none [rise/run]: between facets of the surface as it was, and between new planes, a thousandth of 1/4 in per ft.
const (
	exact = 1e-9
	askew = 2e-5
)

// drawing makes facets and lines of an envelope.
type drawing struct {
	*web
	env    *envelope
	facet  []int32 // per cell: its facet
	design *Design
	number []int32 // per corner of the web: its vertex in the design, -1
}

// draw fills in the design's facets, lines and vertices.
func draw(d *Design, env *envelope) {
	w := &drawing{web: weld(env.cells), env: env, design: d}
	w.group()
	w.outline()
	w.folds()
	d.facet = w.facet
}

// group joins cells of one plane that touch.
func (w *drawing) group() {
	parent := newUnion(len(w.env.cells))
	for _, s := range w.edges {
		if s.twin >= 0 && w.onePlane(s) {
			parent.join(s.cell, w.edges[s.twin].cell)
		}
	}
	w.facet = make([]int32, len(parent))
	for i := range parent {
		c := &w.env.cells[i]
		if r := parent.of(int32(i)); r != int32(i) {
			w.facet[i] = w.facet[r]
		} else {
			p := &w.env.planes[c.plane]
			w.facet[i] = int32(len(w.design.Facets))
			w.design.Facets = append(w.design.Facets, Facet{
				Plan: p.origin, Z: p.at(p.origin), DX: p.g[0], DY: p.g[1], Existing: p.old, moved: p.moved,
			})
		}
		w.design.Facets[w.facet[i]].Area += vector.Area(c.on)
	}
}

// onePlane reports whether the cells on both sides of s lie in one plane and drain to one outlet. New planes count as one where a crew would build one:
// an edge that stands a few millimetres askew to the main axis makes no other.
func (w *drawing) onePlane(s side) bool {
	a, b := w.env.cells[s.cell].plane, w.env.cells[w.edges[s.twin].cell].plane
	if a == b {
		return true
	}
	p, q := &w.env.planes[a], &w.env.planes[b]
	if p.laid+q.laid > 0 {
		return p.laid == q.laid // boards follow the roof: they are one section whatever lies under them
	}
	turn, gap := askew, 10*flush
	if p.old || p.moved {
		turn, gap = exact, flush
	}
	d := vector.Minus(p.g, q.g)
	return p.root == q.root && p.old == q.old && p.moved == q.moved && math.Abs(d[0]) < turn && math.Abs(d[1]) < turn &&
		math.Abs(p.at(w.at[s.a])-q.at(w.at[s.a])) <= gap && math.Abs(p.at(w.at[s.b])-q.at(w.at[s.b])) <= gap
}

// inner reports whether side i lies inside a facet.
func (w *drawing) inner(i int32) bool {
	t := w.edges[i].twin
	return t >= 0 && w.facet[w.edges[i].cell] == w.facet[w.edges[t].cell]
}

// outline walks the facets' borders.
func (w *drawing) outline() {
	from := map[[2]int32][]int32{}
	for i, s := range w.edges {
		if !w.inner(int32(i)) {
			k := [2]int32{w.facet[s.cell], s.a}
			from[k] = append(from[k], int32(i))
		}
	}
	used := make([]bool, len(w.edges))
	rings := make([][]orb.Ring, len(w.design.Facets))
	for i, s := range w.edges {
		if used[i] || w.inner(int32(i)) {
			continue
		}
		f := w.facet[s.cell]
		var loop domain.Polygon
		for e := int32(i); e >= 0 && !used[e]; e = w.rightmost(from[[2]int32{f, w.edges[e].b}], e, used) {
			used[e] = true
			loop = append(loop, w.at[w.edges[e].a])
		}
		if len(loop) < 3 || math.Abs(vector.Area(loop)) <= tiny {
			continue
		}
		ring := orb.Ring(domain.Straight(loop))
		rings[f] = append(rings[f], append(ring, ring[0]))
	}
	for f := range rings {
		sort.SliceStable(rings[f], func(i, j int) bool { return rings[f][i].Orientation() > rings[f][j].Orientation() })
		w.design.Facets[f].Polygon = rings[f]
	}
}

// rightmost returns the unused side that turns farthest to the right after e, straight back last of all; -1 for none. Where a border touches itself in a corner it so falls into rings that do not.
func (w *drawing) rightmost(next []int32, e int32, used []bool) int32 {
	back := vector.Unit(vector.Minus(w.at[w.edges[e].a], w.at[w.edges[e].b]))
	best, least := int32(-1), math.Inf(1)
	for _, i := range next {
		if used[i] {
			continue
		}
		u := vector.Unit(vector.Minus(w.at[w.edges[i].b], w.at[w.edges[i].a]))
		t := cmp.Or(domain.Turn(orb.Point{vector.Dot(back, u), vector.Cross(back, u)}), 4)
		if t < least {
			best, least = i, t
		}
	}
	return best
}

// folds joins the sides between facets to straight lines.
func (w *drawing) folds() {
	w.number = make([]int32, len(w.at))
	corner := make(map[orb.Point]int32, len(w.at))
	for i := range w.number {
		w.number[i] = -1
		corner[w.at[i]] = int32(i)
	}
	for _, f := range w.design.Facets {
		for _, ring := range f.Polygon {
			for _, p := range ring[:len(ring)-1] {
				v := w.vertex(corner[p]) // rings are made of the web's own points
				w.design.fresh[v] = w.design.fresh[v] || !f.ofMesh()
			}
		}
	}
	next := map[[3]int32]int32{} // left facet, right facet, start: side
	for i, s := range w.edges {
		if s.twin >= 0 && !w.inner(int32(i)) {
			next[w.key(int32(i), s.a)] = int32(i)
		}
	}
	done := make([]bool, len(w.edges))
	for i, s := range w.edges {
		if s.twin < 0 || w.inner(int32(i)) || done[i] {
			continue
		}
		if w.facet[s.cell] < w.facet[w.edges[s.twin].cell] {
			w.line(int32(i), next, done)
		}
	}
}

func (w *drawing) key(i, v int32) [3]int32 {
	s := w.edges[i]
	return [3]int32{w.facet[s.cell], w.facet[w.edges[s.twin].cell], v}
}

// line grows side i both ways along the same two facets while it stays straight, and adds the line.
func (w *drawing) line(i int32, next map[[3]int32]int32, done []bool) {
	before := func(e int32) int32 { // the side of the same pair that ends where e starts: twin of one that starts there
		t, ok := next[w.key(w.edges[e].twin, w.edges[e].a)]
		if !ok {
			return -1
		}
		return w.edges[t].twin
	}
	first := i
	for k := before(first); k >= 0 && k != i && !done[k] && w.aligned(w.edges[k].a, w.edges[first].a, w.edges[i].b); k = before(first) {
		first = k
	}
	a, b := w.edges[first].a, w.edges[first].b
	done[first] = true
	for {
		k, ok := next[w.key(first, b)]
		if !ok || done[k] || !w.aligned(a, b, w.edges[k].b) {
			break
		}
		done[k] = true
		b = w.edges[k].b
		first = k
	}
	w.addLine(a, b, w.edges[i])
}

// aligned reports whether b lies on the way from a to c.
func (w *drawing) aligned(a, b, c int32) bool {
	return domain.OffLine(w.at[b], w.at[a], w.at[c]) <= 2*join && vector.Dot(vector.Minus(w.at[b], w.at[a]), vector.Minus(w.at[c], w.at[b])) > 0
}

func (w *drawing) addLine(a, b int32, s side) {
	l := Line{A: w.vertex(a), B: w.vertex(b), Left: int(w.facet[s.cell]), Right: int(w.facet[w.edges[s.twin].cell])}
	d := vector.Minus(w.at[b], w.at[a])
	l.Length = vector.Length(d)
	left, right := &w.design.Facets[l.Left], &w.design.Facets[l.Right]
	u := vector.Scaled(d, 1/l.Length)
	if !left.ofMesh() || !right.ofMesh() {
		w.design.fresh[l.A], w.design.fresh[l.B] = true, true
	}
	l.Slope = math.Abs(float64(left.DX*u[0]) + float64(left.DY*u[1]))
	l.Kind = kind(left, right, u, l.Slope)
	w.design.Lines = append(w.design.Lines, l)
}

// kind names the fold between a plane on the left and one on the right of a line along u: a valley where water runs to it from one side at least and from neither away, a hip or ridge
// where it runs away and to it from neither; where it comes from one side and leaves on the other it only crosses.
func kind(left, right *Facet, u orb.Point, slope float64) roof.BreaklineType {
	n := vector.Quarter(u, 1) // to the left
	l, r := float64(left.DX*n[0])+float64(left.DY*n[1]), -(float64(right.DX*n[0]) + float64(right.DY*n[1]))
	const level = 1e-9
	switch {
	case l > -level && r > -level && l+r > level:
		return roof.Valley
	case l >= level || r >= level || l+r >= -level:
		return roof.GradeBreak
	case slope > level:
		return roof.Hip
	}
	return roof.Ridge
}

// vertex returns the design's number of corner i, new if need be.
func (w *drawing) vertex(i int32) int {
	if w.number[i] < 0 {
		w.number[i] = int32(len(w.design.Vertices))
		w.design.Vertices = append(w.design.Vertices, Vertex{Plan: w.at[i]})
		w.design.fresh = append(w.design.fresh, false)
	}
	return int(w.number[i])
}
