package nearby

import (
	"math"
	"slices"
)

// Cloud finds the nearest of many points, sorted into square cells.
type Cloud struct {
	x, y   []int32
	x0, y0 float64
	cell   float64
	nx, ny int
	start  []int32
	items  []int32
}

// NewCloud sorts the given nodes into cells of about two each.
func NewCloud(x, y []int32, nodes []int32) *Cloud {
	c := &Cloud{x: x, y: y, cell: 1, nx: 1, ny: 1}
	if len(nodes) > 0 {
		x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
		for _, n := range nodes {
			px, py := float64(x[n]), float64(y[n])
			x0, y0, x1, y1 = min(x0, px), min(y0, py), max(x1, px), max(y1, py)
		}
		c.x0, c.y0 = x0, y0
		w, h := x1-x0+1, y1-y0+1
		c.cell = math.Max(math.Sqrt(2*w*h/float64(len(nodes))), math.Max(w, h)/8192)
		c.nx, c.ny = int(w/c.cell)+1, int(h/c.cell)+1
	}
	c.start, c.items = byCell(c.nx*c.ny, len(nodes), func(i int) int { return c.of(nodes[i]) })
	for k, i := range c.items {
		c.items[k] = nodes[i]
	}
	return c
}

func (c *Cloud) of(n int32) int {
	return clampInt((float64(c.y[n])-c.y0)/c.cell, c.ny)*c.nx + clampInt((float64(c.x[n])-c.x0)/c.cell, c.nx)
}

// Neighbour is a point and its distance squared in grid units.
type Neighbour struct {
	N        int32
	Distance float64 // squared
}

// Nearest returns the k points nearest to (x, y), nearest first, the lower node first where equally near.
func (c *Cloud) Nearest(x, y int32, k int) []Neighbour {
	px, py := float64(x), float64(y)
	col, row := clampInt((px-c.x0)/c.cell, c.nx), clampInt((py-c.y0)/c.cell, c.ny)
	var found []Neighbour
	for ring := 0; ring <= max(c.nx, c.ny); ring++ {
		if len(found) == k {
			// Cells of this ring are at least this far, from a place outside the grid too: along each axis they are
			// no nearer to it than to the cell that it is clamped to.
			if far := float64(ring-1) * c.cell; far > 0 && far*far > found[k-1].Distance {
				break
			}
		}
		found = c.ring(found, col, row, ring, px, py, k)
	}
	return found
}

// ring adds the points of the cells at the given distance in cells.
func (c *Cloud) ring(found []Neighbour, col, row, ring int, px, py float64, k int) []Neighbour {
	for j := max(0, row-ring); j <= min(c.ny-1, row+ring); j++ {
		step := 2 * ring
		if j == row-ring || j == row+ring || ring == 0 {
			step = 1
		}
		for i := col - ring; i <= col+ring; i += step {
			if i < 0 || i >= c.nx {
				continue
			}
			for _, n := range c.items[c.start[j*c.nx+i]:c.start[j*c.nx+i+1]] {
				dx, dy := float64(c.x[n])-px, float64(c.y[n])-py
				found = keep(found, Neighbour{n, float64(dx*dx) + float64(dy*dy)}, k)
			}
		}
	}
	return found
}

// keep inserts a neighbour into a sorted list of at most k.
func keep(list []Neighbour, v Neighbour, k int) []Neighbour {
	less := func(a, b Neighbour) bool { return a.Distance < b.Distance || a.Distance == b.Distance && a.N < b.N }
	if len(list) == k && !less(v, list[k-1]) {
		return list
	}
	at := len(list)
	for at > 0 && less(v, list[at-1]) {
		at--
	}
	list = slices.Insert(list, at, v)
	return list[:min(len(list), k)]
}
