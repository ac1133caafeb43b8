package correction

import (
	"math"
	"slices"

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
	n.Edges = each(r.Edges, func(e *roof.Edge) { e.Line = line(e.Line) })
	n.Curbs = each(r.Curbs, func(c *roof.Curb) { c.Ring = line(c.Ring) })
	n.Breaklines = each(r.Breaklines, func(b *roof.Breakline) { b.Line = line(b.Line) })
	n.Spots = each(r.Spots, func(s *roof.Spot) { s.Plan = place(s.Plan) })
	n.Outlets = each(r.Outlets, func(o *roof.Outlet) { o.Plan = place(o.Plan) })
	return &n
}

// each returns a copy of all in which every one was changed.
func each[T any](all []T, change func(*T)) []T {
	out := slices.Clone(all)
	for i := range out {
		change(&out[i])
	}
	return out
}
