package taper_test

import (
	"container/heap"
	"math"
)

// grid is a reference by another method: nodes h apart, steps to the eight neighbours, each as long as the greater of
// its sides. For the four-way gauge along the axes such steps are exact wherever border, curbs and outlets stand on nodes.
type grid struct {
	h      float64
	nx, ny int
	base   func(x, y float64) float64 // least elevation
	open   func(x, y float64) bool    // the roof holds the place
	z      []float64
	queue  [][2]float64 // elevation, node
}

func (g *grid) Len() int           { return len(g.queue) }
func (g *grid) Less(i, j int) bool { return g.queue[i][0] < g.queue[j][0] }
func (g *grid) Swap(i, j int)      { g.queue[i], g.queue[j] = g.queue[j], g.queue[i] }
func (g *grid) Push(x any)         { g.queue = append(g.queue, x.([2]float64)) }
func (g *grid) Pop() any {
	last := g.queue[len(g.queue)-1]
	g.queue = g.queue[:len(g.queue)-1]
	return last
}

// solve labels all nodes from sources x, y, z. A step is open where its middle is.
func (g *grid) solve(slope float64, sources ...[3]float64) {
	g.z = make([]float64, (g.nx+1)*(g.ny+1))
	for i := range g.z {
		g.z[i] = math.Inf(1)
	}
	at := func(i, j int) int { return i + (g.nx+1)*j }
	for _, s := range sources {
		i := at(int(math.Round(s[0]/g.h)), int(math.Round(s[1]/g.h)))
		g.z[i] = math.Max(s[2], g.base(s[0], s[1]))
		heap.Push(g, [2]float64{g.z[i], float64(i)})
	}
	for g.Len() > 0 {
		f := heap.Pop(g).([2]float64)
		n := int(f[1])
		i, j := n%(g.nx+1), n/(g.nx+1)
		if f[0] > g.z[n] {
			continue
		}
		for d := range 9 {
			k, l := i+d%3-1, j+d/3-1
			if k < 0 || l < 0 || k > g.nx || l > g.ny || d == 4 || !g.open(float64(i+k)*g.h/2, float64(j+l)*g.h/2) {
				continue
			}
			m := at(k, l)
			if z := math.Max(g.base(float64(k)*g.h, float64(l)*g.h), f[0]+slope*g.h); z < g.z[m]-1e-12 {
				g.z[m] = z
				heap.Push(g, [2]float64{z, float64(m)})
			}
		}
	}
}
