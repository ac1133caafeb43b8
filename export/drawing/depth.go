package drawing

import (
	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// below returns the rings of the part of some facets that lies lower than level. Each facet is cut, the sides that two
// pieces share cancel, and the rest is walked.
func below(t *surface.TIN, facets []int32, level float64) [][]orb.Point {
	c := &cutting{t: t, level: level, from: map[orb.Point][]int{}}
	for _, f := range facets {
		c.facet(f)
	}
	return c.rings()
}

// cutting gathers the sides of pieces, each with its piece on the left.
type cutting struct {
	t     *surface.TIN
	level float64
	sides [][2]orb.Point
	gone  []bool
	from  map[orb.Point][]int // sides by where they begin
}

func (c *cutting) facet(f int32) {
	piece := make([]orb.Point, 0, 4)
	for e := 3 * f; e < 3*f+3; e++ {
		a, b := c.t.V[e], c.t.V[surface.Next(e)]
		if c.t.Z[a] < c.level {
			piece = append(piece, orb.Point{c.t.X[a], c.t.Y[a]})
		}
		if (c.t.Z[a] < c.level) != (c.t.Z[b] < c.level) {
			piece = append(piece, c.crossing(a, b))
		}
	}
	for i := range piece {
		c.add(piece[i], piece[(i+1)%len(piece)])
	}
}

// crossing returns where the side between two vertices reaches the level, the same from either facet.
func (c *cutting) crossing(a, b int32) orb.Point {
	if a > b {
		a, b = b, a
	}
	part := (c.level - c.t.Z[a]) / (c.t.Z[b] - c.t.Z[a])
	return orb.Point{c.t.X[a] + float64((c.t.X[b]-c.t.X[a])*part), c.t.Y[a] + float64((c.t.Y[b]-c.t.Y[a])*part)}
}

// add adds a side, or takes away the same side seen from the other piece.
func (c *cutting) add(a, b orb.Point) {
	if a == b {
		return
	}
	back := c.from[b]
	for i, k := range back {
		if c.sides[k][1] == a {
			c.gone[k] = true
			c.from[b] = append(back[:i:i], back[i+1:]...)
			return
		}
	}
	c.from[a] = append(c.from[a], len(c.sides))
	c.sides, c.gone = append(c.sides, [2]orb.Point{a, b}), append(c.gone, false)
}

// rings walks what is left.
func (c *cutting) rings() [][]orb.Point {
	var out [][]orb.Point
	for k := range c.sides {
		if c.gone[k] {
			continue
		}
		var ring []orb.Point
		for at := k; at >= 0; at = c.next(c.sides[at][1]) {
			c.gone[at] = true
			ring = append(ring, c.sides[at][0])
		}
		if len(ring) > 2 {
			out = append(out, ring)
		}
	}
	return out
}

// next returns a side that begins at a place and was not walked, -1 when there is none.
func (c *cutting) next(p orb.Point) int {
	for _, k := range c.from[p] {
		if !c.gone[k] {
			return k
		}
	}
	return -1
}
