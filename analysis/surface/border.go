package surface

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/vector"
)

// border is the border of a TIN: its half-edges without a twin, and where they are.
type border struct {
	t     *TIN
	edges []int32
	grid  *nearby.Index
}

func newBorder(t *TIN) *border {
	b := &border{t: t}
	for e, o := range t.Twin {
		if o < 0 {
			b.edges = append(b.edges, int32(e))
		}
	}
	b.grid = nearby.NewBoxes(len(b.edges), max(64, 2*len(b.edges)), b.box)
	return b
}

func (b *border) box(i int) orb.Bound {
	u, v := b.t.V[b.edges[i]], b.t.End(b.edges[i])
	return orb.Bound{
		Min: orb.Point{math.Min(b.t.X[u], b.t.X[v]), math.Min(b.t.Y[u], b.t.Y[v])},
		Max: orb.Point{math.Max(b.t.X[u], b.t.X[v]), math.Max(b.t.Y[u], b.t.Y[v])},
	}
}

// near returns the half-edges whose boxes may meet a box [m], ascending.
func (b *border) near(box orb.Bound) []int32 {
	var out []int32
	for _, i := range b.grid.Within(box.Min[0], box.Min[1], box.Max[0], box.Max[1]) {
		if b.box(int(i)).Intersects(box) {
			out = append(out, b.edges[i])
		}
	}
	return out
}

// nearest returns the place on the border nearest to p, on half-edges with the flag: half-edge, how far along it, distance; infinitely far where there is none.
func (b *border) nearest(p orb.Point, flag EdgeFlag) (e int32, at, far float64) {
	t := b.t
	far = math.Inf(1)
	for _, h := range b.edges {
		if flag != 0 && t.Flag[h]&flag == 0 {
			continue
		}
		a, b := t.V[h], t.End(h)
		dx, dy := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
		s := (float64(dx*(p[0]-t.X[a])) + float64(dy*(p[1]-t.Y[a]))) / (float64(dx*dx) + float64(dy*dy))
		s = math.Max(0, math.Min(1, s))
		if d := vector.Norm(p[0]-t.X[a]-float64(s*dx), p[1]-t.Y[a]-float64(s*dy)); d < far {
			e, at, far = h, s, d
		}
	}
	return e, at, far
}

// straight is the cosine of the turn up to which two pieces of outline are one wall for a scupper: 20 degrees.
const straight = 0.93969262078590838

// slide goes a distance along the border from a place, forward or back, round no corner.
func (t *TIN) slide(e int32, at, by float64, forward bool) (int32, float64) {
	for range t.Twin {
		long := t.length(e)
		room := at * long
		if forward {
			room = long - room
		}
		if by <= room {
			if forward {
				return e, at + by/long
			}
			return e, at - by/long
		}
		next := t.Out[t.End(e)]
		if !forward {
			next = t.Last(t.V[e])
		}
		if t.Flag[next]&OutlineEdge == 0 || t.bend(e, next) < straight {
			break
		}
		by -= room
		e, at = next, 1
		if forward {
			at = 0
		}
	}
	if forward {
		return e, 1
	}
	return e, 0
}

// along returns the place t of the way along half-edge e.
func (t *TIN) along(e int32, at float64) orb.Point {
	a, b := t.V[e], t.End(e)
	return orb.Point{t.X[a] + float64(at*(t.X[b]-t.X[a])), t.Y[a] + float64(at*(t.Y[b]-t.Y[a]))}
}

func (t *TIN) length(e int32) float64 {
	a, b := t.V[e], t.End(e)
	return vector.Norm(t.X[b]-t.X[a], t.Y[b]-t.Y[a])
}

// bend returns the cosine between the directions of two half-edges.
func (t *TIN) bend(e, g int32) float64 {
	a, b, c, d := t.V[e], t.End(e), t.V[g], t.End(g)
	dot := float64((t.X[b]-t.X[a])*(t.X[d]-t.X[c])) + float64((t.Y[b]-t.Y[a])*(t.Y[d]-t.Y[c]))
	return dot / (t.length(e) * t.length(g))
}
