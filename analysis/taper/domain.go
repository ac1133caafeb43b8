package taper

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/mesh"
	"runnel/analysis/surface"
)

// bent is how far a corner of the border stands off the line through its neighbours [m]; nearer ones are no corners.
const bent = 1e-4

// Domain is the plan of a roof: its border without corners that lie on a line, in convex parts, and what each place sees. It serves many
// designs of one roof; it must not be used by two at once.
type Domain struct {
	Axis orb.Point // direction of the main edge

	edges   []edge
	before  []int // per edge: the one that ends where it starts
	corners []int // edges that start at a corner where the roof takes up more than half a turn
	parts   []polygon
	locate  *surface.Locator
	views   map[orb.Point]*view
	sight   map[[2]orb.Point]bool
}

// edge is a straight piece of the border; the roof lies on its left.
type edge struct {
	a, b orb.Point
	next int // edge that starts at b
}

// polygon is convex, counter-clockwise, not closed.
type polygon []orb.Point

// NewDomain returns the plan of t. It fails where the border cannot be triangulated.
func NewDomain(t *surface.TIN) (*Domain, error) {
	d := &Domain{locate: surface.NewLocator(t), views: map[orb.Point]*view{}, sight: map[[2]orb.Point]bool{}}
	var outer orb.Ring
	for _, border := range t.Rings() {
		ring := make(polygon, len(border))
		for i, e := range border {
			ring[i] = orb.Point{t.X[t.V[e]], t.Y[t.V[e]]}
		}
		if area(ring) > 0 && outer == nil {
			outer = append(orb.Ring(ring), ring[0])
		}
		d.addRing(straight(ring))
	}
	d.Axis = Axis(outer)
	d.before = make([]int, len(d.edges))
	for i := range d.edges {
		d.before[d.edges[i].next] = i
		if e, n := &d.edges[i], &d.edges[d.edges[i].next]; vector.Cross(vector.Minus(e.b, e.a), vector.Minus(n.b, n.a)) < 0 {
			d.corners = append(d.corners, e.next)
		}
	}
	return d, d.divide()
}

// straight returns ring without corners that stand less than bent off the line from the one kept before to the one
// after; all that were dropped between two kept ones stay as near.
func straight(ring polygon) polygon {
	n, first := len(ring), 0
	for i, p := range ring {
		if q := ring[first]; p[0] < q[0] || p[0] == q[0] && p[1] < q[1] {
			first = i
		}
	}
	kept := polygon{ring[first]}
	last := first
	for i := first + 1; i < first+n; i++ {
		next := ring[(i+1)%n]
		for j := last + 1; j <= i; j++ {
			if offLine(ring[j%n], kept[len(kept)-1], next) > bent {
				kept = append(kept, ring[i%n])
				last = i
				break
			}
		}
	}
	return kept
}

// offLine returns the distance of p from the line through a and b, from a where they are one.
func offLine(p, a, b orb.Point) float64 {
	d := vector.Minus(b, a)
	if l := vector.Length(d); l > 0 {
		return math.Abs(vector.Cross(d, vector.Minus(p, a))) / l
	}
	return vector.Length(vector.Minus(p, a))
}

func (d *Domain) addRing(ring polygon) {
	first := len(d.edges)
	for i, p := range ring {
		d.edges = append(d.edges, edge{p, ring[(i+1)%len(ring)], first + (i+1)%len(ring)})
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
	var segments []mesh.Segment
	for _, e := range d.edges {
		segments = append(segments, mesh.Segment{A: index(e.a), B: index(e.b), Flag: 1})
	}
	m, crossings, err := mesh.Triangulate(x, y, make([]int32, len(x)), segments)
	if err != nil {
		return fmt.Errorf("taper: %w", err)
	}
	if len(crossings) > 0 {
		return fmt.Errorf("taper: %d edges of the roof's border cross", len(crossings))
	}
	at := func(v int32) orb.Point { return orb.Point{float64(x[v]) * surface.Grid, float64(y[v]) * surface.Grid} }
	parts := make([]polygon, 0, len(m.V)/3)
	part := make([]int, len(m.V)/3) // per triangle: its part, -1 off the roof
	for f := range part {
		p := polygon{at(m.V[3*f]), at(m.V[3*f+1]), at(m.V[3*f+2])}
		part[f] = -1
		if d.holds(middle(p)) {
			part[f] = len(parts)
			parts = append(parts, p)
		}
	}
	d.join(m, part, parts, at)
	return nil
}

// join takes away the diagonals that leave convex parts (Hertel and Mehlhorn, "Fast triangulation of simple polygons", 1983; from memory).
func (d *Domain) join(m *mesh.Mesh, part []int, parts []polygon, at func(int32) orb.Point) {
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
			d.parts = append(d.parts, p)
		}
	}
}

// joined returns p and q without their common side, which runs from a to b in p; ok is false where the whole would not be convex.
func joined(p, q polygon, a, b orb.Point) (whole polygon, ok bool) {
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
func around(p polygon, c orb.Point) polygon {
	for i := range p {
		if p[i] == c {
			return append(append(polygon{}, p[i:]...), p[:i]...)
		}
	}
	return nil
}

// holds reports whether p lies on the roof, by the number of edges east of it.
func (d *Domain) holds(p orb.Point) bool {
	in := false
	for i := range d.edges {
		a, b := d.edges[i].a, d.edges[i].b
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+float64((p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0])) {
			in = !in
		}
	}
	return in
}

// area returns the area of a ring, negative when clockwise.
func area(p polygon) float64 {
	sum := 0.0
	for i := 1; i+1 < len(p); i++ {
		sum += vector.Cross(vector.Minus(p[i], p[0]), vector.Minus(p[i+1], p[0]))
	}
	return sum / 2
}

// middle returns the mean of the corners.
func middle(p polygon) orb.Point {
	m := orb.Point{}
	for _, q := range p {
		m = vector.Plus(m, q)
	}
	return orb.Point{m[0] / float64(len(p)), m[1] / float64(len(p))}
}
