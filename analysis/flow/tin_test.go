package flow

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// draft is a hand-made surface: corners and facets in whole grid units.
type draft struct {
	x, y, z []int32
	facets  [][3]int32
}

// tin lays the draft out in flat arrays, with exact signs.
func (d *draft) tin() *surface.TIN {
	t := &surface.TIN{GX: d.x, GY: d.y, GZ: d.z, Out: none(len(d.x))}
	for i := range d.x {
		t.X = append(t.X, float64(d.x[i])*surface.Grid)
		t.Y = append(t.Y, float64(d.y[i])*surface.Grid)
		t.Z = append(t.Z, float64(d.z[i])*surface.Grid)
	}
	at := map[[2]int32]int32{}
	for _, f := range d.facets {
		for c := range 3 {
			at[[2]int32{f[c], f[(c+1)%3]}] = int32(len(t.V))
			t.V = append(t.V, f[c])
		}
	}
	for i := range t.V {
		e := int32(i)
		a, b := t.V[e], t.V[surface.Next(e)]
		twin, ok := at[[2]int32{b, a}]
		if !ok {
			twin = -1
		}
		t.Twin = append(t.Twin, twin)
		if t.Out[a] < 0 || twin < 0 {
			t.Out[a] = e
		}
	}
	t.Flag = make([]surface.EdgeFlag, len(t.V))
	for f := range d.facets {
		d.gradient(t, int32(f))
	}
	return t
}

func (d *draft) gradient(t *surface.TIN, f int32) {
	v := t.V[3*f : 3*f+3]
	var gx, gy, area2 int64
	for c := range 3 {
		a, b, o := v[c], v[(c+1)%3], v[(c+2)%3]
		gx += int64(d.z[a]) * int64(d.y[b]-d.y[o])
		gy -= int64(d.z[a]) * int64(d.x[b]-d.x[o])
		area2 += int64(d.x[a])*int64(d.y[b]) - int64(d.x[b])*int64(d.y[a])
	}
	for c := range 3 {
		a, b := v[c], v[(c+1)%3]
		var out, other big.Int
		out.Mul(big.NewInt(gy), big.NewInt(int64(d.x[b]-d.x[a])))
		other.Mul(big.NewInt(gx), big.NewInt(int64(d.y[b]-d.y[a])))
		t.Run = append(t.Run, int8(out.Cmp(&other)))
	}
	t.DX = append(t.DX, float64(gx)/float64(area2))
	t.DY = append(t.DY, float64(gy)/float64(area2))
}

// metre is a metre in grid units.
const metre = 100000

// grid returns nx by ny squares of a metre, each cut along the diagonal that rising
// chooses (from south-west to north-east when true).
func grid(nx, ny int, height func(i, j int) int32, rising func(i, j int) bool) *draft {
	d := &draft{}
	for j := 0; j <= ny; j++ {
		for i := 0; i <= nx; i++ {
			d.x = append(d.x, int32(i)*metre)
			d.y = append(d.y, int32(j)*metre)
			d.z = append(d.z, height(i, j))
		}
	}
	at := func(i, j int) int32 { return int32(j*(nx+1) + i) }
	for j := range ny {
		for i := range nx {
			a, b, c, e := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			if rising(i, j) {
				d.facets = append(d.facets, [3]int32{a, b, c}, [3]int32{a, c, e})
			} else {
				d.facets = append(d.facets, [3]int32{a, b, e}, [3]int32{b, c, e})
			}
		}
	}
	return d
}

// walled returns a surface without outlets.
func (d *draft) walled() *surface.Surface {
	t := d.tin()
	s := &surface.Surface{TIN: t, Cut: t}
	for f := range d.facets {
		v := t.V[3*f : 3*f+3]
		s.Area += ((t.X[v[1]]-t.X[v[0]])*(t.Y[v[2]]-t.Y[v[0]]) - (t.X[v[2]]-t.X[v[0]])*(t.Y[v[1]]-t.Y[v[0]])) / 2
	}
	return s
}

// border returns the border half-edges both of whose ends satisfy where.
func border(t *surface.TIN, where func(x, y float64) bool) []int32 {
	var edges []int32
	for i, twin := range t.Twin {
		a, b := t.V[i], t.V[surface.Next(int32(i))]
		if twin < 0 && where(t.X[a], t.Y[a]) && where(t.X[b], t.Y[b]) {
			edges = append(edges, int32(i))
		}
	}
	return edges
}

// gutter adds an edge outlet along the border where both ends of an edge satisfy where.
func gutter(s *surface.Surface, where func(x, y float64) bool) {
	o := surface.Outlet{Type: roof.EdgeOutlet, Edge: roof.Gutter, Invert: math.Inf(1)}
	o.Edges = border(s.Cut, where)
	for _, e := range o.Edges {
		for _, v := range []int32{s.Cut.V[e], s.Cut.V[surface.Next(e)]} {
			o.Vertices = append(o.Vertices, v)
			o.Invert = min(o.Invert, s.Cut.Z[v])
		}
	}
	o.Low = o.Invert
	s.Outlets = append(s.Outlets, o)
}

// bowl adds a dry drain over the facets with all corners satisfying where.
func bowl(s *surface.Surface, where func(x, y float64) bool) {
	t := s.Cut
	o := surface.Outlet{Type: roof.Drain, Invert: math.Inf(-1), Low: math.Inf(1)}
	for f := range int32(t.Facets()) {
		v := t.V[3*f : 3*f+3]
		if where(t.X[v[0]], t.Y[v[0]]) && where(t.X[v[1]], t.Y[v[1]]) && where(t.X[v[2]], t.Y[v[2]]) {
			o.Facets = append(o.Facets, f)
			o.Vertices = append(o.Vertices, v...)
		}
	}
	s.Outlets = append(s.Outlets, o)
}

// random returns a hand-made roof: a grid of random heights in one of several characters.
func random(r *rand.Rand, size int) *surface.Surface {
	amplitude := []int32{2, 10, 300, 3000, 30000}[r.IntN(5)]
	quantum := []int32{1, 1, 100}[r.IntN(3)]
	sx, sy := r.Int32N(4000)-2000, r.Int32N(4000)-2000
	if r.IntN(3) == 0 {
		sx, sy = 0, 0
	}
	height := func(i, j int) int32 {
		z := int32(i)*sx + int32(j)*sy + r.Int32N(amplitude+1)
		return z / quantum * quantum
	}
	d := grid(size, size, height, func(_, _ int) bool { return r.IntN(2) == 0 })
	if r.IntN(2) == 0 {
		d.shake(r, size)
	}
	s := d.walled()
	w := float64(size)
	if r.IntN(2) == 0 {
		gutter(s, func(x, y float64) bool { return y == 0 && x >= w/4 && x <= w/2 })
	}
	for range r.IntN(3) {
		x0, y0, side := r.Float64()*w, r.Float64()*w, 1+r.Float64()*2
		bowl(s, func(x, y float64) bool { return x >= x0 && x <= x0+side && y >= y0 && y <= y0+side })
	}
	return s
}

// shake moves inner corners about.
func (d *draft) shake(r *rand.Rand, size int) {
	for i := range d.x {
		if x, y := i%(size+1), i/(size+1); x > 0 && y > 0 && x < size && y < size {
			d.x[i] += r.Int32N(40000) - 20000
			d.y[i] += r.Int32N(40000) - 20000
		}
	}
}

func trace(tb testing.TB, s *surface.Surface, o Options) *Network {
	tb.Helper()
	n, err := Trace(s, o)
	if err != nil {
		tb.Fatal(err)
	}
	return n
}
