package slope

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// outletReach is how far from an outlet's edge a line may pass and still be said to lead to it [m].
const outletReach = 0.6

// legs parts a chain where water on it changes direction for good: at outlets, and at summits higher
// than both its ends. A closed chain is parted at its highest place first.
func (l *liner) legs(chain []int32) [][]int32 {
	t := l.t
	if t.V[chain[0]] == t.V[t.Twin[chain[len(chain)-1]]] {
		top := 0
		for i, e := range chain {
			if t.Z[t.V[e]] > t.Z[t.V[chain[top]]] {
				top = i
			}
		}
		chain = append(append([]int32(nil), chain[top:]...), chain[:top]...)
		low := 0
		for i, e := range chain {
			if t.Z[t.V[e]] < t.Z[t.V[chain[low]]] {
				low = i
			}
		}
		if low == 0 {
			low = len(chain) / 2
		}
		return append(l.openLegs(chain[:low:low]), l.openLegs(chain[low:])...)
	}
	return l.openLegs(chain)
}

// openLegs parts a chain that does not close.
func (l *liner) openLegs(chain []int32) [][]int32 {
	var out [][]int32
	from := 0
	for _, at := range l.outletsOn(chain) {
		out = append(out, l.summits(chain[from:at:at])...)
		from = at
	}
	return append(out, l.summits(chain[from:])...)
}

// summits parts a chain at its highest vertex when that stands above both ends.
func (l *liner) summits(chain []int32) [][]int32 {
	t := l.t
	first, last := t.V[chain[0]], t.V[t.Twin[chain[len(chain)-1]]]
	top := 0
	for i := 1; i < len(chain); i++ {
		if top == 0 || t.Z[t.V[chain[i]]] > t.Z[t.V[chain[top]]] {
			top = i
		}
	}
	if top > 0 && t.Z[t.V[chain[top]]] > math.Max(t.Z[first], t.Z[last])+planeTolerance {
		return [][]int32{chain[:top:top], chain[top:]}
	}
	return [][]int32{chain}
}

// outletsOn returns the inner vertices of a chain, by place in it, at which it passes an outlet: the
// lowest within reach of it.
func (l *liner) outletsOn(chain []int32) []int {
	t := l.t
	cut := make([]bool, len(chain))
	found := false
	for k := range l.surface.Outlets {
		o := &l.surface.Outlets[k]
		reach := outletReach + l.radius(o)
		best := -1
		for i := 0; i <= len(chain); i++ {
			v := t.V[t.Twin[chain[len(chain)-1]]]
			if i < len(chain) {
				v = t.V[chain[i]]
			}
			if orbDistance(o.Plan, t.X[v], t.Y[v]) > reach {
				continue
			}
			if best < 0 || t.Z[v] < t.Z[l.vertexAt(chain, best)] {
				best = i
			}
		}
		if best > 0 && best < len(chain) {
			cut[best], found = true, true
		}
	}
	if !found {
		return nil
	}
	var out []int
	for i, c := range cut {
		if c {
			out = append(out, i)
		}
	}
	return out
}

// vertexAt returns vertex i of a chain.
func (l *liner) vertexAt(chain []int32, i int) int32 {
	if i < len(chain) {
		return l.t.V[chain[i]]
	}
	return l.t.V[l.t.Twin[chain[len(chain)-1]]]
}

// radius returns half the width over which an outlet takes water; 0 for an edge.
func (l *liner) radius(o *surface.Outlet) float64 {
	if l.roof == nil || o.Source < 0 || o.Source >= len(l.roof.Outlets) {
		return 0
	}
	out := &l.roof.Outlets[o.Source]
	return math.Max(float64(out.Bowl), float64(out.Width)) / 2
}

func orbDistance(p orb.Point, x, y float64) float64 { return hypot(p[0]-x, p[1]-y) }
