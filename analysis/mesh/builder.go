package mesh

import (
	"fmt"

	"runnel/analysis/geometry"
	"runnel/analysis/halt"
)

// builder is a triangulation under construction. Points are renumbered along a Hilbert curve, so
// that what is near in plan is near in memory. The plane outside the hull is covered by ghost triangles, which
// share one symbolic vertex at infinity: no finite frame, so thin hull triangles are not lost.
//
// Half-edges are numbered 4*triangle + corner here, to keep the arithmetic to shifts.
type builder struct {
	at      []point    // by rank
	z       []int32    // by the caller's index
	rank    []int32    // rank of the caller's point; nil until segments need it
	order   []int32    // caller's index of a rank
	tris    []triangle // real and ghost
	out     []int32    // by rank: a half-edge that starts there; nil until segments need it
	last    int32      // triangle where the next walk starts
	ghost   int32      // the vertex at infinity
	stack   []int32    // half-edges to look at, outside the cavity
	brinks  []brink    // edges of the cavity not yet looked over
	spare   []int32    // triangles removed by the present insertion
	tied    bool       // four points on one circle were met
	flipped []int32    // triangles of edges that segments flipped
	line    *halt.Line
}

type point struct{ x, y int32 }

// triangle is 32 bytes, so that two share a cache line. twin holds half-edges of the neighbours.
type triangle struct {
	v    [4]int32 // corners; last the number in the finished mesh, -1 for a ghost
	flag [4]uint8
	twin [3]int32
}

func after(e int32) int32 { // the next half-edge round the triangle
	if e&3 == 2 {
		return e - 2
	}
	return e + 1
}

func before(e int32) int32 {
	if e&3 == 0 {
		return e + 2
	}
	return e - 1
}

func (b *builder) origin(e int32) int32 { return b.tris[e>>2].v[e&3] }
func (b *builder) twin(e int32) int32   { return b.tris[e>>2].twin[e&3] }
func (b *builder) flag(e int32) uint8   { return b.tris[e>>2].flag[e&3] }

func (b *builder) link(e, f int32) {
	b.tris[e>>2].twin[e&3] = f
	b.tris[f>>2].twin[f&3] = e
}

func (b *builder) orient(u, v, w int32) int {
	p, q, r := b.at[u], b.at[v], b.at[w]
	return geometry.Orient(p.x, p.y, q.x, q.y, r.x, r.y)
}

// newBuilder sorts the points and refuses equal ones.
func newBuilder(x, y, z []int32) (*builder, error) {
	n := len(x)
	b := &builder{order: Order(x, y), at: make([]point, n), z: z, ghost: int32(n), brinks: make([]brink, 64)}
	if n < 3 {
		return nil, fmt.Errorf("%d points make no triangle", n)
	}
	for r, i := range b.order {
		b.at[r] = point{x[i], y[i]}
		if r > 0 && b.at[r] == b.at[r-1] {
			return nil, fmt.Errorf("points %d and %d are equal", b.order[r-1], i)
		}
	}
	return b, nil
}

// delaunay inserts all points. It fails when they lie on one line.
func (b *builder) delaunay() error {
	n := int32(len(b.at))
	third := int32(2)
	for third < n && b.orient(0, 1, third) == 0 {
		third++
	}
	if third == n {
		return fmt.Errorf("all %d points lie on one line", n)
	}
	b.tris = make([]triangle, 0, 2*n-2) // Euler: a closed surface of n+1 vertices
	b.start(0, 1, third)
	for p := int32(2); p < n; p++ {
		b.line.Look()
		if p != third {
			b.insert(p)
		}
	}
	return nil
}

// start makes the first triangle and its three ghosts.
func (b *builder) start(u, v, w int32) {
	if b.orient(u, v, w) < 0 {
		v, w = w, v
	}
	g := b.ghost
	b.tris = append(b.tris,
		triangle{v: [4]int32{u, v, w}},
		triangle{v: [4]int32{v, u, g}},
		triangle{v: [4]int32{w, v, g}},
		triangle{v: [4]int32{u, w, g}})
	for i := int32(0); i < 3; i++ {
		ghost := i + 1
		b.link(i, 4*ghost)
		b.link(4*ghost+2, 4*((i+1)%3+1)+1)
	}
}
