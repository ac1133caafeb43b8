package bounds

import (
	"math"

	"runnel/analysis/queue"
)

// filler fills water into replicates, wherever it stands, and finds which outlets it reaches.
type filler struct {
	*replica
	level []float64 // of the water with every pond full; the elevation where dry
	from  []int32   // per vertex: the outlet that its water reaches; -1 none
	ends  []bool    // per vertex: its water ends there, in the outlet or over the border
	queue queue.Queue
	now   front // vertices waiting at the level at hand
	done  []bool
}

func newFiller(r *replica) *filler {
	n := len(r.z)
	return &filler{replica: r, level: make([]float64, n), from: make([]int32, n), ends: make([]bool, n), done: make([]bool, n)}
}

// fill fills water into the replicate at hand, wherever it stands.
func (f *filler) fill() {
	p := f.p
	for i := range f.z {
		f.level[i], f.from[i], f.done[i] = math.Inf(1), -1, false
	}
	f.queue = f.queue[:0]
	for k, s := range p.sinks {
		for _, i := range p.feet[k] {
			f.end(math.Max(f.z[i], f.limit[k]), i, s)
		}
	}
	for i := range f.z {
		if p.open[i] || !math.IsInf(p.beyond[i], 1) {
			level := f.z[i]
			if !p.open[i] {
				level = math.Max(level, p.beyond[i])
			}
			f.end(level, int32(i), -1)
		}
	}
	f.flood()
}

// flood spreads from the sinks inwards, lowest first: each vertex gets the least level at which its water finds a way out,
// and the outlet of the neighbour to which that water falls steepest.
// Source: Barnes, Lehman and Mulla, "Priority-flood", Computers & Geosciences 62, 2014 (from memory); so is the second queue,
// of what stands under water and is level with it.
func (f *filler) flood() {
	f.m.t.Halt.Ask()
	for len(f.queue) > 0 {
		level := f.queue[0].Key
		for len(f.queue) > 0 && f.queue[0].Key == level {
			_, v := f.queue.Pop()
			f.now.push(v)
		}
		for len(f.now.list) > 0 {
			v := f.now.pop()
			if f.done[v] {
				continue
			}
			f.done[v] = true
			if !f.ends[v] {
				f.fall(v, level)
			}
			f.spread(v, level)
		}
	}
	for i := range f.level {
		if !f.done[i] {
			f.level[i] = f.z[i] // no way out: not what is tried here
		}
	}
}

// spread lets the water of vertex v, which stands at a level, rise into its neighbours.
func (f *filler) spread(v int32, level float64) {
	for _, w := range f.p.near[f.p.first[v]:f.p.first[v+1]] {
		z := f.z[w]
		if z < level {
			z = level
		}
		if !(z < f.level[w]) { // those that are done stand no higher
			continue
		}
		f.level[w] = z
		f.ends[w] = false
		if z == level {
			f.now.push(w)
		} else {
			f.queue.Push(z, w)
		}
	}
}

// fall gives vertex v the outlet of the neighbour to which its water, which stands at a level, falls steepest.
func (f *filler) fall(v int32, level float64) {
	steepest := -1.0
	f.from[v] = -1
	for k := f.p.first[v]; k < f.p.first[v+1]; k++ {
		w := f.p.near[k]
		if !f.done[w] {
			continue
		}
		if fall := (level - f.level[w]) / f.p.far[k]; fall > steepest {
			steepest, f.from[v] = fall, f.from[w]
		}
	}
}

// end lets water of a level leave at vertex i, into an outlet or over the border.
func (f *filler) end(level float64, i, outlet int32) {
	if !(level < f.level[i]) {
		return
	}
	f.level[i] = level
	f.from[i], f.ends[i] = outlet, true
	f.queue.Push(level, i)
}
