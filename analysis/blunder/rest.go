package blunder

import (
	"fmt"
	"math"
	"slices"

	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// changed is by what share a pond's depth must change for it to rest on the points that were changed.
const changed = 0.25

// Rests returns for each of the listed ponds (indices into ps.Ponds) the odd points that it rests on, as ascending indices into odd: those
// in or at the lip of its water, and the inlets in it, if the water gets shallower or deeper by a quarter, or goes, when all odd points stand where their neighbours say.
func Rests(s *surface.Surface, ps *ponding.Ponds, listed []int32, odd []Odd) ([][]int32, error) {
	touched, some := touching(s, ps, listed, odd)
	if !some {
		return touched, nil
	}
	z := slices.Clone(s.Cut.Z)
	outlets := slices.Clone(s.Outlets)
	for i := range odd {
		if v := odd[i].Vertex; v >= 0 {
			z[v] = odd[i].Expected
		}
		if odd[i].Inlet {
			outlets[odd[i].Outlet].Invert = odd[i].Expected
		}
	}
	after, err := ps.Again(outlets, z)
	if err != nil {
		return nil, fmt.Errorf("ponds without what does not fit: %w", err)
	}
	for i, p := range listed {
		if len(touched[i]) == 0 {
			continue
		}
		pit := ps.Ponds[p].Pits[0]
		if depth := after.Level[pit] - z[pit]; math.Abs(depth-ps.Ponds[p].Depth) < changed*ps.Ponds[p].Depth {
			touched[i] = nil
		}
	}
	return touched, nil
}

// touching returns for each listed pond the odd points at a corner of a facet under its water, or at its lip; some tells whether any is.
func touching(s *surface.Surface, ps *ponding.Ponds, listed []int32, odd []Odd) (touched [][]int32, some bool) {
	touched = make([][]int32, len(listed))
	at, inlet := map[int32]int32{}, map[int32]int32{}
	for i := range odd {
		if odd[i].Vertex >= 0 {
			at[odd[i].Vertex] = int32(i)
		}
		if odd[i].Inlet {
			for _, v := range s.Outlets[odd[i].Outlet].Vertices {
				inlet[v] = int32(i)
			}
		}
	}
	if len(at)+len(inlet) == 0 {
		return touched, false
	}
	for i, p := range listed {
		pond := &ps.Ponds[p]
		addFrom := func(from map[int32]int32, v int32) {
			if k, ok := from[v]; ok && !slices.Contains(touched[i], k) {
				touched[i], some = append(touched[i], k), true
			}
		}
		add := func(v int32) { addFrom(at, v) }
		add(pond.Lip)
		for _, f := range pond.Facets {
			for e := 3 * f; e < 3*f+3; e++ {
				addFrom(inlet, s.Cut.V[e])
			}
			if s.Cut.Parent != nil {
				f = s.Cut.Parent[f] // its corners are vertices of both
			}
			for e := 3 * f; e < 3*f+3; e++ {
				add(s.TIN.V[e])
			}
		}
		slices.Sort(touched[i])
	}
	return touched, some
}
