package taper

import (
	"math"

	"github.com/paulmach/orb"
)

const (
	tiny = 1e-9 // area that is none [m2]
	same = 1e-7 // difference of elevation that is none [m]
	onto = 1e-10
)

// cell is a convex part of the roof with one plane; plane -1 while no source reaches it.
type cell struct {
	on     polygon
	plane  int
	base   int       // facet of the base that it lies in, -1 where it may lie over several
	lo, hi orb.Point // box
}

func newCell(on polygon, plane int) cell {
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
}

// lowest returns the lower envelope of the pieces over the roof's convex parts. Pieces that come first win ties.
func lowest(parts []polygon, pieces []piece) *envelope {
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
	for i := range len(e.cells) {
		c := &e.cells[i]
		if c.meets(&reach) && !e.under(c, &p.plane) {
			e.lower(i, p, number)
		}
	}
}

// trim takes away cells thinner than join: what rounding leaves between the views of two corners. It reports whether all others
// have a plane.
func (e *envelope) trim() bool {
	kept := e.cells[:0]
	for _, c := range e.cells {
		if d := sub(c.hi, c.lo); area(c.on) <= join/2*math.Max(d[0], d[1]) {
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

// lower gives a piece the part of cell i that it covers and where it is the lower one.
func (e *envelope) lower(i int, p *piece, number int) {
	c := e.cells[i]
	part := clip(c.on, p.on)
	if c.plane >= 0 && len(part) > 0 {
		old := &e.planes[c.plane]
		part, _ = split(part, sub(old.g, p.g), old.c-p.c)
	}
	if area(part) <= tiny || c.plane >= 0 && e.under(&cell{on: part, plane: c.plane}, &p.plane) {
		return
	}
	rest := c.on
	for k, a := range part {
		n := quarter(unit(sub(part[(k+1)%len(part)], a)), 1)
		in, out := split(rest, n, -dot(n, a))
		if area(out) > tiny {
			piece := newCell(out, c.plane)
			piece.base = c.base
			e.cells = append(e.cells, piece)
		}
		if area(in) <= tiny {
			return
		}
		rest = in
	}
	e.cells[i] = newCell(rest, number)
	e.cells[i].base = c.base
}

// clip returns what two convex polygons share.
func clip(p, by polygon) polygon {
	var b buffers
	return append(polygon(nil), b.clip(p, by)...)
}

// buffers are polygons that are used again.
type buffers [2]polygon

// clip returns what two convex polygons share; the next call overwrites it.
func (b *buffers) clip(p, by polygon) polygon {
	next := 0
	for k, a := range by {
		n := quarter(sub(by[(k+1)%len(by)], a), 1)
		l := length(n)
		if l == 0 {
			continue
		}
		n = scaled(n, 1/l)
		c := -dot(n, a)
		out := b[next][:0]
		last := p[len(p)-1]
		before := within1(n, last, c)
		for _, q := range p {
			now := within1(n, q, c)
			if before > 0 && now < 0 || before < 0 && now > 0 {
				out = append(out, along(last, q, before/(before-now)))
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

// within1 returns how far q lies inside the half plane n·x + c >= 0, n of length 1; 0 when on its line.
func within1(n, q orb.Point, c float64) float64 {
	d := dot(n, q) + c
	if math.Abs(d) <= onto {
		return 0
	}
	return d
}

// split cuts a convex polygon by the line n·x + c = 0 into the part where that is positive and the other.
func split(p polygon, n orb.Point, c float64) (in, out polygon) {
	if l := length(n); l > 0 {
		n, c = scaled(n, 1/l), c/l
	} else if c >= 0 {
		return p, nil
	} else {
		return nil, p
	}
	var few [16]float64
	side := few[:0]
	pos, neg := false, false
	for _, q := range p {
		d := within1(n, q, c)
		pos, neg = pos || d > 0, neg || d < 0
		side = append(side, d)
	}
	if !neg {
		return p, nil
	}
	if !pos {
		return nil, p
	}
	in, out = make(polygon, 0, len(p)+1), make(polygon, 0, len(p)+1)
	for i, q := range p {
		j := (i + 1) % len(p)
		if side[i] >= 0 {
			in = append(in, q)
		}
		if side[i] <= 0 {
			out = append(out, q)
		}
		if side[i] > 0 && side[j] < 0 || side[i] < 0 && side[j] > 0 {
			x := along(q, p[j], side[i]/(side[i]-side[j]))
			in, out = append(in, x), append(out, x)
		}
	}
	return in, out
}
