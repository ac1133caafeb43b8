package board

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
)

// grid is the raster of boards of one field: courses along its fall from a place on.
type grid struct {
	at            orb.Point
	ux, uy        float64 // unit vector up the taper
	length, width float64 // of a board [m]
}

// local returns p as distance up the taper and along the course, counter-clockwise from it.
func (g *grid) local(p orb.Point) orb.Point {
	dx, dy := p[0]-g.at[0], p[1]-g.at[1]
	return orb.Point{float64(dx*g.ux) + float64(dy*g.uy), float64(dy*g.ux) - float64(dx*g.uy)}
}

// plan is the way back of local.
func (g *grid) plan(q orb.Point) orb.Point {
	return orb.Point{
		g.at[0] + (float64(q[0]*g.ux) - float64(q[1]*g.uy)),
		g.at[1] + (float64(q[0]*g.uy) + float64(q[1]*g.ux)),
	}
}

// cells visits the parts of a polygon in each cell of the grid that are worth a cut, by course and then along it.
func (g *grid) cells(polygon orb.Polygon, visit func(course int, plan orb.MultiPolygon, area float64)) {
	rings := make([]orb.Ring, len(polygon))
	low, high := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	for i, r := range polygon {
		for _, p := range r {
			q := g.local(p)
			rings[i] = append(rings[i], q)
			low = orb.Point{min(low[0], q[0]), min(low[1], q[1])}
			high = orb.Point{max(high[0], q[0]), max(high[1], q[1])}
		}
	}
	first, last := int(math.Floor(low[0]/g.length)), int(math.Ceil(high[0]/g.length))
	for c := first; c < last; c++ {
		strip := clipAll(rings, 0, float64(c)*g.length, float64(c+1)*g.length)
		from, to := span(strip)
		for k := int(math.Floor(from / g.width)); k < int(math.Ceil(to/g.width)); k++ {
			cell := clipAll(strip, 1, float64(k)*g.width, float64(k+1)*g.width)
			if area := signed(cell); area >= sliver {
				visit(c, g.back(cell), area)
			}
		}
	}
}

// span returns the least and greatest place along the course of rings.
func span(rings []orb.Ring) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		for _, p := range r {
			from, to = min(from, p[1]), max(to, p[1])
		}
	}
	if from > to {
		return 0, 0
	}
	return from, to
}

// back returns rings in plan: every counter-clockwise one begins a polygon, the others are its holes.
func (g *grid) back(rings []orb.Ring) orb.MultiPolygon {
	var out orb.MultiPolygon
	for _, r := range rings {
		ring := make(orb.Ring, 0, len(r)+1)
		for _, q := range r {
			ring = append(ring, g.plan(q))
		}
		ring = append(ring, ring[0])
		if n := len(out); n > 0 && twice(r) < 0 {
			out[n-1] = append(out[n-1], ring)
			continue
		}
		out = append(out, orb.Polygon{ring})
	}
	return out
}

// cut returns the length of a piece's outline that lies on no line of the grid: what has to be cut beside the
// board's own edges [m].
func (g *grid) cut(plan orb.MultiPolygon) float64 {
	length := 0.0
	for _, polygon := range plan {
		for _, r := range polygon {
			for i := 1; i < len(r); i++ {
				if a, b := g.local(r[i-1]), g.local(r[i]); !g.onLine(a, b, 0, g.length) && !g.onLine(a, b, 1, g.width) {
					dx, dy := b[0]-a[0], b[1]-a[1]
					length += vector.Norm(dx, dy)
				}
			}
		}
	}
	return length
}

// onLine reports whether a and b lie on one line of the grid across an axis.
func (g *grid) onLine(a, b orb.Point, axis int, pitch float64) bool {
	const hair = 1e-6
	return math.Abs(a[axis]-b[axis]) < hair && math.Abs(a[axis]-float64(math.Round(a[axis]/pitch)*pitch)) < hair
}

// clipAll cuts rings to a slab across an axis. A ring that is not convex keeps edges along the slab's border that
// enclose nothing; its area is right.
func clipAll(rings []orb.Ring, axis int, low, high float64) []orb.Ring {
	var out []orb.Ring
	for _, r := range rings {
		r = clip(clip(r, axis, low, 1), axis, high, -1)
		if len(r) >= 3 {
			out = append(out, r)
		}
	}
	return out
}

// clip keeps what lies on one side of a line across an axis (Sutherland and Hodgman, "Reentrant polygon clipping",
// Communications of the ACM 17, 1974; from memory). The ring's last point may repeat its first.
func clip(r orb.Ring, axis int, at, side float64) orb.Ring {
	if n := len(r); n > 1 && r[0] == r[n-1] {
		r = r[:n-1]
	}
	var out orb.Ring
	for i, b := range r {
		a := r[(i+len(r)-1)%len(r)]
		da, db := side*(a[axis]-at), side*(b[axis]-at)
		if (da < 0) != (db < 0) {
			t := da / (da - db)
			p := orb.Point{a[0] + float64(t*(b[0]-a[0])), a[1] + float64(t*(b[1]-a[1]))}
			p[axis] = at
			out = append(out, p)
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}

// signed returns the area of rings, holes taken off.
func signed(rings []orb.Ring) float64 {
	return gather.Sum(rings, func(r orb.Ring) float64 { return twice(r) / 2 })
}

// twice returns twice the signed area of an open ring.
func twice(r orb.Ring) float64 {
	sum := 0.0
	for i, b := range r {
		a := r[(i+len(r)-1)%len(r)]
		sum += float64(a[0]*b[1]) - float64(b[0]*a[1])
	}
	return sum
}
