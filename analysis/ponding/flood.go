package ponding

import "runnel/analysis/queue"

// priorityFlood returns the level of full ponds at every vertex by flooding inwards from the sinks: the
// lowest wet or dry rim is always taken next. Regions without sink stand at their highest vertex.
func priorityFlood(ps *Ponds) []float64 {
	f := flooding{ps: ps, level: make([]float64, len(ps.z)), done: make([]bool, len(ps.z))}
	for o, vertices := range ps.sinks.verts {
		for _, v := range vertices {
			f.rims.Push(max(ps.z[v], ps.sinks.level[o]), v)
		}
	}
	for len(f.rims) > 0 {
		f.fill(f.rims.Pop())
	}
	for v := range f.done {
		if !f.done[v] {
			f.enclosed(int32(v))
		}
	}
	return f.level
}

type flooding struct {
	ps    *Ponds
	level []float64
	done  []bool
	rims  queue.Queue
	queue []int32 // reached under water: same level, no order needed
}

// fill floods all that is below the level from rim vertex v, and lets the dry vertices around it wait.
func (f *flooding) fill(level float64, v int32) {
	if f.done[v] {
		return
	}
	f.done[v], f.level[v] = true, level
	f.queue = append(f.queue[:0], v)
	for len(f.queue) > 0 {
		v := f.queue[len(f.queue)-1]
		f.queue = f.queue[:len(f.queue)-1]
		for _, y := range f.ps.star.neighbours(v) {
			switch {
			case f.done[y]:
			case f.ps.z[y] > level:
				f.rims.Push(f.ps.z[y], y)
			default:
				f.done[y], f.level[y] = true, level
				f.queue = append(f.queue, y)
			}
		}
	}
}

// enclosed floods the region of v to its highest vertex.
func (f *flooding) enclosed(v int32) {
	region := []int32{v}
	f.done[v] = true
	top := f.ps.z[v]
	for i := 0; i < len(region); i++ {
		for _, y := range f.ps.star.neighbours(region[i]) {
			if !f.done[y] {
				f.done[y], top = true, max(top, f.ps.z[y])
				region = append(region, y)
			}
		}
	}
	for _, y := range region {
		f.level[y] = top
	}
}
