package taper

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// stock is what a design of stock boards has beside its surface.
type stock struct {
	whole  bool        // the whole design is such boards
	boards []*plane    // per facet: thickness of the boards, nil where it is none of them
	along  [][]int32   // per line: where boards on either side of it follow what they are laid on
	at     []orb.Point // of these places
	top    []float64   // there
}

// Design returns the new surface. Its facets are the sections: the slope of one is that of its mean plane, and heights follow the base.
func (c *Courses) Design() *Design {
	l := c.l
	d := &Design{Gauge: l.p.Gauge, Slope: c.Taper, Thickness: c.Start, Fall: c.Fall, facet: l.section, over: l.base.over}
	d.stock = &stock{whole: true, at: l.at, top: c.top}
	d.Facets = append([]Facet(nil), l.sections.Facets...)
	d.Vertices = append([]Vertex(nil), l.sections.Vertices...)
	d.Lines = append([]Line(nil), l.sections.Lines...)
	d.fresh = slices.Repeat([]bool{true}, len(d.Vertices))
	d.planes = make([]plane, len(l.base.over.planes))
	d.cells = append([]cell(nil), l.base.over.facets...)
	for f := range d.cells {
		d.cells[f].base = f
		d.planes[f] = l.base.over.planeOf(f, c.top)
	}
	d.find = newFinder(d.cells)
	boards := c.boards()
	for i := range boards {
		d.stock.boards = append(d.stock.boards, &boards[i])
		d.Facets[i].stock = true
	}
	d.over.measure(d)
	d.Leveller = c.levelled()
	c.heights(d)
	return d
}

// boards returns the thickness of the boards of each section.
func (c *Courses) boards() []plane {
	var out []plane
	k := c.Taper / drawn
	for _, u := range c.l.unit {
		out = append(out, plane{c: c.Start + float64(k*u.c), g: vector.Scaled(u.g, k), root: u.root})
	}
	return out
}

// levelled returns what is filled under the boards, with its places.
func (c *Courses) levelled() Leveller {
	n := c.Leveller()
	n.Places = c.places()
	for i := range n.Bands {
		n.Bands[i].Edges = c.edge(n.Bands[i].Thickness)
	}
	return n
}

// heights gives the design's corners, lines and facets their elevations.
func (c *Courses) heights(d *Design) {
	for _, s := range c.l.p.Sources {
		top := c.topOf(d, s)
		if c.Start == 0 && !math.IsInf(s.Z, 0) { // boards begin at nothing: the outlet stays
			top = math.Min(top, s.Z)
		}
		d.Outlets = append(d.Outlets, Level{s, top})
	}
	for i := range d.Vertices {
		v := &d.Vertices[i]
		v.Z, _ = d.Height(v.Plan)
		v.Base, _ = c.l.p.Base.at(c.l.p.Domain, v.Plan)
	}
	for i := range d.Facets {
		d.Facets[i].Taper = d.stock.boards[i].g
	}
	d.average()
	d.stock.along = make([][]int32, len(d.Lines))
	for i := range d.Lines {
		n := &d.Lines[i]
		d.stock.along[i] = c.on(d.Vertices[n.A].Plan, d.Vertices[n.B].Plan)
		n.Slope = math.Abs(d.Vertices[n.A].Z-d.Vertices[n.B].Z) / n.Length
		u := vector.Scaled(vector.Minus(d.Vertices[n.B].Plan, d.Vertices[n.A].Plan), 1/n.Length)
		n.Kind = kind(&d.Facets[n.Left], &d.Facets[n.Right], u, n.Slope)
	}
}

// average gives each section the slope of its mean plane.
func (d *Design) average() {
	sums, areas := make([]orb.Point, len(d.Facets)), make([]float64, len(d.Facets))
	for i := range d.cells {
		a := vector.Area(d.cells[i].on)
		sums[d.facet[i]] = vector.Plus(sums[d.facet[i]], vector.Scaled(d.planes[d.cells[i].plane].g, a))
		areas[d.facet[i]] += a
	}
	for i := range d.Facets {
		f := &d.Facets[i]
		if !f.stock {
			continue
		}
		f.Z, _ = d.Height(f.Plan)
		if areas[i] > 0 {
			g := vector.Scaled(sums[i], 1/areas[i])
			f.DX, f.DY = g[0], g[1]
		}
	}
}

// topOf returns the elevation of the new surface at a source; of a line the lowest.
func (c *Courses) topOf(d *Design, s Source) float64 {
	low := math.Inf(1)
	for _, q := range append(orb.LineString{s.Plan}, s.Line...) {
		if z, ok := d.Height(q); ok {
			low = math.Min(low, z)
		}
	}
	return choose.If(math.IsInf(low, 1), s.Z, low)
}

// on returns the mesh's vertices on the straight way from a to b, in order, without its ends.
func (c *Courses) on(a, b orb.Point) []int32 {
	at := c.l.at
	var out []int32
	for _, s := range c.l.points.along(at, a, b, [2]int32{-1, -1}, nil) {
		if len(c.l.star[s.v]) > 0 && vector.Length(vector.Minus(at[s.v], a)) > apart && vector.Length(vector.Minus(at[s.v], b)) > apart {
			out = append(out, s.v)
		}
	}
	return out
}

// Thickest returns the greatest thickness of boards of stock [m], of what is laid where there are none.
func (d *Design) Thickest() float64 {
	if d.stock == nil {
		return d.Fill.Thickest
	}
	most := 0.0
	for f := range d.cells {
		if boards := d.stock.boards[d.facet[f]]; boards != nil {
			for _, q := range d.cells[f].on {
				most = math.Max(most, boards.at(q))
			}
		}
	}
	return most
}

// boards returns how thick the boards of a part are at its corners; what is laid in it is all boards unless stock lies on leveller.
func (d *Design) boards(p *Part) {
	p.Boards = p.Boards[:0]
	if d.stock == nil || d.stock.boards[p.Facet] == nil {
		p.Boards = append(p.Boards, p.Thickness...)
		return
	}
	for _, q := range p.On {
		p.Boards = append(p.Boards, d.stock.boards[p.Facet].at(q))
	}
}

// Stocked reports whether the whole design is stock boards laid on a levelled base, and not planes cut to measure.
func (d *Design) Stocked() bool { return d.stock != nil && d.stock.whole }

// between returns the places on line i at which it follows the base of stock boards; none of a line between planes. Where other lines end on it there is one.
func (d *Design) between(i int) []roof.Position {
	if d.stock == nil {
		return nil
	}
	l := &d.Lines[i]
	ends := []orb.Point{d.Vertices[l.A].Plan, d.Vertices[l.B].Plan} // what others keep clear of
	var out []roof.Position
	for _, fixed := range []bool{true, false} {
		for _, v := range d.stock.along[i] {
			p := d.stock.at[v]
			if d.corner(p) == fixed && !slices.ContainsFunc(ends, func(q orb.Point) bool { return vector.Length(vector.Minus(p, q)) < apart }) {
				ends = append(ends, p)
				out = append(out, roof.Position{Plan: p, Z: d.stock.top[v], HasZ: true})
			}
		}
	}
	from := d.Vertices[l.A].Plan
	slices.SortFunc(out, func(a, b roof.Position) int {
		return cmp.Compare(vector.Length(vector.Minus(a.Plan, from)), vector.Length(vector.Minus(b.Plan, from)))
	})
	return out
}

// corner reports whether a corner of the design stands at p.
func (d *Design) corner(p orb.Point) bool {
	return slices.ContainsFunc(d.Vertices, func(v Vertex) bool { return vector.Length(vector.Minus(v.Plan, p)) <= 2*join })
}
