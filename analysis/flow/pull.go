package flow

import (
	"math"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// stretch is a part whose upper side need not belong to the same facet: positions w0..w1 of a side,
// carried to s0..s1 of the side whose list is being made, l0..l1 further up.
type stretch part

// opposite returns the side opposite corner e of its facet.
func opposite(e int32) int32 { return surface.Next(e) }

// emit appends an interval that ends at s1, unless it has no width.
func (v *solver) emit(s0, s1 float64, label Label, d0, d1 float64, err float32) {
	if s1 <= s0 {
		return
	}
	if !v.travel {
		d0, d1, err = 0, 0, 0
	}
	if last := len(v.buf) - 1; !v.travel && last >= 0 && v.buf[last].label == label && v.buf[last].end == s0 && s0 > 0 {
		v.buf[last].end = s1
		return
	}
	v.buf = append(v.buf, interval{end: s1, d0: d0, d1: d1, err: err, label: label})
}

// pull appends the intervals of a stretch.
func (v *solver) pull(p stretch) {
	switch v.kind[p.side] {
	case taken:
		if v.lists.at[p.side] >= 0 {
			v.pullList(p)
			return
		}
		v.emit(p.s0, p.s1, v.taker(p.side), p.l0, p.l1, 0)
	case along:
		v.pullAlong(p)
	case crosses:
		if v.state[p.side] == done {
			v.pullList(p)
			return
		}
		v.followed++
		v.follow(p)
	case closed:
		panic("flow: no water leaves over this side")
	}
}

// pullAlong appends a stretch of a side that water runs along: to its lower end, or on level ground to
// the end that is nearer to the exit.
func (v *solver) pullAlong(p stretch) {
	a, b := v.t.V[p.side], v.t.V[surface.Next(p.side)]
	low, falls := v.lower(p.side)
	switch {
	case !falls && v.way[a] == wayPit:
		v.emit(p.s0, p.s1, v.vertex[a], p.l0, p.l1, 0)
	case !falls && v.common(a, b) >= 0:
		v.pullStraight(p, v.common(a, b))
	case !falls:
		w := v.divide(p.side)
		v.pullEnd(p, a, 0, w)
		v.pullEnd(p, b, w, 1)
	case low == a:
		v.pullEnd(p, a, 0, 1)
	default:
		v.pullEnd(p, b, 0, 1)
	}
}

// rimError is how far off the travel from the rim of level ground may be taken as linear [m], exactError where nothing may
// be merged.
const (
	rimError   = 0.001
	exactError = 1e-7
)

// pullStraight appends a stretch of a side on level ground from which water runs straight to vertex q.
func (v *solver) pullStraight(p stretch, q int32) {
	label, d, err := v.at(q)
	x := straight{label: label, err: err, off: rimError, far: func(w float64) float64 {
		at := v.on(p.side, w)
		return d + vector.Norm(at[0]-v.t.X[q], at[1]-v.t.Y[q])
	}}
	if v.tol < 0 {
		x.off = exactError
	}
	v.pullPieces(p, &x)
}

// straight is the travel from a side to a vertex: far gives it at a position, off is how far off a line it may be.
type straight struct {
	label Label
	err   float32
	off   float64
	far   func(w float64) float64
}

// pullPieces appends a stretch in pieces over which the travel is linear.
func (v *solver) pullPieces(p stretch, x *straight) {
	d0, d1 := x.far(p.w0), x.far(p.w1)
	if w := (p.w0 + p.w1) / 2; v.travel && p.w1-p.w0 > 1e-6 && math.Abs(x.far(w)-(d0+d1)/2) > x.off {
		for _, half := range [2][2]float64{{p.w0, w}, {w, p.w1}} {
			if q, ok := p.within(half[0], half[1]); ok {
				v.pullPieces(q, x)
			}
		}
		return
	}
	v.emit(p.s0, p.s1, x.label, d0+p.l0, d1+p.l1, x.err+float32(x.off))
}

// pullEnd appends what of the stretch lies within w0..w1 of its side and runs along it to end vertex i.
func (v *solver) pullEnd(p stretch, i int32, w0, w1 float64) {
	q, ok := p.within(w0, w1)
	if !ok {
		return
	}
	label, d, err := v.at(i)
	l := v.length(v.t.V[p.side], v.t.V[surface.Next(p.side)])
	r0, r1 := float64(l*q.w0), float64(l*q.w1)
	if i != v.t.V[p.side] {
		r0, r1 = float64(l*(1-q.w0)), float64(l*(1-q.w1))
	}
	v.emit(q.s0, q.s1, label, d+r0+q.l0, d+r1+q.l1, err)
}

// within cuts the stretch down to w0..w1 of its side; false when nothing is left.
func (p *stretch) within(w0, w1 float64) (stretch, bool) {
	if p.w0 == p.w1 {
		return *p, w0 <= p.w0 && (p.w0 < w1 || w1 == 1) && w0 < w1
	}
	q := *p
	if w0 > p.w0 {
		q.w0, q.s0, q.l0 = w0, (*part)(p).up(w0), (*part)(p).through(w0)
	}
	if w1 < p.w1 {
		q.w1, q.s1, q.l1 = w1, (*part)(p).up(w1), (*part)(p).through(w1)
	}
	return q, q.w0 < q.w1
}

// pullList appends the intervals of a settled side.
func (v *solver) pullList(p stretch) {
	if label, whole := v.lists.whole(p.side); whole {
		v.emit(p.s0, p.s1, label, 0, 0, 0)
		return
	}
	list := v.lists.from(p.side)
	if x := &list[0]; x.end == 1 {
		v.emit(p.s0, p.s1, x.label, carry(p.w0, 0, 1, x.d0, x.d1)+p.l0, carry(p.w1, 0, 1, x.d0, x.d1)+p.l1, x.err)
		return
	}
	start := 0.0
	for i := range list {
		x := &list[i]
		if x.end > p.w0 || x.end == 1 {
			if q, ok := p.within(start, x.end); ok {
				d0 := carry(q.w0, start, x.end, x.d0, x.d1)
				d1 := carry(q.w1, start, x.end, x.d0, x.d1)
				v.emit(q.s0, q.s1, x.label, d0+q.l0, d1+q.l1, x.err)
			}
		}
		if start = x.end; start == 1 || start > p.w1 || start == p.w1 && p.w0 < p.w1 {
			return
		}
	}
}

// follow appends the intervals of a stretch of a side that is still in progress, by carrying just that
// stretch down until it meets settled ground. It ends because all water does.
func (v *solver) follow(p stretch) {
	floor := len(v.pending)
	v.pending = append(v.pending, p)
	for len(v.pending) > floor {
		p := v.pending[len(v.pending)-1]
		v.pending = v.pending[:len(v.pending)-1]
		if v.kind[p.side] != crosses || v.state[p.side] == done {
			v.pull(p)
			continue
		}
		parts, count := v.parts(v.t.Twin[p.side])
		for i := count - 1; i >= 0; i-- {
			x := &parts[i]
			q, ok := p.within(x.s0, x.s1)
			if !ok {
				continue
			}
			v.pending = append(v.pending, stretch{
				side: x.side, s0: q.s0, s1: q.s1,
				w0: x.down(q.w0), w1: x.down(q.w1),
				l0: q.l0 + carry(q.w0, x.s0, x.s1, x.l0, x.l1), l1: q.l1 + carry(q.w1, x.s0, x.s1, x.l0, x.l1),
			})
		}
	}
}
