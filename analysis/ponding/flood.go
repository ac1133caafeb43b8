package ponding

// priorityFlood returns the level of full ponds at every vertex by flooding inwards from the sinks: the
// lowest wet or dry rim is always taken next. Regions without sink stand at their highest vertex.
func priorityFlood(ps *Ponds) []float64 {
	f := flooding{ps: ps, level: make([]float64, len(ps.z)), done: make([]bool, len(ps.z))}
	for o, vertices := range ps.sinks.verts {
		for _, v := range vertices {
			f.push(rim{max(ps.z[v], ps.sinks.level[o]), v})
		}
	}
	for len(f.heap) > 0 {
		f.fill(f.pop())
	}
	for v := range f.done {
		if !f.done[v] {
			f.enclosed(int32(v))
		}
	}
	return f.level
}

type rim struct {
	level float64
	v     int32
}

type flooding struct {
	ps    *Ponds
	level []float64
	done  []bool
	heap  []rim
	queue []int32 // reached under water: same level, no order needed
}

// fill floods all that is below the rim and puts the dry vertices around it on the heap.
func (f *flooding) fill(r rim) {
	if f.done[r.v] {
		return
	}
	f.done[r.v], f.level[r.v] = true, r.level
	f.queue = append(f.queue[:0], r.v)
	for len(f.queue) > 0 {
		v := f.queue[len(f.queue)-1]
		f.queue = f.queue[:len(f.queue)-1]
		for _, y := range f.ps.star.neighbours(v) {
			switch {
			case f.done[y]:
			case f.ps.z[y] > r.level:
				f.push(rim{f.ps.z[y], y})
			default:
				f.done[y], f.level[y] = true, r.level
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

func (f *flooding) push(r rim) {
	f.heap = append(f.heap, r)
	i := len(f.heap) - 1
	for i > 0 {
		up := (i - 1) / 4
		if f.heap[up].level <= r.level {
			break
		}
		f.heap[i] = f.heap[up]
		i = up
	}
	f.heap[i] = r
}

func (f *flooding) pop() rim {
	top, last := f.heap[0], f.heap[len(f.heap)-1]
	f.heap = f.heap[:len(f.heap)-1]
	n := len(f.heap)
	for i := 0; n > 0; {
		least, from := -1, 4*i+1
		for c := from; c < min(from+4, n); c++ {
			if least < 0 || f.heap[c].level < f.heap[least].level {
				least = c
			}
		}
		if least < 0 || f.heap[least].level >= last.level {
			f.heap[i] = last
			break
		}
		f.heap[i] = f.heap[least]
		i = least
	}
	return top
}
