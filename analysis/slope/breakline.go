package slope

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// breaklineReach is how far an edge may lie from the breakline it follows [m]: snapping moves ends.
const breaklineReach = 0.1

// locator finds the breakline that an edge of the TIN follows: its segments in a grid of square cells.
type locator struct {
	segments []segment
	x, y     float64 // corner of the grid
	size     float64 // side of a cell
	nx, ny   int
	start    []int32 // per cell: first of its entries in list; one more at the end
	list     []int32
}

// segment is one straight piece of a breakline.
type segment struct {
	a, b orb.Point
	line int32
}

func newLocator(lines []roof.Breakline) *locator {
	l := &locator{}
	bound := orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	total := 0.0
	for i := range lines {
		p := lines[i].Line
		for j := 1; j < len(p); j++ {
			s := segment{p[j-1].Plan, p[j].Plan, int32(i)}
			l.segments = append(l.segments, s)
			bound = bound.Extend(s.a).Extend(s.b)
			total += vector.Norm(s.b[0]-s.a[0], s.b[1]-s.a[1])
		}
	}
	if len(l.segments) == 0 {
		return l
	}
	width := math.Max(bound.Max[0]-bound.Min[0], bound.Max[1]-bound.Min[1]) + 4*breaklineReach
	const most = 512 // cells a side
	l.size = math.Max(math.Max(total/float64(len(l.segments)), width/most), 4*breaklineReach)
	l.x, l.y = bound.Min[0]-2*breaklineReach, bound.Min[1]-2*breaklineReach
	l.nx, l.ny = l.cell(bound.Max[0], l.x)+2, l.cell(bound.Max[1], l.y)+2
	l.start = make([]int32, l.nx*l.ny+1)
	l.visit(func(c int, _ int32) { l.start[c+1]++ })
	for c := 1; c < len(l.start); c++ {
		l.start[c] += l.start[c-1]
	}
	l.list = make([]int32, l.start[len(l.start)-1])
	fill := append([]int32(nil), l.start...)
	l.visit(func(c int, s int32) {
		l.list[fill[c]] = s
		fill[c]++
	})
	return l
}

func (l *locator) cell(x, from float64) int { return int(math.Floor((x - from) / l.size)) }

// visit calls do for every cell that a segment may come near.
func (l *locator) visit(do func(cell int, segment int32)) {
	for i, s := range l.segments {
		x0, x1 := math.Min(s.a[0], s.b[0])-breaklineReach, math.Max(s.a[0], s.b[0])+breaklineReach
		y0, y1 := math.Min(s.a[1], s.b[1])-breaklineReach, math.Max(s.a[1], s.b[1])+breaklineReach
		for cy := max(0, l.cell(y0, l.y)); cy <= min(l.ny-1, l.cell(y1, l.y)); cy++ {
			for cx := max(0, l.cell(x0, l.x)); cx <= min(l.nx-1, l.cell(x1, l.x)); cx++ {
				do(cy*l.nx+cx, int32(i))
			}
		}
	}
}

// find returns the breakline nearest to the edge from a to b as a whole, -1 when none is within reach.
func (l *locator) find(a, b orb.Point) int {
	if len(l.segments) == 0 {
		return -1
	}
	mid := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	cx, cy := l.cell(mid[0], l.x), l.cell(mid[1], l.y)
	if cx < 0 || cy < 0 || cx >= l.nx || cy >= l.ny {
		return -1
	}
	best, line := breaklineReach, int32(-1)
	c := cy*l.nx + cx
	for _, i := range l.list[l.start[c]:l.start[c+1]] {
		s := &l.segments[i]
		if d := math.Max(s.distance(mid), s.skew(a, b)); d < best || d == best && s.line < line {
			best, line = d, s.line
		}
	}
	return int(line)
}

// distance returns the plan distance of p from the segment.
func (s *segment) distance(p orb.Point) float64 {
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	px, py := p[0]-s.a[0], p[1]-s.a[1]
	q := float64(dx*dx) + float64(dy*dy)
	if q == 0 {
		return vector.Norm(px, py)
	}
	u := math.Min(1, math.Max(0, (float64(px*dx)+float64(py*dy))/q))
	return vector.Norm(px-float64(u*dx), py-float64(u*dy))
}

// skew returns how far the ends of the edge from a to b turn off the segment's direction through its middle.
func (s *segment) skew(a, b orb.Point) float64 {
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	n := vector.Norm(dx, dy)
	if n == 0 {
		return 0
	}
	return math.Abs(float64((b[0]-a[0])*dy)-float64((b[1]-a[1])*dx)) / (2 * n)
}

// breaklineLinks returns the edges on breaklines, keyed by breakline; those that follow none that is
// known have the last key.
func breaklineLinks(t *surface.TIN, r *roof.Roof) []link {
	var lines []roof.Breakline
	if r != nil {
		lines = r.Breaklines
	}
	l := newLocator(lines)
	var links []link
	for e := range t.Twin {
		if t.Flag[e]&surface.BreaklineEdge == 0 || t.Twin[e] < int32(e) {
			continue
		}
		a, b := t.V[e], t.V[surface.Next(int32(e))]
		k := l.find(orb.Point{t.X[a], t.Y[a]}, orb.Point{t.X[b], t.Y[b]})
		if k < 0 {
			k = len(lines)
		}
		links = append(links, link{int64(k), int32(e)})
	}
	return links
}
