package ponding

import (
	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// step is a vertex of a level area reached along its edges.
type step struct {
	far float64 // in whole nanometres, so that equal ways compare equal
	v   int32
}

// nearest is a heap of steps, nearest first; ties go to the vertex that comes first in the pose of the roof.
type nearest struct {
	list []step
	t    *surface.TIN
}

func (h *nearest) less(a, b step) bool {
	if a.far != b.far {
		return a.far < b.far
	}
	if c := h.t.Pose.Before(orb.Point{h.t.X[a.v], h.t.Y[a.v]}, orb.Point{h.t.X[b.v], h.t.Y[b.v]}); c != 0 {
		return c < 0
	}
	return a.v < b.v
}

func (h *nearest) push(s step) {
	h.list = append(h.list, s)
	i := len(h.list) - 1
	for i > 0 && h.less(s, h.list[(i-1)/2]) {
		h.list[i] = h.list[(i-1)/2]
		i = (i - 1) / 2
	}
	h.list[i] = s
}

func (h *nearest) pop() step {
	top, n := h.list[0], len(h.list)-1
	last := h.list[n]
	h.list = h.list[:n]
	for i := 0; n > 0; {
		c := 2*i + 1
		if c+1 < n && h.less(h.list[c+1], h.list[c]) {
			c++
		}
		if c >= n || !h.less(h.list[c], last) {
			h.list[i] = last
			break
		}
		h.list[i] = h.list[c]
		i = c
	}
	return top
}
