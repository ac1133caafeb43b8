package flow

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// On a level L of 6 by 6 m without its upper right 3 by 3 m, with a spot on each metre, two spots see each other where the straight line between them does not pass through what is cut away, by 1,000 places on it.
func TestSees(t *testing.T) {
	r := shape.New("L", shape.At(0, 0, 0), shape.At(6, 0, 0), shape.At(6, 3, 0), shape.At(3, 3, 0), shape.At(3, 6, 0), shape.At(0, 6, 0))
	for x := 0.0; x <= 6; x++ {
		for y := 0.0; y <= 6; y++ {
			if x <= 3 || y <= 3 {
				shape.Spot(r, x, y, 0)
			}
		}
	}
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(6, 0))
	n, err := Trace(shape.Build(t, r), Options{})
	if err != nil {
		t.Fatal(err)
	}
	seen, hidden := 0, 0
	for a := range int32(len(n.t.X)) {
		for b := range int32(len(n.t.X)) {
			want := true
			for k := range 1001 {
				s := float64(k) / 1000
				x, y := n.t.X[a]+s*(n.t.X[b]-n.t.X[a]), n.t.Y[a]+s*(n.t.Y[b]-n.t.Y[a])
				want = want && !(x > 3+1e-9 && y > 3+1e-9)
			}
			if got := n.sees(a, b); got != want {
				t.Errorf("(%g, %g) sees (%g, %g): %v", n.t.X[a], n.t.Y[a], n.t.X[b], n.t.Y[b], got)
			}
			if want {
				seen++
			} else {
				hidden++
			}
		}
	}
	if hidden < 100 || seen < 1000 {
		t.Errorf("%d pairs see each other and %d do not", seen, hidden)
	}
}

// On level ground the way to a drain is straight from each spot, or at most 2 % longer over the spots that stand between, wherever they stand.
func TestStraightToADrain(t *testing.T) {
	r := shape.New("level", shape.At(0, 0, 0), shape.At(7, 0, 0), shape.At(7, 5, 0), shape.At(0, 5, 0))
	d := rand.New(rand.NewPCG(2, 7))
	for range 40 {
		shape.Spot(r, math.Round(6800*d.Float64()+100)/1000, math.Round(4800*d.Float64()+100)/1000, 0)
	}
	o := shape.Drain(r, 3.5, 2.5, 0.3)
	o.Invert, o.HasInvert = 0, true
	n, err := Trace(shape.Build(t, r), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for v := range int32(len(n.t.X)) {
		way := math.Hypot(n.t.X[v]-3.5, n.t.Y[v]-2.5)
		if way < 0.4 {
			continue
		}
		// The footprint is a circle of 0.15 m radius, cut in as a polygon: a straight way ends between that circle and its inscribed corners.
		if got := n.far[v]; n.level[v] > 0 && (!(got >= way-0.1501) || !(got <= 1.02*way)) {
			t.Errorf("from (%g, %g): %g m over level ground, straight %g", n.t.X[v], n.t.Y[v], got, way-0.15)
		}
	}
}

// Positions are carried in proportion, and never beyond the ends, whichever way either stretch runs.
func TestCarry(t *testing.T) {
	for _, c := range []struct{ x, x0, x1, y0, y1, want float64 }{
		{0.5, 0, 1, 10, 20, 15},
		{0.25, 0, 1, 20, 10, 17.5},
		{-1, 0, 1, 10, 20, 10},
		{2, 0, 1, 10, 20, 20},
		{0, 0, 1, 10, 20, 10},
		{1, 0, 1, 10, 20, 20},
		{3, 2, 6, 0, 8, 2},
		{5, 2, 6, 8, 0, 2},
		{2, 2, 2, 5, 7, 5},
		{4, 2, 6, 5, 5, 5},
	} {
		if got := carry(c.x, c.x0, c.x1, c.y0, c.y1); got != c.want {
			t.Errorf("%+v: %g", c, got)
		}
	}
	for _, c := range [][3]float64{{1, 4, 0.25}, {0, 4, 0}, {-1, 4, 0}, {4, 4, 1}, {5, 4, 1}, {1, 0, 0}, {1, -2, 0}, {0.5, 1, 0.5}} {
		if got := ratio(c[0], c[1]); got != c[2] {
			t.Errorf("%g of %g: %g, want %g", c[0], c[1], got, c[2])
		}
	}
	p := part{s0: 0.2, s1: 0.6, w0: 0, w1: 1, l0: 3, l1: 5}
	if !(math.Abs(p.down(0.4)-0.5) <= 1e-15) || !(math.Abs(p.up(0.25)-0.3) <= 1e-15) || p.through(0.75) != 4.5 {
		t.Errorf("down %g, up %g, through %g", p.down(0.4), p.up(0.25), p.through(0.75))
	}
}
