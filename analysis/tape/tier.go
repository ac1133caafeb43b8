// Package tape says what can be said of a roof that was measured with tape, chalk and ruler, with or without a few heights.
//
// What a survey can answer is its tier. A: edges, depths and distances only; areas, volumes and weights of the water that was seen, no
// slopes and no catchments. B: a few heights between ponds and outlets besides; what holds the water. C: heights all over the roof; then
// package study answers everything, and this package has nothing to add. Each tier says which spots would answer the next question.
package tape

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
)

// Tier is how much a survey can answer.
type Tier uint8

// The tiers.
const (
	A Tier = iota // tape, chalk and ruler
	B             // a few heights between ponds and outlets as well
	C             // heights all over the roof
)

// String returns the letter.
func (t Tier) String() string { return string("ABC"[t]) }

// A surface is drawn from this many heights or more, when they stand round at least this part of the roof. Own choice: fewer say nothing
// of the rest.
const (
	fewestHeights = 8
	leastShare    = 0.5
)

// TierOf returns the tier of a roof. One whose places are coordinates is C: there the survey's own rules say whether its spots are enough.
func TierOf(r *roof.Roof) Tier {
	if r.Tape == nil || !r.Tape.Placed {
		return C
	}
	heights := heightsOf(r)
	if len(heights) >= fewestHeights && hullArea(heights) >= leastShare*math.Abs(planar.Area(roof.PlanOf(r.Outline.Rings[0]))) {
		return C
	}
	if len(heights) > 0 || len(r.Tape.Probes) > 0 || slices.ContainsFunc(r.Outlets, func(o roof.Outlet) bool { return o.HasInvert }) {
		return B
	}
	return A
}

// heightsOf returns the places of the heights from which a surface is drawn.
func heightsOf(r *roof.Roof) []orb.Point {
	out := gather.Each(r.Spots, func(x roof.Spot) orb.Point { return x.Plan })
	lines := [][]roof.Position{r.Outline.Rings[0]}
	for i := range r.Breaklines {
		lines = append(lines, r.Breaklines[i].Line)
	}
	for _, line := range lines {
		for i := range line {
			if line[i].HasZ {
				out = append(out, line[i].Plan)
			}
		}
	}
	return out
}

// hullArea returns the area of the convex hull of points (Andrew's monotone chain, from memory).
func hullArea(points []orb.Point) float64 {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b orb.Point) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	var hull orb.Ring
	for range 2 {
		from := len(hull)
		for _, q := range p {
			for len(hull) >= from+2 && vector.Turn(hull[len(hull)-2], hull[len(hull)-1], q) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, q)
		}
		hull = hull[:len(hull)-1]
		slices.Reverse(p)
	}
	if len(hull) < 3 {
		return 0
	}
	return math.Abs(planar.Area(append(hull, hull[0])))
}
