package layer

import "github.com/paulmach/orb"

// heights gives the elevation of the surface at places of the roof. Lon/lat files carry no elevations in
// their coordinates, so there it is not looked for.
func (w *builder) heights() height {
	if w.grid.Geographic {
		return unknown
	}
	return func(p orb.Point) (float64, bool) { return w.locator.HeightAt(p[0], p[1]) }
}

// vertexHeights gives the elevation at the places of these vertices of the cut surface.
func (w *builder) vertexHeights(vs []int32) height {
	t := w.book.Study.Surface.Cut
	z := make(map[orb.Point]float64, len(vs))
	for _, v := range vs {
		z[orb.Point{t.X[v], t.Y[v]}] = t.Z[v]
	}
	return func(p orb.Point) (float64, bool) {
		h, ok := z[p]
		return h, ok
	}
}
