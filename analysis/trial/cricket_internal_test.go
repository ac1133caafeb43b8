package trial

import (
	"errors"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// TestBoardsOfAHalf: between an end of the base at (0, 0), its middle at (8, 0) and the tip at (8, 6) the foot is 10 m long and the ridge stands 8 * 6/10 = 4.8 m off it at the base: boards of 4 % are 0.192 m there, half of that halfway
// along, nothing on the foot and beyond the ridge and the base. Under a wall 0.05 m more counts. All of it holds for the tip on the other side.
func TestBoardsOfAHalf(t *testing.T) {
	for _, side := range []float64{1, -1} {
		at := func(x, y float64) orb.Point { return orb.Point{x, side * y} }
		for _, c := range []struct {
			name  string
			p     orb.Point
			under float64
			want  float64
		}{
			{"middle of the base", at(8, 0), 0, 0.192},
			{"halfway up the ridge", at(8, 3), 0, 0.096},
			{"at the tip", at(8, 6), 0, 0},
			{"halfway along the base", at(4, 0), 0, 0.096},
			{"on the foot", at(4, 3), 0, 0},
			{"0.01 mm off the foot", at(4+0.6e-5, 3-0.8e-5), 0, 0},
			{"1 m off the foot", at(4+0.6, 3-0.8), 0, 0.04},
			{"beyond the foot", at(3, 3), 0, 0},
			{"beyond the ridge", at(8.1, 1), 0, 0},
			{"beyond the base", at(6, -0.01), 0, 0},
			{"under the wall", at(8, -0.04), 0.05, 0.04 * (4.8 + 0.04*0.8)},
			{"beyond the wall", at(8, -0.06), 0.05, 0},
			{"under the wall beyond the end", at(-0.01, -0.04), 0.05, 0},
		} {
			h := newHalf(at(0, 0), at(8, 0), at(8, 6), orb.Point{0, side}, c.under, 0.04)
			if got := h.at(c.p); !(math.Abs(got-c.want) <= 1e-9) {
				t.Errorf("%s, side %g: %g m, want %g", c.name, side, got, c.want)
			}
		}
	}
}

// pitched is a roof that falls by 2 % to the south in the triangle (2, 0), (10, 0), (6, 4), and is level at 0 round it but for what slopes up to its tip; swapped has x and y change places.
func pitched(swapped bool) *roof.Roof {
	at := func(x, y, z float64) roof.Position {
		if swapped {
			return shape.At(y, x, z)
		}
		return shape.At(x, y, z)
	}
	corners := []roof.Position{at(0, 0, 0), at(2, 0, 0), at(10, 0, 0), at(12, 0, 0), at(12, 6, 0), at(0, 6, 0)}
	if swapped {
		for i, j := 0, len(corners)-1; i < j; i, j = i+1, j-1 {
			corners[i], corners[j] = corners[j], corners[i]
		}
	}
	r := shape.New("pitched", corners...)
	shape.Breakline(r, roof.GradeBreak, at(2, 0, 0), at(6, 4, 0.08))
	shape.Breakline(r, roof.GradeBreak, at(6, 4, 0.08), at(10, 0, 0))
	return r
}

// TestFallToABase: what counts is the triangle of the widest cricket, half as high as the base is long, and only that. Off the roof there is nothing.
func TestFallToABase(t *testing.T) {
	for _, swapped := range []bool{false, true} {
		p := func(x, y float64) orb.Point {
			if swapped {
				return orb.Point{y, x}
			}
			return orb.Point{x, y}
		}
		on := surface.NewLocator(shape.Build(t, pitched(swapped)).Cut)
		if got := fallTo(on, p(2, 0), p(10, 0), p(0, 1)); !(math.Abs(got-0.02) <= 1e-6) {
			t.Errorf("swapped %v: %g, want 0.02", swapped, got)
		}
		if got := fallTo(on, p(2, 0), p(10, 0), p(0, -1)); got != 0 {
			t.Errorf("swapped %v: %g off the roof", swapped, got)
		}
		if got := fallOf(on, p(6, 4), p(6, 0)); !(math.Abs(got-0.02) <= 1e-6) {
			t.Errorf("swapped %v: a fall of %g from the tip, want 0.08/4", swapped, got)
		}
		if got := fallOf(on, p(6, 0), p(6, 4)); !(math.Abs(got+0.02) <= 1e-6) {
			t.Errorf("swapped %v: a fall of %g to the tip, want -0.08/4", swapped, got)
		}
		if a, b := fallOf(on, p(6, 4), p(6, -1)), fallOf(on, p(6, -1), p(6, 4)); a != 0 || b != 0 {
			t.Errorf("swapped %v: falls of %g and %g off the roof", swapped, a, b)
		}
	}
}

// TestBasesThatShedNothing: a base shorter than half a metre, one to which the roof falls by less than 0.05 % and one with no roof on either side are refused in words; 0.05 m before a wall there is roof on both sides.
func TestBasesThatShedNothing(t *testing.T) {
	plane := func(s float64) *surface.Locator {
		return surface.NewLocator(shape.Build(t, shape.Plane(20, 10, s, 4)).Cut)
	}
	for _, c := range []struct {
		name  string
		s     float64
		base  [2]orb.Point
		sides int // 0: refused
	}{
		{"along the wall", 0.02, [2]orb.Point{{2, 0}, {18, 0}}, 1},
		{"0.49 m long", 0.02, [2]orb.Point{{2, 0}, {2.49, 0}}, 0},
		{"0.51 m long", 0.02, [2]orb.Point{{2, 0}, {2.51, 0}}, 1},
		{"a fall of 0.049 %", 0.00049, [2]orb.Point{{2, 0}, {18, 0}}, 0},
		{"a fall of 0.051 %", 0.00051, [2]orb.Point{{2, 0}, {18, 0}}, 1},
		{"to the wall above, from which the roof falls", 0.02, [2]orb.Point{{2, 10}, {18, 10}}, 0},
		{"off the roof", 0.02, [2]orb.Point{{2, -5}, {18, -5}}, 0},
		{"in the field", 0.02, [2]orb.Point{{6, 4}, {9, 4}}, 2},
		{"0.04 m before the wall", 0.02, [2]orb.Point{{6, 0.04}, {9, 0.04}}, 1},
		{"0.06 m before the wall", 0.02, [2]orb.Point{{6, 0.06}, {9, 0.06}}, 2},
		{"the other way round", 0.02, [2]orb.Point{{18, 0}, {2, 0}}, 1},
	} {
		change := Change{Kind: Cricket, Base: c.base, Valley: 0.0001}
		b, err := change.plan(plane(c.s))
		if c.sides == 0 {
			if !errors.Is(err, NoField{}) || err.Error() != "the roof falls to neither side of that line, so a cricket on it would shed nothing: put its ends where water runs against it" {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if len(b.Tips) != c.sides || len(b.halves) != 2*c.sides {
			t.Errorf("%s: %d tips, %d halves", c.name, len(b.Tips), len(b.halves))
		}
	}
}

// TestWhatACricketCovers: with its tip set 3 m off the middle of a base of 8 m along a wall, what lies in the triangle is covered, its feet and what lies beside it are not, and it goes on 0.05 m under the wall; the tip stands 3 m off.
func TestWhatACricketCovers(t *testing.T) {
	on := surface.NewLocator(shape.Build(t, shape.Plane(20, 10, 0.02, 4)).Cut)
	change := Change{Kind: Cricket, Base: [2]orb.Point{{4, 0}, {12, 0}}, Tip: 3, Rate: 0.05, Valley: 0.005}
	b, err := change.plan(on)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.Off(); !(math.Abs(got-3) <= 1e-12) {
		t.Errorf("the tip stands %g m off", got)
	}
	if want := 0.05 * 4 * 3 / 5; !(math.Abs(b.Thickness-want) <= 1e-12) || b.Rate != 0.05 {
		t.Errorf("%g m of boards that rise by %g, want %g and 0.05", b.Thickness, b.Rate, want)
	}
	for _, c := range []struct {
		p    orb.Point
		want bool
	}{
		{orb.Point{8, 1}, true},
		{orb.Point{5, 0.5}, true},
		{orb.Point{11, 0.5}, true},
		{orb.Point{8, 2.99}, true},
		{orb.Point{8, -0.04}, true},
		{orb.Point{8, 3.01}, false},
		{orb.Point{5, 0.8}, false},
		{orb.Point{11, 0.8}, false},
		{orb.Point{3.9, 0}, false},
		{orb.Point{8, -0.06}, false},
		{orb.Point{6, 1.5}, false},
	} {
		if got := b.Covers(c.p); got != c.want {
			t.Errorf("%v: %v", c.p, got)
		}
	}
}

// TestWaterUnderACricket: what a cricket cuts into the roof is wet where water stood over it as found. In a pan 0.1 m deep that is all of it but what stands at the water's level on the wall; on a dry plane nothing.
func TestWaterUnderACricket(t *testing.T) {
	pan := shape.New("pan", shape.At(0, 0, 0.1), shape.At(10, 0, 0.1), shape.At(10, 10, 0.1), shape.At(0, 10, 0.1))
	shape.Spot(pan, 5, 5, 0)
	o := shape.Scupper(pan, 10, 5, 0.2)
	o.Invert, o.HasInvert = 0.1, true
	for _, c := range []struct {
		name string
		r    *roof.Roof
		base [2]orb.Point
		wet  bool
	}{
		{"pan", pan, [2]orb.Point{{3, 5}, {7, 5}}, true},
		{"plane", shape.Plane(20, 10, 0.02, 4), [2]orb.Point{{2, 0}, {18, 0}}, false},
	} {
		s := shape.Build(t, c.r)
		found := makerOf(t, c.r).found
		r, err := Of(s, found, []Change{{Kind: Cricket, Base: c.base, Valley: 0.005}})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Was) != len(r.Surface.Cut.X) || len(r.Was) <= len(s.Cut.X) {
			t.Fatalf("%s: %d places said of %d, %d before", c.name, len(r.Was), len(r.Surface.Cut.X), len(s.Cut.X))
		}
		on := surface.NewLocator(s.Cut)
		for v := len(s.Cut.X); v < len(r.Was); v++ {
			z, _ := on.HeightAt(r.Surface.Cut.X[v], r.Surface.Cut.Y[v])
			want := int32(-1)
			if c.wet && z < 0.1-1e-9 {
				want = 0
			}
			if r.Was[v] != want {
				t.Errorf("%s: at (%g, %g), %g m: pond %d, want %d", c.name, r.Surface.Cut.X[v], r.Surface.Cut.Y[v], z, r.Was[v], want)
			}
		}
	}
}

// TestFirstOfEqualLines: of two pairs of outlets as far apart that cross over a pond, the pair that stands first.
func TestFirstOfEqualLines(t *testing.T) {
	s := &surface.Surface{Outlets: []surface.Outlet{
		{Plan: orb.Point{0, 5}, Duty: roof.Primary}, {Plan: orb.Point{10, 5}, Duty: roof.Primary}, {Plan: orb.Point{5, 0}, Duty: roof.Primary}, {Plan: orb.Point{5, 10}, Duty: roof.Primary},
	}}
	if base, ok := outletLine(s, orb.Point{5.2, 5.2}); !ok || base != [2]orb.Point{{0, 5}, {10, 5}} {
		t.Errorf("%v, %v", base, ok)
	}
}

// TestBaseAlongAnyWall: a base along a wall to the west of a field, to its east, or along a slant has its one side where the roof is, whichever way its ends are named.
func TestBaseAlongAnyWall(t *testing.T) {
	for name, to := range map[string]func(x, y float64) orb.Point{
		"south": func(x, y float64) orb.Point { return orb.Point{x, y} },
		"east":  func(x, y float64) orb.Point { return orb.Point{-y, x} },
		"north": func(x, y float64) orb.Point { return orb.Point{-x, -y} },
		"west":  func(x, y float64) orb.Point { return orb.Point{y, -x} },
		"slant": func(x, y float64) orb.Point { return orb.Point{0.6*x - 0.8*y, 0.8*x + 0.6*y} },
		"other": func(x, y float64) orb.Point { return orb.Point{-0.6*x - 0.8*y, 0.8*x - 0.6*y} },
	} {
		at := func(x, y float64) roof.Position {
			p := to(x, y)
			return shape.At(p[0], p[1], 0.02*y)
		}
		on := surface.NewLocator(shape.Build(t, shape.New("field", at(0, 0), at(20, 0), at(20, 10), at(0, 10))).Cut)
		for _, ends := range [][2]float64{{4, 12}, {12, 4}} {
			change := Change{Kind: Cricket, Base: [2]orb.Point{to(ends[0], 0), to(ends[1], 0)}, Valley: 0.0001}
			b, err := change.plan(on)
			if err != nil || len(b.Tips) != 1 {
				t.Errorf("%s, from %g: %v, %+v", name, ends[0], err, b)
				continue
			}
			if p, q := b.Tips[0], to(8, b.Off()); !(math.Hypot(p[0]-q[0], p[1]-q[1]) <= 1e-9) {
				t.Errorf("%s, from %g: its tip stands at %v, want %v", name, ends[0], p, q)
			}
		}
	}
}
