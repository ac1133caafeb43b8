package taper

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper/domain"
)

// overlay lays cells over the facets of a base.
type overlay struct {
	base   *Base
	facets []cell  // triangles
	planes []plane // of the base, per facet
}

func newOverlay(b *Base) *overlay {
	t := b.TIN
	o := &overlay{base: b, facets: make([]cell, 0, t.Facets()), planes: make([]plane, 0, t.Facets())}
	corners := make(domain.Polygon, 0, 3*t.Facets())
	for f := range int32(t.Facets()) {
		on := corners[len(corners) : len(corners) : len(corners)+3]
		corners = corners[:len(corners)+3]
		for _, v := range t.V[3*f : 3*f+3] {
			on = append(on, orb.Point{t.X[v], t.Y[v]})
		}
		o.facets = append(o.facets, newCell(on, int(f)))
		o.planes = append(o.planes, o.planeOf(int(f), b.Z))
	}
	return o
}

// planeOf returns the plane of facet f whose vertices stand at elevations z [m].
func (o *overlay) planeOf(f int, z []float64) plane {
	on, v := o.facets[f].on, o.base.TIN.V[3*f:3*f+3]
	g := gradient(on, z, v)
	return plane{c: z[v[0]] - vector.Dot(g, on[0]), g: g}
}

// gradient returns the uphill gradient of a triangle whose corners v have elevations z.
func gradient(on domain.Polygon, z []float64, v []int32) orb.Point {
	u, w := vector.Minus(on[1], on[0]), vector.Minus(on[2], on[0])
	du, dw, d := z[v[1]]-z[v[0]], z[v[2]]-z[v[0]], vector.Cross(u, w)
	return orb.Point{(float64(du*w[1]) - float64(dw*u[1])) / d, (float64(dw*u[0]) - float64(du*w[0])) / d}
}

// each calls do for every part that a facet of the base and a cell share. The part must not be kept.
func (o *overlay) each(find *finder, cells []cell, do func(facet, cell int, part domain.Polygon)) {
	if len(cells) > 0 && !slices.ContainsFunc(cells, func(c cell) bool { return c.base < 0 }) {
		for i := range cells {
			if vector.Area(cells[i].on) > tiny {
				do(cells[i].base, i, cells[i].on)
			}
		}
		return
	}
	var b buffers
	by, first := make([]halfPlane, 0, 5*len(cells)), make([]int32, 1, len(cells)+1) // sides of all cells, and where each one's begin
	for i := range cells {
		by = halfPlanes(by, cells[i].on)
		first = append(first, int32(len(by)))
	}
	for f := range o.facets {
		t := &o.facets[f]
		for _, i := range find.within(t.lo, t.hi) {
			if c := &cells[i]; c.meets(t) {
				if part := b.clip(t.on, by[first[i]:first[i+1]]); vector.Area(part) > tiny {
					do(f, int(i), part)
				}
			}
		}
	}
}

// shortfall returns, for each of n sources, how much the envelope lacks at most above the base where its water goes to that source [m].
func (o *overlay) shortfall(env *envelope, n int, thickness float64) []float64 {
	out := make([]float64, n)
	o.each(newFinder(env.cells), env.cells, func(f, c int, part domain.Polygon) {
		p, b := &env.planes[env.cells[c].plane], &o.planes[f]
		for _, q := range part {
			out[p.root] = math.Max(out[p.root], b.at(q)+thickness-p.at(q))
		}
	})
	return out
}

// measure fills in the volumes and thicknesses of a design over its base, exact integrals of linear functions over polygons.
func (o *overlay) measure(d *Design) {
	d.Fill = Fill{Thinnest: math.Inf(1), Thickest: math.Inf(-1)}
	for i := range d.Facets {
		d.Facets[i].Thinnest, d.Facets[i].Thickest = math.Inf(1), math.Inf(-1)
	}
	o.each(d.find, d.cells, func(f, c int, part domain.Polygon) {
		p, b, on := &d.planes[d.cells[c].plane], &o.planes[f], &d.Facets[d.facet[c]]
		if on.Existing {
			return
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, q := range part {
			t := p.at(q) - b.at(q)
			low, high = math.Min(low, t), math.Max(high, t)
			if t > d.Fill.Thickest {
				d.Fill.Thickest, d.Fill.At = t, q
			}
		}
		on.Thinnest, on.Thickest = math.Min(on.Thinnest, low), math.Max(on.Thickest, high)
		d.Fill.Area += vector.Area(part)
		over, under := part, domain.Polygon(nil)
		if low < 0 {
			over, under = split(part, vector.Minus(p.g, b.g), p.c-b.c)
		}
		fill, cut := between(p, b, over), -between(p, b, under)
		on.Fill += fill - cut
		d.Fill.Volume += fill
		d.Fill.Cut += cut
	})
	for i := range d.Facets {
		d.Fill.Thinnest = math.Min(d.Fill.Thinnest, d.Facets[i].Thinnest)
	}
}

// between returns the volume under p and above b over a convex polygon.
func between(p, b *plane, on domain.Polygon) float64 {
	sum := 0.0
	for k := 1; k+1 < len(on); k++ {
		a := vector.Cross(vector.Minus(on[k], on[0]), vector.Minus(on[k+1], on[0])) / 2
		h := p.at(on[0]) - b.at(on[0]) + p.at(on[k]) - b.at(on[k]) + p.at(on[k+1]) - b.at(on[k+1])
		sum += float64(a * h / 3)
	}
	return sum
}

// finder lists cells by place.
type finder struct {
	b     *bins
	cells []cell
	seen  []int32
	query int32
	out   []int32
}

func newFinder(cells []cell) *finder {
	corners := make([]orb.Point, 0, 2*len(cells))
	for i := range cells {
		corners = append(corners, cells[i].lo, cells[i].hi)
	}
	b := squaresOver(corners)
	f := &finder{b: b, cells: cells, seen: make([]int32, len(cells))}
	count, all := make([]int32, len(b.in)), 0
	for i := range cells {
		f.squares(cells[i].lo, cells[i].hi, func(k int) { count[k]++; all++ })
	}
	room := make([]int32, all)
	for k, n := range count {
		b.in[k], room = room[:0:n], room[n:]
	}
	for i := range cells {
		f.squares(cells[i].lo, cells[i].hi, func(k int) { b.in[k] = append(b.in[k], int32(i)) })
	}
	return f
}

func (f *finder) squares(lo, hi orb.Point, do func(k int)) {
	for r := f.b.row(lo[1]); r <= f.b.row(hi[1]); r++ {
		for c := f.b.column(lo[0]); c <= f.b.column(hi[0]); c++ {
			do(c + f.b.nx*r)
		}
	}
}

// within returns the cells whose squares meet a box, each once. The next call uses the list again.
func (f *finder) within(lo, hi orb.Point) []int32 {
	f.query++
	f.out = f.out[:0]
	f.squares(lo, hi, func(k int) {
		for _, i := range f.b.in[k] {
			if f.seen[i] != f.query {
				f.seen[i] = f.query
				f.out = append(f.out, i)
			}
		}
	})
	return f.out
}

// at returns the cell that holds q, else the nearest of those in its square within a millimetre, -1 for none.
func (f *finder) at(q orb.Point) int {
	best, off := -1, -1e-3
	for _, i := range f.b.in[f.b.column(q[0])+f.b.nx*f.b.row(q[1])] {
		if in := inside(f.cells[i].on, q); in > off {
			best, off = int(i), in
		}
	}
	return best
}

// inside returns the distance of q to the nearest side line of a convex polygon, negative outside.
func inside(p domain.Polygon, q orb.Point) float64 {
	in := math.Inf(1)
	for i, a := range p {
		d := vector.Minus(p[(i+1)%len(p)], a)
		if l := vector.Length(d); l > 0 {
			in = math.Min(in, vector.Cross(d, vector.Minus(q, a))/l)
		}
	}
	return in
}

// Height returns the elevation of the design at q [m]; ok is false off the roof. Where parts of the roof touch in a point only, at
// the corner of a curb, it is the higher one.
func (d *Design) Height(q orb.Point) (z float64, ok bool) {
	c := d.find.at(q)
	if c < 0 {
		return 0, false
	}
	z = d.planes[d.cells[c].plane].at(q)
	for _, i := range d.find.within(q, q) {
		if inside(d.cells[i].on, q) > -join {
			z = math.Max(z, d.planes[d.cells[i].plane].at(q))
		}
	}
	return z, true
}

// FacetAt returns the facet that holds q, -1 off the roof.
func (d *Design) FacetAt(q orb.Point) int {
	if c := d.find.at(q); c >= 0 {
		return int(d.facet[c])
	}
	return -1
}
