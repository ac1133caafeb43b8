package bounds

import (
	"math"

	"runnel/analysis/ponding"
	"runnel/analysis/queue"
)

// filler fills water into replicates of one patch.
type filler struct {
	m      *model
	p      *patch
	z      []float64 // elevations of the replicate at hand [m]
	off    []float64 // errors of the vertices [m]
	level  []float64 // of the water with every pond full; the elevation where dry
	from   []int32   // per vertex: the outlet that its water reaches, where traced; -1 none
	ends   []bool    // per vertex, where traced: its water ends there, in the outlet or over the border
	limit  []float64 // per outlet of the patch: level at which it takes water
	in     []float64 // per outlet: error of its inlet level [m]
	queue  queue.Queue
	now    front // vertices waiting at the level at hand
	done   []bool
	pool   []int32 // per vertex: number of the water that it lies in; -1 dry
	walk   []int32
	levels []float64 // of the pools
	waters []water

	traced   bool    // to find from
	wanted   []int32 // vertices whose level is asked for, and no lower one; nil: all. The others may seem dry
	isWanted []bool
}

func newFiller(m *model, p *patch) *filler {
	n := len(p.vertex)
	return &filler{
		m: m, p: p, z: make([]float64, n), off: make([]float64, n), level: make([]float64, n), done: make([]bool, n), pool: make([]int32, n),
		limit: make([]float64, len(p.sinks)), in: make([]float64, len(p.sinks)),
	}
}

// trace has every flood find the outlets that water reaches.
func (f *filler) trace() {
	f.traced, f.now.sorted = true, true
	f.from, f.ends = make([]int32, len(f.z)), make([]bool, len(f.z))
}

// want has floods end once the levels at these vertices are known, and all that are no higher.
func (f *filler) want(vertices []int32) {
	f.wanted, f.isWanted = vertices, make([]bool, len(f.z))
	for _, i := range vertices {
		f.isWanted[i] = true
	}
}

// draw makes the errors of a replicate.
func (f *filler) draw(e *dice) {
	for i, v := range f.p.vertex[:f.p.own] {
		f.off[i] = float64(e.next() * f.m.Errors.Sigma[v])
	}
	for k, c := range f.p.made {
		sum := 0.0
		for j, i := range c {
			if i >= 0 {
				sum += float64(f.p.weight[k][j] * f.off[i])
			}
		}
		f.off[f.p.own+k] = sum
	}
	for i := range f.in {
		f.in[i] = float64(e.next() * f.m.Errors.Typical)
	}
}

// fill fills water into the surface with the errors at hand times sign: 0 for the surface itself.
func (f *filler) fill(sign float64) {
	p := f.p
	for i := range f.z {
		f.z[i] = p.base[i] + float64(sign*f.off[i])
		f.level[i], f.done[i] = math.Inf(1), false
	}
	for i := range f.from {
		f.from[i] = -1
	}
	f.queue = f.queue[:0]
	for k, s := range p.sinks {
		f.take(k, &f.m.sinks[s], sign)
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

// take lets outlet k of the patch take water at its vertices.
func (f *filler) take(k int, s *sink, sign float64) {
	low := math.Inf(1)
	for _, i := range f.p.feet[k] {
		low = math.Min(low, f.z[i])
	}
	f.limit[k] = math.Max(low, s.invert+float64(sign*f.in[k]))
	if s.assumed {
		f.limit[k] = low + math.Max(0, s.over)
	}
	for _, i := range f.p.feet[k] {
		f.end(math.Max(f.z[i], f.limit[k]), i, f.p.sinks[k])
	}
}

// flood spreads from the sinks inwards, lowest first: each vertex gets the least level at which its water finds a way out,
// and, where traced, the outlet of the neighbour to which that water falls steepest.
// Source: Barnes, Lehman and Mulla, "Priority-flood", Computers & Geosciences 62, 2014 (from memory); so is the second queue,
// of what stands under water and is level with it.
func (f *filler) flood() {
	f.m.t.Halt.Ask()
	for left := len(f.wanted); len(f.queue) > 0 && (f.wanted == nil || left > 0); {
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
			if f.wanted != nil && f.isWanted[v] {
				left--
			}
			if f.traced && !f.ends[v] {
				f.fall(v, level)
			}
			f.spread(v, level)
		}
	}
	for i := range f.level {
		if !f.done[i] {
			f.level[i] = f.z[i] // no way out: not what is tried here; or nothing that is wanted
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
		if f.traced {
			f.ends[w] = false
		}
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
	if f.traced {
		f.from[i], f.ends[i] = outlet, true
	}
	f.queue.Push(level, i)
}

// water is what stands somewhere.
type water struct{ depth, area, volume float64 }

// standing returns the greatest water, by volume, that covers any of the given vertices of the patch.
func (f *filler) standing(wet []int32) water {
	for i := range f.pool {
		f.pool[i] = -1
	}
	f.levels, f.waters = f.levels[:0], f.waters[:0]
	for _, i := range wet {
		if f.level[i] > f.z[i] && f.pool[i] < 0 {
			f.gather(i)
		}
	}
	var best water
	if len(f.waters) == 0 {
		return best
	}
	for k := range f.p.facets {
		c := &f.p.facets[k]
		a, b, d := f.pool[c[0]], f.pool[c[1]], f.pool[c[2]]
		if a >= 0 {
			f.sum(k, a)
		}
		if b >= 0 && b != a {
			f.sum(k, b)
		}
		if d >= 0 && d != a && d != b {
			f.sum(k, d)
		}
	}
	for i := range f.waters {
		if f.waters[i].volume > best.volume {
			best = f.waters[i]
		}
	}
	return best
}

// gather numbers the water in which vertex i lies.
func (f *filler) gather(i int32) {
	n, level := int32(len(f.waters)), f.level[i]
	f.walk = append(f.walk[:0], i)
	f.pool[i] = n
	var w water
	for k := 0; k < len(f.walk); k++ {
		v := f.walk[k]
		w.depth = math.Max(w.depth, level-f.z[v])
		for _, u := range f.p.near[f.p.first[v]:f.p.first[v+1]] {
			if f.pool[u] != n && f.level[u] == level && f.z[u] < level {
				f.pool[u] = n
				f.walk = append(f.walk, u)
			}
		}
	}
	f.levels, f.waters = append(f.levels, level), append(f.waters, w)
}

// sum adds what stands of water n over facet k.
func (f *filler) sum(k int, n int32) {
	c, level := &f.p.facets[k], f.levels[n]
	area, volume := ponding.Under(level-f.z[c[0]], level-f.z[c[1]], level-f.z[c[2]], f.p.area[k])
	f.waters[n].area += area
	f.waters[n].volume += volume
}
