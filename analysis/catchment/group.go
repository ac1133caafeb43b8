package catchment

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/fault"
	"runnel/analysis/flow"
	"runnel/analysis/ponding"
	"runnel/analysis/surface"
)

// grouping puts the labels of a network in groups: outlets first, then ponds.
type grouping struct {
	s      *surface.Surface
	n      *flow.Network
	ponds  *ponding.Ponds
	listed func() []bool // per pond; nil: all are

	areasOnly bool // nothing is drawn

	end     []int32   // per pond: outlet that gets its water with every pond full, -1 none
	takenBy []int32   // per facet: outlet that takes what comes to it in a pond that several hold, -1 elsewhere; nil without any
	held    [][]int32 // per pond: outlets of equal invert that hold it, ascending; nil where its lip does
}

func (g *grouping) outlets() int { return len(g.s.Outlets) }

// cascade finds where the water of every pond goes in the end.
func (g *grouping) cascade() error {
	const unknown = -2
	g.end = slices.Repeat([]int32{unknown}, len(g.ponds.Ponds))
	var chain []int32
	for i := range g.end {
		chain = chain[:0]
		at := int32(i)
		for at >= 0 && g.end[at] == unknown {
			if len(chain) > len(g.end) {
				return fault.New("catchments", "ponds spill into each other in a ring at pond %d", at)
			}
			chain = append(chain, at)
			if next := g.ponds.Ponds[at].ToPond; next >= 0 {
				at = next
				continue
			}
			g.end[at] = g.ponds.Ponds[at].ToOutlet // that which holds it, if one does; -1 where there is no way out
		}
		for k := len(chain) - 1; k >= 0; k-- {
			g.end[chain[k]] = g.end[at]
		}
	}
	return nil
}

// pondOf returns the pond that a label's water stops in.
func (g *grouping) pondOf(n *flow.Network, label int) (int32, error) {
	pit := n.Ends[label].Pit
	p := g.ponds.OfPit[pit]
	if p < 0 {
		return -1, fault.New("catchments", "the pit at vertex %d is not part of any pond", pit)
	}
	return p, nil
}

// dry returns the catchments with ponds empty.
func (g *grouping) dry() ([]Catchment, error) {
	m, ponds := g.outlets(), len(g.ponds.Ponds)
	shared := m + ponds
	group := make([]int32, len(g.n.Ends))
	first := int32(-1) // of the unlisted ponds that have a catchment
	var listed []bool
	if g.listed != nil {
		listed = g.listed()
	}
	for label, e := range g.n.Ends {
		group[label] = e.Outlet
		if e.Outlet >= 0 {
			continue
		}
		p, err := g.pondOf(g.n, label)
		if err != nil {
			return nil, err
		}
		group[label] = int32(m) + p
		if listed != nil && !listed[p] {
			group[label] = int32(shared)
			if first < 0 || p < first {
				first = p
			}
		}
	}
	list := newCatchments(m, ponds+1)
	list[shared].Pond = first
	g.sum(g.n, group, list)
	return g.draw(g.n, group, list)
}

// newCatchments returns empty catchments for m outlets and then for some ponds.
func newCatchments(m, ponds int) []Catchment {
	list := make([]Catchment, m+ponds)
	for i := range list {
		list[i] = Catchment{Outlet: int32(i), Pond: -1}
		if i >= m {
			list[i] = Catchment{Outlet: -1, Pond: int32(i - m)}
		}
	}
	return list
}

// sum adds up what the labels of each group have.
func (g *grouping) sum(n *flow.Network, group []int32, list []Catchment) {
	for label, i := range group {
		c := &list[i]
		c.Area += n.Area[label]
		c.Indeterminate += n.Level[label]
	}
}

// draw adds the outlines, and drops the catchments without area.
func (g *grouping) draw(n *flow.Network, group []int32, list []Catchment) ([]Catchment, error) {
	outlines := make([]orb.MultiPolygon, len(list))
	if !g.areasOnly {
		outlines = join(n, group, len(list))
	}
	var kept []Catchment
	for i := range list {
		if list[i].Area == 0 {
			continue
		}
		if !g.areasOnly {
			if err := checkOutline(outlines[i], list[i].Area, g.s.Area); err != nil {
				return nil, err
			}
		}
		list[i].Outline = outlines[i]
		kept = append(kept, list[i])
	}
	return kept, nil
}

// full fills in the catchments with ponds full, of which n is the network.
func (g *grouping) full(c *Catchments, n *flow.Network) (err error) {
	m := g.outlets()
	group := make([]int32, len(n.Ends))
	for label, e := range n.Ends {
		group[label] = e.Outlet
		if e.Outlet >= 0 {
			continue
		}
		p, err := g.pondOf(n, label)
		if err != nil {
			return err
		}
		if group[label] = g.end[p]; g.end[p] < 0 {
			group[label] = int32(m)
		}
	}
	list := newCatchments(m, 1)
	list[m].Pond = -1
	g.sum(n, group, list)
	if list, err = g.draw(n, group, list); err != nil {
		return err
	}
	for _, x := range list {
		if x.Outlet < 0 {
			c.Undrained, c.Undrawn = x.Area, x.Outline
			continue
		}
		c.Full = append(c.Full, x)
	}
	if c.Undrawn == nil && !g.areasOnly {
		c.Undrawn = orb.MultiPolygon{}
	}
	return nil
}
