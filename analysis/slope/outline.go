package slope

import (
	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

type borderWalker struct {
	t     *surface.TIN
	set   []int32 // per facet: the set it belongs to
	done  []bool  // per half-edge: walked
	place []int32 // per vertex: its place in the walk at work, plus one
}

func newBorderWalker(t *surface.TIN, set []int32) *borderWalker {
	return &borderWalker{t: t, set: set, done: make([]bool, len(t.V)), place: make([]int32, len(t.X))}
}

// outline returns the area of one whole set: outer ring counter-clockwise, holes clockwise.
// Where the border touches itself in a vertex it is parted there into two rings.
func (b *borderWalker) outline(facets []int32) orb.MultiPolygon {
	var outer, holes []orb.Ring
	for _, f := range facets {
		for e := 3 * f; e < 3*f+3; e++ {
			if b.done[e] || !b.border(e) {
				continue
			}
			for _, ring := range b.walk(e) {
				if ring.Orientation() == orb.CCW {
					outer = append(outer, ring)
				} else {
					holes = append(holes, ring)
				}
			}
		}
	}
	if len(outer) == 0 {
		return nil
	}
	// facets joined by their edges have one outer ring
	return orb.MultiPolygon{append(orb.Polygon{outer[0]}, holes...)}
}

// border reports whether the set of e's facet ends at e.
func (b *borderWalker) border(e int32) bool {
	w := b.t.Twin[e]
	return w < 0 || b.set[w/3] != b.set[e/3]
}

// walk follows the border from e until it is back and returns its rings.
func (b *borderWalker) walk(start int32) []orb.Ring {
	var rings []orb.Ring
	var chain []int32
	for e := start; !b.done[e]; e = b.follow(e) {
		b.done[e] = true
		v := b.t.V[e]
		if at := b.place[v]; at > 0 {
			rings = append(rings, b.cutLoop(&chain, int(at-1)))
		}
		chain = append(chain, v)
		b.place[v] = int32(len(chain))
	}
	return append(rings, b.cutLoop(&chain, 0))
}

// follow returns the border edge of the same set that goes on at the end of e.
func (b *borderWalker) follow(e int32) int32 {
	for e = surface.Next(e); !b.border(e); {
		e = surface.Next(b.t.Twin[e])
	}
	return e
}

// cutLoop takes the vertices from place at on off the chain and returns them as a closed ring.
func (b *borderWalker) cutLoop(chain *[]int32, at int) orb.Ring {
	loop := (*chain)[at:]
	ring := make(orb.Ring, 0, len(loop)+1)
	for _, v := range loop {
		b.place[v] = 0
		ring = append(ring, orb.Point{b.t.X[v], b.t.Y[v]})
	}
	*chain = (*chain)[:at]
	return append(ring, ring[0])
}
