package bounds

import "math"

// filler fills water into replicates of one patch.
type filler struct {
	m     *model
	p     *patch
	z     []float64 // elevations of the replicate at hand [m]
	off   []float64 // errors of the vertices [m]
	level []float64 // of the water with every pond full; the elevation where dry
	from  []int32   // per vertex: the outlet that its water reaches, where traced; -1 none
	limit []float64 // per outlet of the patch: level at which it takes water
	in    []float64 // per outlet: error of its inlet level [m]
	queue []item
	done  []bool
	pond  []int32 // per vertex: stamp of the water that it was last found in
	walk  []int32
	stamp int32

	traced bool // to find from
}

// item is a vertex waiting to be flooded from a neighbour.
type item struct {
	level  float64
	vertex int32
	outlet int32
	ends   bool // water ends here: in the outlet, or over the border
}

func newFiller(m *model, p *patch) *filler {
	n := len(p.vertex)
	return &filler{
		m: m, p: p, z: make([]float64, n), off: make([]float64, n), level: make([]float64, n), from: make([]int32, n), done: make([]bool, n), pond: make([]int32, n),
		limit: make([]float64, len(p.sinks)), in: make([]float64, len(p.sinks)),
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
		f.level[i], f.done[i], f.from[i] = math.Inf(1), false, -1
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
// and the outlet of the neighbour to which that water falls steepest.
// Source: Barnes, Lehman and Mulla, "Priority-flood", Computers & Geosciences 62, 2014 (from memory).
func (f *filler) flood() {
	for len(f.queue) > 0 {
		f.m.t.Halt.Look()
		it := f.pop()
		if f.done[it.vertex] {
			continue
		}
		v := it.vertex
		f.done[v], f.level[v], f.from[v] = true, it.level, it.outlet
		steepest := -1.0
		for k := f.p.first[v]; k < f.p.first[v+1]; k++ {
			w := f.p.near[k]
			if !f.done[w] {
				if level := math.Max(f.z[w], it.level); level < f.level[w] { // later neighbours stand no lower
					f.level[w] = level
					f.push(item{level, w, -1, false})
				}
			} else if !f.traced {
				continue
			} else if fall := (it.level - f.level[w]) / f.p.far[k]; !it.ends && fall > steepest {
				steepest, f.from[v] = fall, f.from[w]
			}
		}
	}
	for i := range f.level {
		if !f.done[i] {
			f.level[i] = f.z[i] // no way out: not what is tried here
		}
	}
}

// end lets water of a level leave at vertex i, into an outlet or over the border.
func (f *filler) end(level float64, i, outlet int32) {
	if level < f.level[i] {
		f.level[i] = level
		f.push(item{level, i, outlet, true})
	}
}

func less(a, b item) bool {
	if a.level != b.level {
		return a.level < b.level
	}
	return a.vertex < b.vertex
}

func (f *filler) push(it item) {
	f.queue = append(f.queue, it)
	q := f.queue
	i := len(q) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !less(q[i], q[up]) {
			break
		}
		q[i], q[up] = q[up], q[i]
		i = up
	}
}

func (f *filler) pop() item {
	q := f.queue
	top := q[0]
	n := len(q) - 1
	q[0] = q[n]
	q = q[:n]
	for i := 0; ; {
		k := 2*i + 1
		if k >= n {
			break
		}
		if k+1 < n && less(q[k+1], q[k]) {
			k++
		}
		if !less(q[k], q[i]) {
			break
		}
		q[i], q[k] = q[k], q[i]
		i = k
	}
	f.queue = q
	return top
}

// water is what stands somewhere.
type water struct{ depth, area, volume float64 }

// standing returns the greatest water, by volume, that covers any of the given vertices of the patch.
func (f *filler) standing(wet []int32) water {
	var best water
	for i := range f.done {
		f.done[i] = false // from here on: summed
	}
	for _, i := range wet {
		if f.level[i] > f.z[i] && !f.done[i] {
			if w := f.pool(i); w.volume > best.volume {
				best = w
			}
		}
	}
	return best
}

// pool sums the water in which vertex i lies.
func (f *filler) pool(i int32) water {
	level := f.level[i]
	f.stamp++
	f.walk = append(f.walk[:0], i)
	f.done[i], f.pond[i] = true, f.stamp
	var w water
	for k := 0; k < len(f.walk); k++ {
		v := f.walk[k]
		w.depth = math.Max(w.depth, level-f.z[v])
		for _, u := range f.p.near[f.p.first[v]:f.p.first[v+1]] {
			if f.pond[u] != f.stamp && f.level[u] == level && f.z[u] < level {
				f.done[u], f.pond[u] = true, f.stamp
				f.walk = append(f.walk, u)
			}
		}
	}
	for k, c := range f.p.facets {
		if f.pond[c[0]] != f.stamp && f.pond[c[1]] != f.stamp && f.pond[c[2]] != f.stamp {
			continue
		}
		area, volume := under(level-f.z[c[0]], level-f.z[c[1]], level-f.z[c[2]], f.p.area[k])
		w.area += area
		w.volume += volume
	}
	return w
}

// under returns the plan area and the volume of the water on a facet of the given area whose corners lie a, b and c deep; negative
// is dry.
func under(a, b, c, whole float64) (area, volume float64) {
	if a < b {
		a, b = b, a
	}
	if b < c {
		b, c = c, b
	}
	if a < b {
		a, b = b, a
	}
	switch {
	case a <= 0:
		return 0, 0
	case c >= 0:
		return whole, float64(whole * (a + b + c) / 3)
	case b <= 0: // one corner is wet
		area = float64(whole * float64(a/(a-b)*(a/(a-c))))
		return area, float64(area * a / 3)
	}
	dry := float64(whole * float64(c/(c-a)*(c/(c-b)))) // the corner at c
	return whole - dry, float64(whole*(a+b+c)/3) - float64(dry*c/3)
}
