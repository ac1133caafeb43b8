package roof_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
)

// An answer about cuts holds for what was to be cut when it was given, and for nothing else; quotes and blanks do not tell, since point files have none.
func TestAnswerForCuts(t *testing.T) {
	said := func(question, covers, text, on string) roof.Answer {
		a := answer(question, text)
		a.Covers, a.On = covers, on
		return a
	}
	r := &roof.Roof{Answers: []roof.Answer{
		said("cuts_authorised", `three openings of 4"`, "yes", "2026-12-02"), said("warranty_holds", "two openings", "no", "2026-12-02"),
		said("cuts_authorised", "two openings", "no", "2026-12-03"), said("cuts_authorised", "two openings", "yes", "2026-12-01"),
	}}
	for i, c := range []struct {
		asked roof.Asked
		cuts  string
		text  string
	}{
		{roof.AskCuts, "three openings of 4", "yes"},
		{roof.AskCuts, " three  openings of 4' ", "yes"},
		{roof.AskCuts, "two openings", "no"},
		{roof.AskWarranty, "two openings", "no"},
		{roof.AskWarranty, "three openings of 4", ""},
		{roof.AskCuts, "one opening", ""},
		{roof.AskCover, "two openings", ""},
	} {
		switch a := r.AnsweredFor(c.asked, c.cuts); {
		case a == nil && c.text != "":
			t.Errorf("%d: no answer, want %q", i, c.text)
		case a != nil && a.Text != c.text:
			t.Errorf("%d: %q, want %q", i, a.Text, c.text)
		}
	}
}

// Each question whose answer counts is asked of the one who may decide it; deck, opening and lowering hold at a place, warranty and authority for what is cut.
func TestWhoIsAskedWhat(t *testing.T) {
	to := map[roof.Asked]roof.Recipient{
		roof.AskLower: roof.ToPlumber, roof.AskCover: roof.ToOfficial, roof.AskResistance: roof.ToEnergy, roof.AskWarranty: roof.ToWarrantor, roof.AskCuts: roof.ToOwner,
	}
	placed := []roof.Asked{roof.AskDeck, roof.AskOpening, roof.AskLower}
	cuts := []roof.Asked{roof.AskWarranty, roof.AskCuts}
	form := map[roof.Asked]string{roof.AskLoad: "psf", roof.AskGravity: "psf", roof.AskOverflow: "mm", roof.AskResistance: "R-25"}
	names := roof.AskedNames()
	if len(names) != 11 {
		t.Fatalf("%d questions", len(names))
	}
	for _, name := range names {
		a := roof.Asked(name)
		want, other := to[a]
		if !other {
			want = roof.ToEngineer
		}
		if a.To() != want || a.Placed() != slices.Contains(placed, a) || a.OfCuts() != slices.Contains(cuts, a) {
			t.Errorf("%s is asked of %s, placed %t, of cuts %t", a, a.To(), a.Placed(), a.OfCuts())
		}
		if f, ok := form[a]; ok && !strings.Contains(a.Form(), f) || !ok && a.Form() != "yes or no" {
			t.Errorf("%s is answered by %q", a, a.Form())
		}
	}
	if got := roof.Asked("anything else"); got.To() != roof.ToEngineer || got.Placed() || got.OfCuts() || got.Form() != "any text" {
		t.Errorf("what decides nothing: %s, %q", got.To(), got.Form())
	}
	for who, want := range map[roof.Recipient]string{
		"": "structural engineer", roof.ToEngineer: "structural engineer", roof.ToEnergy: "energy authority", roof.ToOfficial: "building official",
		roof.ToPlumber: "plumber", roof.ToWarrantor: "warrantor", roof.ToOwner: "owner",
	} {
		if got := who.Who(); got != want {
			t.Errorf("%q is the %s, want %s", who, got, want)
		}
	}
}

// What may be read is written by the same word, in capitals or not; what is no word of its list names all of them.
func TestWordsAreReadAndWritten(t *testing.T) {
	read := func(word, kind string) (string, error) {
		switch kind {
		case "edge":
			v, err := roof.ParseEdgeType(word)
			return v.String(), err
		case "breakline":
			v, err := roof.ParseBreaklineType(word)
			return v.String(), err
		case "duty":
			v, err := roof.ParseDuty(word)
			return v.String(), err
		case "outlet":
			v, err := roof.ParseOutletType(word)
			return v.String(), err
		case "crest":
			v, err := roof.ParseCrest(word)
			return v.String(), err
		}
		v, err := roof.ParseSillKind(word)
		return v.String(), err
	}
	for kind, words := range map[string]string{
		"edge": "wall gutter free", "breakline": "ridge valley hip cricket grade-break", "duty": "primary overflow", "outlet": "drain scupper", "crest": "sharp floor-flush",
		"sill": "door-sill curb-top wall-joint low-parapet",
	} {
		for _, word := range strings.Fields(words) {
			for _, text := range []string{word, strings.ToUpper(word), " " + word + " "} {
				if got, err := read(text, kind); err != nil || got != word {
					t.Errorf("%s %q is read as %q, %v", kind, text, got, err)
				}
			}
		}
		if _, err := read("gully", kind); err == nil || !strings.Contains(err.Error(), strings.Join(strings.Fields(words), ", ")) || !strings.Contains(err.Error(), `"gully"`) {
			t.Errorf("%s: %v", kind, err)
		}
	}
	if got, err := roof.ParseSillKind("low parapet"); err != nil || got != roof.LowParapet {
		t.Errorf("a blank for a hyphen: %v, %v", got, err)
	}
	if none, err := roof.ParseNoOutlets("none"); err != nil || !none {
		t.Errorf("no outlets: %v", err)
	}
	for word, want := range map[string]roof.Elevations{"measured": roof.Measured, "drawn": roof.Drawn, "tops": roof.WallTops} {
		if got, err := roof.ParseElevations(word); err != nil || got != want {
			t.Errorf("%s: %v, %v", word, got, err)
		}
	}
	if got := roof.EdgeOutlet.String() + roof.CrestUnknown.String() + roof.SillUnknown.String(); got != "" {
		t.Errorf("what nobody states is called %q", got)
	}
}

// Where a thing was read: the line of a point file, else the number in a GeoJSON file, and its own id.
func TestOriginsAreNamed(t *testing.T) {
	for want, o := range map[string]roof.Origin{
		"a.csv line 12":              {File: "a.csv", Line: 12},
		"a.csv line 1 (P4)":          {File: "a.csv", Line: 1, ID: "P4"},
		"a.geojson feature 3 (D1)":   {File: "a.geojson", Feature: 3, ID: "D1"},
		"a.geojson feature 1":        {File: "a.geojson", Feature: 1},
		"a.geojson":                  {File: "a.geojson"},
		"both.csv line 2 (whatever)": {File: "both.csv", Line: 2, Feature: 9, ID: "whatever"},
	} {
		if got := o.String(); got != want {
			t.Errorf("%+v is %q, want %q", o, got, want)
		}
	}
}

// A limit counts with its author alone; a pipe is known by its diameter, or by both sides of a rectangle.
func TestWhatIsKnown(t *testing.T) {
	for _, c := range []struct {
		s  roof.Structure
		ok bool
	}{{roof.Structure{LoadLimit: 900, LoadLimitBy: "A. Engineer"}, true}, {roof.Structure{LoadLimit: 900}, false}, {roof.Structure{LoadLimitBy: "A. Engineer"}, false}, {roof.Structure{}, false}} {
		if limit, ok := c.s.Limit(); ok != c.ok || limit != c.s.LoadLimit {
			t.Errorf("%+v: %g, %t", c.s, limit, ok)
		}
	}
	for _, c := range []struct {
		p  roof.Pipe
		ok bool
	}{{roof.Pipe{Diameter: quantity.Inch}, true}, {roof.Pipe{Width: quantity.Inch, Depth: quantity.Inch}, true}, {roof.Pipe{Width: quantity.Inch}, false}, {roof.Pipe{Depth: quantity.Inch}, false}, {roof.Pipe{}, false}} {
		if c.p.Known() != c.ok {
			t.Errorf("%+v: %t", c.p, !c.ok)
		}
	}
	line := []roof.Position{{Plan: orb.Point{1, 2}}, {Plan: orb.Point{3, 4}}, {Plan: orb.Point{1, 2}}}
	if got := roof.PlanOf(line); !slices.Equal(got, orb.Ring{{1, 2}, {3, 4}, {1, 2}}) {
		t.Errorf("in plan %v", got)
	}
}

// Of two soundings the deeper stands for the water's place, wherever it stands in the list.
func TestDeepestInAnyOrder(t *testing.T) {
	for _, depths := range [][]quantity.Length{{0.05, 0.02, 0.03}, {0.02, 0.05, 0.03}, {0.02, 0.03, 0.05}, {0.05}, {0.01, 0.05}} {
		w := roof.Water{}
		for _, d := range depths {
			w.Soundings = append(w.Soundings, roof.Sounding{Plan: orb.Point{float64(d) * 100, 7}, Depth: d})
		}
		if got := w.Deepest(); got != (orb.Point{5, 7}) {
			t.Errorf("%v: %v", depths, got)
		}
	}
}

// A long question is named by its first 60 letters, whatever the script.
func TestLongQuestionsAreClipped(t *testing.T) {
	for n, want := range map[int]string{60: strings.Repeat("ü", 60), 61: strings.Repeat("ü", 60) + "..."} {
		a := answer(strings.Repeat("ü", n), "two at a time")
		a.By = ""
		if rule, _ := a.Settle(); rule != "the answer to "+want+" does not say who gave it" {
			t.Errorf("%d letters: %q", n, rule)
		}
	}
}
