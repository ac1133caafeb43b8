package nextspot

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// wide is the radius of an empty circle from which a gap is booked: that of the circle round a square of the greatest spacing that shows
// ponds, and a tenth more [m].
const wide = 1.1 * standard.SurveySpacing / math.Sqrt2

// gaps books the middle of every empty circle that is wide: circles through three corners of a facet hold no other vertex
// (Delaunay). Middles off their facet are left to the facet that they lie in.
func (c *collector) gaps() {
	t := c.Surface.TIN
	for f := range int32(t.Facets()) {
		p, r, ok := circle(t, f)
		if !ok || r < wide {
			continue
		}
		if !holds(t, f, p) {
			// a long facet at the border: its own middle
			p = middle(t, f)
			r = math.Inf(1)
			for e := 3 * f; e < 3*f+3; e++ {
				r = math.Min(r, vector.Distance(p, orb.Point{t.X[t.V[e]], t.Y[t.V[e]]}))
			}
			if r < wide {
				continue
			}
		}
		c.add(at(p, Gap), float64(r*r))
	}
}

// circle returns the middle and the radius of the circle through a facet's corners.
func circle(t *surface.TIN, f int32) (p orb.Point, r float64, ok bool) {
	a, b, d := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	bx, by, cx, cy := t.X[b]-t.X[a], t.Y[b]-t.Y[a], t.X[d]-t.X[a], t.Y[d]-t.Y[a]
	cross := 2 * (float64(bx*cy) - float64(by*cx))
	if cross <= 0 {
		return p, 0, false
	}
	b2, c2 := float64(bx*bx)+float64(by*by), float64(cx*cx)+float64(cy*cy)
	ux := (float64(cy*b2) - float64(by*c2)) / cross
	uy := (float64(bx*c2) - float64(cx*b2)) / cross
	return orb.Point{t.X[a] + ux, t.Y[a] + uy}, vector.Norm(ux, uy), true
}

// holds reports whether p lies in facet f, borders included: of a right angle the middle of the circle lies on the long side.
func holds(t *surface.TIN, f int32, p orb.Point) bool {
	for e := 3 * f; e < 3*f+3; e++ {
		a, b := t.V[e], t.End(e)
		if alike(float64((t.X[b]-t.X[a])*(p[1]-t.Y[a]))-float64((t.Y[b]-t.Y[a])*(p[0]-t.X[a]))) < 0 {
			return false
		}
	}
	return true
}

func middle(t *surface.TIN, f int32) orb.Point {
	a, b, d := t.V[3*f], t.V[3*f+1], t.V[3*f+2]
	return orb.Point{(t.X[a] + t.X[b] + t.X[d]) / 3, (t.Y[a] + t.Y[b] + t.Y[d]) / 3}
}

// tellable is by how many standard errors a slope must differ from the criterion to be told from it.
const tellable = 2

// planes books both ends of the planes whose slope cannot be told from the criterion: spots there pull hardest at the slope.
func (c *collector) planes() {
	t := c.Surface.TIN
	for i := range c.Slopes.Planes {
		p := &c.Slopes.Planes[i]
		if p.Level || math.Abs(p.Slope-c.Criteria.MinSlope) > tellable*p.Error() {
			continue
		}
		low, high := int32(-1), int32(-1)
		o := p.Facets[0] * 3
		along := func(v int32) float64 {
			return alike(float64(p.Gradient[0]*(t.X[v]-t.X[t.V[o]])) + float64(p.Gradient[1]*(t.Y[v]-t.Y[t.V[o]])))
		}
		for _, f := range p.Facets {
			for e := 3 * f; e < 3*f+3; e++ {
				v := t.V[e]
				if low < 0 || along(v) < along(low) || along(v) == along(low) && v < low {
					low = v
				}
				if high < 0 || along(v) > along(high) || along(v) == along(high) && v < high {
					high = v
				}
			}
		}
		for _, end := range []struct {
			v int32
			k Kind
		}{{low, PlaneLow}, {high, PlaneHigh}} {
			q := at(orb.Point{t.X[end.v], t.Y[end.v]}, end.k)
			q.Plane = int32(i)
			c.add(q, p.Area)
		}
	}
}

// edges books the points of edges whose height was inferred, over the facets that rest on them.
func (c *collector) edges() {
	t := c.Surface.TIN
	for v := range int32(len(t.X)) {
		if !t.Assumed[v] || t.Out[v] < 0 {
			continue
		}
		area := 0.0
		for e := range t.Star(v) {
			area += t.FacetArea(e / 3)
		}
		c.add(at(orb.Point{t.X[v], t.Y[v]}, EdgeUnshot), area)
	}
}
