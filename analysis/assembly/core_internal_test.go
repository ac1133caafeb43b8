package assembly

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
)

// By hand: a core that went down into a flute of 1.5 in reads too thick by anything from nothing to that: 0.75 in comes off, and the spread of an even distribution, 1.5 in / root 12, goes into the error beside that of a hand cut, 1/8 in. Where nobody said whether a deck with flutes was
// reached at a rib or a flute it may be either.
func TestCoreInAFlute(t *testing.T) {
	const inch = 0.0254
	for i, c := range []struct {
		read         roof.Core
		thick, sigma float64
		maybe        bool
	}{
		{roof.Core{Cutter: "hand", Reached: "flute", Deck: "steel"}, 4 * inch, math.Hypot(0.125, 1.5/math.Sqrt(12)) * inch, false},
		{roof.Core{Cutter: "tube", Reached: "flute", Deck: "steel"}, 4 * inch, math.Hypot(0.25, 1.5/math.Sqrt(12)) * inch, false},
		{roof.Core{Cutter: "hand", Reached: "rib", Deck: "steel"}, 4.75 * inch, 0.125 * inch, false},
		{roof.Core{Cutter: "hand", Deck: "steel"}, 4.75 * inch, 0.125 * inch, true},
		{roof.Core{Cutter: "hand"}, 4.75 * inch, 0.125 * inch, true},
		{roof.Core{Cutter: "hand", Deck: "concrete"}, 4.75 * inch, 0.125 * inch, false},
		{roof.Core{}, 4.75 * inch, 0.25 * inch, true},
	} {
		core := Core{Thickness: 4.75 * inch, HasThickness: true}
		core.cut(&c.read)
		if !(math.Abs(core.Thickness-c.thick) <= 1e-12) || !(math.Abs(core.Sigma-c.sigma) <= 1e-12) || core.mayBeFlute != c.maybe {
			t.Errorf("%d: %g thick give or take %g, maybe in a flute %t; want %g, %g, %t", i, core.Thickness, core.Sigma, core.mayBeFlute, c.thick, c.sigma, c.maybe)
		}
	}
	thin := Core{Thickness: 0.5 * inch, HasThickness: true}
	if thin.cut(&roof.Core{Cutter: "hand", Reached: "flute"}); thin.Thickness != 0 {
		t.Errorf("a core thinner than half a flute is %g thick", thin.Thickness)
	}
}

// What keeps cores from showing a fall is said by why: fewer than three, or three and more that lie on one line.
func TestWhatKeepsCoresFromAFall(t *testing.T) {
	cores := make([]Core, 4)
	for n, want := range map[int]string{2: "Three cores that are not on one line are the least", 3: "The cores lie on one line", 4: "The cores lie on one line"} {
		g := &Region{Cores: []int{0, 1, 2, 3}[:n]}
		said := g.doubts(cores)
		if len(said) != 1 || !strings.HasPrefix(said[0].Format, want) {
			t.Errorf("%d cores: %v", n, said)
		}
	}
	g := &Region{Cores: []int{0, 1, 2}, Used: []int{0, 1, 2}, fitted: true, Kind: OnPlane}
	if said := g.doubts(cores); len(said) != 1 || !strings.HasPrefix(said[0].Format, "Three cores leave nothing") {
		t.Errorf("three that fit: %v", said)
	}
}

// By hand: a level walled roof 1 m high with two dips of 30 and 20 mm between spots 1 m apart, of which one or both are listed. A place is in the water of the dip that it lies in where it is lower than the water's level, and in none elsewhere.
func TestWhichWaterCoversAPlace(t *testing.T) {
	r := shape.New("dips", shape.At(0, 0, 1), shape.At(12, 0, 1), shape.At(12, 6, 1), shape.At(0, 6, 1))
	shape.Grid(r, 0, 0, 12, 6, 12, 6, func(x, y float64) float64 {
		switch {
		case x == 3 && y == 3:
			return 0.97
		case x == 9 && y == 3:
			return 0.98
		case x == 6:
			return 0.99 + 0.02 // a ridge between
		}
		return 1
	})
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(12, 0))
	s := shape.Build(t, r)
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	west, east := int32(-1), int32(-1)
	for i := range ps.Ponds {
		switch x := s.Cut.X[ps.Ponds[i].Pits[0]]; {
		case ps.Ponds[i].Depth < 0.005:
		case x < 6:
			west = int32(i)
		default:
			east = int32(i)
		}
	}
	if west < 0 || east < 0 {
		t.Fatalf("ponds %+v", ps.Ponds)
	}
	for _, c := range []struct {
		listed     []int32
		west, east int
	}{{[]int32{west, east}, 0, 1}, {[]int32{east, west}, 1, 0}, {[]int32{east}, -1, 0}, {nil, -1, -1}} {
		f := newFinder(&Input{Roof: r, Surface: s, Ponds: ps, Listed: c.listed})
		f.ponds(&Result{})
		for at, want := range map[[2]float64]int{{3, 3}: c.west, {3.3, 3.1}: c.west, {2.8, 2.6}: c.west, {9, 3}: c.east, {9.2, 3.3}: c.east, {6, 3}: -1, {1.5, 4.5}: -1, {6, 9}: -1} {
			if got := f.pondAt(at); got != want {
				t.Errorf("listed %v: %v lies in %d, want %d", c.listed, at, got, want)
			}
		}
		for _, q := range f.candidates(&Result{}, &Region{Kind: OnRoof}) { // cores that tell about the roof are cut beside all water
			if in := f.pondAt(q); in >= 0 {
				t.Errorf("listed %v: a core at %v, in water %d", c.listed, q, in)
			}
		}
	}
}
