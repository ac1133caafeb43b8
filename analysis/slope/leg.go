package slope

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/nearby"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// outletReach is how far from an outlet's edge a line may pass and still be said to lead to it [m].
const outletReach = 0.6

// legs parts a chain where water on it changes direction for good: at outlets, at corners, and at
// summits higher than both its ends. A closed chain is parted at its highest and lowest places first.
func (l *liner) legs(chain []int32) [][]int32 {
	t := l.t
	if l.vertexAt(chain, 0) != l.vertexAt(chain, len(chain)) {
		return l.openLegs(chain)
	}
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
	if low == 0 { // level all round
		low = len(chain) / 2
	}
	return append(l.openLegs(chain[:low:low]), l.openLegs(chain[low:])...)
}

// openLegs parts a chain that does not close.
func (l *liner) openLegs(chain []int32) [][]int32 {
	cut := make([]bool, len(chain))
	l.outletsOn(chain, cut)
	l.corners(chain, cut)
	var out [][]int32
	from := 0
	for at, c := range cut {
		if c {
			out = append(out, l.summits(chain[from:at:at])...)
			from = at
		}
	}
	return append(out, l.summits(chain[from:])...)
}

// corners marks the inner vertices at which a chain turns by more than 30 degrees in plan as well as
// from falling to rising or back: the corners of crickets, where two lines meet that were drawn as one.
func (l *liner) corners(chain []int32, cut []bool) {
	t := l.t
	const cos30 = 0.866
	for i := 1; i < len(chain); i++ {
		a, b, c := t.V[chain[i-1]], t.V[chain[i]], l.vertexAt(chain, i+1)
		if (t.Z[b] < t.Z[a]) != (t.Z[b] < t.Z[c]) || t.Z[b] == t.Z[a] || t.Z[b] == t.Z[c] {
			continue
		}
		ux, uy, vx, vy := t.X[b]-t.X[a], t.Y[b]-t.Y[a], t.X[c]-t.X[b], t.Y[c]-t.Y[b]
		along := float64(ux*vx) + float64(uy*vy)
		cut[i] = cut[i] || along < cos30*vector.Norm(ux, uy)*vector.Norm(vx, vy)
	}
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

// outletsOn marks the inner vertices at which a chain passes an outlet: the lowest within reach of it.
func (l *liner) outletsOn(chain []int32, cut []bool) {
	t := l.t
	var bound orb.Bound
	for i := range len(chain) + 1 {
		v := l.vertexAt(chain, i)
		p := orb.Point{t.X[v], t.Y[v]}
		if i == 0 {
			bound = p.Bound()
		}
		bound = bound.Extend(p)
	}
	l.places.Each(bound.Pad(l.reach), func(k int32) {
		if o := &l.taking[k]; bound.Pad(o.reach).Contains(o.at) {
			l.outletOn(chain, cut, o)
		}
	})
}

// outletOn marks the lowest inner vertex of a chain within reach of an outlet.
func (l *liner) outletOn(chain []int32, cut []bool, o *taking) {
	t := l.t
	best := -1
	for i := 0; i <= len(chain); i++ {
		v := l.vertexAt(chain, i)
		if vector.Distance(o.at, orb.Point{t.X[v], t.Y[v]}) > o.reach {
			continue
		}
		if best < 0 || t.Z[v] < t.Z[l.vertexAt(chain, best)] {
			best = i
		}
	}
	if best > 0 && best < len(chain) {
		cut[best] = true
	}
}

// taking is an outlet that lines lead to, and how far off they may pass it.
type taking struct {
	at    orb.Point
	reach float64 // [m]
}

// findOutlets lists the outlets that lines lead to. Water runs past an overflow: it takes none until the others are blocked.
func (l *liner) findOutlets() {
	var at []orb.Point
	for k := range l.surface.Outlets {
		o := &l.surface.Outlets[k]
		if o.Duty == roof.Overflow {
			continue
		}
		x := taking{o.Plan, outletReach + l.radius(o)}
		l.taking, l.reach, at = append(l.taking, x), math.Max(l.reach, x.reach), append(at, x.at)
	}
	l.places = nearby.New(at)
}

// radius returns half the width over which an outlet takes water; 0 for an edge.
func (l *liner) radius(o *surface.Outlet) float64 {
	if l.roof == nil || o.Source < 0 || o.Source >= len(l.roof.Outlets) {
		return 0
	}
	out := &l.roof.Outlets[o.Source]
	return math.Max(float64(out.Bowl), float64(out.Width)) / 2
}
