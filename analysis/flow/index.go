package flow

import (
	"math"
	"sync"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/surface"
)

// index finds the facet at a point: facets listed by the cells of a grid. It is made when first asked.
type index struct {
	t      *surface.TIN
	once   sync.Once
	x0, y0 float64
	size   float64
	nx, ny int
	start  []int32
	facets []int32
}

// find returns the facet that holds the point, -1 when none does. On an edge it is the facet in which
// the point lies deepest, and the lower numbered of equals.
func (i *index) find(x, y float64) int32 {
	i.once.Do(i.build)
	if i.nx == 0 {
		return -1
	}
	cx, cy := int(math.Floor((x-i.x0)/i.size)), int(math.Floor((y-i.y0)/i.size))
	if cx < 0 || cy < 0 || cx >= i.nx || cy >= i.ny {
		return -1
	}
	cell := cy*i.nx + cx
	best, deepest := int32(-1), -1e-9
	for _, f := range i.facets[i.start[cell]:i.start[cell+1]] {
		if d := i.depth(f, x, y); d > deepest {
			best, deepest = f, d
		}
	}
	return best
}

// depth returns how far inside facet f the point lies: its distance to the nearest side, negative outside.
func (i *index) depth(f int32, x, y float64) float64 {
	t := i.t
	least := math.Inf(1)
	for e := 3 * f; e < 3*f+3; e++ {
		a, b := t.V[e], t.V[surface.Next(e)]
		ex, ey := t.X[b]-t.X[a], t.Y[b]-t.Y[a]
		least = min(least, cross(ex, ey, x-t.X[a], y-t.Y[a])/vector.Norm(ex, ey))
	}
	return least
}

func (i *index) build() {
	t := i.t
	if t.Facets() == 0 {
		return
	}
	i.x0, i.y0 = math.Inf(1), math.Inf(1)
	x1, y1 := math.Inf(-1), math.Inf(-1)
	for k, x := range t.X {
		i.x0, x1 = min(i.x0, x), max(x1, x)
		i.y0, y1 = min(i.y0, t.Y[k]), max(y1, t.Y[k])
	}
	i.size = max(1e-3, math.Sqrt((x1-i.x0)*(y1-i.y0)/float64(t.Facets())))
	i.nx, i.ny = 1+int((x1-i.x0)/i.size), 1+int((y1-i.y0)/i.size)
	i.start = make([]int32, i.nx*i.ny+1)
	i.cells(func(cell int, _ int32) { i.start[cell+1]++ })
	for c := range i.nx * i.ny {
		i.start[c+1] += i.start[c]
	}
	i.facets = make([]int32, i.start[i.nx*i.ny])
	free := append([]int32(nil), i.start...)
	i.cells(func(cell int, f int32) {
		i.facets[free[cell]] = f
		free[cell]++
	})
}

// cells calls visit with every cell that a facet's box touches.
func (i *index) cells(visit func(cell int, f int32)) {
	t := i.t
	for f := range int32(t.Facets()) {
		c := t.V[3*f : 3*f+3]
		ax, bx := span(t.X[c[0]], t.X[c[1]], t.X[c[2]])
		ay, by := span(t.Y[c[0]], t.Y[c[1]], t.Y[c[2]])
		x1 := min(i.nx-1, int((bx-i.x0)/i.size))
		y1 := min(i.ny-1, int((by-i.y0)/i.size))
		for y := int((ay - i.y0) / i.size); y <= y1; y++ {
			for x := int((ax - i.x0) / i.size); x <= x1; x++ {
				visit(y*i.nx+x, f)
			}
		}
	}
}

func span(a, b, c float64) (least, most float64) { return min(a, min(b, c)), max(a, max(b, c)) }
