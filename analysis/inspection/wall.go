package inspection

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/surface"
)

// Limits of a wall without a cricket: own choices.
const (
	besideWall = 6 * float64(quantity.Foot) // an outlet this near to a wall takes what comes along its foot [m]
	mostOfFoot = 0.9                        // share of a stretch that must lie level for all of it to be called so
	before     = 1.0                        // how far before a wall its plane is looked up at least [m]
	wallStep   = 0.5                        // from one look to the next [m]
	oneWall    = 0.035                      // edges that turn less than this are one wall [rad]: 2 degrees
)

// foot is a stretch of a wall's foot, from outlet to outlet, or to where the wall ends.
type foot struct {
	line   orb.LineString
	length float64 // plan [m]
	reach  float64 // from an outlet to the middle, or from one to the end [m]
}

// feet returns one note for the stretches of wall onto which the roof falls and along which nothing turns the water to an outlet: the foot is level there, beyond
// the measuring error, and no listed pond says so already.
func (in *inspector) feet() []finding.Finding {
	if !slices.ContainsFunc(in.Surface.Outlets, func(o surface.Outlet) bool { return o.Duty == roof.Primary }) {
		return nil
	}
	var level []foot
	total := 0.0
	for _, wall := range in.walls() {
		for _, f := range in.levelFeet(wall) {
			level = append(level, f)
			total += f.length
		}
	}
	if len(level) == 0 {
		return nil
	}
	longest := slices.MaxFunc(level, func(a, b foot) int { return cmp.Compare(a.reach, b.reach) })
	f := blank(finding.WallFlat, finding.Note)
	f.Confidence = finding.Likely
	if in.Surface.Spacing > longest.reach/2 { // a cricket is up to half as wide as long (recalled): the spots may pass it by
		f.Confidence = finding.NotResolved
	}
	f.Size = total
	size := finding.Metres("length", total)
	f.What = finding.Say("The roof falls onto {0} of wall, and no cricket shows that turns the water to an outlet.", size)
	f.Where = in.Places.Of(half(longest.line))
	if n := len(level); n > 1 {
		f.What = finding.Say("The roof falls onto {0} stretches of wall, {1} in all, and no cricket shows that turns the water to an outlet.", finding.Number("stretches", n), size)
		f.Where = finding.Say("the longest:").And(f.Where)
	}
	f.Measured = []finding.Quantity{size}
	f.Required = []finding.Quantity{finding.Fall("least slope", in.Criteria.MinValleySlope)}
	f.Source = in.cite("min_valley_slope", in.Criteria.MinValleySlope != in.usual().MinValleySlope)
	f.Why = finding.Say("Where the roof along a wall is level, water stands in every slight sag, and a slight rise sends it to another outlet.")
	f.Do = finding.Say("Look along the wall 48 hours after rain. Where water stands and there is no cricket, plan one at the next re-roofing.")
	f.Geometry = orb.Polygon{strip(longest.line)}
	return []finding.Finding{f}
}

// walls returns the straight walls of the outline, each as half-edges of the uncut TIN in their order.
func (in *inspector) walls() [][]int32 {
	t := in.Surface.TIN
	var out [][]int32
	for _, ring := range t.Rings() {
		var wall []int32
		for _, e := range ring {
			if t.Flag[e]&surface.WallEdge == 0 {
				wall = nil
				continue
			}
			if wall == nil || math.Abs(in.turn(wall[0], e)) > oneWall {
				out = append(out, nil)
			}
			out[len(out)-1] = append(out[len(out)-1], e)
			wall = out[len(out)-1]
		}
	}
	return out
}

// turn returns the angle from half-edge a to half-edge b, to the left.
func (in *inspector) turn(a, b int32) float64 {
	p, q := in.along(a), in.along(b)
	return math.Atan2(float64(p[0]*q[1])-float64(p[1]*q[0]), float64(p[0]*q[0])+float64(p[1]*q[1]))
}

// along returns half-edge e as a vector [m].
func (in *inspector) along(e int32) [2]float64 {
	t := in.Surface.TIN
	a, b := t.V[e], t.V[surface.Next(e)]
	return [2]float64{t.X[b] - t.X[a], t.Y[b] - t.Y[a]}
}

// levelFeet returns the stretches of a wall that are level along their foot and farther from an outlet than a valley is judged.
func (in *inspector) levelFeet(wall []int32) []foot {
	t := in.Surface.TIN
	first := t.V[wall[0]]
	from := orb.Point{t.X[first], t.Y[first]}
	last := t.V[surface.Next(wall[len(wall)-1])]
	length := vector.Norm(t.X[last]-from[0], t.Y[last]-from[1])
	if length < shortValley {
		return nil
	}
	u := [2]float64{(t.X[last] - from[0]) / length, (t.Y[last] - from[1]) / length}
	cuts := in.outletsAlong(from, u, length)
	var out []foot
	for k := 0; k+1 < len(cuts); k++ {
		a, b := cuts[k], cuts[k+1]
		f := foot{length: b - a, reach: b - a}
		if k > 0 && k+2 < len(cuts) {
			f.reach /= 2
		}
		if f.reach < shortValley || in.crickets(from, u, a, b) || in.levelShare(from, u, a, b) < mostOfFoot {
			continue
		}
		f.line = orb.LineString{{from[0] + float64(u[0]*a), from[1] + float64(u[1]*a)}, {from[0] + float64(u[0]*b), from[1] + float64(u[1]*b)}}
		out = append(out, f)
	}
	return out
}

// outletsAlong returns where along a wall outlets take what comes along its foot [m], between its two ends.
func (in *inspector) outletsAlong(from orb.Point, u [2]float64, length float64) []float64 {
	cuts := []float64{0, length}
	for i := range in.Surface.Outlets {
		o := &in.Surface.Outlets[i]
		dx, dy := o.Plan[0]-from[0], o.Plan[1]-from[1]
		at := float64(dx*u[0]) + float64(dy*u[1])
		off := math.Abs(float64(dy*u[0]) - float64(dx*u[1]))
		if o.Duty == roof.Primary && off <= besideWall && at > 0 && at < length {
			cuts = append(cuts, at)
		}
	}
	slices.Sort(cuts)
	return cuts
}

// crickets reports whether a coded line of a cricket begins or ends before a wall between a and b [m]: it is judged by its own valleys.
func (in *inspector) crickets(from orb.Point, u [2]float64, a, b float64) bool {
	before := func(p orb.Point) bool {
		dx, dy := p[0]-from[0], p[1]-from[1]
		at, off := float64(dx*u[0])+float64(dy*u[1]), float64(dy*u[0])-float64(dx*u[1])
		return at > a && at < b && off <= b-a
	}
	return slices.ContainsFunc(in.Slopes.Valleys, func(l slope.Line) bool {
		return isCricket(&l) && (before(l.Plan[0]) || before(l.Plan[len(l.Plan)-1]))
	})
}

// levelShare returns over which share of a wall from a to b [m] the plane before it falls onto the wall and not along it, and no listed pond stands there,
// whose own finding says why. The plane is looked up where spots tell of it.
func (in *inspector) levelShare(from orb.Point, u [2]float64, a, b float64) float64 {
	off := math.Max(before, in.Surface.Spacing*0.75)
	n := int(math.Ceil((b - a) / wallStep))
	level := 0
	last, lies := int32(-1), false // a plane, and whether it lies so: most looks find the one before
	for k := range n {
		at := a + (b-a)*(float64(k)+0.5)/float64(n)
		f, ok := in.locate.Locate(from[0]+float64(u[0]*at)-float64(u[1]*off), from[1]+float64(u[1]*at)+float64(u[0]*off))
		if !ok {
			continue
		}
		if i := in.Slopes.Plane[f]; i != last {
			last, lies = i, i >= 0 && in.levelAlong(&in.Slopes.Planes[i], u)
		}
		if w := in.wet[f]; lies && (w < 0 || in.noted(int(w))) {
			level++
		}
	}
	return float64(level) / float64(n)
}

// levelAlong reports whether a plane was measured, falls onto a wall of direction u whose roof lies on its left, and along it by less than a valley must.
func (in *inspector) levelAlong(p *slope.Plane, u [2]float64) bool {
	onto := float64(p.Gradient[1]*u[0]) - float64(p.Gradient[0]*u[1])
	by := math.Abs(float64(p.Gradient[0]*u[0]) + float64(p.Gradient[1]*u[1]))
	least := in.Criteria.MinValleySlope
	return onto >= least && by+2*p.Error() < least && p.Area >= leastArea && p.Width() >= thinnest && !in.unsettled(p)
}
