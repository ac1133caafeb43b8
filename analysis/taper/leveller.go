package taper

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper/domain"
)

// Leveller returns what is filled under the boards.
func (c *Courses) Leveller() Leveller {
	t, n := c.l.base.TIN, Leveller{Within: c.Within}
	for f := range t.Facets() {
		most, sum := 0.0, 0.0
		for _, v := range t.V[3*f : 3*f+3] {
			sum += c.lift[v]
			if most = math.Max(most, c.lift[v]); c.lift[v] > n.Deepest {
				n.Deepest, n.At = c.lift[v], c.l.at[v]
			}
		}
		if most > 0 {
			a := vector.Area(c.l.base.over.facets[f].on)
			n.Area += a
			n.Volume += float64(a * sum / 3)
		}
	}
	n.Poured = n.Volume
	if c.Step > 0 {
		c.bands(&n)
	}
	return n
}

// bands lays flat boards where low places are a step deep or more, as long as half a board takes one.
func (c *Courses) bands(n *Leveller) {
	over := c.deeper(c.Step)
	for k := 1; over >= c.Board/2 && over > 0; k++ {
		thick := float64(k) * c.Step
		next := c.deeper(thick + c.Step)
		if next < c.Board/2 {
			next = 0
		}
		if over > next {
			n.Bands = append(n.Bands, Band{Thickness: thick, Area: over - next})
		}
		n.Poured -= float64(over * c.Step)
		over = next
	}
	n.Poured = math.Max(0, n.Poured)
}

// deeper returns the area on which low places are filled at least so deep [m2].
func (c *Courses) deeper(than float64) float64 {
	t, sum := c.l.base.TIN, 0.0
	for f := range t.Facets() {
		v := t.V[3*f : 3*f+3]
		if math.Max(c.lift[v[0]], math.Max(c.lift[v[1]], c.lift[v[2]])) < than {
			continue
		}
		on := c.l.base.over.facets[f].on
		var part domain.Polygon
		for k, q := range on {
			m := (k + 1) % 3
			a, b := c.lift[v[k]]-than, c.lift[v[m]]-than
			if a >= 0 {
				part = append(part, q)
			}
			if (a >= 0) != (b >= 0) {
				part = append(part, vector.Along(q, on[m], a/(a-b)))
			}
		}
		sum += vector.Area(part)
	}
	return sum
}

// edge returns the line on which low places are filled so deep, in pieces of one facet each.
func (c *Courses) edge(deep float64) []orb.LineString {
	t := c.l.base.TIN
	var out []orb.LineString
	for f := range t.Facets() {
		v := t.V[3*f : 3*f+3]
		on := c.l.base.over.facets[f].on
		var piece orb.LineString
		for k, q := range on {
			m := (k + 1) % 3
			if a, b := c.lift[v[k]]-deep, c.lift[v[m]]-deep; (a >= 0) != (b >= 0) {
				piece = append(piece, vector.Along(q, on[m], a/(a-b)))
			}
		}
		if len(piece) == 2 && vector.Length(vector.Minus(piece[1], piece[0])) > join {
			out = append(out, piece)
		}
	}
	return out
}

// places returns the patches that are levelled, the one that takes most first.
func (c *Courses) places() []LowPlace {
	t := c.l.base.TIN
	patch := newUnion(len(t.X))         // of vertices
	lifted := make([]int32, t.Facets()) // per facet: a lifted corner, -1
	for f := range lifted {
		lifted[f] = -1
		for _, v := range t.V[3*f : 3*f+3] {
			if c.lift[v] > 0 {
				if lifted[f] >= 0 {
					patch.join(lifted[f], v)
				}
				lifted[f] = v
			}
		}
	}
	number := map[int32]int{}
	var out []LowPlace
	var sides []map[int32][]int32 // per place: from a corner to the next, of the sides of its facets
	for f, v := range lifted {
		if v < 0 {
			continue
		}
		k, ok := number[patch.of(v)]
		if !ok {
			k = len(out)
			number[patch.of(v)] = k
			out, sides = append(out, LowPlace{}), append(sides, map[int32][]int32{})
		}
		c.place(&out[k], sides[k], int32(f))
	}
	for k := range out {
		out[k].Outline = c.rings(sides[k])
	}
	slices.SortStableFunc(out, func(a, b LowPlace) int { return cmp.Compare(b.Volume, a.Volume) })
	return out
}

// place takes a facet into a place; a side that is there the other way round lies inside.
func (c *Courses) place(p *LowPlace, sides map[int32][]int32, f int32) {
	v := c.l.base.TIN.V[3*f : 3*f+3]
	a := vector.Area(c.l.base.over.facets[f].on)
	p.Area += a
	p.Volume += float64(a * (c.lift[v[0]] + c.lift[v[1]] + c.lift[v[2]]) / 3)
	for k, from := range v {
		if c.lift[from] > p.Deepest {
			p.Deepest, p.At = c.lift[from], c.l.at[from]
		}
		to := v[(k+1)%3]
		if i := slices.Index(sides[to], from); i >= 0 {
			sides[to] = slices.Delete(sides[to], i, i+1)
		} else {
			sides[from] = append(sides[from], to)
		}
	}
}

// rings walks the sides of a place, outer rings first.
func (c *Courses) rings(sides map[int32][]int32) orb.Polygon {
	var from []int32
	for v := range sides {
		from = append(from, v)
	}
	slices.Sort(from)
	var out orb.Polygon
	for _, first := range from {
		for len(sides[first]) > 0 {
			var loop domain.Polygon
			for v := first; len(sides[v]) > 0; {
				loop = append(loop, c.l.at[v])
				next := sides[v][0]
				sides[v] = sides[v][1:]
				v = next
			}
			if len(loop) > 2 && math.Abs(vector.Area(loop)) > tiny {
				ring := orb.Ring(domain.Straight(loop))
				out = append(out, append(ring, ring[0]))
			}
		}
	}
	slices.SortStableFunc(out, func(a, b orb.Ring) int { return cmp.Compare(b.Orientation(), a.Orientation()) })
	return out
}

// flat returns how much of a filled depth is flat boards [m].
func (n *Leveller) flat(depth float64) float64 {
	thick := 0.0
	for _, b := range n.Bands {
		if b.Thickness <= depth+1e-9 {
			thick = b.Thickness
		}
	}
	return thick
}

// Heaviest returns the greatest load of what is laid, of boards and leveller of given loads per thickness [Pa/m].
func (d *Design) Heaviest(board, leveller float64) float64 {
	most := 0.0
	d.Parts(func(p *Part) {
		for k, t := range p.Thickness {
			deep := math.Max(0, t-p.Boards[k])
			flat := d.Leveller.flat(deep)
			most = math.Max(most, float64((p.Boards[k]+flat)*board)+float64((deep-flat)*leveller))
		}
	})
	return most
}
