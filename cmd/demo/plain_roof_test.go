package demo

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
)

// besideCurb is how far off a curb's faces the rod is held where nobody can hold it on the curb [m].
const besideCurb = 0.1

// Plain returns the roof that Random draws from seed, surveyed by somebody who codes nothing: a plain grid of the given pitch [m] along the walls, a
// spot at every outlet, and round curbs one beside each point of their rings; neither the outline nor the curbs have elevations. The elevations
// have errors of sigma [m], which the survey states; with exact they have none.
func Plain(seed uint64, pitch, sigma float64, exact bool) *Roof {
	s, m, f := invent(seed)
	f.points, f.corner, f.sigma = "", false, true
	m.pitch, m.sigma, m.inset = pitch, sigma, 0
	c := newCrew(s, m)
	if exact {
		c.sigma = 0
	}
	for _, k := range s.curbs {
		ring := gather.Each(k.ring, func(p orb.Point) shot { return shot{p, math.NaN()} })
		c.curbs = append(c.curbs, ring)
		c.beside(k.ring)
	}
	for _, o := range s.outlets {
		if !o.overflow {
			c.spots = append(c.spots, c.shoot(o.at))
		}
	}
	bound := orb.MultiPoint(s.outline).Bound()
	for y := bound.Min[1] + pitch*c.random.Float64(); y < bound.Max[1]; y += pitch {
		for x := bound.Min[0] + pitch*c.random.Float64(); x < bound.Max[0]; x += pitch {
			if p := (orb.Point{x, y}); c.clearOf(p, besideCurb) {
				c.spots = append(c.spots, c.shoot(p))
			}
		}
	}
	return &Roof{survey: c.survey, method: m, format: f}
}

// beside shoots a spot outside every point of a curb's ring, which runs counter-clockwise.
func (c *crew) beside(ring []orb.Point) {
	n := len(ring)
	for i, p := range ring {
		a, b := ring[(i+n-1)%n], ring[(i+1)%n]
		u, v := outward(a, p), outward(p, b)
		l := math.Hypot(u[0]+v[0], u[1]+v[1])
		out := orb.Point{p[0] + besideCurb*(u[0]+v[0])/l, p[1] + besideCurb*(u[1]+v[1])/l}
		if c.clearOf(out, besideCurb/2) {
			c.spots = append(c.spots, c.shoot(out))
		}
	}
}

// outward is the unit vector to the right of the way from a to b.
func outward(a, b orb.Point) orb.Point {
	l := distance(a, b)
	return orb.Point{(b[1] - a[1]) / l, (a[0] - b[0]) / l}
}

// clearOf reports whether the rod can be held at p and walls and curbs are at least so far off.
func (c *crew) clearOf(p orb.Point, least float64) bool {
	if !c.onRoof(p) || offsetOf(p, closed(c.site.outline)) < least {
		return false
	}
	return !slices.ContainsFunc(c.site.curbs, func(k curb) bool { return offsetOf(p, closed(k.ring)) < least })
}
