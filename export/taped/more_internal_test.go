package taped

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/inspection"
	"runnel/analysis/roof"
	"runnel/analysis/tape"
	"runnel/export/drawing"
	"runnel/export/drawing/scene"
	"runnel/export/record"
)

// textsOf returns the texts of a scene.
func textsOf(s *scene.Scene) (all []scene.Text) {
	for _, l := range s.Layers {
		all = append(all, l.Texts...)
	}
	return all
}

// drawnOf returns the texts of the plan of a book, with bars between them.
func drawnOf(t *testing.T, b *Book) string {
	t.Helper()
	sheets, err := Plan(b, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, text := range textsOf(sheets[0]) {
		all.WriteString("|" + text.String)
	}
	return all.String() + "|"
}

// What was read stands on the plan by its kind; an inlet by its outlet's own symbol. Spots to read next by number, but those of a grid, which the sheet of the crew has.
func TestReadingsOnThePlan(t *testing.T) {
	at := func(kind roof.ProbeKind, x, y float64) roof.Probe {
		return roof.Probe{Kind: kind, Of: "1", Position: roof.Position{Plan: orb.Point{x, y}, Z: 99, HasZ: true}}
	}
	b := bookOf(record.SI, func(r *roof.Roof) {
		r.Tape.Waters = []roof.Water{water(14, -1, 0.02)}
		r.Tape.Probes = []roof.Probe{at(roof.LowProbe, 20, 3), at(roof.LipProbe, 20, 9), at(roof.BeforeProbe, 3, 3), at(roof.InletProbe, 3, 9)}
	})
	b.Survey.Next = []tape.Spot{{Plan: orb.Point{22, 11}, Code: "LOW 1"}}
	all := drawnOf(t, b)
	for want, n := range map[string]int{"|low|": 1, "|lip|": 1, "|before|": 1, "|X1|": 1} {
		if got := strings.Count(all, want); got != n {
			t.Errorf("%s stands %d times", want, got)
		}
	}
	if strings.Contains(all, "inlet|") || !strings.Contains(all, "Spots to read next") {
		t.Errorf("%s", all)
	}
	b.Survey.Next = nil
	for i := range 6 {
		b.Survey.Next = append(b.Survey.Next, tape.Spot{Plan: orb.Point{1 + float64(i), 1}, Code: "SPOT"})
	}
	if !b.Survey.Grid() {
		t.Fatal("six spots in a row are no grid")
	}
	if all := drawnOf(t, b); strings.Contains(all, "|X1|") || strings.Contains(all, "Spots to read next") {
		t.Errorf("the spots of a grid stand on the plan: %s", all)
	}
}

// Steps of the panel are numbered from 1 on; where people are to keep off, the panel begins with that and the steps go on without it.
func TestStepsOfThePanel(t *testing.T) {
	b := pond(-1, 0.02)
	steps := b.Steps()
	for _, s := range b.sections() {
		if s.Title != "What to do next" {
			continue
		}
		if len(s.Texts) != len(steps) {
			t.Errorf("%d steps of %d", len(s.Texts), len(steps))
		}
		for i, text := range s.Texts {
			if text != fmt.Sprintf("%d. %s", i+1, steps[i]) {
				t.Errorf("step %d: %q", i+1, text)
			}
		}
	}
	b.Survey.KeepOff.Reasons = []inspection.Reason{{}}
	off := b.Steps()
	for _, s := range b.sections() {
		if s.Title == "What to do next" && (len(s.Texts) != len(off)-1 || len(s.Texts) > 0 && s.Texts[0] != "1. "+off[1]) {
			t.Errorf("of %q stand %q", off, s.Texts)
		}
	}
	if all := drawnOf(t, b); !strings.Contains(all, "Keep off, and call a") {
		t.Error("the panel does not begin with keeping off")
	}
}

// Walls, outlets and ponds of the picture lie to one scale: by hand, the roof of 24 by 12 m is twice as wide as high, the pond of 4 by 2 m a sixth of its width, the drain a quarter of the way along.
func TestPictureToOneScale(t *testing.T) {
	b := pond(-1, 0.02)
	for _, size := range [][2]float64{{180, 120}, {90, 200}} {
		s := Picture(b, size[0], size[1])
		if s.Width > size[0]+0.01 || s.Height > size[1]+0.01 {
			t.Errorf("%v by %v mm of %v", s.Width, s.Height, size)
		}
		var outline, pond scene.Rect
		for _, l := range s.Layers {
			for _, sh := range l.Shapes {
				low, high := scene.Point{X: math.Inf(1), Y: math.Inf(1)}, scene.Point{X: math.Inf(-1), Y: math.Inf(-1)}
				for _, p := range sh.Paths {
					for _, q := range p {
						low, high = scene.Point{X: min(low.X, q.X), Y: min(low.Y, q.Y)}, scene.Point{X: max(high.X, q.X), Y: max(high.Y, q.Y)}
					}
				}
				box := scene.Rect{X: low.X, Y: low.Y, W: high.X - low.X, H: high.Y - low.Y}
				if l.Name == "ponds" {
					pond = box
				}
				if l.Name == "edges" && box.W > outline.W {
					outline = box
				}
			}
		}
		if !(math.Abs(outline.W/outline.H-2) <= 0.01) || !(math.Abs(pond.W/outline.W-4.0/24) <= 0.01) || !(math.Abs(pond.H/outline.H-2.0/12) <= 0.015) {
			t.Errorf("in %v mm the roof lies in %v, the pond in %v", size, outline, pond)
		}
		if x := (pond.X + pond.W/2 - outline.X) / outline.W; !(math.Abs(x-10.0/24) <= 0.01) {
			t.Errorf("the pond lies at %v of the roof's width", x)
		}
		texts := textsOf(s)
		for i := range texts {
			for k := range i {
				if !texts[i].Turned && !texts[k].Turned && texts[i].Bounds().Inset(0.15).Overlaps(texts[k].Bounds().Inset(0.15)) {
					t.Errorf("%q covers %q", texts[i].String, texts[k].String)
				}
			}
		}
	}
}

// What is nought or not known is no property of the map: a curb without a height, an edge, water without a depth, an outlet without a level.
func TestWhatTheMapLeavesOut(t *testing.T) {
	b := bookOf(record.SI, func(r *roof.Roof) {
		r.Tape.Waters = []roof.Water{water(14, -1)}
		r.Outlets[0].Diameter = 0
		r.Curbs = []roof.Curb{{Feature: roof.Feature{ID: "C1"}, Ring: []roof.Position{{Plan: orb.Point{15, 3}}, {Plan: orb.Point{16, 3}}, {Plan: orb.Point{16, 4}}, {Plan: orb.Point{15, 3}}}}}
		r.Edges = []roof.Edge{{Feature: roof.Feature{ID: "E1"}, Type: roof.Free, Line: []roof.Position{{Plan: orb.Point{24, 0}}, {Plan: orb.Point{24, 12}}}}}
	})
	var out bytes.Buffer
	if err := WriteMap(&out, b); err != nil {
		t.Fatal(err)
	}
	var d struct {
		Features []struct {
			ID         string
			Properties map[string]any
		}
	}
	if err := json.Unmarshal(out.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, f := range d.Features {
		for _, key := range map[string][]string{
			"C1": {"height", "label"}, "E1": {"height", "label"}, "D1": {"invert", "invert_m", "diameter", "bowl", "width", "opening_height", "dam_height"},
			"stain-P1": {"depth", "hours_since_rain", "outlets_clear", "note"}, "P1": {"depth_read_mm", "weight_most_kg", "load_kpa", "hours_since_rain"},
		}[f.ID] {
			seen++
			if v, ok := f.Properties[key]; ok {
				t.Errorf("%s: %s is %v", f.ID, key, v)
			}
		}
	}
	if seen != 2+2+7+4+4 {
		t.Errorf("%d properties of the five things", seen)
	}
}

// A pond as a machine has it, by hand: 4 by 2 m as an ellipse 6.28 m2, chalked by twelve points 6.00; 20 mm of water weigh 1000 x 9.80665 x 0.02 = 196.1 Pa; the page says the same as the summary.
func TestPondForAMachine(t *testing.T) {
	b := pond(50, 0.02)
	var o record.Object
	b.pondObject(&o, &b.Survey.Ponds[0])
	var got map[string]any
	if err := json.Unmarshal(o.Append(nil), &got); err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]float64{"depth_read_mm": 20, "lip_at_least_mm": 20, "load_kpa": 0.196133, "depths_read": 1, "hours_since_rain": 50, "distance_m": 2} {
		if v, ok := got[key].(float64); !ok || !(math.Abs(v-want) <= 1e-3*math.Max(1, want)) {
			t.Errorf("%s is %v, want %v", key, got[key], want)
		}
	}
	for _, of := range []string{"least", "likely", "most"} { // a litre weighs a kilogram
		if l, kg := got["volume_"+of+"_l"].(float64), got["weight_"+of+"_kg"].(float64); !(math.Abs(l-kg) <= 0.002*kg) || kg <= 0 {
			t.Errorf("%s: %v l weigh %v kg", of, l, kg)
		}
	}
	if !(got["weight_least_kg"].(float64) < got["weight_likely_kg"].(float64)) || !(got["weight_likely_kg"].(float64) < got["weight_most_kg"].(float64)) {
		t.Errorf("%v", got)
	}
	u := record.SI
	for _, said := range []string{u.SayMass(got["weight_least_kg"].(float64)), u.SayMass(got["weight_most_kg"].(float64)), u.SayArea(got["area_m2"].(float64)), u.SayPressure(got["load_kpa"].(float64) * 1000)} {
		if !strings.Contains(b.Ponds(), said) {
			t.Errorf("the page does not say %q: %s", said, b.Ponds())
		}
	}
}

type noDisk struct{}

var errNoDisk = errors.New("no disk")

func (noDisk) Write([]byte) (int, error) { return 0, errNoDisk }

// A full disk is an error of every output; and what is written in full is read back letter by letter, whatever things are called.
func TestNextSpotsReadBack(t *testing.T) {
	b := bookOf(record.US, nil)
	b.Survey.Next = []tape.Spot{{From: `RD-1; "old", <b>`, Toward: "גג", Distance: 0.3048, Code: "LOW 1"}, {From: "=1+1", Code: "INLET"}}
	if err := WriteNext(noDisk{}, b); !errors.Is(err, errNoDisk) {
		t.Errorf("%v", err)
	}
	var out bytes.Buffer
	if err := WriteNext(&out, b); err != nil {
		t.Fatal(err)
	}
	in := csv.NewReader(&out)
	in.Comma = ';'
	rows, err := in.ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("%q, %v", rows, err)
	}
	if rows[0][2] != "rod_ft" || rows[1][1] != `1 ft from RD-1; "old", <b> toward גג` || rows[2][1] != "'=1+1" || rows[2][0] != "X2" {
		t.Errorf("%q", rows)
	}
}

// A grid is taped from the west and the south wall all over the roof, so that the tapes stay put; a place by itself from the nearest two. By hand, of 24 by 12 m.
func TestWallsThatAGridIsTapedFrom(t *testing.T) {
	b := bookOf(record.SI, nil)
	for _, c := range []struct {
		at         orb.Point
		grid, lone string
	}{
		{orb.Point{22, 11}, "22.00 m from W wall and 11.00 m from S wall", "2.00 m from E wall and 1.00 m from N wall"},
		{orb.Point{2, 11}, "2.00 m from W wall and 11.00 m from S wall", "2.00 m from W wall and 1.00 m from N wall"},
		{orb.Point{22, 1}, "22.00 m from W wall and 1.00 m from S wall", "2.00 m from E wall and 1.00 m from S wall"},
	} {
		if got := b.Place(&tape.Spot{Plan: c.at, Code: "SPOT"}); got != c.grid {
			t.Errorf("%v of a grid: %q, want %q", c.at, got, c.grid)
		}
		if got := b.Place(&tape.Spot{Plan: c.at, Code: "LOW 1"}); got != c.lone {
			t.Errorf("%v by itself: %q, want %q", c.at, got, c.lone)
		}
	}
}

// On a roof that is turned by 30 degrees the distance to the wall that faces more to the west or the east is told first: the crew holds one end of the tape at the same side all along. By hand, in the roof's own directions.
func TestWallsOfATurnedRoof(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 6)
	at := func(x, y float64) orb.Point { return orb.Point{x*cos - y*sin, x*sin + y*cos} }
	b := bookOf(record.SI, func(r *roof.Roof) {
		for i, p := range []orb.Point{at(0, 0), at(24, 0), at(24, 12), at(0, 12), at(0, 0)} {
			r.Outline.Rings[0][i].Plan = p
		}
		r.Outlets[0].Plan = at(6, 6)
	})
	for _, c := range []struct {
		x, y float64
		want [2]string
	}{{22, 11, [2]string{"2.00 m", "1.00 m"}}, {3, 2, [2]string{"3.00 m", "2.00 m"}}, {1, 10, [2]string{"1.00 m", "2.00 m"}}} {
		first, second, _ := strings.Cut(b.Place(&tape.Spot{Plan: at(c.x, c.y), Code: "LOW 1"}), " and ")
		if !strings.HasPrefix(first, c.want[0]+" from ") || !strings.HasPrefix(second, c.want[1]+" from ") {
			t.Errorf("%v: %q, %q", c, first, second)
		}
	}
}

// The page lists 20 spots to read next and counts those that only the file has, one as well as more.
func TestSpotsThatThePageLeavesToTheFile(t *testing.T) {
	for n, want := range map[int]string{20: "", 21: "and 1 more; -o FOLDER", 23: "and 3 more; -o FOLDER"} {
		b := bookOf(record.SI, nil)
		b.Survey.Next = make([]tape.Spot, n)
		for i := range b.Survey.Next {
			b.Survey.Next[i] = tape.Spot{Plan: orb.Point{1 + float64(i)/2, 2}, Code: "SPOT"}
		}
		var page bytes.Buffer
		if err := Write(&page, b); err != nil || !strings.Contains(page.String(), want) || strings.Contains(page.String(), "more; -o FOLDER") != (want != "") {
			t.Errorf("%d: %v\n%s", n, err, page.String())
		}
	}
}

// A grid is said to be 10 ft or 3 m apart, in the unit in which the roof was taped: by hand 10 ft are 3.048 m.
func TestHowFarApartAGridIs(t *testing.T) {
	for _, c := range []struct {
		taped, said record.Units
		want        string
	}{{record.SI, record.SI, "about 3.0 m apart"}, {record.US, record.US, "about 10 ft apart"}, {record.US, record.SI, "about 3.0 m apart"}} {
		b := bookOf(c.taped, nil)
		b.Units, b.Survey.Next = c.said, nil
		for i := range 8 {
			b.Survey.Next = append(b.Survey.Next, tape.Spot{Plan: orb.Point{1 + float64(i), 1}, Code: "SPOT"})
		}
		if got := strings.Join(b.Steps(), " "); !strings.Contains(got, "8 spots "+c.want) {
			t.Errorf("%v: %s", c, got)
		}
	}
}

// The head of the page is underlined as far as it reaches, 80 letters at most; where something is worse than the pond both stand, and without a pond that alone.
func TestHeadOfThePage(t *testing.T) {
	page := func(b *Book) []string {
		var out bytes.Buffer
		if err := Write(&out, b); err != nil {
			t.Fatal(err)
		}
		return strings.Split(out.String(), "\n")
	}
	for name, want := range map[string]int{"Shed": len("Shed (tier A)"), strings.Repeat("é", 60): 60 + len(" (tier A)"), strings.Repeat("Hall ", 40): 80} {
		b := pond(-1, 0.02)
		b.Survey.Roof.Name = name
		lines := page(b)
		at := 0
		for !strings.HasPrefix(lines[at], "==") {
			at++
		}
		if lines[at] != strings.Repeat("=", want) {
			t.Errorf("%q is underlined %d wide, want %d", name, len(lines[at]), want)
		}
	}
	worst := finding.Finding{Severity: finding.Urgent, Pond: -1, What: finding.Say("The deck sags.")}
	for name, b := range map[string]*Book{"with a pond": pond(-1, 0.02), "without": bookOf(record.SI, nil)} {
		b.Survey.Findings = []finding.Finding{worst}
		all := strings.Join(page(b), "\n")
		if !strings.Contains(all, "WORST") || !strings.Contains(all, "The deck sags.") || strings.Contains(all, "\nPONDS") != (name == "with a pond") {
			t.Errorf("%s: %s", name, all[:400])
		}
	}
}
