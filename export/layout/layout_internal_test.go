package layout

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/takeoff"
	"runnel/export/caution"
	"runnel/export/drawing/scene"
	"runnel/export/record"
)

const (
	foot = float64(quantity.Foot)
	inch = float64(quantity.Inch)
)

// flat is a level roof of 80 by 40 ft with two drains, an overflow and a curb.
func flat() *roof.Roof {
	l, w := 80*foot, 40*foot
	r := shape.New("flat", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, 0), shape.At(0, w, 0))
	shape.Grid(r, 0, 0, l, w, 8, 8, func(_, _ float64) float64 { return 0 })
	for i := range 2 {
		o := shape.Drain(r, (20+40*float64(i))*foot, 20*foot, inch*12)
		o.Invert, o.HasInvert = 0, true
	}
	o := shape.Scupper(r, l, w/2, 8*inch)
	o.Duty, o.Invert, o.HasInvert = roof.Overflow, 2*inch, true
	shape.Curb(r, shape.Bare(34*foot, 28*foot), shape.Bare(42*foot, 28*foot), shape.Bare(42*foot, 34*foot), shape.Bare(34*foot, 34*foot))
	r.Curbs[0].Label = "unit"
	return r
}

// set designs a roof with one kind of option and returns what its sheets are drawn from; nil where that option is not possible.
func set(tb testing.TB, r *roof.Roof, u record.Units, kind mend.Kind) *Set {
	tb.Helper()
	s, err := study.Run(r, study.Options{})
	if err != nil {
		tb.Fatal(err)
	}
	res, err := correction.Of(&correction.Input{Study: s, Steering: mend.Steering{Only: []mend.Kind{kind}}, Deck: s.Assembly.Deck})
	if err != nil {
		tb.Fatal(err)
	}
	for i := range res.Options {
		if o := &res.Options[i]; !o.Possible || o.Kind != kind && !slices.Contains(o.Parts, kind) {
			continue
		}
		t, err := takeoff.Of(&takeoff.Input{Study: s, Result: res, Option: i, Stock: board.Usual(), Waste: standard.BoardWaste})
		if err != nil {
			tb.Fatal(err)
		}
		return &Set{Book: record.NewBook(s, "", u), Result: res, Option: i, Name: string(kind), TakeOff: t}
	}
	return nil
}

func pagesOf(tb testing.TB, s *Set) (*sheets, []*scene.Scene) {
	tb.Helper()
	h, err := newSheets(s)
	if err != nil {
		tb.Fatal(err)
	}
	pages, err := h.pages()
	if err != nil {
		tb.Fatal(err)
	}
	return h, pages
}

func textsOf(s *scene.Scene) []scene.Text {
	var out []scene.Text
	for _, l := range s.Layers {
		out = append(out, l.Texts...)
	}
	return out
}

func has(s *scene.Scene, want string) bool {
	for _, t := range textsOf(s) {
		if strings.Contains(t.String, want) {
			return true
		}
	}
	return false
}

// overlaps returns the first two texts of a sheet that cover each other.
func overlaps(s *scene.Scene) string {
	all := textsOf(s)
	for i := range all {
		a := all[i].Bounds().Inset(0.15)
		for k := range all[:i] {
			if b := all[k].Bounds().Inset(0.15); a.Overlaps(b) {
				return fmt.Sprintf("%q and %q", all[k].String, all[i].String)
			}
		}
	}
	return ""
}

// forbidden are words that no sheet may say of a roof.
var forbidden = regexp.MustCompile(`(?i)\b(safe|adequate|compliant|complies)\b`)

// sound holds what is true of every sheet: nothing lies over another text or off the sheet, each says that it is preliminary, none says more than it may.
func sound(t *testing.T, name string, pages []*scene.Scene) {
	t.Helper()
	for i, p := range pages {
		if !has(p, caution.Design) {
			t.Errorf("%s, sheet %d does not say that it is preliminary", name, i+1)
		}
		if !has(p, caution.Off) && !has(p, "Keep off deep ponds") {
			t.Errorf("%s, sheet %d does not say to keep off", name, i+1)
		}
		if o := overlaps(p); o != "" {
			t.Errorf("%s, sheet %d: %s lie over each other", name, i+1, o)
		}
		sheet := scene.Rect{W: p.Width, H: p.Height}
		for _, text := range textsOf(p) {
			if !text.Bounds().Within(sheet) {
				t.Errorf("%s, sheet %d: %q leaves the sheet", name, i+1, text.String)
			}
			if forbidden.MatchString(text.String) {
				t.Errorf("%s, sheet %d says %q", name, i+1, text.String)
			}
		}
	}
}

// TestSheetsOfFlat: from 1/2 in at the drains, at 1/4 in per ft, the corners are 5-1/2 in thick, valleys fall at 0.18 in per ft (0.25 by the root of 1/2), courses hold
// 1/2 to 1-1/2 in and so on: by hand.
func TestSheetsOfFlat(t *testing.T) {
	s := set(t, flat(), record.US, mend.Overlay)
	h, pages := pagesOf(t, s)
	for _, want := range []string{`: 5-1/2"`, `: 1/2"`, "valley 0.18", `0.25"/ft`, "finished invert 0.04 ft", "was 0.00 ft", `1/2"–1-1/2"`, "boards, 4 ft by 4 ft"} {
		if !has(pages[1], want) {
			t.Errorf("the layout does not say %q", want)
		}
	}
	if !has(pages[0], "Lay tapered boards over the whole roof, four-way: boards of 1/4 in per ft") || !has(pages[0], `5-1/2" at most`) {
		t.Errorf("the first sheet does not say what is laid: %q", said(pages[0]))
	}
	found := map[string]bool{}
	for _, p := range append(pages[:1:1], pages[2:]...) {
		for _, want := range []string{"Section A–A", "times larger than lengths", "Quantities", "Boards", `1/2" to 1-1/2"`, "Limits", "Set-out of the new surface", "Approvals needed", "Left out"} {
			found[want] = found[want] || has(p, want)
		}
	}
	for want, ok := range found {
		if !ok {
			t.Errorf("no sheet says %q", want)
		}
	}
	for _, c := range h.corners {
		if c.thickness < inch/2-1e-6 || c.thickness > 5.5*inch+1e-6 || !(math.Abs(c.was) <= 1e-9) || !(math.Abs(c.z-c.thickness) <= 1e-9) {
			t.Errorf("corner %+v", c)
		}
	}
	sound(t, "flat", pages)
}

// TestSections: both main axes through each outlet, none twice, and none along the edge. By hand: drains stand in one row, so one section lies along it and one across through each;
// the thickest place is at the edge.
func TestSections(t *testing.T) {
	h, _ := pagesOf(t, set(t, flat(), record.SI, mend.Overlay))
	along, across := 0, 0
	for _, s := range h.sections {
		switch {
		case math.Abs(s.from[1]-s.to[1]) < 1e-6 && math.Abs(s.from[1]-20*foot) < 1e-6:
			along++
		case math.Abs(s.from[0]-s.to[0]) < 1e-6:
			across++
		}
		if math.Abs(s.from[0]-s.to[0]) < 1e-6 && (s.from[0] < 0.1 || s.from[0] > 80*foot-0.1) || math.Abs(s.from[1]-s.to[1]) < 1e-6 && (s.from[1] < 0.1 || s.from[1] > 40*foot-0.1) {
			t.Errorf("section %s runs along the edge", s.name)
		}
		for _, q := range s.at {
			if q.on && q.now-q.old < inch/2-1e-6 {
				t.Errorf("section %s: %.4f m thick at %.2f m", s.name, q.now-q.old, q.x)
			}
		}
	}
	if along != 1 || across < 2 {
		t.Errorf("%d sections along the row of drains, %d across", along, across)
	}
}

// TestEveryKind: the sheets of every kind of option of invented roofs are sound.
func TestEveryKind(t *testing.T) {
	drawn := 0
	for seed := range uint64(4) {
		for _, kind := range mend.Kinds() {
			units := record.US
			if seed%2 == 1 {
				units = record.SI
			}
			s := set(t, shape.Random(seed, 80), units, kind)
			if s == nil || s.Result.Options[s.Option].Study == nil {
				continue
			}
			_, pages := pagesOf(t, s)
			sound(t, fmt.Sprintf("seed %d, %s", seed, kind), pages)
			drawn++
		}
	}
	if drawn < 10 {
		t.Errorf("only %d sets were drawn", drawn)
	}
}

// TestSameBytes: the same design gives the same file.
func TestSameBytes(t *testing.T) {
	var files [2]bytes.Buffer
	var plans [2]bytes.Buffer
	for i := range files {
		s := set(t, flat(), record.US, mend.Overlay)
		if err := WritePDF(&files[i], s); err != nil {
			t.Fatal(err)
		}
		if err := WriteSVG(&plans[i], s); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(files[0].Bytes(), files[1].Bytes()) || !bytes.Equal(plans[0].Bytes(), plans[1].Bytes()) {
		t.Error("the files differ")
	}
	if !bytes.HasPrefix(files[0].Bytes(), []byte("%PDF-")) || !bytes.Contains(plans[0].Bytes(), []byte("<svg")) {
		t.Error("no PDF or no SVG")
	}
}

// TestUnknownMark: a bench mark that nobody knows is refused.
func TestUnknownMark(t *testing.T) {
	s := set(t, flat(), record.US, mend.Overlay)
	s.Mark = "RD-99"
	if err := WritePDF(&bytes.Buffer{}, s); err == nil || !strings.Contains(err.Error(), "RD-99") {
		t.Errorf("%v", err)
	}
}

// TestPricedSheets: by hand, 80 by 40 ft less a curb of 8 by 6 ft are 3,152 sq ft, at 4 a square foot 12,608; the sum of costs stands under them; nothing lies over another text.
func TestPricedSheets(t *testing.T) {
	s := set(t, flat(), record.US, mend.Overlay)
	p, err := takeoff.ParsePrices([]byte(`{"currency": "$", "per_sq_ft": 4}`))
	if err != nil {
		t.Fatal(err)
	}
	if s.TakeOff, err = takeoff.Of(&takeoff.Input{Study: s.Book.Study, Result: s.Result, Option: s.Option, Stock: board.Usual(), Waste: standard.BoardWaste, Prices: p}); err != nil {
		t.Fatal(err)
	}
	_, pages := pagesOf(t, s)
	sound(t, "priced", pages)
	times := 0
	for _, p := range pages {
		for _, text := range textsOf(p) {
			if text.String == "12,608.00" {
				times++
			}
		}
	}
	if times != 2 || !slices.ContainsFunc(pages, func(p *scene.Scene) bool { return has(p, "cost, $") && has(p, "4.00 per sq ft") }) {
		t.Errorf("12,608.00 stands %d times", times)
	}
}

// TestMoney: thousands have commas.
func TestMoney(t *testing.T) {
	h := &sheets{Set: &Set{TakeOff: &takeoff.TakeOff{Money: "$"}}}
	for v, want := range map[float64]string{0.5: "$ 0.50", 1234.5: "$ 1,234.50", 1234567: "$ 1,234,567.00", 999: "$ 999.00"} {
		if got := h.money(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}

// TestThicknessOfNewInsulation: on the deck it is all between the new surface and the deck, elsewhere what lies on the old surface. By hand, 200 mm
// new over 150 mm old over a deck at 50 mm: 150 mm, or 50 mm.
func TestThicknessOfNewInsulation(t *testing.T) {
	for _, c := range []struct {
		kind  mend.Kind
		known bool
		want  float64
	}{{mend.Replace, true, 0.15}, {mend.Replace, false, 0.05}, {mend.Overlay, true, 0.05}} {
		h := &sheets{option: &correction.Option{Kind: c.kind}}
		if got := h.added(&sample{now: 0.2, old: 0.15, deck: 0.05, deckKnown: c.known}); !(math.Abs(got-c.want) <= 1e-12) {
			t.Errorf("%s, deck known %v: %g m, want %g", c.kind, c.known, got, c.want)
		}
	}
}

// TestResistanceInBothUnits: 1 ft2 h degF/Btu is 0.1761102 m2 K/W (NIST SP 811, B.9), so that R-20 is 3.52 m2 K/W; per inch is
// 0.1442279/5.6 = 0.0258 W/(m K).
func TestResistanceInBothUnits(t *testing.T) {
	us, si := &sheets{Set: &Set{}, u: record.US}, &sheets{Set: &Set{}, u: record.SI}
	const r20, perInch = 20 * 0.1761102, 5.6 / 0.1442279
	for got, want := range map[string]string{
		us.r(r20): "R-20.0", si.r(r20): "3.52 m²K/W", us.perThickness(perInch): "R-5.60 per inch", si.perThickness(perInch): "0.0258 W/(m K)",
	} {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// TestSetOutFromTheRightWall: the row of a drain of the flat roof says what each wall's own tape reads. By hand, the first drain stands 20 ft from the
// north and 60 ft from the east wall.
func TestSetOutFromTheRightWall(t *testing.T) {
	h, _ := pagesOf(t, set(t, flat(), record.US, mend.Overlay))
	if n := [2]string{h.walls.Walls[0].Name, h.walls.Walls[1].Name}; n != [2]string{"north wall", "east wall"} {
		t.Fatalf("walls %q", n)
	}
	found := 0
	for i := range h.corners {
		p := h.corners[i].plan
		row := h.setOutRow(i)
		if math.Abs(p[0]-20*foot) < 0.01 && math.Abs(p[1]-20*foot) < 0.01 {
			found++
			if row[2] != "20' 0\"" || row[3] != "60' 0\"" {
				t.Errorf("row %q, want 20' from the north and 60' from the east wall", row)
			}
		}
	}
	if found == 0 {
		t.Error("the first drain is no corner of the new planes")
	}
}

// TestSectionAcross: a line through the middle of a square of 10 m in the direction (3, 4)/5 enters over the south side at x = 5 - 5 x 3/4 = 1.25 and
// leaves over the north side at 8.75 (by hand).
func TestSectionAcross(t *testing.T) {
	square := orb.Ring{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}
	from, to, ok := across(orb.Point{5, 5}, orb.Point{0.6, 0.8}, square)
	if !ok || vector.Distance(from, orb.Point{1.25, 0}) > 1e-9 || vector.Distance(to, orb.Point{8.75, 10}) > 1e-9 {
		t.Errorf("from %v to %v", from, to)
	}
	if _, _, ok := across(orb.Point{20, 5}, orb.Point{0, 1}, square); ok {
		t.Error("a line beside the square crosses it")
	}
}
