package flow

import "math"

// hair is the error that may always be made when intervals are merged [m]: pieces of one straight line
// differ by rounding only.
const hair = 1e-9

// allowed returns the error that an interval with travel d may carry. It grows with d towards the
// tolerance, so that merging far down leaves room for merging further up.
func (v *solver) allowed(d float64) float64 { return v.tol * (d / (d + v.scale)) }

// thin merges neighbouring intervals of one label while the merged line stays within what each of them
// may still deviate.
func (v *solver) thin(list []interval) []interval {
	out := list[:0]
	start := 0.0
	for first := 0; first < len(list); {
		merged, count := v.longest(list[first:], start)
		out = append(out, merged)
		start = merged.end
		first += count
	}
	return out
}

// longest merges as many intervals from the first on as the cone of lines through its start allows, and
// returns how many.
func (v *solver) longest(list []interval, start float64) (interval, int) {
	first := list[0]
	lo, hi := math.Inf(-1), math.Inf(1)
	count := 0
	for i, x := range list {
		if x.label != first.label {
			break
		}
		room := max(0, v.allowed(min(x.d0, x.d1))-float64(x.err)) + hair
		l, h := lo, hi
		if i > 0 {
			run := list[i-1].end - start
			l, h = max(l, (x.d0-room-first.d0)/run), min(h, (x.d0+room-first.d0)/run)
		}
		run := x.end - start
		l, h = max(l, (x.d1-room-first.d0)/run), min(h, (x.d1+room-first.d0)/run)
		if i > 0 && l > h {
			break
		}
		lo, hi, count = l, h, i+1
	}
	if count == 1 {
		return first, 1
	}
	last := list[count-1]
	slope := max(lo, min(hi, (last.d1-first.d0)/(last.end-start)))
	merged := interval{end: last.end, d0: first.d0, label: first.label}
	merged.d1 = first.d0 + float64(slope*(last.end-start))
	for i, x := range list[:count] {
		off := math.Abs(first.d0 + float64(slope*(x.end-start)) - x.d1)
		if i > 0 {
			off = max(off, math.Abs(first.d0+float64(slope*(list[i-1].end-start))-x.d0))
		}
		merged.err = max(merged.err, x.err+float32(off))
	}
	return merged, count
}
