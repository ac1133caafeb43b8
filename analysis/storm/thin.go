package storm

import "math"

// thinFlow is how far, as a part of the peak, a hydrograph may be moved by leaving samples out.
const thinFlow = 0.005

// thin leaves out samples that stand within thinFlow of the straight line between those kept (Ramer, Douglas and
// Peucker, with the distance measured in flow).
func thin(list []Sample, peak float64) []Sample {
	if len(list) < 3 {
		return list
	}
	keep := make([]bool, len(list))
	keep[0], keep[len(list)-1] = true, true
	for i := range list {
		keep[i] = keep[i] || list[i].Flow == peak
	}
	for from, to := 0, 1; to < len(list); to++ {
		if keep[to] {
			divide(list, keep, from, to, thinFlow*peak)
			from = to
		}
	}
	kept := list[:0]
	for i, s := range list {
		if keep[i] {
			kept = append(kept, s)
		}
	}
	return kept
}

// divide keeps the sample between two kept ones that stands furthest off their line, and goes on on both sides.
func divide(list []Sample, keep []bool, from, to int, within float64) {
	stack := [][2]int{{from, to}}
	for len(stack) > 0 {
		a, b := stack[len(stack)-1][0], stack[len(stack)-1][1]
		stack = stack[:len(stack)-1]
		worst, far := -1, within
		for i := a + 1; i < b; i++ {
			line := list[a].Flow
			if span := list[b].Time - list[a].Time; span > 0 {
				line += (list[b].Flow - list[a].Flow) * ((list[i].Time - list[a].Time) / span)
			}
			if off := math.Abs(list[i].Flow - line); off > far {
				worst, far = i, off
			}
		}
		if worst >= 0 {
			keep[worst] = true
			stack = append(stack, [2]int{a, worst}, [2]int{worst, b})
		}
	}
}
