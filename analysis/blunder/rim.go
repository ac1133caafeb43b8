package blunder

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/choose"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// SteepFall is as steep as low-slope roofs are built: 1/2 in per ft, rise over run.
const SteepFall = 0.04

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
	if len(near) < 2 || math.Abs(off) > float64(SteepFall*near[1].far) {
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
	return choose.If(math.IsInf(least, 1), 0, least)
}

// steepSide is as steep as a side of a cricket is built, rise over run.
const steepSide = 0.06

// corner reports whether v is a corner of the border, or stands in one, that a roof's fall, to the point nearest to it, may well set off by so much [m]: the
// planes that meet in a corner may have no other point to show them.
func (f *finder) corner(v int32, off float64) bool {
	t := f.t
	last := t.Last(v)
	if last < 0 {
		return f.inCorner(v, off)
	}
	a, b := t.V[last], t.End(t.Out[v])
	ax, ay, bx, by := t.X[a]-t.X[v], t.Y[a]-t.Y[v], t.X[b]-t.X[v], t.Y[b]-t.Y[v]
	la, lb := vector.Norm(ax, ay), vector.Norm(bx, by)
	if float64(ax*bx)+float64(ay*by) < straight*la*lb {
		return false
	}
	return math.Abs(off) < math.Max(gross, steepSide*math.Min(la, lb))
}

// wallFoot is how near to a wall its foot is shot [m]: a rod's width and what a base flashing takes up.
const wallFoot = 0.25

// inCorner is corner for a vertex at the foot of two walls, seen by what was measured round it.
func (f *finder) inCorner(v int32, off float64) bool {
	t := f.t
	var feet []orb.Point
	least, rise := math.Inf(1), 0.0
	for e := range t.Star(v) {
		w := t.End(e)
		x, y := t.X[w]-t.X[v], t.Y[w]-t.Y[v]
		d := vector.Norm(x, y)
		if t.Border(w) && d < wallFoot {
			feet = append(feet, orb.Point{x / d, y / d})
		}
		if !t.Assumed[w] && d < least {
			least, rise = d, math.Abs(t.Z[w]-t.Z[v])
		}
	}
	for i, a := range feet {
		for _, b := range feet[:i] {
			if math.Abs(float64(a[0]*b[1])-float64(a[1]*b[0])) > 0.7 { // their directions differ by 45 degrees or more
				return math.Abs(off) < math.Max(gross, steepSide*least) || rise < SteepFall*least
			}
		}
	}
	return false
}

// crown reports whether v is the end of a coded line at the border whose own fall may well set it off by so much [m]: the top of a cricket at its
// wall, whose planes end so soon that no plane beside them tells of it.
func (f *finder) crown(v int32, off float64) bool {
	t := f.t
	if !t.Border(v) {
		return false
	}
	for e := range t.Star(v) {
		if t.Twin[e] < 0 || t.Flag[e]&surface.BreaklineEdge == 0 {
			continue
		}
		w := t.End(e)
		if far := vector.Norm(t.X[w]-t.X[v], t.Y[w]-t.Y[v]); math.Abs(off) <= math.Min(gross, steepSide*far) {
			return true
		}
	}
	return false
}
