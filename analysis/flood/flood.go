// Package flood draws water that stands on a surface, in bands of depth.
//
// A level for each vertex says how high water stands there, or the vertex's own elevation where it is dry. In
// a facet water is level: it stands at the highest level of its wet corners, so that its edge lies where the
// facet rises out of it and not at the nearest dry vertex. Each facet is cut at the limits of the bands; the
// pieces of one band that share an edge are joined by leaving out what they share, edge by edge, so that
// neighbours have the same points and areas add up.
package flood

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// Band is the water of a range of depths.
type Band struct {
	From, To float64          // depth [m]; To is the greatest depth there is in the deepest band
	Outline  orb.MultiPolygon // outer rings counter-clockwise, holes clockwise
	Area     float64          // plan area [m2]
	Volume   float64          // of the water that stands on it [m3]
}

// Steps returns limits for Bands: multiples of step up to a depth, or of 2, 5, 10, 20, ... steps where there would
// be more than most of them.
func Steps(depth, step float64, most int) []float64 {
	for _, k := range []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		n := int(math.Ceil(depth/(step*k) - 1e-9))
		if n > most {
			continue
		}
		limits := make([]float64, 0, n)
		for i := range n {
			limits = append(limits, float64(i)*step*k)
		}
		return limits
	}
	return []float64{0}
}

// Bands returns the water by depth, shallowest first. limits are where bands begin [m], rising, the first usually 0;
// the last band goes on to the greatest depth. Bands without area are left out. len(level) == len(t.Z).
func Bands(t *surface.TIN, level, limits []float64) []Band {
	var out []Band
	deepest := 0.0
	for v := range t.Z {
		deepest = max(deepest, level[v]-t.Z[v])
	}
	for i, from := range limits {
		to := math.Inf(1)
		if i+1 < len(limits) {
			to = limits[i+1]
		}
		b := band(t, level, from, to)
		b.From, b.To = from, min(to, deepest)
		if b.Area > 0 {
			out = append(out, b)
		}
	}
	return out
}

// band returns the water deeper than from and not deeper than to.
func band(t *surface.TIN, level []float64, from, to float64) Band {
	var b Band
	j := joiner{next: map[key][]key{}, at: map[key]orb.Point{}}
	for f := int32(0); f < int32(t.Facets()); f++ {
		l, wet := standing(t, level, f)
		if !wet {
			continue
		}
		c := piece(t, f, l, from, to)
		if len(c) < 3 {
			continue
		}
		area, moment := measure(c)
		b.Area += area
		b.Volume += moment
		j.add(c)
	}
	if b.Area > 0 {
		b.Outline = j.polygons()
	}
	return b
}

// standing returns the level of the water in facet f.
func standing(t *surface.TIN, level []float64, f int32) (l float64, wet bool) {
	l = math.Inf(-1)
	for e := 3 * f; e < 3*f+3; e++ {
		if v := t.V[e]; level[v] > t.Z[v] {
			l, wet = max(l, level[v]), true
		}
	}
	return l, wet
}

// corner is a point of a piece with the depth of water there.
type corner struct {
	key   key
	plan  orb.Point
	depth float64
}

// key names a corner, the same from both sides of an edge: a vertex, or the cut through an edge (its lower
// half-edge) where the depth is a limit.
type key struct {
	index int32
	cut   uint8 // 0: vertex; 1, 2: cut at the lesser, the greater limit
	level uint64
}

// piece returns the part of facet f between two depths under water at level l, counter-clockwise. A level facet at
// the lesser depth itself belongs to the shallower band.
func piece(t *surface.TIN, f int32, l, from, to float64) []corner {
	var all []corner
	if t.Level(f) && l-t.Z[t.V[3*f]] <= from {
		return nil
	}
	for e := 3 * f; e < 3*f+3; e++ {
		v, w := t.V[e], t.V[surface.Next(e)]
		dv, dw := l-t.Z[v], l-t.Z[w]
		if dv >= from && dv <= to {
			all = append(all, corner{key{index: v}, orb.Point{t.X[v], t.Y[v]}, dv})
		}
		first, second := from, to // in the order in which the edge meets them
		one, two := uint8(1), uint8(2)
		if dw < dv {
			first, second, one, two = to, from, two, one
		}
		for _, c := range []struct {
			at  float64
			cut uint8
		}{{first, one}, {second, two}} {
			if (dv < c.at) != (dw < c.at) && dv != c.at && dw != c.at {
				all = append(all, cross(t, e, l, c.at, c.cut))
			}
		}
	}
	return all
}

// cross returns the cut through half-edge e where water at level l has a depth. It is computed from the lower of the
// two half-edges, so that both sides agree.
func cross(t *surface.TIN, e int32, l, depth float64, cut uint8) corner {
	low := e
	if twin := t.Twin[e]; twin >= 0 && twin < e {
		low = twin
	}
	a, b := t.V[low], t.V[surface.Next(low)]
	s := ((l - depth) - t.Z[a]) / (t.Z[b] - t.Z[a])
	p := orb.Point{t.X[a] + float64(s*(t.X[b]-t.X[a])), t.Y[a] + float64(s*(t.Y[b]-t.Y[a]))}
	return corner{key{low, cut, math.Float64bits(l)}, p, depth}
}

// measure returns the area of a convex piece and the volume of water over it.
func measure(c []corner) (area, volume float64) {
	for i := 1; i+1 < len(c); i++ {
		a, b, d := c[0].plan, c[i].plan, c[i+1].plan
		part := (float64((b[0]-a[0])*(d[1]-a[1])) - float64((d[0]-a[0])*(b[1]-a[1]))) / 2
		area += part
		volume += part * (c[0].depth + c[i].depth + c[i+1].depth) / 3
	}
	return area, volume
}
