package rainload

import (
	"math"
	"slices"

	"runnel/analysis/standard"
)

// wet is a facet under water, wholly or in part, as a tent: its corners' elevations, ascending.
type wet struct {
	facet   int32
	a, b, c float64
	area    float64 // plan area of the facet [m2]
	level   float64
}

// below returns area and volume of the part of the facet under a level.
func (w *wet) below(level float64) (area, volume float64) {
	switch h := level; {
	case h <= w.a:
		return 0, 0
	case h < w.b:
		d := h - w.a
		k := w.area / float64((w.b-w.a)*(w.c-w.a))
		area = float64(k * float64(d*d))
		return area, float64(area*d) / 3
	case h < w.c:
		d := w.c - h
		k := w.area / float64((w.c-w.a)*(w.c-w.b))
		dry := float64(k * float64(d*d))
		mean := (w.a + w.b + w.c) / 3
		return w.area - dry, math.Max(0, float64(w.area*(h-mean))+float64(dry*d)/3)
	default:
		return w.area, float64(w.area * (h - (w.a+w.b+w.c)/3))
	}
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
	for i := range l.facets {
		area, volume := l.facets[i].below(l.facets[i].level)
		l.Area += area
		l.Volume += volume
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
		if math.IsInf(level, -1) {
			continue
		}
		z := [3]float64{t.Z[v[0]], t.Z[v[1]], t.Z[v[2]]}
		slices.Sort(z[:])
		ux, uy := t.X[v[1]]-t.X[v[0]], t.Y[v[1]]-t.Y[v[0]]
		wx, wy := t.X[v[2]]-t.X[v[0]], t.Y[v[2]]-t.Y[v[0]]
		l.facets = append(l.facets, wet{facet: f, a: z[0], b: z[1], c: z[2], level: level, area: (float64(ux*wy) - float64(uy*wx)) / 2})
	}
}

// measure fills in the depths of one water.
func (b *builder) measure(w *Water, g *group) {
	for _, v := range g.vertices {
		if d := g.level - b.TIN.Z[v]; d > w.Depth {
			w.Depth = d
		}
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
	for i := range l.facets {
		f := &l.facets[i]
		for _, v := range b.TIN.V[3*f.facet : 3*f.facet+3] {
			if of[v] > 0 {
				a, w := f.below(f.level)
				area[of[v]-1] += a
				volume[of[v]-1] += w
				break
			}
		}
	}
	return area, volume
}

// pressure is the weight of a depth of water [Pa].
func pressure(depth float64) float64 { return depth * standard.WaterDensity * standard.Gravity }
