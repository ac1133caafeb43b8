package drawing_test

import (
	"bytes"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/roof"
	"runnel/cmd/demo"
	"runnel/export/drawing"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/sheet"
	"runnel/export/sample"
)

// unhidden checks that no label covers another or an outlet, and that all texts stand on the sheet.
func unhidden(t *testing.T, name string, s *scene.Scene) {
	t.Helper()
	sheet := scene.Rect{W: s.Width, H: s.Height}
	var labels []scene.Text
	for _, l := range s.Layers {
		for i := range l.Texts {
			if !l.Texts[i].Bounds().Within(sheet) {
				t.Errorf("%s: %q leaves the sheet: %+v", name, l.Texts[i].String, l.Texts[i].Bounds())
			}
			if l.Name == "labels" || l.Name == "frame" {
				labels = append(labels, l.Texts[i])
			}
		}
	}
	for i := range labels {
		for k := range labels[:i] {
			if a, b := labels[i].Bounds(), labels[k].Bounds(); a.Overlaps(b) {
				t.Errorf("%s: %q covers %q", name, labels[i].String, labels[k].String)
			}
		}
	}
	for _, shape := range s.Layer("symbols").Shapes {
		if shape.Fill == "" || shape.Width != 0.3 {
			continue // outlets alone have a line of 0.3 mm and a size over a slope arrow's ring
		}
		box := around(shape.Paths)
		if box.W < 2.5 {
			continue
		}
		for i := range labels {
			if labels[i].Bounds().Overlaps(box) {
				t.Errorf("%s: %q covers an outlet", name, labels[i].String)
			}
		}
	}
}

func around(paths [][]scene.Point) scene.Rect {
	low, high := scene.Point{X: math.Inf(1), Y: math.Inf(1)}, scene.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, path := range paths {
		for _, p := range path {
			low, high = scene.Point{X: min(low.X, p.X), Y: min(low.Y, p.Y)}, scene.Point{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
		}
	}
	return scene.Rect{X: low.X, Y: low.Y, W: high.X - low.X, H: high.Y - low.Y}
}

func TestLabelsOfDemoRoofs(t *testing.T) {
	for _, d := range demo.Roofs() {
		b := book(t, read(t, d))
		for _, name := range []string{"letter", "a4", "a1"} {
			size, err := sheet.Parse(name)
			if err != nil {
				t.Fatal(err)
			}
			s, err := drawing.Plan(b, drawing.Options{Sheet: size})
			if err != nil {
				t.Fatal(err)
			}
			unhidden(t, d.Stem()+" on "+name, s[0])
		}
	}
}

func TestLabelsOfRandomRoofs(t *testing.T) {
	drawn := 0
	for seed := range uint64(130) {
		if b := scattered(seed); b != nil {
			drawn++
			unhidden(t, "scattered "+strconv.FormatUint(seed, 10), planOf(t, b))
		}
	}
	for seed := range uint64(100) {
		drawn++
		unhidden(t, "demo "+strconv.FormatUint(seed, 10), planOf(t, book(t, read(t, demo.Random(seed)))))
	}
	if drawn < 200 {
		t.Errorf("only %d roofs were drawn", drawn)
	}
}

func TestEveryDemoRoofTwice(t *testing.T) {
	for _, d := range demo.Roofs() {
		b := book(t, read(t, d))
		one, two := planOf(t, b), planOf(t, b)
		if svgOf(t, one) != svgOf(t, two) {
			t.Errorf("%s: two SVGs differ", d.Stem())
		}
		var first, second bytes.Buffer
		if err := errors.Join(pdf.Write(&first, one), pdf.Write(&second, two)); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Errorf("%s: two PDFs differ", d.Stem())
		}
	}
}

// TestSheetIsSelfContained: an SVG that could run or fetch something has one of these.
func TestSheetIsSelfContained(t *testing.T) {
	for _, e := range elements(t, svgOf(t, planOf(t, book(t, sample.Local())))) {
		switch e.name {
		case "svg", "title", "rect", "g", "path", "text":
		default:
			t.Errorf("element %s", e.name)
		}
		for name, value := range e.attributes {
			if strings.HasPrefix(name, "on") || name == "href" || name == "style" || strings.Contains(value, "url(") {
				t.Errorf("%s=%q", name, value)
			}
		}
	}
}

func TestHostileNamesStayText(t *testing.T) {
	for _, name := range []string{
		`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `=cmd()`, "a\u202eb\u2066c\u0000d\x1be", "]]>&amp;'", strings.Repeat("W", 10000),
		strings.Repeat("long name ", 1000), "屋根 \U0001F3E0", "",
	} {
		r := sample.Local()
		r.Name, r.Building, r.Surveyed = name, name, name
		r.Outlets[0].Label, r.Curbs[0].Label, r.Edges[0].Label = name, name, name
		s := planOf(t, book(t, r))
		unhidden(t, name[:min(20, len(name))], s)
		var out bytes.Buffer
		if err := pdf.Write(&out, s); err != nil {
			t.Fatal(err)
		}
		for _, e := range elements(t, svgOf(t, s)) {
			if e.name == "script" || e.name == "img" {
				t.Errorf("%q became an element", name)
			}
			if strings.ContainsAny(e.text, "\u202e\u2066\u0000\x1b") {
				t.Errorf("%q keeps characters that turn text", e.text)
			}
		}
	}
}

// The sample is 20 m by 12 m; at 1:50 it is 400 mm wide, A4 is 297 mm. By hand: of those 8 mm at each edge, a panel of 80 mm with a gap of 4 mm and
// 13 mm on both sides of the roof are taken, so 171 mm are left: 160 mm at 1:125 fit, 200 mm at 1:100 do not.
func TestScaleThatDoesNotFit(t *testing.T) {
	a4, err := sheet.Parse("a4")
	if err != nil {
		t.Fatal(err)
	}
	b := book(t, sample.Local())
	_, err = drawing.Plan(b, drawing.Options{Sheet: a4, Scale: 50})
	var fit *sheet.FitError
	if !errors.As(err, &fit) || !strings.Contains(err.Error(), "1:50 the roof does not fit on a4: use 1:125") {
		t.Errorf("got %v", err)
	}
	if s, err := drawing.Plan(b, drawing.Options{Sheet: a4, Scale: 500}); err != nil {
		t.Error(err)
	} else if !strings.Contains(svgOf(t, s[0]), "1:500") {
		t.Error("the scale asked for is not taken")
	}
}

// Sheets by name: the sizes of ISO 216 and ANSI/ASME Y14.1, in either direction.
func TestSheetsAndUnits(t *testing.T) {
	for _, c := range []struct {
		roof  *roof.Roof
		sheet string
		w, h  float64
	}{
		{sample.Feet(), "", 279.4, 215.9},
		{sample.Local(), "", 297, 210},
		{sample.Local(), "A3", 420, 297},
		{sample.Local(), "A1", 841, 594},
		{sample.Feet(), "tabloid", 431.8, 279.4},
		{sample.Feet(), "22x34", 863.6, 558.8},
	} {
		o := drawing.Options{}
		if c.sheet != "" {
			var err error
			if o.Sheet, err = sheet.Parse(c.sheet); err != nil {
				t.Fatal(err)
			}
		}
		s, err := drawing.Plan(book(t, c.roof), o)
		if err != nil {
			t.Fatal(err)
		}
		if w, h := s[0].Width, s[0].Height; max(w, h) != c.w || min(w, h) != c.h {
			t.Errorf("%q is %g by %g, want %g by %g", c.sheet, w, h, c.w, c.h)
		}
	}
}

func BenchmarkPlan(b *testing.B) {
	book := book(b, read(b, demo.Roofs()[0]))
	for b.Loop() {
		s, err := drawing.Plan(book, drawing.Options{})
		if err != nil {
			b.Fatal(err)
		}
		var out bytes.Buffer
		if err := pdf.Write(&out, s...); err != nil {
			b.Fatal(err)
		}
	}
}

// No text on a sheet is smaller than 1.8 mm, the least height of letters of ISO 3098 (recalled), with some room for letters being lower than their type:
// nobody squints at the key.
func TestNoTextIsTooSmall(t *testing.T) {
	const least = 1.9
	for _, d := range demo.Roofs() {
		sheets, err := drawing.Plan(book(t, read(t, d)), drawing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range sheets {
			for k := range s.Layers {
				for _, text := range s.Layers[k].Texts {
					if text.Size < least && len(text.String) > 3 { // a number of many digits in its disc is smaller
						t.Errorf("%s, sheet %d: %q is %.2f mm high", d.Stem(), i+1, text.String, text.Size)
					}
				}
			}
		}
	}
}
