package surface

import (
	"math"

	"runnel/analysis/choose"
	"runnel/analysis/geometry"
)

// cutter subdivides the facets of a copy of a TIN along lines, moving no elevation and turning no diagonal.
//
// New vertices stand on the grid in plan, so a piece of an old edge may lie up to a grid unit beside it; it keeps the old
// edge's sign of flow. What that adds to the area along the border is kept in grown.
type cutter struct {
	*TIN           // the copy
	from   *TIN    // as it was; nil where nothing is asked of that
	loose  bool    // elevations stand beside the grid: the signs of new edges come from the gradients
	border *border // of from
	grown  int64   // twice the area by which the border moved out
}

func newCutter(t *TIN) *cutter {
	c := newCopy(t)
	c.from, c.border, c.loose = t, newBorder(t), false
	return c
}

// vertex adds a vertex at a grid place.
func (c *cutter) vertex(x, y int32, z float64, guess bool) int32 {
	v := int32(len(c.GX))
	c.GX, c.GY, c.GZ = append(c.GX, x), append(c.GY, y), append(c.GZ, geometry.OnGrid(z))
	c.X, c.Y, c.Z = append(c.X, geometry.Metres(x)), append(c.Y, geometry.Metres(y)), append(c.Z, z)
	c.Spot, c.Sigma, c.Assumed = append(c.Spot, -1), append(c.Sigma, 0), append(c.Assumed, guess)
	c.Found, c.Interpolation, c.Below = append(c.Found, false), append(c.Interpolation, 0), append(c.Below, 0)
	c.Out = append(c.Out, -1)
	return v
}

// facet adds a facet a, b, d that is a piece of facet f; its half-edges are still to be linked.
func (c *cutter) facet(f, a, b, d int32) int32 {
	g := int32(c.Facets())
	c.V = append(c.V, a, b, d)
	c.Twin = append(c.Twin, -1, -1, -1)
	c.Flag = append(c.Flag, 0, 0, 0)
	c.Run = append(c.Run, 0, 0, 0)
	c.DX, c.DY = append(c.DX, c.DX[f]), append(c.DY, c.DY[f])
	c.Parent = append(c.Parent, c.Parent[f])
	return g
}

// take gives half-edge to what from was: twin, flag and sign of flow.
func (c *cutter) take(to, from int32) {
	c.Flag[to], c.Run[to] = c.Flag[from], c.Run[from]
	c.link(to, c.Twin[from])
}

func (c *cutter) link(e, o int32) {
	c.Twin[e] = o
	if o >= 0 {
		c.Twin[o] = e
	}
}

// inner links two half-edges as a new edge inside one old facet and finds their sign of flow.
func (c *cutter) inner(e, o int32) {
	c.link(e, o)
	c.Flag[e], c.Flag[o] = 0, 0
	c.Run[e] = c.across(e)
	c.Run[o] = -c.Run[e]
}

// across returns the exact sign of flow over half-edge e, from its old facet's normal.
func (c *cutter) across(e int32) int8 {
	if c.Level(e / 3) {
		return 0
	}
	if c.loose {
		return c.byGradient(e)
	}
	nx, ny, _ := c.from.normal(c.Parent[e/3])
	a, b := c.V[e], c.End(e)
	return int8(geometry.Across(nx, ny, c.GX[b]-c.GX[a], c.GY[b]-c.GY[a]))
}

// splitFacet puts a vertex strictly inside facet f.
func (c *cutter) splitFacet(f, x, y int32) int32 {
	e := 3 * f
	a, b, d := c.V[e], c.V[e+1], c.V[e+2]
	v := c.vertex(x, y, c.from.Height(c.Parent[f], geometry.Metres(x), geometry.Metres(y)), c.Assumed[a] || c.Assumed[b] || c.Assumed[d])
	g := 3 * c.facet(f, b, d, v)
	h := 3 * c.facet(f, d, a, v)
	c.take(g, e+1)
	c.take(h, e+2)
	c.V[e+2] = v
	c.inner(e+1, g+2)
	c.inner(g+1, h+2)
	c.inner(h+1, e+2)
	c.Out[v] = e + 2
	c.reseat(b, e+1, g)
	c.reseat(d, e+2, h)
	return v
}

// reseat makes half-edge to the way out of v where it was from.
func (c *cutter) reseat(v, from, to int32) {
	if c.Out[v] == from {
		c.Out[v] = to
	}
}

// splitEdge puts a vertex on half-edge e and its twin. The half of e that keeps its number starts where e did.
func (c *cutter) splitEdge(e, x, y int32) int32 {
	a, b, d, o := c.V[e], c.End(e), c.V[Prev(e)], c.Twin[e]
	v := c.vertex(x, y, c.onEdge(a, b, x, y), c.Assumed[a] || c.Assumed[b])
	n := Next(e)
	g := 3 * c.facet(e/3, v, b, d)
	c.take(g+1, n)
	c.reseat(b, n, g+1)
	c.V[n] = v
	c.inner(n, g+2)
	c.Flag[g], c.Run[g] = c.Flag[e], c.Run[e]
	c.Out[v] = g
	if o < 0 {
		c.grown -= geometry.TwiceArea(c.GX, c.GY, a, b, v)
		return v
	}
	p := Prev(o)
	q := c.V[p]
	h := 3 * c.facet(o/3, b, v, q)
	c.take(h+2, p)
	c.reseat(q, p, h+2)
	c.reseat(b, o, h)
	c.V[o] = v
	c.inner(h+1, p)
	c.Flag[h], c.Run[h] = c.Flag[o], c.Run[o]
	c.link(g, h)
	return v
}

// onEdge returns the elevation at (x, y) on the edge a-b, exactly that of its ends where they are equal.
func (c *cutter) onEdge(a, b, x, y int32) float64 {
	if c.Z[a] == c.Z[b] {
		return c.Z[a]
	}
	t := fraction(c.GX, c.GY, a, b, float64(x), float64(y))
	return c.Z[a] + float64(t*(c.Z[b]-c.Z[a]))
}

// fraction returns where along a-b the foot of a place lies: 0 at a, 1 at b, never beyond.
func fraction(gx, gy []int32, a, b int32, x, y float64) float64 {
	dx, dy := float64(gx[b]-gx[a]), float64(gy[b]-gy[a])
	t := (float64(dx*(x-float64(gx[a]))) + float64(dy*(y-float64(gy[a])))) / (float64(dx*dx) + float64(dy*dy))
	return math.Max(0, math.Min(1, t))
}

// place puts a vertex on half-edge e, t of the way along, and returns it: an end of the edge when that is the nearest
// grid place, or when no place near by leaves all four facets an area.
func (c *cutter) place(e int32, t float64) int32 {
	a, b := c.V[e], c.End(e)
	x := int32(math.Round(float64(c.GX[a]) + float64(t*float64(c.GX[b]-c.GX[a]))))
	y := int32(math.Round(float64(c.GY[a]) + float64(t*float64(c.GY[b]-c.GY[a]))))
	for _, v := range [2]int32{a, b} {
		if c.GX[v] == x && c.GY[v] == y {
			return v
		}
	}
	for _, s := range [9][2]int32{{}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
		if c.fits(e, x+s[0], y+s[1]) {
			return c.splitEdge(e, x+s[0], y+s[1])
		}
	}
	return choose.If(t < 0.5, a, b)
}

// fits reports whether a vertex at (x, y) on half-edge e leaves every facet an area.
func (c *cutter) fits(e, x, y int32) bool {
	a, b, d := c.V[e], c.End(e), c.V[Prev(e)]
	if c.turns(d, a, x, y) <= 0 || c.turns(b, d, x, y) <= 0 {
		return false
	}
	o := c.Twin[e]
	if o < 0 {
		return true
	}
	q := c.V[Prev(o)]
	return c.turns(a, q, x, y) > 0 && c.turns(q, b, x, y) > 0
}

// turns returns how a, b, (x, y) turn.
func (c *cutter) turns(a, b, x, y int32) int {
	return geometry.Orient(c.GX[a], c.GY[a], c.GX[b], c.GY[b], x, y)
}
