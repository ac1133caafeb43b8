package record_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/finding"
	"runnel/export/record"
	"runnel/export/sample"
)

// read returns an object as another reader of JSON has it.
func read(t *testing.T, fill func(o *record.Object)) map[string]any {
	t.Helper()
	var o record.Object
	fill(&o)
	var got map[string]any
	if err := json.Unmarshal(o.Append(nil), &got); err != nil {
		t.Fatalf("%v in %s", err, o.Append(nil))
	}
	return got
}

// has fails the test where an object lacks a value, or has one that is wanted to be nil.
func has(t *testing.T, what string, got, want map[string]any) {
	t.Helper()
	for name, w := range want {
		if g, ok := got[name]; !reflect.DeepEqual(g, w) || ok != (w != nil) {
			t.Errorf("%s: %s is %v, want %v", what, name, g, w)
		}
	}
}

// The resistance of the roof, by hand in US units: R-1 is 0.1761102 m2 K/W, so that 3.522204 m2 K/W are R-20; a foot square is 0.09290304 m2.
func TestResistanceOfTheRoof(t *testing.T) {
	b := record.NewBook(sample.Study(opened()), "", record.US)
	r := &b.Study.Assembly.R
	*r = assembly.Resistance{Known: false, Why: "two cores more", Films: 0.1761102, Chosen: "mean"}
	has(t, "not known", read(t, b.Assembly)["resistance"].(map[string]any), map[string]any{
		"known": false, "missing": "two cores more", "films_r_ft2_h_f_per_btu": 1.0, "method": "mean", "methods": nil, "area_ft2": nil,
	})
	*r = assembly.Resistance{
		Known: true, Films: 0.1761102, Chosen: "b", Area: 92.90304, Share: 0.5, Mean: 0.0762, Least: 0.0254, Greatest: 0.127, LeastR: 1.761102, GreatestR: 3.522204,
		Rows: []assembly.ResistanceRow{{Method: "a", Why: "no taper", Meaning: "m", Source: "s"}, {Method: "b", OK: true, R: 3.522204, U: 1 / 3.522204}},
	}
	got := read(t, b.Assembly)["resistance"].(map[string]any)
	has(t, "known", got, map[string]any{
		"known": true, "missing": nil, "area_ft2": 1000.0, "area_share": 0.5, "thickness_mean_in": 3.0, "thickness_least_in": 1.0, "thickness_greatest_in": 5.0,
		"least_r_ft2_h_f_per_btu": 10.0, "greatest_r_ft2_h_f_per_btu": 20.0,
	})
	rows := got["methods"].([]any)
	has(t, "the first method", rows[0].(map[string]any), map[string]any{"method": "a", "chosen": nil, "r_ft2_h_f_per_btu": nil, "not_because": "no taper", "meaning": "m", "source": "s"})
	has(t, "the second method", rows[1].(map[string]any), map[string]any{"method": "b", "chosen": true, "r_ft2_h_f_per_btu": 20.0, "u_btu_per_ft2_h_f": 0.05, "not_because": nil})
}

// What cores say of a pond: by hand 12.7 mm lower, of which the deck 2.54, so that the assembly is 10.16 mm thinner there.
func TestCoresOfAPond(t *testing.T) {
	b := record.NewBook(sample.Study(opened()), "", record.SI)
	a := b.Study.Assembly
	core := b.Names.Input("core", a.Cores[0].ID)
	pond := b.Study.Listed[0].Pond
	a.Ponds = []assembly.Pond{
		{Pond: pond, Inside: []int{0}},
		{Pond: pond, Inside: []int{0}, Outside: []int{0, 0}, Compared: true, Drop: 0.0127, DeckDrop: 0.00254, Thinner: 0.01016, Sigma: 0.003, Soft: true, Why: assembly.Compressed, Sentence: finding.Say("It is pressed.")},
	}
	ponds := read(t, b.Assembly)["ponds"].([]any)
	has(t, "one core", ponds[0].(map[string]any), map[string]any{
		"pond": b.Names.Ponds[pond], "deck_soft": nil, "cores": []any{core}, "compared_with": nil, "surface_lower_mm": nil, "why": nil, "says": nil,
	})
	has(t, "compared", ponds[1].(map[string]any), map[string]any{
		"deck_soft": true, "compared_with": []any{core, core}, "surface_lower_mm": 12.7, "deck_lower_mm": 2.54, "thinner_mm": 10.16, "sigma_mm": 3.0, "why": "compressed", "says": "It is pressed.",
	})
	a.Cores[0].Pond = 0 // the first of the ponds with cores
	has(t, "the core", read(t, func(o *record.Object) { b.Core(o, 0) }), map[string]any{"pond": b.Names.Ponds[pond]})
	a.Cores[0].Pond = -1
	has(t, "a core beside ponds", read(t, func(o *record.Object) { b.Core(o, 0) }), map[string]any{"pond": nil})
}

// A region goes by the id of what it lies on: a plane, a catchment up to its brim, or the roof; what cores do not tell of it is left out.
func TestRegionsByTheirIDs(t *testing.T) {
	b := record.NewBook(sample.Study(opened()), "", record.SI)
	a := b.Study.Assembly
	full := b.Study.Catchments.Full
	index := int32(-1)
	for i := range full {
		if full[i].Outlet == 0 {
			index = int32(i)
		}
	}
	a.Regions = []assembly.Region{
		{Kind: assembly.OnPlane, Index: 2},
		{Kind: assembly.OnCatchment, Index: index},
		{Kind: assembly.OnRoof},
		{Kind: assembly.OnRoof, Cores: []int{0}, Used: []int{0}, Mean: 0.1, Spread: 0.0125, HasShare: true, Share: 0.25, ShareSigma: 0.05, More: 2, Next: []orb.Point{{3, 3}}},
		{Kind: assembly.OnRoof, More: 2},
		{Kind: assembly.OnRoof, More: -1, Next: []orb.Point{{3, 3}}},
	}
	regions := read(t, b.Assembly)["regions"].([]any)
	for i, id := range []string{"SR1.L03", "SR1.RD-1.full", "SR1"} {
		has(t, id, regions[i].(map[string]any), map[string]any{
			"id": id, "thickness_mm": nil, "insulation_share": nil, "surface_slope_pct": nil, "more_cores": nil, "cores": nil,
		})
	}
	has(t, "with cores", regions[3].(map[string]any), map[string]any{
		"thickness_mm": 100.0, "thickness_spread_mm": 12.5, "insulation_share": 0.25, "insulation_share_sigma": 0.05, "more_cores": 2.0,
		"cores": []any{b.Names.Input("core", a.Cores[0].ID)}, "used": []any{b.Names.Input("core", a.Cores[0].ID)},
	})
	for _, i := range []int{4, 5} { // nowhere to cut, and a number that nobody knows
		has(t, "no more cores", regions[i].(map[string]any), map[string]any{"more_cores": nil})
	}
}

// Of a region that more cores cannot settle three are proposed at most; one that asks for two gets two, each place once.
func TestHowManyCoresAreProposed(t *testing.T) {
	places := []orb.Point{{1, 1}, {2, 2}, {3, 3}, {4, 4}, {5, 5}}
	for _, c := range []struct {
		more []int
		want int
	}{{[]int{2}, 2}, {[]int{-1}, 3}, {[]int{0}, 0}, {[]int{9}, 5}, {[]int{2, -1}, 3}, {[]int{1, 1}, 1}} {
		s := sample.Study(opened())
		s.Assembly.Ponds, s.Assembly.Regions = nil, nil
		for _, more := range c.more {
			s.Assembly.Regions = append(s.Assembly.Regions, assembly.Region{Kind: assembly.OnRoof, More: more, Next: places})
		}
		b := record.NewBook(s, "", record.SI)
		var got []orb.Point
		for _, n := range b.NextCores {
			if got = append(got, n.Plan); n.For != "the roof" {
				t.Errorf("for %q", n.For)
			}
		}
		if len(got) != c.want || c.want > 0 && !reflect.DeepEqual(got, places[:c.want]) {
			t.Errorf("asked for %v more: %v, want the first %d", c.more, got, c.want)
		}
	}
	s := sample.Study(opened())
	s.Assembly.Cores = nil
	if b := record.NewBook(s, "", record.SI); b.NextCores != nil {
		t.Errorf("a roof without cores: %v", b.NextCores)
	}
}

// Ids of results: the roof's own, a letter and a number from 1 on; no two results share one.
func TestIDsOfResults(t *testing.T) {
	n := record.NewNames(sample.Study(sample.Local()), "LIB")
	seen := map[string]bool{}
	for letter, id := range map[string]func(int) string{
		"L%02d": n.Plane, "F%d": n.Facet, "C%02d": n.Contour, "V%02d": n.Valley, "R%02d": n.Ridge, "N%02d": n.Finding, "B%02d": n.NextCore, "M%02d": n.NextSpot,
	} {
		for _, i := range []int{0, 8, 99, 1233} {
			got, want := id(i), "LIB."+fmt.Sprintf(letter, i+1)
			if got != want || seen[got] {
				t.Errorf("%q, want %q once", got, want)
			}
			seen[got] = true
			if local := n.Local(got); "LIB."+local != got {
				t.Errorf("%q without the roof is %q", got, local)
			}
		}
	}
	for given, want := range map[string]string{"C1": "LIB.core.C1", "LIB.core.C1": "LIB.core.C1", "OTHER.core.C1": "LIB.core.OTHER.core.C1", "": "LIB.core."} {
		if got := n.Input("core", given); got != want {
			t.Errorf("core %q is %q, want %q", given, got, want)
		}
	}
	if n.End(-1, -1) != "" || n.End(0, 0) != n.Outlets[0] || n.End(-1, 0) != n.Ponds[0] || n.Lip(0) != n.Ponds[0]+".lip" {
		t.Errorf("ends: %q, %q, %q, lip %q", n.End(-1, -1), n.End(0, 0), n.End(-1, 0), n.Lip(0))
	}
	if !strings.HasPrefix(n.Outlets[0], "LIB.") {
		t.Errorf("an outlet is %q", n.Outlets[0])
	}
}
