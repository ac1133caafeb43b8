package board

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

const (
	foot = float64(quantity.Foot)
	inch = float64(quantity.Inch)
)

// inches returns thicknesses in inches, rounded to a thousandth, as a hand writes them.
func inches(layers []float64) []float64 {
	out := make([]float64, len(layers))
	for i, t := range layers {
		out[i] = math.Round(t/inch*1000) / 1000
	}
	return out
}

// four is the usual stock with boards of up to 4 in.
func four() Stock {
	s := Usual()
	s.Greatest = quantity.Length(4 * inch)
	return s
}

// feet returns a closed ring of places in feet.
func feet(places ...orb.Point) orb.Ring {
	ring := make(orb.Ring, 0, len(places)+1)
	for _, p := range append(places, places[0]) {
		ring = append(ring, orb.Point{p[0] * foot, p[1] * foot})
	}
	return ring
}

// box is a rectangle in feet, counter-clockwise.
func box(x0, y0, x1, y1 float64) orb.Ring {
	return feet(orb.Point{x0, y0}, orb.Point{x1, y0}, orb.Point{x1, y1}, orb.Point{x0, y1})
}

// TestLayersOfFill: boards up to 4 in thick in steps of 1/2 in. As few layers as can be, as even as the steps allow, the thickest first: 4-1/2 in are 2-1/2 and 2, 8-1/2 are 3, 3 and 2-1/2. What is less than a step is short, and the most that is short at one place counts.
func TestLayersOfFill(t *testing.T) {
	for _, c := range []struct {
		thick float64 // in
		want  []float64
		short float64 // in
	}{
		{0, nil, 0},
		{0.3, nil, 0.3},
		{0.5, []float64{0.5}, 0},
		{3.9, []float64{3.5}, 0.4},
		{4, []float64{4}, 0},
		{4.5, []float64{2.5, 2}, 0},
		{8, []float64{4, 4}, 0},
		{8.5, []float64{3, 3, 2.5}, 0},
		{9.1, []float64{3, 3, 3}, 0.1},
		{12.5, []float64{3.5, 3, 3, 3}, 0},
	} {
		l := &Layout{Stock: four()}
		if got := inches(l.layers(c.thick * inch)); !slices.Equal(got, c.want) || !(math.Abs(l.Short/inch-c.short) <= 1e-6) {
			t.Errorf("%g in: %v, short %g, want %v, short %g", c.thick, got, l.Short/inch, c.want, c.short)
		}
	}
	l := &Layout{Stock: four()}
	l.layers(3.9 * inch)
	l.layers(2.1 * inch)
	if !(math.Abs(l.Short/inch-0.4) <= 1e-6) {
		t.Errorf("short by 0.4 in, then by 0.1: %g", l.Short/inch)
	}
	// A step that does not divide the thickest board: of 3/8 in 4 in hold ten, 3-3/4 in; 4-1/2 in are twelve steps, two layers of six.
	l = &Layout{Stock: four()}
	l.Stock.FillStep = quantity.Length(0.375 * inch)
	if got := inches(l.layers(4.5 * inch)); !slices.Equal(got, []float64{2.25, 2.25}) {
		t.Errorf("in steps of 3/8 in: %v", got)
	}
}

// TestStackOfACourse: of 1/4 in per ft boards of 4 ft rise by 1 in, and from a thin edge of 1/2 in three stay within 4 in: 1/2, 1-1/2 and 2-1/2 in at their thin edges. Then the set lies on 3 in of fill. What the place is thicker than the thin edge from its start lies under all.
func TestStackOfACourse(t *testing.T) {
	for _, c := range []struct {
		thin float64 // of the course, in
		edge float64
		fill []float64
	}{
		{0.5, 0.5, nil},
		{1.5, 1.5, nil},
		{2.5, 2.5, nil},
		{3.5, 0.5, []float64{3}},
		{4.5, 1.5, []float64{3}},
		{6.5, 0.5, []float64{3, 3}},
		{1, 0.5, []float64{0.5}},
		{3, 2.5, []float64{0.5}},
		{4, 0.5, []float64{3.5}},
	} {
		l, p := &Layout{Stock: four()}, &Piece{}
		if err := l.stack(p, c.thin*inch, 1.0/48); err != nil {
			t.Fatal(err)
		}
		if got := inches([]float64{p.Kind.Thin, p.Kind.Thick}); !slices.Equal(got, []float64{c.edge, c.edge + 1}) || !slices.Equal(inches(p.Fill), c.fill) || l.Short != 0 {
			t.Errorf("%g in: a board of %v in on %v, short %g; want %g on %v", c.thin, got, inches(p.Fill), l.Short/inch, c.edge, c.fill)
		}
	}
	l := &Layout{Stock: four()}
	want := "course 3 is 12.0 mm thick at its thin edge, less than the 12.7 mm of the thinnest board"
	if err := l.stack(&Piece{Course: 2}, 0.012, 1.0/48); err == nil || err.Error() != want {
		t.Errorf("too thin: %v", err)
	}
	if err := l.stack(&Piece{}, 0.0127-0.9e-6, 1.0/48); err != nil {
		t.Errorf("a micrometre too thin: %v", err)
	}
}

// TestStockThatIsNone: each figure above zero, the thin edge below the greatest thickness, one rate at least; a waste from 0 to all.
func TestStockThatIsNone(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(s *Stock)
	}{
		{"length", func(s *Stock) { s.Length = 0 }},
		{"width", func(s *Stock) { s.Width = 0 }},
		{"thin edge", func(s *Stock) { s.Thin = 0 }},
		{"as thick as thin", func(s *Stock) { s.Greatest = s.Thin }},
		{"fill step", func(s *Stock) { s.FillStep = 0 }},
		{"rates", func(s *Stock) { s.Rates = nil }},
		{"no number", func(s *Stock) { s.Width = quantity.Length(math.NaN()) }},
	} {
		s := Usual()
		c.spoil(&s)
		if _, err := Lay(nil, s, 0); err == nil || err.Error() != "boards: the stock needs lengths above zero, a thin edge below the greatest thickness and one rate at least" {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	small := Stock{Rates: []quantity.Slope{0.02}, Length: 0.3, Width: 0.25, Thin: 0.01, Greatest: 0.04, FillStep: 0.01}
	if _, err := Lay(nil, small, 0); err != nil {
		t.Errorf("small boards: %v", err)
	}
	for waste, want := range map[float64]string{0: "", 1: "", 1.01: "boards: a waste of 1.01 is no part of the boards", -0.01: "boards: a waste of -0.01 is no part of the boards", math.Inf(1): "boards: a waste of +Inf is no part of the boards"} {
		said := ""
		if _, err := Lay(nil, Usual(), waste); err != nil {
			said = err.Error()
		}
		if said != want {
			t.Errorf("waste %g: %q, want %q", waste, said, want)
		}
	}
	field := Field{Polygon: orb.Polygon{box(0, 0, 8, 4)}, Thickness: 0.005, DX: 1.0 / 48}
	want := "boards: field 2: course 1 is 5.0 mm thick at its thin edge, less than the 12.7 mm of the thinnest board"
	if _, err := Lay([]Field{{Polygon: orb.Polygon{box(0, 0, 4, 4)}, Thickness: inch}, field}, Usual(), 0); err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// TestRatesInStock: a taper within half a per cent of a rate is that rate, and boards rise by the stock's; one farther off is odd. A taper of a millionth is level.
func TestRatesInStock(t *testing.T) {
	for _, c := range []struct {
		dx    float64
		odd   bool
		thick float64 // of the first board's thick edge, in
	}{
		{1.0 / 48, false, 1.5},
		{1.0 / 48 * 1.0049, false, 1.5},
		{1.0 / 48 * 0.9952, false, 1.5},
		{1.0 / 48 * 1.0052, true, 0},
		{1.0 / 48 * 0.9948, true, 0},
		{1.0 / 96, false, 1},
		{0.9e-6, false, 0.5},
		{1.1e-6, true, 0},
	} {
		l, err := Lay([]Field{{Polygon: orb.Polygon{box(0, 0, 4, 4)}, Thickness: inch / 2, DX: c.dx}}, Usual(), 0)
		if err != nil {
			t.Fatal(err)
		}
		if (len(l.Odd) > 0) != c.odd {
			t.Errorf("%g: odd %v", c.dx, l.Odd)
			continue
		}
		if !c.odd && !(math.Abs(l.Pieces[0].Kind.Thick/inch-c.thick) <= 1e-3) {
			t.Errorf("%g: %g in thick, want %g", c.dx, l.Pieces[0].Kind.Thick/inch, c.thick)
		}
	}
}

// TestHoleInAField: a field of 8 by 4 ft with a hole of 2 by 1 ft in its second board: one whole board of 16 sq ft, one of 14, cut along 6 ft. It rises from 1/2 in by 1/4 in per ft: the second board is 2 in thick in its middle, and the hole, whose middle is at 5-1/2 ft, takes 2 sq ft of 1.875 in.
func TestHoleInAField(t *testing.T) {
	hole := box(4.5, 1, 6.5, 2)
	slices.Reverse(hole)
	l, err := Lay([]Field{{Polygon: orb.Polygon{box(0, 0, 8, 4), hole}, Thickness: inch / 2, DX: 1.0 / 48}}, Usual(), 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Pieces) != 2 || !l.Pieces[0].Whole || l.Pieces[1].Whole {
		t.Fatalf("%+v", l.Pieces)
	}
	p := l.Pieces[1]
	if len(p.Plan) != 1 || len(p.Plan[0]) != 2 || !(math.Abs(p.Area/foot/foot-14) <= 1e-6) || !(math.Abs(l.Cuts/foot-6) <= 1e-6) {
		t.Errorf("%d outlines, %g sq ft, %g ft of cuts", len(p.Plan), p.Area/foot/foot, l.Cuts/foot)
	}
	if got, want := l.Volume/standard.BoardFoot, 16*1.0+16*2-2*1.875; !(math.Abs(got-want) <= 1e-4) {
		t.Errorf("%g board feet, want %g", got, want)
	}
	if len(l.Schedule) != 2 || l.Schedule[1].Cut != 1 || l.Schedule[1].Whole != 0 || !(math.Abs(l.Schedule[1].Volume/standard.BoardFoot-(32-3.75)) <= 1e-4) {
		t.Errorf("%+v", l.Schedule)
	}
}

// TestTwoPartsOfOneBoard: of a field of two towers on a foot that lies in the course before, each course above the foot has two outlines in one cell: they are one piece of the plan, whose areas add up.
func TestTwoPartsOfOneBoard(t *testing.T) {
	g := grid{ux: 1, length: 4 * foot, width: 4 * foot}
	rings := []orb.Ring{box(0, 0, 1, 1)[:4], box(2, 2, 3, 4)[:4]}
	plan := g.back(rings)
	if len(plan) != 2 || len(plan[0]) != 1 || len(plan[1]) != 1 {
		t.Errorf("%v", plan)
	}
	if got := signed(rings) / foot / foot; !(math.Abs(got-3) <= 1e-9) {
		t.Errorf("%g sq ft", got)
	}
	// A ring that turns right before any other is no hole of something: it stands alone.
	alone := box(0, 0, 1, 1)[:4]
	slices.Reverse(alone)
	if plan = g.back([]orb.Ring{alone}); len(plan) != 1 {
		t.Errorf("%v", plan)
	}
}

// TestThinLevelField: a level field thinner than a step of fill takes no board and is short by all of it; along a slant its boards lie along that, so 8 by 4 ft there are two whole ones.
func TestThinLevelField(t *testing.T) {
	l, err := Lay([]Field{{Polygon: orb.Polygon{box(0, 0, 8, 4)}, Thickness: 0.3 * inch}}, Usual(), 0)
	if err != nil || len(l.Schedule) != 0 || l.Volume != 0 || !(math.Abs(l.Short/inch-0.3) <= 1e-6) {
		t.Errorf("%v: %+v, %g m3, short %g in", err, l.Schedule, l.Volume, l.Short/inch)
	}
	at := func(u, v float64) orb.Point { return orb.Point{0.8*u - 0.6*v, 0.6*u + 0.8*v} }
	l, err = Lay([]Field{{Polygon: orb.Polygon{feet(at(0, 0), at(8, 0), at(8, 4), at(0, 4))}, Thickness: inch, Along: orb.Point{0.8, 0.6}}}, Usual(), 0)
	if err != nil || len(l.Pieces) != 2 || !l.Pieces[0].Whole || !l.Pieces[1].Whole || l.Cuts > 1e-9 {
		t.Errorf("%v: %+v, %g m of cuts", err, l.Pieces, l.Cuts)
	}
}

// TestSliversAreLeftOut: a field that reaches a hair into the next course, or 0.02 mm along 4 ft (0.24 cm2, less than 1 cm2), has one piece; one that reaches 0.1 mm (1.2 cm2) has two.
func TestSliversAreLeftOut(t *testing.T) {
	for over, want := range map[float64]int{0: 1, 0.9e-6: 1, 2e-5: 1, 1e-4: 2} {
		for _, ring := range []orb.Ring{
			{{0, 0}, {4*foot + over, 0}, {4*foot + over, 4 * foot}, {0, 4 * foot}, {0, 0}},
			{{0, 0}, {4 * foot, 0}, {4 * foot, 4*foot + over}, {0, 4*foot + over}, {0, 0}},
			{{0, -over}, {4 * foot, -over}, {4 * foot, 4 * foot}, {0, 4 * foot}, {0, -over}},
		} {
			l, err := Lay([]Field{{Polygon: orb.Polygon{ring}, Thickness: inch, DX: 1.0 / 48}}, Usual(), 0)
			if err != nil || len(l.Pieces) != want {
				t.Errorf("%g m over: %v, %d pieces, want %d", over, err, len(l.Pieces), want)
			}
		}
	}
}

// TestLocalAndPlan: up the taper towards (0.8, 0.6) from (1, 2): the place 5 m on and 2 m to the left is (1 + 4 - 1.2, 2 + 3 + 1.6), and back again.
func TestLocalAndPlan(t *testing.T) {
	g := grid{at: orb.Point{1, 2}, ux: 0.8, uy: 0.6, length: 1, width: 1}
	p := g.plan(orb.Point{5, 2})
	if !(math.Hypot(p[0]-3.8, p[1]-6.6) <= 1e-12) {
		t.Errorf("%v", p)
	}
	if q := g.local(p); !(math.Hypot(q[0]-5, q[1]-2) <= 1e-12) {
		t.Errorf("%v", q)
	}
}

// TestCutLength: of a triangle whose legs lie on lines of the grid the long side is cut, 5 ft of 3, 4 and 5; moved by half a foot all of it is; by half a micrometre it still lies on them.
func TestCutLength(t *testing.T) {
	g := grid{ux: 1, length: 4 * foot, width: 4 * foot}
	for by, want := range map[float64]float64{0: 5, 0.5 * foot: 12, 0.5e-6: 5, -0.5e-6: 5, 1.5e-6: 12} {
		ring := feet(orb.Point{4, -8}, orb.Point{7, -8}, orb.Point{4, -4})
		for i := range ring {
			ring[i] = orb.Point{ring[i][0] + by, ring[i][1] + by}
		}
		if got := g.cut(orb.MultiPolygon{{ring}}) / foot; !(math.Abs(got-want) <= 1e-9) {
			t.Errorf("moved by %g m: %g ft, want %g", by, got, want)
		}
	}
}

// TestClip: of a square of 4 ft a slab from 1 to 3 ft keeps half, at either axis; one that it only touches keeps nothing that has an area; a ring may be closed or open.
func TestClip(t *testing.T) {
	for axis := range 2 {
		for _, c := range []struct{ low, high, want float64 }{{1, 3, 8}, {-5, 2, 8}, {3, 9, 4}, {-9, 9, 16}, {4, 8, 0}, {5, 8, 0}, {-2, 0, 0}} {
			for _, ring := range []orb.Ring{box(0, 0, 4, 4), box(0, 0, 4, 4)[:4]} {
				if got := signed(clipAll([]orb.Ring{ring}, axis, c.low*foot, c.high*foot)) / foot / foot; !(math.Abs(got-c.want) <= 1e-9) {
					t.Errorf("axis %d, %g to %g: %g sq ft, want %g", axis, c.low, c.high, got, c.want)
				}
			}
		}
	}
	if from, to := span(nil); from != 0 || to != 0 {
		t.Errorf("nothing spans %g to %g", from, to)
	}
	if from, to := span([]orb.Ring{{{9, 3}, {1, -2}, {0, 7}}}); from != -2 || to != 7 {
		t.Errorf("%g to %g", from, to)
	}
}

// TestOrderOfTheSchedule: tapered boards stand before flat ones, each by their thin edge and then by their thick one; waste goes up to the next whole board.
func TestOrderOfTheSchedule(t *testing.T) {
	l := &Layout{Waste: 0.05, Schedule: []Row{{Kind: Kind{3, 3}}, {Kind: Kind{1, 3}}, {Kind: Kind{1, 2}}, {Kind: Kind{0.5, 4}}, {Kind: Kind{2, 2}}}}
	l.sort()
	var got []Kind
	for _, r := range l.Schedule {
		got = append(got, r.Kind)
	}
	if want := []Kind{{0.5, 4}, {1, 2}, {1, 3}, {2, 2}, {3, 3}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for _, c := range [][3]int{{20, 0, 21}, {0, 20, 21}, {12, 9, 23}, {1, 0, 2}, {0, 0, 0}} {
		if got := l.order(&Row{Whole: c[0], Cut: c[1]}); got != c[2] {
			t.Errorf("%d whole and %d cut with a twentieth of waste are %d boards, want %d", c[0], c[1], got, c[2])
		}
	}
}

// TestBoardsLongerThanWide: of 2 ft along the fall and 8 ft along the course, 6 by 16 ft take three courses of two boards, each 1/2 in thicker than the last; 33 sq ft of low places take three boards of 16 sq ft.
func TestBoardsLongerThanWide(t *testing.T) {
	s := Usual()
	s.Length, s.Width = quantity.Length(2*foot), quantity.Length(8*foot)
	l, err := Lay([]Field{{Polygon: orb.Polygon{box(0, 0, 6, 16)}, Thickness: inch / 2, DX: 1.0 / 48}}, s, 0)
	if err != nil || len(l.Pieces) != 6 || len(l.Schedule) != 3 || l.Cuts > 1e-9 {
		t.Fatalf("%v: %d pieces, %d rows, %g m of cuts", err, len(l.Pieces), len(l.Schedule), l.Cuts)
	}
	for i, r := range l.Schedule {
		if got, want := inches([]float64{r.Kind.Thin, r.Kind.Thick}), []float64{0.5 + 0.5*float64(i), 1 + 0.5*float64(i)}; !slices.Equal(got, want) || r.Whole != 2 || !(math.Abs(r.Area/foot/foot-32) <= 1e-6) {
			t.Errorf("course %d: %v in, %+v", i+1, got, r)
		}
	}
	l.Level(quantity.Length(inch), 33*foot*foot)
	if r := l.Schedule[3]; r.Cut != 3 || r.Boards != 3 {
		t.Errorf("low places: %+v", r)
	}
}

// TestFlatBoardsForLowPlaces: 32 sq ft of low places take two boards of 16 sq ft, a hair less or more within rounding too, and 32.1 take three.
func TestFlatBoardsForLowPlaces(t *testing.T) {
	for area, want := range map[float64]int{32: 2, 32 * (1 - 1e-12): 2, 32 * (1 + 1e-12): 2, 32.1: 3, 0.1: 1} {
		l, err := Lay(nil, Usual(), 0)
		if err != nil {
			t.Fatal(err)
		}
		l.Level(quantity.Length(inch), area*foot*foot)
		if len(l.Schedule) != 1 || l.Schedule[0].Cut != want {
			t.Errorf("%g sq ft: %+v, want %d boards", area, l.Schedule, want)
		}
	}
}

// TestCellsCoverAPolygon: wherever a rectangle of 7 by 5 m lies, however it is turned against the grid and whichever corner comes first, the parts in the cells cover its 35 m2, lie inside it, and name no place twice over.
func TestCellsCoverAPolygon(t *testing.T) {
	for turn := range 12 {
		sin, cos := math.Sincos(float64(turn) * math.Pi / 6)
		for _, at := range []orb.Point{{0, 0}, {-20, 3}, {6, -15}, {40, 50}} {
			g := grid{at: orb.Point{1, 2}, ux: cos, uy: sin, length: 1.3, width: 0.9}
			for first := range 4 {
				ring := orb.Ring{}
				for k := range 5 {
					c := [][2]float64{{0, 0}, {7, 0}, {7, 5}, {0, 5}}[(first+k)%4]
					ring = append(ring, orb.Point{at[0] + c[0], at[1] + c[1]})
				}
				sum := 0.0
				g.cells(orb.Polygon{ring}, func(_ int, plan orb.MultiPolygon, area float64) {
					sum += area
					for i, p := range plan[0][0][1:] {
						if before := plan[0][0][i]; math.Hypot(p[0]-before[0], p[1]-before[1]) == 0 {
							t.Errorf("turned by %d, at %v: %v twice over", turn, at, p)
						}
						if x, y := p[0]-at[0], p[1]-at[1]; !(x > -1e-9 && x < 7+1e-9 && y > -1e-9 && y < 5+1e-9) {
							t.Errorf("turned by %d, at %v: %v lies outside", turn, at, p)
						}
					}
				})
				if !(math.Abs(sum-35) <= 1e-3) { // slivers are left out
					t.Errorf("turned by %d, at %v, from corner %d: %g m2, want 35", turn, at, first, sum)
				}
			}
		}
	}
}

// TestFlatBoardsJoinTheirRow: a level field of 8 by 4 ft takes two boards of 1 in; 30 sq ft of low places take two more of the same row.
func TestFlatBoardsJoinTheirRow(t *testing.T) {
	l, err := Lay([]Field{{Polygon: orb.Polygon{box(0, 0, 8, 4)}, Thickness: inch}}, Usual(), 0)
	if err != nil {
		t.Fatal(err)
	}
	l.Level(quantity.Length(inch), 30*foot*foot)
	if len(l.Schedule) != 1 || l.Schedule[0].Whole != 2 || l.Schedule[0].Cut != 2 || l.Schedule[0].Boards != 4 {
		t.Errorf("%+v", l.Schedule)
	}
}
