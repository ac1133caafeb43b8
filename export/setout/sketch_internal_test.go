package setout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/paulmach/orb"

	"runnel/export/drawing/scene"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/sample"
)

// sheetOf is the sheet of the sample: 20 by 12 m, with a drain, a scupper, a gutter and a curb.
func sheetOf(t *testing.T, u record.Units) *Sheet {
	t.Helper()
	s, err := New(record.NewBook(sample.Study(sample.Local()), "", u), "")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The roof fills the sketch up to 9 mm beside it, north up. By hand: 20 by 12 m on 218 by 138 mm are 200 by 120 mm, 10 mm a metre; the south-west corner lies at 9, 129, the middle at 109, 69.
func TestScaleOfTheSketch(t *testing.T) {
	for _, c := range []struct{ w, h, scale float64 }{{218, 138, 10}, {218, 1000, 10}, {1000, 138, 10}, {118, 138, 5}} {
		k := &sketcher{s: sheetOf(t, record.SI), room: scene.Rect{W: c.w, H: c.h}}
		k.place()
		if !(math.Abs(k.scale-c.scale) <= 1e-9) {
			t.Errorf("%v by %v mm: %v mm a metre, want %v", c.w, c.h, k.scale, c.scale)
		}
		for p, want := range map[orb.Point]scene.Point{
			{0, 0}: {X: c.w/2 - 10*c.scale, Y: c.h/2 + 6*c.scale}, {20, 12}: {X: c.w/2 + 10*c.scale, Y: c.h/2 - 6*c.scale}, {10, 6}: {X: c.w / 2, Y: c.h / 2},
		} {
			if got := k.at(p); !(scene.Distance(got, want) <= 0.0101) {
				t.Errorf("%v lies at %v, want %v", p, got, want)
			}
		}
	}
	// Moved on its grid, 7 m east and 3 m south, the roof lies in the middle of the sketch as before.
	k := &sketcher{s: sheetOf(t, record.SI), room: scene.Rect{W: 218, H: 138}}
	for i, p := range k.s.book.Study.Roof.Outline.Rings[0] {
		k.s.book.Study.Roof.Outline.Rings[0][i].Plan = orb.Point{p.Plan[0] + 7, p.Plan[1] - 3}
	}
	k.place()
	if got := k.at(orb.Point{17, 3}); !(scene.Distance(got, scene.Point{X: 109, Y: 69}) <= 0.0101) {
		t.Errorf("moved, the middle lies at %v", got)
	}
}

// What the sketch shows of the sample: wall A and B thick, each with its letter 5 mm off it outside the roof and that of the corner off both; the triangle of the bench mark about its place; dots of
// 0.7 mm where the points are.
func TestThingsOfTheSketch(t *testing.T) {
	s := sheetOf(t, record.SI)
	out := s.sketch(s.Points, 218, 138)
	k := &sketcher{s: s, room: scene.Rect{W: 218, H: 138}}
	k.place()
	l := out.Layers[0]
	at := map[string]scene.Text{}
	for _, text := range l.Texts {
		at[text.String] = text
	}
	inside := scene.Rect{X: 9, Y: 9, W: 200, H: 120}
	for i, w := range s.Walls {
		a, b := k.at(w.From), k.at(w.To)
		if !slices.ContainsFunc(l.Shapes, func(sh scene.Shape) bool {
			return sh.Width == 1.1 && len(sh.Paths[0]) == 2 && sh.Paths[0][0] == a && sh.Paths[0][1] == b
		}) {
			t.Errorf("wall %c is not drawn thick from %v to %v", 'A'+i, a, b)
		}
		letter := at[string(rune('A'+i))]
		middle := scene.Point{X: letter.At.X, Y: letter.At.Y - 1.7}
		if d := scene.Distance(middle, scene.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}); !(math.Abs(d-5) <= 0.02) || inside.Inset(-1).Overlaps(scene.Rect{X: middle.X, Y: middle.Y, W: 0.01, H: 0.01}) {
			t.Errorf("the letter of wall %c stands at %v, %v mm from its middle", 'A'+i, middle, d)
		}
	}
	c := at["C"]
	if d := scene.Distance(scene.Point{X: c.At.X, Y: c.At.Y - 1.7}, k.at(s.Corner)); !(math.Abs(d-5) <= 0.02) || inside.Overlaps(scene.Rect{X: c.At.X, Y: c.At.Y - 1.7, W: 0.01, H: 0.01}) {
		t.Errorf("the letter of the corner stands at %v, the corner at %v", c.At, k.at(s.Corner))
	}
	dots, mark := 0, false
	for _, sh := range l.Shapes {
		switch {
		case len(sh.Paths[0]) == 16:
			p := k.at(s.Points[dots].Plan)
			for _, q := range sh.Paths[0] {
				if d := scene.Distance(p, q); !(math.Abs(d-0.7) <= 0.015) || sh.Fill != "#000000" {
					t.Errorf("the dot of point %d is %v mm off its place", dots+1, d)
				}
			}
			dots++
		case sh.Stroke == palette.Urgent && len(sh.Paths[0]) == 3:
			m := k.at(s.Mark.Plan)
			want := fmt.Sprint([]scene.Point{spot(m.X, m.Y-2.6), spot(m.X-2.4, m.Y+1.5), spot(m.X+2.4, m.Y+1.5)})
			mark = fmt.Sprint(sh.Paths[0]) == want
		}
	}
	if dots != len(s.Points) || !mark {
		t.Errorf("%d dots of %d points, the triangle of the bench mark: %v", dots, len(s.Points), mark)
	}
	if at["BM"].Size != 2.8 || at["1"].Size != 2.5 || at["1"].Colour != palette.Urgent || !at["1"].Bold {
		t.Errorf("BM %+v, 1 %+v", at["BM"], at["1"])
	}
}

// ink is what the digits or capitals of a text cover, which reach from its base line 0.76 of its size up and have nothing below.
func ink(text *scene.Text) scene.Rect {
	b := text.Bounds()
	b.H = text.At.Y - b.Y
	return b.Inset(0.05)
}

// However many points: no number lies over another, over a dot, over a letter or outside the sketch, every number stands once at most, and one that stands off its dot has a line to it.
func TestNumbersOfManyPoints(t *testing.T) {
	for _, n := range []int{1, 20, 200} {
		s := sheetOf(t, record.SI)
		random := rand.New(rand.NewPCG(11, uint64(n)))
		s.Points = nil
		for i := range n {
			s.Points = append(s.Points, Point{Number: i + 1, Plan: orb.Point{20 * random.Float64(), 12 * random.Float64()}})
		}
		out := s.sketch(s.Points, 218, 138)
		k := &sketcher{s: s, room: scene.Rect{W: 218, H: 138}}
		k.place()
		var numbers []scene.Text
		seen := map[string]bool{}
		for _, text := range out.Layers[0].Texts {
			if seen[text.String] {
				t.Errorf("%q stands twice", text.String)
			}
			seen[text.String] = true
			for i := range numbers {
				if ink(&numbers[i]).Overlaps(ink(&text)) {
					t.Errorf("%d points: %q covers %q", n, text.String, numbers[i].String)
				}
			}
			numbers = append(numbers, text)
			number, err := strconv.Atoi(text.String)
			if err != nil {
				continue
			}
			if !text.Bounds().Within(scene.Rect{W: 218, H: 138}) {
				t.Errorf("%q leaves the sketch", text.String)
			}
			own := k.at(s.Points[number-1].Plan)
			for i := range s.Points {
				if p := k.at(s.Points[i].Plan); ink(&text).Overlaps(scene.Rect{X: p.X - 0.65, Y: p.Y - 0.65, W: 1.3, H: 1.3}) {
					t.Errorf("%d points: %q covers the dot of %d", n, text.String, i+1)
				}
			}
			b := text.Bounds()
			dx, dy := math.Max(0, math.Max(b.X-own.X, own.X-b.X-b.W)), math.Max(0, math.Max(b.Y-own.Y, own.Y-b.Y-b.H))
			led := slices.ContainsFunc(out.Layers[0].Shapes, func(sh scene.Shape) bool { return sh.Width == 0.1 && sh.Paths[0][0] == own })
			if far := math.Hypot(dx, dy); far > 4 && !led || far > 20 {
				t.Errorf("%d points: %q stands %v mm off its dot, with a line: %v", n, text.String, far, led)
			}
		}
		if len(seen) < min(n, 150) {
			t.Errorf("%d points: only %d texts stand", n, len(seen))
		}
	}
}

// The sixteen directions are those of the circle, 22.5 degrees apart.
func TestTurns(t *testing.T) {
	for i, turn := range turns {
		angle := float64(i) * math.Pi / 8
		if !(math.Hypot(turn[0]-math.Cos(angle), turn[1]-math.Sin(angle)) <= 1e-12) {
			t.Errorf("direction %d is %v", i, turn)
		}
	}
	for i, d := range directions { // from north clockwise
		angle := math.Pi/2 - float64(i)*math.Pi/4
		if !(math.Hypot(d[0]-math.Cos(angle), d[1]-math.Sin(angle)) <= 1e-12) {
			t.Errorf("point %d of the compass is %v", i, d)
		}
	}
}
