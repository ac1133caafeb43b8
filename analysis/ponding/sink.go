package ponding

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/fault"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// sinks is the outlets as water meets them.
type sinks struct {
	level []float64 // per outlet: elevation from which it takes water; -Inf for an edge, which takes it everywhere
	dry   []bool    // per outlet: water ends in it without standing
	foot  []bool    // per vertex: part of a footprint
	at    []place   // vertices of footprints
	facet []place   // facets of dry bowls
	edge  []place   // border half-edges of dry scuppers and of edges
	verts [][]int32 // per outlet: its footprint's vertices
}

// place says that an outlet takes water at a vertex, facet or half-edge. Places are sorted; where several
// outlets share one, the first to act comes first: lower invert, then primary duty, then id.
type place struct{ index, outlet int32 }

func newSinks(t *surface.TIN, outlets []surface.Outlet) (*sinks, error) {
	s := &sinks{
		level: make([]float64, len(outlets)), dry: make([]bool, len(outlets)),
		foot: make([]bool, len(t.X)), verts: make([][]int32, len(outlets)),
	}
	for i := range outlets {
		o := &outlets[i]
		s.level[i], s.dry[i], s.verts[i] = max(o.Invert, o.Low), o.Dry(), o.Vertices
		if o.Type == roof.EdgeOutlet {
			s.level[i], s.dry[i] = math.Inf(-1), true
		}
		if math.IsNaN(s.level[i]) {
			return nil, fault.New("ponds", "outlet %s has no elevation", o.ID)
		}
		if err := s.add(t, int32(i), o); err != nil {
			return nil, err
		}
	}
	for _, list := range [][]place{s.at, s.facet, s.edge} {
		slices.SortFunc(list, func(a, b place) int {
			oa, ob := &outlets[a.outlet], &outlets[b.outlet]
			return cmp.Or(cmp.Compare(a.index, b.index), cmp.Compare(oa.Invert, ob.Invert),
				cmp.Compare(oa.Duty, ob.Duty), cmp.Compare(oa.ID, ob.ID))
		})
	}
	return s, nil
}

func (s *sinks) add(t *surface.TIN, i int32, o *surface.Outlet) error {
	for _, v := range o.Vertices {
		if v < 0 || int(v) >= len(t.X) {
			return fault.New("ponds", "outlet %s names vertex %d of %d", o.ID, v, len(t.X))
		}
		s.foot[v] = true
		s.at = append(s.at, place{v, i})
	}
	if !s.dry[i] {
		return nil
	}
	for _, f := range o.Facets {
		s.facet = append(s.facet, place{f, i})
	}
	for _, e := range o.Edges {
		s.edge = append(s.edge, place{e, i})
	}
	return nil
}

// outletsAt returns the footprints that vertex v is part of.
func (s *sinks) outletsAt(v int32) []place {
	if !s.foot[v] {
		return nil
	}
	from, _ := slices.BinarySearchFunc(s.at, v, func(p place, v int32) int { return cmp.Compare(p.index, v) })
	to := from
	for to < len(s.at) && s.at[to].index == v {
		to++
	}
	return s.at[from:to]
}

// takes returns the outlet that takes water standing at elevation h on vertex v, or -1.
func (s *sinks) takes(v int32, h float64) int32 {
	for _, p := range s.outletsAt(v) {
		if s.level[p.outlet] <= h {
			return p.outlet
		}
	}
	return -1
}

// first returns the outlet that acts first at an index of a sorted list, or -1.
func first(list []place, index int32) int32 {
	i, found := slices.BinarySearchFunc(list, index, func(p place, v int32) int { return cmp.Compare(p.index, v) })
	if !found {
		return -1
	}
	return list[i].outlet
}
