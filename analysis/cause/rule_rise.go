package cause

import (
	"math"

	"runnel/analysis/finding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// riseBefore: ground rises between the pond and its outlet, and falls again beyond.
//
// Physical reason: plies lapped at a flange, a lip of a scupper, a hump of an extra layer make a narrow dam.
// It rises over a foot or a few, stands above the ground on both its sides, and is near the outlet that the
// water was meant for. Long straight dams are ridgeOnLine, ground that stays high beyond is step, and long
// rises are the bending of the roof: the score falls with the length of the rise.
func riseBefore(v *view) (Candidate, bool) {
	c, gap := &v.crest, v.gap()
	if v.p.HeldBy >= 0 && !v.overflowHolds() || !c.ok || v.lipOnEdge() {
		return Candidate{}, false
	}
	beyond := v.fallBeyond()
	near := 0.6 + float64(0.4*ramp(gap, 12, 3))
	score := 0.9 * ramp(c.rise, longRise, shortRise) * ramp(beyond/v.depth, 0, 0.5) * near * v.resolved(v.depth)
	score *= ramp(c.hump, 0.25, 0.5)
	score *= 1 - float64(0.5*v.straightDam())
	out := Candidate{
		Score: score,
		Facts: []finding.Quantity{
			finding.MM("rise above the pond's lowest point", v.depth), finding.MM("fall beyond the rise", beyond),
			finding.Metres("length of the rise", c.rise), finding.Metres("from the rise to the outlet", gap),
		},
	}
	out.Why = finding.Say("Between the pond and the outlet the roof rises {0} over {1}, then falls {2} again. The rise is {3} from the outlet.",
		finding.MM("rise above the pond's lowest point", v.depth), finding.Metres("length of the rise", c.rise),
		finding.MM("fall beyond the rise", beyond), finding.Metres("from the rise to the outlet", gap))
	out.Measure = finding.Say("Take levels every {0} from the pond to the outlet. Lay a straightedge over the rise and feel for laps or an extra layer.",
		finding.Metres("spacing", rings[0]))
	return out, true
}

// overflowHolds reports whether the outlet at whose invert the water stands is an overflow.
func (v *view) overflowHolds() bool {
	return v.p.HeldBy >= 0 && v.s.Outlets[v.p.HeldBy].Duty == roof.Overflow
}

// fallBeyond returns how far the way falls from its lip to its end, the outlet's invert counted.
func (v *view) fallBeyond() float64 {
	w := &v.way
	top := v.t.Z[w.v[w.lip]]
	end := v.t.Z[w.v[len(w.v)-1]]
	for _, u := range w.v[w.lip:] {
		end = math.Min(end, v.t.Z[u])
	}
	return top - end
}

// lipOnEdge reports whether the way's lip lies on an open edge: the edge itself is the dam.
func (v *view) lipOnEdge() bool {
	o := v.sink[v.way.v[v.way.lip]]
	return v.edgeOutlet(o)
}

// edgeHigh: the roof rises to the edge over which water should leave.
//
// Physical reason: edge blocking, a gravel stop or a tapered edge strip left high is a rise in the last 1 to
// 3 ft before a gutter or free edge, along the edge. At a scupper the same is seen along the wall: the
// ground rises to the wall beside the scupper as it does at it; a rise at the scupper alone is riseBefore.
func edgeHigh(v *view) (Candidate, bool) {
	if v.outlet < 0 || !v.crest.ok || v.p.HeldBy >= 0 && !v.overflowHolds() {
		return Candidate{}, false
	}
	out := &v.s.Outlets[v.outlet]
	var share float64
	switch out.Type {
	case roof.EdgeOutlet:
		share = ramp(v.gap(), longRise, shortRise/2)
	case roof.Scupper:
		share = v.wallRises(out) * ramp(v.gap(), longRise, shortRise/2)
	case roof.Drain:
		return Candidate{}, false
	}
	back := v.backFrom(out)
	c := Candidate{
		Score: 0.95 * share * ramp(back, 2*longRise, longRise) * v.resolved(v.depth),
		Facts: []finding.Quantity{
			finding.MM("rise to the edge", v.depth), finding.Metres("lowest water from the edge", back),
		},
	}
	c.Why = finding.Say("The roof runs towards the edge, then rises {0} over the last {1} before it.",
		finding.MM("rise to the edge", v.depth), finding.Metres("lowest water from the edge", back))
	c.Measure = finding.Say("Take levels square to the edge every {0} as far as {1}, at three places along the pond. Look for edge blocking or a gravel stop.",
		finding.Metres("spacing", rings[0]), finding.Metres("reach", longRise))
	return c, true
}

// backFrom returns the distance of the deepest water from an outlet's edge, or from the line of the wall that
// a scupper stands in.
func (v *view) backFrom(out *surface.Outlet) float64 {
	best := math.Inf(1)
	for _, e := range out.Edges {
		a, b := v.t.V[e], v.t.V[surface.Next(e)]
		p, q := [2]float64{v.t.X[a], v.t.Y[a]}, [2]float64{v.t.X[b], v.t.Y[b]}
		if out.Type == roof.Scupper { // the wall goes on beyond the scupper
			along := unit([2]float64{q[0] - p[0], q[1] - p[1]})
			best = math.Min(best, math.Abs(float64((v.t.X[v.deep]-p[0])*along[1])-float64((v.t.Y[v.deep]-p[1])*along[0])))
			continue
		}
		d, _ := apart(v.t.X[v.deep], v.t.Y[v.deep], p, q)
		best = math.Min(best, d)
	}
	return best
}

// wallRises returns the share of places along the wall within 6 ft of a scupper at which the roof rises to
// the wall over its last 3 ft by more than half the pond's depth.
func (v *view) wallRises(out *surface.Outlet) float64 {
	if len(out.Edges) == 0 {
		return 0
	}
	e := out.Edges[0]
	a, b := v.t.V[e], v.t.V[surface.Next(e)]
	along := unit([2]float64{v.t.X[b] - v.t.X[a], v.t.Y[b] - v.t.Y[a]})
	in := [2]float64{-along[1], along[0]}
	v.probe.start(a)
	n, high := 0, 0
	for k := -6; k <= 6; k++ {
		d := float64(k) * longRise / 6
		if math.Abs(d) < rings[1] { // the scupper's own foot
			continue
		}
		x, y := out.Plan[0]+float64(along[0]*d), out.Plan[1]+float64(along[1]*d)
		wall, okW := v.probe.height(x+float64(in[0]*0.02), y+float64(in[1]*0.02))
		field, okF := v.probe.height(x+float64(in[0]*shortRise), y+float64(in[1]*shortRise))
		if !okW || !okF {
			continue
		}
		n++
		if wall-field > v.depth/2 {
			high++
		}
	}
	if n < 3 {
		return 0
	}
	return ramp(float64(high)/float64(n), 0.3, 0.7)
}
