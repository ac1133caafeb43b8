package taper

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/queue"
	"runnel/analysis/surface"
	"runnel/analysis/taper/domain"
)

// Clear returns the lowest elevations of a base's vertices, none lower than it is plus the thickness, such that from each vertex a
// straight way over a facet beside it falls at p.Slope in the gauge to a lower place, and so on to a source: no vertex of the surface is a
// pit. Sources stand at their elevation or the base's plus the thickness, whichever is higher, on the vertices nearest to them.
//
// It is the first-order scheme of Hopf and Lax on triangles, for any gauge (Bornemann and Rasch, "Finite-element discretization of static
// Hamilton-Jacobi equations based on a local variational principle", Computing and Visualization in Science 9, 2006; read as preprint), with the obstacle of
// the base, worked off from the lowest vertex up and again wherever a value falls. The result is an upper bound of the least surface
// and comes nearer as the mesh grows finer.
func Clear(p *Problem, seeds []Seed) []float64 { return cleared(p, seeds, starOf(p.Base.TIN)) }

// cleared is Clear with the facets round each vertex.
func cleared(p *Problem, seeds []Seed, star [][]int32) []float64 {
	c := &clearing{p: p, z: make([]float64, len(p.Base.TIN.X)), star: star}
	for v := range c.z {
		c.z[v] = math.Inf(1)
	}
	for _, s := range seeds {
		c.offer(s.Vertex, math.Max(s.Z, p.Base.Z[s.Vertex]+p.Thickness))
	}
	c.run()
	return c.z
}

// starOf returns the facets round each vertex of t.
func starOf(t *surface.TIN) [][]int32 {
	count := make([]int32, len(t.X))
	for _, v := range t.V {
		count[v]++
	}
	all := make([]int32, len(t.V))
	star := make([][]int32, len(t.X))
	for v, n := range count {
		star[v], all = all[:0:n], all[n:]
	}
	for i, v := range t.V {
		star[v] = append(star[v], int32(i/3))
	}
	return star
}

// run works the queue off.
func (c *clearing) run() {
	for len(c.queue) > 0 {
		if z, v := c.queue.Pop(); z <= c.z[v] {
			c.spread(v)
		}
	}
}

// Seed is a vertex where water leaves and the lowest elevation that it may have.
type Seed struct {
	Vertex int32
	Z      float64
}

// Seeds returns the vertices at which Clear starts: those of the facet that holds a point source's place, all that lie on a line source, no
// lower than the source. s.TIN is the base's.
func Seeds(s *surface.Surface, sources []Source) []Seed {
	t := s.TIN
	locate := surface.NewLocator(t)
	var out []Seed
	for _, o := range sources {
		if o.Line != nil {
			for v := range t.X {
				if onLine(orb.Point{t.X[v], t.Y[v]}, o.Line) {
					out = append(out, Seed{int32(v), o.Z})
				}
			}
			continue
		}
		f, ok := locate.Locate(o.Plan[0], o.Plan[1])
		if !ok {
			continue
		}
		for _, v := range t.V[3*f : 3*f+3] {
			out = append(out, Seed{v, o.Z})
		}
	}
	return out
}

func onLine(p orb.Point, line orb.LineString) bool {
	for i := 1; i < len(line); i++ {
		d := vector.Minus(line[i], line[i-1])
		if t := vector.Dot(vector.Minus(p, line[i-1]), d); domain.OffLine(p, line[i-1], line[i]) <= domain.Bent && t >= -domain.Bent && t <= vector.Dot(d, d)+domain.Bent {
			return true
		}
	}
	return false
}

// clearing is the queue of vertices whose value fell, lowest first.
type clearing struct {
	p     *Problem
	z     []float64
	queue queue.Queue
	star  [][]int32 // per vertex: facets round it

	inside []bool // the vertices that may move; nil: all
}

// offer lowers vertex v to z.
func (c *clearing) offer(v int32, z float64) {
	if z < c.z[v]-same {
		c.z[v] = z
		c.queue.Push(z, v)
	}
}

// spread offers all that a way to v, or to a side that ends in v, allows.
func (c *clearing) spread(v int32) {
	t := c.p.Base.TIN
	for _, f := range c.star[v] {
		for k := range int32(3) {
			w := t.V[3*f+k]
			if w == v || c.inside != nil && !c.inside[w] {
				continue
			}
			a, b := t.V[3*f+(k+1)%3], t.V[3*f+(k+2)%3]
			least := c.p.Base.Z[w] + c.p.Thickness
			if math.Max(least, math.Min(c.z[a], c.z[b])) < c.z[w]-same { // no way can be lower than what it leads to
				c.offer(w, math.Max(least, c.over(w, a, b)))
			}
		}
	}
}

// over returns the least elevation of vertex w from a way to the side from a to b: the least over its places y of z(y) + s*N(w - y). That is convex
// along the side and bent where w - y runs along a corner of the gauge, so the least is at such a bend or an end.
func (c *clearing) over(w, a, b int32) float64 {
	t, g := c.p.Base.TIN, &c.p.Gauge
	x, y, o := orb.Point{t.X[a], t.Y[a]}, orb.Point{t.X[b], t.Y[b]}, orb.Point{t.X[w], t.Y[w]}
	za, zb := c.z[a], c.z[b]
	best := math.Min(za+float64(c.p.Slope*g.N(vector.Minus(o, x))), zb+float64(c.p.Slope*g.N(vector.Minus(o, y))))
	if math.IsInf(za, 1) || math.IsInf(zb, 1) {
		return best
	}
	for i, n := range g.Normals {
		d := vector.Minus(n, g.Normals[(i+1)%len(g.Normals)]) // the bend is where d·(o - q) = 0
		da, db := vector.Dot(d, vector.Minus(o, x)), vector.Dot(d, vector.Minus(o, y))
		if (da > 0) == (db > 0) {
			continue
		}
		s := da / (da - db)
		best = math.Min(best, za+float64(s*(zb-za))+float64(c.p.Slope*g.N(vector.Minus(o, vector.Along(x, y, s)))))
	}
	return best
}

// Raised returns the base with its vertices at z as a design: facets with a moved corner are new.
func Raised(d *domain.Domain, base Base, z []float64) *Design {
	a := Alter(d, base)
	a.Set(z)
	return a.Design()
}

// ClearWithin is Clear on a part of the mesh: only the vertices that are inside move, from seeds round it that stay as they are. What is
// not inside keeps its elevation.
func ClearWithin(p *Problem, seeds []Seed, inside []bool) []float64 {
	bounded := *p
	z := append([]float64(nil), p.Base.Z...)
	c := &clearing{p: &bounded, z: make([]float64, len(z)), inside: inside, star: starOf(p.Base.TIN)}
	for v := range c.z {
		c.z[v] = math.Inf(1)
	}
	for _, s := range seeds {
		c.offer(s.Vertex, s.Z)
	}
	c.run()
	for v := range z {
		if inside[v] {
			z[v] = c.z[v]
		}
	}
	return z
}
