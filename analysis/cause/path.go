package cause

import (
	"math"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// Way is a chain of vertices along edges of the surface, from a pond's lowest point towards an outlet.
type way struct {
	v    []int32
	s    []float64 // plan distance from the start [m]
	lip  int       // index of the highest vertex of the way; the first of equals
	end  int32     // outlet reached, -1 none
	deep float64   // elevation of the start
}

// maxReach bounds the search for a way out, in vertices beyond the pond's own. Rules ask for what lies within
// some twelve metres of the lip; where shots are so close that this is cut short, the outlet is taken from
// where the pond spills to.
const maxReach = 1000

// wayFrom returns the shortest way from vertex from over ground no higher than level to the nearest
// outlet that is wanted. Where none is found within maxReach vertices, the way ends at the lowest ground
// that was met.
func (m *model) wayFrom(from int32, level float64, wet int, wanted func(o int32) bool) way {
	m.stamp++
	m.queue = m.queue[:0]
	m.from[from] = -1
	m.queue.Push(0, from)
	top := level + surface.Grid/2
	last, lowest, n := from, from, 0
	end := int32(-1)
	for len(m.queue) > 0 && n < wet+maxReach {
		key, v := m.queue.Pop()
		if m.mark[v] == m.stamp {
			continue
		}
		m.mark[v] = m.stamp
		n++
		if m.t.Z[v] < m.t.Z[lowest] {
			lowest = v
		}
		if o := m.sink[v]; o >= 0 && wanted(o) && m.takes(o, v, top) {
			end, last = o, v
			break
		}
		m.around(v, func(w int32) {
			if m.mark[w] == m.stamp || m.t.Z[w] > top {
				return
			}
			d := key + vector.Norm(m.t.X[w]-m.t.X[v], m.t.Y[w]-m.t.Y[v])
			m.relax(d, v, w)
		})
	}
	if end < 0 {
		last = lowest
	}
	return m.trace(last, end)
}

// levelTo returns the lowest level at which water from vertex from reaches an outlet that is wanted, and
// false where none is met within maxReach vertices.
func (m *model) levelTo(from int32, wet int, wanted func(o int32) bool) (float64, bool) {
	m.stamp++
	m.queue = m.queue[:0]
	m.queue.Push(m.t.Z[from], from)
	for n := 0; len(m.queue) > 0 && n < wet+maxReach; n++ {
		level, v := m.queue.Pop()
		if m.mark[v] == m.stamp {
			continue
		}
		m.mark[v] = m.stamp
		if o := m.sink[v]; o >= 0 && wanted(o) {
			return math.Max(level, m.invert(o, v, change{outlet: -1})), true
		}
		m.around(v, func(w int32) {
			if m.mark[w] != m.stamp {
				m.queue.Push(math.Max(level, m.t.Z[w]), w)
			}
		})
	}
	return 0, false
}

// anyOutlet and primary say which outlets a way may end at.
func anyOutlet(int32) bool { return true }

func (m *model) primary(o int32) bool { return m.s.Outlets[o].Duty == roof.Primary }

// relax keeps the shorter of two ways to w. A vertex not yet settled in this search carries stale
// tables from an older one; its place in the queue tells which is right, so the way is written when it
// is shorter or when none was written in this search.
func (m *model) relax(d float64, v, w int32) {
	if m.mark[w] == -m.stamp && d >= m.dist[w] {
		return
	}
	m.mark[w] = -m.stamp
	m.dist[w], m.from[w] = d, v
	m.queue.Push(d, w)
}

// takes reports whether outlet o takes water that stands at level at its vertex v.
func (m *model) takes(o, v int32, level float64) bool {
	return m.invert(o, v, change{outlet: -1}) <= level
}

// trace walks back from the last vertex of a search and returns the way in its right order.
func (m *model) trace(last, end int32) way {
	w := way{end: end}
	for v := last; v >= 0; v = m.from[v] {
		w.v = append(w.v, v)
	}
	for i, j := 0, len(w.v)-1; i < j; i, j = i+1, j-1 {
		w.v[i], w.v[j] = w.v[j], w.v[i]
	}
	w.s = make([]float64, len(w.v))
	for i, v := range w.v {
		if i > 0 {
			u := w.v[i-1]
			w.s[i] = w.s[i-1] + vector.Norm(m.t.X[v]-m.t.X[u], m.t.Y[v]-m.t.Y[u])
		}
		if m.t.Z[v] > m.t.Z[w.v[w.lip]] {
			w.lip = i
		}
	}
	w.deep = m.t.Z[w.v[0]]
	return w
}

// below returns the index of the first vertex past the lip that lies below the start, or the last.
func (m *model) below(w *way) int {
	for i := w.lip + 1; i < len(w.v); i++ {
		if m.t.Z[w.v[i]] < w.deep {
			return i
		}
	}
	return len(w.v) - 1
}
