package trial

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

const (
	besideCurb = 0.6  // how far from a curb's side a pond behind it is deepest at most [m]. Own choice
	besideLine = 0.15 // how far from the line between two outlets, as a share of its length. Own choice
)

// BaseOf returns where a cricket would shed the water of a pond: along the side of the curb behind which it stands, else from outlet to outlet; ok is false
// where it stands at neither.
func BaseOf(r *roof.Roof, s *surface.Surface, p *ponding.Pond) (base [2]orb.Point, ok bool) {
	pit := orb.Point{s.Cut.X[p.Pits[0]], s.Cut.Y[p.Pits[0]]}
	if base, ok = curbSide(r, pit); ok {
		return base, true
	}
	return outletLine(s, pit)
}

// curbSide returns the side of a curb nearest to a place.
func curbSide(r *roof.Roof, at orb.Point) (base [2]orb.Point, ok bool) {
	far := besideCurb
	for i := range r.Curbs {
		ring := r.Curbs[i].Ring
		for k := 1; k < len(ring); k++ {
			a, b := ring[k-1].Plan, ring[k].Plan
			if d := vector.Distance(vector.Nearest([]orb.Point{a, b}, at), at); d < far {
				base, far, ok = [2]orb.Point{a, b}, d, true
			}
		}
	}
	return base, ok
}

// outletLine returns the two primary outlets in one place on whose line a place lies and that are nearest to each other.
func outletLine(s *surface.Surface, at orb.Point) (base [2]orb.Point, ok bool) {
	best := math.Inf(1)
	for i := range s.Outlets {
		for k := range i {
			a, b := &s.Outlets[k], &s.Outlets[i]
			if a.Duty != roof.Primary || b.Duty != roof.Primary || a.Line != nil || b.Line != nil {
				continue
			}
			l := vector.Distance(a.Plan, b.Plan)
			n := vector.Nearest([]orb.Point{a.Plan, b.Plan}, at)
			if n != a.Plan && n != b.Plan && l < best && vector.Distance(n, at) <= besideLine*l {
				base, best, ok = [2]orb.Point{a.Plan, b.Plan}, l, true
			}
		}
	}
	return base, ok
}
