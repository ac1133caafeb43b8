package taper

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
	"runnel/analysis/taper/domain"
)

// Laying is one layout of stock boards over a base: the sections in which they lie, each of one direction, and the base cut along the
// sections' borders. Tapers and starts are tried on it; the boards of one section are one plane of thickness whatever the base is like.
//
// The new surface is base + leveller + boards. The boards' thickness is start + taper*N(o, x), N(o, x) the gauge's length of the
// shortest way to the outlet: what a crew lays course by course on the roof as it is. Leveller lies only where the surface would
// else fall less than asked on its way to an outlet.
type Laying struct {
	p        Problem
	along    orb.Point // of a section beyond a cut line: unit vector along which its courses are counted; else 0
	sections *Design   // of unit, over level ground
	unit     []plane   // per section
	base     Base      // p.Base on the mesh
	of       []int32   // per facet of the mesh: the facet of p.Base.TIN it lies in
	section  []int32   // per facet of the mesh
	far      []float64
	star     [][]int32 // per vertex of the mesh: the facets round it
	points   *bins     // of the mesh's vertices
	at       []orb.Point
}

// drawn is the slope at which the sections are drawn [rise/run]: tolerances of drawing are those of a design.
const drawn = 1.0 / 48

// Lay draws the layout of p's gauge over its sources and cuts the base by it. Slope and thickness of p do not count. It fails where p has no source or
// gauge, a base of another length than its TIN, or where a part of the roof is cut off from every source.
func Lay(p *Problem) (*Laying, error) {
	q := *p
	q.Slope, q.Thickness = drawn, 0
	if err := q.check(); err != nil {
		return nil, err
	}
	s := &Solution{Problem: q}
	s.snap()
	s.top = make([]float64, len(s.Sources))
	if err := s.fold(); err != nil {
		return nil, err
	}
	l := &Laying{p: s.Problem, sections: &Design{Gauge: q.Gauge, Slope: drawn}}
	draw(l.sections, s.env)
	l.cut(s.env)
	return l, nil
}

// On returns l for use with another domain of the same roof, beside l itself: what they share stays as it is.
func (l *Laying) On(d *domain.Domain) *Laying {
	own := *l
	own.p.Domain = d
	return &own
}

// cut cuts the base by the sections' borders.
func (l *Laying) cut(env *envelope) {
	l.unit = make([]plane, len(l.sections.Facets))
	for i := range env.cells {
		l.unit[l.sections.facet[i]] = env.planes[env.cells[i].plane]
	}
	parts := l.parts(env)
	w := weld(parts)
	l.at = append([]orb.Point(nil), w.at...)
	t := &surface.TIN{}
	over := l.p.Base.overlay()
	l.far, t.Z = make([]float64, len(w.at)), make([]float64, len(w.at))
	facet := func(c int32, v ...int32) {
		if vector.Area(domain.Polygon{l.at[v[0]], l.at[v[1]], l.at[v[2]]}) <= tiny { // what merged corners leave
			return
		}
		t.V = append(t.V, v...)
		l.of = append(l.of, int32(parts[c].base))
		l.section = append(l.section, int32(parts[c].plane))
	}
	for first := 0; first < len(w.edges); {
		c, last := w.edges[first].cell, first
		var loop []int32
		for ; last < len(w.edges) && w.edges[last].cell == c; last++ {
			loop = append(loop, w.edges[last].a)
		}
		first = last
		loop = unspurred(loop)
		up, old := &l.unit[parts[c].plane], &over.planes[parts[c].base]
		for _, v := range loop {
			l.far[v], t.Z[v] = up.at(l.at[v])/drawn, old.at(l.at[v])
		}
		switch {
		case len(loop) < 3:
		case len(loop) == 3:
			facet(c, loop...)
		default: // corners may stand on a side: from the middle no facet is without area
			m := domain.Middle(parts[c].on)
			v := int32(len(l.at))
			l.at, l.far, t.Z = append(l.at, m), append(l.far, up.at(m)/drawn), append(t.Z, old.at(m))
			for k := range loop {
				facet(c, loop[k], loop[(k+1)%len(loop)], v)
			}
		}
	}
	t.X, t.Y = coordinates(l.at)
	l.base = Base{TIN: t, Z: t.Z}
	l.base.over = newOverlay(&l.base)
	l.points, l.star = newBins(l.at), starOf(t)
}

// parts returns the facets of the base, each cut where sections meet: one that lies in one section stays whole, however many cells draw that.
func (l *Laying) parts(env *envelope) []cell {
	over := l.p.Base.overlay()
	var out []cell
	first := 0 // of the parts of the present facet
	whole := func() {
		if len(out)-first < 2 {
			return
		}
		sum := 0.0
		for i := first; i < len(out); i++ {
			if out[i].plane != out[first].plane {
				return
			}
			sum += vector.Area(out[i].on)
		}
		f := out[first].base
		if on := over.facets[f].on; math.Abs(sum-vector.Area(on)) <= tiny*float64(len(out)-first+1) {
			part := newCell(on, out[first].plane)
			part.base = f
			out = append(out[:first], part)
		}
	}
	over.each(newFinder(env.cells), env.cells, func(f, c int, on domain.Polygon) {
		if len(out) > first && out[first].base != f {
			whole()
			first = len(out)
		}
		part := newCell(append(domain.Polygon(nil), on...), int(l.sections.facet[c]))
		part.base = f
		out = append(out, part) // slivers too: without them the mesh would have cracks
	})
	whole()
	return out
}

// coordinates returns the coordinates of places, x and y apart.
func coordinates(at []orb.Point) (x, y []float64) {
	for _, p := range at {
		x, y = append(x, p[0]), append(y, p[1])
	}
	return x, y
}

// unspurred returns a loop without spurs: ways to a corner and straight back, where a cell is thinner than corners are merged.
func unspurred(loop []int32) []int32 {
	for i := 0; i < len(loop) && len(loop) > 2; {
		n := len(loop)
		if a, b := loop[(i+n-1)%n], loop[(i+1)%n]; a == b || a == loop[i] {
			loop = slices.Delete(loop, i, i+1)
			i = max(0, i-2)
			continue
		}
		i++
	}
	return loop
}

// Courses is what is laid on a Laying: boards of one taper from a start on, over leveller.
type Courses struct {
	Start  float64 // thickness of the boards at the outlets [m]
	Taper  float64 // of the boards [rise/run]
	Fall   float64 // that the surface is to have at least on its way, in the gauge [rise/run]
	Within float64 // low places that lack no more than this are left as they are [m]
	Step   float64 // by which flat boards come that fill what is deeper, leveller over them; 0: leveller alone [m]
	Board  float64 // area of one of them: over less than half of it no step is laid [m2]

	l    *Laying
	top  []float64 // per vertex of the mesh: of the new surface
	lift []float64 // per vertex: leveller
}

// Leveller is what fills low places under the tapered boards.
type Leveller struct {
	Volume  float64   // in all [m3]
	Area    float64   // plan area [m2]
	Deepest float64   // [m]
	At      orb.Point // where it is
	Places  []LowPlace
	Bands   []Band  // of it flat boards, thinnest first
	Poured  float64 // the rest, leveller proper [m3]
	Within  float64 // low places that lack no more are left as they are [m]
}

// LowPlace is a patch that is levelled.
type LowPlace struct {
	Outline orb.Polygon
	Area    float64   // [m2]
	Volume  float64   // [m3]
	Deepest float64   // [m]
	At      orb.Point // where it is
}

// Band is where flat boards of one thickness fill low places, cut to the line on which the low place is that deep.
type Band struct {
	Thickness float64          // [m]
	Area      float64          // [m2]
	Edges     []orb.LineString // where boards of it or of thicker ones end, as far as they have no other side: in pieces
}

// Try works out what leveller courses need. It fails where a part of the roof has no way to an outlet.
func (l *Laying) Try(c Courses) (*Courses, error) {
	c.l = l
	boards := make([]float64, len(l.far))
	for v, n := range l.far {
		boards[v] = l.base.Z[v] + c.Start + float64(c.Taper*n)
	}
	p := l.p
	p.Base, p.Slope, p.Thickness = Base{TIN: l.base.TIN, Z: boards}, c.Fall, 0
	c.top = cleared(&p, l.seeds(), l.star)
	c.lift = make([]float64, len(boards))
	for _, v := range l.base.TIN.V {
		if math.IsInf(c.top[v], 1) {
			return nil, errCutOff
		}
		c.lift[v] = c.top[v] - boards[v]
	}
	c.even()
	for v := range c.top {
		c.top[v] = boards[v] + c.lift[v]
	}
	return &c, nil
}

// seeds are the mesh's vertices at which the sources stand.
func (l *Laying) seeds() []Seed {
	var out []Seed
	for _, s := range l.p.Sources {
		best, far := int32(-1), math.Inf(1)
		for v, p := range l.at {
			switch {
			case len(l.star[v]) == 0: // of a cell that was thinner than corners are merged
			case s.Line != nil:
				if onLine(p, s.Line) {
					out = append(out, Seed{int32(v), s.Z})
				}
			case vector.Length(vector.Minus(p, s.Plan)) < far:
				best, far = int32(v), vector.Length(vector.Minus(p, s.Plan))
			}
		}
		if best >= 0 {
			out = append(out, Seed{best, s.Z})
		}
	}
	return out
}

// even leaves out the leveller of low places that hang together and lack no more than Within.
func (c *Courses) even() {
	t, star := c.l.base.TIN, c.l.star
	seen := make([]bool, len(c.lift))
	for v := range c.lift {
		if c.lift[v] < 1e-5 {
			c.lift[v] = 0
		}
	}
	for v := range c.lift {
		if seen[v] || c.lift[v] == 0 {
			continue
		}
		seen[v] = true
		list, most := []int32{int32(v)}, 0.0
		for i := 0; i < len(list); i++ {
			most = math.Max(most, c.lift[list[i]])
			for _, f := range star[list[i]] {
				for _, w := range t.V[3*f : 3*f+3] {
					if !seen[w] && c.lift[w] > 0 {
						seen[w] = true
						list = append(list, w)
					}
				}
			}
		}
		if most <= c.Within {
			for _, w := range list {
				c.lift[w] = 0
			}
		}
	}
}

// Volume returns what is laid, boards and leveller [m3].
func (c *Courses) Volume() float64 {
	t, sum := c.l.base.TIN, 0.0
	for f := range t.Facets() {
		h := 0.0
		for _, v := range t.V[3*f : 3*f+3] {
			h += c.top[v] - c.l.base.Z[v]
		}
		sum += float64(vector.Area(c.l.base.over.facets[f].on) * h / 3)
	}
	return sum
}

// Run is how much a part of the new surface falls.
type Run struct {
	Area  float64 // [m2]
	Slope float64 // of its mean plane [rise/run]
}

// Runs returns the falls of the new surface over each part in which one section lies on one plane of the base; plane numbers the planes by
// facet of the base, below 0 where a facet has none.
func (c *Courses) Runs(plane func(facet int32) int32) []Run {
	type key struct{ section, plane int32 }
	at := map[key]int{}
	var sums []orb.Point
	var out []Run
	t, over := c.l.base.TIN, c.l.base.over
	for f := range over.facets {
		k := key{c.l.section[f], plane(c.l.of[f])}
		if k.plane < 0 {
			continue
		}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out, sums = append(out, Run{}), append(sums, orb.Point{})
		}
		a := vector.Area(over.facets[f].on)
		out[i].Area += a
		sums[i] = vector.Plus(sums[i], vector.Scaled(gradient(over.facets[f].on, c.top, t.V[3*f:3*f+3]), a))
	}
	for i := range out {
		out[i].Slope = vector.Length(sums[i]) / out[i].Area
	}
	return out
}
