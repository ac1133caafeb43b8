package nearby

import "math"

// Nodes finds what stands at the same place of an integer grid: a hash table of square cells eight times the tolerance wide, so that
// most questions look into one cell.
//
// Cells of one block are kept together as long as there is room, so that neighbours in plan are neighbours in memory: a cell stands in a slot of its
// block's stretch of the table, or, where its line there is full, in the first free slot from a place that hangs on the cell alone. Cells are never taken out.
type Nodes struct {
	reach int64
	cell  int64
	cells []nodeCell
	next  []int32 // per node, the next one in its cell
	used  int
}

// nodeCell is a cell and its last node.
type nodeCell struct {
	key  uint64 // 0 is free
	head int32
}

const (
	blockBits = 6  // a block is 2^6 cells wide
	stretch   = 64 // slots where the cells of a block are kept
	lineSlots = 4  // slots of one line of the processor's memory
)

// NewNodes makes room for about n nodes; what is nearer than reach is the same place.
func NewNodes(n int, reach float64) *Nodes {
	size := stretch
	for size < 2*n {
		size *= 2
	}
	r := max(int64(reach), 1)
	return &Nodes{reach: r, cell: 8 * r, cells: make([]nodeCell, size), next: make([]int32, 0, n)}
}

// Put adds node n; nodes are added in ascending order.
func (p *Nodes) Put(n, x, y int32) {
	if 2*p.used >= len(p.cells) {
		p.grow()
	}
	for int(n) > len(p.next) {
		p.next = append(p.next, -1)
	}
	p.next = append(p.next, p.push(n, cellKey(floorDiv(int64(x), p.cell), floorDiv(int64(y), p.cell))))
}

// push makes n the last node of a cell and returns the one before, -1 for none.
func (p *Nodes) push(n int32, key uint64) (before int32) {
	c := &p.cells[p.slot(key)]
	before = -1
	if c.key != 0 {
		before = c.head
	} else {
		p.used++
	}
	c.key, c.head = key, n
	return before
}

// Move takes node n from one place to another.
func (p *Nodes) Move(n, x0, y0, x1, y1 int32) {
	from := cellKey(floorDiv(int64(x0), p.cell), floorDiv(int64(y0), p.cell))
	to := cellKey(floorDiv(int64(x1), p.cell), floorDiv(int64(y1), p.cell))
	if from == to {
		return
	}
	at := &p.cells[p.slot(from)].head
	for *at != n {
		at = &p.next[*at]
	}
	*at = p.next[n]
	if 2*p.used >= len(p.cells) {
		p.grow()
	}
	p.next[n] = p.push(n, to)
}

// Find returns the nearest node within reach of (x, y), the lowest of equally near ones, or -1.
func (p *Nodes) Find(x, y int32, xs, ys []int32) int32 {
	best, bestD := int32(-1), p.reach*p.reach
	x0, x1 := floorDiv(int64(x)-p.reach, p.cell), floorDiv(int64(x)+p.reach, p.cell)
	y0, y1 := floorDiv(int64(y)-p.reach, p.cell), floorDiv(int64(y)+p.reach, p.cell)
	for i := x0; i <= x1; i++ {
		for j := y0; j <= y1; j++ {
			c := &p.cells[p.slot(cellKey(i, j))]
			if c.key == 0 {
				continue
			}
			for n := c.head; n >= 0; n = p.next[n] {
				dx, dy := int64(xs[n])-int64(x), int64(ys[n])-int64(y)
				if dd := dx*dx + dy*dy; dd < bestD || dd == bestD && (best < 0 || n < best) {
					best, bestD = n, dd
				}
			}
		}
	}
	return best
}

// slot returns where key k is or belongs.
func (p *Nodes) slot(k uint64) int {
	const block = (1<<32-1<<blockBits)<<32 | (1<<32 - 1<<blockBits)
	mask := len(p.cells) - 1
	own := int(k * 0x9e3779b97f4a7c15 >> 20)
	line := int((k&block)*0x9e3779b97f4a7c15>>20)*stretch&mask + own&(stretch-lineSlots)
	for i := line; i < line+lineSlots; i++ {
		if p.cells[i].key == 0 || p.cells[i].key == k {
			return i
		}
	}
	i := own & mask
	for p.cells[i].key != 0 && p.cells[i].key != k {
		i = (i + 1) & mask
	}
	return i
}

func (p *Nodes) grow() {
	cells := p.cells
	p.cells, p.used = make([]nodeCell, 2*len(cells)), 0
	for _, c := range cells {
		if c.key != 0 {
			p.push(c.head, c.key)
		}
	}
}

// cellKey is never 0 for cells of a grid of int32 coordinates.
func cellKey(i, j int64) uint64 {
	return uint64(uint32(i+math.MaxInt32))<<32 | uint64(uint32(j+math.MaxInt32))
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
