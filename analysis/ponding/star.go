package ponding

import "runnel/analysis/surface"

// star lists the half-edges that start at each vertex, and the vertices that share an edge with it. Unlike a
// walk round the vertex it finds every fan where two parts of the surface touch at one vertex.
type star struct {
	first []int32 // per vertex, and one past the last
	edge  []int32

	firstNear []int32 // per vertex, and one past the last
	near      []int32
}

func newStar(t *surface.TIN) *star {
	n := len(t.X)
	s := &star{first: make([]int32, n+1), edge: make([]int32, len(t.V))}
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
	s.listNeighbours(t)
	return s
}

func (s *star) listNeighbours(t *surface.TIN) {
	n := len(t.X)
	s.firstNear = make([]int32, n+1)
	s.near = make([]int32, 0, len(t.V)+len(t.V)/16)
	for v := range int32(n) {
		for _, e := range s.of(v) {
			s.near = append(s.near, t.V[surface.Next(e)])
			if p := surface.Prev(e); t.Twin[p] < 0 {
				s.near = append(s.near, t.V[p])
			}
		}
		s.firstNear[v+1] = int32(len(s.near))
	}
}

// of returns the half-edges that start at v, ascending.
func (s *star) of(v int32) []int32 { return s.edge[s.first[v]:s.first[v+1]] }

// neighbours returns the vertices that share an edge with v.
func (s *star) neighbours(v int32) []int32 { return s.near[s.firstNear[v]:s.firstNear[v+1]] }
