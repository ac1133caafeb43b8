package surface

import "iter"

// Star visits the half-edges that leave vertex v, counter-clockwise. Round a border vertex it begins at the border half-edge
// and misses only the last neighbour, to which no half-edge leads from v: see Last.
func (t *TIN) Star(v int32) iter.Seq[int32] {
	return func(yield func(int32) bool) {
		first := t.Out[v]
		for e := first; e >= 0; {
			if !yield(e) {
				return
			}
			if e = t.Twin[Prev(e)]; e == first {
				return
			}
		}
	}
}

// Last returns the half-edge that ends at border vertex v along the border, or -1 when v is inside.
func (t *TIN) Last(v int32) int32 {
	first := t.Out[v]
	for e := first; ; {
		p := Prev(e)
		if e = t.Twin[p]; e < 0 {
			return p
		}
		if e == first {
			return -1
		}
	}
}

// Border reports whether vertex v lies on the border of the TIN.
func (t *TIN) Border(v int32) bool { return t.Twin[t.Out[v]] < 0 }

// End returns the vertex at which half-edge e ends.
func (t *TIN) End(e int32) int32 { return t.V[Next(e)] }
