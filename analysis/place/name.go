package place

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
)

// near is how near two places count as one [m].
const near = 0.03

// Name calls a wall by the side of the roof on which it stands and by the label of its edge: "south wall", "east gutter (G-2)".
func Name(r *roof.Roof, w *Wall) string {
	name := Compass(w.To[1]-w.From[1], w.From[0]-w.To[0])
	what := " wall"
	if w.Open {
		what = " edge"
	}
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
	return distance(a, p)+distance(p, b) < distance(a, b)+near/10
}

// Compass names the direction (dx, dy) by the nearest of eight; y is grid north.
func Compass(dx, dy float64) string {
	const tan = 0.41421356237309503 // of 22.5 degrees: half of one eighth
	east, north := math.Abs(dx) > tan*math.Abs(dy), math.Abs(dy) > tan*math.Abs(dx)
	words := [2]string{"north", "east"}
	if dy < 0 {
		words[0] = "south"
	}
	if dx < 0 {
		words[1] = "west"
	}
	switch {
	case east && north:
		return words[0] + "-" + words[1]
	case north:
		return words[0]
	default:
		return words[1]
	}
}
