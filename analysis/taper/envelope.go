package taper

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper/domain"
)

const (
	tiny = 1e-9 // area that is none [m2]
	same = 1e-7 // difference of elevation that is none [m]
	onto = 1e-10
)

// cell is a convex part of the roof with one plane; plane -1 while no source reaches it.
type cell struct {
	on     domain.Polygon
	plane  int
	base   int       // facet of the base that it lies in, -1 where it may lie over several
	lo, hi orb.Point // box
}

func newCell(on domain.Polygon, plane int) cell {
	c := cell{on: on, plane: plane, base: -1, lo: on[0], hi: on[0]}
	for _, p := range on[1:] {
		c.lo = orb.Point{math.Min(c.lo[0], p[0]), math.Min(c.lo[1], p[1])}
		c.hi = orb.Point{math.Max(c.hi[0], p[0]), math.Max(c.hi[1], p[1])}
	}
	return c
}

func (c *cell) meets(o *cell) bool {
	return c.lo[0] < o.hi[0] && o.lo[0] < c.hi[0] && c.lo[1] < o.hi[1] && o.lo[1] < c.hi[1]
}

// envelope is the lower envelope of pieces.
type envelope struct {
	planes []plane
	cells  []cell

	sides   []halfPlane // of the piece that is being inserted
	buffers buffers
	part    buffer
}

// lowest returns the lower envelope of the pieces over the roof's convex parts. Pieces that come first win ties.
func lowest(parts []domain.Polygon, pieces []piece) *envelope {
	e := &envelope{}
	for _, p := range parts {
		e.cells = append(e.cells, newCell(p, -1))
	}
	for i := range pieces {
		e.insert(&pieces[i])
	}
	return e
}

// insert lowers the envelope to a piece.
func (e *envelope) insert(p *piece) {
	number := len(e.planes)
	if number > 0 && e.planes[number-1] == p.plane {
		number--
	} else {
		e.planes = append(e.planes, p.plane)
	}
	reach := newCell(p.on, number)
	e.sides = halfPlanes(e.sides[:0], p.on)
	for i := range len(e.cells) {
		if c := &e.cells[i]; c.meets(&reach) && !e.under(c, &p.plane) {
			e.lower(i, p, e.sides, number)
		}
	}
}

// trim takes away cells thinner than join: what rounding leaves between the views of two corners. It reports whether all others
// have a plane.
func (e *envelope) trim() bool {
	kept := e.cells[:0]
	for _, c := range e.cells {
		if d := vector.Minus(c.hi, c.lo); vector.Area(c.on) <= join/2*math.Max(d[0], d[1]) {
			continue
		}
		if c.plane < 0 {
			return false
		}
		kept = append(kept, c)
	}
	e.cells = kept
	return true
}

// under reports whether the whole cell lies no higher than a plane.
func (e *envelope) under(c *cell, p *plane) bool {
	if c.plane < 0 {
		return false
	}
	for _, q := range c.on {
		if p.at(q) < e.planes[c.plane].at(q)-same {
			return false
		}
	}
	return true
}

// lower gives a piece the part of cell i that it covers and where it is the lower one. by are the piece's sides.
func (e *envelope) lower(i int, p *piece, by []halfPlane, number int) {
	c := e.cells[i]
	part := e.buffers.clip(c.on, by)
	if c.plane >= 0 && len(part) > 0 {
		old := &e.planes[c.plane]
		part = e.part.positive(part, vector.Minus(old.g, p.g), old.c-p.c)
	}
	if vector.Area(part) <= tiny || c.plane >= 0 && e.under(&cell{on: part, plane: c.plane}, &p.plane) {
		return
	}
	rest := c.on
	for k, a := range part {
		n := vector.Quarter(vector.Unit(vector.Minus(part[(k+1)%len(part)], a)), 1)
		in, out := split(rest, n, -vector.Dot(n, a))
		if vector.Area(out) > tiny {
			piece := newCell(out, c.plane)
			piece.base = c.base
			e.cells = append(e.cells, piece)
		}
		if vector.Area(in) <= tiny {
			return
		}
		rest = in
	}
	e.cells[i] = newCell(rest, number)
	e.cells[i].base = c.base
}

// halfPlane is the plan where n·x + c >= 0, n of length 1.
type halfPlane struct {
	n orb.Point
	c float64
}

// halfPlanes appends the half planes whose common part a convex polygon is.
func halfPlanes(out []halfPlane, on domain.Polygon) []halfPlane {
	for k, a := range on {
		n := vector.Quarter(vector.Minus(on[(k+1)%len(on)], a), 1)
		if l := vector.Length(n); l > 0 {
			n = vector.Scaled(n, 1/l)
			out = append(out, halfPlane{n, -vector.Dot(n, a)})
		}
	}
	return out
}

// buffers are polygons that are used again.
type buffers [2]domain.Polygon

// clip returns the part of a convex polygon that lies in all of some half planes: p itself where it lies in them whole, else a polygon that the next call overwrites.
func (b *buffers) clip(p domain.Polygon, by []halfPlane) domain.Polygon {
	next := 0
	for i := range by {
		h := &by[i]
		if h.holds(p) {
			continue
		}
		out := b[next][:0]
		last := p[len(p)-1]
		before := within1(h.n, last, h.c)
		for _, q := range p {
			now := within1(h.n, q, h.c)
			if before > 0 && now < 0 || before < 0 && now > 0 {
				out = append(out, vector.Along(last, q, before/(before-now)))
			}
			if now >= 0 {
				out = append(out, q)
			}
			last, before = q, now
		}
		b[next], p = out, out
		next = 1 - next
		if len(p) < 3 {
			return nil
		}
	}
	return p
}

// holds reports whether all corners of p lie in h.
func (h *halfPlane) holds(p domain.Polygon) bool {
	for _, q := range p {
		if within1(h.n, q, h.c) < 0 {
			return false
		}
	}
	return true
}

// within1 returns how far q lies inside the half plane n·x + c >= 0, n of length 1; 0 when on its line.
func within1(n, q orb.Point, c float64) float64 {
	d := vector.Dot(n, q) + c
	return choose.If(math.Abs(d) <= onto, 0, d)
}

// split cuts a convex polygon by the line n·x + c = 0 into the part where that is positive and the other.
func split(p domain.Polygon, n orb.Point, c float64) (in, out domain.Polygon) {
	var few [16]float64
	side, in, out, cut := sides(few[:0], p, n, c)
	if cut {
		in, out = make(domain.Polygon, 0, len(p)+1), make(domain.Polygon, 0, len(p)+1)
		in, out = parted(p, side, in, out)
	}
	return in, out
}

// positive returns the first of what split returns: p itself where it lies whole on that side, else a polygon in b, which the next call overwrites.
func (b *buffer) positive(p domain.Polygon, n orb.Point, c float64) domain.Polygon {
	var few [16]float64
	side, in, _, cut := sides(few[:0], p, n, c)
	if cut {
		b.in, b.out = parted(p, side, b.in[:0], b.out[:0])
		in = b.in
	}
	return in
}

// buffer is a pair of polygons that are used again.
type buffer struct{ in, out domain.Polygon }

// sides appends how far the corners of p lie inside n·x + c >= 0; where the line does not cut p, in or out is p, else cut is set.
func sides(side []float64, p domain.Polygon, n orb.Point, c float64) (s []float64, in, out domain.Polygon, cut bool) {
	if l := vector.Length(n); l > 0 {
		n, c = vector.Scaled(n, 1/l), c/l
	} else if c >= 0 {
		return side, p, nil, false
	} else {
		return side, nil, p, false
	}
	pos, neg := false, false
	for _, q := range p {
		d := within1(n, q, c)
		pos, neg = pos || d > 0, neg || d < 0
		side = append(side, d)
	}
	if !neg {
		return side, p, nil, false
	}
	if !pos {
		return side, nil, p, false
	}
	return side, nil, nil, true
}

// parted appends to in and out the parts of p on both sides of a line, of which its corners stand off by side.
func parted(p domain.Polygon, side []float64, in, out domain.Polygon) (domain.Polygon, domain.Polygon) {
	for i, q := range p {
		j := (i + 1) % len(p)
		if side[i] >= 0 {
			in = append(in, q)
		}
		if side[i] <= 0 {
			out = append(out, q)
		}
		if side[i] > 0 && side[j] < 0 || side[i] < 0 && side[j] > 0 {
			x := vector.Along(q, p[j], side[i]/(side[i]-side[j]))
			in, out = append(in, x), append(out, x)
		}
	}
	return in, out
}
