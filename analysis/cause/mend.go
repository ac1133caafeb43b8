package cause

import (
	"math"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// mends tries the three mends on a pond, one at a time and both, and puts the surface back.
func (m *model) mends(st *site) []Mended {
	out := make([]Mended, 0, 3)
	for _, mend := range []Mend{ShaveRise, DropOutlet, ShaveAndDrop} {
		out = append(out, m.try(st, mend))
	}
	return out
}

func (m *model) try(st *site, mend Mend) Mended {
	r := Mended{Mend: mend}
	ch := change{outlet: -1}
	if mend != ShaveRise {
		if !m.canDrop(st) {
			return r
		}
		r.Tried = true
		ch = m.drop(st)
		r.Cut = m.s.Outlets[st.outlet].Invert - ch.invert
	}
	if mend != DropOutlet {
		cut, length := m.shave(st, &ch)
		if cut <= surface.Grid {
			m.restore(ch)
			return Mended{Mend: mend}
		}
		r.Tried = true
		r.Cut = math.Max(r.Cut, cut)
		r.Length = length
	}
	l := m.escape(st.index, st.wet, ch)
	r.Depth, r.Volume = l.depth, l.volume
	m.restore(ch)
	return r
}

// canDrop reports whether there is an outlet to set down: a drain or scupper whose invert lies above
// the pond's lowest point.
func (m *model) canDrop(st *site) bool {
	if st.outlet < 0 {
		return false
	}
	o := &m.s.Outlets[st.outlet]
	return o.Type != roof.EdgeOutlet && o.Invert > st.low+surface.Grid
}

// drop sets the outlet and the surface of its footprint down to the pond's lowest point, as a drain
// reset in a sump is.
func (m *model) drop(st *site) change {
	ch := change{outlet: st.outlet, invert: st.low}
	for _, v := range m.s.Outlets[st.outlet].Vertices {
		m.z[v] = math.Min(m.z[v], st.low)
		ch.lowered = append(ch.lowered, v) // all of them: the way out at each is new
	}
	return ch
}

// shave cuts the ground on the way from the pond's lowest point down to a straight fall that ends
// where the ground lies below that point, or at the outlet. It returns the deepest cut and its length.
func (m *model) shave(st *site, ch *change) (cut, length float64) {
	w := &st.way
	last := m.below(w)
	if last == 0 || w.s[last] == 0 {
		return 0, 0
	}
	end := m.z[w.v[last]]
	if w.end >= 0 && last == len(w.v)-1 {
		end = math.Min(end, math.Max(st.low, m.invert(w.end, w.v[last], *ch)))
	}
	start := m.z[w.v[0]]
	for i := 1; i <= last; i++ {
		v := w.v[i]
		line := start + float64((end-start)*(w.s[i]/w.s[last]))
		if over := m.z[v] - line; over > surface.Grid {
			cut = math.Max(cut, over)
			length += (w.s[min(i+1, last)] - w.s[i-1]) / 2
			m.z[v] = line
			ch.lowered = append(ch.lowered, v)
		}
	}
	return cut, length
}

// restore puts the surface's own elevations back.
func (m *model) restore(ch change) {
	for _, v := range ch.lowered {
		m.z[v] = m.t.Z[v]
	}
}
