package taper

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// keep is how near to a corner or fold of the design a surveyed spot is left out [m]: the survey's rules would merge
// or move it.
const keep = 0.03

// Sources returns the primary outlets of s as sources at their inverts.
func Sources(s *surface.Surface) []Source {
	var out []Source
	for i := range s.Outlets {
		if o := &s.Outlets[i]; o.Duty == roof.Primary {
			out = append(out, Source{Outlet: i, Plan: o.Plan, Line: o.Line, Z: o.Invert})
		}
	}
	return out
}

// Roof returns r as the design leaves it, as if surveyed: outline, curbs and spots at their new elevations, the design's corners as
// further spots, its folds as breaklines and the primary outlets at their new inverts. Where the design keeps the surface, so do spots, breaklines
// and elevations that the survey left out. Cores and stains are left out, since they tell of the roof that was. s is the surface of r.
func (d *Design) Roof(r *roof.Roof, s *surface.Surface) *roof.Roof {
	n := *r
	n.Cores, n.Stains = nil, nil
	n.Outline.Rings, n.Outline.Elevations = nil, roof.Drawn
	for _, ring := range r.Outline.Rings {
		n.Outline.Rings = append(n.Outline.Rings, d.lift(ring))
	}
	n.Edges = append([]roof.Edge(nil), r.Edges...)
	for i := range n.Edges {
		n.Edges[i].Line = d.lift(r.Edges[i].Line)
	}
	n.Curbs = append([]roof.Curb(nil), r.Curbs...)
	for i := range n.Curbs {
		n.Curbs[i].Ring = d.lift(r.Curbs[i].Ring)
	}
	n.Outlets = append([]roof.Outlet(nil), r.Outlets...)
	for _, l := range d.Outlets {
		if src := s.Outlets[l.Outlet].Source; src >= 0 {
			n.Outlets[src].Invert, n.Outlets[src].HasInvert = l.Top, true
		}
	}
	if d.mesh {
		d.lifted(&n, r, s.TIN)
		return &n
	}
	one := d.merged()
	n.Spots = append(d.corners(one, r), d.surveyed(r.Spots, s.TIN)...)
	n.Spots = append(n.Spots, d.inferred(s.TIN)...)
	n.Breaklines = append(d.kept(r.Breaklines, s.TIN), d.folds(one)...)
	return &n
}

// lifted gives spots and breaklines of r, and the vertices of t that nobody measured, their new elevations: the same places make the same facets.
func (d *Design) lifted(n, r *roof.Roof, t *surface.TIN) {
	n.Spots = nil
	for _, s := range settled(r.Spots, t) {
		if z, ok := d.Height(s.Plan); ok && s.HasZ {
			s.Z = z
			n.Spots = append(n.Spots, s)
		}
	}
	for v := range t.X {
		if t.Spot[v] < 0 {
			n.Spots = append(n.Spots, d.drawn(v, t))
		}
	}
	n.Breaklines = append([]roof.Breakline(nil), r.Breaklines...)
	on := newStops(t)
	for i := range n.Breaklines {
		n.Breaklines[i].Line = d.lift(on.through(r.Breaklines[i].Line))
	}
}

// drawn returns a spot of the design at vertex v of t, which nobody measured; assumed where it was and stays.
func (d *Design) drawn(v int, t *surface.TIN) roof.Spot {
	s := roof.Spot{}
	s.Plan, s.HasZ = orb.Point{t.X[v], t.Y[v]}, true
	s.Z, _ = d.Height(s.Plan)
	s.ID = fmt.Sprintf("N%d", v+1)
	s.Origin = roof.Origin{File: "design", Line: v + 1, ID: s.ID}
	s.Assumed = t.Assumed[v] && math.Abs(s.Z-t.Z[v]) < same
	return s
}

// folds returns the design's new lines as breaklines.
func (d *Design) folds(one []int) []roof.Breakline {
	var out []roof.Breakline
	for i, l := range d.Lines {
		if one[l.A] == one[l.B] || !d.isNew(l) || l.Length < apart {
			continue
		}
		b := roof.Breakline{Type: l.Kind, Line: append(append([]roof.Position{d.position(one[l.A])}, d.between(i)...), d.position(one[l.B]))}
		b.ID = fmt.Sprintf("F%d", i+1)
		b.Origin = roof.Origin{File: "design", Feature: i + 1, ID: b.ID}
		out = append(out, b)
	}
	return out
}

// isNew reports whether a line bounds a new plane: one that is no facet of the mesh.
func (d *Design) isNew(l Line) bool { return !d.Facets[l.Left].ofMesh() || !d.Facets[l.Right].ofMesh() }

// kept returns the parts of breaklines that run where the surface stays, with a point wherever a vertex of t stands on them: what was measured there may not lie on the straight line between their own points.
func (d *Design) kept(lines []roof.Breakline, t *surface.TIN) []roof.Breakline {
	var out []roof.Breakline
	on := newStops(t)
	for _, b := range lines {
		var part []roof.Position
		end := func() {
			if len(part) > 1 {
				c := b
				c.Line = part
				if n := len(out); n > 0 && out[n-1].Origin == b.Origin {
					c.ID = fmt.Sprintf("%s/%d", b.ID, n)
				}
				out = append(out, c)
			}
			part = nil
		}
		for i := 1; i < len(b.Line); i++ {
			p, q := b.Line[i-1].Plan, b.Line[i].Plan
			cuts := on.add(d.cuts(p, q), p, q)
			for k := 1; k < len(cuts); k++ {
				from, to := vector.Along(p, q, cuts[k-1]), vector.Along(p, q, cuts[k])
				if vector.Length(vector.Minus(to, from)) < apart {
					continue
				}
				mid := vector.Along(p, q, (cuts[k-1]+cuts[k])/2)
				if !d.follows(mid) || d.stock != nil && d.Facets[d.FacetAt(mid)].stock && d.nearFold(mid) {
					end()
					continue
				}
				if part == nil {
					part = d.lift([]roof.Position{{Plan: from}})
				}
				part = append(part, d.lift([]roof.Position{{Plan: to}})...)
			}
		}
		end()
	}
	return out
}

// stops finds the vertices that stand on a line.
type stops struct {
	at   []orb.Point // of the vertices, then two for the ends of a line
	bins *bins
}

func newStops(t *surface.TIN) *stops {
	s := &stops{}
	for v := range t.X {
		s.at = append(s.at, orb.Point{t.X[v], t.Y[v]})
	}
	s.bins = newBins(s.at)
	s.at = append(s.at, orb.Point{}, orb.Point{})
	return s
}

// add puts how far along from p to q, from 0 to 1, vertices stand into a rising list of the same.
func (s *stops) add(list []float64, p, q orb.Point) []float64 {
	n := len(s.at) - 2
	s.at[n], s.at[n+1] = p, q
	for _, o := range s.bins.between(s.at, int32(n), int32(n+1), nil) {
		list = append(list, o.t)
	}
	sort.Float64s(list)
	return list
}

// settled returns the vertex nearest to p within what the survey's rules move a point by, else p.
func (s *stops) settled(p orb.Point) orb.Point {
	best, far := p, keep
	b := s.bins
	for c := b.column(p[0] - keep); c <= b.column(p[0]+keep); c++ {
		for r := b.row(p[1] - keep); r <= b.row(p[1]+keep); r++ {
			for _, v := range b.in[c+b.nx*r] {
				if d := vector.Length(vector.Minus(s.at[v], p)); d < far {
					best, far = s.at[v], d
				}
			}
		}
	}
	return best
}

// through returns a line with its points where the survey's rules moved them, and one more wherever a vertex stands on it.
func (s *stops) through(given []roof.Position) []roof.Position {
	line := make([]roof.Position, len(given))
	for i := range given {
		line[i].Plan = s.settled(given[i].Plan)
	}
	first := min(1, len(line))
	out := line[:first:first]
	for i := 1; i < len(line); i++ {
		p, q := line[i-1].Plan, line[i].Plan
		for _, t := range s.add(nil, p, q) {
			if at := vector.Along(p, q, t); vector.Length(vector.Minus(at, p)) > apart && vector.Length(vector.Minus(at, q)) > apart {
				out = append(out, roof.Position{Plan: at})
			}
		}
		out = append(out, line[i])
	}
	return out
}

// follows reports whether the surface at p has the shape of what it is laid on: it stays, its corners are moved, or it is boards of one thickness plane.
func (d *Design) follows(p orb.Point) bool {
	f := d.FacetAt(p)
	return f >= 0 && (d.Facets[f].stock || d.Facets[f].ofMesh())
}

// cuts returns how far along from p to q, from 0 to 1, the line meets lines that bound new facets.
func (d *Design) cuts(p, q orb.Point) []float64 {
	out := []float64{0, 1}
	v := vector.Minus(q, p)
	for _, l := range d.bordering() {
		a, b := d.Vertices[l.A].Plan, d.Vertices[l.B].Plan
		if math.Max(a[0], b[0]) < math.Min(p[0], q[0]) || math.Min(a[0], b[0]) > math.Max(p[0], q[0]) || math.Max(a[1], b[1]) < math.Min(p[1], q[1]) || math.Min(a[1], b[1]) > math.Max(p[1], q[1]) {
			continue
		}
		ca, cb := vector.Cross(v, vector.Minus(a, p)), vector.Cross(v, vector.Minus(b, p))
		if (ca > 0) == (cb > 0) {
			continue
		}
		if t := vector.Dot(v, vector.Minus(vector.Along(a, b, ca/(ca-cb)), p)) / vector.Dot(v, v); t > 0 && t < 1 {
			out = append(out, t)
		}
	}
	sort.Float64s(out)
	return out
}

// bordering returns the lines that bound new planes.
func (d *Design) bordering() []Line {
	if d.news == nil {
		d.news = []Line{}
		for _, l := range d.Lines {
			if d.isNew(l) {
				d.news = append(d.news, l)
			}
		}
	}
	return d.news
}

// inferred returns the vertices of t that nobody measured, where the surface stays, as spots.
func (d *Design) inferred(t *surface.TIN) []roof.Spot {
	var out []roof.Spot
	for v := range t.X {
		p := orb.Point{t.X[v], t.Y[v]}
		if t.Spot[v] >= 0 || d.find.at(p) < 0 || d.nearFold(p) {
			continue
		}
		if d.follows(p) {
			out = append(out, d.drawn(v, t))
		}
	}
	return out
}

func (d *Design) position(v int) roof.Position {
	return roof.Position{Plan: d.Vertices[v].Plan, Z: d.Vertices[v].Z, HasZ: true}
}

// lift returns line at the design's elevations; what lies off the design keeps none.
func (d *Design) lift(line []roof.Position) []roof.Position {
	out := make([]roof.Position, len(line))
	for i, p := range line {
		out[i] = roof.Position{Plan: p.Plan}
		out[i].Z, out[i].HasZ = d.Height(p.Plan)
	}
	return out
}

// apart is how far vertices stand from each other at least when they are written as a survey [m], and the least length of a fold: the survey's rule
// of the same place is 10 mm, and 20 mm beside a line.
const apart = 0.03

// merged returns, for each vertex, the first one that stands nearer to it than apart.
func (d *Design) merged() []int {
	one := make([]int, len(d.Vertices))
	for i := range d.Vertices {
		one[i] = i
		if !d.fresh[i] {
			continue
		}
		for j := range i {
			if one[j] == j && d.fresh[j] && vector.Length(vector.Minus(d.Vertices[i].Plan, d.Vertices[j].Plan)) < apart {
				one[i] = j
				break
			}
		}
	}
	return one
}

// corners returns the design's vertices as spots.
func (d *Design) corners(one []int, r *roof.Roof) []roof.Spot {
	var out []roof.Spot
	ends := map[int]bool{} // of stock boards: their borders have these, but where one meets a wall or a curb that runs straight on between its own corners
	if d.Stocked() {
		for _, l := range d.Lines {
			ends[one[l.A]], ends[one[l.B]] = true, true
		}
	}
	for i, first := range one {
		if first != i || !d.fresh[i] || ends[i] && !onBorder(r, d.Vertices[i].Plan) {
			continue
		}
		s := roof.Spot{Position: d.position(i)}
		s.ID = fmt.Sprintf("T%d", i+1)
		s.Origin = roof.Origin{File: "design", Line: i + 1, ID: s.ID}
		out = append(out, s)
	}
	return out
}

// onBorder reports whether p lies on the outline or on a curb's.
func onBorder(r *roof.Roof, p orb.Point) bool {
	on := func(ring []roof.Position) bool {
		for i := 1; i < len(ring); i++ {
			if planar.DistanceFromSegment(ring[i-1].Plan, ring[i].Plan, p) <= 2*join {
				return true
			}
		}
		return false
	}
	return slices.ContainsFunc(r.Outline.Rings, on) || slices.ContainsFunc(r.Curbs, func(c roof.Curb) bool { return on(c.Ring) })
}

// settled returns the spots that stand on the surface where it has them: one near the outline or a line was moved onto it, and its
// elevation holds there.
func settled(spots []roof.Spot, t *surface.TIN) []roof.Spot {
	var out []roof.Spot
	for v, i := range t.Spot {
		if i >= 0 && int(i) < len(spots) {
			s := spots[i]
			s.Plan = orb.Point{t.X[v], t.Y[v]}
			out = append(out, s)
		}
	}
	return out
}

// surveyed returns the spots at their new elevations, without those beside a corner or fold.
func (d *Design) surveyed(spots []roof.Spot, t *surface.TIN) []roof.Spot {
	var out []roof.Spot
	for _, s := range settled(spots, t) {
		z, ok := d.Height(s.Plan)
		if !ok || !s.HasZ || d.nearFold(s.Plan) {
			continue
		}
		s.Z, s.Sigma = z, quantity.Length(0)
		out = append(out, s)
	}
	return out
}

// nearFold reports whether p stands beside a new corner or fold.
func (d *Design) nearFold(p orb.Point) bool {
	if d.near == nil {
		d.near = newBeside(d)
	}
	return d.near.holds(p)
}

// Valleys returns the lines in which water runs, flattest first.
func (d *Design) Valleys() []Line {
	out := gather.Where(d.Lines, func(l Line) bool { return l.Kind == roof.Valley })
	sort.SliceStable(out, func(i, j int) bool { return out[i].Slope < out[j].Slope })
	return out
}
