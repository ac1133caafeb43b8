package place

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// By hand: twice the area of the triangle from (1, 7) over (3, 8) to (2, 10) is 2 x 3 - 1 x 1 = 5, and of its mirror image -5.
func TestSide(t *testing.T) {
	if got := side(orb.Point{1, 7}, orb.Point{3, 8}, orb.Point{2, 10}); got != 5 {
		t.Errorf("%g, want 5", got)
	}
	if got := side(orb.Point{1, 7}, orb.Point{2, 10}, orb.Point{3, 8}); got != -5 {
		t.Errorf("%g, want -5", got)
	}
}

// A wall in the direction of (3, 4)/5 from (10, 20), 25 m long: 5 m along it and 2 m to its left stands (10 + 3 - 1.6, 20 + 4 + 1.2). A next wall along
// (-4, 3) turns left by a right angle, one along (4, 3) right by the angle whose sine is 7/25.
func TestWallsArithmetic(t *testing.T) {
	w := Wall{From: orb.Point{10, 20}, To: orb.Point{25, 40}}
	p := orb.Point{11.4, 25.2}
	if got := w.Square(p); !(math.Abs(got-2) <= 1e-12) {
		t.Errorf("%g m square to the wall, want 2", got)
	}
	if got := w.along(p); !(math.Abs(got-5) <= 1e-12) {
		t.Errorf("%g m along it, want 5", got)
	}
	if got := w.middle(); got != (orb.Point{17.5, 30}) {
		t.Errorf("its middle is %v, want 17.5, 30", got)
	}
	for _, c := range []struct {
		to   orb.Point
		want float64
	}{{orb.Point{21, 43}, 1}, {orb.Point{29, 43}, -7. / 25}, {orb.Point{28, 44}, 0}} {
		next := Wall{From: w.To, To: c.to}
		if got := w.Turn(&next); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("the turn to %v has the sine %g, want %g", c.to, got, c.want)
		}
	}
}
