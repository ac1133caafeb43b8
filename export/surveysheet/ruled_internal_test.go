package surveysheet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/page"
	"runnel/export/record"
)

// drawn returns the texts and shapes of a page.
func drawn(s *scene.Scene) (texts []scene.Text, shapes []scene.Shape) {
	for _, l := range s.Layers {
		texts, shapes = append(texts, l.Texts...), append(shapes, l.Shapes...)
	}
	return texts, shapes
}

// rules returns where the level and the upright lines of a page lie, each as its place, beginning and end.
func rules(s *scene.Scene) (level, upright [][3]float64) {
	_, shapes := drawn(s)
	for i := range shapes {
		if a, b := shapes[i].Paths[0][0], shapes[i].Paths[0][1]; a.Y == b.Y {
			level = append(level, [3]float64{a.Y, a.X, b.X})
		} else {
			upright = append(upright, [3]float64{a.X, a.Y, b.Y})
		}
	}
	return level, upright
}

// alike fails the test where numbers are not those that are wanted, to a hundredth.
func alike(t *testing.T, what string, got, want [][3]float64) {
	t.Helper()
	ok := len(got) == len(want)
	for i := range want {
		for k := range 3 {
			ok = ok && math.Abs(got[i][k]-want[i][k]) <= 0.0101
		}
	}
	if !ok {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// room fails the test where a text of a page covers another or leaves the sheet.
func room(t *testing.T, pages []*scene.Scene) {
	t.Helper()
	for n, p := range pages {
		texts, _ := drawn(p)
		for i := range texts {
			if !texts[i].Bounds().Within(scene.Rect{W: p.Width, H: p.Height}.Inset(4)) {
				t.Errorf("page %d: %q leaves the sheet", n+1, texts[i].String)
			}
			for k := range i {
				if texts[i].Bounds().Overlaps(texts[k].Bounds()) {
					t.Errorf("page %d: %q covers %q", n+1, texts[i].String, texts[k].String)
				}
			}
		}
	}
}

func sheetFlow() *page.Flow {
	w, h := page.Paper(record.SI)
	return page.New("sheet", w, h)
}

// By hand: of 182 mm columns of 1 and 3 parts take 45.5 and 136.5; under heads 8 mm high rows are 8 mm apart. Texts stand 0.6 mm inside their cell.
func TestWhereRowsLie(t *testing.T) {
	f := sheetFlow()
	ruled(f, []column{{"name", 1}, {"rod at|1 ft", 3}}, [][]string{{"D1", "4' 3\""}}, 3, tall)
	level, upright := rules(f.Pages[0])
	alike(t, "rows", level, [][3]float64{{23, 14, 196}, {31, 14, 196}, {39, 14, 196}, {47, 14, 196}})
	alike(t, "columns", upright, [][3]float64{{14, 23, 47}, {59.5, 23, 47}, {196, 23, 47}})
	texts, _ := drawn(f.Pages[0])
	for i, want := range []struct {
		text string
		x, y float64
		bold bool
	}{{"name", 14.6, 18.2, true}, {"rod at", 60.1, 18.2, true}, {"1 ft", 60.1, 21.2, true}, {"D1", 14.6, 25.9, false}, {`4' 3"`, 60.1, 25.9, false}} {
		g := texts[i]
		if g.String != want.text || !(math.Abs(g.At.X-want.x) <= 0.0101) || !(math.Abs(g.At.Y-want.y) <= 0.0101) || g.Bold != want.bold {
			t.Errorf("text %d: %q at %v, bold %v; want %+v", i, g.String, g.At, g.Bold, want)
		}
	}
	if f.Y() != 47 {
		t.Errorf("the next at %v", f.Y())
	}
}

// By hand: under heads of 8 mm and a millimetre to spare 268 mm of A4 hold 32 rows of 8 mm (32.4); 200 known rows take 6 pages of 32 and one of 8.
// Each row stands once, and each page has the heads.
func TestKnownRowsGoOnOverPages(t *testing.T) {
	var known [][]string
	for i := range 200 {
		known = append(known, []string{fmt.Sprint("D", i), "drain"})
	}
	f := sheetFlow()
	ruled(f, []column{{"name", 1}, {"kind", 1}}, known, 202, tall)
	next, counts := 0, []int{}
	for _, p := range f.Pages {
		texts, _ := drawn(p)
		if texts[0].String != "name" || texts[1].String != "kind" {
			t.Errorf("a page begins with %q", texts[0].String)
		}
		counts = append(counts, (len(texts)-2)/2)
		for i := 2; i < len(texts); i += 2 {
			if texts[i].String != fmt.Sprint("D", next) {
				t.Errorf("row %d: %q", next, texts[i].String)
			}
			next++
		}
	}
	if want := []int{32, 32, 32, 32, 32, 32, 8}; fmt.Sprint(counts) != fmt.Sprint(want) {
		t.Errorf("rows a page %v, want %v", counts, want)
	}
	if level, _ := rules(f.Pages[6]); len(level) != 11 { // 8 known and 2 empty rows
		t.Errorf("%d lines on the last page, want 11", len(level))
	}
	room(t, f.Pages)
}

// Empty rows fill a page and no second one; known rows count even where fewer were asked for.
func TestEmptyRowsEndWithThePage(t *testing.T) {
	f := sheetFlow()
	ruled(f, []column{{"name", 1}}, nil, 60, low)
	if level, _ := rules(f.Pages[0]); len(f.Pages) != 1 || len(level) != 48 || f.Left() < 1 { // (268 - 9) / 5.5 = 47.1
		t.Errorf("%d pages, %d lines on the first, %v mm left", len(f.Pages), len(level), f.Left())
	}
	f = sheetFlow()
	ruled(f, []column{{"pond", 1}}, [][]string{{"1"}, {"2"}, {"3"}}, 2, tall)
	if texts, _ := drawn(f.Pages[0]); len(texts) != 4 || texts[3].String != "3" {
		t.Errorf("of three ponds stand %d texts", len(texts)-1)
	}
	f = sheetFlow()
	f.Skip(f.Left() - 5)
	ruled(f, []column{{"pond", 1}}, [][]string{{"1"}}, 1, tall)
	if texts, _ := drawn(f.Pages[len(f.Pages)-1]); len(f.Pages) != 2 || len(texts) != 2 {
		t.Errorf("a known row at the foot of a page: %d pages, %d texts on the last", len(f.Pages), len(texts))
	}
}

// A cell holds two lines, 3.1 mm apart; what does not go into them is cut with a sign. No line leaves its cell.
func TestCellOfTwoLines(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"", nil},
		{"drain", []string{"drain"}},
		{"40 ft from W wall, 30 ft from", []string{"40 ft from W", "wall, 30 ft from"}},
		{"40 ft from W wall, 30 ft from S", []string{"40 ft from W", "wall, 30 ft fro…"}}, // three lines
		{"40 ft from W wall, 30 ft from S wall of the hall", []string{"40 ft from W", "wall, 30 ft fro…"}},
	} {
		l := &scene.Layer{}
		cell(l, c.text, scene.Rect{X: 10, Y: 20, W: 18, H: 8})
		if len(l.Texts) != len(c.want) {
			t.Errorf("%q: %d lines, want %q", c.text, len(l.Texts), c.want)
			continue
		}
		for i, text := range l.Texts {
			if text.String != c.want[i] || text.At.X != 10.6 || !(math.Abs(text.At.Y-(22.9+3.1*float64(i))) <= 1e-9) {
				t.Errorf("%q: line %d is %q at %v, want %q", c.text, i, text.String, text.At, c.want[i])
			}
			if !text.Bounds().Within(scene.Rect{X: 10, Y: 20, W: 18, H: 8}) {
				t.Errorf("%q leaves its cell", text.String)
			}
		}
	}
}

// By hand: fields of 2, 1 and 1 parts of 182 mm begin at 0, 91 and 136.5; the line to write on lies 0.4 mm above the row's foot and ends 2 mm before the
// next field. What is known stands on the line, bold.
func TestFieldsToWriteOn(t *testing.T) {
	f := sheetFlow()
	lines(f, []field{{"Roof", "Hall", 2}, {"Date", "", 1}, {"Who", "", 1}})
	level, _ := rules(f.Pages[0])
	alike(t, "lines", level, [][3]float64{{22.6, 14, 103}, {22.6, 105, 148.5}, {22.6, 150.5, 194}})
	texts, _ := drawn(f.Pages[0])
	var got []string
	for _, text := range texts {
		got = append(got, fmt.Sprintf("%s %.1f %.1f %v", text.String, text.At.X, text.At.Y, text.Bold))
		if text.Width != typeface.Width(text.String, text.Size, text.Bold) {
			t.Errorf("%q is said to be %v wide", text.String, text.Width)
		}
	}
	if want := "Roof 14.0 17.8 false|Hall 15.0 21.8 true|Date 105.0 17.8 false|Who 150.5 17.8 false"; strings.Join(got, "|") != want {
		t.Errorf("%s, want %s", strings.Join(got, "|"), want)
	}
	if f.Y() != 23 {
		t.Errorf("the next at %v", f.Y())
	}
}

// A row of fields that does not fit goes to the next page whole.
func TestFieldsStayTogether(t *testing.T) {
	for left, pages := range map[float64]int{8.01: 1, 7.99: 2} {
		f := sheetFlow()
		f.Skip(f.Left() - left)
		if lines(f, []field{{"Roof", "", 1}}); len(f.Pages) != pages {
			t.Errorf("with %v mm left: %d pages, want %d", left, len(f.Pages), pages)
		}
	}
}

func TestHeadsInHalves(t *testing.T) {
	for head, want := range map[string][2]string{"name": {"name", ""}, "rod at|1 ft": {"rod at", "1 ft"}, "": {"", ""}, "a|b|c": {"a", "b|c"}} {
		if first, second := halves(head); first != want[0] || second != want[1] {
			t.Errorf("%q: %q and %q", head, first, second)
		}
	}
}

// However long a roof's name, it ends with its line and does not run into the next field.
func TestLongNameEndsWithItsLine(t *testing.T) {
	f := sheetFlow()
	lines(f, []field{{"Roof", strings.Repeat("Hall ", 40), 2}, {"Building", "Works", 2}, {"Date", "", 1}})
	texts, _ := drawn(f.Pages[0])
	if name := texts[1]; !strings.HasSuffix(name.String, "…") || !(name.At.X+name.Width <= 14+182*0.4-2) || name.At.X+name.Width < 14+182*0.4-2-8 {
		t.Errorf("%q ends at %v of %v", name.String, name.At.X+name.Width, 14+182*0.4-2)
	}
	room(t, f.Pages)
}
