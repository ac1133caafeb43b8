package record_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/export/record"
	"runnel/export/sample"
)

// By hand: R-1 is 0.176110 m2 K/W (NIST Special Publication 811, appendix B, from memory): 2 m2 K/W is; U of 0.5 W/(m2 K) is
// 0.5 x 0.176110 = 0.0881 Btu/(ft2 h degF).
func TestResistanceInBothUnits(t *testing.T) {
	for _, c := range []struct {
		u                record.Units
		r, v, sayR, sayU string
	}{
		{record.SI, `"x_m2_k_per_w":2`, `"y_w_per_m2_k":0.5`, "2.00 m² K/W", "0.500 W/(m² K)"},
		{record.US, `"x_ft2_h_f_per_btu":11.356`, `"y_btu_per_ft2_h_f":0.08805`, "R-11.4", "0.088 Btu/(sq ft h °F)"},
	} {
		var o record.Object
		c.u.R(&o, "x", 2)
		c.u.U(&o, "y", 0.5)
		text := string(o.Append(nil))
		if !strings.Contains(text, c.r) || !strings.Contains(text, c.v) {
			t.Errorf("%s: %s", c.u, text)
		}
		if c.u.SayR(2) != c.sayR || c.u.SayU(0.5) != c.sayU {
			t.Errorf("%s: %s, %s", c.u, c.u.SayR(2), c.u.SayU(0.5))
		}
	}
}

// opened is the sample with one core whose layers the tables know: 1/2 in gypsum board, and 2 in polyiso, wet.
func opened() *roof.Roof {
	r := sample.Local()
	r.Cores[0].Layers = []roof.Layer{
		{Material: "gypsum board", Thickness: quantity.Inch / 2}, {Material: "polyiso", Thickness: 2 * quantity.Inch, Condition: "wet"},
	}
	return r
}

// By hand: 2-1/2 in is 63.5 mm; the sample's surface at (3, 3) is 100 + 0.02 x 3 + 0.005 x 3 = 100.075 m, the deck 63.5 mm below it,
// 100.0115 m. 2 in of polyiso has R-11.4 (values in force from 2014 as reprinted, read), 1/2 in of gypsum
// (R-1.1 per inch, common practice, no source), 2.1045 m2 K/W. They weigh 2 + 0.5 psf (a published load example; foam with
// facers 0.25 psf per inch, common practice), 2.5 psf, 0.1197 kPa.
func TestCoreByHand(t *testing.T) {
	b := record.NewBook(sample.Study(opened()), "", record.SI)
	var o record.Object
	b.Core(&o, 0)
	text := string(o.Append(nil))
	for _, want := range []string{
		`"surface_m":100.075,`, `"thickness_mm":63.5,`, `"thickness_sigma_mm":3.175,`, `"deck_level_m":100.0115,`, `"r_m2_k_per_w":2.104`,
		`"dead_load_kpa":0.1197`, `"flags":"wet layer"`,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
}

// One core proposes where to cut next: in the pond, and about the core; every place once, on the roof, with the caution.
func TestNextCores(t *testing.T) {
	b := record.NewBook(sample.Study(opened()), "", record.SI)
	if len(b.NextCores) < 2 {
		t.Fatalf("%d places", len(b.NextCores))
	}
	if b.NextCores[0].For != "pond P01" {
		t.Errorf("the first is for %s", b.NextCores[0].For)
	}
	seen := map[orb.Point]bool{}
	for _, n := range b.NextCores {
		if seen[n.Plan] || n.Plan[0] <= 0 || n.Plan[0] >= 20 || n.Plan[1] <= 0 || n.Plan[1] >= 12 {
			t.Errorf("place %v", n.Plan)
		}
		seen[n.Plan] = true
		if why := record.SI.SayText(n.Why); !strings.HasSuffix(why, assembly.Caution) || len(why) < len(assembly.Caution)+20 {
			t.Errorf("why: %q", why)
		}
	}
}

// By hand: the sample is 20 m by 12 m with RD-1 at (6, 6), the scupper OS-1 at (0, 6) and unit 1 from (10, 5) to (11, 7). From
// (6 + 2.12, 6 + 2.12) the unit's corner (10, 7) is 1.88 m east and 1.12 m south, 2.19 m away. In feet RD-1 is 2.266 m and 4.781 m away, 5.291 m or 17.36 ft.
func TestPlace(t *testing.T) {
	b := record.NewBook(sample.Study(sample.Local()), "", record.SI)
	d := 3 / math.Sqrt2
	for _, c := range []struct {
		at   orb.Point
		want string
	}{
		{orb.Point{9, 6}, "6.0 m from the south wall, 9.0 m from the west wall; 1.0 m west of unit 1"},
		{orb.Point{6, 9}, "3.0 m from the north wall, 6.0 m from the west wall; 3.0 m north of RD-1"},
		{orb.Point{6 + d, 6 + d}, "3.9 m from the north wall, 8.1 m from the west wall; 2.2 m north-west of unit 1"},
		{orb.Point{6 - d, 6 - d}, "3.9 m from the south wall, 3.9 m from the west wall; 3.0 m south-west of RD-1"},
		{orb.Point{17, 1}, "1.0 m from the south wall, 3.0 m from the east gutter (east gutter)"},
		{orb.Point{6, 6}, "at RD-1"},
	} {
		if got := b.Place(c.at); got != c.want {
			t.Errorf("%v: %q, want %q", c.at, got, c.want)
		}
	}
	feet := record.NewBook(sample.Study(sample.Feet()), "", record.US)
	want := `4' 0" from the south wall, 12' 3" from the west wall`
	if got := feet.Place(orb.Point{12.25 * 0.3048, 4 * 0.3048}); got != want+`; 17' 4" south-west of RD-1` {
		t.Errorf("in feet: %q, want %q", got, want)
	}
}
