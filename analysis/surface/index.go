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
func newIndex(all box, n, cells int, rows func(i int) (y0, y1 float64), reach reachFunc) *index {
	g := emptyIndex(all, cells)
	g.cover(n, rows, reach, func(cell, _ int) { g.start[cell+1]++ })
	g.room()
	fill := append([]int32(nil), g.start...)
	g.cover(n, rows, reach, func(cell, i int) {
		g.items[fill[cell]] = int32(i)
		fill[cell]++
	})
	return g
}

// emptyIndex returns an index of about cells cells over a box, still without items.
func emptyIndex(all box, cells int) *index {
	w, h := math.Max(all.x1-all.x0, 1), math.Max(all.y1-all.y0, 1)
	g := &index{x0: all.x0, y0: all.y0, cell: math.Max(math.Sqrt(w*h/float64(cells)), math.Max(w, h)/16384)}
	g.inverse = 1 / g.cell
	g.nx, g.ny = int(w*g.inverse)+1, int(h*g.inverse)+1
	g.start = make([]int32, g.nx*g.ny+1)
	return g
}

// room turns the numbers of items in g.start into the places where they begin, and makes room for them.
func (g *index) room() {
	for c := range g.nx * g.ny {
		g.start[c+1] += g.start[c]
	}
	g.items = make([]int32, g.start[g.nx*g.ny])
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

func clampInt(v float64, n int) int { return max(0, min(n-1, int(max(v, 0)))) }

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

// newBoxIndex indexes boxes by what they cover, in about cells cells.
func newBoxIndex(n, cells int, at func(i int) box) *index {
	boxes := make([]box, n)
	all := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range boxes {
		boxes[i] = at(i)
		all = all.join(boxes[i])
	}
	if n == 0 {
		all = box{}
	}
	g := emptyIndex(all, cells)
	for i := range boxes {
		b := &boxes[i]
		x0, x1, y1 := g.column(b.x0), g.column(b.x1), g.row(b.y1)
		for row := g.row(b.y0); row <= y1; row++ {
			for col := x0; col <= x1; col++ {
				g.start[row*g.nx+col+1]++
			}
		}
	}
	g.room()
	fill := append([]int32(nil), g.start...)
	for i := range boxes {
		b := &boxes[i]
		x0, x1, y1 := g.column(b.x0), g.column(b.x1), g.row(b.y1)
		for row := g.row(b.y0); row <= y1; row++ {
			for c := row*g.nx + x0; c <= row*g.nx+x1; c++ {
				g.items[fill[c]] = int32(i)
				fill[c]++
			}
		}
	}
	return g
}

// box is a rectangle in plan.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) join(c box) box {
	return box{min(b.x0, c.x0), min(b.y0, c.y0), max(b.x1, c.x1), max(b.y1, c.y1)}
}

func (b box) holds(x, y float64) bool { return x >= b.x0 && x <= b.x1 && y >= b.y0 && y <= b.y1 }
