package cause

import (
	"math"

	"runnel/analysis/geometry/vector"
)

// inTrough says how far the water stands in the low line between two sides of the roof, told by the sides alone: before the water and beyond its lip the roof rises
// to the left and to the right of one straight line through the lowest place, by the fall of planes.
//
// Physical reason: two planes that fall to each other meet in a valley, whatever the spots between them tell of it. Where it falls back over two spacings of the
// spots or less, those few spots make planes of their own and no valley is told there; a dish in one plane has no second side: beyond its lip the plane goes on, level
// square to its fall. Where the lip stands within longRise of the outlet, what is built up there may hold the water as well.
func (v *view) inTrough() float64 {
	w := &v.way
	if w.lip == 0 || v.gap() < longRise || v.p.HeldBy >= 0 {
		return 0
	}
	lip := w.v[w.lip]
	dx, dy := v.t.X[lip]-v.t.X[v.deep], v.t.Y[lip]-v.t.Y[v.deep]
	l := vector.Norm(dx, dy)
	if l == 0 {
		return 0
	}
	v.probe.start(v.deep)
	best, beyond := 0.0, math.Min(v.scale, v.gap()/2)
	for k := -troughTurns; k <= troughTurns; k++ {
		sin, cos := math.Sincos(float64(k) * troughTurn)
		u := [2]float64{(dx*cos - dy*sin) / l, (dx*sin + dy*cos) / l}
		least := 1.0
		for _, d := range [3]float64{-(v.back(u) + v.scale/2), l, l + beyond} {
			if least = math.Min(least, v.sides(u, d)); least <= best {
				break
			}
		}
		best = math.Max(best, least)
	}
	return best
}

// Lines on which a trough is looked for lie up to 40 degrees off the way from the lowest place to the lip, every 8: spots a spacing apart tell it no better.
const (
	troughTurns = 5
	troughTurn  = 8 * math.Pi / 180
)

// back returns how far the water reaches from its lowest place against direction u.
func (v *view) back(u [2]float64) float64 {
	most := 0.0
	for _, f := range v.p.Facets {
		for _, p := range v.wetRing(f, v.p.Level) {
			most = math.Max(most, float64(u[0]*(v.t.X[v.deep]-p[0]))+float64(u[1]*(v.t.Y[v.deep]-p[1])))
		}
	}
	return most
}

// sides says how far the roof rises to both sides of a line in direction u through the lowest place, so far along it: 0 where it rises by half the least slope of
// planes or less to either.
func (v *view) sides(u [2]float64, along float64) float64 {
	x, y := v.t.X[v.deep]+float64(u[0]*along), v.t.Y[v.deep]+float64(u[1]*along)
	read := func(off float64) (float64, bool) {
		return v.probe.height(x-float64(u[1]*off), y+float64(u[0]*off))
	}
	low := math.Inf(1)
	for _, off := range [3]float64{-v.scale / 2, 0, v.scale / 2} { // the line itself is known to half a spacing
		if h, ok := read(off); ok {
			low = math.Min(low, h)
		}
	}
	least := math.Inf(1)
	for _, side := range [2]float64{-1, 1} {
		rise := math.Inf(-1)
		for _, k := range [3]float64{1, 1.5, 2} {
			if h, ok := read(side * k * v.scale); ok {
				rise = math.Max(rise, (h-low-float64(2*v.noise))/(k*v.scale))
			}
		}
		least = math.Min(least, rise)
	}
	return ramp(least, v.c.MinSlope/2, v.c.MinSlope)
}
