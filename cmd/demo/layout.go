package demo

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// bays is a roof of nx by ny four-way bays, each with a drain in its middle, walls all round.
type bays struct {
	*site
	nx, ny int
	bx, by float64 // size of a bay
	slope  float64
}

// fourWay lays out nx by ny bays of bx by by metres whose planes fall at slope to a drain in the middle:
// z = slope*max(|dx|, |dy|) about the bay's drain, which makes valleys at 45 degrees of slope/sqrt(2) and
// level ridges between bays.
func fourWay(nx, ny int, bx, by, slope float64) *bays {
	b := &bays{site: &site{edge: "wall"}, nx: nx, ny: ny, bx: bx, by: by, slope: slope}
	b.outline = rectangle(0, 0, float64(nx)*bx, float64(ny)*by)
	b.relief = func(p orb.Point) float64 {
		c := b.centre(b.index(p))
		return slope * math.Max(math.Abs(p[0]-c[0]), math.Abs(p[1]-c[1]))
	}
	h := math.Min(bx, by) / 2
	for i := range nx * ny {
		c := b.centre(i)
		b.drain(fmt.Sprintf("RD-%d", i+1), c)
		for _, d := range [][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
			near := orb.Point{c[0] + d[0]*sumpEdge*math.Sqrt2/2, c[1] + d[1]*sumpEdge*math.Sqrt2/2}
			b.fold("valley", near, orb.Point{c[0] + d[0]*h, c[1] + d[1]*h})
		}
		if i%nx < nx-1 {
			b.fold("ridge", orb.Point{c[0] + bx/2, c[1] - h}, orb.Point{c[0] + bx/2, c[1] + h})
		}
		if i/nx < ny-1 {
			b.fold("ridge", orb.Point{c[0] - h, c[1] + by/2}, orb.Point{c[0] + h, c[1] + by/2})
		}
	}
	return b
}

// index is the number of the bay that holds p.
func (b *bays) index(p orb.Point) int {
	i := min(b.nx-1, max(0, int(math.Floor(p[0]/b.bx))))
	j := min(b.ny-1, max(0, int(math.Floor(p[1]/b.by))))
	return j*b.nx + i
}

// centre is the place of bay i's drain.
func (b *bays) centre(i int) orb.Point {
	return orb.Point{(float64(i%b.nx) + 0.5) * b.bx, (float64(i/b.nx) + 0.5) * b.by}
}

// overflows gives every bay an overflow drain 1.6 m east of its primary one.
func (b *bays) overflows() {
	for i := range b.nx * b.ny {
		c := b.centre(i)
		b.overflow(fmt.Sprintf("OD-%d", i+1), orb.Point{c[0] + 1.6, c[1]}, i)
	}
}

// shed is a roof of one plane that falls along y to an edge at y = 0; walls on the other sides.
type shed struct {
	*site
	width, depth float64
	slope        float64
}

// oneWay lays out a shed that falls to an edge of the given type, gutter or free.
func oneWay(width, depth, slope float64, kind string) *shed {
	s := &shed{site: &site{edge: "wall"}, width: width, depth: depth, slope: slope}
	s.outline = rectangle(0, 0, width, depth)
	s.edges = []edge{{orb.Point{0, 0}, orb.Point{width, 0}, kind}}
	s.relief = func(p orb.Point) float64 { return slope * p[1] }
	return s
}

// unit sets a curb of the given size on the shed with its lower left corner at p and a cricket behind it
// whose valleys run at 45 degrees.
func (s *shed) unit(label string, p orb.Point, w, d float64) {
	x0, x1, y := p[0], p[0]+w, p[1]+d
	middle, apex := orb.Point{p[0] + w/2, y}, orb.Point{p[0] + w/2, y + w/2}
	s.curbs = append(s.curbs, curb{
		ring:   []orb.Point{p, {x1, p[1]}, {x1, y}, middle, {x0, y}},
		height: curbHeight, label: label,
	})
	m, r := 2*s.slope, math.Sqrt2/2
	s.raise(func(q orb.Point) float64 {
		if q[1] < y {
			return 0
		}
		u := math.Min(q[0]-x0, x1-q[0])
		return math.Max(0, m*(u*r-(q[1]-y)*r))
	})
	s.fold("cricket", orb.Point{x0, y}, apex)
	s.fold("cricket", orb.Point{x1, y}, apex)
	s.fold("ridge", middle, between(middle, apex, 0.5))
	s.keep = append(s.keep, box(x0-0.5, p[1]-0.5, x1+0.5, y+w/2+0.3))
}

// parapet is a roof of one plane that falls along y to a wall at y = 0 with scuppers, and crickets
// against that wall between them.
type parapet struct {
	*site
	width, depth float64
	slope        float64
	at           []float64 // x of the scuppers
	phi          []float64 // angle of the cricket valleys: before the first scupper, between, after the last
}

// scupperWall lays out a parapet roof. angles has one more entry than at.
func scupperWall(width, depth, slope float64, at, angles []float64) *parapet {
	w := &parapet{site: &site{edge: "wall"}, width: width, depth: depth, slope: slope, at: at, phi: angles}
	w.outline = rectangle(0, 0, width, depth)
	w.relief = func(p orb.Point) float64 {
		u, phi := w.span(p[0])
		return slope*p[1] + math.Max(0, 2*slope*(u*math.Sin(phi)-p[1]*math.Cos(phi)))
	}
	for i, x := range at {
		w.scupper(fmt.Sprintf("SC-%d", i+1), orb.Point{x, 0})
		sin, cos := math.Sincos(angles[i])
		left := x
		if i > 0 {
			left = (x - at[i-1]) / 2
		}
		w.fold("cricket", orb.Point{x - sumpEdge*cos, sumpEdge * sin}, orb.Point{x - left, left * math.Tan(angles[i])})
		sin, cos = math.Sincos(angles[i+1])
		right := width - x
		if i+1 < len(at) {
			right = (at[i+1] - x) / 2
			w.fold("ridge", orb.Point{x + right, 0}, between(orb.Point{x + right, 0}, orb.Point{x + right, right * math.Tan(angles[i+1])}, 0.9))
		}
		w.fold("cricket", orb.Point{x + sumpEdge*cos, sumpEdge * sin}, orb.Point{x + right, right * math.Tan(angles[i+1])})
	}
	return w
}

// span is the distance along the wall to the nearest scupper and the angle of the cricket there.
func (w *parapet) span(x float64) (u, phi float64) {
	last := len(w.at) - 1
	if x <= w.at[0] {
		return w.at[0] - x, w.phi[0]
	}
	if x >= w.at[last] {
		return x - w.at[last], w.phi[last+1]
	}
	i := 0
	for x > w.at[i+1] {
		i++
	}
	return math.Min(x-w.at[i], w.at[i+1]-x), w.phi[i+1]
}

// overflows puts an overflow scupper beside each primary one.
func (w *parapet) overflows() {
	for i, x := range w.at {
		w.overflow(fmt.Sprintf("OS-%d", i+1), orb.Point{x + 1.2, 0}, i)
	}
}

// trough is a roof of two planes that meet in one falling valley along y = 0, with a scupper at its low
// end in the wall at x = 0.
type trough struct {
	*site
	length, width float64
	cross         float64 // slope of the planes square to the valley
	floor         profile // the valley's own profile
}

// valleyRoof lays out a trough whose valley falls at fall.
func valleyRoof(length, width, cross, fall float64) *trough {
	t := &trough{site: &site{edge: "wall"}, length: length, width: width, cross: cross}
	t.floor = profile{{0, 0}, {length, length * fall}}
	t.outline = rectangle(0, -width/2, length, width/2)
	t.relief = func(p orb.Point) float64 { return t.floor.height(p[0]) + cross*math.Abs(p[1]) }
	t.scupper("SC-1", orb.Point{0, 0})
	return t
}

// valley adds the valley's breakline, left out where curbs stand on it.
func (t *trough) valley() {
	from := sumpEdge
	for _, c := range t.curbs {
		if b := orb.MultiPoint(c.ring).Bound(); b.Min[1] < 0 && b.Max[1] > 0 {
			t.fold("valley", orb.Point{from, 0}, orb.Point{b.Min[0], 0})
			from = b.Max[0]
		}
	}
	path := []orb.Point{{from, 0}}
	for _, p := range t.floor {
		if p.at > from {
			path = append(path, orb.Point{p.at, 0})
		}
	}
	t.fold("valley", path...)
}

// overflows puts an overflow scupper beside the primary one.
func (t *trough) overflows() { t.overflow("OS-1", orb.Point{0, 0.9}, 0) }
