package surface

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
)

// Carve returns the surface with rings cut into what water runs on, closed and convex and counter-clockwise, each as far as it lies on the roof. Nothing moves:
// facets are only subdivided, vertices keep their numbers, new ones follow, and outlets have the pieces of their footprints. of holds for every new
// facet of Cut the facet of the old one that it is a piece of. The error is a *fault.Error.
func (s *Surface) Carve(rings ...[]orb.Point) (carved *Surface, of []int32, err error) {
	c := newCopy(s.Cut)
	c.from, c.border = s.Cut, newBorder(s.Cut)
	locate := NewLocator(s.Cut)
	for _, ring := range rings {
		corners := make([]corner, len(ring))
		for i, p := range ring {
			corners[i] = corner{geometry.OnGrid(p[0]), geometry.OnGrid(p[1])}
		}
		if err := c.cutRing(locate, corners); err != nil {
			return nil, nil, fmt.Errorf("carve: %w", err)
		}
	}
	c.indexOut()
	c.mendSigns()
	out := *s
	out.Area += float64(c.grown) / (2 * geometry.PerMetre * geometry.PerMetre)
	of = c.Parent
	if s.Cut.Parent != nil {
		c.Parent = make([]int32, len(of))
		for f, old := range of {
			c.Parent[f] = s.Cut.Parent[old]
		}
	}
	out.Cut = c.TIN
	out.Outlets = c.pieces(s.Outlets, of)
	return &out, of, c.checkStructure()
}

// pieces lays outlets of the surface as it was onto the pieces of their footprints.
func (c *cutter) pieces(outlets []Outlet, of []int32) []Outlet {
	holder := make([]int32, c.from.Facets()) // per old facet: the outlet that has it, from 1
	for i := range outlets {
		for _, f := range outlets[i].Facets {
			holder[f] = int32(i) + 1
		}
	}
	out := make([]Outlet, len(outlets))
	for i := range outlets {
		o := outlets[i]
		o.Facets, o.Edges = nil, nil
		for _, e := range outlets[i].Edges {
			for v, end := c.from.V[e], c.from.End(e); v != end; v = c.End(c.Out[v]) {
				o.Edges = append(o.Edges, c.Out[v])
			}
		}
		out[i] = o
	}
	for f, old := range of {
		if i := holder[old] - 1; i >= 0 {
			out[i].Facets = append(out[i].Facets, int32(f))
		}
	}
	for i := range out {
		out[i].Vertices = c.verticesOf(&out[i])
	}
	return out
}

// Reshape returns the surface with other elevations of the vertices of Cut; TIN stays as it was. Where a corner of a facet moved, its gradient and its
// signs of flow are those of its new shape, and the lowest surface of a footprint is taken anew. Inverts stay. len(z) == len(s.Cut.Z).
func (s *Surface) Reshape(z []float64) *Surface {
	c := newCopy(s.Cut)
	c.Parent = s.Cut.Parent
	c.Z, c.DX, c.DY = slices.Clip(z), slices.Clone(c.DX), slices.Clone(c.DY)
	for f := range int32(c.Facets()) {
		if c.moved(s.Cut, f) {
			c.shape(f)
		}
	}
	c.mendSigns()
	out := *s
	out.Cut = c.TIN
	out.Outlets = make([]Outlet, len(s.Outlets))
	for i := range s.Outlets {
		out.Outlets[i] = s.Outlets[i].over(s.Cut, c.TIN)
	}
	return &out
}

// moved reports whether a corner of facet f has another elevation than before.
func (t *TIN) moved(before *TIN, f int32) bool {
	for _, v := range t.V[3*f : 3*f+3] {
		if t.Z[v] != before.Z[v] {
			return true
		}
	}
	return false
}

// shape gives facet f the gradient and the signs of flow of its corners.
func (c *cutter) shape(f int32) {
	a, b, d := c.V[3*f], c.V[3*f+1], c.V[3*f+2]
	bx, by, bz := c.X[b]-c.X[a], c.Y[b]-c.Y[a], c.Z[b]-c.Z[a]
	dx, dy, dz := c.X[d]-c.X[a], c.Y[d]-c.Y[a], c.Z[d]-c.Z[a]
	twice := float64(bx*dy) - float64(by*dx)
	c.DX[f] = (float64(bz*dy) - float64(by*dz)) / twice
	c.DY[f] = (float64(bx*dz) - float64(bz*dx)) / twice
	for e := 3 * f; e < 3*f+3; e++ {
		c.Run[e] = c.across(e)
	}
}

// over returns an outlet with the lowest surface of its footprint taken anew where that moved.
func (o Outlet) over(before, t *TIN) Outlet {
	moved, low := false, o.Low
	for i, v := range o.Vertices {
		moved = moved || t.Z[v] != before.Z[v]
		if i == 0 || t.Z[v] < low {
			low = t.Z[v]
		}
	}
	if moved {
		o.Low = low
	}
	return o
}
