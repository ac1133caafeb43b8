package ponding

import "runnel/analysis/surface"

// star lists the half-edges that start at each vertex. Unlike a walk round the vertex it finds every fan
// where two parts of the surface touch at one vertex.
type star struct {
	first []int32 // per vertex, and one past the last
	edge  []int32
}

func newStar(t *surface.TIN) star {
	n := len(t.X)
	s := star{make([]int32, n+1), make([]int32, len(t.V))}
	for _, v := range t.V {
		s.first[v+1]++
	}
	for i := range n {
		s.first[i+1] += s.first[i]
	}
	for e, v := range t.V {
		s.edge[s.first[v]] = int32(e)
		s.first[v]++
	}
	copy(s.first[1:], s.first[:n])
	s.first[0] = 0
	return s
}

// of returns the half-edges that start at v, ascending.
func (s star) of(v int32) []int32 { return s.edge[s.first[v]:s.first[v+1]] }

// neighbours appends the vertices that share an edge with v.
func (s star) neighbours(t *surface.TIN, v int32, to []int32) []int32 {
	for _, e := range s.of(v) {
		to = append(to, t.V[surface.Next(e)])
		if p := surface.Prev(e); t.Twin[p] < 0 {
			to = append(to, t.V[p])
		}
	}
	return to
}
