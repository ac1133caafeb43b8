package demo

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
)

// edgeHigh leaves the last 0.9 m before the edge at y = 0 rising to it.
func (s *shed) edgeHigh(depth float64) {
	const width = 0.9
	height := depth + s.slope*width
	s.raise(func(p orb.Point) float64 { return height * math.Max(0, 1-p[1]/width) })
	s.fold("grade-break", orb.Point{0, width}, orb.Point{s.width, width})
	s.keep = append(s.keep, box(0, 0, s.width, width+0.4))
	s.faults = append(s.faults, Fault{
		Kind: finding.EdgeHigh, What: "the roof rises to its edge over the last 0.9 m",
		Place: orb.Point{s.width / 2, width}, Depth: depth,
		Area: box(-0.5, -0.5, s.width+0.5, width+depth/s.slope+1),
	})
}

// step leaves all below the line y = at higher than all above it, as thicker boards do.
func (s *shed) step(at, depth float64) {
	const width = 0.15
	height := depth + s.slope*width
	s.raise(func(p orb.Point) float64 { return height * math.Min(1, math.Max(0, (at-p[1])/width)) })
	s.fold("grade-break", orb.Point{0, at}, orb.Point{s.width, at})
	s.fold("grade-break", orb.Point{0, at - width}, orb.Point{s.width, at - width})
	s.keep = append(s.keep, box(0, at-0.5, s.width, at+0.4))
	s.faults = append(s.faults, Fault{
		Kind: finding.Step, What: "the roof steps up on a line across its fall",
		Place: orb.Point{s.width / 2, at}, Depth: depth,
		Area: box(-0.5, at-1, s.width+0.5, at+depth/s.slope+1),
	})
}

// camber leaves the spans from y = at, n of them of the given length, arched between their supports.
func (s *shed) camber(at, span float64, n int, depth float64) {
	rise := camberRise(s.slope, span, depth)
	top := at + float64(n)*span
	s.raise(func(p orb.Point) float64 {
		if p[1] <= at || p[1] >= top {
			return 0
		}
		_, u := math.Modf((p[1] - at) / span)
		return 4 * rise * u * (1 - u)
	})
	crest := span / 2 * (1 + s.slope*span/(4*rise))
	for i := range n {
		y := at + float64(i)*span
		for _, t := range []float64{0, 0.25 * span, 0.5 * span, crest, 0.5 * (crest + span), span} {
			s.strip(orb.Point{0, y + t}, orb.Point{s.width, y + t}, 1.6)
		}
		s.faults = append(s.faults, Fault{
			Kind: finding.Camber, What: "the span is arched, so that water stands along its upper support",
			Place: orb.Point{s.width / 2, y + span}, Depth: depth,
			Area: box(-0.5, y-0.5, s.width+0.5, y+span+depth/s.slope+0.5), Brings: []finding.Kind{finding.PlaneFlat},
		})
	}
	s.keep = append(s.keep, box(0, at-0.5, s.width, top+0.5))
}

// sunkUnit sets a curb with no cricket behind it, whose weight has pressed the roof down along its upper side, and returns by how much.
func (s *shed) sunkUnit(label string, p orb.Point, w, d, depth float64) relief {
	const reach = 1.5
	x0, x1, y := p[0], p[0]+w, p[1]+d
	m := p[0] + w/2
	s.curbs = append(s.curbs, curb{
		ring:   []orb.Point{p, {x1, p[1]}, {x1, y}, {m + w/4, y}, {m, y}, {m - w/4, y}, {x0, y}},
		height: curbHeight, label: label,
	})
	sunk := pressed(m, y, w/2, reach, depth)
	s.raise(func(q orb.Point) float64 { return -sunk(q) })
	s.shoot(orb.Point{m, y + 0.5*reach}, orb.Point{m, y + reach}, orb.Point{x0, y + reach}, orb.Point{x1, y + reach},
		orb.Point{x0, y + 0.5*reach}, orb.Point{x1, y + 0.5*reach})
	s.keep = append(s.keep, box(x0-0.5, p[1]-0.5, x1+0.5, y+reach+0.3))
	s.faults = append(s.faults, Fault{
		Kind: finding.CricketMissing, What: "no cricket behind " + label + ", and the roof is pressed down there",
		Place: orb.Point{m, y}, Depth: depth, Area: box(x0-1, y-0.2, x1+1, y+reach+0.5),
		Brings: []finding.Kind{finding.PlaneFlat},
	})
	return sunk
}

// pressed is how far the roof is pressed down above y, most at x, half each way and reach up the slope.
func pressed(x, y, half, reach, depth float64) relief {
	return func(q orb.Point) float64 {
		if q[1] < y {
			return 0
		}
		across := math.Max(0, 1-math.Abs(q[0]-x)/half)
		return depth * across * math.Max(0, 1-(q[1]-y)/reach)
	}
}

// flatPlane gives the lower part of the shed, up to y = at, another slope.
func (s *shed) flatPlane(at, slope float64) {
	lost := s.slope - slope
	s.raise(func(p orb.Point) float64 { return lost * math.Max(0, at-p[1]) })
	s.fold("grade-break", orb.Point{0, at}, orb.Point{s.width, at})
	s.faults = append(s.faults, Fault{
		Kind: finding.PlaneFlat, What: "the lower part of the plane has less slope than the criterion",
		Place: orb.Point{s.width / 2, at / 2}, Slope: slope, Area: box(-0.5, -0.5, s.width+0.5, at+1),
	})
}
