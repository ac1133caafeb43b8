package fold

import (
	"math"
	"math/rand/v2"
	"testing"
)

// squares is a field of n by n squares of a step, each cut in two, whose first corner stands at (1000, -500).
func squares(n int, step float64) *Field {
	f := &Field{}
	for j := range n + 1 {
		for i := range n + 1 {
			f.X, f.Y, f.Z = append(f.X, 1000+step*float64(i)), append(f.Y, -500+step*float64(j)), append(f.Z, 0)
			f.Measured, f.Coded = append(f.Measured, true), append(f.Coded, false)
		}
	}
	for j := range int32(n) {
		for i := range int32(n) {
			a := j*int32(n+1) + i
			f.V = append(f.V, a, a+1, a+int32(n)+2, a, a+int32(n)+2, a+int32(n)+1)
		}
	}
	return f
}

// Each of the spots of n by n squares has its share of their area to itself, of which the side is the root: 16 squares of 4 m2 for 25 spots are 2.56 m2, for the five of them that were measured 12.8. Where none was, all of it.
func TestSide(t *testing.T) {
	f := squares(4, 2)
	g := &grower{Field: f}
	if got := g.side(); !(math.Abs(got-1.6) <= 1e-9) {
		t.Errorf("%g m, want 1.6", got)
	}
	for v := range f.Measured {
		f.Measured[v] = v%5 == 0
	}
	if got := g.side(); !(math.Abs(got-math.Sqrt(12.8)) <= 1e-9) {
		t.Errorf("%g m, want 3.578", got)
	}
	for v := range f.Measured {
		f.Measured[v] = false
	}
	if got := g.side(); !(math.Abs(got-8) <= 1e-9) {
		t.Errorf("%g m, want 8", got)
	}
}

// level is a plane, known for sure, at a height that rises dx to the east and dy to the north from the origin of squares.
func level(z, dx, dy float64) Plane {
	var p Plane
	p.X, p.Y, p.Z, p.DX, p.DY, p.N = 1000, -500, z, dx, dy, math.Inf(1)
	return p
}

// The scatter about planes is the root of what the spots lie off them, squared, over as many as they are less three for each plane. It is told where 20 or more are left and three quarters of the spots lie on planes; spots of coded lines and
// corners that nobody measured do not count.
func TestResidual(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for _, c := range []struct {
		name        string
		on          func(v int) int32 // plane of a spot
		left        func(v int) bool  // neither measured nor on a coded line
		planes      int
		told        bool
		free, spots int
	}{
		{"one plane", func(int) int32 { return 0 }, nil, 1, true, 33, 36},
		{"two planes", func(v int) int32 { return int32(v % 2) }, nil, 2, true, 30, 36},
		{"a quarter on none", func(v int) int32 { return -int32(v % 4 / 3) }, nil, 1, true, 24, 27},
		{"more than a quarter on none", func(v int) int32 { return -int32(max(v%4/3, 1-min(v, 1))) }, nil, 1, false, 0, 0},
		{"23 spots", func(int) int32 { return 0 }, func(v int) bool { return v >= 23 }, 1, true, 20, 23},
		{"22 spots", func(int) int32 { return 0 }, func(v int) bool { return v >= 22 }, 1, false, 0, 0},
	} {
		f := squares(5, 2)
		g := &grower{Field: f, list: []Plane{level(3, 0.01, 0), level(4, 0, 0.02)}[:c.planes], label: make([]int32, 36)}
		sum := 0.0
		for v := range f.X {
			g.label[v] = c.on(v)
			off := 0.01 * r.NormFloat64()
			if l := g.label[v]; l >= 0 {
				f.Z[v] = g.list[l].At(f.X[v], f.Y[v]) + off
			}
			switch {
			case c.left != nil && c.left(v) && v%2 == 0:
				f.Measured[v] = false
			case c.left != nil && c.left(v):
				f.Coded[v] = true
			case g.label[v] >= 0:
				sum += off * off
			}
		}
		want := 0.0
		if c.told {
			want = math.Sqrt(sum / float64(c.free))
		}
		if got := g.residual(); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("%s: %g m, want %g", c.name, got, want)
		}
	}
}

// Across an edge where two planes that pass through its ends would meet but no fold is shown, the mesh stands off the roof by a quarter of what their slopes differ by along it: planes that rise by 2 % to either side leave 20 mm of 2 m. Only spots are open, to
// the most of their edges.
func TestOpen(t *testing.T) {
	f := squares(2, 2)
	g := &grower{Field: f, list: []Plane{level(0, 0.02, 0), level(0, -0.02, 0), level(0, 0, 0.05), level(0, 0.013, -0.01)}, label: []int32{0, 1, 2, 3, 0, 0, 0, 0, 0}}
	m := &marcher{pairs: &pairs{grower: g}, out: &Folds{Open: make([]float64, 9)}}
	m.open(0, 1)
	if !(math.Abs(m.out.Open[0]-0.02) <= 1e-12) || !(math.Abs(m.out.Open[1]-0.02) <= 1e-12) {
		t.Errorf("open by %v, want 20 mm", m.out.Open[:2])
	}
	f.Measured[3] = false
	m.open(0, 3) // to the north: 10 mm a metre of 2 m, a quarter of it: 5 mm, less than the 20 that are open, and no spot
	if !(math.Abs(m.out.Open[0]-0.02) <= 1e-12) || m.out.Open[3] != 0 {
		t.Errorf("open by %g and %g", m.out.Open[0], m.out.Open[3])
	}
	m.open(1, 2) // along the edge to the east alone: -0.02 against nothing
	if !(math.Abs(m.out.Open[2]-0.01) <= 1e-12) {
		t.Errorf("open by %g, want 10 mm", m.out.Open[2])
	}
}

// A spot of its own plane stands beyond a fold where the other plane is the higher one at a valley, or the lower one at a ridge; where two planes do not adjoin, or meet in nothing, it never does.
func TestBeyond(t *testing.T) {
	g := &grower{Field: squares(1, 1), list: []Plane{level(0, 0.02, 0), level(0, -0.02, 0), level(0, 0, 0)}}
	for _, c := range []struct {
		shape  shape
		own, c int32
		east   float64
		want   bool
	}{
		{valley, 0, 1, -1, true},
		{valley, 0, 1, 1, false},
		{valley, 1, 0, 1, true},
		{valley, 1, 0, -1, false},
		{valley, 0, 1, 0, false},
		{ridge, 0, 1, 1, true},
		{ridge, 0, 1, -1, false},
		{ridge, 1, 0, -1, true},
		{ridge, 0, 1, 0, false},
		{apart, 0, 1, 1, false},
		{apart, 0, 1, -1, false},
		{valley, 0, 2, -1, false},
	} {
		p := &pairs{grower: g, keys: []int64{key(1, 0)}, list: []pair{{a: 0, b: 1, shape: c.shape}}}
		if got := p.beyond(c.own, c.c, 1000+c.east, -500); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// Spots on a dish lie nearer one bowl than two planes: the roof bends there. On a fold they do not. What nobody measured, and a spot whose error is large, say little: 0.2 m off of either changes nothing. Wherever the spots stand.
func TestBends(t *testing.T) {
	for _, c := range []struct {
		name   string
		height func(x, y float64) float64 // from the middle
		bends  bool
	}{
		{"a dish", func(x, y float64) float64 { return 0.004 * (x*x + y*y) }, true},
		{"a saddle", func(x, y float64) float64 { return 0.004 * x * y }, true},
		{"a fold", func(x, y float64) float64 { return 0.02*math.Abs(x) + 0.001*y }, false},
		{"a fold upside down", func(x, y float64) float64 { return -0.02*math.Abs(x) + 0.001*y }, false},
	} {
		for _, by := range []float64{0, -1000} {
			f := squares(6, 1)
			g := &grower{Field: f, label: make([]int32, 49), sigma: make([]float64, 49)}
			p := &pairs{grower: g}
			var side [2]moments
			for v := range f.X {
				x, y := f.X[v]-1003, f.Y[v]+497
				f.X[v] += by
				f.Z[v], g.sigma[v] = c.height(x, y), 0.002
				if x > 0 {
					g.label[v] = 1
				}
				side[g.label[v]].add(f.X[v], f.Y[v], f.Z[v], 1)
				p.set = append(p.set, int32(v))
			}
			for k := range side {
				plane, ok := side[k].fit()
				if !ok {
					t.Fatal("no plane")
				}
				g.list = append(g.list, plane)
			}
			f.Measured[10], f.Z[10] = false, f.Z[10]+0.2
			g.sigma[38], f.Z[38] = 0.5, f.Z[38]+0.2
			if got := p.bends(); got != c.bends {
				t.Errorf("%s, moved by %g m: bends %v", c.name, by, got)
			}
		}
	}
	few := &pairs{grower: &grower{Field: squares(1, 1), label: make([]int32, 4), sigma: []float64{1, 1, 1, 1}, list: []Plane{level(0, 0, 0)}, set: []int32{0, 1, 2, 3}}}
	if few.bends() {
		t.Error("four spots bend")
	}
}
