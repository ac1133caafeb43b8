package assembly

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
)

// ofCores is a sample of cores at places, each 100 mm thick but for one that is off by so much, good to sigma; flutes may be under all of them or none.
func ofCores(at []orb.Point, who int, off, sigma float64, flutes bool) *sample {
	s := &sample{}
	for k, p := range at {
		t := 0.1
		if k == who {
			t += off
		}
		s.cores = append(s.cores, k)
		s.thickness = append(s.thickness, reading{p, t, sigma})
		s.deck = append(s.deck, reading{p, 1 - t, sigma})
		s.z, s.flute, s.sigma = append(s.z, 1.1), append(s.flute, flutes), append(s.sigma, sigma)
	}
	return s
}

func onAPlane(s *sample) (model, bool) {
	f, ok := fitPlane(s.thickness)
	return &f, ok
}

// hexagon is a middle and the six corners round it.
func hexagon() []orb.Point {
	at := []orb.Point{{30, -20}}
	for k := range 6 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 3)
		at = append(at, orb.Point{30 + 5*cos, -20 + 5*sin})
	}
	return at
}

// By hand: a core in the middle of six, d off them, leaves 6/7 d2 squares of errors, and without it nothing is left. It is odd from a fall of 12 on, 3.742 errors; where a flute would explain it, too thick by a third of 1.5 in (12.7 mm) at least, from a fall of 8 on, 3.055 errors. With one degree of freedom none is.
func TestOneOddCore(t *testing.T) {
	for i, c := range []struct {
		off, sigma float64
		flutes     bool
		want       int
	}{
		{0.0037, 0.001, false, -1},
		{0.0038, 0.001, false, 0},
		{-0.0038, 0.001, false, 0},
		{-0.0037, 0.001, false, -1},
		{0.0150, 0.005, true, -1},
		{0.0156, 0.005, true, 0},
		{0.0156, 0.005, false, -1},
		{-0.0156, 0.005, true, -1},
		{0.0122, 0.0035, true, -1},
		{0.0129, 0.0035, true, 0},
		{0.0129, 0.0035, false, -1},
		{0, 0.001, true, -1},
	} {
		if got := ofCores(hexagon(), 0, c.off, c.sigma, c.flutes).odd(onAPlane); got != c.want {
			t.Errorf("%d: odd is %d, want %d", i, got, c.want)
		}
	}
	square := []orb.Point{{0, 0}, {4, 0}, {4, 4}, {0, 4}}
	if got := ofCores(square, 2, 0.05, 0.001, false).odd(onAPlane); got != -1 {
		t.Errorf("of four cores %d is odd", got)
	}
	if got := ofCores(square[:2], 1, 0.05, 0.001, false).odd(onAPlane); got != -1 {
		t.Errorf("of two cores %d is odd", got)
	}
	// Two that are off alike leave open which is: without either the other is left.
	two := ofCores(append(hexagon(), orb.Point{30, -20}), 0, 0.02, 0.001, false)
	two.thickness[7].value += 0.02
	if got := two.odd(onAPlane); got != -1 {
		t.Errorf("of two that are off %d is odd", got)
	}
}

// What a flute would explain: too thick by a third of 38.1 mm at least, and by no more than that and three errors.
func TestWhatAFluteExplains(t *testing.T) {
	for over, want := range map[float64]bool{0.0126: false, 0.0128: true, 0.0381: true, 0.0440: true, 0.0442: false, -0.02: false} {
		if got := fluteWould(over, 0.002); got != want {
			t.Errorf("%g m: %t", over, got)
		}
	}
	s := ofCores(hexagon(), 0, 0.0381, 0.001, true)
	l := s.lifted(0)
	if !(math.Abs(l.thickness[0].value-0.1) <= 1e-12) || !(math.Abs(l.deck[0].value-0.9) <= 1e-12) || s.thickness[0].value == l.thickness[0].value || len(l.cores) != 7 {
		t.Errorf("lifted to %g over a deck at %g", l.thickness[0].value, l.deck[0].value)
	}
	if w := s.without(3); len(w.cores) != 6 || w.cores[3] != 4 || w.z[0] != 1.1 || w.sigma[5] != 0.001 || !w.flute[2] {
		t.Errorf("without one: %+v", w)
	}
}

// A verdict on cores that do not agree stands where it is the same whichever one is left out of those that may be odd; with a core too few nothing tells. By hand, of five cores each time four are left, with one degree of freedom.
func TestVerdictWhicheverIsLeftOut(t *testing.T) {
	at := []orb.Point{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {2, 2}}
	steep := func(m model) Verdict {
		f, ok := m.(*fit)
		switch {
		case !ok:
			return NotResolved
		case f.gx > 0.002:
			return InsulationTapers
		}
		return StructureSlopes
	}
	always := func(model) Verdict { return BothSlope }
	agreed := ofCores(at, 0, 0, 0.001, false)
	if got := agreed.whichever(onAPlane, always); got != BothSlope {
		t.Errorf("of five that agree: %d", got)
	}
	if got := agreed.whichever(onAPlane, func(model) Verdict { return NotResolved }); got != NotResolved {
		t.Errorf("where no one resolves it: %d", got)
	}
	if got := ofCores(at[:4], 0, 0, 0.001, false).whichever(onAPlane, always); got != NotResolved {
		t.Errorf("of four, three leave nothing to check: %d", got)
	}
	// One corner of a pentagon is 30 mm off: without it the rest is level; without any other the rest lies far off every plane.
	var five []orb.Point
	for k := range 5 {
		sin, cos := math.Sincos(float64(k) * 2 * math.Pi / 5)
		five = append(five, orb.Point{5 * cos, 5 * sin})
	}
	if got := ofCores(five, 1, 0.03, 0.001, false).whichever(onAPlane, steep); got != StructureSlopes {
		t.Errorf("one that is off: %d", got)
	}
	// Off by little every one may be left out, and the rest falls more or less than 2 mm a metre.
	if got := ofCores(at, 1, 0.012, 0.004, false).whichever(onAPlane, steep); got != NotResolved {
		t.Errorf("where either may be off: %d", got)
	}
}

// A verdict stands where no core that may have reached a flute would change it. By hand: three cores that are level, each good to 1 mm over a deck with flutes: had one reached a flute unsaid, it would be thinner by 38.1 mm, and the taper another.
func TestVerdictsThatAFluteWouldChange(t *testing.T) {
	taper := func(m model) Verdict {
		if f, ok := m.(*fit); ok && math.Hypot(f.gx, f.gy) > 0.002 {
			return InsulationTapers
		}
		return NothingSlopes
	}
	three := []orb.Point{{0, 0}, {4, 0}, {0, 4}}
	if ofCores(three, 0, 0, 0.001, true).stands(NothingSlopes, onAPlane, taper) {
		t.Error("three cores that may have reached flutes")
	}
	if !ofCores(three, 0, 0, 0.001, false).stands(NothingSlopes, onAPlane, taper) {
		t.Error("three cores over a deck without flutes")
	}
	if !ofCores(hexagon(), 0, 0, 0.001, true).stands(NothingSlopes, onAPlane, taper) {
		t.Error("seven that agree: a flute that is not there makes the fit worse")
	}
	if ofCores(three[:2], 0, 0, 0.001, false).stands(NothingSlopes, onAPlane, taper) {
		t.Error("two cores make no plane")
	}
}

// By hand: readings of a constant and two slopes at (0, 0), (2, 0), (0, 2) and (2, 2), each good to 0.1: the covariance of the slopes is 0.01 over the sum of squares about the middle, 4; of two on a line along x that over y is as wide as what was known before.
func TestInformationOfReadings(t *testing.T) {
	n := normal{xx: 1e-9, yy: 1e-9, zz: 1e-9}
	for _, p := range [][2]float64{{0, 0}, {2, 0}, {0, 2}, {2, 2}} {
		n = n.with([3]float64{1, p[0], p[1]}, 0.1)
	}
	yy, yz, zz := n.covariance()
	if !(math.Abs(yy-0.0025) <= 1e-9) || !(math.Abs(zz-0.0025) <= 1e-9) || !(math.Abs(yz) <= 1e-9) || !(math.Abs(n.uncertainty()-0.005) <= 1e-9) {
		t.Errorf("%g, %g, %g", yy, yz, zz)
	}
	n = normal{xx: 1e-9, yy: 1e-9, zz: 1 / (0.05 * 0.05)}
	for _, x := range []float64{-1, 1} {
		n = n.with([3]float64{1, x, 0}, 0.1)
	}
	if yy, _, zz = n.covariance(); !(math.Abs(yy-0.005) <= 1e-8) || !(math.Abs(zz-0.0025) <= 1e-8) {
		t.Errorf("on a line %g along and %g across", yy, zz)
	}
	// Of a slanted pair the slopes go together: both along (0.6, 0.8), by hand the least that is known across stays 1.
	n = normal{xx: 1e-9, yy: 1, zz: 1}
	for _, s := range []float64{-1, 1} {
		n = n.with([3]float64{1, 0.6 * s, 0.8 * s}, 0.01)
	}
	yy, yz, zz = n.covariance()
	along := 1 / (1 + 2/0.0001)
	if !(math.Abs(yy-(0.36*along+0.64)) <= 1e-9) || !(math.Abs(zz-(0.64*along+0.36)) <= 1e-9) || !(math.Abs(yz-0.48*(along-1)) <= 1e-9) {
		t.Errorf("at a slant %g, %g, %g", yy, yz, zz)
	}
}

// By hand: on a plane a core tells of a constant and of its distances from the first core; of a share of thickness, on a roof that rises 2 % to the east, of a constant and of how much higher the surface is there than at the middle of the cores.
func TestWhatACoreTells(t *testing.T) {
	r := shape.New("rising", shape.At(0, 0, 0), shape.At(20, 0, 0.4), shape.At(20, 10, 0.4), shape.At(0, 10, 0))
	shape.Spot(r, 7, 4, 0.14)
	f := newFinder(&Input{Roof: r, Surface: shape.Build(t, r)})
	g := &Region{Kind: OnPlane, origin: orb.Point{2, 3}}
	g.line.centre = 0.1
	if got := f.row(g, orb.Point{12, 4}); got != [3]float64{1, 10, 1} {
		t.Errorf("on a plane %v", got)
	}
	g.Kind = OnRoof
	if got := f.row(g, orb.Point{12, 4}); got[0] != 1 || !(math.Abs(got[1]-0.14) <= 1e-6) || got[2] != 0 {
		t.Errorf("of a share %v", got)
	}
}

// An odd core is left out where the others agree, to 1 % of chi-squared with the degrees of freedom that they leave. By hand: six corners round a middle, up and down by d in turn, leave 6 d2 squares with 3 degrees of freedom; tables have 11.34 for these and 13.28 for four. The middle is off by 10 errors more, by plenty.
func TestTheOthersAgree(t *testing.T) {
	for squares, want := range map[float64]int{10.9: 0, 12.3: -1, 13.8: -1, 0: 0} {
		s := ofCores(hexagon(), 0, 0.010, 0.001, false)
		d := 0.001 * math.Sqrt(squares/6)
		for k := 1; k < 7; k++ {
			s.thickness[k].value += d * float64(1-2*(k%2))
		}
		if got := s.odd(onAPlane); got != want {
			t.Errorf("%g squares: odd is %d, want %d", squares, got, want)
		}
	}
}
