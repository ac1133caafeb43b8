package catchment

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/flow"
	"runnel/analysis/geometry/vector"
)

// piece is a directed piece of the boundary of a group, which lies on its left.
type piece struct {
	group    int32
	from, to int32 // nodes
	used     bool
}

// walk joins pieces to rings.
type walk struct {
	nodes  []orb.Point
	pieces []piece // by group, then from
	first  []int32 // per node: while one group is walked, its first piece in pieces; -1 none
	place  []int32 // per node: place on the path being walked, -1 none
}

// join returns the outline of every group: outer rings counter-clockwise, holes clockwise.
func join(n *flow.Network, group []int32, groups int) []orb.MultiPolygon {
	w := gather(n, group)
	outlines := make([]orb.MultiPolygon, groups)
	for start := 0; start < len(w.pieces); {
		end := start
		for end < len(w.pieces) && w.pieces[end].group == w.pieces[start].group {
			end++
		}
		outlines[w.pieces[start].group] = nest(w.rings(start, end))
		start = end
	}
	return outlines
}

// gather numbers the points and sorts the pieces.
func gather(n *flow.Network, group []int32) *walk {
	w := &walk{}
	number := map[orb.Point]int32{}
	node := func(p orb.Point) int32 {
		i, known := number[p]
		if !known {
			i = int32(len(w.nodes))
			number[p] = i
			w.nodes = append(w.nodes, p)
		}
		return i
	}
	n.Borders(group, func(b flow.Border) {
		from, to := node(b.A), node(b.B)
		w.pieces = append(w.pieces, piece{group: b.Left, from: from, to: to})
		if b.Right != flow.Outside {
			w.pieces = append(w.pieces, piece{group: b.Right, from: to, to: from})
		}
	})
	slices.SortFunc(w.pieces, func(a, b piece) int {
		return cmp.Or(cmp.Compare(a.group, b.group), cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to))
	})
	w.first, w.place = make([]int32, len(w.nodes)), make([]int32, len(w.nodes))
	for i := range w.first {
		w.first[i], w.place[i] = -1, -1
	}
	return w
}

// rings returns the rings of the group whose pieces are start..end.
func (w *walk) rings(start, end int) []orb.Ring {
	for i := end - 1; i >= start; i-- {
		w.first[w.pieces[i].from] = int32(i)
	}
	var rings []orb.Ring
	for i := start; i < end; i++ {
		if !w.pieces[i].used {
			rings = w.follow(rings, int32(i), int32(end))
		}
	}
	for i := start; i < end; i++ {
		w.first[w.pieces[i].from] = -1
	}
	return rings
}

// follow walks from piece i until it is back, and appends the rings on its way: a loop is cut off
// whenever the walk meets itself, so that no ring touches itself.
func (w *walk) follow(rings []orb.Ring, i, end int32) []orb.Ring {
	path := []int32{w.pieces[i].from}
	w.place[path[0]] = 0
	for {
		w.pieces[i].used = true
		to := w.pieces[i].to
		if at := w.place[to]; at < 0 {
			w.place[to] = int32(len(path))
			path = append(path, to)
		} else {
			rings = w.keep(rings, path[at:])
			for _, node := range path[at+1:] {
				w.place[node] = -1
			}
			path = path[:at+1]
		}
		if i = w.next(w.pieces[i].from, to, end); i < 0 {
			break
		}
	}
	for _, node := range path {
		w.place[node] = -1
	}
	return rings
}

// next returns the unused piece from node to that turns most to the left, coming from node from; -1 none.
func (w *walk) next(from, to, end int32) int32 {
	best, most := int32(-1), math.Inf(-1)
	for i := w.first[to]; i >= 0 && i < end && w.pieces[i].from == to; i++ {
		if w.pieces[i].used {
			continue
		}
		if best < 0 && (i+1 == end || w.pieces[i+1].from != to) {
			return i
		}
		if turn := turnLeft(w.nodes[from], w.nodes[to], w.nodes[w.pieces[i].to]); turn > most {
			best, most = i, turn
		}
	}
	return best
}

// turnLeft orders the direction b-c by how far left it turns from a-b: from -2 straight back on the
// right to 2 straight back on the left, rising with the angle.
func turnLeft(a, b, c orb.Point) float64 {
	ux, uy := b[0]-a[0], b[1]-a[1]
	vx, vy := c[0]-b[0], c[1]-b[1]
	l := vector.Norm(ux, uy) * vector.Norm(vx, vy)
	sin, cos := (float64(ux*vy)-float64(uy*vx))/l, (float64(ux*vx)+float64(uy*vy))/l
	return choose.If(sin >= 0, 1-cos, cos-1)
}

// keep appends the ring over the nodes, beginning at its most westerly, then southerly point; a ring of
// fewer than three points is nothing.
func (w *walk) keep(rings []orb.Ring, nodes []int32) []orb.Ring {
	if len(nodes) < 3 {
		return rings
	}
	start := 0
	for i, node := range nodes {
		if before(w.nodes[node], w.nodes[nodes[start]]) {
			start = i
		}
	}
	ring := make(orb.Ring, 0, len(nodes)+1)
	for i := range nodes {
		ring = append(ring, w.nodes[nodes[(start+i)%len(nodes)]])
	}
	return append(rings, append(ring, ring[0]))
}

// before orders points from west to east, then from south to north.
func before(a, b orb.Point) bool { return a[0] < b[0] || a[0] == b[0] && a[1] < b[1] }
