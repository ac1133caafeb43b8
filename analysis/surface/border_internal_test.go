package surface

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// By hand, on a square of 10 m whose south side is open: the nearest place of the border to (3, 1) lies 1 m off on the south side, the nearest of a wall 3 m off on the west side; to a place beyond a corner it is the corner; of a kind that is not there nothing is near.
func TestNearestOfABorder(t *testing.T) {
	tin := &TIN{
		X: []float64{0, 10, 10, 0}, Y: []float64{0, 0, 10, 10}, V: []int32{0, 1, 2, 0, 2, 3}, Twin: []int32{-1, -1, 3, 2, -1, -1},
		Flag: []EdgeFlag{OutlineEdge | OpenEdge, OutlineEdge | WallEdge, 0, 0, OutlineEdge | WallEdge, OutlineEdge | WallEdge},
	}
	b := newBorder(tin)
	for _, c := range []struct {
		p       orb.Point
		flag    EdgeFlag
		e       int32
		at, far float64
	}{
		{orb.Point{3, 1}, 0, 0, 0.3, 1},
		{orb.Point{3, 1}, OpenEdge, 0, 0.3, 1},
		{orb.Point{3, 1}, WallEdge, 5, 0.9, 3},
		{orb.Point{9, 4}, 0, 1, 0.4, 1},
		{orb.Point{4, 9.5}, WallEdge, 4, 0.6, 0.5},
		{orb.Point{13, -4}, OpenEdge, 0, 1, 5},
		{orb.Point{-3, 14}, 0, 4, 1, 5},
	} {
		if e, at, far := b.nearest(c.p, c.flag); e != c.e || !(math.Abs(at-c.at) <= 1e-12) || !(math.Abs(far-c.far) <= 1e-12) {
			t.Errorf("%v of %b: edge %d at %g, %g m off; want %d at %g, %g m", c.p, c.flag, e, at, far, c.e, c.at, c.far)
		}
	}
	if _, _, far := b.nearest(orb.Point{3, 1}, CurbEdge); !math.IsInf(far, 1) {
		t.Errorf("a curb %g m off", far)
	}
}

// By hand: 3 east and 4 north against 4 east and 3 north is 24 of 25; back, square to it, and along itself.
func TestBendOfTwoEdges(t *testing.T) {
	tin := &TIN{V: []int32{0, 1, 2, 0, 3, 1, 4, 0, 5}, X: []float64{300, 303, 296, 304, 303, 297}, Y: []float64{-200, -196, -197, -197, -204, -204}}
	for _, c := range []struct {
		e, g int32
		want float64
	}{{0, 3, 0.96}, {0, 0, 1}, {0, 2, 0}, {0, 7, -1}, {3, 6, 0}, {0, 6, 0.28}} {
		if got := tin.bend(c.e, c.g); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("half-edges %d and %d: %g, want %g", c.e, c.g, got, c.want)
		}
	}
}
