package nearby

import "math"

// Nodes finds what stands at the same place of an integer grid: a hash table of square cells eight times the tolerance wide, so that
// most questions look into one cell.
type Nodes struct {
	reach int64
	cell  int64
	key   []uint64 // 0 is free
	head  []int32
	next  []int32 // per node, the next one in its cell
	used  int
}

// NewNodes makes room for about n nodes; what is nearer than reach is the same place.
func NewNodes(n int, reach float64) *Nodes {
	size := 64
	for size < 2*n {
		size *= 2
	}
	r := max(int64(reach), 1)
	return &Nodes{reach: r, cell: 8 * r, key: make([]uint64, size), head: make([]int32, size)}
}

// Put adds node n; nodes are added in ascending order.
func (p *Nodes) Put(n, x, y int32) {
	if 2*p.used >= len(p.key) {
		p.grow()
	}
	i := p.slot(cellKey(floorDiv(int64(x), p.cell), floorDiv(int64(y), p.cell)))
	for int(n) > len(p.next) {
		p.next = append(p.next, -1)
	}
	before := int32(-1)
	if p.key[i] != 0 {
		before = p.head[i]
	} else {
		p.used++
	}
	p.key[i] = cellKey(floorDiv(int64(x), p.cell), floorDiv(int64(y), p.cell))
	p.head[i] = n
	p.next = append(p.next, before)
}

// Move takes node n from one place to another.
func (p *Nodes) Move(n, x0, y0, x1, y1 int32) {
	from := cellKey(floorDiv(int64(x0), p.cell), floorDiv(int64(y0), p.cell))
	to := cellKey(floorDiv(int64(x1), p.cell), floorDiv(int64(y1), p.cell))
	if from == to {
		return
	}
	at := &p.head[p.slot(from)]
	for *at != n {
		at = &p.next[*at]
	}
	*at = p.next[n]
	if 2*p.used >= len(p.key) {
		p.grow()
	}
	i := p.slot(to)
	p.next[n] = -1
	if p.key[i] != 0 {
		p.next[n] = p.head[i]
	} else {
		p.used++
	}
	p.key[i], p.head[i] = to, n
}

// Find returns the nearest node within reach of (x, y), the lowest of equally near ones, or -1.
func (p *Nodes) Find(x, y int32, xs, ys []int32) int32 {
	best, bestD := int32(-1), p.reach*p.reach
	x0, x1 := floorDiv(int64(x)-p.reach, p.cell), floorDiv(int64(x)+p.reach, p.cell)
	y0, y1 := floorDiv(int64(y)-p.reach, p.cell), floorDiv(int64(y)+p.reach, p.cell)
	for i := x0; i <= x1; i++ {
		for j := y0; j <= y1; j++ {
			s := p.slot(cellKey(i, j))
			if p.key[s] == 0 {
				continue
			}
			for n := p.head[s]; n >= 0; n = p.next[n] {
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
	mask := len(p.key) - 1
	i := int(k*0x9e3779b97f4a7c15>>20) & mask
	for p.key[i] != 0 && p.key[i] != k {
		i = (i + 1) & mask
	}
	return i
}

func (p *Nodes) grow() {
	key, head := p.key, p.head
	p.key, p.head = make([]uint64, 2*len(key)), make([]int32, 2*len(head))
	for i, k := range key {
		if k != 0 {
			s := p.slot(k)
			p.key[s], p.head[s] = k, head[i]
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
