package evidence

import (
	"math"

	"runnel/analysis/queue"
)

// change is a way to let the water of a low place go: everything in the flood up to level is raised to it, and the path
// lowered to it.
type change struct {
	price float64
	level float64
	full  int     // how many elements of the flood lie below level
	path  []int32 // elements to lower, from the low place outwards
	door  int32   // door to lower at the end of the path; -1 none
}

// pricer finds the cheapest change for one low place at a time.
type pricer struct {
	*ground
	h       []float64 // the surface as changed so far
	inlet   []float64 // per outlet: its invert as changed so far
	lowered []float64 // per door: elevation to which it was lowered, +Inf when it was not

	flood []int32   // elements in the order in which rising water reaches them
	rise  []float64 // level at which it does
	lip   float64   // level at which water leaves; +Inf where it never does within what was searched

	queue queue.Queue
	seen  []int32 // per element: stamp of the search that saw it
	in    []int32 // per element: stamp of the search in whose flooded part it is
	stamp int32
	dist  []float64
	from  []int32
}

func newPricer(g *ground) *pricer {
	n := len(g.z)
	p := &pricer{
		ground: g, h: make([]float64, n), inlet: make([]float64, len(g.invert)), lowered: make([]float64, len(g.doors)),
		seen: make([]int32, n), in: make([]int32, n), dist: make([]float64, n), from: make([]int32, n),
	}
	copy(p.h, g.z)
	copy(p.inlet, g.invert)
	for i := range p.lowered {
		p.lowered[i] = math.Inf(1)
	}
	return p
}

// onGrid brings a level onto the grid of elevations.
func onGrid(v float64) float64 { return math.Round(v*1e5) / 1e5 }

// price returns the cheapest change that lets the water of the low place at element m go, nothing dearer than Most. It
// leaves the flood in p.
func (p *pricer) price(m int32) change {
	p.line.Look()
	p.rising(m)
	best := change{price: Most, level: p.h[m], door: -1, full: -1}
	top := p.rise[len(p.rise)-1]
	if !math.IsInf(p.lip, 1) {
		top = p.lip
		p.try(top, &best)
	}
	bottom := p.h[m]
	for _, part := range [...]float64{0, 0.5, 0.25, 0.75} {
		p.try(onGrid(bottom+float64(part*(top-bottom))), &best)
	}
	for range 6 {
		if best.full < 0 {
			break
		}
		level := onGrid(math.Min(top, math.Max(bottom, p.middle(&best))))
		if level == best.level || !p.try(level, &best) {
			break
		}
	}
	return best
}

// middle returns the level that is cheapest for the elements of a change.
func (p *pricer) middle(c *change) float64 {
	sum, all := 0.0, 0.0
	add := func(weight, at float64) { sum, all = sum+float64(weight*at), all+weight }
	for _, v := range p.flood[:c.full] {
		if p.z[v] < c.level {
			add(p.high[v], p.z[v])
		}
	}
	for _, v := range c.path {
		if p.z[v] > c.level {
			add(p.low[v], p.z[v])
		}
	}
	if c.door >= 0 {
		d := &p.doors[c.door]
		if d.at > c.level {
			add(d.weight, d.at)
		}
		if in := p.invert[d.outlet]; in > c.level {
			add(p.outWeight[d.outlet], in)
		}
	}
	if all == 0 {
		return c.level
	}
	return sum / all
}

// rising lets water rise from element m until it leaves, or until to raise the ground to it costs more than Most.
func (p *pricer) rising(m int32) {
	p.stamp++
	p.flood, p.rise, p.queue = p.flood[:0], p.rise[:0], p.queue[:0]
	p.lip = math.Inf(1)
	p.queue.Push(p.h[m], m)
	p.seen[m] = p.stamp
	level, cost, weight := p.h[m], 0.0, 0.0
	for len(p.queue) > 0 {
		key, id := p.queue.Pop()
		if key < level || id < 0 {
			p.lip = math.Max(level, key)
			return
		}
		v := id
		cost += float64(weight * (key - level) * (key - level)) // no more than what it costs
		weight += p.high[v]
		level = key
		p.flood, p.rise = append(p.flood, v), append(p.rise, level)
		if p.sink[v] {
			p.lip = level
			return
		}
		if cost > Most {
			return
		}
		for d := p.firstDoor[v]; d < p.firstDoor[v+1]; d++ {
			p.queue.Push(p.doorLevel(d), -1-d)
		}
		for _, w := range p.around(v) {
			if p.seen[w] != p.stamp {
				p.seen[w] = p.stamp
				p.queue.Push(p.h[w], w)
			}
		}
	}
}

// doorLevel returns the level from which door d takes water.
func (p *pricer) doorLevel(d int32) float64 {
	k := &p.doors[d]
	return math.Max(math.Min(k.at, p.lowered[d]), p.inlet[k.outlet])
}

// moved returns what it costs in all to have element v at level.
func (p *pricer) moved(v int32, level float64) float64 {
	d := level - p.z[v]
	if d < 0 {
		return float64(p.low[v] * float64(d*d))
	}
	return float64(p.high[v] * float64(d*d))
}

// try compares the cheapest change at a level with best, and reports whether it is cheaper.
func (p *pricer) try(level float64, best *change) bool {
	p.stamp++
	raise, full := 0.0, 0
	for i, v := range p.flood {
		if p.rise[i] > level {
			break
		}
		raise += p.moved(v, level) - p.moved(v, p.h[v])
		p.in[v] = p.stamp
		full++
	}
	if full == 0 || raise >= best.price {
		return false
	}
	cost, end, door := p.cheapestWay(level, full, best.price-raise)
	if end < 0 {
		return false
	}
	*best = change{price: math.Max(0, raise+cost), level: level, full: full, door: door, path: best.path[:0]}
	for v := end; p.in[v] != p.stamp; v = p.from[v] {
		best.path = append(best.path, v)
	}
	return true
}

// cheapestWay returns the least price of lowering a way to level from the first full elements of the flood to ground at or
// below it, to an open edge or into an outlet; end is the last element of the way, -1 when none is cheaper than most.
func (p *pricer) cheapestWay(level float64, full int, most float64) (cost float64, end, door int32) {
	p.queue = p.queue[:0]
	cost, end, door = most, -1, -1
	leave := func(v int32, so float64) {
		if c, d, ok := p.wayOut(v, so, level); ok && c < cost {
			cost, end, door = c, v, d
		}
	}
	reach := func(from int32, so float64) {
		for _, w := range p.around(from) {
			if p.in[w] == p.stamp {
				continue
			}
			if p.h[w] <= level { // its own water goes elsewhere
				if so < cost {
					cost, end, door = so, from, -1
				}
				continue
			}
			c := so + math.Max(0, p.moved(w, level)-p.moved(w, p.h[w]))
			if c < cost && (p.seen[w] != p.stamp || c < p.dist[w]) {
				p.seen[w], p.dist[w], p.from[w] = p.stamp, c, from
				p.queue.Push(c, w)
			}
		}
	}
	for _, v := range p.flood[:full] {
		leave(v, 0)
		reach(v, 0)
	}
	for len(p.queue) > 0 {
		key, id := p.queue.Pop()
		if key >= cost {
			break
		}
		if key > p.dist[id] {
			continue
		}
		leave(id, key)
		reach(id, key)
	}
	return cost, end, door
}

// wayOut returns the least price of letting water at level out at element v, so being paid already, and the door it takes: -1 for an
// open edge. ok is false where there is no way out.
func (p *pricer) wayOut(v int32, so, level float64) (cost float64, door int32, ok bool) {
	cost, door, ok = so, -1, p.sink[v]
	for d := p.firstDoor[v]; d < p.firstDoor[v+1] && !p.sink[v]; d++ {
		if c := so + p.throughDoor(d, level, v); !ok || c < cost {
			cost, door, ok = c, d, true
		}
	}
	return cost, door, ok
}

// throughDoor returns what it costs to let water of a level into an outlet from element v, which then stands at or below it.
func (p *pricer) throughDoor(d int32, level float64, v int32) float64 {
	k := &p.doors[d]
	cost := 0.0
	if p.lowered[d] > level {
		at := k.at
		if p.z[v] > level {
			at -= float64(k.own * (p.z[v] - level))
		}
		if gap := at - level; gap > 0 {
			cost += float64(k.weight * float64(gap*gap))
		}
	}
	if in := p.invert[k.outlet]; p.inlet[k.outlet] > level {
		was, gap := in-p.inlet[k.outlet], in-level
		cost += float64(p.outWeight[k.outlet] * (float64(gap*gap) - float64(was*was)))
	}
	return cost
}

// apply makes a change.
func (p *pricer) apply(c *change) {
	for _, v := range p.flood[:c.full] {
		p.h[v] = c.level
	}
	for _, v := range c.path {
		p.h[v] = math.Min(p.h[v], c.level)
	}
	if c.door >= 0 {
		p.lowered[c.door] = math.Min(p.lowered[c.door], c.level)
		o := p.doors[c.door].outlet
		p.inlet[o] = math.Min(p.inlet[o], c.level)
	}
}
