package flow

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// Outside is the group beyond the borders of the surface.
const Outside int32 = -1

// Border is a straight piece of the boundary between two groups of labels, seen from A to B.
type Border struct {
	Left, Right int32 // Outside beyond the border of the surface
	A, B        orb.Point
}

// cut is a stretch of a side that belongs to one group; it starts where the one before it ends.
type cut struct {
	end   float64   // position along the half-edge
	point orb.Point // the place there
	group int32
}

// borders gathers the boundaries of one grouping.
type borders struct {
	*Network
	group []int32 // per label
	visit func(Border)
	a, b  []cut
}

// Borders calls visit with all pieces of the boundaries between groups of labels; group holds the group,
// 0 or more, of every label. At every point as many pieces with a group on their left begin as end, and
// coordinates of a point are the same to the last bit in all pieces that meet there, so that pieces can
// be joined to closed rings without any tolerance.
func (n *Network) Borders(group []int32, visit func(Border)) {
	w := borders{Network: n, group: group, visit: visit}
	for f := range int32(n.t.Facets()) {
		if !n.whole(f) {
			w.divideFacet(f)
		}
	}
	for i, twin := range n.t.Twin {
		if e := int32(i); twin < 0 || e < twin {
			w.divideEdge(e, twin)
		}
	}
}

// whole reports whether all of facet f has one label because no direction divides it.
func (n *Network) whole(f int32) bool { return n.sinks.facet[f] >= 0 || pooled(n.t, f) }

// emit passes a piece on unless it separates nothing or has no length.
func (w *borders) emit(left, right int32, a, b orb.Point) {
	if left != right && a != b {
		w.visit(Border{left, right, a, b})
	}
}

// divideFacet draws the lines along the fall that separate groups inside a facet: through the cuts of its
// lower sides, and through the corner between two lower sides.
func (w *borders) divideFacet(f int32) {
	for e := 3 * f; e < 3*f+3; e++ {
		if w.kind[e] == closed {
			continue
		}
		w.a = w.sideCuts(w.a[:0], e)
		for i := range len(w.a) - 1 {
			c := w.a[i]
			w.emit(c.group, w.a[i+1].group, c.point, w.above(e, c.end))
		}
		next := surface.Next(e)
		if w.kind[next] == closed {
			continue
		}
		w.b = w.sideCuts(w.b[:0], next)
		if left, right := w.a[len(w.a)-1].group, w.b[0].group; left != right {
			corner := w.point(w.t.V[next])
			w.emit(left, right, corner, w.above(e, 1))
		}
	}
}

func (n *Network) point(v int32) orb.Point { return orb.Point{n.t.X[v], n.t.Y[v]} }

// above returns the upper end of the line through position w of lower side e.
func (n *Network) above(e int32, w float64) orb.Point {
	uppers, count := n.uppers(e / 3)
	for i := range count {
		if p := &uppers[i]; p.side == e && p.w0 <= w && w <= p.w1 {
			return n.onUpper(p.t, p.up(w))
		}
	}
	return n.point(n.t.V[e])
}

// sideCuts appends the groups along side e, which water leaves over, from its origin to its end.
func (w *borders) sideCuts(list []cut, e int32) []cut {
	first := len(list)
	w.stretches(e, 0, 1, func(_, w1 float64, label Label) {
		list = w.add(list, first, cut{end: w1, group: w.group[label]})
	})
	for i := range list[first:] {
		c := &list[first+i]
		c.point = w.cutPoint(e, c.end)
	}
	return list
}

// add appends a cut, or extends the last one when it is of the same group.
func (w *borders) add(list []cut, first int, c cut) []cut {
	if last := len(list) - 1; last >= first && list[last].group == c.group {
		list[last].end, list[last].point = c.end, c.point
		return list
	}
	return append(list, c)
}

// cutPoint returns the place at position w of side e. Where water divides on level ground it is worked
// out on the lower numbered half-edge, so that both sides agree.
func (n *Network) cutPoint(e int32, w float64) orb.Point {
	if twin := n.t.Twin[e]; n.kind[e] == along && twin >= 0 && twin < e && w > 0 && w < 1 {
		return n.on(twin, n.divide(twin))
	}
	return n.on(e, w)
}

// divideEdge draws the pieces of an edge that separate groups on its two sides.
func (w *borders) divideEdge(e, twin int32) {
	if w.kind[e] == crosses || twin >= 0 && w.kind[twin] == crosses {
		return
	}
	w.a = w.cuts(w.a[:0], e)
	w.b = w.b[:0]
	if twin < 0 {
		w.b = append(w.b, cut{end: 1, point: w.a[len(w.a)-1].point, group: Outside})
	} else {
		w.b = turned(w.cuts(w.b, twin), w.point(w.t.V[twin]))
	}
	at := w.point(w.t.V[e])
	for i, j := 0, 0; i < len(w.a) && j < len(w.b); {
		a, b := w.a[i], w.b[j]
		to := b.point
		if i < len(w.a)-1 && (a.end <= b.end || j == len(w.b)-1) {
			to, i = a.point, i+1
		} else {
			j++
		}
		w.emit(a.group, b.group, at, to)
		at = to
	}
}

// turned turns a list of cuts round, to be read from the half-edge's end, where last is the place of its
// origin.
func turned(list []cut, last orb.Point) []cut {
	slices.Reverse(list)
	for i := range list {
		if i == len(list)-1 {
			list[i].end, list[i].point = 1, last
		} else {
			list[i].end, list[i].point = 1-list[i+1].end, list[i+1].point
		}
	}
	return list
}

// cuts appends the groups along half-edge e, whatever its kind, from its origin to its end.
func (w *borders) cuts(list []cut, e int32) []cut {
	f := e / 3
	end := w.point(w.t.V[surface.Next(e)])
	switch {
	case w.sinks.facet[f] >= 0:
		return append(list, cut{1, end, w.group[w.sinks.facet[f]]})
	case pooled(w.t, f):
		return append(list, cut{1, end, w.group[w.vertex[w.poolCorner(f)]]})
	case w.kind[e] != closed:
		return w.sideCuts(list, e)
	case w.t.Run[e] < 0:
		return w.upperCuts(list, e)
	}
	return append(list, cut{1, end, w.group[w.edgeLabel(e)]})
}

// upperCuts appends the groups along upper side t.
func (w *borders) upperCuts(list []cut, t int32) []cut {
	first := len(list)
	parts, count := w.parts(t)
	for i := range count {
		p := &parts[i]
		w.stretches(p.side, p.w0, p.w1, func(w0, w1 float64, label Label) {
			s0, s1 := p.up(w0), p.up(w1)
			if p.w0 == p.w1 {
				s0, s1 = p.s0, p.s1
			}
			if s0 < s1 {
				list = w.add(list, first, cut{s1, w.onUpper(t, s1), w.group[label]})
			}
		})
	}
	last := len(list) - 1
	list[last].end = 1
	list[last].point = w.onUpper(t, 1)
	return append(list[:first], turned(list[first:], w.point(w.t.V[surface.Next(t)]))...)
}

// edgeLabel returns the label along side e to which the fall is parallel: that of the water next to it.
func (n *Network) edgeLabel(e int32) Label {
	if before := surface.Prev(e); n.kind[before] != closed {
		return n.sideLabel(before, 1)
	}
	return n.sideLabel(surface.Next(e), 0)
}
