package ponding

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// tinOf makes a TIN of points and counter-clockwise facets by hand.
func tinOf(points [][3]float64, facets [][3]int32) *surface.TIN {
	t := &surface.TIN{}
	for _, p := range points {
		t.X, t.Y, t.Z = append(t.X, p[0]), append(t.Y, p[1]), append(t.Z, p[2])
	}
	t.Out = make([]int32, len(points))
	at := make(map[[2]int32]int32, 3*len(facets))
	for f, c := range facets {
		for i := range 3 {
			t.V = append(t.V, c[i])
			at[[2]int32{c[i], c[(i+1)%3]}] = int32(3*f + i)
		}
	}
	t.Twin = make([]int32, len(t.V))
	t.Flag = make([]surface.EdgeFlag, len(t.V))
	for e := range t.V {
		a, b := t.V[e], t.V[surface.Next(int32(e))]
		twin, found := at[[2]int32{b, a}]
		if !found {
			twin = -1
		}
		t.Twin[e] = twin
		if old := t.Out[a]; old == 0 || twin < 0 {
			t.Out[a] = int32(e)
		}
	}
	return t
}

// rising and falling diagonals of grid: along (i,j)-(i+1,j+1), or across.
const (
	rising  = true
	falling = false
)

// grid makes a TIN of nx by ny points, step apart, with elevations z(i, j).
func grid(nx, ny int, step float64, diagonal bool, z func(i, j int) float64) *surface.TIN {
	var points [][3]float64
	for j := range ny {
		for i := range nx {
			points = append(points, [3]float64{float64(i) * step, float64(j) * step, z(i, j)})
		}
	}
	var facets [][3]int32
	for j := range ny - 1 {
		for i := range nx - 1 {
			a := int32(j*nx + i)
			b, c, d := a+1, a+int32(nx)+1, a+int32(nx)
			if diagonal == rising {
				facets = append(facets, [3]int32{a, b, c}, [3]int32{a, c, d})
			} else {
				facets = append(facets, [3]int32{a, b, d}, [3]int32{b, c, d})
			}
		}
	}
	return tinOf(points, facets)
}

// borders returns the half-edges of the border and their vertices.
func borders(t *surface.TIN) (edges, vertices []int32) {
	seen := make([]bool, len(t.X))
	for e, twin := range t.Twin {
		if twin >= 0 {
			continue
		}
		edges = append(edges, int32(e))
		for _, v := range []int32{t.V[e], t.V[surface.Next(int32(e))]} {
			if !seen[v] {
				seen[v] = true
				vertices = append(vertices, v)
			}
		}
	}
	return edges, vertices
}

// openBorder is the whole border as a free edge.
func openBorder(t *surface.TIN) surface.Outlet {
	edges, vertices := borders(t)
	return edgeOutlet(t, edges, vertices)
}

func edgeOutlet(t *surface.TIN, edges, vertices []int32) surface.Outlet {
	low := math.Inf(1)
	for _, v := range vertices {
		low = min(low, t.Z[v])
	}
	return surface.Outlet{ID: "E01", Type: roof.EdgeOutlet, Edge: roof.Free, Invert: low, Low: low, Vertices: vertices, Edges: edges}
}

// drain is a drain whose footprint is the given facets.
func drain(t *surface.TIN, invert float64, facets ...int32) surface.Outlet {
	o := surface.Outlet{ID: "D01", Type: roof.Drain, Invert: invert, Low: math.Inf(1), Facets: facets}
	seen := map[int32]bool{}
	for _, f := range facets {
		for _, v := range t.V[3*f : 3*f+3] {
			if !seen[v] {
				seen[v] = true
				o.Vertices = append(o.Vertices, v)
				o.Low = min(o.Low, t.Z[v])
			}
		}
	}
	return o
}

// pointOutlet is an outlet that takes water at single vertices.
func pointOutlet(t *surface.TIN, invert float64, vertices ...int32) surface.Outlet {
	low := math.Inf(1)
	for _, v := range vertices {
		low = min(low, t.Z[v])
	}
	return surface.Outlet{ID: "S01", Type: roof.Scupper, Invert: invert, Low: low, Vertices: vertices}
}

func find(t *testing.T, tin *surface.TIN, outlets ...surface.Outlet) *Ponds {
	t.Helper()
	ps, err := Find(tin, outlets, tin.Z)
	if err != nil {
		t.Fatal(err)
	}
	return ps
}

// about reports whether got is within a relative 1e-12 of want.
func about(got, want float64) bool { return math.Abs(got-want) <= 1e-12*math.Abs(want) }

func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 17)) }
