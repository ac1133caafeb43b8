package demo

import (
	"container/heap"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/finding"
)

// flood computes the water depth on a roof as designed, without survey or triangles: priority-flood
// (Barnes, Lehman and Mulla 2014) over a square grid of the relief, from outlets and open edges inwards.
// It is the independent measure of how deep the planted ponds are.
func flood(s *site, cell float64) func(p orb.Point) float64 {
	bound := orb.MultiPoint(s.outline).Bound()
	nx, ny := int((bound.Max[0]-bound.Min[0])/cell)+1, int((bound.Max[1]-bound.Min[1])/cell)+1
	at := func(i int) orb.Point {
		return orb.Point{bound.Min[0] + float64(i%nx)*cell, bound.Min[1] + float64(i/nx)*cell}
	}
	z, level := make([]float64, nx*ny), make([]float64, nx*ny)
	var queue cells
	for i := range z {
		p := at(i)
		z[i], level[i] = s.relief(p), math.Inf(1)
		if !planar.RingContains(closed(s.outline), p) {
			z[i] = math.Inf(1)
		}
		for _, k := range s.curbs {
			if r := closed(k.ring); planar.RingContains(r, p) && offsetOf(p, r) > cell/4 {
				z[i] = math.Inf(1)
			}
		}
		if math.IsInf(z[i], 1) {
			continue
		}
		sink := math.Inf(1)
		for j, o := range s.outlets {
			if distance(o.at, p) <= 0.15 {
				sink = math.Min(sink, math.Max(z[i], s.invert(j)-s.base))
			}
		}
		for _, e := range s.edges {
			if offset(p, e.a, e.b) < cell/2 && e.kind != "wall" {
				sink = math.Min(sink, z[i])
			}
		}
		if !math.IsInf(sink, 1) {
			heap.Push(&queue, cellAt{i, sink})
		}
	}
	for queue.Len() > 0 {
		c := heap.Pop(&queue).(cellAt)
		if c.level >= level[c.index] {
			continue
		}
		level[c.index] = c.level
		for _, d := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			x, y := c.index%nx+d[0], c.index/nx+d[1]
			if x < 0 || y < 0 || x >= nx || y >= ny || math.IsInf(z[y*nx+x], 1) {
				continue
			}
			if l := math.Max(c.level, z[y*nx+x]); l < level[y*nx+x] {
				heap.Push(&queue, cellAt{y*nx + x, l})
			}
		}
	}
	return func(p orb.Point) float64 {
		best := 0.0
		for dx := -2.0; dx <= 2; dx++ {
			for dy := -2.0; dy <= 2; dy++ {
				x, y := int(math.Round((p[0]-bound.Min[0])/cell+dx)), int(math.Round((p[1]-bound.Min[1])/cell+dy))
				if x >= 0 && y >= 0 && x < nx && y < ny && !math.IsInf(z[y*nx+x], 1) {
					best = math.Max(best, level[y*nx+x]-z[y*nx+x])
				}
			}
		}
		return best
	}
}

type cellAt struct {
	index int
	level float64
}

type cells []cellAt

func (c cells) Len() int           { return len(c) }
func (c cells) Less(i, j int) bool { return c[i].level < c[j].level }
func (c cells) Swap(i, j int)      { c[i], c[j] = c[j], c[i] }
func (c *cells) Push(x any)        { *c = append(*c, x.(cellAt)) }
func (c *cells) Pop() any {
	old := *c
	x := old[len(old)-1]
	*c = old[:len(old)-1]
	return x
}

// TestPlantedDepths floods roofs as designed and compares the water at each planted place with what is
// said of it. The nodes of a grid of 5 cm lie up to 3.5 cm off the top of a ring: 5 mm lower where it is 40 mm
// high and 0.25 m wide to either side. A ridge 0.12 m wide is missed by 7 mm.
func TestPlantedDepths(t *testing.T) {
	roofs := Roofs()
	for seed := range uint64(12) {
		roofs = append(roofs, Random(seed))
	}
	for _, r := range roofs {
		depth := flood(r.survey.site, 0.05)
		for i, f := range r.survey.site.faults {
			if !planar.RingContains(closed(r.survey.site.outline), f.Place) {
				t.Errorf("%s fault %d %s: not on the roof", r.Stem(), i+1, f.Kind)
			}
			if f.Kind == finding.InsulationWet || f.Kind == finding.InsulationThin {
				continue // said of a core; the water over it is that of another fault
			}
			tolerance := 0.005
			if f.Kind == finding.RidgeLine {
				tolerance = 0.007
			}
			if got := depth(f.Place); !(math.Abs(got-f.Depth) <= tolerance) && f.Kind != finding.NoOverflow {
				t.Errorf("%s fault %d %s: %.1f mm of water, said %.1f", r.Stem(), i+1, f.Kind, got*1000, f.Depth*1000)
			}
		}
	}
}
