package ponding

import (
	"cmp"
	"slices"
)

// Curve is a stage-volume curve: what stands in a depression below a level. It is the static curve: all
// ground of the depression below the level counts as wet, so in a merged pond it describes one connected
// water only from the level at which its last parts merge (the Base of its node) upwards.
//
// Between neighbouring corner elevations area is a polynomial of degree two in the level and volume of
// degree three; both are summed from the facets' closed forms, so the curve is exact. Below the bottom it
// is zero; above the full level it stays at the full pond.
type Curve struct {
	Bottom, Full float64 // elevations between which it rises [m]

	tents []tent    // by lowest corner
	knots []float64 // elevations of corners from Bottom to Full, ascending, each once
}

// Curve returns the stage-volume curve of pond p.
func (ps *Ponds) Curve(p int32) *Curve { return ps.curve(ps.Ponds[p].node) }

// curve returns the stage-volume curve of a node of the tree.
func (ps *Ponds) curve(node int32) *Curve {
	n := &ps.Tree[node]
	c := &Curve{Bottom: ps.z[n.Pit], Full: n.Level}
	for _, f := range ps.Ponds[n.Pond].Facets {
		if !ps.within(ps.nodeOf[ps.lowest(f)], node) {
			continue
		}
		k := newTent(ps.t, ps.z, f)
		c.tents = append(c.tents, k)
		c.knots = append(c.knots, min(k.a, c.Full), min(k.b, c.Full), min(k.c, c.Full))
	}
	c.knots = append(c.knots, c.Full)
	slices.SortFunc(c.tents, func(k, l tent) int { return cmp.Compare(k.a, l.a) })
	slices.Sort(c.knots)
	c.knots = slices.Compact(c.knots)
	return c
}

// lowest returns the lowest corner of facet f.
func (ps *Ponds) lowest(f int32) int32 {
	low := ps.t.V[3*f]
	for _, v := range ps.t.V[3*f+1 : 3*f+3] {
		if ps.z[v] < ps.z[low] {
			low = v
		}
	}
	return low
}

// within reports whether node k is part of node.
func (ps *Ponds) within(k, node int32) bool {
	for k != none && k < node {
		k = ps.Tree[k].Parent
	}
	return k == node
}

// Area returns the plan area of the water at a level [m2].
func (c *Curve) Area(level float64) float64 {
	area, _ := c.water(level)
	return area
}

// Volume returns the water below a level [m3].
func (c *Curve) Volume(level float64) float64 {
	_, volume := c.water(level)
	return volume
}

func (c *Curve) water(level float64) (area, volume float64) {
	level = min(level, c.Full)
	for _, k := range c.tents {
		if k.a >= level {
			break
		}
		a, v := k.water(level)
		area += a
		volume += v
	}
	return area, volume
}
