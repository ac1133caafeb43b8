package layout

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/drawing/sheet"
	"runnel/export/record"
)

// moved returns a roof that lies elsewhere.
func moved(r *roof.Roof, dx, dy float64) *roof.Roof {
	for _, ring := range r.Outline.Rings {
		for i := range ring {
			ring[i].Plan = orb.Point{ring[i].Plan[0] + dx, ring[i].Plan[1] + dy}
		}
	}
	for i := range r.Spots {
		r.Spots[i].Plan = orb.Point{r.Spots[i].Plan[0] + dx, r.Spots[i].Plan[1] + dy}
	}
	for i := range r.Outlets {
		r.Outlets[i].Plan = orb.Point{r.Outlets[i].Plan[0] + dx, r.Outlets[i].Plan[1] + dy}
	}
	return r
}

// A roof that lies elsewhere in its grid has the same details, sections and words; only their places move with it.
func TestARoofThatLiesElsewhere(t *testing.T) {
	home, err := newSheets(drawn(t, proud()))
	if err != nil {
		t.Fatal(err)
	}
	if len(home.details()) == 0 || len(home.sections) == 0 {
		t.Fatalf("%d details, %d sections", len(home.details()), len(home.sections))
	}
	for _, by := range []orb.Point{{64, 32}, {-512, -256}, {0, 128}, {-24, -12}} {
		away, err := newSheets(drawn(t, moved(proud(), by[0], by[1])))
		if err != nil {
			t.Fatal(err)
		}
		same := func(what string, a, b orb.Point) {
			if !(math.Hypot(b[0]-a[0]-by[0], b[1]-a[1]-by[1]) <= 1e-4) {
				t.Errorf("moved by %v: %s lies at %v, at home at %v", by, what, b, a)
			}
		}
		a, b := home.details(), away.details()
		if len(a) != len(b) || len(home.sections) != len(away.sections) {
			t.Errorf("moved by %v: %d details, %d sections", by, len(b), len(away.sections))
			continue
		}
		for i := range a {
			same(fmt.Sprint("detail ", i), a[i].Min, b[i].Min)
			same(fmt.Sprint("detail ", i), a[i].Max, b[i].Max)
			if home.within(a[i]) != away.within(b[i]) {
				t.Errorf("moved by %v: detail %d is of %q, at home of %q", by, i, away.within(b[i]), home.within(a[i]))
			}
		}
		for i := range home.sections {
			same("section "+home.sections[i].name, home.sections[i].from, away.sections[i].from)
			same("section "+home.sections[i].name, home.sections[i].to, away.sections[i].to)
		}
		if home.sentence() != away.sentence() || home.title() != away.title() {
			t.Errorf("moved by %v: %q", by, away.sentence())
		}
	}
}

// Low places that are levelled: thirty stand in the table, the worst first as they come, and what is left is counted; the sum under it is of all.
func TestTableOfLowPlaces(t *testing.T) {
	for n, want := range map[int]string{1: "", 30: "", 31: "and 1 smaller place: the layout shows all.", 33: "and 3 smaller places: the layout shows all."} {
		h, err := newSheets(drawn(t, proud()))
		if err != nil {
			t.Fatal(err)
		}
		h.TakeOff = &takeoff.TakeOff{Leveller: taper.Leveller{Poured: 0.5, Volume: 0.75, Bands: make([]taper.Band, 1)}}
		for i := range n {
			h.TakeOff.Leveller.Places = append(h.TakeOff.Leveller.Places, taper.LowPlace{At: orb.Point{1 + float64(i)/10, 2}, Deepest: 0.012, Area: 2.5, Volume: 0.03})
		}
		lines := read(h.levelling)
		rows := 0
		for _, l := range lines {
			if strings.HasPrefix(l, "low ") {
				rows++
			}
		}
		all := strings.Join(lines, "\n")
		if rows != min(n, 30) || want != "" && !strings.Contains(all, want) || want == "" && strings.Contains(all, "smaller") {
			t.Errorf("%d low places: %d rows, %q", n, rows, lines)
		}
		holds(t, lines, "12 mm | 2.5 m² | 0.03 m³", "All: 0.50 m³ of leveller over 0.25 m³ of flat boards, cut to the lines on which a place is that deep.")
	}
}

// The name of a curb stands in the middle of it on a detail, and labels keep off it.
func TestCurbOnADetail(t *testing.T) {
	s := drawn(t, proud())
	h, err := newSheets(s)
	if err != nil {
		t.Fatal(err)
	}
	s.Book.Study.Roof.Curbs = []roof.Curb{{Label: "unit", Ring: []roof.Position{{Plan: orb.Point{1, 1}}, {Plan: orb.Point{3, 1}}, {Plan: orb.Point{3, 2}}, {Plan: orb.Point{1, 2}}}}}
	w := &window{b: orb.Bound{Max: orb.Point{4, 3}}, k: 25, l: &scene.Layer{}}
	h.surroundings(w)
	if len(w.l.Texts) != 1 || w.l.Texts[0].String != "unit" || w.l.Texts[0].Anchor != scene.Middle || !(math.Abs(w.l.Texts[0].At.X-50) <= 0.02) {
		t.Fatalf("%+v", w.l.Texts)
	}
	text := w.l.Texts[0]
	for _, x := range []float64{text.At.X - text.Width/2 + 0.1, text.At.X, text.At.X + text.Width/2 - 0.1} {
		if !w.covered(scene.Rect{X: x, Y: text.At.Y - 1, W: 0.05, H: 0.05}) {
			t.Errorf("at %v, between %v and %v, a label may stand on the name", x, text.At.X-text.Width/2, text.At.X+text.Width/2)
		}
	}
	if w.covered(scene.Rect{X: text.At.X + text.Width/2 + 0.2, Y: text.At.Y - 1, W: 0.05, H: 0.05}) || w.covered(scene.Rect{X: text.At.X - text.Width/2 - 0.3, Y: text.At.Y - 1, W: 0.05, H: 0.05}) {
		t.Error("labels keep off more than the name")
	}
}

// The set-out of a small change lists 22 corners, and says how many more the file has; of 22 it has none. Each row has the number that stands on the layout.
func TestSetOutSaysWhatIsLeft(t *testing.T) {
	h, err := newSheets(drawn(t, proud()))
	if err != nil {
		t.Fatal(err)
	}
	for n, want := range map[int]string{0: "", 1: "", 22: "", 23: "and 1 more: the corrected roof file has all.", 30: "and 8 more: the corrected roof file has all."} {
		h.corners = nil
		for i := range n {
			h.corners = append(h.corners, corner{plan: orb.Point{1 + float64(i)/4, 3}, z: 10.1, was: 10.05, thickness: 0.05})
		}
		lines := read(h.setOut)
		all := strings.Join(lines, "\n")
		if n == 0 {
			if len(lines) > 0 {
				t.Errorf("of no corners: %q", lines)
			}
			continue
		}
		if strings.Contains(all, " more: the corrected") != (want != "") || !strings.Contains(all, want) {
			t.Errorf("%d corners: %q", n, lines)
		}
		for i := range n {
			if got := strings.Contains(all, fmt.Sprintf("\n%d | ", i+1)); got != (i < 22) {
				t.Errorf("%d corners: number %d stands: %v", n, i+1, got)
			}
		}
	}
}

// The layout names as many low places as the table lists, thirty, each with its depth; those out of view have no name.
func TestNamesOfLowPlaces(t *testing.T) {
	s := drawn(t, proud())
	h, err := newSheets(s)
	if err != nil {
		t.Fatal(err)
	}
	c, err := drawing.NewCanvas(s.Book, drawing.Options{Sheet: sheet.Size{Name: "a1", W: 841, H: 594}}, "test", layers...)
	if err != nil {
		t.Fatal(err)
	}
	h.TakeOff = &takeoff.TakeOff{}
	for i := range 33 {
		h.TakeOff.Leveller.Places = append(h.TakeOff.Leveller.Places, taper.LowPlace{At: orb.Point{1 + 2*float64(i%11), 1.5 + 4*float64(i/11)}, Deepest: 0.012})
	}
	h.TakeOff.Leveller.Places[4].At = orb.Point{-500, -500}
	h.lowLabels(c)
	got := map[string]bool{}
	for _, text := range textsOf(c.Scene()) {
		got[text.String] = true
	}
	n := 0
	for i := range 33 {
		if got[fmt.Sprintf("low %d: 12 mm", i+1)] {
			n++
			if i >= 30 || i == 4 {
				t.Errorf("low %d has a name", i+1)
			}
		}
	}
	if n < 20 {
		t.Errorf("%d of 29 low places in view have a name", n)
	}
}

// Where low places are filled the corners of the deepest are told first.
func TestDeepestCornersFirst(t *testing.T) {
	tried := 0
	for seed := uint64(0); seed < 12 && tried < 3; seed++ {
		s := set(t, shape.Random(seed, 80), record.SI, mend.Fill)
		if s == nil || s.Result.Options[s.Option].Kind != mend.Fill {
			continue
		}
		h, err := newSheets(s)
		if err != nil {
			t.Fatal(err)
		}
		if h.local || len(h.corners) < 4 || len(h.corners) > h.listed() {
			continue
		}
		tried++
		for i := 1; i < len(h.corners); i++ {
			if math.Abs(h.corners[i].thickness) > math.Abs(h.corners[i-1].thickness)+1e-9 {
				t.Errorf("seed %d: corner %d has %v m, the one before %v m", seed, i+1, h.corners[i].thickness, h.corners[i-1].thickness)
			}
		}
	}
	if tried == 0 {
		t.Error("no fill was drawn")
	}
}
