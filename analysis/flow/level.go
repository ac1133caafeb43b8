package flow

import (
	"container/heap"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// reach is a vertex reached from an exit of its level area.
type reach struct {
	distance     float64 // whole nanometres, so that equal ways compare equal whatever the order of the sum
	exit, vertex int32
	to           int32 // next vertex on the way to the exit
}

// reaches is a heap, nearest first; ties go to the exit that comes first in the pose of the roof.
type reaches struct {
	list []reach
	t    *surface.TIN
}

func (r *reaches) Len() int      { return len(r.list) }
func (r *reaches) Swap(i, j int) { r.list[i], r.list[j] = r.list[j], r.list[i] }
func (r *reaches) Push(x any)    { r.list = append(r.list, x.(reach)) }
func (r *reaches) Pop() any {
	last := r.list[len(r.list)-1]
	r.list = r.list[:len(r.list)-1]
	return last
}

func (r *reaches) Less(i, j int) bool {
	a, b := r.list[i], r.list[j]
	if a.distance != b.distance {
		return a.distance < b.distance
	}
	if a.exit != b.exit {
		return first(r.t, a.exit, b.exit)
	}
	if a.vertex != b.vertex {
		return first(r.t, a.vertex, b.vertex)
	}
	return first(r.t, a.to, b.to)
}

// first reports whether vertex a comes before b by x, then y, in the pose of the roof.
func first(t *surface.TIN, a, b int32) bool {
	if c := t.Pose.Before(orb.Point{t.X[a], t.Y[a]}, orb.Point{t.X[b], t.Y[b]}); c != 0 {
		return c < 0
	}
	return a < b
}

// settleLevel gives the vertices without a way down of their own one along the level area to its
// nearest exit, makes pits of the areas that have none, and lists the ends.
func (n *Network) settleLevel() {
	n.level = make([]float64, len(n.t.X))
	r := &reaches{t: n.t}
	for v, way := range n.way {
		if way == wayNone {
			n.eachLevel(int32(v), func(w int32) {
				if n.way[w] != wayNone {
					r.list = append(r.list, reach{n.nanometres(int32(v), w), w, int32(v), w})
				}
			})
		}
	}
	heap.Init(r)
	for r.Len() > 0 {
		n.t.Halt.Look()
		x := heap.Pop(r).(reach)
		if n.way[x.vertex] != wayNone {
			continue
		}
		n.way[x.vertex], n.level[x.vertex] = x.to, x.distance/1e9
		n.eachLevel(x.vertex, func(w int32) {
			if n.way[w] == wayNone {
				heap.Push(r, reach{x.distance + n.nanometres(x.vertex, w), x.exit, w, x.vertex})
			}
		})
	}
	n.listEnds()
}

// nanometres returns the plan distance between two vertices, rounded.
func (n *Network) nanometres(a, b int32) float64 { return math.Round(n.length(a, b) * 1e9) }

// eachLevel calls visit with every neighbour of v that is exactly as high.
func (n *Network) eachLevel(v int32, visit func(w int32)) {
	for x := n.around(v); x.next(); {
		if w := n.other(x.edge, v); n.t.Z[w] == n.t.Z[v] {
			visit(w)
		}
	}
}

// listEnds numbers the labels and gives the sinks and the pits theirs.
func (n *Network) listEnds() {
	n.vertex = make([]Label, len(n.t.X))
	for i := range n.vertex {
		n.vertex[i] = Unlabelled
		if n.way[i] == waySink {
			n.vertex[i] = Label(n.sinks.vertex[i])
		}
	}
	for i := range n.outlets {
		n.Ends = append(n.Ends, End{Outlet: int32(i), Pit: -1})
	}
	for range n.options.Waters {
		n.Ends = append(n.Ends, End{Outlet: -1, Pit: -1})
	}
	var stack []int32
	for v := range n.way {
		if n.way[v] != wayNone {
			continue
		}
		label := Label(len(n.Ends))
		n.Ends = append(n.Ends, End{Outlet: -1, Pit: int32(v)})
		n.way[v], n.vertex[v] = wayPit, label
		for stack = append(stack[:0], int32(v)); len(stack) > 0; {
			top := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			n.eachLevel(top, func(w int32) {
				if n.way[w] == wayNone {
					n.way[w], n.vertex[w] = wayPit, label
					stack = append(stack, w)
				}
			})
		}
	}
}

// divide returns where on level side e, from 0 at its origin to 1, the way to the exit is equally long
// over both ends: water before it runs to the origin, beyond it to the other end. It is worked out on
// the lower numbered of the two half-edges, so that both sides of the edge agree.
func (n *Network) divide(e int32) float64 {
	if twin := n.t.Twin[e]; twin >= 0 && twin < e {
		return 1 - n.divide(twin)
	}
	a, b := n.t.V[e], n.t.V[surface.Next(e)]
	l := n.length(a, b)
	return max(0, min(1, (l+n.level[b]-n.level[a])/(2*l)))
}

// poolCorner returns the corner vertex over which facet f drains, which has no direction of its own: the
// one with the shortest way to the exit from the facet's centroid, or the lowest where f is not level.
func (n *Network) poolCorner(f int32) int32 {
	c := n.t.V[3*f : 3*f+3]
	best, least := c[0], math.Inf(1)
	for i, v := range c {
		a, b := c[(i+1)%3], c[(i+2)%3]
		d := n.t.Z[v]
		if n.t.Level(f) {
			x := (n.t.X[a] - n.t.X[v] + n.t.X[b] - n.t.X[v]) / 3
			y := (n.t.Y[a] - n.t.Y[v] + n.t.Y[b] - n.t.Y[v]) / 3
			d = math.Round((vector.Norm(x, y) + n.level[v]) * 1e9)
		}
		if d < least || d == least && first(n.t, v, best) {
			best, least = v, d
		}
	}
	return best
}

// pooled reports whether facet f gives water no direction: it is level (or its corners are so nearly in
// line that no side of it is one that water leaves over).
func pooled(t *surface.TIN, f int32) bool {
	var in, out bool
	for _, run := range t.Run[3*f : 3*f+3] {
		in, out = in || run < 0, out || run > 0
	}
	return t.Level(f) || !in || !out
}
