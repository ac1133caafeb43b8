package page_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/page"
	"runnel/export/palette"
)

// plainTable has two columns, the second with numbers at its right edge.
func plainTable(rows ...[]string) *page.Table {
	return &page.Table{Size: 3, Columns: []page.Column{{Head: "what"}, {Head: "how much", Right: true}}, Rows: rows}
}

// By hand, with texts of 3 mm: a line is 3.9 mm high, with 0.7 mm above and below 5.3. The heads' base line is at 15 + 0.7 + 3, that of
// the first row 5.3 lower. Texts begin 1.8 mm inside the table, numbers end 1.8 mm before its right edge.
func TestWhereCellsStand(t *testing.T) {
	f := flow()
	f.Table(plainTable([]string{"pond", "12"}, []string{"", "3"}))
	stand(t, f.Pages[0],
		place{"what", 15.8, 18.7}, place{"how much", 194.2, 18.7}, place{"pond", 15.8, 24}, place{"12", 194.2, 24}, place{"3", 194.2, 29.3})
	if f.Y() != 15+3*5.3 {
		t.Errorf("the table ends at %v, want %v", f.Y(), 15+3*5.3)
	}
	drawn := shapes(f.Pages[0])
	if len(drawn) != 3 || !reflect.DeepEqual(drawn[0].Paths[0], scene.Rect{X: 14, Y: 15, W: 182, H: 5.3}.Corners()) || drawn[0].Fill != "#E4E4EA" || drawn[0].Stroke != "" {
		t.Fatalf("%d shapes, the first %+v", len(drawn), drawn[0])
	}
	for i, y := range []float64{25.6, 30.9} {
		p := drawn[i+1].Paths[0]
		if drawn[i+1].Width != 0.15 || p[0].X != 14 || p[1].X != 196 || !(math.Abs(p[0].Y-y) <= 0.0101) || p[0].Y != p[1].Y {
			t.Errorf("the line below row %d: %+v, want at %v", i, drawn[i+1], y)
		}
	}
	for _, text := range f.Pages[0].Layers[0].Texts {
		if head := text.String == "what" || text.String == "how much"; text.Bold != head || text.Size != 3 || (text.Anchor == scene.End) == (text.At.X < 100) {
			t.Errorf("a cell: %+v", text)
		}
	}
}

// By hand: a column is as wide as its widest text with 1.8 mm on both sides and 0.1 mm to spare; what is left of the width is shared
// out in these parts.
func TestColumnsByTheirTexts(t *testing.T) {
	f := flow()
	table := plainTable([]string{"pond", "12"})
	table.Columns = []page.Column{{Head: "a"}, {Head: "b"}, {Head: "c"}}
	table.Rows = [][]string{{"wide text here", "x", "middling"}}
	f.Table(table)
	room := func(s string) float64 { return typeface.Width(s, 3, false) + 0.1 + 3.6 }
	first, second, third := room("wide text here"), room("x"), room("middling")
	if bold := typeface.Width("b", 3, true) + 3.7; bold > second {
		second = bold // the head is the wider
	}
	part := 182 / (first + second + third)
	stand(t, f.Pages[0],
		place{"a", 15.8, 18.7}, place{"b", 15.8 + first*part, 18.7}, place{"c", 15.8 + (first+second)*part, 18.7},
		place{"wide text here", 15.8, 24}, place{"x", 15.8 + first*part, 24}, place{"middling", 15.8 + (first+second)*part, 24})
}

// By hand: a head asks for no more than 1.6 times its longest word, since it may stand on two lines.
func TestHeadsOnTwoLines(t *testing.T) {
	f := flow()
	f.Table(&page.Table{Size: 3, Columns: []page.Column{{Head: "wordword wordword"}, {Head: "c"}}, Rows: [][]string{{"x", "wide text here"}}})
	first, second := 1.6*(typeface.Width("wordword", 3, true)+0.1)+3.6, typeface.Width("wide text here", 3, false)+0.1+3.6
	if got := placed(f.Pages[0]); got[0].text != "wordword wordword" || got[1].text != "c" || !(math.Abs(got[1].x-14-first*182/(first+second)-1.8) <= 0.02) {
		t.Errorf("heads %v, want the second at %v", got[:2], 14+first*182/(first+second)+1.8)
	}
}

// By hand: 268 mm of A4 are free; heads of 5.3 mm leave room for 49 rows of 5.3 a page (49.6), so that of 100 rows the third page has two.
func TestRowsOfAPage(t *testing.T) {
	table := plainTable()
	for i := range 100 {
		table.Rows = append(table.Rows, []string{fmt.Sprint("row ", i), "1"})
	}
	f := flow()
	f.Table(table)
	var got []int
	for _, p := range f.Pages {
		got = append(got, strings.Count(strings.Join(texts(p), "|"), "row "))
		if first := placed(p)[0]; first.text != "what" || !(math.Abs(first.y-18.7) <= 1e-9) {
			t.Errorf("a page begins with %v", first)
		}
	}
	if want := []int{49, 49, 2}; !reflect.DeepEqual(got, want) {
		t.Errorf("rows a page: %v, want %v", got, want)
	}
	within(t, f)
}

// A table begins on a page only where its heads and its first row fit: by hand 5.3 + 5.3 mm, and 5.3 more with heads over several columns.
func TestTableBeginsWithARow(t *testing.T) {
	for _, c := range []struct {
		left   float64
		groups []page.Group
		pages  int
	}{
		{10.61, nil, 1}, {10.59, nil, 2}, {15.91, []page.Group{{Head: "both", Over: 2}}, 1}, {15.89, []page.Group{{Head: "both", Over: 2}}, 2},
	} {
		f := flow()
		f.Skip(f.Left() - c.left)
		table := plainTable([]string{"pond", "12"})
		table.Groups = c.groups
		f.Table(table)
		stands := texts(f.Pages[len(f.Pages)-1])
		if len(f.Pages) != c.pages || len(texts(f.Pages[0])) > 0 != (c.pages == 1) || slices.Contains(stands, "both") != (c.groups != nil) {
			t.Errorf("with %v mm left: %d pages, on the first %q", c.left, len(f.Pages), texts(f.Pages[0]))
		}
	}
}

// A table without rows sets nothing: heads alone say nothing.
func TestTableWithoutRows(t *testing.T) {
	f := flow()
	f.Table(plainTable())
	if len(placed(f.Pages[0])) > 0 || len(shapes(f.Pages[0])) > 0 || f.Y() != 15 {
		t.Errorf("set %v, the next at %v", placed(f.Pages[0]), f.Y())
	}
}

// By hand: heads over several columns stand in the middle of these, above the columns' own; a white line parts them over the height of
// both, 2 by 5.3 mm. Four columns of the same texts are 182 / 4 = 45.5 mm wide.
func TestHeadsOverColumns(t *testing.T) {
	f := flow()
	f.Table(&page.Table{
		Size: 3, Groups: []page.Group{{Head: "before", Over: 1}, {Head: "after", Over: 3}},
		Columns: []page.Column{{Head: "aa"}, {Head: "aa"}, {Head: "aa"}, {Head: "aa"}},
		Rows:    [][]string{{"b", "b", "b", "b"}},
	})
	want := []place{{"before", 14 + 22.75, 18.7}, {"after", 14 + 45.5 + 68.25, 18.7}}
	for _, row := range []place{{"aa", 15.8, 24}, {"b", 15.8, 29.3}} {
		for i := range 4 {
			want = append(want, place{row.text, row.x + 45.5*float64(i), row.y})
		}
	}
	stand(t, f.Pages[0], want...)
	drawn := shapes(f.Pages[0])
	if !reflect.DeepEqual(drawn[0].Paths[0], scene.Rect{X: 14, Y: 15, W: 182, H: 10.6}.Corners()) {
		t.Errorf("the heads' ground: %v", drawn[0].Paths[0])
	}
	parting := drawn[1]
	if want := []scene.Point{{X: 59.5, Y: 15}, {X: 59.5, Y: 25.6}}; !reflect.DeepEqual(parting.Paths[0], want) || parting.Stroke != "#FFFFFF" || parting.Width != 0.4 || len(drawn) != 3 {
		t.Errorf("%d shapes, between the heads %+v, want %v", len(drawn), parting, want)
	}
	for _, text := range f.Pages[0].Layers[0].Texts[:2] {
		if text.Anchor != scene.Middle || !text.Bold {
			t.Errorf("a head over columns: %+v", text)
		}
	}
}

// A head over columns that is wider than these is cut, so that it does not run into its neighbour.
func TestLongHeadOverColumns(t *testing.T) {
	f := flow()
	f.Table(&page.Table{
		Size: 3, Groups: []page.Group{{Head: strings.Repeat("before ", 20), Over: 1}, {Head: strings.Repeat("after ", 30), Over: 1}},
		Columns: []page.Column{{Head: "aa"}, {Head: "aa"}}, Rows: [][]string{{"b", "b"}},
	})
	for i, text := range f.Pages[0].Layers[0].Texts[:2] {
		if middle := 59.5 + 91*float64(i); !strings.HasSuffix(text.String, "…") || !(math.Abs(text.At.X-middle) <= 0.0101) || !(text.Width <= 91-1.8) {
			t.Errorf("%q at %v, %v mm wide; its column is 91 mm wide about %v", text.String, text.At.X, text.Width, middle)
		}
	}
	within(t, f)
}

// A head of one line stands at the foot of heads of two, just above its column; the ground is as high as both lines.
func TestHeadsStandAtTheBottom(t *testing.T) {
	f := flow()
	f.Column(14, 15, 32)
	f.Table(&page.Table{Size: 3, Columns: []page.Column{{Head: "id"}, {Head: "aaaaaaaa bbbbbbbb"}}, Rows: [][]string{{"1", "cc"}}})
	second := placed(f.Pages[0])[1].x
	if second < 16 {
		t.Fatalf("the second column begins at %v", second)
	}
	stand(t, f.Pages[0], place{"id", 15.8, 22.6}, place{"aaaaaaaa", second, 18.7}, place{"bbbbbbbb", second, 22.6},
		place{"1", 15.8, 15 + 9.2 + 3.7}, place{"cc", second, 15 + 9.2 + 3.7})
	if ground := shapes(f.Pages[0])[0].Paths[0]; !reflect.DeepEqual(ground, scene.Rect{X: 14, Y: 15, W: 32, H: 9.2}.Corners()) {
		t.Errorf("the heads' ground: %v", ground)
	}
}

// By hand: a cell gets six lines, the last of which says that there was more; its row is 6 by 3.9 + 1.4 = 24.8 mm high.
func TestLongCell(t *testing.T) {
	for n, last := range map[int]string{5: "wordword05", 6: "wordword06", 7: "wordword …"} {
		f := flow()
		f.Column(14, 15, 50)
		var words []string
		for i := range n {
			words = append(words, fmt.Sprintf("wordword%02d", i+1))
		}
		f.Table(plainTable([]string{strings.Join(words, " "), strings.Repeat("9", 12)}))
		var cell []string
		for _, s := range texts(f.Pages[0]) {
			if strings.HasPrefix(s, "word") {
				cell = append(cell, s)
			}
		}
		lines := min(n, 6)
		if len(cell) != lines || cell[lines-1] != last {
			t.Errorf("%d words: %q, want %d lines and %q last", n, cell, lines, last)
		}
		heads := len(texts(f.Pages[0])) - lines - 1 // "what", "how much" on one line or two
		if high := f.Y() - 15 - (float64(heads-1)*3.9 + 1.4); !(math.Abs(high-(3.9*float64(lines)+1.4)) <= 0.0101) {
			t.Errorf("%d words: the row is %v mm high, want %v", n, high, 3.9*float64(lines)+1.4)
		}
	}
}

// By hand: a column that would take 150 mm gets 110 and its 3.6 mm of margin where another needs room, which then keeps all that it asks for.
func TestWideColumnGivesWay(t *testing.T) {
	long, short := strings.TrimSpace(strings.Repeat("wordword ", 12)), "another text of some words"
	if w := typeface.Width(long, 3, false); w < 140 || len(long) > 200 {
		t.Fatalf("the long text is %v mm wide", w)
	}
	f := flow()
	f.Table(&page.Table{Size: 3, Columns: []page.Column{{Head: "a"}, {Head: "b"}}, Rows: [][]string{{long, short}}})
	other := typeface.Width(short, 3, false) + 0.1 + 3.6
	want := 14 + 113.6*182/(113.6+other) + 1.8
	if got := placed(f.Pages[0])[1]; got.text != "b" || !(math.Abs(got.x-want) <= 0.02) {
		t.Errorf("the second column: %v, want at %v", got, want)
	}
	if got := placed(f.Pages[0]); len(got) != 5 || got[4].text != short {
		t.Errorf("the short text is broken: %v", got)
	}
}

// No word is broken where all longest words fit beside each other, however narrow that is: here to a millimetre.
func TestWordsStayWholeWhereTheyFit(t *testing.T) {
	cells := []string{"Wordword", "some more texts that could go", "Floating"}
	f := flow()
	width := 1.0
	for _, word := range []string{"Wordword", "could", "Floating"} {
		width += typeface.Width(word, 3, false) + 0.1 + 3.6
	}
	f.Column(14, 15, width)
	f.Table(&page.Table{Size: 3, Columns: []page.Column{{Head: "a"}, {Head: "b"}, {Head: "c"}}, Rows: [][]string{cells}})
	stands := texts(f.Pages[0])
	for _, word := range strings.Fields(strings.Join(cells, " ")) {
		if !strings.Contains(strings.Join(stands, " ")+" ", word+" ") {
			t.Errorf("%q is broken in %q", word, stands)
		}
	}
	within(t, f)
}

// A word of 60 letters makes its column 40 mm wide and no wider where another text needs the room; it is broken there, and all its letters
// stand.
func TestLongWordIsBroken(t *testing.T) {
	word, other := strings.Repeat("mn", 30), strings.TrimSpace(strings.Repeat("other words ", 12))
	f := flow()
	f.Column(14, 15, 60)
	f.Table(&page.Table{Size: 3, Columns: []page.Column{{Head: "a"}, {Head: "b"}}, Rows: [][]string{{word, other}}})
	got, second := "", 0.0
	for _, p := range placed(f.Pages[0]) {
		if p.x == 15.8 && p.text != "a" {
			got += p.text
		} else if p.text == "b" {
			second = p.x
		}
	}
	if got != word {
		t.Errorf("of the word stands %q", got)
	}
	if !(math.Abs(second-14-43.6-1.8) <= 0.02) {
		t.Errorf("the second column begins at %v", second)
	}
	within(t, f)
}

// By hand: words of facts stand bold at the column's edge, their texts 30 mm to the right of it, the next fact a gap lower; the height said
// beforehand is the height taken.
func TestFacts(t *testing.T) {
	f := flow()
	f.Column(20, 40, 100)
	facts := &page.Facts{Rows: [][2]string{{"roof", "Hall"}, {"", "second"}, {"empty", ""}}, Style: style, Words: 30, Gap: 1}
	if high := f.Height(facts); !(math.Abs(high-3*4.9) <= 1e-9) {
		t.Errorf("said to be %v mm high, want 14.7", high)
	}
	f.Facts(facts)
	stand(t, f.Pages[0], place{"roof", 20, 43}, place{"Hall", 50, 43}, place{"second", 50, 47.9}, place{"empty", 20, 52.8})
	if !(math.Abs(f.Y()-54.7) <= 0.0101) {
		t.Errorf("the next at %v", f.Y())
	}
	for i, bold := range []bool{true, false, false, true} {
		if text := f.Pages[0].Layers[0].Texts[i]; text.Bold != bold || text.Colour != palette.Ink {
			t.Errorf("%+v, want bold: %v", text, bold)
		}
	}
}

// A fact whose words or text are long takes as many lines as the longer of both, and neither runs into the other.
func TestLongFacts(t *testing.T) {
	for _, c := range []struct {
		word, text string
		lines      int
	}{
		{"aaaaaaaa bbbbbbbb cccccccc", "short", 3},
		{"short", strings.Repeat("wordword ", 10), 5},
		{strings.Repeat("aaaaaaaa ", 8), "short", 6},
		{strings.Repeat("i ", 33), "short", 3}, // by hand: i and blank are 0.278 of 3 mm wide, so that 11 of them fill 17.5 of 18 mm
		{"short", strings.Repeat("wordword ", 80), 24},
	} {
		f := flow()
		f.Column(20, 40, 50)
		facts := &page.Facts{Rows: [][2]string{{c.word, c.text}}, Style: style, Words: 20}
		if high := f.Height(facts); !(math.Abs(high-3.9*float64(c.lines)) <= 1e-9) {
			t.Errorf("%q, %q: %v mm high, want %d lines of 3.9", c.word, c.text, high, c.lines)
		}
		f.Facts(facts)
		for _, text := range f.Pages[0].Layers[0].Texts {
			if right := map[float64]float64{20: 38, 40: 70}[text.At.X]; !(text.At.X+text.Width <= right) {
				t.Errorf("%q reaches from %v to %v, want to %v", text.String, text.At.X, text.At.X+text.Width, right)
			}
		}
		within(t, f)
	}
}

// Facts go on over pages; every one stands once.
func TestFactsOverPages(t *testing.T) {
	f := flow()
	facts := &page.Facts{Style: style, Words: 30, Gap: 1}
	for i := range 120 {
		facts.Rows = append(facts.Rows, [2]string{fmt.Sprint("word ", i), fmt.Sprint("text ", i)})
	}
	f.Facts(facts)
	var got []int // by hand: (268 - 3.9) / 4.9 = 53.9, so 54 facts of a page begin where 3.9 mm are left
	next := 0
	for _, p := range f.Pages {
		all := texts(p)
		got = append(got, len(all)/2)
		for i := 0; i < len(all); i += 2 {
			if all[i] != fmt.Sprint("word ", next) || all[i+1] != fmt.Sprint("text ", next) {
				t.Errorf("fact %d: %q", next, all[i:i+2])
			}
			next++
		}
	}
	if want := []int{54, 54, 12}; !reflect.DeepEqual(got, want) {
		t.Errorf("facts a page: %v, want %v", got, want)
	}
	within(t, f)
}
