package catchment

import (
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
	if err := g.enter(n, shared); err != nil {
		return nil, err
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

// enter finds for the ponds that spill into shared ones which outlet gets their water: that of the facet
// where it enters.
func (g *grouping) enter(n *flow.Network, shared map[int32][]int32) error {
	for i := range g.ponds.Ponds {
		last, to := int32(i), g.ponds.Ponds[i].ToPond
		for to >= 0 && shared[to] == nil {
			last, to = to, g.ponds.Ponds[to].ToPond
		}
		if to < 0 || shared[last] != nil {
			continue
		}
		p, ok, err := n.Spill(g.ponds.Ponds[last].Lip, func(x flow.Path) bool {
			return slices.Contains(shared[to], n.Ends[x.Label].Outlet)
		})
		if err != nil {
			return err
		}
		if ok {
			g.end[i] = n.Ends[p.Label].Outlet
		}
	}
	return nil
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
