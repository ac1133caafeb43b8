package layout

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/takeoff"
	"runnel/cmd/demo"
	proposal "runnel/export/correction"
	"runnel/export/record"
	"runnel/export/setout"
	"runnel/importer"
)

// answers calls do with the set of each answer of every invented roof, each roof once; units change from roof to roof.
func answers(t *testing.T, do func(name string, s *Set)) {
	t.Helper()
	dir := t.TempDir()
	if _, err := demo.Write(dir, false); err != nil {
		t.Fatal(err)
	}
	for k, d := range demo.Roofs() {
		var files []string
		for _, ext := range []string{".geojson", ".csv"} {
			found, err := filepath.Glob(filepath.Join(dir, d.Stem()+ext))
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, found...)
		}
		r, err := importer.Read(files, importer.Options{})
		if err != nil {
			t.Fatal(err)
		}
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		res, err := correction.Of(&correction.Input{Study: s, Deck: s.Assembly.Deck})
		if err != nil {
			t.Fatal(err)
		}
		u := []record.Units{record.US, record.SI}[k%2]
		for i := range res.Answers {
			a := &res.Answers[i]
			if i > 0 && a.Option == res.Answers[i-1].Option {
				continue
			}
			o, err := takeoff.Of(&takeoff.Input{Study: s, Result: res, Option: a.Option, Stock: board.Usual(), Waste: standard.BoardWaste})
			if err != nil {
				t.Fatal(err)
			}
			do(d.Stem()+", "+a.Name, &Set{Book: record.NewBook(s, "", u), Result: res, Option: a.Option, Name: proposal.Said(&res.Options[a.Option]), TakeOff: o})
		}
	}
}

// TestSheetsOfEveryInventedRoof holds what is true of all sheets: they are sound; up to three mends that leave most of the roof take four sheets at most, five where one is a section in stock boards; no name that programs read stands on one; what is
// changed is no more than what is opened; the greatest thickness and the deepest cut of the quantities stand at a corner of the layout; the sheets and the set-out of the corrected roof
// have one bench mark, which stays, the same walls and the same levels.
func TestSheetsOfEveryInventedRoof(t *testing.T) {
	drawn := 0
	answers(t, func(name string, s *Set) {
		h, pages := pagesOf(t, s)
		sound(t, name, pages)
		drawn++
		if n := len(h.option.Changes); n <= 4 && h.option.Gauge == "" && (len(pages) > 5 || len(pages) > 4 && h.TakeOff.Boards == nil) && h.TakeOff.Area < h.Book.Study.Surface.Area*0.7 {
			t.Errorf("%s: %d sheets for %d changes", name, len(pages), n)
		}
		for i, p := range pages {
			for _, text := range textsOf(p) {
				for _, k := range mend.Kinds() {
					if n := string(k); strings.Contains(n, "-") && !strings.HasPrefix(n, "re-") && strings.Contains(text.String, n) || strings.Contains(text.String, "combined") {
						t.Errorf("%s, sheet %d says %q", name, i+1, text.String)
					}
				}
			}
		}
		if a := h.TakeOff.Area; a > h.option.Opened+1e-6 {
			t.Errorf("%s: %g m2 changed, %g opened", name, a, h.option.Opened)
		}
		most, deepest := 0.0, 0.0
		for i := range h.corners[:min(h.listed(), len(h.corners))] {
			most, deepest = math.Max(most, h.corners[i].thickness), math.Max(deepest, -h.corners[i].thickness)
		}
		if !(math.Abs(most-h.TakeOff.Highest) <= 1e-6) && h.TakeOff.Highest > mend.Seen {
			t.Errorf("%s: %g m at most on the layout, %g by the quantities", name, most, h.TakeOff.Highest)
		}
		if !(math.Abs(deepest-h.TakeOff.Deepest) <= 1e-6) && h.TakeOff.Deepest > 0 {
			t.Errorf("%s: a cut of %g m on the layout, %g by the quantities", name, deepest, h.TakeOff.Deepest)
		}
		oneBench(t, name, h)
		engineerFirst(t, name, s)
	})
	if drawn < 12 {
		t.Errorf("only %d answers were drawn", drawn)
	}
}

// engineerFirst holds that no answer meets while something that it does rests on what an engineer has to say.
func engineerFirst(t *testing.T, name string, s *Set) {
	t.Helper()
	r := s.Result
	for i := range r.Answers[0].Questions {
		if q := &r.Answers[0].Questions[i]; q.Decides == finding.Engineer && (len(r.KeepOff)+len(r.EngineerFirst) == 0 || r.Answers[0].Meets) {
			t.Errorf("%s: the engineer has to say %q, and the answer meets before", name, q.Ask.Format)
		}
	}
}

// oneBench holds that the sheets share bench mark, walls and levels with the set-out of the corrected roof, and that the mark stays.
func oneBench(t *testing.T, name string, h *sheets) {
	t.Helper()
	other, err := setout.New(h.corrected(), "")
	if err != nil {
		t.Fatal(err)
	}
	if h.walls.Mark != other.Mark || h.walls.Walls != other.Walls {
		t.Errorf("%s: bench mark %+v and walls %+v, on the set-out %+v and %+v", name, h.walls.Mark, h.walls.Walls, other.Mark, other.Walls)
	}
	old, now := surface.NewLocator(h.Book.Study.Surface.TIN), surface.NewLocator(h.option.Study.Surface.TIN)
	m := &h.walls.Mark
	was, ok := old.HeightAt(m.Plan[0], m.Plan[1])
	is, on := now.HeightAt(m.Plan[0], m.Plan[1])
	if inlet := strings.HasPrefix(m.What, "inlet of "); ok && on && !inlet && !m.Made && !(math.Abs(was-is) <= 1e-4) {
		t.Errorf("%s: the bench mark %s goes from %g to %g m", name, m.What, was, is)
	}
	for i := range h.outlets() {
		o := &h.outlets()[i]
		before := h.before(o)
		if m.What == "inlet of "+o.Label && (before == nil || !(math.Abs(before.Invert-o.Invert) <= 1e-4)) {
			t.Errorf("%s: the bench mark %s is moved", name, m.What)
		}
		if o.Type == roof.EdgeOutlet {
			continue
		}
		found := false
		for k := range other.Points {
			p := &other.Points[k]
			found = found || p.Kind == setout.OutletPoint && vector.Distance(p.Plan, o.Plan) < 1e-6 && p.HasInlet && other.Relative(p.Inlet) == h.walls.Relative(o.Invert)
		}
		if !found {
			t.Errorf("%s: %s stands at %g m on the sheets, not on the set-out", name, o.Label, h.walls.Relative(o.Invert))
		}
	}
	for i := range h.corners { // by hand: square distances from the walls' lines, heights over the mark
		c := &h.corners[i]
		row := h.setOutRow(i)
		for k := range 2 {
			w := &other.Walls[k]
			dx, dy := w.To[0]-w.From[0], w.To[1]-w.From[1]
			d := math.Abs(dx*(c.plan[1]-w.From[1])-dy*(c.plan[0]-w.From[0])) / math.Sqrt(dx*dx+dy*dy)
			if want := h.tape(d); row[2+k] != want && !strings.HasPrefix(row[2+k], "-") {
				t.Errorf("%s, corner %d: %s from wall %c, want %s", name, i+1, row[2+k], 'A'+k, want)
			}
		}
		if want := h.relative(c.z); row[4] != want || fmt.Sprint(i+1) != row[0] {
			t.Errorf("%s, corner %d: %q", name, i+1, row)
		}
	}
}

// TestThreeMendsTakeFourSheets: the first answer of no invented roof, of which none has more than three mends besides what is found out and cleared, takes more than four sheets; five where one of
// them is a section in stock boards, whose planes, courses and corners are a list each.
func TestThreeMendsTakeFourSheets(t *testing.T) {
	first := map[string]bool{}
	answers(t, func(name string, s *Set) {
		roof := s.Book.Study.Roof.Name
		if first[roof] {
			return
		}
		first[roof] = true
		h, err := newSheets(s)
		if err != nil {
			t.Fatal(err)
		}
		pages, err := h.pages()
		if err != nil {
			t.Fatal(err)
		}
		if most := 4 + min(1, len(s.TakeOff.Laid)); len(pages) > most {
			t.Errorf("%s: %d sheets, not %d", name, len(pages), most)
		}
	})
	if len(first) == 0 {
		t.Error("no roof")
	}
}
