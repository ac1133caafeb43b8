package contour

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// walker follows contours over the edges of a TIN.
//
// Contour k, at k times the interval, enters a facet over a half-edge that falls through the level and
// leaves it over one that rises through it: facets run counter-clockwise, so higher ground is left.
type walker struct {
	t        *surface.TIN
	interval float64
	below    []int64  // per vertex: the highest contour at or below it
	first    []int32  // per half-edge: the bit before its first in seen; one more at the end
	seen     []uint64 // bit per contour that enters over a half-edge
	lines    []Line
}

// highest returns the number of the highest contour at or below elevation z.
func (w *walker) highest(z float64) float64 {
	const rounding = 1e-9 // of an interval: elevations that are whole multiples are at the level
	return math.Floor(z/w.interval + rounding)
}

// crossings returns how many points the contours have.
func (w *walker) crossings() float64 {
	t, n := w.t, 0.0
	for e := range t.V {
		n += math.Max(0, w.highest(t.Z[t.V[e]])-w.highest(t.Z[t.V[surface.Next(int32(e))]]))
	}
	return n
}

// prepare numbers the vertices and makes room for the marks.
func (w *walker) prepare() {
	t := w.t
	w.below = make([]int64, len(t.Z))
	for v, z := range t.Z {
		w.below[v] = int64(w.highest(z))
	}
	w.first = make([]int32, len(t.V)+1)
	for e := range t.V {
		high, low := w.below[t.V[e]], w.below[t.V[surface.Next(int32(e))]]
		w.first[e+1] = w.first[e] + int32(max(0, high-low))
	}
	w.seen = make([]uint64, w.first[len(t.V)]/64+1)
}

// all follows every contour: first those that come in over the border, then the closed ones.
func (w *walker) all() {
	for e := range w.t.V {
		if w.t.Twin[e] < 0 {
			w.from(int32(e))
		}
	}
	for e := range w.t.V {
		w.from(int32(e))
	}
}

// from follows every contour that enters over half-edge e and was not met yet.
func (w *walker) from(e int32) {
	if w.first[e] == w.first[e+1] {
		return
	}
	low, high := w.below[w.t.V[surface.Next(e)]], w.below[w.t.V[e]]
	for k := low + 1; k <= high; k++ {
		if !w.mark(e, k) {
			continue
		}
		if plan := w.follow(e, k); len(plan) > 1 {
			w.lines = append(w.lines, Line{Elevation: float64(k) * w.interval, Plan: plan})
		}
	}
}

// mark notes that contour k enters over e; false when that was noted before.
func (w *walker) mark(e int32, k int64) bool {
	i := int64(w.first[e]) + k - w.below[w.t.V[surface.Next(e)]]
	bit := uint64(1) << (i % 64)
	if w.seen[i/64]&bit != 0 {
		return false
	}
	w.seen[i/64] |= bit
	return true
}

// follow returns contour k from where it enters over e until it leaves the surface or is back.
func (w *walker) follow(e int32, k int64) orb.LineString {
	plan := orb.LineString{w.point(e, k)}
	for {
		if e = surface.Next(e); w.below[w.t.V[surface.Next(e)]] < k { // not over this one, which starts below the level
			e = surface.Next(e)
		}
		e = w.leave(&plan, e, k)
		if e < 0 || !w.mark(e, k) {
			return plan
		}
	}
}

// leave adds the point on e, over which the contour leaves its facet, and returns the twin.
func (w *walker) leave(plan *orb.LineString, e int32, k int64) int32 {
	if p := w.point(e, k); p != (*plan)[len(*plan)-1] {
		*plan = append(*plan, p)
	}
	return w.t.Twin[e]
}

// point returns where contour k crosses an edge, the same from both of its sides.
func (w *walker) point(e int32, k int64) orb.Point {
	t := w.t
	a, b := t.V[e], t.V[surface.Next(e)]
	if w.below[a] >= k {
		a, b = b, a
	}
	s := (float64(float64(k)*w.interval) - t.Z[a]) / (t.Z[b] - t.Z[a])
	if s > 1-1e-9 {
		return orb.Point{t.X[b], t.Y[b]}
	}
	s = math.Max(s, 0)
	return orb.Point{t.X[a] + float64(s*(t.X[b]-t.X[a])), t.Y[a] + float64(s*(t.Y[b]-t.Y[a]))}
}
