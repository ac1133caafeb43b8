package blunder

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// swapped reports whether o lies on the roof and fits there when northing and easting change places.
func (f *finder) swapped(o *Odd) bool {
	p := f.otherWay(o.Plan)
	const moved = 0.1 // m: less is no swap
	if vector.Norm(p[0]-o.Plan[0], p[1]-o.Plan[1]) < moved {
		return false
	}
	z, ok := f.height(p, o.Vertex)
	return ok && math.Abs(z-o.Z) <= math.Max(least/2, math.Min(3*o.Error, 0.3*math.Abs(o.Off())))
}

// otherWay returns where a place lies when the file's two coordinates change places.
func (f *finder) otherWay(p orb.Point) orb.Point {
	q := f.r.Frame.ToFile(p)
	return f.r.Frame.ToLocal(orb.Point{q[1], q[0]})
}

// height returns the elevation of the roof at p from facets that do not touch vertex without; -1 for all.
func (f *finder) height(p orb.Point, without int32) (float64, bool) {
	if f.locator == nil {
		f.locator = surface.NewLocator(f.t)
	}
	facet, ok := f.locator.Locate(p[0], p[1])
	if !ok {
		return 0, false
	}
	for e := 3 * facet; e < 3*facet+3; e++ {
		if f.t.V[e] == without {
			return 0, false
		}
	}
	return f.t.Height(facet, p[0], p[1]), true
}

// beside returns the elevation of the border where it runs nearest to p, if that is within reach: rods stand off walls, and some
// beyond an edge.
func (f *finder) beside(p orb.Point) (z float64, ok bool) {
	t := f.t
	best := 0.15 // [m]
	for e, o := range t.Twin {
		if o >= 0 {
			continue
		}
		a, b := t.V[e], t.End(int32(e))
		ux, uy := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
		k := (float64((p[0]-t.X[a])*ux) + float64((p[1]-t.Y[a])*uy)) / (float64(ux*ux) + float64(uy*uy))
		k = math.Min(1, math.Max(0, k))
		if d := vector.Norm(t.X[a]+float64(k*ux)-p[0], t.Y[a]+float64(k*uy)-p[1]); d < best {
			z, ok, best = t.Z[a]+float64(k*(t.Z[b]-t.Z[a])), true, d
		}
	}
	return z, ok
}

// outside returns the spots that fall off the roof and fit on it when northing and easting change places.
func (f *finder) outside() []Odd {
	const alike = 0.3 // [m]: few spots off the roof lie on it the other way round at all
	used := make([]bool, len(f.r.Spots))
	for _, i := range f.t.Spot {
		if i >= 0 {
			used[i] = true
		}
	}
	var out []Odd
	for i := range f.r.Spots {
		s := &f.r.Spots[i]
		if used[i] || f.kept[s.ID] {
			continue
		}
		if _, on := f.height(s.Plan, -1); on {
			continue // it was merged with another
		}
		other := f.otherWay(s.Plan)
		z, ok := f.height(other, -1)
		if !ok {
			z, ok = f.beside(other)
		}
		if ok && math.Abs(z-s.Z) <= alike {
			out = append(out, Odd{Vertex: -1, Spot: int32(i), Plan: s.Plan, Z: s.Z, Expected: z, Slips: []Slip{Swapped}})
		}
	}
	return out
}
