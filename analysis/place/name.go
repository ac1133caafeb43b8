package place

import (
	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// near is how near two places count as one [m].
const near = 0.03

// Name calls a wall by the side of the roof on which it stands and by the label of its edge: "south wall", "east gutter (G-2)".
func Name(r *roof.Roof, w *Wall) string {
	name := vector.Compass(w.To[1]-w.From[1], w.From[0]-w.To[0])
	what := choose.If(w.Open, " edge", " wall")
	e := edgeAt(r, w.middle())
	if w.Open && (e != nil && e.Type == roof.Gutter || e == nil && r.Outline.Edge == roof.Gutter) {
		what = " gutter"
	}
	if name += what; e != nil && e.Label != "" {
		name += " (" + e.Label + ")"
	}
	return name
}

// edgeAt returns the edge of the outline on which p lies, nil where none was measured.
func edgeAt(r *roof.Roof, p orb.Point) *roof.Edge {
	for i := range r.Edges {
		e := &r.Edges[i]
		for k := 1; k < len(e.Line); k++ {
			if between(e.Line[k-1].Plan, e.Line[k].Plan, p) {
				return e
			}
		}
	}
	return nil
}

// between reports whether p lies on the stretch from a to b.
func between(a, b, p orb.Point) bool {
	return vector.Distance(a, p)+vector.Distance(p, b) < vector.Distance(a, b)+near/10
}
