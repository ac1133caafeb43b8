package taper

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/taper/domain"
)

func about(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %g, want %g within %g", what, got, want, tolerance)
	}
}

// filled is a course whose boards lie over triangles, with what is filled under them at each corner.
func filled(at []orb.Point, triangles []int32, lift ...float64) *Courses {
	t := &surface.TIN{V: triangles, Z: make([]float64, len(at))}
	t.X, t.Y = coordinates(at)
	l := &Laying{at: at, base: Base{TIN: t, Z: t.Z}}
	l.base.over = newOverlay(&l.base)
	return &Courses{l: l, lift: lift}
}

// TestLowPlaceOfOneTriangle, by hand: under a right triangle with legs of 4 and 2 m a corner is filled by 0.08 m and the others by nothing. 4 m2 are levelled with 4 * 0.08/3 m3. What is filled deeper than h lies beyond the share h/0.08 of both legs: (1 - h/0.08)^2 of the area.
//
// With steps of 0.02 m and boards of 0.5 m2 that is 2.25, 1 and 0.25 m2 at one, two and three steps: a board of one step on 1.25 m2 and of two steps on 1 m2; the third would take a board on half of its area only, which is enough; at four steps there is none.
func TestLowPlaceOfOneTriangle(t *testing.T) {
	at := []orb.Point{{0, 0}, {4, 0}, {0, 2}}
	for first := range int32(3) { // whichever corner a triangle begins at
		c := filled(at, []int32{first, (first + 1) % 3, (first + 2) % 3}, 0.08, 0, 0)
		for h, want := range map[float64]float64{0: 4, 0.02: 2.25, 0.04: 1, 0.06: 0.25, 0.08: 0, 0.09: 0} {
			about(t, "deeper", c.deeper(h), want, 1e-12)
		}
		n := c.Leveller()
		about(t, "area", n.Area, 4, 1e-12)
		about(t, "volume", n.Volume, 4*0.08/3, 1e-12)
		about(t, "poured", n.Poured, n.Volume, 0)
		about(t, "deepest", n.Deepest, 0.08, 0)
		if n.At != at[0] || len(n.Bands) != 0 {
			t.Errorf("%+v", n)
		}
		for _, s := range []struct {
			board  float64
			bands  []Band
			poured float64 // without the steps' areas, each a step thick
		}{
			{0.5, []Band{{Thickness: 0.02, Area: 1.25}, {Thickness: 0.04, Area: 0.75}, {Thickness: 0.06, Area: 0.25}}, 4*0.08/3 - 0.02*3.5},
			{0.6, []Band{{Thickness: 0.02, Area: 1.25}, {Thickness: 0.04, Area: 1}}, 4*0.08/3 - 0.02*3.25},
			{2.5, []Band{{Thickness: 0.02, Area: 2.25}}, 4*0.08/3 - 0.02*2.25},
			{4.6, nil, 4 * 0.08 / 3},
		} {
			c.Step, c.Board = 0.02, s.board
			n := c.levelled()
			about(t, "poured over steps", n.Poured, s.poured, 1e-12)
			if len(n.Bands) != len(s.bands) {
				t.Fatalf("boards of %g m2: %+v", s.board, n.Bands)
			}
			for i, b := range n.Bands {
				about(t, "thickness of a band", b.Thickness, s.bands[i].Thickness, 1e-12)
				about(t, "area of a band", b.Area, s.bands[i].Area, 1e-9)
				// its edge runs from leg to leg, the share 1 - thickness/0.08 along both
				k := 1 - b.Thickness/0.08
				if len(b.Edges) != 1 || len(b.Edges[0]) != 2 {
					t.Fatalf("edges %v", b.Edges)
				}
				for _, end := range []orb.Point{{4 * k, 0}, {0, 2 * k}} {
					if !slices.ContainsFunc(b.Edges[0], func(p orb.Point) bool { return vector.Length(vector.Minus(p, end)) < 1e-9 }) {
						t.Errorf("edges %v, want an end at %v", b.Edges, end)
					}
				}
			}
		}
		c.Step = 0
	}
	// Where all is filled by one step, the whole lies a step deep, and no edge runs through it; what is filled by nothing has no step.
	c := filled(at, []int32{0, 1, 2}, 0.02, 0.02, 0.02)
	c.Step, c.Board = 0.02, 0.5
	if n := c.levelled(); len(n.Bands) != 1 || !(math.Abs(n.Bands[0].Area-4) <= 1e-12) || len(n.Bands[0].Edges) != 0 || n.Poured > 1e-12 {
		t.Errorf("a level fill: %+v", n)
	}
	c.lift = []float64{0, 0, 0}
	if n := c.levelled(); n.Area != 0 || n.Volume != 0 || len(n.Bands) != 0 || len(n.Places) != 0 || n.Poured != 0 {
		t.Errorf("no fill: %+v", n)
	}
}

// TestPlacesThatAreLevelled: on a strip of squares of 1 m, cut into triangles, a corner at the near end is filled by 10 mm and one at the far end by 30 mm: two places, the deeper one first, each the triangles round its corner. One in a ring round a square that stays is one place with a hole.
func TestPlacesThatAreLevelled(t *testing.T) {
	grid := func(nx, ny int) (at []orb.Point, v []int32) {
		for j := range ny + 1 {
			for i := range nx + 1 {
				at = append(at, orb.Point{float64(i), float64(j)})
			}
		}
		for j := range ny {
			for i := range nx {
				a := int32(i + j*(nx+1))
				b, c, d := a+1, a+int32(nx)+2, a+int32(nx)+1
				v = append(v, a, b, c, a, c, d)
			}
		}
		return at, v
	}
	at, v := grid(6, 1)
	lift := make([]float64, len(at))
	lift[0], lift[13] = 0.01, 0.03 // (0, 0), in two triangles; (6, 1), in two
	places := filled(at, v, lift...).places()
	if len(places) != 2 {
		t.Fatalf("%+v", places)
	}
	for i, want := range []struct {
		deep, area, volume float64
		at                 orb.Point
		ring               []orb.Point
	}{
		{0.03, 1, 0.03 / 3, orb.Point{6, 1}, []orb.Point{{5, 0}, {6, 0}, {6, 1}, {5, 1}}},
		{0.01, 1, 0.01 / 3, orb.Point{0, 0}, []orb.Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}},
	} {
		p := places[i]
		about(t, "deepest", p.Deepest, want.deep, 0)
		about(t, "area", p.Area, want.area, 1e-12)
		about(t, "volume", p.Volume, want.volume, 1e-12)
		if p.At != want.at || len(p.Outline) != 1 || len(p.Outline[0]) != 5 || p.Outline[0].Orientation() != orb.CCW {
			t.Errorf("%+v", p)
			continue
		}
		for _, c := range want.ring {
			if !slices.Contains(p.Outline[0], c) {
				t.Errorf("outline %v lacks %v", p.Outline[0], c)
			}
		}
	}
	at, v = grid(7, 7)
	lift = make([]float64, len(at))
	for k, p := range at {
		if p[0] >= 1 && p[0] <= 6 && p[1] >= 1 && p[1] <= 6 && (p[0] == 1 || p[0] == 6 || p[1] == 1 || p[1] == 6) {
			lift[k] = 0.02
		}
	}
	places = filled(at, v, lift...).places()
	if len(places) != 1 || len(places[0].Outline) != 2 {
		t.Fatalf("%+v", places)
	}
	sum := 0.0
	for i, ring := range places[0].Outline {
		if want := map[int]orb.Orientation{0: orb.CCW, 1: orb.CW}[i]; ring.Orientation() != want || ring[0] != ring[len(ring)-1] {
			t.Errorf("ring %d: %v", i, ring)
		}
		sum += vector.Area(domain.Polygon(ring[:len(ring)-1]))
	}
	about(t, "what the rings enclose", sum, places[0].Area, 1e-9)
	about(t, "area", places[0].Area, 49-9-2*0.5, 1e-9) // of all squares, without the nine in the middle and the two corner triangles that no filled corner has
}

// TestFlatUnderADepth: of bands of 20 and 40 mm a depth of 39 mm holds the first, one of 40 mm the second, 10 mm none.
func TestFlatUnderADepth(t *testing.T) {
	n := &Leveller{Bands: []Band{{Thickness: 0.02}, {Thickness: 0.04}}}
	for depth, want := range map[float64]float64{0: 0, 0.0199: 0, 0.02: 0.02, 0.039: 0.02, 0.04: 0.04, 0.04 - 5e-10: 0.04, 1: 0.04} {
		about(t, "flat", n.flat(depth), want, 0)
	}
}

// TestLevellersTogether: what fills low places under two courses adds up; the deepest is the deeper one's, and so is what is left as it is.
func TestLevellersTogether(t *testing.T) {
	at := []orb.Point{{0, 0}, {4, 0}, {0, 2}}
	one, two := filled(at, []int32{0, 1, 2}, 0.08, 0, 0), filled(at, []int32{0, 1, 2}, 0, 0.05, 0)
	one.Within, two.Within = 0.002, 0.003
	for _, order := range [][]*Courses{{one, two}, {two, one}} {
		var n Leveller
		for _, c := range order {
			n.add(c)
		}
		about(t, "volume", n.Volume, 4*0.13/3, 1e-12)
		about(t, "poured", n.Poured, 4*0.13/3, 1e-12)
		about(t, "area", n.Area, 8, 1e-12)
		about(t, "deepest", n.Deepest, 0.08, 0)
		about(t, "within", n.Within, 0.003, 0)
		if n.At != at[0] || len(n.Places) != 2 {
			t.Errorf("%+v", n)
		}
	}
}

// roofOf is a design of planes over parts of a roof, one facet each, as the planes of an envelope.
func roofOf(parts []domain.Polygon, planes []plane) *Design {
	d := &Design{planes: planes}
	for i, p := range parts {
		c := newCell(p, i)
		d.cells = append(d.cells, c)
		d.facet = append(d.facet, int32(i))
		d.Facets = append(d.Facets, Facet{Plan: domain.Middle(p), Area: vector.Area(p)})
	}
	d.find = newFinder(d.cells)
	return d
}

func square(x, y, w, h float64) domain.Polygon {
	return domain.Polygon{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// TestFoldBesideBoards, by hand: between two parts that meet along x = 4 a line is a valley where the roof rises to both sides of it by more than 1 in 10000, a ridge where it falls to both, a grade break where it goes on, and at the roof's border.
func TestFoldBesideBoards(t *testing.T) {
	for _, c := range []struct {
		left, right float64 // how much the roof rises away from the line on its left and right
		want        roof.BreaklineType
	}{
		{0.02, 0.01, roof.Valley},
		{-0.02, -0.01, roof.Ridge},
		{0.02, -0.02, roof.GradeBreak},
		{-0.02, 0.02, roof.GradeBreak},
		{0.02, 0, roof.GradeBreak},
		{0, -0.02, roof.GradeBreak},
		{1.1e-4, 1.1e-4, roof.Valley},
		{0.9e-4, 1.1e-4, roof.GradeBreak},
		{1.1e-4, 0.9e-4, roof.GradeBreak},
		{-1.1e-4, -1.1e-4, roof.Ridge},
		{-0.9e-4, -1.1e-4, roof.GradeBreak},
		{-1.1e-4, -0.9e-4, roof.GradeBreak},
	} {
		d := roofOf([]domain.Polygon{square(0, 0, 4, 6), square(4, 0, 4, 6)}, []plane{{c: 1 + 4*c.left, g: orb.Point{-c.left, 0}}, {c: 1 - 4*c.right, g: orb.Point{c.right, 0}}})
		d.Vertices = []Vertex{{Plan: orb.Point{4, 0}}, {Plan: orb.Point{4, 6}}, {Plan: orb.Point{0, 0}}, {Plan: orb.Point{0, 6}}}
		for _, l := range []Line{{A: 0, B: 1, Kind: roof.Hip}, {A: 1, B: 0, Kind: roof.Hip}} {
			if d.crossing(&l); l.Kind != c.want {
				t.Errorf("%+v: %s", c, l.Kind)
			}
		}
		l := Line{A: 2, B: 3, Kind: roof.Hip}
		if d.crossing(&l); l.Kind != roof.GradeBreak {
			t.Errorf("at the border: %s", l.Kind)
		}
	}
}

// TestMeanPlaneOfASection: over 8 m2 a section rises by 2 % to the east and over 24 m2 by 1 % to the north: by (0.5, 0.75) % in the mean. What is no section keeps its slope.
func TestMeanPlaneOfASection(t *testing.T) {
	parts := []domain.Polygon{square(0, 0, 4, 2), square(4, 0, 4, 6), square(0, 2, 4, 4)}
	d := roofOf(parts, []plane{{g: orb.Point{0.02, 0}}, {c: 0.08, g: orb.Point{0, 0.01}}, {g: orb.Point{0.5, 0.5}}})
	d.facet = []int32{0, 0, 1}
	d.Facets = []Facet{{Plan: orb.Point{6, 3}, stock: true}, {DX: 7, DY: 8, Z: 9}}
	d.average()
	about(t, "east", d.Facets[0].DX, (8*0.02)/32, 1e-12)
	about(t, "north", d.Facets[0].DY, (24*0.01)/32, 1e-12)
	about(t, "elevation", d.Facets[0].Z, 0.08+0.03, 1e-12)
	if f := d.Facets[1]; f.DX != 7 || f.DY != 8 || f.Z != 9 {
		t.Errorf("what is no section: %+v", f)
	}
}

// TestHeightOfADesign: a plane's height on it and within a millimetre of it, none beyond; where parts touch in a point, the higher.
func TestHeightOfADesign(t *testing.T) {
	d := roofOf([]domain.Polygon{square(0, 0, 4, 4), square(4, 4, 4, 4)}, []plane{{c: 1, g: orb.Point{0.02, 0}}, {c: 2}})
	for _, c := range []struct {
		at    orb.Point
		z     float64
		ok    bool
		facet int
	}{
		{orb.Point{2, 2}, 1.04, true, 0},
		{orb.Point{6, 6}, 2, true, 1},
		{orb.Point{4, 4}, 2, true, -2},
		{orb.Point{3.999, 2}, 1.07998, true, 0},
		{orb.Point{2, 6}, 0, false, -1},
		{orb.Point{-0.9e-3, 2}, 1 - 1.8e-5, true, 0},
		{orb.Point{-1.1e-3, 2}, 0, false, -1},
		{orb.Point{99, 2}, 0, false, -1},
	} {
		z, ok := d.Height(c.at)
		about(t, "height", z, c.z, 1e-12)
		if f := d.FacetAt(c.at); ok != c.ok || c.facet != -2 && f != c.facet {
			t.Errorf("%v: %t, facet %d", c.at, ok, f)
		}
	}
}

// TestLinesWhereNewMeetsOld: a new square in the middle of an old roof is bounded by one closed line, without the point in the middle of its east side; a new strip along the roof's border by one open line.
func TestLinesWhereNewMeetsOld(t *testing.T) {
	d := &Design{Facets: []Facet{{Existing: true}, {}, {}}}
	for _, p := range []orb.Point{{2, 2}, {4, 2}, {4, 3}, {4, 4}, {2, 4}, {0, 7}, {3, 7}, {9, 7}} {
		d.Vertices = append(d.Vertices, Vertex{Plan: p})
	}
	side := func(a, b int, old, other int) Line { return Line{A: a, B: b, Left: other, Right: old} }
	turned := func(l Line) Line { return Line{A: l.B, B: l.A, Left: l.Right, Right: l.Left} }
	d.Lines = []Line{
		side(3, 4, 0, 1), turned(side(0, 1, 0, 1)), side(1, 2, 0, 1), side(4, 0, 0, 1), turned(side(2, 3, 0, 1)), // round the square
		side(6, 5, 0, 2), turned(side(7, 6, 0, 2)), // along the strip
		side(0, 3, 1, 1), side(0, 5, 0, 0), // within new and within old
	}
	lines := d.CutLines()
	if len(lines) != 2 {
		t.Fatalf("%v", lines)
	}
	if want := (orb.LineString{{9, 7}, {0, 7}}); !slices.Equal(lines[0], want) {
		t.Errorf("the open line: %v, want %v", lines[0], want)
	}
	if l := lines[1]; len(l) != 5 || l[0] != l[4] {
		t.Fatalf("the closed line: %v", l)
	}
	about(t, "what it encloses, new on its left", vector.Area(domain.Polygon(lines[1][:4])), 4, 1e-12)
	for _, c := range []struct{ line, want orb.LineString }{
		{orb.LineString{{0, 0}, {1, 0}}, orb.LineString{{0, 0}, {1, 0}}},
		{orb.LineString{{0, 0}, {1, 0}, {2, 0}}, orb.LineString{{0, 0}, {2, 0}}},
		{orb.LineString{{0, 0}, {1, 2e-4}, {2, 0}}, orb.LineString{{0, 0}, {1, 2e-4}, {2, 0}}},
		{orb.LineString{{0, 0}, {1, 0.5e-4}, {2, 0}}, orb.LineString{{0, 0}, {2, 0}}},
		{orb.LineString{{1, 0}, {2, 0}, {2, 2}, {0, 2}, {0, 0}, {1, 0}}, orb.LineString{{2, 0}, {2, 2}, {0, 2}, {0, 0}, {2, 0}}},
	} {
		if got := thinned(c.line); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.line, got, c.want)
		}
	}
}

// TestCornersWrittenAsOne: of new corners nearer to each other than 30 mm the first stands for both; corners of what stays are left alone.
func TestCornersWrittenAsOne(t *testing.T) {
	d := &Design{fresh: []bool{true, true, true, false, true, true}}
	for _, p := range []orb.Point{{0, 0}, {0.029, 0}, {0.031, 0}, {0.001, 0}, {0.058, 0}, {5, 5}} {
		d.Vertices = append(d.Vertices, Vertex{Plan: p, Z: p[0]})
	}
	one := d.merged()
	if want := []int{0, 0, 2, 3, 2, 5}; !slices.Equal(one, want) {
		t.Errorf("%v, want %v", one, want)
	}
	r := &roof.Roof{}
	spots := d.corners(one, r)
	var ids []string
	for _, s := range spots {
		ids = append(ids, s.ID)
		if s.Origin.File != "design" || s.Origin.ID != s.ID || !s.HasZ || s.Z != s.Plan[0] {
			t.Errorf("%+v", s)
		}
	}
	if want := []string{"T1", "T3", "T6"}; !slices.Equal(ids, want) || spots[2].Origin.Line != 6 {
		t.Errorf("%v, want %v", ids, want)
	}
	// Of stock boards the ends of lines are told by these.
	d.stock = &stock{whole: true}
	d.Lines = []Line{{A: 1, B: 5}}
	if spots := d.corners(one, r); len(spots) != 1 || spots[0].ID != "T3" {
		t.Errorf("of stock boards: %+v", spots)
	}
	// Where one ends on a wall or a curb, whose own corners say nothing of its height there, it is told.
	wall := []roof.Position{{Plan: orb.Point{5 - 1.9e-4, 0}}, {Plan: orb.Point{5 - 1.9e-4, 9}}}
	beside := []roof.Position{{Plan: orb.Point{5 - 2.1e-4, 0}}, {Plan: orb.Point{5 - 2.1e-4, 9}}, {Plan: orb.Point{0, 9}}}
	for name, c := range map[string]struct {
		r    roof.Roof
		want int
	}{
		"on a wall": {roof.Roof{Outline: roof.Outline{Rings: [][]roof.Position{beside, wall}}}, 2}, "on a curb": {roof.Roof{Curbs: []roof.Curb{{Ring: beside}, {Ring: wall}}}, 2},
		"beside both": {roof.Roof{Outline: roof.Outline{Rings: [][]roof.Position{beside}}, Curbs: []roof.Curb{{Ring: beside}}}, 1},
	} {
		if spots := d.corners(one, &c.r); len(spots) != c.want || spots[len(spots)-1].ID != map[int]string{1: "T3", 2: "T6"}[c.want] {
			t.Errorf("%s: %+v", name, spots)
		}
	}
}

// TestSpotsThatNobodyMeasured: a vertex of the survey that nobody measured is a spot of the design where the surface stays, but not beside a new fold, nor off the design; assumed only if it was and stays.
func TestSpotsThatNobodyMeasured(t *testing.T) {
	d := roofOf([]domain.Polygon{square(0, 0, 4, 4), square(4, 0, 4, 4)}, []plane{{c: 1}, {c: 2}})
	d.Facets[0].Existing = true
	d.Facets[1].Area = 16
	d.Vertices = []Vertex{{Plan: orb.Point{4, 0}}, {Plan: orb.Point{4, 4}}}
	d.fresh = []bool{true, true}
	d.Lines = []Line{{A: 0, B: 1, Left: 0, Right: 1, Length: 4}}
	tin := &surface.TIN{
		X: []float64{1, 2, 3.98, 6, 3, 9, 0.5}, Y: []float64{1, 1, 2, 2, 3, 9, 3}, Z: []float64{1, 1.5, 1, 1, 1, 1, 1},
		Spot: []int32{-1, -1, -1, -1, 0, -1, -1}, Assumed: []bool{true, true, true, true, true, true, false},
	}
	spots := d.inferred(tin)
	if len(spots) != 3 {
		t.Fatalf("%+v", spots)
	}
	for i, want := range []struct {
		id      string
		line    int
		assumed bool
	}{{"N1", 1, true}, {"N2", 2, false}, {"N7", 7, false}} { // the design stands at 1 m: vertex 2 does not stay
		s := spots[i]
		if s.ID != want.id || s.Origin.Line != want.line || s.Origin.ID != want.id || s.Assumed != want.assumed || s.Z != 1 || !s.HasZ {
			t.Errorf("%+v, want %+v", s, want)
		}
	}
}

// TestBesideNewLines: a place counts as beside a new line up to 30 mm off it, between its ends, and as beside a new corner in a square of 60 mm.
func TestBesideNewLines(t *testing.T) {
	d := &Design{Facets: []Facet{{Existing: true}, {}}, fresh: []bool{false, false, true}}
	for _, p := range []orb.Point{{1, 1}, {7, 9}, {-3, 4}} {
		d.Vertices = append(d.Vertices, Vertex{Plan: p})
	}
	d.Lines = []Line{{A: 0, B: 1, Left: 0, Right: 1}, {A: 0, B: 2, Left: 0, Right: 0}}
	n := newBeside(d)
	u, v := orb.Point{0.6, 0.8}, orb.Point{-0.8, 0.6}
	at := func(along, off float64) orb.Point {
		return orb.Point{1 + along*u[0] + off*v[0], 1 + along*u[1] + off*v[1]}
	}
	for along := 0.05; along < 10; along += 0.35 {
		for _, off := range []float64{-0.031, -0.029, 0, 0.029, 0.031} {
			if got := n.holds(at(along, off)); got != (math.Abs(off) < 0.03) {
				t.Errorf("%g along and %g off: %t", along, off, got)
			}
		}
	}
	for p, want := range map[orb.Point]bool{at(-0.01, 0): false, at(10.01, 0): false, at(0.01, 0): true, at(9.99, 0): true, {-3, 4}: true, {-3.029, 4.029}: true, {-3.031, 4}: false, {-3, 3.969}: false, {-2.971, 3.971}: true, {-1, 2.5}: false} {
		if n.holds(p) != want {
			t.Errorf("%v: %t", p, !want)
		}
	}
}

// TestWhereALineMeetsNewLines: shares of the way from (0, 0) to (8, 0) at which new lines cross it, in order; what ends before it, runs along it, or bounds no new plane does not count.
func TestWhereALineMeetsNewLines(t *testing.T) {
	d := &Design{Facets: []Facet{{Existing: true}, {}}}
	add := func(a, b orb.Point, left, right int) {
		d.Vertices = append(d.Vertices, Vertex{Plan: a}, Vertex{Plan: b})
		d.Lines = append(d.Lines, Line{A: len(d.Vertices) - 2, B: len(d.Vertices) - 1, Left: left, Right: right})
	}
	add(orb.Point{6, -1}, orb.Point{6, 1}, 0, 1)
	add(orb.Point{1, -1}, orb.Point{3, 3}, 1, 0) // at x = 1.5
	add(orb.Point{4, 1}, orb.Point{4, 3}, 0, 1)  // before it
	add(orb.Point{5, -2}, orb.Point{5, -1}, 0, 1)
	add(orb.Point{7, -1}, orb.Point{7, 1}, 0, 0) // within what stays
	add(orb.Point{9, -1}, orb.Point{9, 1}, 0, 1) // beyond its end
	add(orb.Point{-1, 1}, orb.Point{-1, -1}, 0, 1)
	add(orb.Point{2, 0}, orb.Point{3, 0}, 0, 1) // along it
	add(orb.Point{0, -1}, orb.Point{0, 1}, 0, 1)
	if got := d.cuts(orb.Point{0, 0}, orb.Point{8, 0}); len(got) != 4 || got[0] != 0 || !(math.Abs(got[1]-1.5/8) <= 1e-12) || !(math.Abs(got[2]-0.75) <= 1e-12) || got[3] != 1 {
		t.Errorf("%v", got)
	}
	if got := d.cuts(orb.Point{8, 0}, orb.Point{0, 0}); len(got) != 4 || !(math.Abs(got[1]-0.25) <= 1e-12) || !(math.Abs(got[2]-6.5/8) <= 1e-12) {
		t.Errorf("back: %v", got)
	}
}

// TestStopsOnALine: a line gets a point wherever a vertex stands on it, but not within 30 mm of one that it has; its own points go where the survey moved them, to the nearest vertex within 30 mm.
func TestStopsOnALine(t *testing.T) {
	tin := &surface.TIN{X: []float64{0.02, 3, 5, 5, 9.975, 10, 7, 0.01}, Y: []float64{0, 0, 0, 0.5, 0, 0.02, 0.5e-4, 0.01}}
	s := newStops(tin)
	got := s.through([]roof.Position{{Plan: orb.Point{0, 0}}, {Plan: orb.Point{10, 0}}})
	want := []orb.Point{{0.01, 0.01}, {10, 0.02}}
	if len(got) < 2 || got[0].Plan != want[0] || got[len(got)-1].Plan != want[1] {
		t.Fatalf("%v", got)
	}
	s = newStops(&surface.TIN{X: []float64{0, 3, 5, 5, 9.975, 10, 7, 0.02}, Y: []float64{0, 0, 0, 0.5, 0, 0, 0.5e-4, 0}})
	var at []float64
	for _, p := range s.through([]roof.Position{{Plan: orb.Point{0, 0}}, {Plan: orb.Point{10, 0}}}) {
		at = append(at, p.Plan[0])
	}
	if len(at) != 5 || !(math.Abs(at[1]-3) <= 1e-9) || !(math.Abs(at[2]-5) <= 1e-9) || !(math.Abs(at[3]-7) <= 1e-6) || at[4] != 10 {
		t.Errorf("points at %v, want 0, 3, 5, 7 and 10", at)
	}
	for p, want := range map[orb.Point]orb.Point{{3.02, 0}: {3, 0}, {3.031, 0}: {3.031, 0}, {5, 0.48}: {5, 0.5}, {2.98, 0.01}: {3, 0}, {9.986, 0}: {9.975, 0}, {9.99, 0}: {10, 0}} {
		if got := s.settled(p); got != want {
			t.Errorf("%v: %v, want %v", p, got, want)
		}
	}
	if got := s.through(nil); len(got) != 0 {
		t.Errorf("of no line %v", got)
	}
}

// TestPointsOnAStraightLine: those of bins are those that looking at every point finds.
func TestPointsOnAStraightLine(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 12))
	found := 0
	for range 300 {
		var at []orb.Point
		for range 60 {
			at = append(at, orb.Point{float64(rnd.IntN(12)) * 0.5, float64(rnd.IntN(9)) * 0.5})
		}
		b := newBins(at)
		i, j := int32(rnd.IntN(60)), int32(rnd.IntN(60))
		if at[i] == at[j] {
			continue
		}
		atEnd := func(s stop) bool { return at[s.v] == at[i] || at[s.v] == at[j] }
		got := slices.DeleteFunc(b.between(at, i, j, nil), atEnd)
		var want []stop
		d := vector.Minus(at[j], at[i])
		for v, p := range at {
			u := vector.Minus(p, at[i])
			if k := vector.Dot(u, d) / vector.Dot(d, d); k > 0 && k < 1 && math.Abs(vector.Cross(d, u)) <= 1e-9 {
				want = append(want, stop{int32(v), k})
			}
		}
		want = slices.DeleteFunc(want, atEnd)
		if len(got) != len(want) {
			t.Fatalf("%v, want %v", got, want)
		}
		for k := range want {
			if !slices.ContainsFunc(got, func(s stop) bool { return s.v == want[k].v && math.Abs(s.t-want[k].t) <= 1e-12 }) {
				t.Fatalf("%v lacks %v", got, want[k])
			}
		}
		for k := 1; k < len(got); k++ {
			if got[k].t < got[k-1].t {
				t.Fatalf("out of order: %v", got)
			}
		}
		found += len(got)
	}
	if found < 100 {
		t.Errorf("only %d points on lines", found)
	}
	// Within a tenth of a millimetre a point stands on a line.
	at := []orb.Point{{0, 0}, {8, 6}, {4 - 0.6*0.9e-4, 3 + 0.8*0.9e-4}, {2 - 0.6*1.1e-4, 1.5 + 0.8*1.1e-4}}
	if got := newBins(at).between(at, 0, 1, nil); len(got) != 1 || got[0].v != 2 {
		t.Errorf("%v", got)
	}
}

// TestCornersThatAreOne: corners of cells within a tenth of a millimetre of one another are one, in whatever square of the grid they fall; cells that share a side are each other's neighbours along it, also where a corner of a third stands on it.
func TestCornersThatAreOne(t *testing.T) {
	cells := []cell{newCell(square(0, 0, 4, 4), 0), newCell(square(4.00005, 0, 4, 2), 0), newCell(square(4, 2.00005, 4, 2), 0), newCell(square(4.0003, 5, 1, 1), 0)}
	w := weld(cells)
	if len(w.at) != 8+4 { // (0,0) (4,0) (4,4) (0,4) and (8,0) (8,2) (4,2) (8,4), and the four of what stands apart
		t.Errorf("corners %v", w.at)
	}
	neighbours := map[[2]int32]int{}
	for i, e := range w.edges {
		if e.twin >= 0 {
			o := w.edges[e.twin]
			if o.twin != int32(i) || o.a != e.b || o.b != e.a {
				t.Errorf("%+v and %+v", e, o)
			}
			neighbours[[2]int32{e.cell, o.cell}]++
		}
	}
	want := map[[2]int32]int{{0, 1}: 1, {1, 0}: 1, {0, 2}: 1, {2, 0}: 1, {1, 2}: 1, {2, 1}: 1}
	if len(neighbours) != len(want) {
		t.Errorf("neighbours %v", neighbours)
	}
	for k, n := range want {
		if neighbours[k] != n {
			t.Errorf("%v: %d sides", k, neighbours[k])
		}
	}
	if got := holding(cells, orb.Point{6, 1}); len(got) != 3 {
		t.Errorf("%d cells hang together", len(got))
	}
	if got := holding(cells, orb.Point{4.5, 5.5}); len(got) != 1 || got[0].lo[1] != 5 {
		t.Errorf("%v stands apart", got)
	}
	if got := holding(cells, orb.Point{-5, 5}); got != nil {
		t.Errorf("%v off all cells", got)
	}
	if got := holding(nil, orb.Point{}); got != nil {
		t.Errorf("%v of none", got)
	}
}

// TestCellsThatRoundingLeaves: cells thinner than half a tenth of a millimetre in the mean go; all others must have a plane.
func TestCellsThatRoundingLeaves(t *testing.T) {
	for _, c := range []struct {
		cells []cell
		kept  int
		ok    bool
	}{
		{[]cell{newCell(square(0, 0, 4, 4), 0), newCell(square(4, 0, 0.4e-4, 3), -1)}, 1, true},
		{[]cell{newCell(square(0, 0, 4, 4), 0), newCell(square(4, 0, 0.6e-4, 3), -1)}, 0, false},
		{[]cell{newCell(square(0, 0, 4, 4), 0), newCell(square(4, 0, 3, 0.4e-4), 1)}, 1, true},
		{[]cell{newCell(square(0, 0, 4, 4), 0), newCell(square(4, 0, 0.6e-4, 3), 1)}, 2, true},
	} {
		e := &envelope{cells: slices.Clone(c.cells)}
		if ok := e.trim(); ok != c.ok || ok && len(e.cells) != c.kept {
			t.Errorf("%v: %t, %d kept", c.cells, ok, len(e.cells))
		}
	}
}

// TestVolumeOverAPolygon, by hand: over a rectangle of 4 by 2 m a plane that rises by 3 % along it stands 0.1 m over a level base at its near end: 8 * 0.16 m3; over a triangle the mean of the three corners counts. Loads likewise: 0.22 m of boards at the far end.
func TestVolumeOverAPolygon(t *testing.T) {
	base, up := plane{c: 5}, plane{c: 5.1, g: orb.Point{0.03, 0}}
	about(t, "a rectangle", between(&up, &base, square(0, 0, 4, 2)), 8*0.16, 1e-12)
	about(t, "upside down", between(&base, &up, square(0, 0, 4, 2)), -8*0.16, 1e-12)
	about(t, "a triangle", between(&up, &base, domain.Polygon{{0, 0}, {4, 0}, {4, 2}}), 4*(0.1+0.22+0.22)/3, 1e-12)
	about(t, "nothing", between(&up, &base, nil), 0, 0)

	g := gradient(domain.Polygon{{1, 1}, {5, 1}, {1, 3}}, []float64{9, 0.5, 0.62, 0.44}, []int32{1, 2, 3})
	about(t, "east", g[0], 0.03, 1e-12)
	about(t, "north", g[1], -0.03, 1e-12)
}

// TestPlacesOnALineOfBoards: a line beside boards follows the base wherever one of its vertices stands on it, but not within 30 mm of another or of its ends; where a corner of the design stands, that one is kept.
func TestPlacesOnALineOfBoards(t *testing.T) {
	d := &Design{Lines: []Line{{A: 0, B: 1}}}
	for _, p := range []orb.Point{{0, 0}, {10, 0}, {3.02, 0}, {5.01, 1}} {
		d.Vertices = append(d.Vertices, Vertex{Plan: p})
	}
	if got := d.between(0); got != nil {
		t.Errorf("between planes: %v", got)
	}
	d.stock = &stock{along: [][]int32{{0, 1, 2, 3, 4, 5, 6}}}
	for i, x := range []float64{0.02, 7, 3, 3.02, 5, 5.01, 9.98} {
		d.stock.at = append(d.stock.at, orb.Point{x, 0})
		d.stock.top = append(d.stock.top, float64(i))
	}
	for _, c := range []struct {
		line Line
		want [][2]float64 // x and height
	}{{Line{A: 0, B: 1}, [][2]float64{{3.02, 3}, {5, 4}, {7, 1}}}, {Line{A: 1, B: 0}, [][2]float64{{7, 1}, {5, 4}, {3.02, 3}}}} {
		d.Lines[0] = c.line
		got := d.between(0)
		if len(got) != len(c.want) {
			t.Fatalf("%v, want %v", got, c.want)
		}
		for i, p := range got {
			if p.Plan != (orb.Point{c.want[i][0], 0}) || p.Z != c.want[i][1] || !p.HasZ {
				t.Errorf("%d: %+v, want %v", i, p, c.want[i])
			}
		}
	}
	if !d.corner(orb.Point{3.02, 1.9e-4}) || d.corner(orb.Point{3.02, 2.1e-4}) {
		t.Error("a corner counts within two tenths of a millimetre")
	}
}

// TestHeaviestPart, by hand: boards of 100 Pa per metre of thickness and leveller of 1000. Over a base 0.2 m below the boards' start lie 0.1 m of boards at one end and 0.15 m at the other, and so much leveller that the surface is a plane 0.3 and 0.31 m above the base: 10 + 200 and 15 + 160 Pa. Of the leveller flat boards of 0.12 m are boards.
func TestHeaviestPart(t *testing.T) {
	tin := &surface.TIN{X: []float64{0, 4, 4, 0}, Y: []float64{0, 0, 2, 2}, Z: make([]float64, 4), V: []int32{0, 1, 2, 0, 2, 3}}
	base := Existing(tin)
	d := roofOf([]domain.Polygon{square(0, 0, 4, 2)}, []plane{{c: 0.3, g: orb.Point{0.0025, 0}}})
	d.over = newOverlay(&base)
	boards := plane{c: 0.1, g: orb.Point{0.0125, 0}}
	d.stock = &stock{boards: []*plane{&boards}}
	about(t, "with leveller", d.Heaviest(100, 1000), 210, 1e-9)
	about(t, "thickest board", d.Thickest(), 0.15, 1e-12)
	d.Leveller.Bands = []Band{{Thickness: 0.12}, {Thickness: 0.19}}
	about(t, "with flat boards", d.Heaviest(100, 1000), 15+12+40, 1e-9) // at the near end 0.01 m of leveller over 0.19 m: 10 + 19 + 10 Pa; at the far end 0.04 over 0.12
}
