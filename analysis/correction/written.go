package correction

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

// written returns r with every place where a file in degrees puts it, so that what is checked is what is read back: a triangulation may turn on a
// millimetre. On a site grid it is r itself.
func written(r *roof.Roof) *roof.Roof {
	if r.Frame.Kind != roof.Geographic {
		return r
	}
	n := *r
	place := func(p orb.Point) orb.Point {
		q := r.Frame.ToFile(p)
		for i := range q {
			q[i] = math.Round(q[i]*1e8) / 1e8 // as roof files are written
		}
		return r.Frame.ToLocal(q)
	}
	line := func(from []roof.Position) []roof.Position {
		out := make([]roof.Position, len(from))
		for i, p := range from {
			out[i] = p
			out[i].Plan = place(p.Plan)
		}
		return out
	}
	n.Outline.Rings = nil
	for _, ring := range r.Outline.Rings {
		n.Outline.Rings = append(n.Outline.Rings, line(ring))
	}
	n.Edges = append([]roof.Edge(nil), r.Edges...)
	for i := range n.Edges {
		n.Edges[i].Line = line(n.Edges[i].Line)
	}
	n.Curbs = append([]roof.Curb(nil), r.Curbs...)
	for i := range n.Curbs {
		n.Curbs[i].Ring = line(n.Curbs[i].Ring)
	}
	n.Breaklines = append([]roof.Breakline(nil), r.Breaklines...)
	for i := range n.Breaklines {
		n.Breaklines[i].Line = line(n.Breaklines[i].Line)
	}
	n.Spots = append([]roof.Spot(nil), r.Spots...)
	for i := range n.Spots {
		n.Spots[i].Plan = place(n.Spots[i].Plan)
	}
	n.Outlets = append([]roof.Outlet(nil), r.Outlets...)
	for i := range n.Outlets {
		n.Outlets[i].Plan = place(n.Outlets[i].Plan)
	}
	return &n
}
