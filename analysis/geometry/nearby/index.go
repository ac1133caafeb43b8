package nearby

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Index finds the items near a place: a uniform grid of cells, each with the items that touch it.
type Index struct {
	x0, y0  float64
	cell    float64
	nx, ny  int
	start   []int32 // per cell, and one past the last
	items   []int32
	inverse float64
}

// ReachFunc returns the x range that item i covers between y0 and y1, and whether it is there at all.
type ReachFunc func(i int, y0, y1 float64) (x0, x1 float64, ok bool)

// NewIndex indexes n items that lie in the box, in about cells cells.
func NewIndex(all orb.Bound, n, cells int, rows func(i int) (y0, y1 float64), reach ReachFunc) *Index {
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
func emptyIndex(all orb.Bound, cells int) *Index {
	w, h := math.Max(all.Max[0]-all.Min[0], 1), math.Max(all.Max[1]-all.Min[1], 1)
	g := &Index{x0: all.Min[0], y0: all.Min[1], cell: math.Max(math.Sqrt(w*h/float64(cells)), math.Max(w, h)/16384)}
	g.inverse = 1 / g.cell
	g.nx, g.ny = int(w*g.inverse)+1, int(h*g.inverse)+1
	g.start = make([]int32, g.nx*g.ny+1)
	return g
}

// room turns the numbers of items in g.start into the places where they begin, and makes room for them.
func (g *Index) room() {
	for c := range g.nx * g.ny {
		g.start[c+1] += g.start[c]
	}
	g.items = make([]int32, g.start[g.nx*g.ny])
}

// cover visits every cell that an item touches.
func (g *Index) cover(n int, rows func(i int) (y0, y1 float64), reach ReachFunc, visit func(cell, i int)) {
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

func (g *Index) row(y float64) int    { return clampInt((y-g.y0)*g.inverse, g.ny) }
func (g *Index) column(x float64) int { return clampInt((x-g.x0)*g.inverse, g.nx) }

func clampInt(v float64, n int) int { return max(0, min(n-1, int(max(v, 0)))) }

// Near returns the items of the cell of (x, y), ascending.
func (g *Index) Near(x, y float64) []int32 { return g.List(g.Cell(x, y)) }

// Within returns the items of the cells that a box meets, ascending, each once.
func (g *Index) Within(x0, y0, x1, y1 float64) []int32 {
	var out []int32
	for row := g.row(y0); row <= g.row(y1); row++ {
		for col := g.column(x0); col <= g.column(x1); col++ {
			out = append(out, g.List(row*g.nx+col)...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Meets reports whether a box reaches into a cell that has items.
func (g *Index) Meets(b orb.Bound) bool {
	if b.Max[0] < g.x0 || b.Max[1] < g.y0 {
		return false
	}
	x0, x1, y1 := g.column(b.Min[0]), g.column(b.Max[0]), g.row(b.Max[1])
	for row := g.row(b.Min[1]); row <= y1; row++ {
		if g.start[row*g.nx+x1+1] > g.start[row*g.nx+x0] {
			return true
		}
	}
	return false
}

// Cells returns how many cells there are.
func (g *Index) Cells() int { return g.nx * g.ny }

// Cell returns the cell of (x, y), the nearest where it lies outside.
func (g *Index) Cell(x, y float64) int { return g.row(y)*g.nx + g.column(x) }

// Reaches reports whether (x, y) lies no farther than by to the left of all items or below them.
func (g *Index) Reaches(x, y, by float64) bool { return x >= g.x0-by && y >= g.y0-by }

// List returns the items of a cell, ascending.
func (g *Index) List(cell int) []int32 { return g.items[g.start[cell]:g.start[cell+1]] }

// NewBoxes indexes boxes by what they cover, in about cells cells.
func NewBoxes(n, cells int, at func(i int) orb.Bound) *Index {
	boxes := make([]orb.Bound, n)
	var all orb.Bound
	for i := range boxes {
		boxes[i] = at(i)
		if i == 0 {
			all = boxes[i]
		}
		all = all.Union(boxes[i])
	}
	g := emptyIndex(all, cells)
	for i := range boxes {
		b := &boxes[i]
		x0, x1, y1 := g.column(b.Min[0]), g.column(b.Max[0]), g.row(b.Max[1])
		for row := g.row(b.Min[1]); row <= y1; row++ {
			for col := x0; col <= x1; col++ {
				g.start[row*g.nx+col+1]++
			}
		}
	}
	g.room()
	fill := append([]int32(nil), g.start...)
	for i := range boxes {
		b := &boxes[i]
		x0, x1, y1 := g.column(b.Min[0]), g.column(b.Max[0]), g.row(b.Max[1])
		for row := g.row(b.Min[1]); row <= y1; row++ {
			for c := row*g.nx + x0; c <= row*g.nx+x1; c++ {
				g.items[fill[c]] = int32(i)
				fill[c]++
			}
		}
	}
	return g
}
