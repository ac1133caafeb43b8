package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/finding"
	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
	"runnel/export/drawing/scene"
	"runnel/export/page"
	"runnel/export/record"
)

// counted is a set of sheets of what is counted, with nothing drawn.
func counted(u record.Units, t *takeoff.TakeOff) *sheets {
	return &sheets{Set: &Set{TakeOff: t}, option: &correction.Option{}, u: u}
}

// read sets something on wide pages and returns its lines from the top, the texts of each from left to right.
func read(set func(f *page.Flow)) []string {
	f := page.New("a", 400, 280)
	set(f)
	var out []string
	for _, p := range f.Pages {
		texts := textsOf(p)
		slices.SortStableFunc(texts, func(a, b scene.Text) int {
			if math.Abs(a.At.Y-b.At.Y) > 0.5 {
				return cmp.Compare(a.At.Y, b.At.Y)
			}
			return cmp.Compare(a.At.X, b.At.X)
		})
		last := math.Inf(-1)
		for _, t := range texts {
			if t.At.Y-last > 0.5 {
				out = append(out, t.String)
			} else {
				out[len(out)-1] += " | " + t.String
			}
			last = t.At.Y
		}
	}
	return out
}

func holds(t *testing.T, lines []string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if no, found := strings.CutPrefix(w, "not "); found {
			if slices.ContainsFunc(lines, func(l string) bool { return strings.Contains(l, no) }) {
				t.Errorf("%q stands in %q", no, lines)
			}
		} else if !slices.ContainsFunc(lines, func(l string) bool { return strings.Contains(l, w) }) {
			t.Errorf("%q does not stand in %q", w, lines)
		}
	}
}

// laid is a layout of boards of 1.2 m along the fall: planes T1 and T3 are laid alike, T2 is flat.
func laid(n int) *takeoff.TakeOff {
	t := &takeoff.TakeOff{
		Stock: board.Stock{Length: 1.2, Width: 0.6}, Laid: []int{0, 1, 2},
		Fields: []takeoff.Field{{Thickness: 0.02, Rate: 0.02, Laid: true}, {Thickness: 0.05, Laid: true}, {Thickness: 0.020001, Rate: 0.02, Laid: true}}, Boards: &board.Layout{},
	}
	for k := range n {
		thin := 0.02 + 0.024*float64(n-1-k) // the highest course first
		t.Boards.Pieces = append(t.Boards.Pieces, board.Piece{Field: 0, Course: 3 + n - 1 - k, Kind: board.Kind{Thin: thin, Thick: thin + 0.024}, Fill: []float64{0.05, 0.025}[:k%3]})
	}
	t.Boards.Pieces = append(t.Boards.Pieces, t.Boards.Pieces[0], board.Piece{Field: 1, Course: 7, Kind: board.Kind{Thin: 0.05, Thick: 0.05}}, board.Piece{Field: 1, Course: 8, Kind: board.Kind{Thin: 0.05, Thick: 0.05}}, board.Piece{Field: 2, Course: 3, Kind: board.Kind{Thin: 0.02, Thick: 0.044}})
	return t
}

// Courses from the low end up, each once, where it begins: by hand, the third of boards of 1.2 m at 2.4 m. Planes that are laid alike stand in one row; flat boards lie alike in all courses.
func TestCoursesOfBoards(t *testing.T) {
	h := counted(record.SI, laid(7))
	lines := read(h.courses)
	holds(t, lines, "T1, T3 | 1 | 0.0 m | 20 mm to 44 mm", "3 | 2.4 m | 68 mm to 92 mm", "7 | 7.2 m | 164 mm to 188 mm", "T2 | all | 50 mm flat")
	holds(t, lines, "2 | 1.2 m | 44 mm to 68 mm | 50 mm + 25 mm", "not 8 | 8.4 m")
	if n := h.coursesCount(); n != 8 {
		t.Errorf("%d courses, want 7 and the flat one", n)
	}
	if got := h.coursesTold(); got != "" {
		t.Errorf("told beside the table: %q", got)
	}
	few := counted(record.SI, laid(5))
	if got := few.coursesTold(); got != "Courses from the low end up: T1, T3 20 mm to 44 mm + 50 mm, 44 mm to 68 mm, 68 mm to 92 mm + 50 mm + 25 mm, 92 mm to 116 mm + 50 mm, 116 mm to 140 mm; T2 50 mm flat." {
		t.Errorf("%q", got)
	}
	if lines := read(few.courses); len(lines) > 0 { // six rows are told in a line
		t.Errorf("a table of few courses: %q", lines)
	}
	if got := counted(record.SI, &takeoff.TakeOff{}).coursesTold(); got != "" {
		t.Errorf("no boards: %q", got)
	}
}

// The schedule of boards with its sums, by hand.
func TestScheduleOfBoards(t *testing.T) {
	h := counted(record.SI, &takeoff.TakeOff{Boards: &board.Layout{
		Stock: board.Stock{Length: 1.2, Width: 0.6}, Waste: 0.05, Cuts: 12.34,
		Schedule: []board.Row{{Kind: board.Kind{Thin: 0.02, Thick: 0.044}, Whole: 8, Cut: 3, Boards: 12, Area: 7.9, Volume: 0.25}, {Kind: board.Kind{Thin: 0.05, Thick: 0.05}, Whole: 2, Cut: 1, Boards: 4, Area: 2, Volume: 0.1}},
	}})
	holds(t, read(h.boardTable), "20 mm to 44 mm | 8 | 3 | 12 | 7.9 m² | 0.25 m³", "50 mm flat | 2 | 1 | 4 | 2.0 m² | 0.10 m³", "all boards | 10 | 4 | 16 | 0.35 m³", "Boards 1.2 m along the fall by 0.6 m. To order: pieces and 5 % on top. Saw cuts: 12.3 m.")
	h.TakeOff.Boards.Schedule = h.TakeOff.Boards.Schedule[:1]
	holds(t, read(h.boardTable), "not all boards")
	h.TakeOff.Boards = nil
	if lines := read(h.boardTable); len(lines) > 0 {
		t.Errorf("%q", lines)
	}
}

// Planes by number, with what they are made of; those beyond eighty are counted.
func TestTableOfPlanes(t *testing.T) {
	h := counted(record.SI, &takeoff.TakeOff{Fields: []takeoff.Field{
		{Laid: true, Use: "re-tapered plane", Area: 12, Rate: 0.02, Thinnest: 0.02, Thickest: 0.1, Volume: 0.7}, {Laid: false}, {Laid: true, Use: "cricket", Area: 3, Facet: 1, Thinnest: -0.01, Thickest: 0.0001, OnDeck: true},
	}})
	h.design = &taper.Design{Facets: []taper.Facet{{DX: 0.003, DY: 0.004}, {DX: 0.02}}}
	lines := read(h.planes)
	holds(t, lines, "T1 | plane | 12.0 m² | 0.50 % | 2.00 % | 20 mm | 100 mm | 0.70 m³ | boards", "T3 | cricket | 3.0 m² | 2.00 % | none: flat | 10 mm cut | 0 | 0.00 m³ | boards, on the deck", "not T2", "not smaller plane")
	for range 79 {
		h.TakeOff.Fields = append(h.TakeOff.Fields, takeoff.Field{Laid: true})
	}
	holds(t, read(h.planes), "and 1 smaller plane.")
	h.TakeOff.Fields = append(h.TakeOff.Fields, takeoff.Field{Laid: true})
	holds(t, read(h.planes), "and 2 smaller planes.")
	h.TakeOff.Fields = nil
	if lines := read(h.planes); len(lines) > 0 {
		t.Errorf("%q", lines)
	}
	if got := counted(record.US, nil).rate(0.25 / 12); got != `0.25"/ft` {
		t.Error(got)
	}
}

// What no board fits, edge strips in a line or a table, and thermal resistance with what is missing said once.
func TestOtherTables(t *testing.T) {
	h := counted(record.SI, &takeoff.TakeOff{Measured: []takeoff.Measured{
		{Use: "patch", Fields: []int{0, 4}, Area: 2, Volume: 0.05, Cut: 0.02, Thinnest: 0.01, Thickest: 0.04, Why: finding.Say("It is no plane.")}, {Volume: 1e-7, Cut: 3}, {Use: "patch", Mesh: true, Fields: []int{1}, Volume: 0.1}, {Use: "patch", Fields: make([]int, 7), Volume: 0.1},
	}})
	lines := read(h.measured)
	holds(t, lines, "patch | T1, T5 | 2.0 m² | 0.05 m³ | 0.02 m³ | 10 mm to 40 mm | It is no plane.", "patch | 1 facet | 0 m²", "patch | 7 facets", "not 3.00 m³")
	strip := takeoff.Strip{Field: 2, Length: 3.4, Wide: 0.3, From: 0, To: 0.013}
	h.TakeOff.Strips = []takeoff.Strip{strip, strip}
	if got := h.stripsTold(); strings.Count(got, "Edge strips of T3: 3.4 m long, 300 mm wide on average, from 0 to 13 mm thick.") != 2 || len(read(h.strips)) > 0 {
		t.Errorf("%q", got)
	}
	h.TakeOff.Strips = append(h.TakeOff.Strips, strip)
	holds(t, read(h.strips), "T3 | 3.4 m | 300 mm | 0 | 13 mm")
	if got := h.stripsTold(); got != "" {
		t.Errorf("told beside the table: %q", got)
	}
	h.TakeOff.Area = 12
	th := &h.TakeOff.Thermal
	if lines := read(h.thermal); len(lines) > 0 {
		t.Errorf("nothing is known: %q", lines)
	}
	th.New = takeoff.Resistance{Known: true, Least: 1, Greatest: 4, Average: 2.5, True: 2.25}
	th.Before.Why, th.After.Why, th.PerMetre, th.Source = "no core", "no core", 40, "a table"
	h.TakeOff.Material = "foam"
	lines = read(h.thermal)
	holds(t, lines, "new insulation alone, on its area | 1.00 m²K/W | 4.00 m²K/W | 2.50 m²K/W | 2.25 m²K/W", "Roof before not known: no core.", "New insulation: foam, 0.0250 W/(m K) (a table).", "not Roof after not known", "not At the worst place")
	th.Reduced, th.Lost, th.LostFrom = true, 0.5, 2
	holds(t, read(h.thermal), "At the worst place 0.50 m²K/W of 2.00 m²K/W goes: the energy authority decides.")
}

// Limits: those that are broken before what is not known and what is kept; each source once.
func TestTableOfLimits(t *testing.T) {
	h := counted(record.SI, &takeoff.TakeOff{})
	mm := func(name string, v float64) finding.Quantity {
		return finding.Quantity{Name: name, Value: v / 1000, Dim: finding.Depth}
	}
	h.option.Limits = []correction.Limit{{Name: "flashing height", Where: "RTU", Required: mm("at least", 200), Available: mm("is", 150), Decides: "roofer", Source: "common practice"}}
	h.option.Unknown = []correction.Limit{{Name: "load", Required: mm("at most", 5), Source: "the engineer"}}
	h.option.Checked = []correction.Limit{{Name: "flashing height", Where: "C1", Required: mm("at least", 200), Available: mm("is", 300), Source: "common practice"}}
	lines := read(h.limits)
	row := func(want string) int {
		return slices.IndexFunc(lines, func(l string) bool { return strings.Contains(l, want) })
	}
	a, b, c := row("flashing height at RTU | BROKEN | at least 200 mm | is 150 mm | roofer"), row("load | not known | at most 5 mm | not measured"), row("flashing height at C1 | kept | at least 200 mm | is 300 mm")
	if a < 0 || b <= a || c <= b {
		t.Errorf("%d %d %d in %q", a, b, c, lines)
	}
	if got := fmt.Sprint(read(h.limitSources)); strings.Count(got, "Flashing height: common practice.") != 1 || !strings.Contains(got, "Load: the engineer.") {
		t.Error(got)
	}
	h.option.Limits, h.option.Unknown, h.option.Checked = nil, nil, nil
	if lines := append(read(h.limits), read(h.limitSources)...); len(lines) > 0 {
		t.Errorf("%q", lines)
	}
	for text, want := range map[string]string{"": "", "a b": "A b.", "A b.": "A b.", "is it?": "Is it?"} {
		if got := sentence(text); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
	for v, want := range map[float64]string{0: "0", 0.02: "20 mm", -0.02: "20 mm cut"} {
		if got := h.thickness(v); got != want {
			t.Errorf("%v: %q", v, got)
		}
	}
}
