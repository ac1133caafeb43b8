package taper

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper/domain"
)

// Alteration changes an existing surface in places: it is lowered to planes where they lie below it and raised to planes
// where they lie above, so that new always meets old flush.
type Alteration struct {
	domain *domain.Domain
	base   Base
	over   *overlay
	env    *envelope
	cut    bool // planes were laid over facets of the base: its own facets no longer tell the whole
	laid   []*Courses
}

// Alter returns the base as it is, to be changed.
func Alter(d *domain.Domain, base Base) *Alteration {
	o := base.overlay()
	a := &Alteration{domain: d, base: base, over: o, env: &envelope{}}
	for f, c := range o.facets {
		p := o.planes[f]
		p.root, p.old, p.origin = -1, true, c.on[0]
		a.env.planes = append(a.env.planes, p)
		c.base = f
		a.env.cells = append(a.env.cells, c)
	}
	return a
}

// Patch is a plane through Z at Plan with an uphill gradient, over a convex area On, counter-clockwise and not closed.
type Patch struct {
	On     []orb.Point
	Plan   orb.Point
	Z      float64
	DX, DY float64
}

func (p *Patch) piece() piece {
	g := orb.Point{p.DX, p.DY}
	return piece{plane{c: p.Z - vector.Dot(g, p.Plan), g: g, origin: p.Plan, root: -1}, p.On}
}

// Set moves the base's vertices to elevations z, one for each [m]: facets with a moved corner are new. It comes before every other change.
func (a *Alteration) Set(z []float64) {
	for f := range a.over.facets {
		for k := range 3 {
			if v := a.base.TIN.V[3*f+k]; math.Abs(z[v]-a.base.Z[v]) > same {
				p := a.over.planeOf(f, z)
				p.root, p.moved, p.origin = -1, true, a.env.planes[f].origin
				a.env.planes[f] = p
				break
			}
		}
	}
}

// Lower cuts the surface down to a patch where that lies below it.
func (a *Alteration) Lower(patches ...Patch) {
	a.cut = a.cut || len(patches) > 0
	for i := range patches {
		p := patches[i].piece()
		a.env.insert(&p)
	}
}

// Raise fills the surface up to a patch where that lies above it.
func (a *Alteration) Raise(patches ...Patch) {
	a.cut = a.cut || len(patches) > 0
	a.env.turn()
	for i := range patches {
		p := patches[i].piece()
		p.c, p.g = -p.c, vector.Scaled(p.g, -1)
		a.env.insert(&p)
	}
	a.env.turn()
}

// turn mirrors all planes in level 0.
func (e *envelope) turn() {
	for i := range e.planes {
		e.planes[i].c, e.planes[i].g = -e.planes[i].c, vector.Scaled(e.planes[i].g, -1)
	}
}

// LowerTo cuts the surface down to the planes that rise from sources at p's slope, each no farther from its source than reach [m] in
// the gauge; 0: no bound.
func (a *Alteration) LowerTo(p *Problem, reach float64) {
	a.cut = true
	q := *p
	q.snap()
	top := gather.Each(q.Sources, func(s Source) float64 { return s.Z })
	for _, c := range q.pieces(top) {
		if reach > 0 {
			c.on, _ = split(c.on, vector.Scaled(c.g, -1), top[c.root]+float64(q.Slope*reach)-c.c)
		}
		c.root = -1
		if vector.Area(c.on) > tiny {
			a.env.insert(&c)
		}
	}
}

// Sump cuts the surface down round p's sources: level at the source's elevation as far as flat, from there rising at p's slope as far as
// reach, both measured in the gauge [m].
func (a *Alteration) Sump(p *Problem, flat, reach float64) {
	a.cut = true
	q := *p
	q.snap()
	top := gather.Each(q.Sources, func(s Source) float64 { return s.Z - float64(q.Slope*flat) })
	for _, c := range q.pieces(top) {
		z := q.Sources[c.root].Z
		on, _ := split(c.on, vector.Scaled(c.g, -1), z+float64(q.Slope*(reach-flat))-c.c)
		if vector.Area(on) <= tiny {
			continue
		}
		rising, ring := split(on, c.g, c.c-z)
		c.root = -1
		if vector.Area(rising) > tiny {
			side := c
			side.on = rising
			a.env.insert(&side)
		}
		if vector.Area(ring) > tiny {
			level := piece{plane{c: z, origin: c.origin, root: -1}, ring}
			a.env.insert(&level)
		}
	}
}

// Design returns the surface as altered.
func (a *Alteration) Design() *Design {
	d := &Design{mesh: !a.cut}
	env := &envelope{planes: append([]plane(nil), a.env.planes...), cells: append([]cell(nil), a.env.cells...)}
	env.trim()
	d.finish(env, a.over, a.domain)
	a.stocked(d)
	return d
}

// CutLines returns the lines in which new meets old, joined; closed where they close.
func (d *Design) CutLines() []orb.LineString {
	var sides [][2]int // vertices, new on the left
	for _, l := range d.Lines {
		switch left, right := d.Facets[l.Left].Existing, d.Facets[l.Right].Existing; {
		case !left && right:
			sides = append(sides, [2]int{l.A, l.B})
		case left && !right:
			sides = append(sides, [2]int{l.B, l.A})
		}
	}
	from, ends := map[int][]int{}, map[int]bool{}
	for i, s := range sides {
		from[s[0]] = append(from[s[0]], i)
		ends[s[1]] = true
	}
	used := make([]bool, len(sides))
	var out []orb.LineString
	for _, open := range []bool{true, false} {
		for i, s := range sides {
			if !used[i] && (!open || !ends[s[0]]) {
				out = append(out, thinned(d.walk(sides, from, used, i)))
			}
		}
	}
	return out
}

// walk follows unused sides from side i on.
func (d *Design) walk(sides [][2]int, from map[int][]int, used []bool, i int) orb.LineString {
	line := orb.LineString{d.Vertices[sides[i][0]].Plan}
	for i >= 0 {
		used[i] = true
		end := sides[i][1]
		line = append(line, d.Vertices[end].Plan)
		i = -1
		for _, k := range from[end] {
			if !used[k] {
				i = k
				break
			}
		}
	}
	return line
}

// thinned returns line without points that lie on the straight line through their neighbours.
func thinned(line orb.LineString) orb.LineString {
	out := bare(line, join)
	if n := len(out); n > 3 && out[0] == out[n-1] && domain.OffLine(out[0], out[n-2], out[1]) <= join {
		out = append(out[1:n-1], out[1])
	}
	return out
}
