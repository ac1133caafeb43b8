package catchment

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/geometry/vector"
)

// speck is the area below which a hole or a part of an outline is an effect of rounding [m2].
const speck = 1e-12

// outer is an outer ring with its holes.
type outer struct {
	area  float64
	bound orb.Bound
	rings orb.Polygon
}

// nest puts every hole in the smallest outer ring around it. Polygons are ordered by area, largest first,
// then by place.
func nest(rings []orb.Ring) orb.MultiPolygon {
	var outers []outer
	var holes []orb.Ring
	for _, r := range rings {
		switch area := vector.Area(r); {
		case area > speck:
			outers = append(outers, outer{area, r.Bound(), orb.Polygon{r}})
		case area < -speck:
			holes = append(holes, r)
		}
	}
	slices.SortFunc(outers, func(a, b outer) int {
		return cmp.Or(cmp.Compare(b.area, a.area), comparePoints(a.rings[0][0], b.rings[0][0]))
	})
	slices.SortFunc(holes, func(a, b orb.Ring) int { return comparePoints(a[0], b[0]) })
	for _, h := range holes {
		if i := around(outers, h); i >= 0 {
			outers[i].rings = append(outers[i].rings, h)
		}
	}
	m := make(orb.MultiPolygon, 0, len(outers))
	for _, o := range outers {
		m = append(m, o.rings)
	}
	return m
}

func comparePoints(a, b orb.Point) int {
	return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
}

// around returns the smallest outer ring that holds a hole, -1 when none does. The hole may touch it in a
// point, so the middle of the hole's longest side decides.
func around(outers []outer, hole orb.Ring) int {
	bound := hole.Bound()
	middle, longest := hole[0], math.Inf(-1)
	for i := 1; i < len(hole); i++ {
		a, b := hole[i-1], hole[i]
		if l := planar.DistanceSquared(a, b); l > longest {
			longest, middle = l, orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		}
	}
	for i := len(outers) - 1; i >= 0; i-- {
		o := &outers[i]
		if o.bound.Contains(bound.Min) && o.bound.Contains(bound.Max) && planar.RingContains(o.rings[0], middle) {
			return i
		}
	}
	return -1
}
