package mend

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/slope"
)

// edgeReach is how far from an edge a roof that rises to it is looked at [m]. Own choice.
const edgeReach = 2.5

// lowerEdge takes the rise before an open edge down to the plane that falls to it.
func (d *Designer) lowerEdge(p *Pond) (Mend, bool) {
	if p.Outlet < 0 || d.Surface.Outlets[p.Outlet].Line == nil {
		return Mend{}, false
	}
	o := &d.Surface.Outlets[p.Outlet]
	plane := d.planeAbove(p, o.Line)
	if plane == nil {
		return Mend{}, false
	}
	set, long, high := d.trimmed(p, o.Line, plane)
	if len(set) == 0 {
		return Mend{}, false
	}
	m := Mend{Kind: LowerEdge, Set: set, Decides: []string{finding.Roofer}, Area: long}
	m.Change = Change{At: vector.Nearest(o.Line, p.Pit), What: finding.Say("Lower nailer, metal and roof edge at {2} over {0}, by {1} at most, so that the roof falls to it", finding.Metres("length", long), finding.MM("drop", high), finding.Called(o.Label))}
	m.Questions = []Question{{
		Ask: finding.Say("How thick are the nailer and what lies under it at {1}? {0} must come off", finding.MM("drop", high), finding.Called(o.Label)), Where: o.Label, At: m.Change.At, Decides: finding.Roofer,
		If:   finding.Say("Thick enough, and there is edge metal tested for the wind at this edge"),
		Then: finding.Say("Lower the edge"),
	}}
	return m, true
}

// thinned takes the thicker layer off between a step and an open edge beside it, with the edge, so that the plane above goes on to the edge.
func (d *Designer) thinned(p *Pond) (Mend, bool) {
	if p.Outlet < 0 || d.Surface.Outlets[p.Outlet].Line == nil {
		return Mend{}, false
	}
	o := &d.Surface.Outlets[p.Outlet]
	wide := LineLength(orb.LineString{p.lip, vector.Nearest(o.Line, p.lip)})
	m, ok := d.lowerEdge(p)
	if !ok || wide > edgeReach {
		return Mend{}, false
	}
	long, high := m.Change.What.Args[0].Value, m.Change.What.Args[1].Value
	m.Change.Brief = "take the thicker layer down to the edge"
	m.Change.What = finding.Say("Take the roof between the step at "+p.ID+" and {2} down by {1} at most, over {0} along the edge and {3} up to the step, with nailer, metal and roof edge, so that it goes on as the roof above the step falls",
		finding.Metres("length", long), finding.MM("drop", high), finding.Called(o.Label), finding.Metres("width", wide))
	m.Questions = append(m.Questions, Question{
		Ask: finding.Say("What makes the step at "+p.ID+": a thicker layer of boards, {0} more than above it? Cut a core on each side", finding.MM("thicker", high)), Where: "on both sides of the step at " + p.ID, At: p.lip, Decides: finding.Roofer,
		If: finding.Say("A thicker layer, and what is left is thick enough"), Then: finding.Say("Take it down. The deck itself steps up: lay a taper before the step"),
	})
	return m, true
}

// planeAbove returns the largest plane that falls to an edge and lies beside or above a pond.
func (d *Designer) planeAbove(p *Pond, line orb.LineString) *slope.Plane {
	end := vector.Nearest(line, p.Pit)
	v := orb.Point{p.Pit[0] - end[0], p.Pit[1] - end[1]}
	l := vector.Distance(p.Pit, end)
	if l < 0.05 {
		v, l = d.inward(end), 1
	}
	var best *slope.Plane
	for _, from := range append(p.pits[:len(p.pits):len(p.pits)], p.Place.Bound().Center()) {
		for _, off := range []float64{0.5, 1, 2, 3, 4} {
			q := orb.Point{from[0] + float64(off*v[0]/l), from[1] + float64(off*v[1]/l)}
			f, ok := d.Locate.Locate(q[0], q[1])
			if !ok || d.Study.Slopes.Plane[f] < 0 {
				continue
			}
			a := &d.Study.Slopes.Planes[d.Study.Slopes.Plane[f]]
			fall := (float64(a.Gradient[0]*v[0]) + float64(a.Gradient[1]*v[1])) / l
			if fall >= d.Study.Criteria.MinValleySlope && (best == nil || a.Area > best.Area) {
				best = a
			}
		}
	}
	return best
}

// inward returns the direction from an edge's place onto the roof: amid all that lead there.
func (d *Designer) inward(p orb.Point) orb.Point {
	var sum orb.Point
	for k := range turns {
		q := around(p, k, 0.3)
		if _, ok := d.Locate.HeightAt(q[0], q[1]); ok {
			sum = vector.Plus(sum, compass[k])
		}
	}
	return vector.Unit(sum)
}

// trimmed returns the vertices near an edge that stand above a plane, on it, with how long that stretch is and how much comes off at most.
func (d *Designer) trimmed(p *Pond, line orb.LineString, plane *slope.Plane) (set map[int32]float64, long, high float64) {
	t := d.Surface.TIN
	set = map[int32]float64{}
	list := d.spread(d.within(vector.Nearest(line, p.Pit), edgeReach), func(v int32) bool {
		q := orb.Point{t.X[v], t.Y[v]}
		up := t.Z[v] - plane.At(q)
		if vector.DistanceSquared(vector.Nearest(line, q), q) > edgeReach*edgeReach || up <= proud/2 {
			return false
		}
		set[v] = math.Round(plane.At(q)*1e5) / 1e5
		high = math.Max(high, up)
		return true
	})
	if len(list) == 0 {
		return nil, 0, 0
	}
	return set, d.extentOn(line, list), high
}
