package evidence

import (
	"slices"

	"runnel/analysis/queue"
)

// place is a low place that was left: what it costs to let its water go, and the elements that its water covers.
type place struct {
	pit    int32
	price  float64
	region []int32
}

// canceller makes a surface plainer: it cancels low places, the cheapest first.
type canceller struct {
	*pricer
	threshold float64
	alone     []float64 // per element that was a pit: its price on the measured surface
	spent     []float64 // per element that was a pit: what it cost to cancel it, its price while it stands
	left      []place
}

func newCanceller(g *ground, threshold float64) *canceller {
	return &canceller{pricer: newPricer(g), threshold: threshold, alone: make([]float64, len(g.z)), spent: make([]float64, len(g.z))}
}

// run cancels every low place that is cheaper than the threshold, with what was changed before counted in, and lists what is
// left in the order of their places.
func (c *canceller) run() {
	var waiting queue.Queue
	pits := c.pits()
	for _, m := range pits {
		price := c.price(m).price
		c.alone[m], c.spent[m] = price, price
		waiting.Push(price, m)
	}
	gone := map[int32]bool{}
	for again := true; again; {
		again = false
		for len(waiting) > 0 && waiting[0].Key < c.threshold {
			key, id := waiting.Pop()
			if !c.isPit(id) {
				gone[id] = true
				continue
			}
			best := c.price(id)
			switch {
			case best.price > key && len(waiting) > 0 && best.price > waiting[0].Key:
				waiting.Push(best.price, id)
			case best.price < c.threshold && c.alone[id] < c.threshold:
				c.spent[id] = best.price
				c.apply(&best)
				gone[id] = true
				again = true
			}
		}
		waiting = c.priced(pits, gone, again)
	}
	c.list(pits, gone)
}

// priced prices what is left anew: what was changed since may have made it cheaper.
func (c *canceller) priced(pits []int32, gone map[int32]bool, again bool) queue.Queue {
	var waiting queue.Queue
	if !again {
		return nil
	}
	for _, m := range pits {
		if gone[m] || c.alone[m] >= c.threshold {
			continue
		}
		if !c.isPit(m) {
			gone[m] = true
			continue
		}
		waiting.Push(c.price(m).price, m)
	}
	return waiting
}

func (c *canceller) list(pits []int32, gone map[int32]bool) {
	for _, m := range pits {
		if gone[m] || !c.isPit(m) {
			continue
		}
		price := c.price(m).price
		c.spent[m] = price
		c.left = append(c.left, place{pit: m, price: max(price, c.alone[m]), region: slices.Clone(c.flood)})
	}
}

// pits returns the low places: the first element of every level set that has no lower neighbour and no way out.
func (c *canceller) pits() []int32 {
	var out []int32
	for m := range int32(len(c.h)) {
		if c.isPit(m) {
			out = append(out, m)
		}
	}
	return out
}

// isPit reports whether element m is the first of a level set without a lower neighbour and without a way out.
func (c *canceller) isPit(m int32) bool {
	for _, w := range c.around(m) {
		if c.h[w] < c.h[m] || c.h[w] == c.h[m] && w < m {
			return false
		}
	}
	c.stamp++
	c.seen[m] = c.stamp
	c.flood = append(c.flood[:0], m)
	set := c.flood
	defer func() { c.flood = set }()
	for k := 0; k < len(set); k++ {
		v := set[k]
		if c.sink[v] {
			return false
		}
		for d := c.firstDoor[v]; d < c.firstDoor[v+1]; d++ {
			if c.doorLevel(d) <= c.h[v] {
				return false
			}
		}
		for _, w := range c.around(v) {
			switch {
			case c.h[w] < c.h[v] || c.h[w] == c.h[m] && w < m:
				return false
			case c.h[w] == c.h[v] && c.seen[w] != c.stamp:
				c.seen[w] = c.stamp
				set = append(set, w)
			}
		}
	}
	return true
}
