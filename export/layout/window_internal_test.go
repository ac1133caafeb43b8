package layout

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/typeface"
	"runnel/export/record"
)

// The scale of details is the largest of those that people use at which all fit beside and below each other. By hand: one of 2 by 1 m at 1:25 is 80 by 40 mm and 5 mm of title; three of
// these take 80 + 6 + 80 = 166 mm, and the third a second row, 45 + 6 + 45 = 96 mm high.
func TestScaleOfDetails(t *testing.T) {
	window := orb.Bound{Max: orb.Point{2, 1}}
	for _, c := range []struct {
		n           int
		width, room float64
		scale       int
		height      float64
		last        scene.Point
	}{
		{1, 80, 45, 25, 45, scene.Point{}},
		{1, 79, 45, 50, 25, scene.Point{}},
		{1, 80, 44, 50, 25, scene.Point{}},
		{1, 300, 200, 10, 105, scene.Point{}},
		{3, 166, 96, 25, 96, scene.Point{X: 0, Y: 51}},
		{2, 166, 45, 25, 45, scene.Point{X: 86}},
		{3, 166, 95, 50, 25, scene.Point{X: 92}},
		{1, 5, 5, 100, 15, scene.Point{}}, // nothing is drawn smaller than that
	} {
		h := counted(record.SI, nil)
		h.detailRoom = c.room
		windows := slices.Repeat([]orb.Bound{window}, c.n)
		scale, at, height := h.detailScale(windows, c.width)
		if scale != c.scale || !(math.Abs(height-c.height) <= 1e-9) || len(at) != c.n || !(math.Hypot(at[c.n-1].X-c.last.X, at[c.n-1].Y-c.last.Y) <= 1e-9) {
			t.Errorf("%+v: 1:%d, %v mm high, the last at %v", c, scale, height, at)
		}
	}
	for scale, want := range map[int]string{12: `1" = 1' (1:12)`, 24: `1/2" = 1' (1:24)`, 48: `1/4" = 1' (1:48)`, 96: `1/8" = 1' (1:96)`} {
		us := counted(record.US, nil)
		if got := us.scaleText(scale); got != want || !slices.Contains(us.scales(), scale) || len(us.scales()) != 4 {
			t.Errorf("%q, want %q", got, want)
		}
	}
	si := counted(record.SI, nil)
	if got := si.scaleText(50); got != "1:50" || fmt.Sprint(si.scales()) != "[10 20 25 50 100]" {
		t.Errorf("%q of %v", got, si.scales())
	}
}

// Labels of a detail: beside the mark where there is room, else farther off with a leader from mark to label; none over another, none outside the frame; where nothing is free the
// mark stands alone.
func TestLabelsOfADetail(t *testing.T) {
	w := &window{b: orb.Bound{Max: orb.Point{4, 2}}, k: 25, l: &scene.Layer{}} // 100 by 50 mm below 5 mm of title
	at := scene.Point{X: 50, Y: 30}
	placed := 0
	for range 60 {
		shapes, texts := len(w.l.Shapes), len(w.l.Texts)
		if !w.label(at, 1, "RD-1 +12 mm") {
			if len(w.l.Texts) != texts || len(w.l.Shapes) != shapes+1 {
				t.Error("without room more than the mark stands")
			}
			continue
		}
		text := w.l.Texts[texts]
		if placed == 0 && (text.At.X != 51.6 || len(w.l.Shapes) != 1 || !(math.Abs(text.At.Y-31) <= 0.01)) { // 1 + 0.6 beside, its middle at the mark's
			t.Errorf("the first label stands at %v with %d shapes", text.At, len(w.l.Shapes))
		}
		if placed++; len(w.l.Shapes) == shapes+2 {
			line := w.l.Shapes[shapes+1]
			box := scene.Rect{X: text.At.X, Y: text.At.Y - 2, W: text.Width, H: 2}.Inset(-0.02)
			if end := line.Paths[0][1]; line.Paths[0][0] != at || line.Width != 0.1 || !(end.X >= box.X && end.X <= box.X+box.W && end.Y >= box.Y && end.Y <= box.Y+box.H) {
				t.Errorf("the leader of %v: %+v", text.At, line)
			}
		}
	}
	if placed < 8 || placed == 60 {
		t.Errorf("%d labels of 60 found room about one mark", placed)
	}
	for i, a := range w.l.Texts {
		if b := (scene.Rect{X: a.At.X, Y: a.At.Y - 2, W: a.Width, H: 2}); !b.Within(scene.Rect{X: 0.49, Y: 5.49, W: 99.02, H: 49.02}) {
			t.Errorf("%v leaves the frame", b)
		}
		for k := range i {
			if a.Bounds().Inset(0.15).Overlaps(w.l.Texts[k].Bounds().Inset(0.15)) {
				t.Errorf("labels at %v and %v lie over each other", a.At, w.l.Texts[k].At)
			}
		}
	}
}

// A line in a detail keeps labels off all along: whatever box touches it is covered.
func TestLinesKeepLabelsOff(t *testing.T) {
	w := &window{b: orb.Bound{Max: orb.Point{4, 2}}, k: 25, l: &scene.Layer{}}
	a, b := scene.Point{X: 10, Y: 10}, scene.Point{X: 60.7, Y: 40.3}
	w.avoid([]scene.Point{a, b})
	for t0 := 0.0; t0 <= 1; t0 += 0.01 {
		x, y := a.X+t0*(b.X-a.X), a.Y+t0*(b.Y-a.Y)
		if !w.covered(scene.Rect{X: x - 0.3, Y: y - 0.3, W: 0.6, H: 0.6}) {
			t.Errorf("at %v of its length", t0)
		}
	}
	for _, free := range []scene.Rect{{X: 40, Y: 8, W: 10, H: 10}, {X: 62, Y: 41, W: 3, H: 3}, {X: 5, Y: 5, W: 4, H: 4}} {
		if w.covered(free) {
			t.Errorf("%v is free", free)
		}
	}
}

// What a detail shows of a place: to scale from its upper left corner, y down, points outside moved to its frame. By hand at 1:50, 20 mm a metre.
func TestPointsOfADetail(t *testing.T) {
	w := &window{b: orb.Bound{Min: orb.Point{10, 20}, Max: orb.Point{13, 22}}, k: 20}
	got := w.line([]orb.Point{{10, 22}, {13, 20}, {11.5, 21}, {0, 0}, {99, 99}})
	if want := "[{0 5} {60 45} {30 25} {0 45} {60 5}]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %s", got, want)
	}
	for box, want := range map[scene.Rect]bool{{X: 0.5, Y: 5.5, W: 59, H: 39}: true, {X: 0.4, Y: 6, W: 1, H: 1}: false, {X: 59, Y: 6, W: 0.6, H: 1}: false, {X: 1, Y: 5.4, W: 1, H: 1}: false, {X: 1, Y: 44, W: 1, H: 0.6}: false} {
		if w.inside(box) != want {
			t.Errorf("%v inside: %v", box, !want)
		}
	}
	ring := orb.Ring{{0, 0}, {1, 0}, {1, 1}}
	if got := closedRing(ring); len(got) != 4 || got[3] != ring[0] || len(closedRing(got)) != 4 || len(closedRing(nil)) != 0 {
		t.Errorf("closed %v", got)
	}
}

// A title that is too long for its place loses whole words, not letters.
func TestShortenedTitles(t *testing.T) {
	text := "no. 1 at P01, no. 2 at P02"
	whole := typeface.Width(text, tableEm, true)
	for _, c := range []struct {
		width float64
		want  string
	}{{whole, text}, {whole - 0.01, "no. 1 at P01, no. 2 at"}, {1, "no."}} {
		if got := shortened(text, c.width); got != c.want {
			t.Errorf("%v mm: %q, want %q", c.width, got, c.want)
		}
	}
}

// What is changed in a window: a place in it, or a point of a line; what opens nothing does not count.
func TestChangesInAWindow(t *testing.T) {
	b := orb.Bound{Max: orb.Point{2, 2}}
	h := counted(record.SI, nil)
	h.option.Changes = []mend.Change{
		{At: orb.Point{1, 1}, Opened: 1, Pond: "P01"},
		{At: orb.Point{1, 1}, Opened: 0},
		{At: orb.Point{5, 5}, Opened: 1},
		{At: orb.Point{5, 5}, Opened: 1, Line: orb.LineString{{9, 9}, {1, 0}}},
		{At: orb.Point{5, 5}, Opened: 1, More: []orb.LineString{{{9, 9}}, {{2, 2}}}},
	}
	if got := h.within(b); got != "no. 1 at P01, no. 4, no. 5" {
		t.Errorf("%q", got)
	}
	h.option.Changes = h.option.Changes[1:3]
	if got := h.within(b); got != "new surface" {
		t.Errorf("%q", got)
	}
}
