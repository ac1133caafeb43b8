package demo

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
)

// level lays out a terrace without slope, whose surface wanders by unevenness about its mean; one drain
// at a low place near its middle, doors and walls all round, no overflow.
func level(width, depth, unevenness float64) *site {
	s := &site{edge: "wall", outline: rectangle(0, 0, width, depth)}
	s.relief = func(p orb.Point) float64 {
		return unevenness * (math.Sin(2*math.Pi*p[0]/7.3+0.4)*math.Cos(2*math.Pi*p[1]/6.1-0.3) + 0.3*math.Sin(2*math.Pi*(p[0]+p[1])/9.7))
	}
	s.drain("RD-1", s.lowestNear(orb.Point{width * 0.55, depth * 0.45}, 2))
	low := s.lowest()
	s.shoot(low)
	area := box(-0.5, -0.5, width+0.5, depth+0.5)
	s.faults = append(s.faults, Fault{
		Kind: finding.LevelArea, What: "the terrace was built without slope",
		Place: low, Depth: 1.5 * unevenness, Area: area,
		Brings: []finding.Kind{finding.PlaneFlat, finding.ValleyFlat},
	}, Fault{
		Kind: finding.NoOverflow, What: "walls all round and no overflow outlet",
		Place: s.outlets[0].at, Area: area,
	})
	return s
}

// lowest returns the lowest place of the site on a grid of quarter metres, at least 2.5 m from its drains.
func (s *site) lowest() orb.Point {
	bound := orb.MultiPoint(s.outline).Bound()
	best, least := bound.Min, math.Inf(1)
	for x := bound.Min[0] + 0.5; x < bound.Max[0]-0.4; x += 0.25 {
		for y := bound.Min[1] + 0.5; y < bound.Max[1]-0.4; y += 0.25 {
			p := orb.Point{x, y}
			away := true
			for _, o := range s.outlets {
				away = away && distance(o.at, p) > 2.5
			}
			if z := s.relief(p); away && z < least {
				best, least = p, z
			}
		}
	}
	return best
}

// lowestNear returns the lowest place on a grid of a quarter metre within reach of p.
func (s *site) lowestNear(p orb.Point, reach float64) orb.Point {
	best := p
	for dx := -reach; dx <= reach; dx += 0.25 {
		for dy := -reach; dy <= reach; dy += 0.25 {
			q := orb.Point{p[0] + dx, p[1] + dy}
			if distance(p, q) <= reach && s.relief(q) < s.relief(best) {
				best = q
			}
		}
	}
	return best
}
