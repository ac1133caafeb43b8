package rainload

import (
	"maps"
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// Round a vertex lie the other corners of all its facets, whatever roof it is.
func TestAroundAVertex(t *testing.T) {
	for seed := range uint64(5) {
		s := shape.Build(t, shape.Random(seed, 30))
		b := newBuilder(Input{TIN: s.Cut, Ponds: &ponding.Ponds{}})
		want := make([]map[int32]bool, len(s.Cut.X))
		for v := range want {
			want[v] = map[int32]bool{}
		}
		for e, v := range s.Cut.V {
			want[v][s.Cut.V[surface.Next(int32(e))]], want[v][s.Cut.V[surface.Prev(int32(e))]] = true, true
		}
		for v := range want {
			got := map[int32]bool{}
			b.around(int32(v), func(w int32) { got[w] = true })
			if !maps.Equal(got, want[v]) {
				t.Errorf("roof %d: round vertex %d lie %v, want %v", seed, v, slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want[v])))
			}
		}
	}
}

// Waters that stand at one level in one place are one: its head is known where both are, and an open edge holds it where it holds either.
func TestUnitedWaters(t *testing.T) {
	s := shape.Build(t, shape.Random(1, 30))
	for _, c := range []struct{ edges, known [2]bool }{{[2]bool{true, false}, [2]bool{true, true}}, {[2]bool{false, true}, [2]bool{false, true}}, {[2]bool{false, false}, [2]bool{true, false}}, {[2]bool{true, true}, [2]bool{false, false}}} {
		b := newBuilder(Input{TIN: s.Cut, Ponds: &ponding.Ponds{}})
		for i := range 2 {
			b.groups = append(b.groups, &group{level: 1, vertices: []int32{int32(i), 2}, overEdge: c.edges[i], known: c.known[i]})
		}
		b.unite()
		h := b.groups[0]
		if h.gone || !b.groups[1].gone || h.overEdge != (c.edges[0] || c.edges[1]) || h.known != (c.known[0] && c.known[1]) || !slices.Equal(h.vertices, []int32{0, 1, 2}) {
			t.Errorf("%+v: %+v", c, h)
		}
	}
}
