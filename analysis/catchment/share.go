package catchment

import (
	"cmp"
	"container/heap"
	"fmt"
	"math"
	"slices"

	"runnel/analysis/flow"
	"runnel/analysis/surface"
)

// overFull returns the network that counts with every pond full: the dry one, unless several outlets of
// equal invert hold a pond. Then each facet under that pond gives its water to the nearest footprint, and
// what runs into the pond follows the facet where it enters; the shares are added to c.
func (g *grouping) overFull(c *Catchments) (*flow.Network, error) {
	var takenBy []int32
	shared := map[int32][]int32{} // outlets by pond; looked up only
	for i := range g.ponds.Ponds {
		holders := g.holders(int32(i))
		if len(holders) < 2 {
			continue
		}
		shared[int32(i)] = holders
		if takenBy == nil {
			takenBy = make([]int32, g.s.Cut.Facets())
			for f := range takenBy {
				takenBy[f] = -1
			}
		}
		g.divide(int32(i), holders, takenBy)
	}
	if takenBy == nil {
		return g.n, nil
	}
	n, err := flow.Trace(g.s, flow.Options{LabelsOnly: true, Taken: takenBy})
	if err != nil {
		return nil, fmt.Errorf("with ponds full: %w", err)
	}
	for i := range g.ponds.Ponds {
		for _, o := range shared[int32(i)] {
			gain := n.Area[o] - g.n.Area[o]
			c.Shares = append(c.Shares, Share{Pond: int32(i), Outlet: o, Area: math.Max(0, gain)})
		}
	}
	setParts(c.Shares)
	return n, nil
}

// setParts fills in the parts; shares of one pond stand together.
func setParts(shares []Share) {
	for start := 0; start < len(shares); {
		end, sum := start, 0.0
		for ; end < len(shares) && shares[end].Pond == shares[start].Pond; end++ {
			sum += shares[end].Area
		}
		for ; start < end; start++ {
			if sum > 0 {
				shares[start].Part = shares[start].Area / sum
			}
		}
	}
}

// holders returns the outlets of equal invert that hold pond i, ascending.
func (g *grouping) holders(i int32) []int32 {
	p := &g.ponds.Ponds[i]
	if p.HeldBy < 0 {
		return nil
	}
	held := g.s.Outlets[p.HeldBy].Invert
	var list []int32
	for o := range g.s.Outlets {
		x := &g.s.Outlets[o]
		if int32(o) == p.HeldBy || x.Invert == held && x.Low <= p.Level && g.touches(x, p.Facets) {
			list = append(list, int32(o))
		}
	}
	return list
}

// touches reports whether a footprint has a vertex in common with some facets, in ascending order.
func (g *grouping) touches(o *surface.Outlet, facets []int32) bool {
	if len(o.Vertices) == 0 {
		return false
	}
	for _, f := range facets {
		for _, v := range g.s.Cut.V[3*f : 3*f+3] {
			if _, found := slices.BinarySearch(o.Vertices, v); found {
				return true
			}
		}
	}
	return false
}

// wave is a vertex of a pond reached from a footprint.
type wave struct {
	distance float64 // whole nanometres
	outlet   int32
	vertex   int32
}

type waves []wave

func (w waves) Len() int      { return len(w) }
func (w waves) Swap(i, j int) { w[i], w[j] = w[j], w[i] }
func (w *waves) Push(x any)   { *w = append(*w, x.(wave)) }
func (w *waves) Pop() any {
	last := (*w)[len(*w)-1]
	*w = (*w)[:len(*w)-1]
	return last
}

func (w waves) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(w[i].distance, w[j].distance), cmp.Compare(w[i].outlet, w[j].outlet),
		cmp.Compare(w[i].vertex, w[j].vertex)) < 0
}

// divide gives every facet under pond i to the outlet whose footprint is nearest along the pond, measured
// along edges and then straight to the facet's centroid; of equally near ones the first.
func (g *grouping) divide(i int32, holders, takenBy []int32) {
	t := g.s.Cut
	facets := g.ponds.Ponds[i].Facets
	near := map[int32]wave{} // by vertex of the pond; looked up only
	w := &waves{}
	for _, f := range facets {
		for _, v := range t.V[3*f : 3*f+3] {
			near[v] = wave{math.Inf(1), -1, v}
		}
	}
	for _, o := range holders {
		for _, v := range g.s.Outlets[o].Vertices {
			if _, in := near[v]; in {
				*w = append(*w, wave{0, o, v})
			}
		}
	}
	heap.Init(w)
	around := g.neighbours(facets)
	for w.Len() > 0 {
		x := heap.Pop(w).(wave)
		if near[x.vertex].outlet >= 0 {
			continue
		}
		near[x.vertex] = x
		for _, v := range around[x.vertex] {
			if near[v].outlet < 0 {
				heap.Push(w, wave{x.distance + nanometres(t, x.vertex, v), x.outlet, v})
			}
		}
	}
	for _, f := range facets {
		takenBy[f] = g.nearest(f, near)
	}
}

// neighbours returns, per vertex, those that share an edge of one of the facets with it.
func (g *grouping) neighbours(facets []int32) map[int32][]int32 {
	t := g.s.Cut
	around := map[int32][]int32{}
	for _, f := range facets {
		for e := 3 * f; e < 3*f+3; e++ {
			a, b := t.V[e], t.V[surface.Next(e)]
			around[a] = append(around[a], b)
			around[b] = append(around[b], a)
		}
	}
	return around
}

// nearest returns the outlet nearest to the centroid of facet f.
func (g *grouping) nearest(f int32, near map[int32]wave) int32 {
	t := g.s.Cut
	c := t.V[3*f : 3*f+3]
	best := wave{distance: math.Inf(1), outlet: -1}
	for i, v := range c {
		a, b := c[(i+1)%3], c[(i+2)%3]
		x := (t.X[a] - t.X[v] + t.X[b] - t.X[v]) / 3
		y := (t.Y[a] - t.Y[v] + t.Y[b] - t.Y[v]) / 3
		n := near[v]
		d := n.distance + math.Round(math.Sqrt(float64(x*x)+float64(y*y))*1e9)
		if n.outlet >= 0 && (d < best.distance || d == best.distance && n.outlet < best.outlet) {
			best = wave{d, n.outlet, v}
		}
	}
	return best.outlet
}

func nanometres(t *surface.TIN, a, b int32) float64 {
	x, y := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
	return math.Round(math.Sqrt(float64(x*x)+float64(y*y)) * 1e9)
}
