package taper

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/taper/domain"
)

// plane is z = c + g·x.
type plane struct {
	c      float64
	g      orb.Point
	origin orb.Point // what it rises from
	root   int       // index into Problem.Sources, -1 none
	old    bool      // of the surface as it was
	moved  bool      // of the surface as it was, with corners moved
	laid   int       // of a section of stock boards: its number from 1 on, else 0
}

func (p *plane) at(x orb.Point) float64 { return p.c + float64(p.g[0]*x[0]) + float64(p.g[1]*x[1]) }

// rising returns the plane that has elevation z at p and rises by s*n.
func rising(p orb.Point, z, s float64, n orb.Point, root int) plane {
	g := vector.Scaled(n, s)
	return plane{c: z - vector.Dot(g, p), g: g, origin: p, root: root}
}

// piece is a plane over a convex part of the roof.
type piece struct {
	plane
	on domain.Polygon
}

// origin is a place from which cones rise: a source's or a corner's, with its elevation.
//
// Of a corner only the way that bends there matters: what lies between the straight continuation of the shortest way to it and the
// border's next side. All else is reached as short without it.
type origin struct {
	plan  orb.Point
	z     float64
	far   float64 // length of the way to a corner, to choose among ways of one fall
	root  int
	bend  [2]orb.Point // sector of a corner, from the first direction counter-clockwise to the second
	whole bool         // of a source: all round
	edge  int          // of a corner: the side that starts there
	prev  int          // and the one that ends there
}

// origins returns the places of all point sources, the ends of line sources and the corners that ways bend round, by elevation, each
// with the least elevation that a way from a source gives it.
func (p *Problem) origins(top []float64) []origin {
	var out []origin
	for i, s := range p.Sources {
		if s.Line == nil {
			out = append(out, origin{plan: s.Plan, z: top[i], root: i, whole: true})
			continue
		}
		for _, q := range s.Line {
			out = append(out, origin{plan: q, z: top[i], root: i, whole: true})
		}
	}
	open := p.bends(top)
	for i := range out {
		p.relax(open, &out[i])
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
		if o.bend != ([2]orb.Point{}) {
			out = append(out, o)
			p.relax(open, &o)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].z < out[j].z })
	return out
}

// bends returns the corners, with what lines reach them straight.
func (p *Problem) bends(top []float64) []origin {
	open := make([]origin, len(p.Domain.Corners))
	for i, c := range p.Domain.Corners {
		o := &open[i]
		*o = origin{plan: p.Domain.Edges[c].A, z: math.Inf(1), far: math.Inf(1), root: -1, edge: c, prev: p.Domain.Before[c]}
		for k, s := range p.Sources {
			if far, foot := p.square(s.Line, o.plan); !math.IsInf(far, 1) {
				p.reach(o, foot, top[k]+float64(p.Slope*far), far, k)
			}
		}
	}
	return open
}

// relax lowers what o sees.
func (p *Problem) relax(open []origin, o *origin) {
	for i := range open {
		d := vector.Minus(open[i].plan, o.plan)
		if z := o.z + float64(p.Slope*p.Gauge.N(d)); z <= open[i].z+evenly && p.Domain.Sees(o.plan, open[i].plan) {
			p.reach(&open[i], o.plan, z, o.far+vector.Length(d), o.root)
		}
	}
}

// evenly is the difference of elevation below which two ways fall alike [m].
const evenly = 1e-9

// reach takes a way to corner o that ends straight from a place, if it is lower than the one known, or as low and shorter.
func (p *Problem) reach(o *origin, from orb.Point, z, far float64, root int) {
	if z > o.z+evenly || z >= o.z-evenly && far >= o.far {
		return
	}
	o.z, o.far, o.root = z, far, root
	o.bend = [2]orb.Point{}
	d := vector.Minus(o.plan, from)
	if vector.Length(d) <= domain.Touch {
		return
	}
	d = vector.Unit(d)
	f, g := vector.Unit(vector.Minus(p.Domain.Edges[o.edge].B, o.plan)), vector.Unit(vector.Minus(p.Domain.Edges[o.prev].A, o.plan))
	const wider = 1e-3 // so that rounding leaves no gap
	left, right := vector.Cross(d, f) >= -wider && vector.Cross(d, g) >= -wider, vector.Cross(d, f) <= wider && vector.Cross(d, g) <= wider
	switch n := vector.Scaled(vector.Quarter(d, 1), wider); {
	case left:
		o.bend = [2]orb.Point{vector.Minus(d, n), g}
	case right:
		o.bend = [2]orb.Point{f, vector.Plus(d, n)}
	}
}

// square returns the distance of q from a line of the border, square to one of its pieces and in sight, and the foot; else infinity.
func (p *Problem) square(line orb.LineString, q orb.Point) (best float64, foot orb.Point) {
	best = math.Inf(1)
	for i := 1; i < len(line); i++ {
		u := vector.Unit(vector.Minus(line[i], line[i-1]))
		t, far := vector.Dot(u, vector.Minus(q, line[i-1])), vector.Cross(u, vector.Minus(q, line[i-1]))
		if t < 0 || t > vector.Length(vector.Minus(line[i], line[i-1])) || far < 0 || far >= best {
			continue
		}
		if at := vector.Plus(line[i-1], vector.Scaled(u, t)); p.Domain.Sees(at, q) {
			best, foot = far, at
		}
	}
	return best, foot
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
		for _, fan := range p.Domain.From(o.plan) {
			part := o.within(fan)
			for j, m := range p.Gauge.Normals {
				if j != k && len(part) > 0 {
					d := vector.Minus(n, m)
					part, _ = split(part, d, -vector.Dot(d, o.plan))
				}
			}
			if vector.Area(part) > tiny {
				out = append(out, piece{pl, part})
			}
		}
	}
	return out
}

// within returns what of a fan round o lies in o's sector.
func (o *origin) within(fan domain.Polygon) domain.Polygon {
	if o.whole {
		return fan
	}
	n, m := vector.Quarter(o.bend[0], 1), vector.Quarter(o.bend[1], 3)
	fan, _ = split(fan, n, -vector.Dot(n, o.plan))
	if len(fan) > 0 {
		fan, _ = split(fan, m, -vector.Dot(m, o.plan))
	}
	return fan
}

// strips returns the plane that rises square to a straight piece of the border from a to b, over all that the piece sees square to itself.
func (p *Problem) strips(a, b orb.Point, z float64, root int) []piece {
	u := vector.Unit(vector.Minus(b, a))
	n := vector.Quarter(u, 1)
	l := vector.Length(vector.Minus(b, a))
	cuts := []float64{0, l}
	for _, e := range p.Domain.Edges {
		if t := vector.Dot(u, vector.Minus(e.A, a)); t > domain.Touch && t < l-domain.Touch && vector.Cross(u, vector.Minus(e.A, a)) > domain.Touch {
			cuts = append(cuts, t)
		}
	}
	sort.Float64s(cuts)
	pl := rising(a, z, p.Slope, n, root)
	var out []piece
	for i := 1; i < len(cuts); i++ {
		s, t := vector.Plus(a, vector.Scaled(u, cuts[i-1])), vector.Plus(a, vector.Scaled(u, cuts[i]))
		e, _ := p.Domain.Hit(vector.Plus(a, vector.Scaled(u, (cuts[i-1]+cuts[i])/2)), n)
		if e < 0 {
			continue
		}
		q, _ := domain.Meet(t, n, p.Domain.Edges[e]) // at a sharp corner where it stands
		r, _ := domain.Meet(s, n, p.Domain.Edges[e])
		if part := (domain.Polygon{s, t, q, r}); vector.Area(part) > tiny {
			out = append(out, piece{pl, part})
		}
	}
	return out
}
