package flow

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
)

// By hand, in the triangle of sides 3, 4 and 5 a long way off: the middle of its inscribed circle lies 1 m inside, the middle of its longest side on it, and a metre beyond that side a metre outside. A corner that is moved inwards
// moves a tenth of a micrometre towards the centroid, never past half way.
func TestPlacesInAFacet(t *testing.T) {
	const ox, oy = 300.0, -200.0
	tin := &surface.TIN{V: []int32{0, 1, 2}, X: []float64{ox, ox + 4, ox}, Y: []float64{oy, oy, oy + 3}}
	i := &index{t: tin}
	for p, want := range map[[2]float64]float64{{1, 1}: 1, {2, 1.5}: 0, {2 + 0.6, 1.5 + 0.8}: -1, {0.25, 1}: 0.25, {1, 0.5}: 0.5} {
		if got := i.depth(0, ox+p[0], oy+p[1]); !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("%v lies %g m inside, want %g", p, got, want)
		}
	}
	n := &Network{t: tin}
	for w := range int32(3) {
		p := n.inside(0, w)
		x, y := tin.X[w], tin.Y[w]
		cx, cy := ox+4.0/3-x, oy+1-y
		l := math.Hypot(cx, cy)
		if !(math.Abs(p[0]-x-hairline*cx/l) <= 1e-9) || !(math.Abs(p[1]-y-hairline*cy/l) <= 1e-9) {
			t.Errorf("corner %d moves by %g, %g", w, p[0]-x, p[1]-y)
		}
	}
	small := &surface.TIN{V: []int32{0, 1, 2}, X: []float64{0, 3e-8, 0}, Y: []float64{0, 0, 3e-8}}
	if p := (&Network{t: small}).inside(0, 0); !(math.Abs(p[0]-0.5e-8) <= 1e-12) || !(math.Abs(p[1]-0.5e-8) <= 1e-12) {
		t.Errorf("in a facet that is a hair: %v", p)
	}
}

// A facet of the plane z = 2 + 0.1 x - 0.3 y, a long way off, has that elevation at its corners, on its sides and within.
func TestElevationOnAFacet(t *testing.T) {
	z := func(x, y float64) float64 { return 2 + 0.1*x - 0.3*y }
	n := &Network{t: &surface.TIN{V: []int32{0, 1, 2}, X: []float64{300, 304, 300}, Y: []float64{-200, -200, -197}}}
	for i, x := range n.t.X {
		n.t.Z = append(n.t.Z, z(x, n.t.Y[i]))
	}
	for _, p := range []orb.Point{{300, -200}, {304, -200}, {302, -198.5}, {301, -199}} {
		if got, want := n.elevation(Place{Point: p}), z(p[0], p[1]); !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("at %v: %g, want %g", p, got, want)
		}
	}
}

// By hand, far from the origin: a place to the left of a line, to the right of it and on it; on a surface that stands on no grid.
func TestSideOfALine(t *testing.T) {
	n := &Network{t: &surface.TIN{X: []float64{300, 304, 301, 302, 302}, Y: []float64{-200, -197, -198, -200, -198.5}}}
	for c, want := range map[int32]int{2: 1, 3: -1, 4: 0} {
		if got := n.turn(0, 1, c); got != want {
			t.Errorf("vertex %d: %d, want %d", c, got, want)
		}
		if got := n.turn(1, 0, c); got != -want {
			t.Errorf("vertex %d from the other end: %d, want %d", c, got, -want)
		}
	}
}
