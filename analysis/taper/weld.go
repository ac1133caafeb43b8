package taper

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"runnel/analysis/gather"
	"runnel/analysis/geometry/vector"
)

// join is the distance below which two corners of cells are one [m].
const join = 1e-4

// web is the cells' sides, cut at each other's corners: what facets and folds are drawn from.
type web struct {
	at    []orb.Point
	edges []side
}

// side is a piece of a cell's side from corner a to corner b, the cell on its left. twin is the same piece seen
// from the other side, -1 on the roof's border and where rounding left none.
type side struct {
	a, b, cell int32
	twin       int32
}

// weld merges the cells' corners and cuts their sides.
func weld(cells []cell) *web {
	w := &web{}
	loops := w.merge(cells)
	near := newBins(w.at)
	corners := gather.Sum(loops, func(loop []int32) int { return len(loop) })
	number := make(map[uint64]int32, corners)
	w.edges = make([]side, 0, corners)
	var on []stop
	for c, loop := range loops {
		for i, a := range loop {
			b := loop[(i+1)%len(loop)]
			if a == b {
				continue
			}
			on = near.between(w.at, a, b, on[:0])
			last := a
			for _, s := range append(on, stop{b, 1}) {
				if s.v != last {
					w.add(number, last, s.v, int32(c))
					last = s.v
				}
			}
		}
	}
	return w
}

// add appends a side and ties it to its twin.
func (w *web) add(number map[uint64]int32, a, b, c int32) {
	s := side{a, b, c, -1}
	if t, ok := number[pair(b, a)]; ok && w.edges[t].twin < 0 {
		s.twin = t
		w.edges[t].twin = int32(len(w.edges))
	}
	number[pair(a, b)] = int32(len(w.edges))
	w.edges = append(w.edges, s)
}

// pair is one number for two corners.
func pair(a, b int32) uint64 { return uint64(uint32(a))<<32 | uint64(uint32(b)) }

// merge numbers the corners of all cells, those within join of each other as one.
func (w *web) merge(cells []cell) [][]int32 {
	grid := map[[2]int64]int32{} // the last corner in a square, from 1 on: two that are no neighbours of each other may stand in one
	var before []int32           // per corner: the one before it in its square, likewise
	find := func(p orb.Point) int32 {
		x, y := int64(math.Floor(p[0]/join)), int64(math.Floor(p[1]/join))
		for i := x - 1; i <= x+1; i++ {
			for j := y - 1; j <= y+1; j++ {
				found := int32(-1)
				for v := grid[[2]int64{i, j}] - 1; v >= 0; v = before[v] - 1 {
					if vector.Length(vector.Minus(w.at[v], p)) <= join {
						found = v // the first that was put there
					}
				}
				if found >= 0 {
					return found
				}
			}
		}
		v := int32(len(w.at))
		k := [2]int64{x, y}
		w.at, before = append(w.at, p), append(before, grid[k])
		grid[k] = v + 1
		return v
	}
	loops := make([][]int32, len(cells))
	for i := range cells {
		for _, p := range cells[i].on {
			loops[i] = append(loops[i], find(p))
		}
	}
	return loops
}

// stop is a corner on a side and how far along it stands, from 0 to 1.
type stop struct {
	v int32
	t float64
}

// bins sorts points into squares.
type bins struct {
	x0, y0, step float64
	nx, ny       int
	in           [][]int32
}

func newBins(at []orb.Point) *bins {
	b := squaresOver(at)
	count := make([]int32, len(b.in))
	for _, p := range at {
		count[b.column(p[0])+b.nx*b.row(p[1])]++
	}
	room := make([]int32, len(at))
	for k, n := range count {
		b.in[k], room = room[:0:n], room[n:]
	}
	for i, p := range at {
		k := b.column(p[0]) + b.nx*b.row(p[1])
		b.in[k] = append(b.in[k], int32(i))
	}
	return b
}

// squaresOver returns empty squares over points, about one a point.
func squaresOver(at []orb.Point) *bins {
	c := newCell(at, 0)
	w, h := c.hi[0]-c.lo[0]+1, c.hi[1]-c.lo[1]+1
	b := &bins{x0: c.lo[0], y0: c.lo[1], step: math.Sqrt(w * h / float64(len(at)+1))}
	b.nx, b.ny = int(w/b.step)+1, int(h/b.step)+1
	b.in = make([][]int32, b.nx*b.ny)
	return b
}

func (b *bins) column(x float64) int { return max(0, min(b.nx-1, int((x-b.x0)/b.step))) }
func (b *bins) row(y float64) int    { return max(0, min(b.ny-1, int((y-b.y0)/b.step))) }

// between appends the points on the straight line from point i to point j, ends left out, in order.
func (b *bins) between(at []orb.Point, i, j int32, on []stop) []stop {
	return b.along(at, at[i], at[j], [2]int32{i, j}, on)
}

// along appends the points on the straight line from p to q, those of two numbers left out, in order.
func (b *bins) along(at []orb.Point, p, q orb.Point, but [2]int32, on []stop) []stop {
	d := vector.Minus(q, p)
	l := vector.Length(d)
	for c := b.column(math.Min(p[0], q[0]) - join); c <= b.column(math.Max(p[0], q[0])+join); c++ {
		r0, r1 := b.rows(p, d, c)
		for r := r0; r <= r1; r++ {
			for _, v := range b.in[c+b.nx*r] {
				if v == but[0] || v == but[1] {
					continue
				}
				u := vector.Minus(at[v], p)
				if t := vector.Dot(u, d) / (l * l); t > 0 && t < 1 && math.Abs(vector.Cross(d, u))/l <= join {
					on = append(on, stop{v, t})
				}
			}
		}
	}
	sort.Slice(on, func(x, y int) bool { return on[x].t < on[y].t })
	return on
}

// rows returns the rows that the line from p along d runs through in column c.
func (b *bins) rows(p, d orb.Point, c int) (r0, r1 int) {
	lo, hi := 0.0, 1.0
	if d[0] != 0 {
		s, t := (b.x0+float64(float64(c)*b.step)-join-p[0])/d[0], (b.x0+float64(float64(c+1)*b.step)+join-p[0])/d[0]
		lo, hi = math.Max(0, math.Min(s, t)), math.Min(1, math.Max(s, t))
		if lo > hi {
			return 0, -1
		}
	}
	y, z := p[1]+float64(lo*d[1]), p[1]+float64(hi*d[1])
	return b.row(math.Min(y, z) - join), b.row(math.Max(y, z) + join)
}
