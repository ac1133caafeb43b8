package surface

import (
	"math"
	"slices"
)

// index finds the items near a place: a uniform grid of cells, each with the items that touch it.
type index struct {
	x0, y0  float64
	cell    float64
	nx, ny  int
	start   []int32 // per cell, and one past the last
	items   []int32
	inverse float64
}

// reachFunc returns the x range that item i covers between y0 and y1, and whether it is there at all.
type reachFunc func(i int, y0, y1 float64) (x0, x1 float64, ok bool)

// newIndex indexes n items that lie in the box, in about cells cells.
func newIndex(x0, y0, x1, y1 float64, n, cells int, rows func(i int) (y0, y1 float64), reach reachFunc) *index {
	w, h := math.Max(x1-x0, 1), math.Max(y1-y0, 1)
	g := &index{x0: x0, y0: y0, cell: math.Max(math.Sqrt(w*h/float64(cells)), math.Max(w, h)/16384)}
	g.inverse = 1 / g.cell
	g.nx, g.ny = int(w*g.inverse)+1, int(h*g.inverse)+1
	g.start = make([]int32, g.nx*g.ny+1)
	g.cover(n, rows, reach, func(cell, _ int) { g.start[cell+1]++ })
	for c := range g.nx * g.ny {
		g.start[c+1] += g.start[c]
	}
	g.items = make([]int32, g.start[g.nx*g.ny])
	fill := append([]int32(nil), g.start...)
	g.cover(n, rows, reach, func(cell, i int) {
		g.items[fill[cell]] = int32(i)
		fill[cell]++
	})
	return g
}

// cover visits every cell that an item touches.
func (g *index) cover(n int, rows func(i int) (y0, y1 float64), reach reachFunc, visit func(cell, i int)) {
	for i := range n {
		y0, y1 := rows(i)
		for row := g.row(y0); row <= g.row(y1); row++ {
			low := g.y0 + float64(row)*g.cell
			x0, x1, ok := reach(i, low-g.cell*1e-9, low+g.cell*(1+1e-9))
			if !ok {
				continue
			}
			for col := g.column(x0); col <= g.column(x1); col++ {
				visit(row*g.nx+col, i)
			}
		}
	}
}

func (g *index) row(y float64) int    { return clampInt((y-g.y0)*g.inverse, g.ny) }
func (g *index) column(x float64) int { return clampInt((x-g.x0)*g.inverse, g.nx) }

func clampInt(v float64, n int) int { return max(0, min(n-1, int(math.Max(v, 0)))) }

// near returns the items of the cell of (x, y), ascending.
func (g *index) near(x, y float64) []int32 { return g.list(g.row(y)*g.nx + g.column(x)) }

// within returns the items of the cells that a box meets, ascending, each once.
func (g *index) within(x0, y0, x1, y1 float64) []int32 {
	var out []int32
	for row := g.row(y0); row <= g.row(y1); row++ {
		for col := g.column(x0); col <= g.column(x1); col++ {
			out = append(out, g.list(row*g.nx+col)...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (g *index) list(cell int) []int32 { return g.items[g.start[cell]:g.start[cell+1]] }

// box is a rectangle in plan.
type box struct{ x0, y0, x1, y1 float64 }

// newBoxIndex indexes boxes by what they cover.
func newBoxIndex(n, cells int, at func(i int) box) *index {
	all := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range n {
		all = all.join(at(i))
	}
	rows := func(i int) (float64, float64) { b := at(i); return b.y0, b.y1 }
	reach := func(i int, _, _ float64) (float64, float64, bool) { b := at(i); return b.x0, b.x1, true }
	if n == 0 {
		all = box{}
	}
	return newIndex(all.x0, all.y0, all.x1, all.y1, n, cells, rows, reach)
}

func (b box) join(c box) box {
	return box{math.Min(b.x0, c.x0), math.Min(b.y0, c.y0), math.Max(b.x1, c.x1), math.Max(b.y1, c.y1)}
}

func (b box) holds(x, y float64) bool { return x >= b.x0 && x <= b.x1 && y >= b.y0 && y <= b.y1 }
