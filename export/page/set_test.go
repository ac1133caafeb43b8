package page_test

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/page"
	"runnel/export/palette"
	"runnel/export/record"
)

// place is where a text is to stand: its place on the sheet [mm], on its base line.
type place struct {
	text string
	x, y float64
}

// placed returns all texts of a page by where they stand, in their order.
func placed(s *scene.Scene) []place {
	var all []place
	for _, l := range s.Layers {
		for _, t := range l.Texts {
			all = append(all, place{t.String, t.At.X, t.At.Y})
		}
	}
	return all
}

// stand fails the test where the texts of a page do not stand where they are to, to a hundredth of a millimetre.
func stand(t *testing.T, s *scene.Scene, want ...place) {
	t.Helper()
	got := placed(s)
	if len(got) != len(want) {
		t.Fatalf("%d texts, want %d: %v", len(got), len(want), got)
	}
	for i, w := range want {
		if g := got[i]; g.text != w.text || !(math.Abs(g.x-w.x) <= 0.0101) || !(math.Abs(g.y-w.y) <= 0.0101) {
			t.Errorf("text %d: %q at %.2f %.2f, want %q at %.2f %.2f", i, g.text, g.x, g.y, w.text, w.x, w.y)
		}
	}
}

// shapes returns all shapes of a page in their order.
func shapes(s *scene.Scene) []scene.Shape {
	var all []scene.Shape
	for _, l := range s.Layers {
		all = append(all, l.Shapes...)
	}
	return all
}

// ISO 216: A4 is 210 by 297 mm. ANSI/ASME Y14.1: size A, letter, is 8½ by 11 in of 25.4 mm: 215.9 by 279.4.
func TestPaper(t *testing.T) {
	for u, want := range map[record.Units][2]float64{record.SI: {210, 297}, record.US: {8.5 * 25.4, 11 * 25.4}} {
		if w, h := page.Paper(u); !(math.Abs(w-want[0]) <= 1e-9) || !(math.Abs(h-want[1]) <= 1e-9) {
			t.Errorf("%v: %v by %v, want %v", u, w, h, want)
		}
	}
}

// By hand, on A4 with margins of 14 mm beside, 15 above and 14 below: the first base line of a text of 3 mm is at 15 + 3 = 18, and the
// next lines follow at 1.3 times 3 = 3.9 mm.
func TestWhereLinesStand(t *testing.T) {
	f := flow()
	if f.X() != 14 || f.Y() != 15 || f.Width() != 182 || f.Left() != 268 || f.Room() != 268 || f.Top() != 15 || f.Bottom() != 283 {
		t.Errorf("an empty page of A4: x %v, y %v, width %v, left %v, room %v, from %v to %v", f.X(), f.Y(), f.Width(), f.Left(), f.Room(), f.Top(), f.Bottom())
	}
	f.Paragraph("one", style)
	f.Line("two", page.Style{Size: 3, Indent: 5, Bold: true, Colour: "#123456"})
	f.Paragraph("three", page.Style{Size: 2, Indent: 7})
	f.Skip(1.25)
	f.Line("four", style)
	f.Column(100, 50, 60)
	f.Line("five", style)
	f.Whole()
	f.Line("six", style)
	stand(t, f.Pages[0],
		place{"one", 14, 18}, place{"two", 19, 21.9}, place{"three", 21, 15 + 7.8 + 2}, place{"four", 14, 15 + 7.8 + 2.6 + 1.25 + 3},
		place{"five", 100, 53}, place{"six", 14, 56.9})
	if f.X() != 14 || f.Width() != 182 || f.Y() != 57.8 {
		t.Errorf("back in the whole column: x %v, width %v, y %v", f.X(), f.Width(), f.Y())
	}
	one, two := f.Pages[0].Layers[0].Texts[0], f.Pages[0].Layers[0].Texts[1]
	if one.Bold || one.Colour != palette.Ink || one.Size != 3 || one.Anchor != scene.Start {
		t.Errorf("a plain line: %+v", one)
	}
	if !two.Bold || two.Colour != "#123456" || !(math.Abs(two.Width-typeface.Width("two", 3, true)) <= 0.005) {
		t.Errorf("a bold, coloured line: %+v", two)
	}
}

// A paragraph that is set in by 30 mm ends no further right than one that is not.
func TestIndentKeepsTheEdge(t *testing.T) {
	for _, indent := range []float64{0, 30, 90} {
		f := flow()
		f.Paragraph(strings.Repeat("word ", 120), page.Style{Size: 3, Indent: indent})
		f.Line(strings.Repeat("word ", 120), page.Style{Size: 3, Indent: indent})
		widest := 0.0
		for _, text := range f.Pages[0].Layers[0].Texts {
			if text.At.X != 14+indent {
				t.Errorf("set in by %v: a line begins at %v", indent, text.At.X)
			}
			widest = max(widest, text.At.X+text.Width)
		}
		if !(widest <= 196) || widest < 196-typeface.Width(" word", 3, false) {
			t.Errorf("set in by %v: the widest line ends at %v of 196", indent, widest)
		}
	}
}

// By hand: the dot stands at the column's edge, its text 3.5 mm to the right, also where the text goes on below; 0.35 of the size is left
// free after each.
func TestBullets(t *testing.T) {
	f := flow()
	f.Column(20, 40, 19)
	f.Bullets([]string{"aaaaaaaa bbbbbbbb", "cc"}, page.Style{Size: 3})
	f.Bullets([]string{"dd"}, page.Style{Size: 3, Indent: 2})
	stand(t, f.Pages[0],
		place{"•", 20, 43}, place{"aaaaaaaa", 23.5, 43}, place{"bbbbbbbb", 23.5, 46.9},
		place{"•", 20, 40 + 7.8 + 1.05 + 3}, place{"cc", 23.5, 40 + 7.8 + 1.05 + 3},
		place{"•", 22, 40 + 11.7 + 2.1 + 3}, place{"dd", 25.5, 40 + 11.7 + 2.1 + 3})
}

// By hand: a line of 3 mm takes 3.9; with a hundredth less it goes to the next page.
func TestLineGoesToTheNextPage(t *testing.T) {
	for left, pages := range map[float64]int{3.91: 1, 3.89: 2} {
		for name, set := range map[string]func(f *page.Flow){
			"paragraph": func(f *page.Flow) { f.Paragraph("text", style) }, "line": func(f *page.Flow) { f.Line("text", style) },
			"facts": func(f *page.Flow) {
				f.Facts(&page.Facts{Rows: [][2]string{{"word", "text"}}, Style: style, Words: 30})
			},
		} {
			f := flow()
			f.Skip(f.Left() - left)
			if set(f); len(f.Pages) != pages {
				t.Errorf("%s with %v mm left: %d pages, want %d", name, left, len(f.Pages), pages)
			}
		}
	}
}

// A dot does not stay behind on a page whose text begins the next.
func TestDotGoesWithItsText(t *testing.T) {
	f := flow()
	f.Skip(f.Left() - 3.8)
	f.Bullets([]string{"text"}, style)
	if len(f.Pages) != 2 || len(texts(f.Pages[0])) != 0 {
		t.Fatalf("%d pages, on the first %q", len(f.Pages), texts(f.Pages[0]))
	}
	stand(t, f.Pages[1], place{"•", 14, 18}, place{"text", 17.5, 18})
}

// A paragraph gets 24 lines. One line more, and the last says by an ellipsis, in place of two letters, that something is left out.
func TestLongParagraphSaysThatItWasCut(t *testing.T) {
	for n, last := range map[int]string{23: "wordword23", 24: "wordword24", 25: "wordword …", 90: "wordword …"} {
		f := flow()
		f.Column(14, 15, 20)
		var words []string
		for i := range n {
			words = append(words, fmt.Sprintf("wordword%02d", i+1))
		}
		f.Paragraph(strings.Join(words, " "), style)
		got := texts(f.Pages[0])
		if len(got) != min(n, 24) || got[len(got)-1] != last {
			t.Errorf("%d words, one a line: %d lines, the last %q, want %q", n, len(got), got[len(got)-1], last)
		}
	}
}

// The sign stands also where the last line has two letters only, whatever the lines above; one of three keeps its first.
func TestShortLastLineSaysThatItWasCut(t *testing.T) {
	for last, want := range map[string]string{"ab": "ab …", "abc": "a …"} {
		f := flow()
		f.Column(14, 15, 10)
		f.Paragraph(strings.Repeat("wwww ", 23)+last+" wwww", style)
		if got := texts(f.Pages[0]); len(got) != 24 || got[23] != want {
			t.Errorf("%d lines, the last %q, want %q", len(got), got[len(got)-1], want)
		}
	}
}

// What a name holds comes onto the sheet as one text of plain letters: line breaks are blanks, what turns or hides text is gone, letters that
// the typeface lacks are question marks, and a word of more than 60 letters is cut.
func TestAnyNameOnALine(t *testing.T) {
	for name, c := range map[string]struct {
		want    string
		missing bool
	}{
		"Hall \"A\", <north>":     {"Hall \"A\", <north>", false},
		"two\nlines\tand a tab":   {"two lines and a tab", false},
		"turned \u202Ename\u202C": {"turned name", false},
		"Зал № 3 – Ωμέγα":         {"Зал № 3 – Ωμέγα", false},
		"גג":                      {"??", true},
		"سقف 7":                   {"??? 7", true},
		"why?":                    {"why?", false},
		"":                        {"", false},
		strings.Repeat("x", 60):   {strings.Repeat("x", 60), false},
		strings.Repeat("x", 61):   {record.Beginning(strings.Repeat("x", 61), 60), false},
	} {
		f := flow()
		f.Line(name, style)
		f.Heading(name, 10)
		if got := texts(f.Pages[0]); got[0] != c.want || got[1] != c.want || f.Missing != c.missing {
			t.Errorf("%q: on a line %q, as a heading %q, letters missing: %v", name, got[0], got[1], f.Missing)
		}
		if m := f.Pages[0].Marks; len(m) != 1 || m[0].Text != c.want {
			t.Errorf("%q: marked as %v", name, m)
		}
		if g := page.New(name, 210, 297); g.Pages[0].Title != record.Title(c.want) {
			t.Errorf("%q: as a title %q", name, g.Pages[0].Title)
		}
	}
	if got := record.Beginning(strings.Repeat("x", 61), 60); len([]rune(got)) > 60 {
		t.Errorf("a word of 61 letters is cut to %d", len([]rune(got)))
	}
}

// By hand: a heading at the top of a page begins there, 4.2 mm high; its rule lies 1.3 times 4.2 = 5.46 mm below, text 1.5 mm below that. One
// that follows something has 4 mm above it.
func TestWhereHeadingsStand(t *testing.T) {
	f := flow()
	f.Heading("first", 10)
	f.Line("text", style)
	f.Heading("second", 10)
	below := 15 + 5.46 + 1.5
	stand(t, f.Pages[0], place{"first", 14, 19.2}, place{"text", 14, below + 3}, place{"second", 14, below + 3.9 + 4 + 4.2})
	if marks := f.Pages[0].Marks; marks[0].Y != 15 || !(math.Abs(marks[1].Y-(below+7.9)) <= 0.0101) {
		t.Errorf("marks at %v", marks)
	}
	rules := shapes(f.Pages[0])
	if len(rules) != 2 || rules[0].Width != 0.4 || rules[0].Stroke != palette.Ink || rules[0].Closed {
		t.Fatalf("rules %+v", rules)
	}
	if want := []scene.Point{{X: 14, Y: 20.46}, {X: 196, Y: 20.46}}; !reflect.DeepEqual(rules[0].Paths[0], want) {
		t.Errorf("the rule lies at %v, want %v", rules[0].Paths[0], want)
	}
	if got := f.Pages[0].Layers[0].Texts[0]; got.Size != 4.2 || !got.Bold {
		t.Errorf("the heading: %+v", got)
	}
}

// By hand: a heading takes 5.46 mm and 2 mm for its rule; below a text it begins 4 mm lower. With 30 mm asked for below it stays where
// 4 + 37.46 mm are left, and goes on to the next page where it is a twentieth less.
func TestHeadingGoesToTheNextPage(t *testing.T) {
	for left, pages := range map[float64]int{41.51: 1, 41.41: 2} {
		f := flow()
		f.Skip(f.Left() - left)
		f.Heading("section", 30)
		if len(f.Pages) != pages {
			t.Errorf("with %v mm left: on page %d, want %d", left, len(f.Pages), pages)
		}
	}
}

// What fits exactly stays on the page.
func TestNeed(t *testing.T) {
	f := flow()
	f.Column(14, 273, 182)
	if f.Need(10); len(f.Pages) != 1 || f.Y() != 273 {
		t.Errorf("10 mm of 10: %d pages, at %v", len(f.Pages), f.Y())
	}
	if f.Need(10.01); len(f.Pages) != 2 || f.Y() != 15 {
		t.Errorf("10.01 mm of 10: %d pages, at %v", len(f.Pages), f.Y())
	}
}

// By hand: number and foot stand on one line, 6.5 - 0.8 times 2.4 = 4.58 mm above the lower edge, between the margins beside; the head 9 mm
// below the upper edge. A sheet of another size has them at its own edges.
func TestWhereFeetStand(t *testing.T) {
	f := flow()
	f.Insert(&scene.Scene{Width: 300, Height: 200}, "drawing")
	f.Line("text", style)
	f.Number("head", "foot")
	low := 297 - 4.58
	stand(t, f.Pages[0], place{"foot", 14, low}, place{"page 1 of 3", 196, low})
	stand(t, f.Pages[1], place{"foot", 14, 200 - 4.58}, place{"page 2 of 3", 286, 200 - 4.58})
	stand(t, f.Pages[2], place{"text", 14, 18}, place{"foot", 14, low}, place{"page 3 of 3", 196, low}, place{"head", 14, 9})
	for _, text := range f.Pages[2].Layer("foot").Texts {
		if text.Size != 2.4 || text.Bold || text.Colour != palette.Ink || (text.Anchor == scene.End) != strings.HasPrefix(text.String, "page") {
			t.Errorf("foot and head: %+v", text)
		}
		if !(math.Abs(text.Width-typeface.Width(text.String, 2.4, false)) <= 0.005) {
			t.Errorf("%q is said to be %v wide", text.String, text.Width)
		}
	}
}

// However long the roof's name, the foot ends 4 mm before the number and the head within the margins.
func TestLongFeetAreCut(t *testing.T) {
	f := flow()
	f.Add()
	f.Number(strings.Repeat("head ", 60), strings.Repeat("i ", 400))
	foot, number, head := f.Pages[1].Layer("foot").Texts[0], f.Pages[1].Layer("foot").Texts[1], f.Pages[1].Layer("foot").Texts[2]
	letter := typeface.Width("foot …", 2.4, false)
	if want := typeface.Cut(strings.TrimSpace(strings.Repeat("i ", 400)), 2.4, 182-number.Width-4, false); foot.String != want {
		t.Errorf("the foot is %d letters long, want %d: as many as leave 4 mm of the 182", len([]rune(foot.String)), len([]rune(want)))
	}
	if gap := number.At.X - number.Width - foot.At.X - foot.Width; !(gap >= 3.99) {
		t.Errorf("%v mm between foot and number", gap)
	}
	if end := head.At.X + head.Width; !(end <= 196 && end >= 196-letter) {
		t.Errorf("the head ends at %v of 196", end)
	}
	if !strings.HasSuffix(foot.String, "…") || !strings.HasSuffix(head.String, "…") {
		t.Errorf("cut without a sign: %q, %q", foot.String, head.String)
	}
}

// A sheet that is drawn elsewhere is a page of the document with a mark at its top; the drawing itself, which others show, stays as it was.
func TestInsertLeavesTheDrawing(t *testing.T) {
	s := &scene.Scene{Width: 300, Height: 200, Title: "plan", Marks: []scene.Mark{{Text: "own", Y: 3}}}
	s.Layer("a").Line("#000000", 0.2, nil, scene.Point{X: 1, Y: 2}, scene.Point{X: 4, Y: 6})
	f := flow()
	f.Insert(s, "drawing")
	f.Number("", "foot")
	if want := []scene.Mark{{Text: "own", Y: 3}, {Text: "drawing", Y: 0}}; !reflect.DeepEqual(f.Pages[1].Marks, want) {
		t.Errorf("marks %v, want %v", f.Pages[1].Marks, want)
	}
	if len(s.Layers) != 1 || len(s.Marks) != 1 {
		t.Errorf("the drawing got %d layers and %d marks", len(s.Layers), len(s.Marks))
	}
	if f.Left() > 0 {
		t.Errorf("%v mm are left below a drawing", f.Left())
	}
}

// A drawing that is placed keeps its measures, styles, texts and order, and is not itself moved.
func TestPlaceKeepsTextsAndOrder(t *testing.T) {
	s := &scene.Scene{Width: 10, Height: 10}
	s.Layer("low").Box(scene.Rect{X: 1, Y: 2, W: 3, H: 4}, "#FF0000", "#00FF00", 0.3)
	s.Layer("high").Texts = []scene.Text{{At: scene.Point{X: 5, Y: 6}, String: "12 mm", Size: 2, Turned: true}}
	f := flow()
	f.Line("above", style)
	f.Place(s, scene.Point{X: 30, Y: 40})
	f.Place(s, scene.Point{X: 60, Y: 70})
	stand(t, f.Pages[0], place{"above", 14, 18}, place{"12 mm", 35, 46}, place{"12 mm", 65, 76})
	boxes := shapes(f.Pages[0])
	for i, to := range [][2]float64{{30, 40}, {60, 70}} {
		want := scene.Rect{X: 1 + to[0], Y: 2 + to[1], W: 3, H: 4}.Corners()
		if !reflect.DeepEqual(boxes[i].Paths[0], want) || boxes[i].Fill != "#FF0000" || boxes[i].Stroke != "#00FF00" || boxes[i].Width != 0.3 || !boxes[i].Closed {
			t.Errorf("box %d: %+v, want %v", i, boxes[i], want)
		}
	}
	names := map[string]bool{}
	for _, l := range f.Pages[0].Layers {
		names[l.Name] = true
	}
	if len(f.Pages[0].Layers) != 5 || len(names) != 5 {
		t.Errorf("%d layers under %d names, want 5: the page's and two a drawing", len(f.Pages[0].Layers), len(names))
	}
	if s.Layers[0].Shapes[0].Paths[0][0] != (scene.Point{X: 1, Y: 2}) || s.Layers[1].Texts[0].At != (scene.Point{X: 5, Y: 6}) {
		t.Error("the drawing itself was moved")
	}
}

// By hand: the box of a tinted word is 3 mm wider than the word, which stands 1.5 mm inside, and 1.45 of its size high; the line goes on
// where it was.
func TestTint(t *testing.T) {
	f := flow()
	f.Column(20, 50, 100)
	w := f.Tint("over", "#FFEEDD", "#112233", 4)
	want := typeface.Width("over", 4, true) + 3
	if !(math.Abs(w-want) <= 0.005) || f.Y() != 50 || f.X() != 20 {
		t.Errorf("%v mm wide, want %v; the next at %v %v", w, want, f.X(), f.Y())
	}
	stand(t, f.Pages[0], place{"over", 21.5, 50 + 0.48 + 4})
	box := shapes(f.Pages[0])[0]
	if !reflect.DeepEqual(box.Paths[0], scene.Rect{X: 20, Y: 50, W: w, H: 5.8}.Corners()) || box.Fill != "#FFEEDD" || box.Stroke != palette.Ink || box.Width != 0.2 {
		t.Errorf("the box: %+v", box)
	}
	if text := f.Pages[0].Layers[0].Texts[0]; text.Colour != "#112233" || !text.Bold || !text.Bounds().Within(scene.Rect{X: 20, Y: 50, W: w, H: 5.8}) {
		t.Errorf("the word: %+v", text)
	}
}
