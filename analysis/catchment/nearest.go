package catchment

import (
	"math"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/queue"
	"runnel/analysis/surface"
)

// spread measures the way along one pond from one footprint: a front runs out from it, from vertex to
// vertex along edges and straight across facets.
type spread struct {
	t       *surface.TIN
	facets  []int32           // of the pond, ascending
	corners map[int32][]int32 // per vertex of the pond: half-edges of its facets that start there; looked up only
	at      map[int32]float64 // per vertex that the front has passed: its distance; looked up only
	front   queue.Queue       // of vertices by their distance in whole nanometres, so that equal ways compare equal
}

// divide gives every facet under pond i to the outlet whose footprint is nearest along the pond to the
// facet's centroid; of equally near ones to the first.
func (g *grouping) divide(i int32, holders, takenBy []int32) {
	s := &spread{t: g.s.Cut, facets: g.ponds.Ponds[i].Facets, corners: map[int32][]int32{}}
	for _, f := range s.facets {
		for e := 3 * f; e < 3*f+3; e++ {
			s.corners[s.t.V[e]] = append(s.corners[s.t.V[e]], e)
		}
	}
	least := make([]float64, len(s.facets))
	for k, o := range holders {
		s.run(g.s.Outlets[o].Vertices)
		for j, f := range s.facets {
			if d := s.toCentroid(f); k == 0 || d < least[j] {
				least[j], takenBy[f] = d, o
			}
		}
	}
}

// run lets the front pass over the pond from the vertices of a footprint.
func (s *spread) run(footprint []int32) {
	s.at, s.front = map[int32]float64{}, s.front[:0]
	for _, v := range footprint {
		if s.corners[v] != nil {
			s.front.Push(0, v)
		}
	}
	for len(s.front) > 0 {
		distance, vertex := s.front.Pop()
		if _, passed := s.at[vertex]; passed {
			continue
		}
		s.at[vertex] = distance
		for _, e := range s.corners[vertex] {
			next, prev := s.t.V[surface.Next(e)], s.t.V[surface.Prev(e)]
			for _, v := range []int32{next, prev} {
				s.reach(v, distance+nanometres(s.t, vertex, v))
			}
			s.reach(prev, s.across(vertex, next, s.t.X[prev], s.t.Y[prev]))
			s.reach(next, s.across(prev, vertex, s.t.X[next], s.t.Y[next]))
		}
	}
}

// reach lets the front come to v.
func (s *spread) reach(v int32, distance float64) {
	if _, passed := s.at[v]; !passed && !math.IsInf(distance, 1) {
		s.front.Push(distance, v)
	}
}

// across returns the distance of a point that the front reaches straight over the line from a to b, which
// it has passed; infinite when it cannot.
func (s *spread) across(a, b int32, x, y float64) float64 {
	da, passedA := s.at[a]
	db, passedB := s.at[b]
	if !passedA || !passedB {
		return math.Inf(1)
	}
	l := length(s.t, a, b)
	ux, uy := (s.t.X[b]-s.t.X[a])/l, (s.t.Y[b]-s.t.Y[a])/l
	vx, vy := x-s.t.X[a], y-s.t.Y[a]
	along, off := float64(ux*vx)+float64(uy*vy), math.Abs(float64(ux*vy)-float64(uy*vx))
	if d, ok := straight(da/1e9, db/1e9, l, along, off); ok {
		return math.Round(d * 1e9)
	}
	return math.Inf(1)
}

// toCentroid returns the distance of the centroid of facet f.
func (s *spread) toCentroid(f int32) float64 {
	t := s.t
	c := t.V[3*f : 3*f+3]
	x, y := (t.X[c[0]]+t.X[c[1]]+t.X[c[2]])/3, (t.Y[c[0]]+t.Y[c[1]]+t.Y[c[2]])/3
	least := math.Inf(1)
	for i, v := range c {
		if d, passed := s.at[v]; passed {
			dx, dy := x-t.X[v], y-t.Y[v]
			least = math.Min(least, d+math.Round(vector.Norm(dx, dy)*1e9))
		}
		least = math.Min(least, s.across(v, c[(i+1)%3], x, y))
	}
	return least
}

// straight returns the distance of a point from the origin of a front that lies da from the start and db
// from the end of a line l long, on the other side of it; along and across are the point's coordinates to
// the line. It returns false where the straight way misses the line.
func straight(da, db, l, along, across float64) (float64, bool) {
	if da == 0 && db == 0 {
		return across, along >= 0 && along <= l
	}
	x := (float64(da*da) - float64(db*db) + float64(l*l)) / (2 * l)
	h2 := float64(da*da) - float64(x*x)
	if h2 < 0 {
		return 0, false
	}
	h := math.Sqrt(h2)
	if foot := x + float64((along-x)*(h/(h+across))); foot < 0 || foot > l {
		return 0, false
	}
	dx, dy := along-x, across+h
	return vector.Norm(dx, dy), true
}

func length(t *surface.TIN, a, b int32) float64 {
	x, y := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
	return vector.Norm(x, y)
}

func nanometres(t *surface.TIN, a, b int32) float64 { return math.Round(length(t, a, b) * 1e9) }
