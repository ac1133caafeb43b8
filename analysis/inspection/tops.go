package inspection

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/blunder"
	"runnel/analysis/finding"
	"runnel/analysis/geometry"
	"runnel/analysis/geometry/regression"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// When corners of the outline are taken for tops of walls: own choices. No roof with a low slope rises so much over so little before its wall.
const (
	leastTop   = 4 * float64(quantity.Inch) // above the roof that the spots before it say, and the steepest fall from the nearest of them [m]
	mostTops   = 0.5                        // share of the corners with an elevation that stand so
	fewestTops = 2
	planeSpots = 6 // spots that say where the roof is before a corner
)

// tops returns a note where corners of the outline stand above the roof before them as the tops of walls do: whoever shoots an outline shoots what is seen of it.
func (in *inspector) tops() []finding.Finding {
	o := &in.Roof.Outline
	if o.Edge != roof.Wall || o.Elevations != roof.Measured {
		return nil
	}
	given := map[[2]int32]bool{}
	for _, p := range o.Rings[0] {
		if p.HasZ {
			given[[2]int32{geometry.OnGrid(p.Plan[0]), geometry.OnGrid(p.Plan[1])}] = true
		}
	}
	t := in.Surface.TIN
	var high []int32
	off := 0.0
	corners := 0
	for v := range int32(len(t.X)) {
		if t.Out[v] < 0 || !t.Border(v) || !given[[2]int32{t.GX[v], t.GY[v]}] {
			continue
		}
		corners++
		if above, ok := in.aboveRoof(v); ok {
			high = append(high, v)
			off += above
		}
	}
	if len(high) < fewestTops || float64(len(high)) < mostTops*float64(corners) {
		return nil
	}
	f := blank(finding.CornersHigh, finding.Note)
	f.Confidence = finding.Likely
	f.Size = off
	first := orb.Point{t.X[high[0]], t.Y[high[0]]}
	f.Geometry = first
	f.Where = finding.Say("one of them:").And(in.Places.Of(first))
	mean := finding.MM("off", off/float64(len(high)))
	f.What = finding.Say("{0} corners of the outline stand about {1} above the roof beside them, as the tops of walls do.", finding.Number("corners", len(high)), mean)
	f.Measured = []finding.Quantity{mean}
	f.Why = finding.Say("The surface runs up to them. A strip along the walls then looks steep, and water that stands at the foot of a wall looks narrower than it is.")
	f.Do = finding.Say("If they were shot on the walls, say elevations=tops with the outline, and shoot the foot of the walls. If they were not, shoot the roof half a step before them. Keep back from edges that are not guarded.")
	return []finding.Finding{f}
}

// aboveRoof returns by how much border vertex v stands above the plane of the spots before it [m]; ok is false where that is no more than a roof may rise.
func (in *inspector) aboveRoof(v int32) (off float64, ok bool) {
	t := in.Surface.TIN
	var m regression.Sums
	nearest := math.Inf(1)
	for _, w := range in.inwards(v) {
		x, y := t.X[w]-t.X[v], t.Y[w]-t.Y[v]
		nearest = math.Min(nearest, vector.Norm(x, y))
		m.Add(x, y, t.Z[w]-t.Z[v])
	}
	const thin = 1e-3
	p, plane := m.Plane(thin)
	if !plane {
		return 0, false
	}
	off = -p.At(0, 0)
	return off, off >= leastTop+blunder.SteepFall*nearest
}

// inwards returns the spots inside the border that are nearest to vertex v by the number of edges to them: six, or some more at the same number.
func (in *inspector) inwards(v int32) []int32 {
	t := in.Surface.TIN
	seen := []int32{v}
	var out []int32
	for first, last := 0, 1; len(out) < planeSpots && first < last; first, last = last, len(seen) {
		for _, u := range seen[first:last] {
			for e := range t.Star(u) {
				if w := t.End(e); !slices.Contains(seen, w) {
					seen = append(seen, w)
					if !t.Border(w) && !t.Assumed[w] {
						out = append(out, w)
					}
				}
			}
		}
	}
	return out
}
