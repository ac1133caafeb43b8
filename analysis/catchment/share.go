package catchment

import (
	"fmt"
	"math"
	"slices"

	"runnel/analysis/flow"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// overFull returns the network that counts with every pond full: nil for the dry one, unless several outlets of
// equal invert hold a pond. Then each facet under that pond gives its water to the nearest footprint, and
// what runs into the pond follows the facet where it enters.
func (g *grouping) overFull() (*flow.Network, error) {
	shared := map[int32][]int32{} // outlets by pond; looked up only
	for i := range g.ponds.Ponds {
		holders := g.holders(int32(i))
		if len(holders) < 2 {
			continue
		}
		shared[int32(i)] = holders
		if g.takenBy == nil {
			g.takenBy = slices.Repeat([]int32{-1}, g.s.Cut.Facets())
		}
		g.divide(int32(i), holders, g.takenBy)
	}
	if g.takenBy == nil {
		return nil, nil
	}
	n, err := flow.Trace(g.s, flow.Options{LabelsOnly: true, Taken: g.takenBy})
	if err != nil {
		return nil, fmt.Errorf("with ponds full: %w", err)
	}
	return n, g.enter(n, shared)
}

// shares returns what each of several holders of a pond gains by it. n is the network with every pond full.
func (g *grouping) shares(n *flow.Network) []Share {
	var out []Share
	for i := range g.ponds.Ponds {
		holders := g.holders(int32(i))
		if len(holders) < 2 {
			continue
		}
		for _, o := range holders {
			out = append(out, Share{Pond: int32(i), Outlet: o, Area: math.Max(0, n.Area[o]-g.n.Area[o])})
		}
	}
	setParts(out)
	return out
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

// sameInvert is the difference up to which two inverts count as equal [m]: the rule for two elevations of one place.
const sameInvert = 0.003

// holders returns the outlets of equal invert that hold pond i, ascending; nil where its lip holds it.
func (g *grouping) holders(i int32) []int32 { return g.held[i] }

// findHolders lists the holders of every pond. The outlets that touch a pond are found in one pass over the facets
// under water.
func (g *grouping) findHolders() {
	g.held = make([][]int32, len(g.ponds.Ponds))
	at := g.footprints()
	for i := range g.ponds.Ponds {
		p := &g.ponds.Ponds[i]
		if p.HeldBy < 0 {
			continue
		}
		list := []int32{p.HeldBy}
		for _, f := range p.Facets {
			for _, v := range g.s.Cut.V[3*f : 3*f+3] {
				for _, o := range at[v] {
					x := &g.s.Outlets[o]
					if math.Abs(x.Invert-p.Level) <= sameInvert && x.Low <= p.Level+surface.Grid/2 && !slices.Contains(list, o) {
						list = append(list, o)
					}
				}
			}
		}
		slices.Sort(list)
		g.held[i] = list
	}
}

// footprints returns the outlets, edges aside, by vertex of their footprints; it is looked up only.
func (g *grouping) footprints() map[int32][]int32 {
	at := map[int32][]int32{}
	for o := range g.s.Outlets {
		if g.s.Outlets[o].Type == roof.EdgeOutlet {
			continue
		}
		for _, v := range g.s.Outlets[o].Vertices {
			at[v] = append(at[v], int32(o))
		}
	}
	return at
}
