package surface

import (
	"slices"
	"sync/atomic"
)

// room is the room behind the lists of a TIN that copies only add to. One copy may have it: it shares these lists, and what it adds stands
// behind their end, where whoever has the TIN never looks. Other copies have lists of their own. What is copied is finished: nothing more is added to it.
type room struct{ taken atomic.Bool }

// take gives the room away, false where there is none.
func (r *room) take() bool { return r != nil && r.taken.CompareAndSwap(false, true) }

// roomFor is the part of a list that is added to it as room: for two copies, one after the other.
const roomFor = 8

// newCopy returns a cutter whose new edges take their signs of flow from the gradients of the facets. There is room for some new vertices and
// facets, since lists that grow are copied once more.
func newCopy(t *TIN) *cutter {
	c := *t
	c.room = &room{}
	if !t.room.take() {
		c.own()
	}
	points, facets := 32+len(t.X)/roomFor/2, 32+t.Facets()/roomFor/2
	c.Out, c.V, c.Twin = roomy(t.Out, points), roomy(t.V, 3*facets), roomy(t.Twin, 3*facets)
	c.Flag, c.Run = roomy(t.Flag, 3*facets), roomy(t.Run, 3*facets)
	c.Parent = make([]int32, t.Facets(), t.Facets()+facets)
	for f := range c.Parent {
		c.Parent[f] = int32(f)
	}
	return &cutter{TIN: &c, loose: true}
}

// reserve makes room for so many new vertices and facets, so that lists grow once.
func (c *cutter) reserve(points, facets int) {
	t := c.TIN
	for _, list := range []*[]float64{&t.X, &t.Y, &t.Z, &t.Sigma, &t.Interpolation, &t.Below} {
		*list = slices.Grow(*list, points)
	}
	for _, list := range []*[]int32{&t.GX, &t.GY, &t.GZ, &t.Spot, &t.Out} {
		*list = slices.Grow(*list, points)
	}
	t.Assumed, t.Found = slices.Grow(t.Assumed, points), slices.Grow(t.Found, points)
	t.DX, t.DY, t.Parent = slices.Grow(t.DX, facets), slices.Grow(t.DY, facets), slices.Grow(t.Parent, facets)
	t.V, t.Twin = slices.Grow(t.V, 3*facets), slices.Grow(t.Twin, 3*facets)
	t.Flag, t.Run = slices.Grow(t.Flag, 3*facets), slices.Grow(t.Run, 3*facets)
}

// own gives the TIN lists with room behind them that nobody else has, of those that copies only add to.
func (t *TIN) own() {
	points, facets := 64+len(t.X)/roomFor, 64+t.Facets()/roomFor
	t.X, t.Y, t.Z = roomy(t.X, points), roomy(t.Y, points), roomy(t.Z, points)
	t.GX, t.GY, t.GZ = roomy(t.GX, points), roomy(t.GY, points), roomy(t.GZ, points)
	t.Spot, t.Sigma, t.Assumed = roomy(t.Spot, points), roomy(t.Sigma, points), roomy(t.Assumed, points)
	t.Found, t.Interpolation, t.Below = roomy(t.Found, points), roomy(t.Interpolation, points), roomy(t.Below, points)
	t.DX, t.DY = roomy(t.DX, facets), roomy(t.DY, facets)
}

// roomy returns a copy of a list that has room for so many more; nil of none.
func roomy[T any](list []T, more int) []T {
	if list == nil {
		return nil
	}
	return append(make([]T, 0, len(list)+more), list...)
}
