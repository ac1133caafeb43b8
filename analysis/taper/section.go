package taper

import (
	"errors"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/taper/domain"
)

// Section is a part of a roof on which stock boards are laid while the rest stays: beyond a straight cut line, as far as walls and curbs. The boards begin at nothing at the cut line,
// rise square to it in one direction, and lie flat from where they have reached a thickness.
type Section struct {
	Domain *domain.Domain
	Base   Base
	Gauge  domain.Gauge // in which the surface is to fall
	Front  orb.Point    // a place on the cut line: the first course is counted along it from here
	Up     orb.Point    // unit vector up the taper, square to the cut line
	At     orb.Point    // a place on the section: of the parts of the roof beyond the cut line only the one that holds it counts
	Run    float64      // how far tapered boards reach from the cut line, flat ones beyond [m]
}

var errNoSection = errors.New("taper: no part of the roof lies beyond the cut line")

// Lay draws the section and cuts the base by it. It fails where no roof lies beyond the cut line at At.
func (s *Section) Lay() (*Laying, error) {
	front := vector.Dot(s.Up, s.Front)
	env := &envelope{planes: []plane{
		{c: -drawn * front, g: vector.Scaled(s.Up, drawn), origin: s.Front, root: -1},
		{c: drawn * s.Run, origin: vector.Plus(s.Front, vector.Scaled(s.Up, s.Run)), root: -1},
	}}
	var beyond []cell
	for _, p := range s.Domain.Parts {
		if in, _ := split(p, s.Up, -front); vector.Area(in) > tiny {
			beyond = append(beyond, newCell(in, 0))
		}
	}
	for _, c := range holding(beyond, s.At) {
		tapered, flat := split(c.on, vector.Scaled(s.Up, -1), front+s.Run)
		for number, on := range []domain.Polygon{tapered, flat} {
			if vector.Area(on) > tiny {
				env.cells = append(env.cells, newCell(on, number))
			}
		}
	}
	if len(env.cells) == 0 {
		return nil, errNoSection
	}
	l := &Laying{along: s.Up, sections: &Design{Gauge: s.Gauge, Slope: drawn}}
	l.p = Problem{Domain: s.Domain, Base: s.Base, Gauge: s.Gauge, Slope: drawn, Sources: []Source{s.source(env.cells)}}
	draw(l.sections, env)
	l.cut(env)
	return l, nil
}

// holding returns the cells that hang together with the one that holds a place.
func holding(cells []cell, at orb.Point) []cell {
	if len(cells) == 0 {
		return nil
	}
	w := weld(cells)
	one := newUnion(len(cells))
	for _, e := range w.edges {
		if e.twin >= 0 {
			one.join(e.cell, w.edges[e.twin].cell)
		}
	}
	k := newFinder(cells).at(at)
	if k < 0 {
		return nil
	}
	var out []cell
	for i := range cells {
		if one.of(int32(i)) == one.of(int32(k)) {
			out = append(out, cells[i])
		}
	}
	return out
}

// source is the cut line as what water leaves over, at whatever elevation the roof has there.
func (s *Section) source(cells []cell) Source {
	across := vector.Quarter(s.Up, 1)
	low, high := math.Inf(1), math.Inf(-1)
	for i := range cells {
		for _, q := range cells[i].on {
			t := vector.Dot(across, vector.Minus(q, s.Front))
			low, high = math.Min(low, t), math.Max(high, t)
		}
	}
	from, to := vector.Plus(s.Front, vector.Scaled(across, low)), vector.Plus(s.Front, vector.Scaled(across, high))
	return Source{Outlet: -1, Plan: from, Line: orb.LineString{from, to}, Z: math.Inf(-1)}
}

// Area returns the plan area of what is laid [m2].
func (l *Laying) Area() float64 {
	return gather.Sum(l.sections.Facets, func(x Facet) float64 { return x.Area })
}

// Lay lays boards of stock over a section of the surface. What other changes raise higher stays.
func (a *Alteration) Lay(c *Courses) {
	a.cut = true
	first := 1
	for _, other := range a.laid {
		first += len(other.l.sections.Facets)
	}
	a.laid = append(a.laid, c)
	a.env.turn()
	t := c.l.base.TIN
	for f := range c.l.base.over.facets {
		on := c.l.base.over.facets[f].on
		v := t.V[3*f : 3*f+3]
		g := gradient(on, c.top, v)
		p := plane{c: -(c.top[v[0]] - vector.Dot(g, on[0])), g: vector.Scaled(g, -1), origin: c.l.sections.Facets[c.l.section[f]].Plan, root: -1, laid: first + int(c.l.section[f])}
		a.env.insert(&piece{p, on})
	}
	a.env.turn()
}

// stocked tells a design which of its facets are boards of stock, and what is levelled under them.
func (a *Alteration) stocked(d *Design) {
	if len(a.laid) == 0 {
		return
	}
	d.stock = &stock{boards: make([]*plane, len(d.Facets)), along: make([][]int32, len(d.Lines))}
	var boards []plane // by number of the section, from 1 on
	var up []orb.Point // likewise
	for _, c := range a.laid {
		boards = append(boards, c.boards()...)
		for range c.l.unit {
			up = append(up, c.l.along)
		}
		d.Fall = c.Fall
		d.Leveller.add(c)
	}
	for i := range d.cells {
		f := &d.Facets[d.facet[i]]
		if n := d.planes[d.cells[i].plane].laid; n > 0 {
			f.stock, d.stock.boards[d.facet[i]], f.Taper, f.Along = true, &boards[n-1], boards[n-1].g, up[n-1]
		}
	}
	d.average()
	for i := range d.Lines {
		n := &d.Lines[i]
		if !d.Facets[n.Left].stock && !d.Facets[n.Right].stock {
			continue
		}
		d.crossing(n)
		for _, c := range a.laid {
			first := int32(len(d.stock.at))
			for _, v := range c.on(d.Vertices[n.A].Plan, d.Vertices[n.B].Plan) {
				d.stock.along[i] = append(d.stock.along[i], first)
				d.stock.at, d.stock.top = append(d.stock.at, c.l.at[v]), append(d.stock.top, c.top[v])
				first++
			}
			if len(d.stock.along[i]) > 0 {
				break
			}
		}
	}
}

// crossing names a line beside boards that follow the roof by how the surface rises right beside it: where that rises to one side and falls to the other, water crosses.
func (d *Design) crossing(l *Line) {
	const off, level = 0.05, 1e-4 // [m], [rise/run]
	a, b := d.Vertices[l.A].Plan, d.Vertices[l.B].Plan
	mid, n := vector.Along(a, b, 0.5), vector.Quarter(vector.Unit(vector.Minus(b, a)), 1)
	at, _ := d.Height(mid)
	left, okL := d.Height(vector.Plus(mid, vector.Scaled(n, off)))
	right, okR := d.Height(vector.Minus(mid, vector.Scaled(n, off)))
	switch l.Kind = roof.GradeBreak; {
	case !okL || !okR:
	case left > at+off*level && right > at+off*level:
		l.Kind = roof.Valley
	case left < at-off*level && right < at-off*level:
		l.Kind = roof.Ridge
	}
}

// add takes in what fills low places under further courses.
func (n *Leveller) add(c *Courses) {
	m := c.levelled()
	n.Volume, n.Area, n.Poured = n.Volume+m.Volume, n.Area+m.Area, n.Poured+m.Poured
	if m.Deepest > n.Deepest {
		n.Deepest, n.At = m.Deepest, m.At
	}
	n.Within = math.Max(n.Within, m.Within)
	n.Places, n.Bands = append(n.Places, m.Places...), append(n.Bands, m.Bands...)
}
