package taper

import (
	"math"
	"sort"

	"github.com/paulmach/orb"
)

// plane is z = c + g·x.
type plane struct {
	c      float64
	g      orb.Point
	origin orb.Point // what it rises from
	root   int       // index into Problem.Sources
}

func (p *plane) at(x orb.Point) float64 { return p.c + float64(p.g[0]*x[0]) + float64(p.g[1]*x[1]) }

// rising returns the plane that has elevation z at p and rises by s*n.
func rising(p orb.Point, z, s float64, n orb.Point, root int) plane {
	g := scaled(n, s)
	return plane{c: z - dot(g, p), g: g, origin: p, root: root}
}

// piece is a plane over a convex part of the roof.
type piece struct {
	plane
	on polygon
}

// origin is a place from which cones rise: a source's or a corner's, with its elevation.
type origin struct {
	plan orb.Point
	z    float64
	root int
}

// origins returns the places of all point sources, the ends of line sources and the corners that ways bend round, by elevation, each
// with the least elevation that a way from a source gives it.
func (p *Problem) origins(top []float64) []origin {
	var out []origin
	for i, s := range p.Sources {
		if s.Line == nil {
			out = append(out, origin{s.Plan, top[i], i})
			continue
		}
		for _, q := range s.Line {
			out = append(out, origin{q, top[i], i})
		}
	}
	open := make([]origin, len(p.Domain.corners))
	for i, c := range p.Domain.corners {
		open[i] = origin{p.Domain.edges[c].a, math.Inf(1), -1}
		for k, s := range p.Sources {
			if s.Line != nil {
				p.lower(&open[i], p.square(s.Line, open[i].plan), top[k], k)
			}
		}
	}
	for _, o := range out {
		p.relax(open, o)
	}
	for len(open) > 0 {
		best := 0
		for i := range open {
			if open[i].z < open[best].z {
				best = i
			}
		}
		o := open[best]
		if o.root < 0 {
			break
		}
		open = append(open[:best], open[best+1:]...)
		out = append(out, o)
		p.relax(open, o)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].z < out[j].z })
	return out
}

// relax lowers what o sees.
func (p *Problem) relax(open []origin, o origin) {
	for i := range open {
		if z := o.z + float64(p.Slope*p.Gauge.N(sub(open[i].plan, o.plan))); z < open[i].z && p.Domain.sees(o.plan, open[i].plan) {
			open[i].z, open[i].root = z, o.root
		}
	}
}

func (p *Problem) lower(o *origin, far, top float64, root int) {
	if z := top + float64(p.Slope*far); z < o.z {
		o.z, o.root = z, root
	}
}

// square returns the distance of q from a line of the border, square to one of its pieces and in sight, else infinity.
func (p *Problem) square(line orb.LineString, q orb.Point) float64 {
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		u := unit(sub(line[i], line[i-1]))
		t, far := dot(u, sub(q, line[i-1])), cross(u, sub(q, line[i-1]))
		if t < 0 || t > length(sub(line[i], line[i-1])) || far < 0 || far >= best {
			continue
		}
		if p.Domain.sees(add(line[i-1], scaled(u, t)), q) {
			best = far
		}
	}
	return best
}

// pieces returns the planes that rise from all origins and lines, over the parts of the roof that they reach straight.
func (p *Problem) pieces(top []float64) []piece {
	var out []piece
	for i, s := range p.Sources {
		for k := 1; k < len(s.Line); k++ {
			out = append(out, p.strips(s.Line[k-1], s.Line[k], top[i], i)...)
		}
	}
	for _, o := range p.origins(top) {
		out = append(out, p.cone(o)...)
	}
	return out
}

// cone returns the planes that rise from o: each triangle that o sees, cut by the gauge's directions.
func (p *Problem) cone(o origin) []piece {
	var out []piece
	for k, n := range p.Gauge.Normals {
		pl := rising(o.plan, o.z, p.Slope, n, o.root)
		for _, fan := range p.Domain.from(o.plan).fans {
			part := fan
			for j, m := range p.Gauge.Normals {
				if j != k && len(part) > 0 {
					d := sub(n, m)
					part, _ = split(part, d, -dot(d, o.plan))
				}
			}
			if area(part) > tiny {
				out = append(out, piece{pl, part})
			}
		}
	}
	return out
}

// strips returns the plane that rises square to a straight piece of the border from a to b, over all that the piece sees square to itself.
func (p *Problem) strips(a, b orb.Point, z float64, root int) []piece {
	u := unit(sub(b, a))
	n := quarter(u, 1)
	l := length(sub(b, a))
	cuts := []float64{0, l}
	for _, e := range p.Domain.edges {
		if t := dot(u, sub(e.a, a)); t > touch && t < l-touch && cross(u, sub(e.a, a)) > touch {
			cuts = append(cuts, t)
		}
	}
	sort.Float64s(cuts)
	pl := rising(a, z, p.Slope, n, root)
	var out []piece
	for i := 1; i < len(cuts); i++ {
		s, t := add(a, scaled(u, cuts[i-1])), add(a, scaled(u, cuts[i]))
		e, _ := p.Domain.hit(add(a, scaled(u, (cuts[i-1]+cuts[i])/2)), n)
		if e < 0 {
			continue
		}
		q, ok := meet(t, n, p.Domain.edges[e])
		r, ok2 := meet(s, n, p.Domain.edges[e])
		if part := (polygon{s, t, q, r}); ok && ok2 && area(part) > tiny {
			out = append(out, piece{pl, part})
		}
	}
	return out
}
