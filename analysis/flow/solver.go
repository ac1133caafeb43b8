package flow

import (
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// solver pulls interval lists up through the facets. Its nodes are the half-edges of kind crosses and
// the vertices; every node needs the lists of the sides and the labels of the vertices right below it.
// A stack replaces recursion. Whole sides can need each other in a ring although no water runs in one:
// a node that meets one still in progress follows just its own stretch of water instead (see follow).
type solver struct {
	*Network
	travel bool    // travel is wanted, not only labels
	tol    float64 // largest error of a travel, < 0 exact [m]
	scale  float64 // travel over which half the tolerance may be used up [m]

	lists arena
	dist  []float64 // per vertex: travel from it
	err   []float32 // per vertex: bound of the error of dist
	state []state   // per half-edge, then per vertex

	stack   []int32
	buf     []interval
	pending []stretch

	followed int // how often a node in progress was met
}

type state uint8

const (
	fresh state = iota
	open
	done
)

func newSolver(n *Network, o Options) *solver {
	v := &solver{
		Network: n, travel: !o.LabelsOnly, tol: o.Tolerance,
		lists: newArena(len(n.t.V)),
		state: make([]state, len(n.t.V)+len(n.t.X)),
		dist:  make([]float64, len(n.t.X)),
		err:   make([]float32, len(n.t.X)),
	}
	if v.tol == 0 {
		v.tol = defaultTolerance
	}
	v.scale = n.extent() / 8
	return v
}

// extent returns the diagonal of the surface's bounding box.
func (n *Network) extent() float64 {
	if len(n.t.X) == 0 {
		return 0
	}
	x0, x1, y0, y1 := n.t.X[0], n.t.X[0], n.t.Y[0], n.t.Y[0]
	for i, x := range n.t.X {
		x0, x1 = min(x0, x), max(x1, x)
		y0, y1 = min(y0, n.t.Y[i]), max(y1, n.t.Y[i])
	}
	return vector.Norm(x1-x0, y1-y0)
}

// solve settles every node.
func (v *solver) solve() {
	for e, k := range v.kind {
		if k == crosses {
			v.run(int32(e))
		}
	}
	for i := range v.t.X {
		v.run(v.node(int32(i)))
	}
}

// node returns the number of vertex i's node.
func (v *solver) node(i int32) int32 { return int32(len(v.t.V)) + i }

// run settles node x and all that it needs.
func (v *solver) run(x int32) {
	if v.state[x] != fresh {
		return
	}
	v.stack = append(v.stack[:0], x)
	for len(v.stack) > 0 {
		v.t.Halt.Look()
		x := v.stack[len(v.stack)-1]
		if v.state[x] == fresh {
			v.state[x] = open
			height := len(v.stack)
			v.needs(x)
			if len(v.stack) > height {
				continue
			}
		}
		v.stack = v.stack[:len(v.stack)-1]
		if v.state[x] == open {
			v.settle(x)
			v.state[x] = done
		}
	}
}

// want puts node x on the stack if nothing has been done about it yet.
func (v *solver) want(x int32) {
	if v.state[x] == fresh {
		v.stack = append(v.stack, x)
	}
}

// needs puts what node x needs on the stack.
func (v *solver) needs(x int32) {
	if x < int32(len(v.t.V)) {
		t := v.t.Twin[x]
		for _, side := range [2]int32{surface.Next(t), surface.Prev(t)} {
			if v.t.Run[side] > 0 {
				v.wantSide(side)
			}
		}
		return
	}
	i := x - int32(len(v.t.V))
	switch way := v.way[i]; {
	case way >= 0:
		v.want(v.node(way))
	case way <= firstFacet:
		v.wantSide(opposite(wayCorner(way)))
	}
}

func (v *solver) wantSide(e int32) {
	switch v.kind[e] {
	case closed, taken:
	case crosses:
		v.want(e)
	case along:
		low, falls := v.lower(e)
		v.want(v.node(low))
		if !falls {
			v.want(v.node(v.other(e, low)))
		}
	}
}

func (v *solver) settle(x int32) {
	if x < int32(len(v.t.V)) {
		v.settleSide(x)
		return
	}
	i := x - int32(len(v.t.V))
	switch way := v.way[i]; {
	case way >= 0:
		v.vertex[i], v.dist[i], v.err[i] = v.at(way)
		v.dist[i] += v.length(i, way)
	case way <= firstFacet:
		w, through := v.cornerExit(wayCorner(way))
		v.vertex[i], v.dist[i], v.err[i] = v.value(opposite(wayCorner(way)), w)
		v.dist[i] += through
	}
}

// at returns label, travel and error bound of vertex i.
func (v *solver) at(i int32) (Label, float64, float32) {
	if v.way[i] != waySink && v.way[i] != wayPit && v.state[v.node(i)] != done {
		v.followed++
		label, travel := v.walkFrom(i)
		return label, travel, 0
	}
	return v.vertex[i], v.dist[i], v.err[i]
}

// lean settles where water from a vertex goes that meets another vertex or a fork exactly, as it does on
// gridded roofs: it passes on the side towards the end of the half-edge that it crosses. A path within this
// share of the side counts as exact, so that rounding does not decide.
const lean = 1e-11

// value returns label, travel and error bound at position w of side e.
func (v *solver) value(e int32, w float64) (Label, float64, float32) {
	keep := len(v.buf)
	w = min(1, w+lean)
	v.pull(stretch{side: e, w0: w, w1: w, s0: 0, s1: 1})
	got := v.buf[keep]
	v.buf = v.buf[:keep]
	return got.label, got.d0, got.err
}

// settleSide makes the list of side e, of kind crosses.
func (v *solver) settleSide(e int32) {
	v.buf = v.buf[:0]
	parts, count := v.parts(v.t.Twin[e])
	for _, p := range parts[:count] {
		v.pull(stretch(p))
	}
	v.buf[len(v.buf)-1].end = 1
	switch {
	case !v.travel && len(v.buf) == 1:
		v.lists.storeWhole(e, v.buf[0].label)
		return
	case v.travel && v.tol >= 0:
		v.buf = v.thin(v.buf)
	}
	v.lists.store(e, v.buf)
}
