package flow

import (
	"math"

	"runnel/analysis/fault"
	"runnel/analysis/surface"
)

// checkWays proves that water never rises: every vertex drains to a lower place, along level ground, or
// nowhere; inside facets it runs against the gradient by construction.
func (n *Network) checkWays() error {
	t := n.t
	for i, way := range n.way {
		v := int32(i)
		high := t.Z[v]
		switch {
		case way >= 0:
			if t.Z[way] > high || t.Z[way] == high && n.level[way] >= n.level[v] {
				return fault.New("flow", "vertex %d at %.6f drains up to vertex %d at %.6f", v, high, way, t.Z[way])
			}
		case way <= firstFacet:
			e := opposite(wayCorner(way))
			w, _ := n.cornerExit(wayCorner(way))
			_, _, slope := n.fall(e / 3)
			if z := between(t.Z[t.V[e]], t.Z[t.V[surface.Next(e)]], w); z > high+riseRoom(slope) {
				return fault.New("flow", "vertex %d at %.6f drains up across facet %d to %.6f", v, high, e/3, z)
			}
		case n.vertex[v] == Unlabelled:
			return fault.New("flow", "vertex %d at %.6f drains nowhere", v, high)
		}
	}
	return nil
}

// checkArea proves that the labels cover the roof: their areas add up to the net roof area.
func (n *Network) checkArea(want float64) error {
	got := 0.0
	for _, a := range n.Area {
		got += a
	}
	if !(math.Abs(got-want) <= 1e-9*want) {
		return fault.New("flow", "areas by label add up to %.9f m2, not to the net roof area of %.9f m2", got, want)
	}
	return nil
}
