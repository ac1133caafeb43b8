package bounds

import "math"

// filler fills water into replicates, wherever it stands, and finds which outlets it reaches.
type filler struct {
	*replica
	filled []filled // per vertex
	queue  stairs
	now    front // vertices waiting at the level at hand
}

// filled is one vertex of a replicate with water in it.
type filled struct {
	level      float64 // of the water with every pond full; the elevation where dry
	from       int32   // outlet that its water reaches; -1 none
	ends, done bool    // its water ends there, in the outlet or over the border; it is as it stays
}

func newFiller(r *replica) *filler { return &filler{replica: r, filled: make([]filled, len(r.z))} }

// fill fills water into the replicate at hand, wherever it stands.
func (f *filler) fill() {
	p := f.p
	for i := range f.filled {
		f.filled[i] = filled{level: math.Inf(1), from: -1}
	}
	f.queue.clear(f.z)
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
	for level, waits := f.queue.least(); waits; level, waits = f.queue.least() {
		for hand := &f.queue.hand; len(*hand) > 0 && (*hand)[0].Key == level; {
			_, v := hand.Pop()
			f.now.push(v)
		}
		for len(f.now.list) > 0 {
			if v := f.now.pop(); !f.filled[v].done {
				f.settle(v, level)
			}
		}
	}
	for i := range f.filled {
		if c := &f.filled[i]; !c.done {
			c.level = f.z[i] // no way out: not what is tried here
		}
	}
}

// settle lets the water of vertex v, which stands at a level, rise into its neighbours, and gives v the outlet of that one of them to which its water
// falls steepest.
func (f *filler) settle(v int32, level float64) {
	own := &f.filled[v]
	own.done = true
	steepest, from := -1.0, int32(-1)
	for k := f.p.first[v]; k < f.p.first[v+1]; k++ {
		w := f.p.near[k]
		c := &f.filled[w]
		if c.done {
			if fall := (level - c.level) / f.p.far[k]; fall > steepest {
				steepest, from = fall, c.from
			}
			continue
		}
		z := max(f.z[w], level)
		if !(z < c.level) {
			continue
		}
		c.level, c.ends = z, false
		if z == level {
			f.now.push(w)
		} else {
			f.queue.push(z, w)
		}
	}
	if !own.ends {
		own.from = from
	}
}

// end lets water of a level leave at vertex i, into an outlet or over the border.
func (f *filler) end(level float64, i, outlet int32) {
	if c := &f.filled[i]; level < c.level {
		c.level, c.from, c.ends = level, outlet, true
		f.queue.push(level, i)
	}
}
