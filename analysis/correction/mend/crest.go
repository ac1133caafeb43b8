package mend

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/vector"
)

// crest is the straight line over which a pond spills all along: the edge of a step, the top of an arch.
type crest struct {
	at         orb.Point // on the line, where across is 0
	up, across orb.Point // unit vectors: square to the line, uphill on the pond's side; along it
	z, e       float64   // level of the line: z + e*across, as high as its highest place [m]
	rough      float64   // how far its lowest place stands below that [m]
	lo, hi     float64   // as far as the pond goes along across [m]
	deep       float64   // and along up [m]
}

// on returns the place s up from the line and t along it.
func (c *crest) on(s, t float64) orb.Point {
	return orb.Point{c.at[0] + float64(s*c.up[0]) + float64(t*c.across[0]), c.at[1] + float64(s*c.up[1]) + float64(t*c.across[1])}
}

// How a crest is read: rows so far apart, places on them, and how far beyond the water its top is looked for [m]; how far off a straight line its places may lie, and
// how far they may stand below its highest [m]. Own choice.
const (
	crestRows  = 0.25
	crestStep  = 0.05
	crestReach = 0.6
	crestBow   = 0.3
	crestRough = 0.012
)

// crestOf reads the line over which a pond spills, beyond the water against the uphill direction u; ok is false where it is not straight or not even.
func (d *Designer) crestOf(p *Pond, u orb.Point) (c crest, ok bool) {
	v := orb.Point{-u[1], u[0]}
	lo, hi := extents(p.Place, p.lip, u, v)
	var tops []orb.Point
	var levels []float64
	at := func(s, t float64) orb.Point {
		return orb.Point{p.lip[0] + float64(s*u[0]) + float64(t*v[0]), p.lip[1] + float64(s*u[1]) + float64(t*v[1])}
	}
	for t := lo[1] + crestRows/2; t < hi[1]; t += crestRows {
		s := lo[0]
		for s < hi[0] && !planar.MultiPolygonContains(p.Place, at(s, t)) {
			s += crestStep
		}
		if s >= hi[0] {
			continue
		}
		z, top := math.Inf(-1), orb.Point{}
		for back := 0.0; back < crestReach; back += crestStep {
			q := at(s-back, t)
			if h, on := d.Locate.HeightAt(q[0], q[1]); on && h > z {
				z, top = h, q
			}
		}
		tops, levels = append(tops, top), append(levels, z)
	}
	const few = 4
	if len(tops) < few {
		return c, false
	}
	return lined(tops, levels, u, p.Place)
}

// extents returns the least and the greatest of an area along two directions from a place.
func extents(area orb.MultiPolygon, from, u, v orb.Point) (lo, hi orb.Point) {
	lo, hi = orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for _, poly := range area {
		for _, q := range poly[0] {
			w := orb.Point{q[0] - from[0], q[1] - from[1]}
			s, t := vector.Dot(w, u), vector.Dot(w, v)
			lo = orb.Point{math.Min(lo[0], s), math.Min(lo[1], t)}
			hi = orb.Point{math.Max(hi[0], s), math.Max(hi[1], t)}
		}
	}
	return lo, hi
}

// lined lays the straight line through the places of a crest, as high as its highest; u points uphill.
func lined(tops []orb.Point, levels []float64, u orb.Point, place orb.MultiPolygon) (c crest, ok bool) {
	v := orb.Point{-u[1], u[0]}
	s, t := make([]float64, len(tops)), make([]float64, len(tops))
	first := tops[0]
	for i, q := range tops {
		w := orb.Point{q[0] - first[0], q[1] - first[1]}
		s[i], t[i] = vector.Dot(w, u), vector.Dot(w, v)
	}
	a, b := fitted(t, s)
	l := math.Sqrt(1 + float64(b*b))
	c.across = orb.Point{(v[0] + float64(b*u[0])) / l, (v[1] + float64(b*u[1])) / l}
	c.up = orb.Point{c.across[1], -c.across[0]}
	c.at = orb.Point{first[0] + float64(a*u[0]), first[1] + float64(a*u[1])}
	for i, q := range tops {
		w := orb.Point{q[0] - c.at[0], q[1] - c.at[1]}
		if math.Abs(vector.Dot(w, c.up)) > crestBow {
			return c, false
		}
		t[i] = vector.Dot(w, c.across)
	}
	c.z, c.e = fitted(t, levels)
	high, low := 0.0, 0.0
	for i := range tops {
		off := levels[i] - c.z - float64(c.e*t[i])
		high, low = math.Max(high, off), math.Min(low, off)
	}
	c.z, c.rough = c.z+high, high-low
	least, most := extents(place, c.at, c.up, c.across)
	c.lo, c.hi, c.deep = least[1], most[1], most[0]
	return c, c.rough <= crestRough && c.deep > 0
}

// fitted returns the straight line y = a + b*x through points, by least squares.
func fitted(x, y []float64) (a, b float64) {
	n := float64(len(x))
	mx, my := 0.0, 0.0
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	xx, xy := 0.0, 0.0
	for i := range x {
		xx += float64((x[i] - mx) * (x[i] - mx))
		xy += float64((x[i] - mx) * (y[i] - my))
	}
	if xx > 0 {
		b = xy / xx
	}
	return my - float64(b*mx), b
}
