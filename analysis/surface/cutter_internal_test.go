package surface

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/mesh"
	"runnel/analysis/surface/settle"
)

// sheet is a TIN of a square of 10 m with n random vertices inside, tilted 0.02 to the east.
func sheet(t *testing.T, rnd *rand.Rand, n int) *TIN {
	t.Helper()
	x, y := []int32{0, 1000000, 1000000, 0}, []int32{0, 0, 1000000, 1000000}
	for range n {
		x, y = append(x, 1+rnd.Int32N(999998)), append(y, 1+rnd.Int32N(999998))
	}
	z := make([]int32, len(x))
	for i := range x {
		z[i] = x[i] / 50
	}
	m, _, err := mesh.Triangulate(x, y, z, nil)
	if err != nil {
		t.Fatal(err)
	}
	n = len(x)
	tin := assemble(&settle.Ground{
		Mesh: m, Spot: make([]int32, n), Sigma: make([]float64, n), Assumed: make([]bool, n),
		Found: make([]bool, n), Interpolation: make([]float64, n), Below: make([]float64, n),
	}, nil)
	for e := range tin.Flag {
		if tin.Twin[e] < 0 {
			tin.Flag[e] |= OutlineEdge
		}
	}
	return tin
}

// Vertices put anywhere leave a closed structure of positive facets, whose area is the old one plus what the border grew, and a
// way out of every vertex that is the border's where there is one.
func TestSplitsKeepTheStructure(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 8))
	tin := sheet(t, rnd, 40)
	c := newCutter(tin)
	for range 800 {
		f := rnd.Int32N(int32(c.Facets()))
		switch rnd.IntN(3) {
		case 0:
			v := c.V[3*f : 3*f+3]
			x, y := (c.GX[v[0]]+c.GX[v[1]]+c.GX[v[2]])/3, (c.GY[v[0]]+c.GY[v[1]]+c.GY[v[2]])/3
			if c.turns(v[0], v[1], x, y) > 0 && c.turns(v[1], v[2], x, y) > 0 && c.turns(v[2], v[0], x, y) > 0 {
				c.splitFacet(f, x, y)
			}
		default:
			c.place(3*f+rnd.Int32N(3), rnd.Float64())
		}
	}
	if c.Facets() < 500 {
		t.Fatalf("only %d facets", c.Facets())
	}
	if err := c.checkStructure(); err != nil {
		t.Error(err)
	}
	var was, is int64
	for f := range int32(tin.Facets()) {
		was += tin.twiceArea(f)
	}
	for f := range int32(c.Facets()) {
		is += c.twiceArea(f)
	}
	if was+c.grown != is {
		t.Errorf("area %d, was %d, grown %d", is, was, c.grown)
	}
	for e, o := range c.Twin {
		if v := c.V[e]; o < 0 && c.Out[v] != int32(e) || c.V[c.Out[v]] != v {
			t.Fatalf("half-edge %d leaves vertex %d, whose way out is %d", e, v, c.Out[v])
		}
	}
}

// A traced line is a chain of edges from end to end.
func TestTraceMakesEdges(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 9))
	tin := sheet(t, rnd, 200)
	l := NewLocator(tin)
	for range 40 {
		c := newCutter(tin)
		u := c.put(l, corner{1 + rnd.Int32N(999998), 1 + rnd.Int32N(999998)})
		w := c.put(l, corner{1 + rnd.Int32N(999998), 1 + rnd.Int32N(999998)})
		if err := c.trace(u, w); err != nil {
			t.Fatal(err)
		}
		reached := map[int32]bool{u: true}
		for queue := []int32{u}; len(queue) > 0; {
			v := queue[0]
			queue = queue[1:]
			for e := range c.Star(v) {
				if b := c.End(e); c.Flag[e]&FootprintEdge != 0 && !reached[b] {
					reached[b] = true
					queue = append(queue, b)
				}
			}
		}
		if !reached[w] {
			t.Fatalf("no chain of marked edges from %d to %d", u, w)
		}
	}
}

// Sliding along the border passes bends of less than 20 degrees and stops at corners.
func TestSlide(t *testing.T) {
	tin := sheet(t, rand.New(rand.NewPCG(10, 10)), 30)
	b := newBorder(tin)
	e, at, far := b.nearest(orb.Point{3, -0.4}, OutlineEdge)
	if p := tin.along(e, at); far != 0.4 || p[0] != 3 || p[1] != 0 {
		t.Fatalf("nearest place %v, %g off", p, far)
	}
	for _, c := range []struct {
		by      float64
		forward bool
		x       float64
	}{{2, true, 5}, {2, false, 1}, {20, true, 10}, {20, false, 0}} {
		f, s := tin.slide(e, at, c.by, c.forward)
		if p := tin.along(f, s); p[0] < c.x-1e-9 || p[0] > c.x+1e-9 || p[1] != 0 {
			t.Errorf("%g m on, forward %v: %v, want x = %g", c.by, c.forward, p, c.x)
		}
	}
}

// The corners of a bowl stand on its circle, the first due east, counter-clockwise.
func TestBowlCorners(t *testing.T) {
	ring := bowl(orb.Point{10, 20}, 0.5)
	if len(ring) != 16 || ring[0] != (corner{1025000, 2000000}) || ring[4] != (corner{1000000, 2025000}) || ring[8] != (corner{975000, 2000000}) {
		t.Errorf("%v", ring)
	}
	for i, p := range ring {
		q := ring[(i+1)%16]
		if side(p, q, 1000000, 2000000) <= 0 {
			t.Errorf("corner %d turns clockwise", i)
		}
		if r := vector.Norm(float64(p.x-1000000), float64(p.y-2000000)); r < 24999 || r > 25001 {
			t.Errorf("corner %d is %g from the middle", i, r)
		}
		if !inRing(ring, float64(p.x+q.x)/2*0.9999+100, float64(p.y+q.y)/2*0.9999+200) {
			t.Errorf("a place inside corner %d is outside", i)
		}
	}
}

// By hand, along 3 east and 4 north of (300, -200), five long: a place beside it has its foot by how far it lies along, never before its start or beyond its end, wherever it lies.
func TestFootAlongAnEdge(t *testing.T) {
	gx, gy := []int32{300, 303}, []int32{-200, -196}
	for along, want := range map[float64]float64{0: 0, 1: 0.2, 2.5: 0.5, 5: 1, 6: 1, 9: 1, -1: 0, -9: 0} {
		for _, off := range []float64{0, 2, -7} {
			x, y := 300+0.6*along-0.8*off, -200+0.8*along+0.6*off
			if got := fraction(gx, gy, 0, 1, x, y); !(math.Abs(got-want) <= 1e-12) {
				t.Errorf("%g along and %g off: %g, want %g", along, off, got, want)
			}
			if got := fraction(gx, gy, 1, 0, x, y); !(math.Abs(got-1+want) <= 1e-12) {
				t.Errorf("%g along and %g off, from its end: %g, want %g", along, off, got, 1-want)
			}
		}
	}
}
