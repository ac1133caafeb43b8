package layout

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/board"
	"runnel/analysis/correction/mend"
	"runnel/analysis/surface"
	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/record"
)

// Thicknesses at corners: what is under half a millimetre is flush and has its number alone; a cut says so. By hand 31.75 mm are 1-1/4 in.
func TestCornersInWords(t *testing.T) {
	for _, c := range []struct {
		t                  float64
		si, us, corner, up string
	}{
		{0.03175, "32 mm", `1-1/4"`, "7: 32 mm", "32 mm"},
		{-0.03175, "32 mm cut", `1-1/4" cut`, "7: 32 mm cut", "32 mm cut"},
		{0.00049, "0", "0", "7", "flush"},
		{-0.00049, "0", "0", "7", "flush"},
		{0.00051, "1 mm", `less than 1/8"`, "7: 1 mm", "1 mm"},
		{0, "0", "0", "7", "flush"},
	} {
		si, us := counted(record.SI, nil), counted(record.US, nil)
		if si.thickness(c.t) != c.si || us.thickness(c.t) != c.us {
			t.Errorf("%v m: %q, %q; want %q, %q", c.t, si.thickness(c.t), us.thickness(c.t), c.si, c.us)
		}
		si.corners = make([]corner, 7)
		si.corners[6].thickness = c.t
		if got := si.cornerText(6); got != c.corner {
			t.Errorf("%v m at a corner: %q, want %q", c.t, got, c.corner)
		}
	}
	us := counted(record.US, nil)
	us.corners = []corner{{thickness: 0.00051}}
	if got := us.cornerText(0); got != `1: <1/8"` {
		t.Errorf("next to nothing at a corner: %q", got)
	}
}

// A tape is read to the inch, or to the millimetre: by hand 6.096 m are 20 ft, 1.372 m 4 ft 6 in.
func TestTapes(t *testing.T) {
	for m, want := range map[float64][2]string{6.096: {"6.096 m", `20' 0"`}, 1.3716: {"1.372 m", `4' 6"`}, 0: {"0.000 m", `0"`}, -0.0001: {"0.000 m", `0"`}} {
		if si, us := counted(record.SI, nil).tape(m), counted(record.US, nil).tape(m); si != want[0] || us != want[1] {
			t.Errorf("%v m: %q and %q, want %q", m, si, us, want)
		}
	}
}

// Boards by their two thicknesses, and what lies under them; on the layout in few letters.
func TestBoardsInWords(t *testing.T) {
	for _, c := range []struct {
		piece       board.Piece
		kind, short string
	}{
		{board.Piece{Kind: board.Kind{Thin: 0.0127, Thick: 0.0381}}, `1/2" to 1-1/2"`, `1/2"–1-1/2"`},
		{board.Piece{Kind: board.Kind{Thin: 0.0508, Thick: 0.0508}, Fill: []float64{0.0254, 0.0762}}, `2" flat`, `2" + 1" + 3"`},
	} {
		h := counted(record.US, nil)
		if kind, short := h.kindText(c.piece.Kind), h.pieceText(&c.piece); kind != c.kind || short != c.short {
			t.Errorf("%q, on the layout %q; want %q, %q", kind, short, c.kind, c.short)
		}
	}
}

// How much of a corner list is set: 22 of small changes, half a sheet where the new surface follows the old, else 150.
func TestHowManyCornersAreListed(t *testing.T) {
	for _, c := range []struct {
		local bool
		laid  []int
		gauge string
		want  int
	}{{true, []int{0}, "a", 22}, {false, nil, "", 32}, {false, []int{0}, "", 150}, {false, nil, "a", 150}, {false, []int{0}, "a", 150}} {
		h := counted(record.SI, &takeoff.TakeOff{Laid: c.laid})
		h.local, h.option.Gauge = c.local, c.gauge
		if got := h.listed(); got != c.want {
			t.Errorf("%+v: %d corners are listed", c, got)
		}
	}
	for kind, want := range map[mend.Kind]string{mend.Replace: "thickness", mend.Overlay: "up, or cut"} {
		h := counted(record.SI, nil)
		if h.option.Kind = kind; h.thicknessHead() != want {
			t.Errorf("%s: %q", kind, h.thicknessHead())
		}
	}
}

// Places are tried from the middle one outward, each once: by hand of five 2, 1, 3, 0, 4, of four 2, 1, 3, 0.
func TestMiddleFirst(t *testing.T) {
	for n, want := range [][]float64{{}, {0}, {1, 0}, {1, 0, 2}, {2, 1, 3, 0}, {2, 1, 3, 0, 4}, {3, 2, 4, 1, 5, 0}} {
		places := make([]orb.Point, n)
		for i := range places {
			places[i] = orb.Point{float64(i), 7}
		}
		got := middleFirst(places)
		x := make([]float64, len(got))
		for i := range got {
			x[i] = got[i][0]
		}
		if !slices.Equal(x, want) {
			t.Errorf("of %d: %v, want %v", n, x, want)
		}
	}
}

// Bounds that touch become one, as often as needed. Held to brute force: whatever order they come in, none of the results overlap, each given lies within one, and each result is just as
// wide as what lies in it.
func TestMergedBounds(t *testing.T) {
	box := func(x, y, w, h float64) orb.Bound {
		return orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x + w, y + h}}
	}
	chain := merged([]orb.Bound{box(0, 0, 1, 1), box(4, 0, 1, 1), box(0.5, 0.5, 4, 0.2), box(9, 9, 1, 1)})
	if len(chain) != 2 || chain[0] != box(0, 0, 5, 1) || chain[1] != box(9, 9, 1, 1) {
		t.Errorf("a chain of three and one alone: %v", chain)
	}
	if got := merged(nil); got != nil {
		t.Errorf("of none: %v", got)
	}
	random := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		parts := make([]orb.Bound, 1+random.IntN(9))
		for i := range parts {
			parts[i] = box(random.Float64()*10, random.Float64()*10, random.Float64()*3, random.Float64()*3)
		}
		out := merged(slices.Clone(parts))
		for i := range out {
			for k := range i {
				if out[i].Intersects(out[k]) {
					t.Fatalf("%v: %v and %v overlap", parts, out[i], out[k])
				}
			}
			var sum orb.Bound
			first := true
			for _, p := range parts {
				if !out[i].Intersects(p) {
					continue
				}
				if sum = sum.Union(p); first {
					sum, first = p, false
				}
			}
			if first || sum != out[i] {
				t.Fatalf("%v: %v holds parts from %v", parts, out[i], sum)
			}
		}
	}
}

// The two halves of a table beside each other: row k and row k + half; an odd last row stands alone, its neighbour empty.
func TestHalvesAbreast(t *testing.T) {
	for n := range 6 {
		table := &page.Table{Size: 2, Columns: []page.Column{{Head: "a"}, {Head: "b", Right: true}}}
		for i := range n {
			table.Rows = append(table.Rows, []string{fmt.Sprint("a", i), fmt.Sprint("b", i)})
		}
		out := abreast(table)
		if len(out.Columns) != 4 || out.Columns[3].Head != "b" || !out.Columns[3].Right || out.Size != 2 || len(out.Rows) != (n+1)/2 {
			t.Errorf("%d rows: %+v", n, out)
		}
		var left, right []string
		for _, r := range out.Rows {
			if len(r) != 4 {
				t.Fatalf("%d rows: %q", n, r)
			}
			left = append(left, r[0])
			if r[2] != "" {
				right = append(right, r[2])
			}
		}
		for i, name := range append(left, right...) {
			if name != fmt.Sprint("a", i) {
				t.Errorf("%d rows: %q then %q", n, left, right)
			}
		}
		if len(table.Columns) != 2 {
			t.Error("the table itself was changed")
		}
	}
}

// Columns in which all rows say the same leave the table and are said once under it, in their order; the first, which names the rows, stays.
func TestColumnsThatSayTheSame(t *testing.T) {
	table := &page.Table{Columns: []page.Column{{Head: "no."}, {Head: "use"}, {Head: "area"}, {Head: "why"}, {Head: "laid"}}, Rows: [][]string{{"1", "plane", "3", "", "boards"}, {"1", "plane", "4", "", "boards"}}}
	out, note := alikeDropped(table)
	var heads []string
	for _, c := range out.Columns {
		heads = append(heads, c.Head)
	}
	if fmt.Sprint(heads, out.Rows) != "[no. area] [[1 3] [1 4]]" || note != "use plane, laid boards" {
		t.Errorf("%v %v, note %q", heads, out.Rows, note)
	}
	if len(table.Columns) != 5 || len(table.Rows[0]) != 5 {
		t.Error("the table itself was changed")
	}
	other := without(table, 0)
	if fmt.Sprint(other.Rows) != "[[plane 3  boards] [plane 4  boards]]" || other.Columns[0].Head != "use" {
		t.Errorf("without the first column: %v", other)
	}
}

// Texts in two columns stand in their order, the first column no shorter than the second, and by no more than its last text.
func TestTextsInTwoColumns(t *testing.T) {
	for _, c := range []struct{ n, left int }{{1, 1}, {2, 1}, {3, 2}, {4, 2}, {7, 4}, {8, 4}} {
		var texts []string
		for i := range c.n {
			texts = append(texts, fmt.Sprint("text ", i))
		}
		f := page.New("a", 210, 297)
		top := f.Y()
		twoColumns(f, texts, page.Style{Size: 3})
		next, left := 0, 0
		for _, text := range textsOf(f.Pages[0]) {
			if text.String == "•" {
				continue
			}
			if text.String != fmt.Sprint("text ", next) {
				t.Errorf("%d texts: %q is number %d", c.n, text.String, next)
			}
			next++
			if text.At.X < 105 {
				left++
			}
		}
		// By hand: one line of 3 mm takes 3.9 mm and 1.05 after it.
		if next != c.n || left != c.left || !(math.Abs(f.Y()-top-4.95*float64(c.left)) <= 0.02) {
			t.Errorf("%d texts: %d stand, %d of them left, want %d; %v mm high", c.n, next, left, c.left, f.Y()-top)
		}
	}
}

// Heights of a section are drawn as many times larger as its room allows, by steps that people read: by hand, 10 m on 100 mm are 10 mm a metre, so that 26 mm hold 0.13 m 20 times
// larger, 0.129 m as well, 0.131 m only 15 times, 0.026 m 100 times, 2.6 m as they are, and what is higher still is not drawn smaller.
func TestHowManyTimesHeightsAreLarger(t *testing.T) {
	steps := []float64{100, 50, 40, 30, 25, 20, 15, 10, 8, 6, 5, 4, 3, 2, 1}
	for i, e := range steps {
		for _, c := range []struct{ rise, want float64 }{{2.6/e - 1e-6, e}, {2.6/e + 1e-3/e, steps[min(i+1, len(steps)-1)]}} {
			s := &section{from: orb.Point{0, 0}, to: orb.Point{10, 0}, at: []sample{{on: true, old: 5, now: 5 + c.rise}, {x: 10, on: true, old: 5, now: 5}, {x: 10, old: -50}}}
			f := fit(s, 100)
			if f.ex != c.want || f.k != 10 || f.low != 5 {
				t.Errorf("%v m: %v times, %v mm a metre, from %v; want %v times", c.rise, f.ex, f.k, f.low, c.want)
			}
			if at := f.point(3, 5+c.rise); at.X != 30 || !(math.Abs(at.Y-(36-10*c.want*c.rise)) <= 0.0051) {
				t.Errorf("%v m: drawn at %v", c.rise, at)
			}
		}
	}
	deck := &section{from: orb.Point{0, 0}, to: orb.Point{10, 0}, at: []sample{{on: true, old: 5, now: 5, deck: 4.5, deckKnown: true}, {on: true, old: 5, now: 5, deck: 1}}}
	if f := fit(deck, 100); f.low != 4.5 || f.ex != 5 { // 0.5 m of 10 mm a metre 5 times are 25 mm
		t.Errorf("with a deck: from %v, %v times", f.low, f.ex)
	}
	for short, want := range map[bool]string{true: "A–A, no. 1; heights × 15", false: "Section A–A, no. 1; heights 15 times larger than lengths"} {
		s := section{name: "A", why: "no. 1", short: short}
		if got := s.caption(&frame{ex: 15}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Names that stand within reach of each other become one label, in their order, without saying a thing twice.
func TestMarksThatStandTogether(t *testing.T) {
	got := joined([]mark{{1, "a"}, {1.2, "b"}, {1.1, "a"}, {3, "a"}, {3.5, "c"}}, 0.5)
	if want := []mark{{1, "a; b"}, {3, "a"}, {3.5, "c"}}; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// A line keeps its bends and loses what lies straight between them, to a fiftieth of a millimetre. Held to brute force: every point left out lies that near the line drawn.
func TestThinnedLines(t *testing.T) {
	straight := []scene.Point{{X: 0, Y: 0}, {X: 1, Y: 0.01}, {X: 2, Y: 0}, {X: 3, Y: 0}, {X: 4, Y: 5}, {X: 5, Y: 10}}
	if got := thin(straight); fmt.Sprint(got) != fmt.Sprint([]scene.Point{{X: 0, Y: 0}, {X: 3, Y: 0}, {X: 5, Y: 10}}) {
		t.Errorf("%v", got)
	}
	random := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		line := make([]scene.Point, 2+random.IntN(40))
		for i := range line {
			line[i] = scene.Point{X: float64(i), Y: math.Round(random.Float64()*3) * 0.015}
		}
		out := thin(line)
		if out[0] != line[0] || out[len(out)-1] != line[len(line)-1] {
			t.Fatalf("ends of %v in %v", line, out)
		}
		for _, p := range line {
			k := slices.IndexFunc(out, func(q scene.Point) bool { return q.X >= p.X })
			a, b := out[max(k-1, 0)], out[k]
			y := b.Y
			if b.X > a.X {
				y = a.Y + (p.X-a.X)/(b.X-a.X)*(b.Y-a.Y)
			}
			if !(math.Abs(y-p.Y) <= 0.0200001) {
				t.Fatalf("%v of %v lies %v off %v", p, line, y-p.Y, out)
			}
		}
	}
	a, b := []scene.Point{{X: 0, Y: 1}, {X: 1, Y: 5}}, []scene.Point{{X: 0, Y: 2}, {X: 1, Y: 3}} // y runs down
	if l, h := lower(a, b), higher(a, b); fmt.Sprint(l) != "[{0 2} {1 5}]" || fmt.Sprint(h) != "[{0 1} {1 3}]" {
		t.Errorf("the lower line %v, the higher %v", l, h)
	}
}

// Outlets on the layout: one that stays, one that is set anew with what it was, a new one, an edge by its lowest place; an overflow says so once.
func TestOutletsOfTheLayout(t *testing.T) {
	s := drawn(t, proud())
	h, err := newSheets(s)
	if err != nil {
		t.Fatal(err)
	}
	o := h.outlets()
	o[0].Invert, o[1].Invert = 10.005, 10
	for i, want := range []string{"D1|finished invert 10.005 m|was 10.030 m", "D2|invert 10.000 m, stays"} {
		if got := strings.Join(h.outletLines(&o[i]), "|"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	over := o[2]
	if got := strings.Join(h.outletLines(&over), "|"); got != over.Label+"  overflow|invert 10.150 m, stays" {
		t.Errorf("%q", got)
	}
	over.Label = "the overflow"
	if got := h.outletLines(&over)[0]; got != "the overflow" {
		t.Errorf("%q", got)
	}
	fresh := surface.Outlet{Label: "RD-9", Source: 99, Invert: 9.5}
	if h.option.Roof != nil {
		fresh.Source = len(h.option.Roof.Outlets)
	}
	if got := strings.Join(h.outletLines(&fresh), "|"); got != "RD-9|new, invert 9.500 m" {
		t.Errorf("%q", got)
	}
}

// What is said of a design in one sentence, by hand: 1.5 m3 over 30 m2, 50 mm on average.
func TestSentenceOfTheLayout(t *testing.T) {
	h := counted(record.SI, &takeoff.TakeOff{Area: 30, Covered: 30, Volume: 1.5, Average: 0.05, Greatest: 0.12, Cut: 0.25})
	if got := h.sentence(); got != "The surface of the roof stays as it is." {
		t.Errorf("without a design: %q", got)
	}
	h.design = &taper.Design{}
	if got := h.sentence(); got != "1.50 m³ of insulation over 30.0 m², 50 mm thick on average and 120 mm at the thickest place. 0.25 m³ of what is there comes out." {
		t.Errorf("%q", got)
	}
	h.TakeOff.Volume, h.TakeOff.Cut = 0, 0
	if got := h.sentence(); got != "No insulation is added." {
		t.Errorf("%q", got)
	}
	h.TakeOff.Area = 0
	if got := h.sentence(); got != "The surface of the roof stays as it is." {
		t.Errorf("nothing changed: %q", got)
	}
}
