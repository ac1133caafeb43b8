package surface

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/fault"
	"runnel/analysis/geometry"
)

// corner is a grid place: a corner of a footprint.
type corner struct{ x, y int32 }

// find returns the facet of the copy that holds (x, y), borders included, walking from a piece of the old facet near it.
func (c *cutter) find(near, x, y int32) (f int32, ok bool) {
	f = near
	for step := range int32(c.Facets()) {
		next := int32(-2)
		for k := range int32(3) {
			if e := 3*f + (k+step%7)%3; c.turns(c.V[e], c.End(e), x, y) < 0 {
				next = c.Twin[e]
				break
			}
		}
		switch {
		case next == -2:
			return f, true
		case next < 0:
			return -1, false
		}
		f = next / 3
	}
	return -1, false
}

// put returns a vertex at (x, y), made if there is none, or -1 off the roof.
func (c *cutter) put(l *Locator, p corner) int32 {
	near, ok := l.Locate(geometry.Metres(p.x), geometry.Metres(p.y))
	if !ok {
		return -1
	}
	f, ok := c.find(near, p.x, p.y)
	if !ok {
		return -1
	}
	for e := 3 * f; e < 3*f+3; e++ {
		if v := c.V[e]; c.GX[v] == p.x && c.GY[v] == p.y {
			return v
		}
	}
	for e := 3 * f; e < 3*f+3; e++ {
		if c.turns(c.V[e], c.End(e), p.x, p.y) == 0 {
			return c.splitEdge(e, p.x, p.y)
		}
	}
	return c.splitFacet(f, p.x, p.y)
}

// cutRing cuts the closed convex ring of corners into the copy, as far as it lies on the roof.
func (c *cutter) cutRing(l *Locator, ring []corner) error {
	at := make([]int32, len(ring))
	for i, p := range ring {
		at[i] = c.put(l, p)
	}
	border := c.borderNear(ring)
	for i, p := range ring {
		j := (i + 1) % len(ring)
		if err := c.cutSide(p, ring[j], at[i], at[j], &border); err != nil {
			return err
		}
	}
	return nil
}

// borderNear returns the vertices of the border from which border half-edges near a ring start. The half-edges themselves
// change their numbers as facets are cut.
func (c *cutter) borderNear(ring []corner) []int32 {
	b := ringBox(ring)
	var near []int32
	for _, e := range c.border.near(orb.Bound{Min: orb.Point{b.Min[0] / geometry.PerMetre, b.Min[1] / geometry.PerMetre}, Max: orb.Point{b.Max[0] / geometry.PerMetre, b.Max[1] / geometry.PerMetre}}) {
		for v, end := c.from.V[e], c.from.End(e); v != end; v = c.End(c.Out[v]) {
			near = append(near, v)
		}
	}
	return near
}

// ringBox returns the box of a ring in grid units.
func ringBox(ring []corner) orb.Bound {
	plan := make(orb.MultiPoint, len(ring))
	for i, p := range ring {
		plan[i] = orb.Point{float64(p.x), float64(p.y)}
	}
	return plan.Bound()
}

// stop is a vertex on a side, t of the way along.
type stop struct {
	t float64
	v int32
}

// cutSide cuts the straight line from p to q. u and v are their vertices, -1 where they lie off the roof.
func (c *cutter) cutSide(p, q corner, u, v int32, border *[]int32) error {
	var stops []stop
	if u >= 0 {
		stops = append(stops, stop{0, u})
	}
	if v >= 0 {
		stops = append(stops, stop{1, v})
	}
	// Only the pieces that were there before: a straight line crosses each once, however the crossings are rounded.
	for _, b := range slices.Clone(*border) {
		had := len(c.GX)
		w := c.meetBorder(p, q, c.Out[b])
		if w >= 0 {
			stops = append(stops, stop{along(p, q, c.GX[w], c.GY[w]), w})
		}
		if len(c.GX) > had {
			*border = append(*border, w)
		}
	}
	slices.SortStableFunc(stops, func(a, b stop) int { return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.v, b.v)) })
	for i := 1; i < len(stops); i++ {
		if err := c.trace(stops[i-1].v, stops[i].v); err != nil {
			return err
		}
	}
	return nil
}

func along(p, q corner, x, y int32) float64 {
	dx, dy := float64(q.x-p.x), float64(q.y-p.y)
	return (float64(dx*float64(x-p.x)) + float64(dy*float64(y-p.y))) / (float64(dx*dx) + float64(dy*dy))
}

// meetBorder returns the vertex at which the line from p to q crosses border half-edge e, made if there is none, or touches
// its start; -1 where it does neither.
func (c *cutter) meetBorder(p, q corner, e int32) int32 {
	a, b := c.V[e], c.End(e)
	sa, sb := side(p, q, c.GX[a], c.GY[a]), side(p, q, c.GX[b], c.GY[b])
	if sa == 0 {
		if t := along(p, q, c.GX[a], c.GY[a]); t > 0 && t < 1 {
			return a
		}
		return -1
	}
	if sb == 0 || (sa > 0) == (sb > 0) || c.turns(a, b, p.x, p.y)*c.turns(a, b, q.x, q.y) >= 0 {
		return -1
	}
	return c.place(e, sa/(sa-sb))
}

// side returns twice the signed area of p, q, (x, y): its sign is exact, its value rounded.
func side(p, q corner, x, y int32) float64 {
	return float64(int64(q.x-p.x)*int64(y-p.y) - int64(q.y-p.y)*int64(x-p.x))
}

// trace makes edges from vertex u to vertex w along the straight line between them, where that lies on the roof.
func (c *cutter) trace(u, w int32) error {
	steps := 0
	for limit := 16 + c.Facets(); u != w; steps++ {
		if steps > limit {
			return fault.New("surface", "a footprint's side from (%.5f, %.5f) never ends", c.X[u], c.Y[u])
		}
		next := c.step(u, w)
		if next < 0 {
			return nil
		}
		u = next
	}
	return nil
}

// step goes from u along the line to w as far as the next edge or vertex; -1 where the line leaves the roof.
func (c *cutter) step(u, w int32) int32 {
	e := c.Out[u]
	for first := e; ; {
		b, d := c.End(e), c.V[Prev(e)]
		ob, od := c.orient(u, b, w), c.orient(u, d, w)
		switch {
		case ob == 0 && c.ahead(u, b, w):
			c.mark(e)
			return b
		case od == 0 && c.ahead(u, d, w):
			c.mark(Prev(e))
			return d
		case ob > 0 && od < 0:
			return c.through(u, w, e)
		}
		if e = c.Twin[Prev(e)]; e < 0 || e == first {
			return -1
		}
	}
}

// ahead reports whether b lies on u's side towards w.
func (c *cutter) ahead(u, b, w int32) bool {
	return float64(float64(c.GX[b]-c.GX[u])*float64(c.GX[w]-c.GX[u]))+float64(float64(c.GY[b]-c.GY[u])*float64(c.GY[w]-c.GY[u])) > 0
}

// through crosses the edge opposite u in the facet of half-edge e, which starts at u.
func (c *cutter) through(u, w, e int32) int32 {
	n := Next(e)
	if c.Twin[n] < 0 {
		return -1
	}
	p, q := corner{c.GX[u], c.GY[u]}, corner{c.GX[w], c.GY[w]}
	b, d := c.V[n], c.End(n)
	sb, sd := side(p, q, c.GX[b], c.GY[b]), side(p, q, c.GX[d], c.GY[d])
	v := c.place(n, sb/(sb-sd))
	for h := range c.Star(u) {
		if c.End(h) == v {
			c.mark(h)
			return v
		}
		if c.V[Prev(h)] == v {
			c.mark(Prev(h))
			return v
		}
	}
	return v
}

// mark flags an edge as a side of a footprint.
func (c *cutter) mark(e int32) {
	c.Flag[e] |= FootprintEdge
	if o := c.Twin[e]; o >= 0 {
		c.Flag[o] |= FootprintEdge
	}
}

// mendSigns finds pieces so small that the signs of flow inherited from old edges leave them no way in or out, and gives
// them the signs of their own shape.
func (c *cutter) mendSigns() {
	for f := range int32(c.Facets()) {
		if c.Level(f) {
			continue
		}
		in, out := false, false
		for e := 3 * f; e < 3*f+3; e++ {
			in, out = in || c.Run[e] < 0, out || c.Run[e] > 0
		}
		if in && out {
			continue
		}
		for e := 3 * f; e < 3*f+3; e++ {
			c.Run[e] = c.across(e)
		}
	}
}
