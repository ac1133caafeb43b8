package dish

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// In the scaled axes every end of an oval is 1 from its middle, however it lies: half axes of 3 and 1 m, turned by 0.5 radians.
func TestAnOvalIsRoundInItsAxes(t *testing.T) {
	b := Bowl{centre: orb.Point{5, -2}}
	at := func(turn float64) orb.Point {
		x, y := 3*math.Cos(turn), math.Sin(turn)
		return orb.Point{5 + x*math.Cos(0.5) - y*math.Sin(0.5), -2 + x*math.Sin(0.5) + y*math.Cos(0.5)}
	}
	for i := range 65 {
		b.Ring = append(b.Ring, at(2*math.Pi*float64(i)/64))
	}
	b.scale()
	for turn := 0.0; turn < 6; turn += 0.5 {
		if d := b.apart(b.centre, at(turn)); !(math.Abs(d-1) <= 1e-9) {
			t.Errorf("at %g: squared distance %g, want 1", turn, d)
		}
	}
	// The kernel is 1 at no distance and nearly a bell, exp(-d^2/2), at one of d reaches.
	for _, d := range []float64{0, 0.5, 0.8} {
		p := orb.Point{5 + 3*d*reach*math.Cos(0.5), -2 + 3*d*reach*math.Sin(0.5)}
		if got, want := b.alike(b.centre, p), math.Exp(-d*d/2); !(math.Abs(got/want-1) <= 0.015) {
			t.Errorf("at %g reaches: %g, a bell has %g", d, got, want)
		}
	}
}

// Real and imaginary parts of the powers of a place on the unit circle are the cosines and sines of the multiples of its angle.
func TestPowersAreHarmonics(t *testing.T) {
	b := Bowl{centre: orb.Point{1, 1}, size: 2}
	out := b.powers(orb.Point{1 + 2*math.Cos(0.7), 1 + 2*math.Sin(0.7)})
	for k := 1; k <= degree; k++ {
		if sin, cos := math.Sincos(0.7 * float64(k)); !(math.Abs(out[2*k-1]-cos) <= 1e-12) || !(math.Abs(out[2*k]-sin) <= 1e-12) {
			t.Errorf("power %d: %g and %g, want %g and %g", k, out[2*k-1], out[2*k], cos, sin)
		}
	}
}

// By hand: x + y = 3 and x - y = 1 give 2 and 1.
func TestSolve(t *testing.T) {
	if x := (matrix{{1, 1, 3}, {1, -1, 1}}).solve(); x[0] != 2 || x[1] != 1 {
		t.Errorf("%v, want 2 and 1", x)
	}
}

// From the middle of a square of 2 m the edge is 1 m off to the right and above, whatever way lies between: the share is the larger of x and y.
func TestShareOfTheWayToTheEdge(t *testing.T) {
	b := Bowl{Ring: orb.Ring{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}}, Soundings: []Sounding{{}}}
	for _, p := range []orb.Point{{0.5, 0.1}, {0.3, 0.6}, {-0.7, 0.2}, {0.1, -0.9}, {0, 0}} {
		if got, want := b.share(0, p), max(math.Abs(p[0]), math.Abs(p[1])); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("at %v: %g, want %g", p, got, want)
		}
	}
}
