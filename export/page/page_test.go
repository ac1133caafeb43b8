package page_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/record"
)

var style = page.Style{Size: 3}

func flow() *page.Flow {
	w, h := page.Paper(record.SI)
	return page.New("test", w, h)
}

// texts returns the lines of a page, as they were set.
func texts(s *scene.Scene) []string {
	var all []string
	for _, l := range s.Layers {
		for i := range l.Texts {
			all = append(all, l.Texts[i].String)
		}
	}
	return all
}

// within fails the test where a text leaves its page's margins, 10 mm here, or covers another.
func within(t *testing.T, f *page.Flow) {
	t.Helper()
	for n, p := range f.Pages {
		sheet := scene.Rect{W: p.Width, H: p.Height}.Inset(4)
		var seen []scene.Text
		for _, l := range p.Layers {
			for _, text := range l.Texts {
				if !text.Bounds().Within(sheet) {
					t.Errorf("page %d: %q leaves the page", n+1, text.String)
				}
				for i := range seen {
					if text.Bounds().Overlaps(seen[i].Bounds()) {
						t.Errorf("page %d: %q covers %q", n+1, text.String, seen[i].String)
					}
				}
				seen = append(seen, text)
			}
		}
	}
}

// A table of 100 rows of three columns takes several pages; each has the heads, every row stands once, and no text covers another, also
// where texts are long.
func TestTableOverPages(t *testing.T) {
	table := &page.Table{
		Size: 3, Groups: []page.Group{{Head: "", Over: 1}, {Head: "both", Over: 2}},
		Columns: []page.Column{{Head: "no."}, {Head: "what"}, {Head: "how much", Right: true}},
	}
	for i := range 100 {
		table.Rows = append(table.Rows, []string{fmt.Sprintf("row%d", i), strings.Repeat("long name ", i), strings.Repeat("W", 10*i)})
	}
	f := flow()
	f.Table(table)
	f.Number("head", "foot")
	if len(f.Pages) < 5 {
		t.Fatalf("%d pages", len(f.Pages))
	}
	count := map[string]int{}
	for _, p := range f.Pages {
		for _, s := range texts(p) {
			count[s]++
		}
	}
	for i := range 100 {
		if n := count[fmt.Sprintf("row%d", i)]; n != 1 {
			t.Errorf("row %d stands %d times", i, n)
		}
	}
	for _, head := range []string{"no.", "what", "both"} {
		if count[head] != len(f.Pages) {
			t.Errorf("the head %q stands %d times on %d pages", head, count[head], len(f.Pages))
		}
	}
	within(t, f)
}

// By hand: 300 lines of 3 mm with 1.3 times that from line to line are 1170 mm high. Of 297 mm of A4 at most 297 are free, so there are
// at least 4 pages; all lines stand once, in their order.
func TestParagraphsOverPages(t *testing.T) {
	f := flow()
	for i := range 300 {
		f.Paragraph(fmt.Sprint("line ", i), style)
	}
	f.Number("head", "foot")
	if len(f.Pages) < 4 {
		t.Errorf("%d pages", len(f.Pages))
	}
	next := 0
	for _, p := range f.Pages {
		for _, s := range texts(p) {
			if s == fmt.Sprint("line ", next) {
				next++
			}
		}
	}
	if next != 300 {
		t.Errorf("%d lines in order", next)
	}
	within(t, f)
}

// At every width a number stays with its unit, and feet with inches.
func TestNumbersStayWithUnits(t *testing.T) {
	for width := 30.0; width < 60; width++ {
		f := flow()
		f.Column(page.Margin, 30, width)
		f.Paragraph(`Water stands 12 mm deep over 13.5 m² of roof, 5' 4" from the wall, and weighs 1,234 kg in all.`, style)
		all := strings.Join(texts(f.Pages[0]), "|")
		for _, want := range []string{"12 mm", "13.5 m²", `5' 4"`, "1,234 kg"} {
			if !strings.Contains(all, want) {
				t.Errorf("at %v mm: %q is broken in %q", width, want, all)
			}
		}
	}
}

// A number counts all pages, those drawn elsewhere as well; only these have no head.
func TestNumber(t *testing.T) {
	f := flow()
	f.Line("one", style)
	f.Insert(&scene.Scene{Width: 300, Height: 200}, "drawing")
	f.Line("three", style)
	f.Number("head", "foot")
	for i, want := range []string{"one|foot|page 1 of 3", "foot|page 2 of 3", "three|foot|page 3 of 3|head"} {
		if got := strings.Join(texts(f.Pages[i]), "|"); got != want {
			t.Errorf("page %d: %q, want %q", i+1, got, want)
		}
	}
}

func TestMissingLetters(t *testing.T) {
	f := flow()
	if f.Line("why? Dachfläche", style); f.Missing {
		t.Error("a letter counts as missing that the typeface has")
	}
	if f.Line("屋根", style); !f.Missing {
		t.Error("a letter that the typeface lacks does not count as missing")
	}
}

// Heads of sections keep so much room below them as they ask for.
func TestHeadingStaysWithItsText(t *testing.T) {
	f := flow()
	f.Skip(f.Left() - 20)
	f.Heading("section", 30)
	f.Line("text", style)
	if len(f.Pages) != 2 || len(texts(f.Pages[0])) != 0 {
		t.Errorf("%d pages, on the first %q", len(f.Pages), texts(f.Pages[0]))
	}
	if m := f.Pages[1].Marks; len(m) != 1 || m[0].Text != "section" {
		t.Errorf("marks %v", m)
	}
}

// A drawing keeps its measures where it is placed.
func TestPlace(t *testing.T) {
	s := &scene.Scene{Width: 10, Height: 10}
	s.Layer("a").Line("#000000", 0.2, nil, scene.Point{X: 1, Y: 2}, scene.Point{X: 4, Y: 6})
	f := flow()
	f.Place(s, scene.Point{X: 30, Y: 40})
	layers := f.Pages[0].Layers
	p := layers[len(layers)-1].Shapes[0].Paths[0]
	if p[0] != (scene.Point{X: 31, Y: 42}) || !(math.Abs(p[1].X-34) <= 1e-9) || !(math.Abs(p[1].Y-46) <= 1e-9) {
		t.Errorf("placed at %v", p)
	}
}
