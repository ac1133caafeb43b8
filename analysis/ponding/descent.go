package ponding

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// descent follows water that runs over the surface from a vertex: straight down each facet, along valleys
// and walls, over a level area to its nearest way down.
type descent struct {
	ps    *Ponds
	dry   bool // run on to a pit: ponds are empty
	edges bool // keep to edges; set when rounding leads a path astray
	steps int
	seen  []int32 // per vertex: stamp of the level search that saw it
	stamp int32
	near  nearest
}

// outcome is where water ended: exactly one field is not -1. pit is given only when dry.
type outcome struct{ pond, outlet, pit int32 }

func intoOutlet(o int32) (outcome, bool) { return outcome{-1, o, -1}, true }

func newDescent(ps *Ponds) *descent { return &descent{ps: ps, seen: make([]int32, len(ps.z))} }

// spillOf returns the pond and the outlet that pond i spills to, -1 for none.
func (d *descent) spillOf(i int32) (pond, outlet int32) {
	p := &d.ps.Ponds[i]
	if p.Undrained {
		return -1, -1
	}
	if p.HeldBy >= 0 {
		return -1, p.HeldBy
	}
	end := d.spill(p.Lip, func(y int32) bool {
		q := d.ps.Of[y]
		return q < 0 || d.ps.before(q, i)
	})
	return end.pond, end.outlet
}

// before reports whether pond a found its way out before pond b.
func (ps *Ponds) before(a, b int32) bool {
	p, q := &ps.Tree[ps.Ponds[a].node], &ps.Tree[ps.Ponds[b].node]
	return p.Level < q.Level || p.Level == q.Level && p.turn < q.turn
}

// spill follows water that stands at the level of vertex v and leaves towards lower vertices that allowed
// accepts; farther on it runs freely.
func (d *descent) spill(v int32, allowed func(int32) bool) outcome {
	return d.run(at(v), true, allowed)
}

func anywhere(int32) bool { return true }

func (d *descent) run(from arrival, standing bool, allowed func(int32) bool) outcome {
	d.steps, d.edges = 4*len(d.ps.t.V)+64, false
	for {
		exit, end, done := d.leave(from, standing, allowed)
		if done {
			return end
		}
		if from, end, done = d.follow(exit); done {
			return end
		}
		standing, allowed = false, anywhere
	}
}

// way leads from a vertex down to vertex to or, when to is -1, across the facet of half-edge e, which
// starts at the vertex.
type way struct {
	from, to, e int32
	slope       float64
	unit        orb.Point // its direction, in the pose of the roof
}

// before orders ways: steeper first; of equally steep ones (within what rounding does) by
// direction, x first, in the pose of the roof.
func (w way) before(o way) bool {
	const sameSlope, sameDirection = 1e-12, 1e-9
	switch {
	case w.slope > float64(o.slope*(1+sameSlope)):
		return true
	case o.slope > float64(w.slope*(1+sameSlope)):
		return false
	case math.Abs(w.unit[0]-o.unit[0]) > sameDirection:
		return w.unit[0] < o.unit[0]
	}
	return w.unit[1] < o.unit[1]
}

// leave finds the way down from a vertex or, along the edges of the level area it is part of, from the
// nearest vertex that has one.
func (d *descent) leave(from arrival, standing bool, allowed func(int32) bool) (way, outcome, bool) {
	ps, v := d.ps, from[0].v
	if !standing && !d.dry && ps.Of[v] >= 0 {
		return way{}, outcome{ps.Of[v], -1, -1}, true
	}
	d.stamp++
	pit := v
	d.near.list, d.near.t = d.near.list[:0], ps.t
	d.near.push(from[0])
	d.near.push(from[1])
	for len(d.near.list) > 0 {
		s := d.near.pop()
		if d.seen[s.v] == d.stamp {
			continue
		}
		d.seen[s.v] = d.stamp
		if o := d.outletAt(s.v, standing); o >= 0 {
			end, done := intoOutlet(o)
			return way{}, end, done
		}
		if w, found := d.steepest(s.v, allowed); found {
			return w, outcome{}, false
		}
		pit = min(pit, s.v)
		for _, y := range ps.star.neighbours(s.v) {
			if ps.z[y] == ps.z[v] && d.seen[y] != d.stamp {
				d.near.push(step{s.far + nanometres(d.distance(s.v, y)), y})
			}
		}
	}
	if d.dry {
		return way{}, outcome{-1, -1, pit}, true
	}
	return way{}, outcome{ps.OfPit[pit], -1, -1}, true
}

// outletAt returns the outlet that takes water at vertex x, or -1: one in which paths end or, for water
// that stands there, any at or below it.
func (d *descent) outletAt(x int32, standing bool) int32 {
	for _, p := range d.ps.sinks.outletsAt(x) {
		if d.ps.sinks.dry[p.outlet] || standing && d.ps.sinks.level[p.outlet] <= d.ps.z[x] {
			return p.outlet
		}
	}
	return -1
}

// steepest returns the steepest way down from x: along an edge, or inside a facet.
func (d *descent) steepest(x int32, allowed func(int32) bool) (way, bool) {
	t, z := d.ps.t, d.ps.z
	best := way{from: x, to: -1}
	try := func(y int32) {
		if z[y] >= z[x] || !allowed(y) {
			return
		}
		u, l := d.to(x, y), d.distance(x, y)
		if w := (way{x, y, -1, (z[x] - z[y]) / l, t.Pose.Plan(orb.Point{u[0] / l, u[1] / l})}); best.slope == 0 || w.before(best) {
			best = w
		}
	}
	for _, e := range d.ps.star.of(x) {
		p, q := t.V[surface.Next(e)], t.V[surface.Prev(e)]
		try(p)
		if t.Twin[surface.Prev(e)] < 0 {
			try(q)
		}
		low := choose.If(z[q] < z[p], q, p)
		if d.edges || z[low] >= z[x] || !allowed(low) {
			continue
		}
		if d.inwards(e) > 0 && d.inwards(surface.Prev(e)) > 0 {
			g := d.downhill(e / 3)
			s := vector.Norm(g[0], g[1])
			if w := (way{x, -1, e, s, t.Pose.Plan(orb.Point{g[0] / s, g[1] / s})}); best.slope == 0 || w.before(best) {
				best = w
			}
		}
	}
	return best, best.slope > 0
}

func (d *descent) to(a, b int32) orb.Point {
	t := d.ps.t
	return orb.Point{t.X[b] - t.X[a], t.Y[b] - t.Y[a]}
}

func (d *descent) distance(a, b int32) float64 {
	v := d.to(a, b)
	return vector.Norm(v[0], v[1])
}

// downhill returns the direction of steepest descent on facet f, its length the slope.
func (d *descent) downhill(f int32) orb.Point {
	i, j, k := d.ps.t.V[3*f], d.ps.t.V[3*f+1], d.ps.t.V[3*f+2]
	p, q := d.to(i, j), d.to(i, k)
	zp, zq := d.ps.z[j]-d.ps.z[i], d.ps.z[k]-d.ps.z[i]
	det := vector.Cross(p, q)
	return orb.Point{(float64(zq*p[1]) - float64(zp*q[1])) / det, (float64(zp*q[0]) - float64(zq*p[0])) / det}
}
