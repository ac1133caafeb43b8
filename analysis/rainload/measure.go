package rainload

import (
	"math"
	"slices"

	"runnel/analysis/ponding"
	"runnel/analysis/standard"
)

// wet is a facet under water, wholly or in part: plan area [m2] and volume [m3] of its water.
type wet struct {
	facet        int32
	area, volume float64
}

// load sums up what the groups and the ponds hold.
func (b *builder) load() *Load {
	l := &Load{Level: slices.Clone(b.Ponds.Level), Deepest: -1, Complete: b.Inflow != nil}
	for i := range b.Ponds.Ponds {
		l.Enclosed = l.Enclosed || b.Ponds.Ponds[i].Undrained
	}
	for v, p := range b.Ponds.Of {
		if p >= 0 && b.Ponds.Ponds[p].Undrained {
			l.Level[v] = b.TIN.Z[v]
		}
	}
	for _, g := range b.groups {
		for _, v := range g.vertices {
			l.Level[v] = math.Max(l.Level[v], g.level)
		}
		l.Complete = l.Complete && g.known
	}
	b.collect(l)
	for _, f := range l.facets {
		l.Area += f.area
		l.Volume += f.volume
	}
	for v, level := range l.Level {
		if d := level - b.TIN.Z[v]; d > l.Depth {
			l.Depth, l.Deepest = d, int32(v)
		}
	}
	l.Load, l.Weight = pressure(l.Depth), l.Volume*standard.WaterDensity
	l.Waters = b.waters(l)
	return l
}

// collect lists the facets under water.
func (b *builder) collect(l *Load) {
	t := b.TIN
	for f := range int32(t.Facets()) {
		v := t.V[3*f : 3*f+3]
		level := math.Inf(-1)
		for _, x := range v {
			if l.Level[x] > t.Z[x] {
				level = math.Max(level, l.Level[x])
			}
		}
		area, volume := ponding.Under(level-t.Z[v[0]], level-t.Z[v[1]], level-t.Z[v[2]], t.FacetArea(f))
		if area > 0 {
			l.facets = append(l.facets, wet{f, area, volume})
		}
	}
}

// measure fills in the depths of one water.
func (b *builder) measure(w *Water, g *group) {
	for _, v := range g.vertices {
		w.Depth = max(w.Depth, g.level-b.TIN.Z[v])
	}
	w.StaticHead = math.Max(0, w.Depth-w.Head)
	w.Load = pressure(w.Depth)
}

// shares returns area and volume of the water of each group. A vertex that is in the water of two, which meet at a
// saddle, counts to the first.
func (b *builder) shares(l *Load) (area, volume []float64) {
	area, volume = make([]float64, len(b.groups)), make([]float64, len(b.groups))
	of := make([]int32, len(b.TIN.X))
	for i, g := range b.groups {
		for _, v := range g.vertices {
			if of[v] == 0 {
				of[v] = int32(i + 1)
			}
		}
	}
	for _, f := range l.facets {
		for _, v := range b.TIN.V[3*f.facet : 3*f.facet+3] {
			if of[v] > 0 {
				area[of[v]-1] += f.area
				volume[of[v]-1] += f.volume
				break
			}
		}
	}
	return area, volume
}

// pressure is the weight of a depth of water [Pa].
func pressure(depth float64) float64 { return depth * standard.WaterDensity * standard.Gravity }
