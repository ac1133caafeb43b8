package demo

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/gather"
)

// Every function in this file makes one thing wrong on purpose: it changes the surface or an outlet as
// built, shoots what a surveyor would shoot there, and books the fault.

// outletHigh sets the rim of outlet i above the membrane, so that water stands to the rim.
func (s *site) outletHigh(i int, height float64) {
	o := &s.outlets[i]
	o.set = height
	s.shoot(circle(o.at, 0.6, 8)...)
	s.faults = append(s.faults, Fault{
		Kind: finding.OutletHigh, What: o.label + " is set above the membrane round it",
		Place: o.at, Depth: height, Area: disc(o.at, height/0.01+0.5),
	})
}

// collar builds up the membrane in a ring round drain i, as plies lapped on its flange do.
func (s *site) collar(i int, height, slope float64) {
	const radius, width = 0.8, 0.25
	c := s.outlets[i].at
	s.raise(func(p orb.Point) float64 { return height * ring(c, radius, width)(p) })
	s.shoot(circle(c, radius, 12)...)
	s.shoot(circle(c, radius+width, 12)...)
	s.shoot(circle(c, radius-width, 6)...)
	r := (radius + width) * math.Sqrt2 / 2
	s.cutFolds(c, radius+width)
	s.faults = append(s.faults, Fault{
		Kind: finding.RiseBefore, What: "the membrane is built up in a ring round " + s.outlets[i].label,
		Place: orb.Point{c[0] + r, c[1] + r}, Depth: height - slope*width*math.Sqrt2/2,
		Area: disc(c, radius+height/0.01+1),
	})
}

// mound raises the roof in a cone about drain i, as a column does that stays while the deck round it sags.
// Water leaves over the lower rim of the drain's bowl.
func (s *site) mound(i int, radius, depth, slope float64) {
	c := s.outlets[i].at
	height := (depth + slope*(radius-bowlRadius)*math.Sqrt2/2) / (1 - bowlRadius/radius)
	s.raise(func(p orb.Point) float64 { return height * cone(c, radius)(p) })
	for _, r := range []float64{0.5, 1} {
		s.shoot(circle(c, radius*r, 8)...)
	}
	r := radius * math.Sqrt2 / 2
	s.cutFolds(c, radius)
	s.faults = append(s.faults, Fault{
		Kind: finding.OutletOnHigh, What: s.outlets[i].label + " stands on a local high of the roof",
		Place: orb.Point{c[0] + r, c[1] + r}, Depth: depth, Area: disc(c, radius+depth/0.01+1),
	})
}

// line lays something straight on the roof from a to b, as thick as height: a cable, a conduit, a welded
// strip. low is the place on its uphill side where the water is deepest, slope the fall of the roof there.
func (s *site) line(a, b, low orb.Point, height, slope float64) {
	const width = 0.12
	s.raise(func(p orb.Point) float64 { return height * ribbon(a, b, width)(p) })
	s.laid = append(s.laid, laid{a, b, width})
	s.keep = append(s.keep, band(a, b, clear))
	s.faults = append(s.faults, Fault{
		Kind: finding.RidgeLine, What: "something straight lies on the roof across the flow",
		Place: low, Depth: height - slope*width, Area: band(a, b, height/0.01+1),
	})
}

// strip shoots spots along a straight line, no more than step apart.
func (s *site) strip(a, b orb.Point, step float64) {
	n := max(2, int(math.Ceil(distance(a, b)/step)))
	for j := range n + 1 {
		s.shoot(between(a, b, float64(j)/float64(n)))
	}
}

// beside returns the ends of the stretch parallel to a-b at the given distance to its left.
func beside(a, b orb.Point, left float64) []orb.Point {
	l := distance(a, b)
	nx, ny := -left*(b[1]-a[1])/l, left*(b[0]-a[0])/l
	return []orb.Point{{a[0] + nx, a[1] + ny}, {b[0] + nx, b[1] + ny}}
}

// dish lets the roof sag in a paraboloid about c, deep enough to hold a pond of the given depth on a
// plane that falls at slope towards the direction down.
func (s *site) dish(c, down orb.Point, radius, depth, slope float64) {
	sag := dishSag(slope, radius, depth)
	s.raise(func(p orb.Point) float64 { return -sag * bowl(c, radius)(p) })
	t := slope * radius * radius / (2 * sag)
	low := orb.Point{c[0] + down[0]*t, c[1] + down[1]*t}
	s.shoot(low, orb.Point{c[0] + down[0]*radius, c[1] + down[1]*radius})
	for _, r := range []float64{0.35, 0.7, 1} {
		s.shoot(circle(c, radius*r, 6+int(6*r))...)
	}
	s.keep = append(s.keep, disc(c, radius))
	s.faults = append(s.faults, Fault{
		Kind: finding.Dish, What: "the deck sags between its supports",
		Place: low, Depth: depth, Area: disc(c, radius+0.5), Brings: []finding.Kind{finding.PlaneFlat},
	})
}

// cutFolds ends every breakline at a round area: what is built there buries it.
func (s *site) cutFolds(c orb.Point, radius float64) {
	for i, f := range s.folds {
		if distance(f.path[0], c) < radius {
			s.folds[i].path = append([]orb.Point{between(f.path[0], f.path[1], (radius-distance(f.path[0], c))/distance(f.path[0], f.path[1]))}, f.path[1:]...)
		}
	}
}

// band is the area within reach of the stretch a to b.
func band(a, b orb.Point, reach float64) orb.Ring {
	l := distance(a, b)
	ux, uy := reach*(b[0]-a[0])/l, reach*(b[1]-a[1])/l
	return closed([]orb.Point{
		{a[0] - ux + uy, a[1] - uy - ux},
		{b[0] + ux + uy, b[1] + uy - ux},
		{b[0] + ux - uy, b[1] + uy + ux},
		{a[0] - ux - uy, a[1] - uy + ux},
	})
}

// crossFolds gives every breakline that runs over what was laid a shot on its top and at both its feet, and
// makes top and feet breaklines of their own that run through them.
func (s *site) crossFolds(l laid) {
	lines := [][]orb.Point{beside(l.a, l.b, l.width), beside(l.a, l.b, 0), beside(l.a, l.b, -l.width)}
	for i, f := range s.folds {
		path := []orb.Point{f.path[0]}
		for j, p := range f.path[1:] {
			q := f.path[j]
			var crossed []orb.Point
			for k, line := range lines {
				if t, ok := meet(q, p, line[0], line[1]); ok {
					crossed = append(crossed, between(q, p, t))
					lines[k] = append(lines[k], between(q, p, t))
				}
			}
			path = append(append(path, along(q, crossed)...), p)
		}
		s.folds[i].path = path
	}
	for _, line := range lines {
		s.fold("grade-break", along(line[0], line)...)
	}
}

// along sorts points by their distance from a.
func along(a orb.Point, points []orb.Point) []orb.Point {
	sort.Slice(points, func(i, j int) bool { return distance(a, points[i]) < distance(a, points[j]) })
	return points
}

// meet returns the share of the way from p to q at which that stretch crosses a to b.
func meet(p, q, a, b orb.Point) (share float64, ok bool) {
	dx, dy, ex, ey := q[0]-p[0], q[1]-p[1], b[0]-a[0], b[1]-a[1]
	cross := dx*ey - dy*ex
	if cross == 0 {
		return 0, false
	}
	t := ((a[0]-p[0])*ey - (a[1]-p[1])*ex) / cross
	u := ((a[0]-p[0])*dy - (a[1]-p[1])*dx) / cross
	return t, t > 0 && t < 1 && u >= 0 && u <= 1
}

// noOverflow takes every overflow outlet away.
func (s *site) noOverflow() bool {
	kept := gather.Where(s.outlets, func(o outlet) bool { return !o.overflow })
	s.outlets = kept
	s.faults = append(s.faults, Fault{
		Kind: finding.NoOverflow, What: "walls all round and no overflow outlet",
		Place: s.outlets[0].at, Area: closed(s.outline),
	})
	return true
}

// Faults that show only once rain is compared with the outlets, or an overflow with its primary.

// leaderSmall gives outlet i a leader of the given diameter, too small for what comes to it.
func (s *site) leaderSmall(i int, diameter float64) {
	s.outlets[i].leader = diameter
	s.rainFault(i, finding.OutletSmall, "the leader of "+s.outlets[i].label+" is too small")
}

// openingLow gives scupper i an opening so low that it runs full.
func (s *site) openingLow(i int, height float64) {
	s.outlets[i].height = height
	s.rainFault(i, finding.ScupperFull, "the opening of "+s.outlets[i].label+" is too low")
}

// overflowHigh sets overflow i far above the membrane.
func (s *site) overflowHigh(i int, height float64) {
	s.outlets[i].set = height
	s.rainFault(i, finding.OverflowHigh, s.outlets[i].label+" stands too high")
}

// rainFault books a fault of outlet i that the surface does not show.
func (s *site) rainFault(i int, kind finding.Kind, what string) {
	at := s.outlets[i].at
	s.faults = append(s.faults, Fault{Kind: kind, What: what, Place: at, Area: disc(at, 0.3)})
}
