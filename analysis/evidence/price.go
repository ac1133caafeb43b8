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

// pricer finds the cheapest change for one low place at a time. Several may look at one state of the ground.
type pricer struct {
	*ground
	*state

	flood []int32   // elements in the order in which rising water reaches them
	rise  []float64 // level at which it does
	lip   float64   // level at which water leaves; +Inf where it never does within what was searched
	read  []int32   // elements that were looked at, with their neighbours

	queue queue.Queue
	marks []mark // per element
	stamp int32
	asked int32 // stamp of the low place at hand
	path  []int32
}

// mark is what searches leave at an element.
type mark struct {
	seen, in int32   // stamps of the search that saw it, and of that in whose flooded part it is
	dist     float64 // price of the cheapest way to it
	from     int32   // the element before it on that way
	read     int32   // asked of the pricer when it was looked at last
}

func newPricer(g *ground, s *state) *pricer {
	return &pricer{ground: g, state: s, marks: make([]mark, len(g.z))}
}

// onGrid brings a length onto the grid of places and elevations [m].
func onGrid(v float64) float64 { return math.Round(v*1e5) / 1e5 }

// price returns the cheapest change that lets the water of the low place at element m go, nothing dearer than Most. It
// leaves the flood in p; the path of the change is p's too, until the next one.
func (p *pricer) price(m int32) change {
	p.line.Look()
	p.asked++
	p.read = p.read[:0]
	p.rising(m)
	best := change{price: Most, level: p.at[m].h, door: -1, full: -1, path: p.path[:0]}
	top := p.rise[len(p.rise)-1]
	if !math.IsInf(p.lip, 1) {
		top = p.lip
		p.try(top, &best)
	}
	bottom := p.at[m].h
	for _, part := range [...]float64{0, 0.5, 0.25, 0.75} {
		p.try(onGrid(bottom+float64(part*(top-bottom))), &best)
	}
	for range 6 {
		if best.full < 0 {
			break
		}
		if level := onGrid(min(top, max(bottom, p.middle(&best)))); level == best.level || !p.try(level, &best) {
			break
		}
	}
	p.path = best.path
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
	p.queue.Push(p.at[m].h, m)
	p.marks[m].seen = p.stamp
	level, cost, weight := p.at[m].h, 0.0, 0.0
	for len(p.queue) > 0 {
		key, id := p.queue.Pop()
		if key < level || id < 0 {
			p.lip = max(level, key)
			return
		}
		v := id
		p.look(v)
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
			if p.marks[w].seen != p.stamp {
				p.marks[w].seen = p.stamp
				p.queue.Push(p.at[w].h, w)
			}
		}
	}
}

// look notes that element v was looked at, and its neighbours.
func (p *pricer) look(v int32) {
	if m := &p.marks[v]; m.read != p.asked {
		m.read = p.asked
		p.read = append(p.read, v)
	}
}

// doorLevel returns the level from which door d takes water.
func (p *pricer) doorLevel(d int32) float64 {
	k := &p.doors[d]
	return max(min(k.at, p.lowered[d]), p.inlet[k.outlet])
}

// try compares the cheapest change at a level with best, and reports whether it is cheaper.
func (p *pricer) try(level float64, best *change) bool {
	p.stamp++
	raise, full := 0.0, 0
	for i, v := range p.flood {
		if p.rise[i] > level {
			break
		}
		raise += p.at[v].moved(level) - p.at[v].moved(p.at[v].h)
		p.marks[v].in = p.stamp
		full++
	}
	if full == 0 || raise >= best.price {
		return false
	}
	way := p.cheapestWay(level, full, best.price-raise)
	if way.end < 0 {
		return false
	}
	*best = change{price: max(0, raise+way.cost), level: level, full: full, door: way.door, path: best.path[:0]}
	for v := way.end; p.marks[v].in != p.stamp; v = p.marks[v].from {
		best.path = append(best.path, v)
	}
	return true
}

// way is the cheapest way out so far.
type way struct {
	cost float64
	end  int32 // its last element, -1 none
	door int32 // door at its end, -1 none
}

// cheapestWay returns the least price of lowering a way to level from the first full elements of the flood to ground at or
// below it, to an open edge or into an outlet; none is cheaper than most.
func (p *pricer) cheapestWay(level float64, full int, most float64) way {
	p.queue = p.queue[:0]
	best := way{most, -1, -1}
	for _, v := range p.flood[:full] {
		if p.pass(v, 0, level, &best); best.cost <= 0 {
			return best
		}
	}
	for len(p.queue) > 0 {
		key, v := p.queue.Pop()
		if key >= best.cost {
			break
		}
		if key == p.marks[v].dist {
			p.look(v)
			p.pass(v, key, level, &best)
		}
	}
	return best
}

// pass leads ways on from element v, up to which they cost so much: out, where that is cheapest, or to its neighbours.
func (p *pricer) pass(v int32, so, level float64, best *way) {
	if p.sink[v] || p.firstDoor[v] < p.firstDoor[v+1] {
		if c, d, ok := p.wayOut(v, so, level); ok && c < best.cost {
			*best = way{c, v, d}
		}
	}
	for _, w := range p.around(v) {
		m := &p.marks[w]
		if m.in == p.stamp {
			continue
		}
		e := &p.at[w]
		if e.h <= level { // its own water goes elsewhere
			if so < best.cost {
				*best = way{so, v, -1}
			}
			continue
		}
		more := e.moved(level)
		if e.h != e.z {
			more = max(0, more-e.moved(e.h))
		}
		if c := so + more; c < best.cost && (m.seen != p.stamp || c < m.dist) {
			m.seen, m.dist, m.from = p.stamp, c, v
			p.queue.Push(c, w)
		}
	}
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
