package ponding

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/fault"
	"runnel/analysis/geometry/vector"
)

// check finds the levels and the volumes again, by other ways.
func (ps *Ponds) check() error {
	level := priorityFlood(ps)
	for v := range level {
		if level[v] != ps.Level[v] {
			return fault.New("ponds", "vertex %d has level %v by the tree and %v by flooding from the outlets",
				v, ps.Level[v], level[v])
		}
	}
	for i := range ps.Ponds {
		p := &ps.Ponds[i]
		if volume := ps.integral(p); math.Abs(volume-p.Volume) > float64(1e-9*volume)+1e-12 {
			return fault.New("ponds", "pond %d holds %v but its depth integrates to %v", i, p.Volume, volume)
		}
		if p.ToPond >= 0 && !ps.before(p.ToPond, int32(i)) {
			return fault.New("ponds", "pond %d at %v spills up to pond %d at %v", i, p.Level, p.ToPond, ps.Ponds[p.ToPond].Level)
		}
		if p.ToPond < 0 && p.ToOutlet < 0 && !p.Undrained {
			return fault.New("ponds", "pond %d spills to nothing", i)
		}
	}
	return nil
}

// integral sums the depth over the water's plan: each facet's wet part is cut out as a polygon, and its
// depth, linear on it, is integrated over a fan of triangles.
func (ps *Ponds) integral(p *Pond) float64 {
	sum := 0.0
	for _, f := range p.Facets {
		var ring [4]vertexDepth
		n := 0
		corner := ps.t.V[3*f : 3*f+3]
		low := slices.MinFunc(corner, func(a, b int32) int { return cmp.Compare(ps.z[a], ps.z[b]) })
		for c := range corner {
			n = ps.clip(&ring, n, p.Level, low, corner[c], corner[(c+1)%3])
		}
		for i := 2; i < n; i++ {
			u, v := vector.Minus(ring[i-1].at, ring[0].at), vector.Minus(ring[i].at, ring[0].at)
			sum += float64(vector.Cross(u, v) / 2 * ((ring[0].depth + ring[i-1].depth + ring[i].depth) / 3))
		}
	}
	return sum
}

// vertexDepth is a corner of a wet part, relative to the lowest corner of its facet.
type vertexDepth struct {
	at    orb.Point
	depth float64
}

// clip adds to ring what the edge from a to b adds to the wet part.
func (ps *Ponds) clip(ring *[4]vertexDepth, n int, level float64, origin, a, b int32) int {
	at := func(v int32) vertexDepth {
		return vertexDepth{orb.Point{ps.t.X[v] - ps.t.X[origin], ps.t.Y[v] - ps.t.Y[origin]}, level - ps.z[v]}
	}
	p, q := at(a), at(b)
	if p.depth > 0 {
		ring[n] = p
		n++
	}
	if p.depth*q.depth < 0 {
		s := p.depth / (p.depth - q.depth)
		ring[n] = vertexDepth{vector.Along(p.at, q.at, s), 0}
		n++
	}
	if q.depth == 0 && p.depth > 0 || p.depth == 0 && q.depth > 0 {
		corner := choose.If(p.depth == 0, p, q)
		ring[n] = corner
		n++
	}
	return n
}
