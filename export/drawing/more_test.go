package drawing_test

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"runnel/cmd/demo"
	"runnel/export/drawing"
	"runnel/export/drawing/pdf"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/svg"
	"runnel/export/record"
	"runnel/export/sample"
)

var (
	elevationsLeft = regexp.MustCompile(`the elevations of (\d+) of (\d+) spots`)
	marksLeft      = regexp.MustCompile(`the marks of (\d+)`)
)

// said returns all texts of the layer of texts in one line.
func said(s *scene.Scene) string {
	var all []string
	for _, t := range s.Layer("texts").Texts {
		all = append(all, t.String)
	}
	return strings.Join(all, " ")
}

// found returns a number of what a text says, 0 where it does not.
func found(t *testing.T, r *regexp.Regexp, text string, group int) int {
	t.Helper()
	m := r.FindStringSubmatch(text)
	if m == nil {
		return 0
	}
	n, err := strconv.Atoi(m[group])
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Elevations of spots hide nothing, each is that of the spot beside it, and what the key says is left out adds up to all
// spots: two strokes make a cross.
func TestSpotsOnThePlan(t *testing.T) {
	for _, d := range demo.Roofs() {
		b := book(t, read(t, d))
		sheets, err := drawing.Plan(b, drawing.Options{Spots: true})
		if err != nil {
			t.Fatal(err)
		}
		s := sheets[0]
		unhidden(t, d.Stem(), s)
		plain := planOf(t, b)
		known := map[string]int{}
		for i := range b.Study.Roof.Spots {
			e, _, _ := strings.Cut(b.Units.SayElevation(b.Study.Roof.Spots[i].Z), " ")
			known[e]++
		}
		written := len(s.Layer("labels").Texts) - len(plain.Layer("labels").Texts)
		for _, text := range s.Layer("labels").Texts[len(plain.Layer("labels").Texts):] {
			if known[text.String]--; known[text.String] < 0 {
				t.Errorf("%s: %q is no spot's elevation, or stands too often", d.Stem(), text.String)
			}
			if far := nearestCross(s, &text); far > 4 {
				t.Errorf("%s: %q stands %.1f mm from the next spot", d.Stem(), text.String, far)
			}
		}
		key := said(s)
		all := len(b.Study.Roof.Spots) // no demo roof has spots outside
		if left := found(t, elevationsLeft, key, 1); written != all-left || left > 0 && found(t, elevationsLeft, key, 2) != all {
			t.Errorf("%s: %d elevations of %d spots, and the key says %d are left out", d.Stem(), written, all, left)
		}
		if marks := len(s.Layer("spots").Shapes) / 2; marks != all-found(t, marksLeft, key, 1) {
			t.Errorf("%s: %d marks of %d spots: %s", d.Stem(), marks, all, key)
		}
		if len(plain.Layer("spots").Shapes) > 0 {
			t.Errorf("%s: spots are marked though nobody asked", d.Stem())
		}
	}
}

// nearestCross returns how far the middle of a text is from the nearest mark of a spot, less half the text's width [mm].
func nearestCross(s *scene.Scene, text *scene.Text) float64 {
	box := text.Bounds()
	best := 1e9
	for _, mark := range s.Layer("spots").Shapes {
		c := around(mark.Paths)
		gap := scene.Rect{X: c.X + c.W/2, Y: c.Y + c.H/2}
		dx := max(box.X-gap.X, gap.X-box.X-box.W, 0)
		dy := max(box.Y-gap.Y, gap.Y-box.Y-box.H, 0)
		best = min(best, dx+dy)
	}
	return best
}

// Three hundred findings want several sheets: each number must stand on one of them, nothing over anything else, and the
// sheets must count themselves.
func TestTheListGoesOn(t *testing.T) {
	b := book(t, read(t, demo.Roofs()[0]))
	one := b.Study.Findings
	for len(b.Study.Findings) < 300 {
		b.Study.Findings = append(b.Study.Findings, one...)
	}
	sheets, err := drawing.Plan(b, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(sheets) < 3 {
		t.Fatalf("%d sheets", len(sheets))
	}
	next, onward := 1, ""
	for i, s := range sheets {
		for _, text := range s.Layer("key").Texts {
			if text.Bold && text.String == strconv.Itoa(next) && text.At.Y < s.Height*0.98 {
				next++
			}
		}
		if i == 0 {
			onward = fmt.Sprintf("%d to %d: sheet 2", next, len(b.Study.Findings))
		}
		want := fmt.Sprintf("sheet %d of %d", i+1, len(sheets))
		if i == 0 {
			want = fmt.Sprintf("roof plan as found, 1 of %d", len(sheets))
		}
		if !strings.Contains(said(s), want) {
			t.Errorf("sheet %d does not say %q", i+1, want)
		}
		texts := s.Layer("texts").Texts
		if !strings.Contains(said(s), "Keep off deep ponds") {
			t.Errorf("sheet %d does not say to keep off", i+1)
		}
		for k := range texts {
			if !texts[k].Bounds().Within(scene.Rect{W: s.Width, H: s.Height}) {
				t.Errorf("sheet %d: %q leaves it", i+1, texts[k].String)
			}
			for m := range texts[:k] {
				if texts[k].Bounds().Inset(0.05).Overlaps(texts[m].Bounds().Inset(0.05)) {
					t.Errorf("sheet %d: %q covers %q", i+1, texts[k].String, texts[m].String)
				}
			}
		}
	}
	if next <= len(b.Study.Findings) {
		t.Errorf("the list ends before %d of %d", next, len(b.Study.Findings))
	}
	var line, key scene.Text
	for _, text := range sheets[0].Layer("texts").Texts {
		switch text.String {
		case onward:
			line = text
		case "Key":
			key = text
		}
	}
	// Between its line and the key's are 1 mm, 1 mm over a heading, and the heading's own line.
	if line.Size == 0 || !(key.At.Y-line.At.Y >= 2+1.2*key.Size) {
		t.Errorf("%q does not stand above the key at %v: %+v", onward, key.At.Y, line)
	}
	var paper bytes.Buffer
	if err := pdf.Write(&paper, sheets...); err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(paper.Bytes(), []byte("/Type /Page\n")); n != len(sheets) {
		t.Errorf("the PDF has %d pages, want %d", n, len(sheets))
	}
	var screen strings.Builder
	if err := svg.Write(&screen, sheets...); err != nil {
		t.Fatal(err)
	}
	root := elements(t, screen.String())[0]
	if h := number(t, strings.TrimSuffix(root.attributes["height"], "mm")); h != float64(len(sheets))*sheets[0].Height {
		t.Errorf("the SVG is %g mm high for %d sheets of %g mm", h, len(sheets), sheets[0].Height)
	}
	ids := map[string]bool{}
	for _, e := range elements(t, screen.String()) {
		if id := e.attributes["id"]; id != "" && ids[id] {
			t.Errorf("two elements have the id %s", id)
		} else {
			ids[id] = true
		}
	}
}

// Leaders that cross lead to the wrong label; contour labels on the edge of the roof hide whether a wall stands there.
func TestLeadersDoNotCrossAndTheEdgeStaysVisible(t *testing.T) {
	for _, d := range demo.Roofs() {
		s := planOf(t, book(t, read(t, d)))
		var lines [][]scene.Point
		for _, shape := range s.Layer("leaders").Shapes {
			if !shape.Closed {
				lines = append(lines, shape.Paths...)
			}
		}
		for i := range lines {
			for k := range lines[:i] {
				if crosses(lines[i][0], lines[i][1], lines[k][0], lines[k][1]) {
					t.Errorf("%s: the leaders at %v and %v cross", d.Stem(), lines[i][0], lines[k][0])
				}
			}
		}
		outline := s.Layer("edges").Shapes[0].Paths[0]
		for _, text := range s.Layer("labels").Texts {
			if text.Colour != "#5B5780" {
				continue
			}
			for i := 1; i < len(outline); i++ {
				if text.Bounds().Crosses(outline[i-1], outline[i]) {
					t.Errorf("%s: contour label %q covers the edge", d.Stem(), text.String)
				}
			}
		}
	}
}

// crosses reports whether two lines meet inside both: solved for the shares of their lengths.
func crosses(a, b, c, d scene.Point) bool {
	det := (b.X-a.X)*(d.Y-c.Y) - (b.Y-a.Y)*(d.X-c.X)
	if det == 0 {
		return false
	}
	u := ((c.X-a.X)*(d.Y-c.Y) - (c.Y-a.Y)*(d.X-c.X)) / det
	v := ((c.X-a.X)*(b.Y-a.Y) - (c.Y-a.Y)*(b.X-a.X)) / det
	return u > 0.001 && u < 0.999 && v > 0.001 && v < 0.999
}

// Rates beside arrows are all written alike: 1/4 in per ft is 0.25, by hand.
func TestRatesAreWrittenAlike(t *testing.T) {
	rate := regexp.MustCompile(`^\d+\.\d{2,3}"/ft$`)
	seen := 0
	for _, text := range planOf(t, record.NewBook(sample.Study(sample.Feet()), "", record.US)).Layer("labels").Texts {
		if strings.HasSuffix(text.String, "/ft") && !strings.HasPrefix(text.String, "valley") {
			seen++
			if !rate.MatchString(text.String) {
				t.Errorf("rate %q", text.String)
			}
		}
	}
	if seen == 0 {
		t.Error("no rate stands on the plan")
	}
}
