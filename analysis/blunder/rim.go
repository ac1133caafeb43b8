package blunder

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
)

// steepFall is as steep as low-slope roofs are built: 1/2 in per ft, rise over run.
const steepFall = 0.04

// roundEdges reports whether a survey was taken round the edge and at the outlets: next to none of its points stands inside a row of others. Such a survey does
// not show where planes meet.
func (f *finder) roundEdges() bool {
	const share = 0.85 // own choice: of a grid of 4 by 4 spots 0.75 stand along the edge
	t := f.t
	along, all := 0, 0
	for v := range int32(len(t.X)) {
		if t.Assumed[v] || t.Out[v] < 0 || f.atOutlet(v) >= 0 {
			continue
		}
		all++
		if t.Border(v) {
			along++
			continue
		}
		for e := range t.Star(v) {
			if t.Border(t.End(e)) {
				along++
				break
			}
		}
	}
	return float64(along) >= share*float64(all)
}

// Of a point whose near neighbours all stand along one or two lines from it: how much farther than the second nearest of them counts as near, and how
// far off those lines they may stand [rad]. Own choices, on ring surveys of seeds 500 to 799.
const (
	rimNear = 1.3
	rimWide = 20 * math.Pi / 180
)

// rim reports whether v, which stands off by so much [m], is a point of a survey round the edge: all that stand near it do so along a wall, or along
// two walls from their corner, so that planes may meet there of which no other point tells. The fall of a roof to the second nearest is then allowed.
func (f *finder) rim(v int32, off float64) bool {
	sides := f.hood.sides(v)
	if !f.edges || len(sides) != 1 {
		return false
	}
	near := f.hood.gather(v, sides[0], f.without)
	if len(near) < 2 || math.Abs(off) > float64(steepFall*near[1].far) {
		return false
	}
	var at []float64
	for _, n := range near {
		if n.far <= float64(rimNear*near[1].far) {
			at = append(at, math.Atan2(f.t.Y[n.vertex]-f.t.Y[v], f.t.X[n.vertex]-f.t.X[v]))
		}
	}
	slices.Sort(at)
	widest, first := 0.0, 0
	for i := range at {
		gap := at[(i+1)%len(at)] - at[i]
		if gap <= 0 {
			gap += 2 * math.Pi
		}
		if gap > widest {
			widest, first = gap, (i+1)%len(at)
		}
	}
	if widest < math.Pi-rimWide {
		return false
	}
	whole := 2*math.Pi - widest // from the first to the last
	for i := range at {
		a := at[(first+i)%len(at)] - at[first]
		if a < 0 {
			a += 2 * math.Pi
		}
		if a > rimWide && a < whole-rimWide {
			return false
		}
	}
	return true
}

// nearestTo returns how far the measured point nearest to p is of those that are not within reach of it [m]; 0 where there is none.
func (f *finder) nearestTo(p orb.Point, reach float64) float64 {
	least := math.Inf(1)
	for w := range f.t.X {
		if f.t.Assumed[w] || f.without[w] {
			continue
		}
		if d := vector.Norm(f.t.X[w]-p[0], f.t.Y[w]-p[1]); d > reach {
			least = math.Min(least, d)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}
