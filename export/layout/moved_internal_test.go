package layout

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/roof"
	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
	"runnel/export/drawing/scene"
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
