package flow

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/atonce"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// What Network.way holds for a vertex: the vertex that water runs to along an edge when 0 or more;
// a mark; or, from firstFacet down, the corner (half-edge) whose facet it runs into.
const (
	waySink    int32 = -1
	wayNone    int32 = -2 // no way down of its own: settled by settleLevel
	wayPit     int32 = -3
	firstFacet int32 = -4
)

// wayCorner returns the corner that a facet way stands for.
func wayCorner(way int32) int32 { return firstFacet - way }

// fan is a border half-edge at which a further fan of facets round a vertex starts.
type fan struct {
	vertex, edge int32
}

// findFans returns the fans that TIN.Out does not reach: where the roof touches itself in a point.
func findFans(t *surface.TIN) []fan {
	var fans []fan
	for i, twin := range t.Twin {
		if e := int32(i); twin < 0 && t.Out[t.V[e]] != e {
			fans = append(fans, fan{t.V[e], e})
		}
	}
	slices.SortFunc(fans, func(a, b fan) int {
		return cmp.Or(cmp.Compare(a.vertex, b.vertex), cmp.Compare(a.edge, b.edge))
	})
	return fans
}

// star goes through the half-edges that start at a vertex, counter-clockwise, and after the last facet of
// an open fan comes to the border half-edge that ends there.
type star struct {
	n        *Network
	v        int32
	edge     int32 // where it is
	first    int32 // of the fan; -1 before the first fan
	incoming bool  // edge is the border half-edge that ends at v
	fan      int   // next further fan
}

// around returns the star of v, standing before its first half-edge.
func (n *Network) around(v int32) star { return star{n: n, v: v, first: -1} }

// next steps to the next half-edge; false when there is none.
func (s *star) next() bool {
	if s.first < 0 {
		s.first = s.n.t.Out[s.v]
		s.edge = s.first
		return s.first >= 0
	}
	if !s.incoming {
		back := surface.Prev(s.edge)
		if s.edge = s.n.t.Twin[back]; s.edge < 0 {
			s.edge, s.incoming = back, true
			return true
		}
		if s.edge != s.first {
			return true
		}
	}
	return len(s.n.fans) > 0 && s.nextFan()
}

// nextFan steps to the next fan of a vertex where the roof touches itself.
func (s *star) nextFan() bool {
	fans := s.n.fans
	if s.fan == 0 {
		s.fan, _ = slices.BinarySearchFunc(fans, s.v, func(f fan, v int32) int { return cmp.Compare(f.vertex, v) })
	}
	if s.fan == len(fans) || fans[s.fan].vertex != s.v {
		return false
	}
	s.edge, s.first, s.incoming = fans[s.fan].edge, fans[s.fan].edge, false
	s.fan++
	return true
}

// other returns the end of e that is not v.
func (n *Network) other(e, v int32) int32 {
	if a := n.t.V[e]; a != v {
		return a
	}
	return n.t.V[surface.Next(e)]
}

// down is one way down from a vertex.
type down struct {
	way    int32
	slope  float64
	ux, uy float64 // unit direction, in the pose of the roof
}

// sameSlope is the relative difference below which two ways count as equally steep, so that rounding
// does not choose between ways that are equal by construction.
const sameSlope = 1e-12

// before orders ways: steeper first, then by direction, x first, in the pose of the roof.
func (d down) before(o down) bool {
	if d.slope > float64(o.slope*(1+sameSlope)) {
		return true
	}
	if o.slope > float64(d.slope*(1+sameSlope)) {
		return false
	}
	const same = 1e-9
	if d.ux < o.ux-same || d.ux > o.ux+same {
		return d.ux < o.ux
	}
	return d.uy < o.uy
}

// downs appends every way down from v: valley edges that fall, and facets whose fall at v lies inside
// them. When rounding of cut-in vertices leaves none, every falling edge counts.
func (n *Network) downs(list []down, v int32) []down {
	first := len(list)
	for x := n.around(v); x.next(); {
		if d, ok := n.edgeDown(x.edge, v); ok && n.valley(x.edge) {
			list = append(list, d)
		}
		if d, ok := n.facetDown(x.edge, v); ok {
			list = append(list, d)
		}
	}
	if len(list) > first {
		return list
	}
	for x := n.around(v); x.next(); {
		if d, ok := n.edgeDown(x.edge, v); ok {
			list = append(list, d)
		}
	}
	return list
}

// valley reports whether no water crosses e: it runs to or along e on both sides.
func (n *Network) valley(e int32) bool {
	twin := n.t.Twin[e]
	return n.t.Run[e] >= 0 && (twin < 0 || n.t.Run[twin] >= 0)
}

func (n *Network) edgeDown(e, v int32) (down, bool) {
	to := n.other(e, v)
	fall := n.t.Z[v] - n.t.Z[to]
	if fall <= 0 {
		return down{}, false
	}
	l := n.length(v, to)
	u := n.t.Pose.Plan(orb.Point{(n.t.X[to] - n.t.X[v]) / l, (n.t.Y[to] - n.t.Y[v]) / l})
	return down{way: to, slope: fall / l, ux: u[0], uy: u[1]}, true
}

func (n *Network) facetDown(e, v int32) (down, bool) {
	t := n.t
	if t.V[e] != v || t.Run[e] >= 0 || t.Run[surface.Prev(e)] >= 0 || t.Run[surface.Next(e)] <= 0 {
		return down{}, false
	}
	dx, dy, slope := n.fall(e / 3)
	u := t.Pose.Plan(orb.Point{dx, dy})
	return down{way: firstFacet - e, slope: slope, ux: u[0], uy: u[1]}, true
}

// fall returns the unit direction in which water runs on facet f, and the slope; 0, 0, 0 when level.
func (n *Network) fall(f int32) (dx, dy, slope float64) {
	gx, gy := n.t.DX[f], n.t.DY[f]
	slope = vector.Norm(gx, gy)
	if slope == 0 {
		return 0, 0, 0
	}
	return -gx / slope, -gy / slope, slope
}

// waysAtATime is how many vertices a worker takes at a time.
const waysAtATime = 1 << 14

// findWays chooses the steepest way down from every vertex.
func (n *Network) findWays() {
	n.way = make([]int32, len(n.t.X))
	atonce.Each(len(n.way), waysAtATime, func() func(from, to int) {
		var list []down
		return func(from, to int) {
			n.t.Halt.Look()
			for v := from; v < to; v++ {
				if n.way[v] = waySink; n.sinks.vertex[v] < 0 {
					list = n.downs(list[:0], int32(v))
					n.way[v] = steepest(list)
				}
			}
		}
	})
	if n.options.Shore == nil {
		return
	}
	for v, way := range n.way {
		if way != waySink && way != wayNone {
			n.way[v] = n.atLevel(int32(v), way)
		}
	}
}

// steepest returns the first of some ways down, wayNone of none.
func steepest(list []down) int32 {
	if len(list) == 0 {
		return wayNone
	}
	best := list[0]
	for _, d := range list[1:] {
		if d.before(best) {
			best = d
		}
	}
	return best.way
}

// atLevel returns the way of vertex v: where it stands at the level of a water and its way leads straight into that, it is
// part of the shore.
func (n *Network) atLevel(v, way int32) int32 {
	taker := n.ahead(way)
	if taker < 0 {
		return way
	}
	n.sinks.vertex[v] = taker
	return waySink
}

// ahead returns the label of the water that a way from a vertex leads straight into, -1 for none.
func (n *Network) ahead(way int32) int32 {
	switch {
	case n.options.Shore == nil:
		return -1
	case way <= firstFacet:
		return n.sinks.facet[wayCorner(way)/3]
	case way >= 0 && n.options.Shore[way] >= 0:
		return n.sinks.vertex[way]
	}
	return -1
}
