package blunder

import (
	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Called returns what a user calls the point, in the middle of a sentence: "spot 17", "the inlet of RD-1", or what line it stands on.
func (o *Odd) Called(r *roof.Roof, s *surface.Surface) string {
	switch {
	case o.Inlet:
		return "the inlet of " + s.Outlets[o.Outlet].Label
	case o.Spot >= 0:
		return "spot " + r.Spots[o.Spot].ID
	}
	return lineAt(r, o.Plan)
}

// lineAt names the line or ring that has a point at p.
func lineAt(r *roof.Roof, p orb.Point) string {
	const same = 0.02 // [m]
	stands := func(line []roof.Position) bool {
		for _, q := range line {
			if vector.Distance(p, q.Plan) < same {
				return true
			}
		}
		return false
	}
	for i := range r.Breaklines {
		if stands(r.Breaklines[i].Line) {
			return "a point of breakline " + r.Breaklines[i].ID
		}
	}
	for i := range r.Curbs {
		if stands(r.Curbs[i].Ring) {
			return "a corner of curb " + r.Curbs[i].ID
		}
	}
	return "a point of the outline"
}
