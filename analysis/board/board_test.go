package board_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/board"
	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

const (
	foot = float64(quantity.Foot)
	inch = float64(quantity.Inch)
)

func rectangle(l, w float64) orb.Polygon {
	return orb.Polygon{{{0, 0}, {l, 0}, {l, w}, {0, w}, {0, 0}}}
}

// four returns the four planes of a square of side a that falls to, or rises to, its centre.
func four(a, t0, s float64) []board.Field {
	c := orb.Point{a / 2, a / 2}
	corner := []orb.Point{{0, 0}, {a, 0}, {a, a}, {0, a}}
	out := make([]board.Field, 4)
	for i, n := range []orb.Point{{0, -1}, {1, 0}, {0, 1}, {-1, 0}} {
		out[i] = board.Field{
			Polygon: orb.Polygon{{c, corner[i], corner[(i+1)%4], c}}, Low: c, Thickness: t0, DX: s * n[0], DY: s * n[1],
		}
	}
	return out
}

func lay(t *testing.T, fields []board.Field, s board.Stock, waste float64) *board.Layout {
	t.Helper()
	l, err := board.Lay(fields, s, waste)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Board feet of tapered roofs, thin edge 1/2 in, 1/4 in per ft. One-way 40 by 40 ft: 8,800, the exact figure beside a
// published example of 8,400; square with the low centre 6,133 and rectangle with a low line 10,933: by hand, average
// thickness t0 + (2/3) s a/2 and t0 + (s a/2)(1/2 + a/(6b)), times the area.
func TestBoardFeet(t *testing.T) {
	s := 1.0 / 48
	one := []board.Field{{Polygon: rectangle(40*foot, 40*foot), Thickness: inch / 2, DX: s}}
	low := orb.Point{20 * foot, 20 * foot}
	far := orb.Point{60 * foot, 20 * foot}
	b, w := 80*foot, 40*foot
	hip := []board.Field{
		{Polygon: orb.Polygon{{{0, 0}, low, {0, w}, {0, 0}}}, Low: low, Thickness: inch / 2, DX: -s},
		{Polygon: orb.Polygon{{{b, 0}, {b, w}, far, {b, 0}}}, Low: far, Thickness: inch / 2, DX: s},
		{Polygon: orb.Polygon{{{0, 0}, {b, 0}, far, low, {0, 0}}}, Low: low, Thickness: inch / 2, DY: -s},
		{Polygon: orb.Polygon{{{0, w}, low, far, {b, w}, {0, w}}}, Low: low, Thickness: inch / 2, DY: s},
	}
	for _, tt := range []struct {
		name   string
		fields []board.Field
		want   float64
	}{{"one-way", one, 8800}, {"low centre", four(40*foot, inch/2, s), 6133.33}, {"low line", hip, 10933.33}} {
		l := lay(t, tt.fields, board.Usual(), 0)
		if got := l.Volume / standard.BoardFoot; !(math.Abs(got-tt.want) <= 0.01) {
			t.Errorf("%s: %.2f board feet, want %.2f", tt.name, got, tt.want)
		}
		sum := 0.0
		for _, r := range l.Schedule {
			sum += r.Volume
		}
		if !(math.Abs(sum-l.Volume) <= 1e-9) || l.Short != 0 || len(l.Odd) != 0 {
			t.Errorf("%s: schedule %.6f m3 of %.6f, short %g, odd %v", tt.name, sum, l.Volume, l.Short, l.Odd)
		}
	}
}

// A contractor's published set at 1/4 in per ft: 1/2 to 1-1/2, 1-1/2 to 2-1/2, 2-1/2 to 3-1/2 in, then the same on 3 in of
// fill for the next 12 ft and on two layers of 3 in for the third 12 ft.
func TestSetIsRepeatedOnFill(t *testing.T) {
	s := board.Usual()
	s.Greatest = quantity.Length(3.5 * inch)
	l := lay(t, []board.Field{{Polygon: rectangle(36*foot, 4*foot), Thickness: inch / 2, DX: 1.0 / 48}}, s, 0)
	if len(l.Pieces) != 9 {
		t.Fatalf("%d pieces in 36 ft, want 9", len(l.Pieces))
	}
	for i, p := range l.Pieces {
		thin := 0.5 + float64(i%3)
		if !(math.Abs(p.Kind.Thin/inch-thin) <= 1e-3) || !(math.Abs(p.Kind.Thick/inch-thin-1) <= 1e-3) || !p.Whole || p.Course != i {
			t.Errorf("course %d: %+v", i+1, p.Kind)
		}
		if len(p.Fill) != i/3 {
			t.Errorf("course %d lies on %d layers, want %d", i+1, len(p.Fill), i/3)
		}
		for _, f := range p.Fill {
			if !(math.Abs(f/inch-3) <= 1e-3) {
				t.Errorf("course %d: a layer of %.3f in, want 3", i+1, f/inch)
			}
		}
	}
}

// A stock whose thickest board is one rise thicker than its thinnest has one board: each course lies on an inch more of fill than the last, and no
// board is thicker than the stock has it.
func TestSetOfOneBoard(t *testing.T) {
	s := board.Usual()
	s.Greatest = quantity.Length(1.5 * inch)
	l := lay(t, []board.Field{{Polygon: rectangle(16*foot, 4*foot), Thickness: inch / 2, DX: 1.0 / 48}}, s, 0)
	if len(l.Pieces) != 4 {
		t.Fatalf("%d pieces", len(l.Pieces))
	}
	for i, p := range l.Pieces {
		fill := 0.0
		for _, f := range p.Fill {
			fill += f
		}
		if !(math.Abs(p.Kind.Thin/inch-0.5) <= 1e-3) || !(math.Abs(p.Kind.Thick/inch-1.5) <= 1e-3) || !(math.Abs(fill/inch-float64(i)) <= 1e-3) {
			t.Errorf("course %d: %+v on %.3f in", i+1, p.Kind, fill/inch)
		}
	}
}

// By hand: 40 by 40 ft of 4 by 4 ft boards are 100 pieces, 10 a course, all whole; with 5 % of waste 10 of a kind are 11.
// Across a square that falls four ways each course of each plane is cut at both mitres.
func TestPiecesAndWaste(t *testing.T) {
	l := lay(t, []board.Field{{Polygon: rectangle(40*foot, 40*foot), Thickness: inch / 2, DX: 1.0 / 48}}, board.Usual(), 0.05)
	whole := 0
	for _, p := range l.Pieces {
		if p.Whole {
			whole++
		}
	}
	if len(l.Pieces) != 100 || whole != 100 || l.Cuts > 1e-9 {
		t.Errorf("%d pieces, %d whole, %.3f m of cuts", len(l.Pieces), whole, l.Cuts)
	}
	// Four boards a set: 1/2 in at the start stands in courses 1, 5 and 9, so 30 boards and 32 to order.
	if r := l.Schedule[0]; r.Whole != 30 || r.Boards != 32 {
		t.Errorf("thinnest board: %+v", r)
	}
	f := lay(t, four(40*foot, inch/2, 1.0/48), board.Usual(), 0)
	// Four mitres of 20*sqrt(2) ft, each cut on both sides.
	if want := 8 * 20 * math.Sqrt2 * foot; !(math.Abs(f.Cuts-want) <= 1e-6) {
		t.Errorf("%.4f m of mitres, want %.4f", f.Cuts, want)
	}
}

// Whatever the outline, pieces cover it once, and their volume is that of the taper: area times the thickness at the
// centroid, by hand.
func TestPiecesCoverTheField(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	for range 200 {
		a := rnd.Float64() * 2 * math.Pi
		sin, cos := math.Sincos(a)
		turn := func(x, y float64) orb.Point { return orb.Point{x*cos - y*sin, x*sin + y*cos} }
		l, w := 1+20*rnd.Float64(), 1+20*rnd.Float64()
		notch := orb.Point{l * (0.2 + 0.6*rnd.Float64()), w * (0.2 + 0.6*rnd.Float64())}
		ring := orb.Ring{turn(0, 0), turn(l, 0), turn(l, notch[1]), turn(notch[0], notch[1]), turn(notch[0], w), turn(0, w), turn(0, 0)}
		s := 1.0 / 96
		f := board.Field{Polygon: orb.Polygon{ring}, Thickness: 0.0127, DX: s * cos, DY: s * sin}
		lo := lay(t, []board.Field{f}, board.Usual(), 0)
		area := 0.0
		for _, p := range lo.Pieces {
			area += p.Area
		}
		a1, a2 := l*notch[1], notch[0]*(w-notch[1])
		want := a1*(f.Thickness+s*l/2) + a2*(f.Thickness+s*notch[0]/2)
		if !(math.Abs(area-a1-a2) <= 2e-4*math.Sqrt(a1+a2)) || !(math.Abs(lo.Volume-want) <= 1e-4*want) {
			t.Fatalf("area %.6f of %.6f, volume %.6f of %.6f", area, a1+a2, lo.Volume, want)
		}
	}
}

// A taper that nobody stocks is named and not laid; no rate, no size and too thin a start are errors.
func TestWhatCannotBeLaid(t *testing.T) {
	l := lay(t, []board.Field{{Polygon: rectangle(4, 4), Thickness: inch / 2, DX: 0.015}}, board.Usual(), 0)
	if len(l.Pieces) != 0 || len(l.Odd) != 1 || l.Odd[0] != 0 {
		t.Errorf("0.015: %+v", l.Odd)
	}
	if _, err := board.Lay([]board.Field{{Polygon: rectangle(4, 4), Thickness: inch / 4, DX: 1.0 / 48}}, board.Usual(), 0); err == nil {
		t.Error("a start thinner than the thinnest board is laid")
	}
	if _, err := board.Lay(nil, board.Stock{}, 0); err == nil {
		t.Error("an empty stock is taken")
	}
	if _, err := board.Lay(nil, board.Usual(), -1); err == nil {
		t.Error("a negative waste is taken")
	}
}

// A level field is laid in flat boards: by hand, 5 in are two layers of 2-1/2.
func TestFlatField(t *testing.T) {
	l := lay(t, []board.Field{{Polygon: rectangle(8*foot, 4*foot), Thickness: 5 * inch}}, board.Usual(), 0)
	if len(l.Schedule) != 1 || !(math.Abs(l.Schedule[0].Kind.Thin/inch-2.5) <= 1e-3) || l.Schedule[0].Whole != 4 {
		t.Errorf("%+v", l.Schedule)
	}
}

// Low places of 1.5 in over 30 m2 take flat boards of that thickness, by hand 30 / (4 ft x 4 ft = 1.486 m2) = 20.2, so 21, cut to their places; with a twentieth of waste 22.05, so 23. Twice as much in two pieces is one row of both. Flat boards stand after tapered ones, the thinner first.
func TestBoardsThatLevel(t *testing.T) {
	l := lay(t, []board.Field{{Polygon: rectangle(8*foot, 4*foot), Thickness: 0.5 * inch, DX: 1.0 / 48, Low: orb.Point{0, 0}}}, board.Usual(), 0.05)
	tapered, volume := len(l.Schedule), l.Volume
	l.Level(quantity.Length(1.5*inch), 30)
	l.Level(quantity.Length(1*inch), 3)
	if len(l.Schedule) != tapered+2 {
		t.Fatalf("%+v", l.Schedule)
	}
	thin, thick := l.Schedule[tapered], l.Schedule[tapered+1]
	if !(math.Abs(thin.Kind.Thin/inch-1) <= 1e-3) || !(math.Abs(thick.Kind.Thin/inch-1.5) <= 1e-3) || thick.Cut != 21 || thick.Boards != 23 || thick.Area != 30 || !(math.Abs(thick.Volume-45*inch) <= 1e-4) {
		t.Errorf("%+v, %+v", thin, thick)
	}
	l.Level(quantity.Length(1.5*inch), 30)
	if thick = l.Schedule[tapered+1]; thick.Cut != 42 || thick.Boards != 45 || thick.Area != 60 {
		t.Errorf("twice: %+v", thick)
	}
	if !(math.Abs(l.Volume-volume-93*inch) <= 1e-3) {
		t.Errorf("%g m3 more, want %g", l.Volume-volume, 93*inch)
	}
}

// A field whose gradient is not along the axes has whole boards where its outline follows them: by hand, 24 by 12 ft turned by the angle of the triangle 3, 4, 5 is 18 boards of 4 by 4 ft in six courses, none cut. Half a board narrower it has six of half the size, each cut along 4 ft.
func TestFieldAtASlant(t *testing.T) {
	at := func(x, y float64) orb.Point { return orb.Point{50 + foot*(0.8*x-0.6*y), -9 + foot*(0.6*x+0.8*y)} }
	for width, want := range map[float64][2]int{12: {18, 0}, 10: {12, 6}} {
		f := board.Field{Polygon: orb.Polygon{{at(0, 0), at(24, 0), at(24, width), at(0, width), at(0, 0)}}, Low: at(0, 0), Thickness: 0.5 * inch, DX: 0.8 / 48, DY: 0.6 / 48}
		l := lay(t, []board.Field{f}, board.Usual(), 0)
		whole, cut, courses := 0, 0, map[int]bool{}
		for _, p := range l.Pieces {
			courses[p.Course] = true
			if p.Whole {
				whole++
			} else {
				cut++
				if !(math.Abs(p.Area-8*foot*foot) <= 1e-6) {
					t.Errorf("a piece of %g m2", p.Area)
				}
			}
		}
		if whole != want[0] || cut != want[1] || len(courses) != 6 || !(math.Abs(l.Cuts-float64(want[1])*4*foot) <= 1e-6) {
			t.Errorf("%g ft wide: %d whole, %d cut, %d courses, %g m of cuts", width, whole, cut, len(courses), l.Cuts)
		}
	}
}
