package evidence

import (
	"cmp"
	"slices"
	"sync/atomic"

	"runnel/analysis/atonce"
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
	bidder
	offers []offer // one for each low place of the measured surface, in the order of their places
	left   []place
	speaks []bool  // per element: the low place of an offer that is not gone
	atCurb float64 // price from which a low place beside a curb stays
}

func newCanceller(g *ground, threshold, atCurb float64) *canceller {
	return &canceller{bidder: bidder{pricer: newPricer(g, newState(g)), most: threshold}, atCurb: atCurb}
}

// stays returns the price from which the low place of an offer stays.
func (c *canceller) stays(o *offer) float64 {
	if c.curb != nil && c.curb[o.pit] {
		return c.atCurb
	}
	return c.most
}

// run cancels every low place that is cheaper than the threshold, with what was changed before counted in, and lists what is
// left in the order of their places.
func (c *canceller) run() {
	c.begin()
	waiting := c.waiting()
	for again := true; again; {
		again = false
		for len(waiting) > 0 && waiting[0].Key < c.most {
			key, i := waiting.Pop()
			o := &c.offers[i]
			if !c.stands(o) {
				continue
			}
			c.update(o)
			switch {
			case o.price > key:
				waiting.Push(o.price, i)
			case o.price < c.stays(o) && o.alone < c.stays(o):
				o.spent = o.price
				c.apply(c.ground, o)
				again = true
				if c.stands(o) { // it was let go to a low place as low, which has no way out either: both are one now
					c.renew(o)
					waiting.Push(o.price, i)
				}
			}
		}
		waiting = nil
		if again {
			waiting = c.again()
		}
	}
	c.list()
}

// begin prices every low place of the measured surface, several at a time.
func (c *canceller) begin() {
	const run = 64 // some milliseconds
	pits := c.pits()
	c.offers, c.speaks = make([]offer, len(pits)), make([]bool, len(c.at))
	for _, v := range pits {
		c.speaks[v] = true
	}
	var own atomic.Bool
	atonce.Each(len(pits), run, func() func(from, to int) {
		b := &c.bidder
		if own.Swap(true) {
			b = &bidder{pricer: newPricer(c.ground, c.state), most: c.most}
		}
		return func(from, to int) {
			for i := from; i < to; i++ {
				o := &c.offers[i]
				o.pit = pits[i]
				b.renew(o)
				o.alone, o.spent = o.price, o.price
			}
		}
	})
}

// waiting returns the low places by their prices.
func (c *canceller) waiting() queue.Queue {
	var waiting queue.Queue
	for i := range c.offers {
		waiting.Push(c.offers[i].price, int32(i))
	}
	return waiting
}

// update makes an offer anew that does not hold any more.
func (c *canceller) update(o *offer) {
	if !o.holds(c.state) {
		c.renew(o)
	}
}

// again prices what is left anew: what was changed since may have made it cheaper.
func (c *canceller) again() queue.Queue {
	var waiting queue.Queue
	for i := range c.offers {
		o := &c.offers[i]
		if o.alone >= c.stays(o) || !c.stands(o) {
			continue
		}
		c.update(o)
		waiting.Push(o.price, int32(i))
	}
	return waiting
}

func (c *canceller) list() {
	for i := range c.offers {
		o := &c.offers[i]
		if !c.stands(o) {
			continue
		}
		c.renew(o) // for the flood
		o.spent = o.price
		c.left = append(c.left, place{pit: o.pit, price: max(o.price, o.alone), region: slices.Clone(c.flood)})
	}
}

// spentOn returns what it cost to cancel the low place at an element, its price while it stands; 0 where there was none.
func (c *canceller) spentOn(e int32) float64 {
	i, found := slices.BinarySearchFunc(c.offers, e, func(o offer, e int32) int { return cmp.Compare(o.pit, e) })
	if !found {
		return 0
	}
	return c.offers[i].spent
}

// pits returns the low places: the first element of every level set that has no lower neighbour and no way out.
func (c *canceller) pits() []int32 {
	var out []int32
	for m := range int32(len(c.at)) {
		if c.isPit(m) {
			out = append(out, m)
		}
	}
	return out
}

// stands reports whether the low place of an offer is still one, and its offer the first in the level set that is not gone; else it is gone.
func (c *canceller) stands(o *offer) bool {
	if !o.gone && c.closed(o.pit, func(w int32) bool { return w < o.pit && c.speaks[w] }) {
		return true
	}
	o.gone, c.speaks[o.pit] = true, false
	return false
}

// isPit reports whether element m is the first of a level set without a lower neighbour and without a way out.
func (c *canceller) isPit(m int32) bool { return c.closed(m, func(w int32) bool { return w < m }) }

// closed reports whether the level set of element m has no lower neighbour, no way out and no element that another speaks for.
func (c *canceller) closed(m int32, other func(w int32) bool) bool {
	for _, w := range c.around(m) {
		if c.at[w].h < c.at[m].h || c.at[w].h == c.at[m].h && other(w) {
			return false
		}
	}
	c.stamp++
	c.marks[m].seen = c.stamp
	c.flood = append(c.flood[:0], m)
	set := c.flood
	defer func() { c.flood = set }()
	for k := 0; k < len(set); k++ {
		v := set[k]
		if c.sink[v] {
			return false
		}
		for d := c.firstDoor[v]; d < c.firstDoor[v+1]; d++ {
			if c.doorLevel(d) <= c.at[v].h {
				return false
			}
		}
		for _, w := range c.around(v) {
			switch {
			case c.at[w].h < c.at[v].h || c.at[w].h == c.at[m].h && other(w):
				return false
			case c.at[w].h == c.at[v].h && c.marks[w].seen != c.stamp:
				c.marks[w].seen = c.stamp
				set = append(set, w)
			}
		}
	}
	return true
}
