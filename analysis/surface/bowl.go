package surface

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry"
	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/pose"
)

// Cosines of 22.5, 45 and 67.5 degrees.
const (
	cos1 = 0.92387953251128674
	cos2 = 0.70710678118654752
	cos3 = 0.38268343236508977
)

// bowl returns the regular polygon of 16 corners on the circle of the given diameter, the first due east.
func bowl(p orb.Point, diameter float64) []corner {
	r := math.Max(diameter, leastFootprint) / 2
	c := [17]float64{1, cos1, cos2, cos3, 0, -cos3, -cos2, -cos1, -1, -cos1, -cos2, -cos3, 0, cos3, cos2, cos1, 1}
	ring := make([]corner, 16)
	for i := range ring {
		ring[i] = corner{geometry.OnGrid(p[0] + float64(r*c[i])), geometry.OnGrid(p[1] + float64(r*c[(i+12)%16]))}
	}
	return ring
}

// posed returns a ring in the order in which it is cut: from the corner farthest east in the pose of the roof, counter-clockwise there, so that the pieces
// do not hang on how the roof lies.
func posed(ring []corner, p pose.Pose) []corner {
	out := slices.Clone(ring)
	if p.Mirrors() {
		slices.Reverse(out)
	}
	first, least := 0, orb.Point{}
	for i, c := range out {
		u, v := p.Point(c.x, c.y)
		if at := (orb.Point{float64(u), float64(v)}); i == 0 || at[0] > least[0] || at[0] == least[0] && at[1] > least[1] {
			first, least = i, at
		}
	}
	return append(out[first:len(out):len(out)], out[:first]...)
}

// collectDrains finds the facets of every bowl, the lowest surface in it and its invert.
func (l *layout) collectDrains() {
	t := l.s.Cut
	var boxes []orb.Bound
	var of []int
	for i, ring := range l.rings {
		if ring == nil {
			continue
		}
		b := ringBox(ring)
		boxes, of = append(boxes, b), append(of, i)
		l.outlets[i].Low = math.Inf(1)
	}
	if len(boxes) == 0 {
		return
	}
	grid := nearby.NewBoxes(len(boxes), max(64, 4*len(boxes)), func(i int) orb.Bound { return boxes[i] })
	for f := range int32(t.Facets()) {
		a, b, c := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
		x := (float64(t.GX[a]) + float64(t.GX[b]) + float64(t.GX[c])) / 3
		y := (float64(t.GY[a]) + float64(t.GY[b]) + float64(t.GY[c])) / 3
		for _, k := range grid.Near(x, y) {
			if i := of[k]; boxes[k].Contains(orb.Point{x, y}) && inRing(l.rings[i], x, y) {
				l.cover(&l.outlets[i], f)
			}
		}
	}
	for _, i := range of {
		if o := &l.outlets[i]; len(o.Facets) == 0 {
			// A bowl so small that no facet's middle lies in it: the facet under the drain.
			near, _ := l.locate.Locate(o.Plan[0], o.Plan[1])
			if f, ok := l.cut.find(max(near, 0), geometry.OnGrid(o.Plan[0]), geometry.OnGrid(o.Plan[1])); ok {
				near = f
			}
			l.cover(o, max(near, 0))
		}
	}
}

// cover adds a facet of the cut TIN to an outlet's footprint.
func (l *layout) cover(o *Outlet, f int32) {
	t := l.s.Cut
	o.Facets = append(o.Facets, f)
	for _, v := range t.V[3*f : 3*f+3] {
		o.Low = math.Min(o.Low, t.Z[v])
	}
}

// inRing reports whether a place lies in a convex ring, counter-clockwise.
func inRing(ring []corner, x, y float64) bool {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if float64(float64(q.x-p.x)*(y-float64(p.y)))-float64(float64(q.y-p.y)*(x-float64(p.x))) < 0 {
			return false
		}
	}
	return true
}
