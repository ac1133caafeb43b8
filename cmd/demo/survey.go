package demo

import (
	"math"
	"math/rand/v2"
	"sort"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/gather"
)

// method is how a site was surveyed and in what its files are written.
type method struct {
	pitch float64 // of the rows and along them [m]
	sigma float64 // standard deviation of an elevation [m]
	seed  uint64
	inset float64 // the rod stands this far off walls, as its foot does not fit closer [m]
}

// shot is one place at which the rod was held: where, in the site's own frame, and the elevation booked.
type shot struct {
	at orb.Point
	z  float64
}

// survey is what the surveyor brings back.
type survey struct {
	site  *site
	walls []shot   // along the outline, corners included
	curbs [][]shot // along each curb
	folds [][]shot // along each breakline
	kinds []string // of each breakline
	spots []shot   // the rest
}

// Distances that a surveyor keeps [m].
const (
	same     = 0.04  // closer shots are one shot
	onto     = 0.001 // what lies no farther off a line lies on it
	near     = 0.25  // no second shot closer than this along a line
	clear    = 0.5   // rows keep off lines and other shots
	wallStep = 3.0   // along walls
)

// crew is a survey under way.
type crew struct {
	*survey
	method
	random *rand.Rand
	taken  []shot
}

func newCrew(s *site, m method) *crew {
	return &crew{survey: &survey{site: s}, method: m, random: rand.New(rand.NewPCG(m.seed, 0x72756e6e656c))}
}

// measure surveys a site: walls, curbs, breaklines, the places worth a shot, then rows over the rest.
func measure(s *site, m method) *survey {
	c := newCrew(s, m)
	for _, l := range s.laid {
		s.crossFolds(l)
	}
	for _, k := range s.curbs {
		c.curbs = append(c.curbs, gather.Each(k.ring, c.shoot))
	}
	for _, f := range s.folds {
		if line := c.line(f); len(line) > 1 {
			c.folds = append(c.folds, line)
			c.kinds = append(c.kinds, f.kind)
		}
	}
	for _, p := range s.shots {
		if _, ok := c.held(p, 0.2*near); !ok && c.onRoof(p) {
			c.spots = append(c.spots, c.shoot(p))
		}
	}
	c.outline()
	c.rows()
	return c.survey
}

// shoot holds the rod at p, or returns the shot already held there.
func (c *crew) shoot(p orb.Point) shot {
	if s, ok := c.held(p, same); ok {
		return s
	}
	s := shot{at: p, z: c.site.base + c.site.relief(p) + c.sigma*c.random.NormFloat64()}
	c.taken = append(c.taken, s)
	return s
}

func (c *crew) held(p orb.Point, reach float64) (shot, bool) {
	for _, s := range c.taken {
		if distance(s.at, p) <= reach {
			return s, true
		}
	}
	return shot{}, false
}

// line shoots a breakline: its corners, and places between them no more than its step apart unless
// something was shot close by.
func (c *crew) line(f fold) []shot {
	shots := []shot{c.shoot(f.path[0])}
	for i := 1; i < len(f.path); i++ {
		a, b := f.path[i-1], f.path[i]
		n := max(1, int(math.Ceil(distance(a, b)/f.step)))
		for j := 1; j < n; j++ {
			p := between(a, b, (float64(j)+0.3*(c.random.Float64()-0.5))/float64(n))
			if _, ok := c.held(p, near); !ok {
				shots = append(shots, c.shoot(p))
			}
		}
		shots = append(shots, c.shoot(b))
	}
	return shots
}

// outline shoots the corners and the base of the walls between them, and whatever lies on the outline.
func (c *crew) outline() {
	n := len(c.site.outline)
	for i, a := range c.site.outline {
		before, b := c.site.outline[(i+n-1)%n], c.site.outline[(i+1)%n]
		corner, ok := c.held(a, math.Max(same, 2*c.inset))
		if !ok {
			corner = c.shoot(c.off(c.off(a, before, a), a, b))
		}
		c.walls = append(c.walls, corner)
		stretch := c.wall(a, b)
		sort.Slice(stretch, func(i, j int) bool { return distance(a, stretch[i].at) < distance(a, stretch[j].at) })
		c.walls = append(c.walls, stretch...)
	}
}

// wall returns the shots along the wall from a to b, without its ends: those held for other reasons, and
// new ones where these leave more than a step.
func (c *crew) wall(a, b orb.Point) []shot {
	var stretch []shot
	length := distance(a, b)
	for _, s := range c.taken {
		if d := distance(a, s.at); offset(s.at, a, b) <= onto && d > same && d < length-same {
			stretch = append(stretch, s)
		}
	}
	steps := max(1, int(math.Round(length/wallStep)))
	for j := 1; j < steps; j++ {
		p := between(a, b, (float64(j)+0.3*(c.random.Float64()-0.5))/float64(steps))
		if _, ok := c.held(p, 3*near); !ok {
			stretch = append(stretch, c.shoot(c.off(p, a, b)))
		}
	}
	return stretch
}

// off moves p off the wall from a to b by the inset; at a gutter or a free edge nothing is in the rod's way.
func (c *crew) off(p, a, b orb.Point) orb.Point {
	for _, e := range c.site.edges {
		if e.kind != "wall" && offset(between(a, b, 0.5), e.a, e.b) <= onto {
			return p
		}
	}
	l := distance(a, b)
	return orb.Point{p[0] - c.inset*(b[1]-a[1])/l, p[1] + c.inset*(b[0]-a[0])/l}
}

// rows walks the roof in irregular rows.
func (c *crew) rows() {
	bound := orb.MultiPoint(c.site.outline).Bound()
	for y := bound.Min[1] + c.pitch*(0.4+0.3*c.random.Float64()); y < bound.Max[1]; y += c.pitch * (0.8 + 0.45*c.random.Float64()) {
		for x := bound.Min[0] + c.pitch*(0.3+0.5*c.random.Float64()); x < bound.Max[0]; x += c.pitch * (0.8 + 0.5*c.random.Float64()) {
			p := orb.Point{x, y + 0.3*c.pitch*(c.random.Float64()-0.5)}
			if c.open(p) {
				c.spots = append(c.spots, c.shoot(p))
			}
		}
	}
}

// onRoof reports whether the rod can be held at p.
func (c *crew) onRoof(p orb.Point) bool {
	ring := closed(c.site.outline)
	if !planar.RingContains(ring, p) && offsetOf(p, ring) > onto {
		return false
	}
	for _, k := range c.site.curbs {
		if r := closed(k.ring); planar.RingContains(r, p) && offsetOf(p, r) > onto {
			return false
		}
	}
	return true
}

// open reports whether p is on the roof and clear of all that was shot on purpose.
func (c *crew) open(p orb.Point) bool {
	if !planar.RingContains(closed(c.site.outline), p) || offsetOf(p, closed(c.site.outline)) < clear {
		return false
	}
	for _, k := range c.site.curbs {
		if r := closed(k.ring); planar.RingContains(r, p) || offsetOf(p, r) < clear {
			return false
		}
	}
	for _, k := range c.site.keep {
		if planar.RingContains(k, p) {
			return false
		}
	}
	for _, f := range c.site.folds {
		if offsetOf(p, f.path) < clear {
			return false
		}
	}
	_, ok := c.held(p, 2*clear)
	return !ok
}

// offsetOf is the distance of p from a line.
func offsetOf(p orb.Point, line []orb.Point) float64 {
	least := math.Inf(1)
	for i := 1; i < len(line); i++ {
		least = math.Min(least, offset(p, line[i-1], line[i]))
	}
	return least
}
