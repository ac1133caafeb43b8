package surface

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestMeetingTheBorder: by hand, on a square of 10 m. A line over the south side cuts it where it crosses; one through a corner touches that corner; one that ends on a side or in a corner, runs along a side, or lies on one side of it meets nothing of it.
func TestMeetingTheBorder(t *testing.T) {
	const unit = 100000 // a metre
	at := func(x, y float64) corner { return corner{int32(math.Round(x * unit)), int32(math.Round(y * unit))} }
	for _, c := range []struct {
		name string
		p, q corner
		x, y float64 // where it meets the south side; no number: nowhere
	}{
		{"across", at(4, -2), at(6, 2), 5, 0},
		{"across, the other way", at(6, 2), at(4, -2), 5, 0},
		{"at a quarter", at(2, -1), at(6, 3), 3, 0},
		{"through the corner where it starts", at(-1, 1), at(1, -1), 0, 0},
		{"from that corner on", at(0, 0), at(1, -1), math.NaN(), 0},
		{"to that corner", at(-1, -1), at(0, 0), math.NaN(), 0},
		{"beyond that corner", at(-2, -2), at(-1, -1), math.NaN(), 0},
		{"through the corner where it ends", at(9, -1), at(11, 1), math.NaN(), 0}, // it is the start of the next
		{"along it", at(2, 0), at(8, 0), math.NaN(), 0},
		{"ends on it", at(5, 2), at(5, 0), math.NaN(), 0},
		{"above it", at(2, 1), at(8, 3), math.NaN(), 0},
		{"towards it", at(5, 3), at(5, 1), math.NaN(), 0},
		{"beside it", at(12, -1), at(14, 1), math.NaN(), 0},
	} {
		tin := sheet(t, rand.New(rand.NewPCG(1, 1)), 3)
		k := newCutter(tin)
		south := int32(-1)
		for e := range int32(len(tin.V)) {
			if tin.Twin[e] < 0 && tin.Y[tin.V[e]] == 0 && tin.Y[tin.End(e)] == 0 {
				south = e
			}
		}
		v := k.meetBorder(c.p, c.q, south)
		switch {
		case math.IsNaN(c.x) && v >= 0:
			t.Errorf("%s: at (%g, %g)", c.name, k.X[v], k.Y[v])
		case !math.IsNaN(c.x) && (v < 0 || !(math.Hypot(k.X[v]-c.x, k.Y[v]-c.y) <= 1e-5)):
			t.Errorf("%s: vertex %d, want one at (%g, %g)", c.name, v, c.x, c.y)
		}
	}
}

// TestAlongALine: by hand, of (3, 4) on the way from (1, 2) to (5, 6) half; what lies beside it counts at its foot; before it less than nothing, beyond it more than 1.
func TestAlongALine(t *testing.T) {
	p, q := corner{100, 200}, corner{500, 600}
	for _, c := range []struct {
		x, y int32
		want float64
	}{{300, 400, 0.5}, {100, 200, 0}, {500, 600, 1}, {400, 300, 0.5}, {0, 100, -0.25}, {600, 700, 1.25}} {
		if got := along(p, q, c.x, c.y); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("(%d, %d): %g, want %g", c.x, c.y, got, c.want)
		}
	}
	// Left of a line is above 0: the triangle with (1, 6) has twice 8 units squared of a hundred each.
	if a, b := side(p, q, 100, 600), side(q, p, 100, 600); a != 160000 || b != -160000 {
		t.Errorf("%g and %g", a, b)
	}
}

// TestSignsOfSmallPieces: a piece over which nothing leaves, or into which nothing comes, takes the signs of its own shape; one that has both, and a level one, stay.
func TestSignsOfSmallPieces(t *testing.T) {
	tin := sheet(t, rand.New(rand.NewPCG(4, 2)), 20)
	k := newCutter(tin)
	want := make([]int8, len(k.Run))
	copy(want, k.Run)
	for _, f := range []int32{0, 3, 5} { // all in, all out, nothing
		for e := 3 * f; e < 3*f+3; e++ {
			k.Run[e] = int8(f%3) - 1
		}
	}
	k.Run[3*5], k.Run[3*5+1], k.Run[3*5+2] = 0, 0, 0
	k.mendSigns()
	for e := range k.Run {
		if k.Run[e] != want[e] {
			t.Errorf("half-edge %d: %d, want %d", e, k.Run[e], want[e])
		}
	}
	k.Run[3], k.Run[4], k.Run[5] = 1, 0, -1 // both, though not those of its shape
	k.mendSigns()
	if k.Run[3] != 1 || k.Run[4] != 0 || k.Run[5] != -1 {
		t.Errorf("facet 1 has %v", k.Run[3:6])
	}
	k.DX[0], k.DY[0] = 0, 0
	k.Run[0], k.Run[1], k.Run[2] = 1, 1, 1
	k.mendSigns()
	if k.Run[0] != 1 || k.Run[1] != 1 || k.Run[2] != 1 {
		t.Errorf("a level facet has %v", k.Run[:3])
	}
}
