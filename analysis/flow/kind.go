package flow

import (
	"cmp"
	"slices"

	"runnel/analysis/atonce"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// kind says what becomes of water that leaves a facet over a side.
type kind uint8

const (
	closed  kind = iota // no water leaves over it
	taken               // an outlet takes it
	crosses             // it goes on in the neighbour
	along               // it runs along the side: valley, wall, curb or the rim of level ground
)

// sinks says which outlet takes the water of facets, vertices and border sides; -1 none.
type sinks struct {
	facet, vertex []int32
	edges         []sinkEdge // by half-edge
}

type sinkEdge struct {
	edge, outlet int32
}

// edge returns the outlet that takes the water at border side e, -1 when none does.
func (k *sinks) edge(e int32) int32 {
	i, found := slices.BinarySearchFunc(k.edges, e, func(x sinkEdge, e int32) int { return cmp.Compare(x.edge, e) })
	if !found {
		return -1
	}
	return k.edges[i].outlet
}

// priority returns the dry outlets in the order in which they take overlapping footprints: lower
// invert, then primary, then id.
func priority(outlets []surface.Outlet) []int32 {
	var order []int32
	for i := range outlets {
		if outlets[i].Type == roof.EdgeOutlet || outlets[i].Dry() {
			order = append(order, int32(i))
		}
	}
	slices.SortStableFunc(order, func(i, j int32) int {
		a, b := &outlets[i], &outlets[j]
		return cmp.Or(cmp.Compare(a.Invert, b.Invert), cmp.Compare(a.Duty, b.Duty), cmp.Compare(a.ID, b.ID))
	})
	return order
}

// findSinks lays the dry outlets, and the facets taken beyond them, onto the TIN. Where a shore was cut, only what lies
// in the water or was made at its edge is taken: other corners may drain elsewhere, see atLevel.
func findSinks(s *surface.Surface, facets, shore []int32) sinks {
	t := s.Cut
	k := sinks{facet: none(t.Facets()), vertex: none(len(t.X))}
	take := func(list, at []int32, outlet int32) {
		for _, i := range at {
			if list[i] < 0 {
				list[i] = outlet
			}
		}
	}
	for _, i := range priority(s.Outlets) {
		o := &s.Outlets[i]
		take(k.facet, o.Facets, i)
		take(k.vertex, o.Vertices, i)
		for _, e := range o.Edges {
			k.edges = append(k.edges, sinkEdge{e, i})
			take(k.vertex, []int32{t.V[e], t.V[surface.Next(e)]}, i)
		}
	}
	for f, outlet := range facets {
		if outlet >= 0 {
			take(k.facet, []int32{int32(f)}, outlet)
			for _, v := range t.V[3*f : 3*f+3] {
				if shore == nil || shore[v] != -1 {
					take(k.vertex, []int32{v}, outlet)
				}
			}
		}
	}
	slices.SortStableFunc(k.edges, func(a, b sinkEdge) int { return cmp.Compare(a.edge, b.edge) })
	k.edges = slices.CompactFunc(k.edges, func(a, b sinkEdge) bool { return a.edge == b.edge })
	return k
}

func none(n int) []int32 {
	list := slices.Repeat([]int32{-1}, n)
	return list
}

// findKinds classes every half-edge by the exact signs of the flow on both sides.
func findKinds(t *surface.TIN, k *sinks) []kind {
	kinds := make([]kind, len(t.V))
	atonce.Each(len(kinds), sidesAtATime, func() func(from, to int) {
		return func(from, to int) {
			for e := int32(from); e < int32(to); e++ {
				kinds[e] = kindOf(t, k, e)
			}
		}
	})
	return kinds
}

// sidesAtATime is how many half-edges a worker classes at a time.
const sidesAtATime = 1 << 16

// kindOf classes half-edge e.
func kindOf(t *surface.TIN, k *sinks, e int32) kind {
	if t.Run[e] <= 0 || k.facet[e/3] >= 0 || pooled(t, e/3) {
		return closed
	}
	twin := t.Twin[e]
	switch {
	case twin < 0 && k.edge(e) >= 0, twin >= 0 && k.facet[twin/3] >= 0:
		return taken
	case twin >= 0 && t.Run[twin] < 0 && !pooled(t, twin/3):
		return crosses
	}
	return along
}

// taker returns the label of the outlet that takes the water leaving over side e of kind taken.
func (n *Network) taker(e int32) Label {
	if twin := n.t.Twin[e]; twin >= 0 {
		return Label(n.sinks.facet[twin/3])
	}
	return Label(n.sinks.edge(e))
}

// lower returns the lower end of side e, and false when both ends are equally high.
func (n *Network) lower(e int32) (int32, bool) {
	a, b := n.t.V[e], n.t.V[surface.Next(e)]
	switch za, zb := n.t.Z[a], n.t.Z[b]; {
	case za < zb:
		return a, true
	case zb < za:
		return b, true
	}
	return a, false
}
