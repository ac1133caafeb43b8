package geojson

import (
	"fmt"

	"github.com/tidwall/gjson"

	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// rings reads the geometry of a Polygon feature: closed rings, the first counter-clockwise, the others
// clockwise, valid together. what names the polygon in messages.
func (r *reader) rings(what string) ([][]roof.Position, bool) {
	var rings [][]roof.Position
	ok := true
	r.geometry.get("coordinates").ForEach(func(_, v gjson.Result) bool {
		ring, good := r.ring(v, what)
		ok = ok && good
		rings = append(rings, ring)
		return good
	})
	if !ok {
		return nil, false
	}
	if len(rings) == 0 {
		r.refuse("the "+what+" has no corners", "draw it")
		return nil, false
	}
	fault := draft.SettleRings(rings, what)
	if fault == nil {
		return rings, true
	}
	r.problems.Add(roof.Problem{Origin: r.origin(), At: fault.At, HasAt: fault.HasAt, Rule: fault.Rule, Mend: fault.Mend})
	return nil, false
}

// oneRing reads a polygon without holes.
func (r *reader) oneRing(what string) ([]roof.Position, bool) {
	rings, ok := r.rings(what)
	if ok && len(rings) > 1 {
		r.refuseAt(rings[1][0].Plan, "a "+what+" cannot have a hole", "draw it without, or as two")
		return nil, false
	}
	if !ok {
		return nil, false
	}
	return rings[0], true
}

// ring reads one closed ring of at least three corners.
func (r *reader) ring(v gjson.Result, what string) ([]roof.Position, bool) {
	ring, ok := r.positions(v)
	if !ok {
		return nil, false
	}
	if len(ring) == 0 {
		r.refuse("a ring of the "+what+" has no corners", "draw it")
		return nil, false
	}
	if first, last := ring[0].Plan, ring[len(ring)-1].Plan; first != last {
		r.refuseAt(last, fmt.Sprintf("the %s is not closed: it starts at (%.10g, %.10g) and ends here", what, first[0], first[1]),
			"repeat the first corner at the end")
		return nil, false
	}
	return ring, true
}
