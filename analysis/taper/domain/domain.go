package domain

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/mesh"
	"runnel/analysis/surface"
)

// Bent is how far a corner of the border stands off the line through its neighbours [m]; nearer ones are no corners.
const Bent = 1e-4

// Domain is the plan of a roof: its border without corners that lie on a line, in convex parts, and what each place sees. It serves many
// designs of one roof; it must not be used by two at once.
type Domain struct {
	Axis orb.Point // direction of the main edge

	Edges   []Edge
	Before  []int // per edge: the one that ends where it starts
	Corners []int // edges that start at a corner where the roof takes up more than half a turn
	Parts   []Polygon
	locate  *surface.Locator
	views   map[orb.Point][]Polygon
	sight   map[[2]orb.Point]bool
}

// Edge is a straight piece of the border; the roof lies on its left.
type Edge struct {
	A, B orb.Point
	next int // edge that starts at B
}

// Polygon is convex, counter-clockwise, not closed.
type Polygon []orb.Point

// New returns the plan of t. It fails where the border cannot be triangulated.
func New(t *surface.TIN) (*Domain, error) {
	d := &Domain{locate: surface.NewLocator(t), views: map[orb.Point][]Polygon{}, sight: map[[2]orb.Point]bool{}}
	var outer orb.Ring
	for _, border := range t.Rings() {
		ring := make(Polygon, len(border))
		for i, e := range border {
			ring[i] = orb.Point{t.X[t.V[e]], t.Y[t.V[e]]}
		}
		if vector.Area(ring) > 0 && outer == nil {
			outer = append(orb.Ring(ring), ring[0])
		}
		d.addRing(Straight(ring))
	}
	d.Axis = Axis(outer)
	d.Before = make([]int, len(d.Edges))
	for i := range d.Edges {
		d.Before[d.Edges[i].next] = i
		if e, n := &d.Edges[i], &d.Edges[d.Edges[i].next]; vector.Cross(vector.Minus(e.B, e.A), vector.Minus(n.B, n.A)) < 0 {
			d.Corners = append(d.Corners, e.next)
		}
	}
	return d, d.divide()
}

// Straight returns ring without corners that stand less than bent off the line from the one kept before to the one
// after; all that were dropped between two kept ones stay as near.
func Straight(ring Polygon) Polygon {
	n, first := len(ring), 0
	for i, p := range ring {
		if q := ring[first]; p[0] < q[0] || p[0] == q[0] && p[1] < q[1] {
			first = i
		}
	}
	kept := Polygon{ring[first]}
	last := first
	for i := first + 1; i < first+n; i++ {
		next := ring[(i+1)%n]
		for j := last + 1; j <= i; j++ {
			if OffLine(ring[j%n], kept[len(kept)-1], next) > Bent {
				kept = append(kept, ring[i%n])
				last = i
				break
			}
		}
	}
	return kept
}

// OffLine returns the distance of p from the line through a and b, from a where they are one.
func OffLine(p, a, b orb.Point) float64 {
	d := vector.Minus(b, a)
	if l := vector.Length(d); l > 0 {
		return math.Abs(vector.Cross(d, vector.Minus(p, a))) / l
	}
	return vector.Length(vector.Minus(p, a))
}

func (d *Domain) addRing(ring Polygon) {
	first := len(d.Edges)
	for i, p := range ring {
		d.Edges = append(d.Edges, Edge{p, ring[(i+1)%len(ring)], first + (i+1)%len(ring)})
	}
}

// divide triangulates the plan and joins triangles to convex parts.
func (d *Domain) divide() error {
	var x, y []int32
	number := map[[2]int32]int32{}
	index := func(p orb.Point) int32 {
		k := [2]int32{int32(math.Round(p[0] / surface.Grid)), int32(math.Round(p[1] / surface.Grid))}
		i, ok := number[k]
		if !ok {
			i = int32(len(x))
			number[k] = i
			x, y = append(x, k[0]), append(y, k[1])
		}
		return i
	}
	segments := gather.Each(d.Edges, func(e Edge) mesh.Segment { return mesh.Segment{A: index(e.A), B: index(e.B), Flag: 1} })
	m, crossings, err := mesh.Triangulate(x, y, make([]int32, len(x)), segments)
	if err != nil {
		return fmt.Errorf("taper: %w", err)
	}
	if len(crossings) > 0 {
		return fmt.Errorf("taper: %d edges of the roof's border cross", len(crossings))
	}
	at := func(v int32) orb.Point { return orb.Point{float64(x[v]) * surface.Grid, float64(y[v]) * surface.Grid} }
	parts := make([]Polygon, 0, len(m.V)/3)
	part := make([]int, len(m.V)/3) // per triangle: its part, -1 off the roof
	for f := range part {
		p := Polygon{at(m.V[3*f]), at(m.V[3*f+1]), at(m.V[3*f+2])}
		part[f] = -1
		if d.holds(Middle(p)) {
			part[f] = len(parts)
			parts = append(parts, p)
		}
	}
	d.join(m, part, parts, at)
	return nil
}

// join takes away the diagonals that leave convex parts (Hertel and Mehlhorn, "Fast triangulation of simple polygons", 1983; from memory).
func (d *Domain) join(m *mesh.Mesh, part []int, parts []Polygon, at func(int32) orb.Point) {
	for e, o := range m.Twin {
		if o < int32(e) || m.Flag[e]&1 != 0 {
			continue
		}
		i, j := part[e/3], part[o/3]
		if i < 0 || j < 0 || i == j {
			continue
		}
		whole, ok := joined(parts[i], parts[j], at(m.V[e]), at(m.V[o]))
		if !ok {
			continue
		}
		parts[i], parts[j] = whole, nil
		for f := range part {
			if part[f] == j {
				part[f] = i
			}
		}
	}
	for _, p := range parts {
		if p != nil {
			d.Parts = append(d.Parts, p)
		}
	}
}

// joined returns p and q without their common side, which runs from a to b in p; ok is false where the whole would not be convex.
func joined(p, q Polygon, a, b orb.Point) (whole Polygon, ok bool) {
	whole = append(around(p, b), around(q, a)[1:]...)
	whole = whole[:len(whole)-1]
	n := len(whole)
	for i, c := range whole {
		if vector.Cross(vector.Minus(c, whole[(i+n-1)%n]), vector.Minus(whole[(i+1)%n], c)) < 0 {
			return nil, false
		}
	}
	return whole, true
}

// around returns p from corner c on.
func around(p Polygon, c orb.Point) Polygon {
	for i := range p {
		if p[i] == c {
			return append(append(Polygon{}, p[i:]...), p[:i]...)
		}
	}
	return nil
}

// holds reports whether p lies on the roof, by the number of edges east of it.
func (d *Domain) holds(p orb.Point) bool {
	in := false
	for i := range d.Edges {
		a, b := d.Edges[i].A, d.Edges[i].B
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+float64((p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0])) {
			in = !in
		}
	}
	return in
}

// Middle returns the mean of the corners.
func Middle(p Polygon) orb.Point {
	m := orb.Point{}
	for _, q := range p {
		m = vector.Plus(m, q)
	}
	return orb.Point{m[0] / float64(len(p)), m[1] / float64(len(p))}
}

// Snap returns the place on the border that is nearest to q, where that is within a millimetre; else q.
func (d *Domain) Snap(q orb.Point) orb.Point {
	best, far := q, 1e-3
	for _, e := range d.Edges {
		v := vector.Minus(e.B, e.A)
		t := math.Max(0, math.Min(1, vector.Dot(v, vector.Minus(q, e.A))/vector.Dot(v, v)))
		if at := vector.Along(e.A, e.B, t); vector.Length(vector.Minus(at, q)) < far {
			best, far = at, vector.Length(vector.Minus(at, q))
		}
	}
	return best
}

// FacetAt returns the facet of the surface on which q lies; ok is false off the roof.
func (d *Domain) FacetAt(q orb.Point) (f int32, ok bool) { return d.locate.Locate(q[0], q[1]) }
