package layer_test

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/layer"
	"runnel/export/palette"
	"runnel/export/record"
	"runnel/export/sample"
)

// byID returns the features of a map by their ids; an id that stands twice fails the test.
func byID(t *testing.T, r *roof.Roof, u record.Units) map[string]feature {
	t.Helper()
	out := map[string]feature{}
	for _, f := range read(t, record.NewBook(sample.Study(r), "", u), layer.All()...) {
		if _, ok := out[f.id]; ok && f.layer != "contour" {
			t.Errorf("%s stands twice", f.id)
		}
		out[f.id] = f
	}
	return out
}

// Elevations beside longitude and latitude stand in the unit that the file states: by hand 100.584 m are 330 ft, 100.03 m are 328.182415 ft; a dash where a place has none, and nothing at all where none has.
func TestElevationsBesideDegrees(t *testing.T) {
	for _, c := range []struct {
		unit quantity.Unit
		z    []float64 // NaN: not known
		want any
	}{
		{quantity.Feet, []float64{100.584, math.NaN(), 100.03}, "330; -; 328.182415"},
		{quantity.Metres, []float64{100.584, 99.1234567}, "100.584; 99.123457"},
		{quantity.Metres, []float64{math.NaN(), 100}, "-; 100"},
		{quantity.Feet, []float64{math.NaN(), math.NaN()}, nil},
	} {
		r := sample.Geographic()
		r.Units = c.unit
		line := &r.Breaklines[0]
		from, to := line.Line[0].Plan, line.Line[len(line.Line)-1].Plan
		study := sample.Study(r)
		line = &study.Roof.Breaklines[0]
		line.Line = nil
		for i, z := range c.z {
			share := float64(i) / float64(len(c.z)-1)
			line.Line = append(line.Line, roof.Position{Plan: orb.Point{from[0] + share*(to[0]-from[0]), from[1] + share*(to[1]-from[1])}, Z: z, HasZ: !math.IsNaN(z)})
		}
		for _, f := range read(t, record.NewBook(study, "", record.SI), "breakline") {
			if f.id == "SR1.breakline."+line.ID && f.facts["elevations"] != c.want {
				t.Errorf("%v in %s: %v, want %v", c.z, c.unit, f.facts["elevations"], c.want)
			}
		}
	}
}

// In a file of feet every length that was measured stands in feet, a spot's elevation beside degrees as well; by hand 0.3048 m to the foot.
func TestLengthsInTheUnitOfTheFile(t *testing.T) {
	r := sample.Geographic()
	r.Units = quantity.Feet
	all := byID(t, r, record.US)
	for id, want := range map[string]map[string]any{
		"SR1.curb.K1":   {"height": 0.3 / 0.3048},
		"SR1.spot.1":    {"elevation": 100.15 / 0.3048, "elevation_ft": 100.15 / 0.3048, "sigma": 0.002 / 0.3048},
		"SR1.stain.ST1": {"depth": 0.02 / 0.3048},
	} {
		f := all[id]
		facts(t, &f, want)
	}
}

// Whatever people call their things, the map has it letter by letter: quotes, commas, brackets, line breaks, letters that run from the right.
func TestOddNamesStand(t *testing.T) {
	for _, name := range []string{`unit "1", <north> & co`, "two\nlines\tand a tab", "גג 7", "\u200fسقف", `back\slash`, strings.Repeat("long ", 100)} {
		r := sample.Local()
		r.Building, r.Curbs[0].Label, r.Edges[0].Label, r.Stains[0].Note, r.Sills[0].Label, r.Cores[0].Deck = name, name, name, name, name, name
		own, err := json.Marshal(map[string]any{"crew": name, "nested": map[string]any{"a": name}, "none": nil, "list": []any{1.5, name}})
		if err != nil {
			t.Fatal(err)
		}
		r.Spots[0].Properties = own
		all := byID(t, r, record.SI)
		for id, fact := range map[string]string{"SR1": "building", "SR1.curb.K1": "label", "SR1.edge.E1": "label", "SR1.stain.ST1": "note", "SR1.sill.L1": "label", "SR1.core.C1": "deck", "SR1.spot." + r.Spots[0].ID: "crew"} {
			if got := all[id].facts[fact]; got != name {
				t.Errorf("%s: %s is %q, want %q", id, fact, got, name)
			}
		}
		spot := all["SR1.spot."+r.Spots[0].ID].facts
		if _, ok := spot["none"]; ok || !reflect.DeepEqual(spot["nested"], map[string]any{"a": name}) || !reflect.DeepEqual(spot["list"], []any{1.5, name}) {
			t.Errorf("%q: own properties %v", name, spot)
		}
	}
}

// Own properties cannot draw a thing in another colour, nor say what the roof says: their names are taken.
func TestOwnPropertiesDrawNothing(t *testing.T) {
	r := sample.Local()
	r.Curbs[0].Properties = json.RawMessage(`{"stroke":"#00FF00","fill":"#00FF00","fill-opacity":1,"stroke-width":9,"stroke-opacity":0.1,"marker-color":"#00FF00","marker-size":"large","height":99,"role":"spot","label":"other","mine":"kept"}`)
	f := byID(t, r, record.SI)["SR1.curb.K1"]
	facts(t, &f, map[string]any{"role": "curb", "label": "unit 1", "height": 0.3, "mine": "kept"})
	for _, key := range []string{"stroke", "fill", "fill-opacity", "stroke-width", "stroke-opacity", "marker-color", "marker-size"} {
		if got := f.facts[key]; got == "#00FF00" || got == 9.0 || got == "large" || got == 0.1 {
			t.Errorf("%s is drawn as %v", key, got)
		}
	}
}

// What was stated of the structure and of outlets stands on the outline as it is read back, and only where it was stated: a direction of 0 degrees is one, a span of 0 m is none.
func TestWhatWasStatedOfTheRoof(t *testing.T) {
	r := sample.Local()
	bare := byID(t, sample.Local(), record.SI)["SR1"]
	facts(t, &bare, map[string]any{"member_direction": nil, "member_span": nil, "member_spacing": nil, "load_limit": nil, "load_limit_by": nil, "outlets": nil, "wall_runoff": nil, "edge_assumed": nil})
	r.Structure = roof.Structure{HasDirection: true, MemberDirection: 0, MemberSpan: 9.5, MemberSpacing: 1.25, LoadLimit: 1436.1234567, LoadLimitBy: "A. Person"}
	r.WallRunoff = "half"
	f := byID(t, r, record.SI)["SR1"]
	facts(t, &f, map[string]any{"member_direction": 0.0, "member_span": 9.5, "member_spacing": 1.25, "load_limit": "1436.123457 Pa", "load_limit_by": "A. Person", "wall_runoff": "half"})
}

// Edges of a roof say their duty where water leaves over them; a wall has none.
func TestDutyOfEdges(t *testing.T) {
	for kind, want := range map[roof.EdgeType]any{roof.Wall: nil, roof.Gutter: "overflow", roof.Free: "overflow"} {
		s := sample.Study(sample.Local())
		s.Roof.Edges[0].Type, s.Roof.Edges[0].Duty, s.Roof.Edges[0].Height, s.Roof.Edges[0].AdjoiningHeight = kind, roof.Overflow, 0.45, 3.5
		for _, f := range read(t, record.NewBook(s, "", record.SI), "edge") {
			if f.id == "SR1.edge.E1" {
				facts(t, &f, map[string]any{"duty": want, "type": kind.String(), "height": 0.45, "adjoining_height": 3.5})
			}
		}
	}
}

// A roof of a campus that was found wanting is filled to 0.6, one without findings to 0.2, each with a line of 2 in ink.
func TestHowRoofsOfACampusAreFilled(t *testing.T) {
	var none record.Object
	for _, c := range []struct {
		o    layer.Outline
		want layer.Style
	}{
		{layer.Outline{Any: true, Worst: finding.Repair}, layer.Style{Name: "repair", Class: -int(finding.Repair), Stroke: palette.Ink, Width: 2, Fill: palette.Repair, Opacity: 0.6}},
		{layer.Outline{}, layer.Style{Name: "no finding", Class: 1, Stroke: palette.Ink, Width: 2, Fill: palette.Primary, Opacity: 0.2}},
	} {
		c.o.Properties = &none
		layer.Roofs(true, quantity.Metres, func(f *layer.Feature) {
			if f.Style != c.want {
				t.Errorf("%+v, want %+v", f.Style, c.want)
			}
		})(&c.o)
	}
}

// An answer stands at the place that it is about, one about the whole roof at the first corner of its outline.
func TestPlacesOfAnswers(t *testing.T) {
	r := sample.Local()
	r.Answers = []roof.Answer{
		{Feature: roof.Feature{ID: "A1"}, Question: "limit", Text: "2 kPa", By: "A. Person", On: "2026-06-01", Placed: true, Plan: orb.Point{7, 3}, Number: 4},
		{Feature: roof.Feature{ID: "A2"}, Question: "all", Text: "yes", By: "A. Person", On: "2026-06-01"},
	}
	all := byID(t, r, record.SI)
	corner := r.Outline.Rings[0][0].Plan
	for id, want := range map[string]struct {
		at     orb.Point
		number any
	}{"SR1.answer.A1": {orb.Point{7, 3}, 4.0}, "SR1.answer.A2": {corner, nil}} {
		f := all[id]
		if x, y, _ := f.place(0); !(math.Hypot(x-1000-want.at[0], y-2000-want.at[1]) <= 1e-5) {
			t.Errorf("%s stands at %v, %v, want %v", id, x-1000, y-2000, want.at)
		}
		facts(t, &f, map[string]any{"number": want.number, "by": "A. Person", "on": "2026-06-01"})
	}
	first := all["SR1.answer.A1"]
	facts(t, &first, map[string]any{"title": "Answer of A. Person, 2026-06-01: 2 kPa", "question": "limit", "answer": "2 kPa"})
}

// 200 outlets stand once each, at their places, whatever they are called.
func TestManyOutlets(t *testing.T) {
	r := sample.Local()
	r.Outlets, r.Curbs = nil, nil
	for i := range 200 {
		r.Outlets = append(r.Outlets, roof.Outlet{
			Feature: roof.Feature{ID: fmt.Sprint("D", i)}, Label: fmt.Sprintf("no. %d", i%7), Type: roof.Drain, Diameter: 0.1,
			Plan: orb.Point{0.55 + 0.95*float64(i%20), 0.6 + 1.1*float64(i/20)},
		})
	}
	n := 0
	seen := map[orb.Point]bool{}
	for _, f := range byID(t, r, record.SI) {
		if f.layer != "outlet" || f.facts["type"] != "drain" {
			continue
		}
		n++
		x, y, _ := f.place(0)
		seen[orb.Point{math.Round(x*1e3) / 1e3, math.Round(y*1e3) / 1e3}] = true
	}
	if n != 200 || len(seen) != 200 {
		t.Errorf("%d outlets at %d places", n, len(seen))
	}
}
