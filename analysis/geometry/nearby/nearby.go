// Package nearby finds what stands near a place in plan: points, boxes and lines, sorted into square cells.
package nearby

import (
	"math"

	"github.com/paulmach/orb"
)

// Places are places sorted into square cells, about one to a cell.
type Places struct {
	at     []orb.Point
	origin orb.Point
	cell   float64 // side [m]
	nx, ny int
	start  []int32 // per cell, and one past the last: its places in items
	items  []int32
}

// widest is the number of cells along the longer side of the plan at most.
const widest = 4096

// New sorts places [m], which are kept and must not change.
func New(at []orb.Point) *Places {
	p := &Places{at: at, cell: 1, nx: 1, ny: 1}
	if len(at) > 0 {
		b := orb.MultiPoint(at).Bound()
		w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
		p.origin = b.Min
		if long := math.Max(w, h); long > 0 {
			p.cell = math.Max(math.Sqrt(w*h/float64(len(at))), long/math.Min(widest, float64(len(at))))
		}
		p.nx, p.ny = int(w/p.cell)+1, int(h/p.cell)+1
	}
	p.start, p.items = byCell(p.nx*p.ny, len(at), func(i int) int { return p.of(at[i]) })
	return p
}

// byCell lists n things by their cells: those of cell c stand in items from start[c] up to start[c+1], in their order.
func byCell(cells, n int, cell func(i int) int) (start, items []int32) {
	start = make([]int32, cells+1)
	for i := range n {
		start[cell(i)+1]++
	}
	for c := range cells {
		start[c+1] += start[c]
	}
	items = make([]int32, n)
	next := append([]int32(nil), start...)
	for i := range n {
		c := cell(i)
		items[next[c]] = int32(i)
		next[c]++
	}
	return start, items
}

func (p *Places) of(a orb.Point) int { return p.row(a[1])*p.nx + p.column(a[0]) }

func (p *Places) row(y float64) int { return within((y-p.origin[1])/p.cell, p.ny) }

func (p *Places) column(x float64) int { return within((x-p.origin[0])/p.cell, p.nx) }

// within returns the cell of n that position v lies in, the nearest where it lies outside.
func within(v float64, n int) int { return int(math.Max(0, math.Min(v, float64(n-1)))) }

// Each visits the places in b, its border included: by cell, and in a cell by number.
func (p *Places) Each(b orb.Bound, visit func(i int32)) {
	x0, x1 := p.column(b.Min[0]), p.column(b.Max[0])
	for row := p.row(b.Min[1]); row <= p.row(b.Max[1]); row++ {
		for _, i := range p.items[p.start[row*p.nx+x0]:p.start[row*p.nx+x1+1]] {
			if b.Contains(p.at[i]) {
				visit(i)
			}
		}
	}
}
