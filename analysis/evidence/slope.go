package evidence

import (
	"math"

	"runnel/analysis/surface"
)

// fit gathers the plane through points round an origin by least squares.
type fit struct{ n, x, y, z, xx, xy, yy, xz, yz float64 }

func (f *fit) add(x, y, z float64) {
	f.n++
	f.x, f.y, f.z = f.x+x, f.y+y, f.z+z
	f.xx, f.xy, f.yy = f.xx+float64(x*x), f.xy+float64(x*y), f.yy+float64(y*y)
	f.xz, f.yz = f.xz+float64(x*z), f.yz+float64(y*z)
}

// plane returns the height of the plane at the origin, its gradient, and the variance of that height for errors of one;
// not ok where the points fix no plane.
func (f *fit) plane() (height, gx, gy, variance float64, ok bool) {
	if f.n < 3 {
		return 0, 0, 0, 0, false
	}
	mx, my, mz := f.x/f.n, f.y/f.n, f.z/f.n
	xx, xy, yy := f.xx-float64(f.x*mx), f.xy-float64(f.x*my), f.yy-float64(f.y*my)
	xz, yz := f.xz-float64(f.x*mz), f.yz-float64(f.y*mz)
	det := float64(xx*yy) - float64(xy*xy)
	if !(det > 1e-6*float64(xx*yy)) {
		return 0, 0, 0, 0, false
	}
	gx = (float64(xz*yy) - float64(yz*xy)) / det
	gy = (float64(yz*xx) - float64(xz*xy)) / det
	height = mz - float64(gx*mx) - float64(gy*my)
	variance = 1/f.n + (float64(mx*mx*yy)-float64(2*mx*my*xy)+float64(my*my*xx))/det
	return height, gx, gy, variance, true
}

// alike rounds what sums over places come to, so that where a roof stands does not tell: prices that are equal stay equal to the last bit.
func alike(v float64) float64 { return math.Round(v*1e11) / 1e11 }

// hood lists vertices near another that no breakline parts from it.
type hood struct {
	t    *surface.TIN
	seen []int32
	turn int32
	list []int32
	fold []bool // per vertex: a breakline, or a fold that was found, runs through it, or it is a hub
	ring []span // per vertex: where its neighbours stand in all, once they were asked for
	all  []int32
}

// span is a part of a list: from one place to before another.
type span struct{ from, to int32 }

// hub is how many edges a vertex has that does not make those at their other ends neighbours: all spots of a circle would be, by the one in its middle.
const hub = 200

func newHood(t *surface.TIN) *hood {
	h := &hood{t: t, seen: make([]int32, len(t.X)), fold: make([]bool, len(t.X)), ring: make([]span, len(t.X))}
	for e, f := range t.Flag {
		if f&(surface.BreaklineEdge|surface.FoldEdge) != 0 {
			h.fold[t.V[e]], h.fold[t.End(int32(e))] = true, true
		}
	}
	degree := make([]int32, len(t.X))
	for _, v := range t.V {
		if degree[v]++; degree[v] > hub {
			h.fold[v] = true
		}
	}
	return h
}

// within returns the measured vertices up to so many edges from v, v itself included; beyond a breakline it does not look.
func (h *hood) within(v int32, edges int) []int32 {
	h.turn++
	h.seen[v] = h.turn
	h.list = append(h.list[:0], v)
	for from := 0; edges > 0; edges-- {
		to := len(h.list)
		for _, u := range h.list[from:to] {
			if h.fold[u] && u != v {
				continue
			}
			for _, w := range h.around(u) {
				if h.seen[w] != h.turn {
					h.seen[w] = h.turn
					h.list = append(h.list, w)
				}
			}
		}
		from = to
	}
	kept := h.list[:0]
	for _, u := range h.list {
		if !h.t.Assumed[u] && !h.t.Found[u] {
			kept = append(kept, u)
		}
	}
	return kept
}

// around returns the vertices that an edge joins with v.
func (h *hood) around(v int32) []int32 {
	if r := h.ring[v]; r.to > 0 {
		return h.all[r.from:r.to]
	}
	from := int32(len(h.all))
	for e := range h.t.Star(v) {
		h.all = append(h.all, h.t.End(e))
	}
	if e := h.t.Last(v); e >= 0 {
		h.all = append(h.all, h.t.V[e])
	}
	h.ring[v] = span{from, int32(len(h.all))}
	return h.all[from:]
}
