package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/takeoff"
	"runnel/export/drawing/scene"
	"runnel/export/record"
	"runnel/export/setout"
)

// proud is a roof of 24 by 12 m that falls 2 % to two drains, of which the first stands 30 mm proud in a plate round it.
func proud() *roof.Roof {
	z := func(x, y float64) float64 {
		return 10 + 0.02*math.Max(math.Abs(math.Mod(x, 12)-6), math.Abs(y-6))
	}
	r := shape.New("proud", shape.At(0, 0, z(0, 0)), shape.At(12, 0, z(0, 0)), shape.At(24, 0, z(0, 0)), shape.At(24, 12, z(0, 0)), shape.At(12, 12, z(0, 0)), shape.At(0, 12, z(0, 0)))
	shape.Grid(r, 0, 0, 24, 12, 24, 12, z)
	for i := range 2 {
		o := shape.Drain(r, 6+12*float64(i), 6, 0.3)
		o.Invert, o.HasInvert = 10, true
	}
	r.Outlets[0].Invert = 10.03
	o := shape.Scupper(r, 24, 6, 0.2)
	o.Duty, o.Invert, o.HasInvert = roof.Overflow, 10.15, true
	return r
}

// drawn is the set of the first answer.
func drawn(t *testing.T, r *roof.Roof) *Set {
	t.Helper()
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	res, err := correction.Of(&correction.Input{Study: s, Deck: s.Assembly.Deck})
	if err != nil {
		t.Fatal(err)
	}
	i := res.Answers[0].Option
	o, err := takeoff.Of(&takeoff.Input{Study: s, Result: res, Option: i, Stock: board.Usual(), Waste: standard.BoardWaste})
	if err != nil {
		t.Fatal(err)
	}
	return &Set{Book: record.NewBook(s, "", record.SI), Result: res, Option: i, Name: "mend", TakeOff: o}
}

// TestFirstSheet: a drain set down is one mend. Its sheets are four at most; the first says what is done in order, what to find out first and who decides; nothing that is nought is
// listed; the bench mark is the drain that stays, the same as in the set-out of the corrected roof.
func TestFirstSheet(t *testing.T) {
	s := drawn(t, proud())
	h, pages := pagesOf(t, s)
	if !h.local || len(pages) > 4 {
		t.Fatalf("local %v, %d sheets", h.local, len(pages))
	}
	for _, want := range []string{"proud: mend the ponds now", "What is done, in order", "Set D1 down", "Find out first", "who decides", "Cautions"} {
		if !has(pages[0], want) {
			t.Errorf("the first sheet does not say %q: %q", want, said(pages[0]))
		}
	}
	for i := range h.option.Changes {
		if !has(pages[0], fmt.Sprint(i+1)) || !has(pages[1], fmt.Sprintf("no. %d", i+1)) {
			t.Errorf("change %d has no number on the first sheet and the layout", i+1)
		}
	}
	if s.TakeOff.Volume > 1e-6 {
		t.Fatalf("a drain set down lays %v m3", s.TakeOff.Volume)
	}
	for i, p := range pages {
		for _, text := range textsOf(p) {
			if strings.HasPrefix(text.String, "0.00 m") || strings.Contains(text.String, "New insulation: ") || text.String == "Planes" {
				t.Errorf("sheet %d lists nought: %q", i+1, text.String)
			}
		}
	}
	corrected, err := setout.New(h.corrected(), "")
	if err != nil {
		t.Fatal(err)
	}
	if h.walls.Mark != corrected.Mark || h.walls.Mark.Z != 10 || !(math.Abs(h.walls.Mark.Plan[0]-18) <= 1e-9) {
		t.Errorf("bench mark %+v, want the inlet of the second drain at 10 m", h.walls.Mark)
	}
	sound(t, "proud", pages)
}

// TestSectionsOfSmallChanges: one section through the drain that is set down, no longer than what is shown of it, with the cut by hand: at the drain the new
// surface stands at the new inlet.
func TestSectionsOfSmallChanges(t *testing.T) {
	h, _ := pagesOf(t, drawn(t, proud()))
	if len(h.sections) != len(h.places()) || len(h.sections) == 0 {
		t.Fatalf("%d sections of %d places", len(h.sections), len(h.places()))
	}
	through := false
	for i, w := range h.places() {
		s := &h.sections[i]
		if l := vector.Distance(s.from, s.to); l > math.Min(w.Max[0]-w.Min[0], w.Max[1]-w.Min[1])+1e-9 {
			t.Errorf("section %s is %.2f m long", s.name, l)
		}
		for _, q := range s.at {
			if q.on && q.now > q.old+1e-6 {
				t.Errorf("section %s fills at %.2f m", s.name, q.x)
			}
		}
		o := h.reset(w)
		if o == nil {
			continue
		}
		through = true
		x := vector.Distance(s.from, o.Plan)
		if off := x + vector.Distance(o.Plan, s.to) - vector.Distance(s.from, s.to); off > 1e-6 {
			t.Errorf("section %s passes %s by", s.name, o.Label)
		}
		at := slices.IndexFunc(s.at, func(q sample) bool { return q.x >= x })
		if z := s.at[at].now; !(math.Abs(z-o.Invert) <= 1e-3) {
			t.Errorf("section %s stands at %g at %s, its inlet at %g", s.name, z, o.Label, o.Invert)
		}
	}
	if !through {
		t.Error("no section runs through the drain that is set down")
	}
}

func said(s *scene.Scene) (out []string) {
	for _, t := range textsOf(s) {
		out = append(out, t.String)
	}
	return out
}

func TestEngineerFirst(t *testing.T) {
	for where, want := range map[string]string{
		"": "An engineer first", "OS-2": "An engineer first, at OS-2", "below P01": "An engineer first, below P01",
	} {
		if got := askEngineer(where); got != want {
			t.Errorf("%q: %q, want %q", where, got, want)
		}
	}
}
