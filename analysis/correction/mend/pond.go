package mend

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/cause"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// Pond is a listed pond as the options need it.
type Pond struct {
	ID      string
	index   int       // into Designer.Ponds
	Pit     orb.Point // its lowest place
	low     float64   // elevation there
	level   float64
	lip     orb.Point // where it spills; its lowest place where an outlet holds it
	Held    int       // index into Surface.Outlets of the outlet whose inlet holds it, -1 none
	Depth   float64
	size    float64 // plan area [m2]
	Outlet  int     // index into Surface.Outlets that it should drain to, -1 none
	pits    []orb.Point
	lows    []float64
	causes  []cause.Candidate
	Finding finding.Kind // leading cause
	Sags    bool         // it is bent down like a dish, and no engineer has answered that the deck is sound
	Place   orb.MultiPolygon
}

func (d *Designer) pond(id string, index int32, c *cause.Diagnosis) Pond {
	p := &d.Study.Ponds.Ponds[index]
	out := Pond{
		ID: id, level: p.Level, Held: int(p.HeldBy), Depth: p.Depth, size: p.Area, Outlet: int(c.Outlet), causes: c.Causes, Finding: c.Causes[0].Kind, Place: d.Study.Ponds.Outline(index),
	}
	t := d.Surface.Cut
	for _, v := range p.Pits {
		out.pits = append(out.pits, orb.Point{t.X[v], t.Y[v]})
		out.lows = append(out.lows, t.Z[v])
	}
	out.Pit, out.low = out.pits[0], out.lows[0]
	out.Sags = out.Finding == finding.Dish && !d.Study.Roof.Sound(out.Pit, out.Place)
	out.lip = out.Pit
	if p.Lip >= 0 {
		out.lip = orb.Point{t.X[p.Lip], t.Y[p.Lip]}
	}
	if out.Outlet < 0 || d.Surface.Outlets[out.Outlet].Duty == roof.Overflow {
		out.Outlet = d.nearest(out.Pit)
	}
	return out
}

// has reports whether one of the causes of p that fit is of a kind.
func (p *Pond) has(k finding.Kind) bool {
	return slices.ContainsFunc(p.causes, func(c cause.Candidate) bool { return c.Kind == k })
}

// Covers reports whether q lies in the pond as found, or within a step of its lowest place.
func (p *Pond) Covers(q orb.Point) bool {
	const step = 1.0 // [m]
	return planar.MultiPolygonContains(p.Place, q) || vector.DistanceSquared(q, p.Pit) < step*step
}

// nearest returns the primary outlet nearest to q in the four-way gauge, those in sight first; -1 where there is none.
func (d *Designer) nearest(q orb.Point) int {
	g := d.FourWay()
	best, far, seen := -1, math.Inf(1), false
	for _, s := range d.Sources {
		at := s.Plan
		if s.Line != nil {
			at = vector.Nearest(s.Line, q)
		}
		n, sees := g.N(orb.Point{q[0] - at[0], q[1] - at[1]}), d.Domain.Sees(at, q)
		if sees && !seen || sees == seen && n < far {
			best, far, seen = s.Outlet, n, sees
		}
	}
	return best
}

// Problem is the design problem over a base with given sources.
func (d *Designer) Problem(base taper.Base, sources []taper.Source, g domain.Gauge, slope, thickness float64) *taper.Problem {
	return &taper.Problem{Domain: d.Domain, Base: base, Sources: sources, Gauge: g, Slope: slope, Thickness: thickness}
}

// FourWay measures distances to outlets as water runs them on a roof that falls four ways.
func (d *Designer) FourWay() domain.Gauge { return domain.FourWay(d.Domain.Axis) }

// Designed stands for a file where what a design adds has its origin.
const Designed = "design"

// Folded returns r with the folds that nobody coded and that were found on its surface t as breaklines: a design keeps them, whatever spots it adds.
func Folded(r *roof.Roof, t *surface.TIN) *roof.Roof {
	n := *r
	n.Breaklines = slices.Clip(r.Breaklines)
	at := func(v int32) roof.Position {
		return roof.Position{Plan: orb.Point{t.X[v], t.Y[v]}, Z: t.Z[v], HasZ: true}
	}
	for e := range t.V {
		if t.Flag[e]&surface.FoldEdge == 0 || t.Twin[e] >= 0 && t.Twin[e] < int32(e) {
			continue
		}
		b := roof.Breakline{Line: []roof.Position{at(t.V[e]), at(t.V[surface.Next(int32(e))])}}
		b.ID = fmt.Sprintf("found-%d", len(n.Breaklines)-len(r.Breaklines)+1)
		b.Origin = roof.Origin{File: Designed, Feature: e + 1, ID: b.ID}
		n.Breaklines = append(n.Breaklines, b)
	}
	return &n
}

// neighbours returns for every vertex of t those that an edge joins it with.
func neighbours(t *surface.TIN) [][]int32 {
	out := make([][]int32, len(t.X))
	for e := range t.V {
		a, b := t.V[e], t.V[surface.Next(int32(e))]
		out[a] = append(out[a], b)
		if t.Twin[e] < 0 {
			out[b] = append(out[b], a)
		}
	}
	return out
}
