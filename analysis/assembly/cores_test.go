package assembly_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

const (
	inch = float64(quantity.Inch)
	foot = float64(quantity.Foot)
)

// sloped is a roof 50 ft long that rises from elevation 100 in to the east by 1/4 in per ft, 30 ft deep, with a gutter along its west side.
func sloped() *roof.Roof {
	const z0, s = 100 * inch, quarter
	l, w := 50*foot, 30*foot
	r := shape.New("sloped", shape.At(0, 0, z0), shape.At(l, 0, z0+s*l), shape.At(l, w, z0+s*l), shape.At(0, w, z0))
	shape.Grid(r, 0, 0, l, w, 10, 6, func(x, _ float64) float64 { return z0 + s*x })
	shape.Edge(r, roof.Gutter, shape.Bare(0, w), shape.Bare(0, 0))
	return r
}

// cut adds cores of polyiso at x and y in feet; thickness in inches.
func cut(r *roof.Roof, cutter string, at []orb.Point, thickness ...float64) {
	for i, t := range thickness {
		c := roof.Core{
			Position: shape.Bare(at[i][0]*foot, at[i][1]*foot), Cutter: cutter, Reached: "rib", Deck: "steel",
			Layers: []roof.Layer{{Material: "polyiso", Thickness: quantity.Length(t * inch), Condition: "sound"}},
		}
		c.ID = "K" + string(rune('1'+i))
		r.Cores = append(r.Cores, c)
	}
}

const quarter = 1.0 / 48 // 1/4 in per ft

// TestQuarterInch: 1/4 in per ft is 2.083 % (plain arithmetic: 0.25/12).
func TestQuarterInch(t *testing.T) {
	r := assembly.Of(study(t, withCores(sloped(), []float64{3, 3, 3, 3, 3, 3}), false))
	if s := r.Regions[0].Surface.Slope(); !(math.Abs(s-0.02083) <= 0.00001) {
		t.Errorf("surface slope %.5f, want 0.02083", s)
	}
}

// lines are six places in two lines across the fall, at 1, 25 and 49 ft: 24 ft apart.
func lines() []orb.Point { return []orb.Point{{1, 6}, {25, 6}, {49, 6}, {1, 24}, {25, 24}, {49, 24}} }

func withCores(r *roof.Roof, inches []float64) *roof.Roof {
	cut(r, "hand", lines(), inches...)
	return r
}

// TestCoreTable: cores 24 ft apart on a surface that rises 6 in between them (OWN example of the trade notes, redone by hand). (a) 3.0, 3.0, 3.1 in
// thick: the deck rises 11.9 in over 48 ft, 0.248 in per ft: the structure slopes. (b) 2.0, 8.0, 14.1 in: the deck falls 0.1 in, 0.002 in per
// ft: tapered. "Three inches high and low" means that the structure slopes: common practice, no source.
func TestCoreTable(t *testing.T) {
	for _, c := range []struct {
		name   string
		inches []float64
		deck   float64 // in per ft, uphill east
		want   assembly.Verdict
	}{
		{"a", []float64{3.0, 3.0, 3.1, 3.0, 3.0, 3.1}, 0.248, assembly.StructureSlopes},
		{"b", []float64{2.0, 8.0, 14.1, 2.0, 8.0, 14.1}, -0.002, assembly.InsulationTapers},
		{"three inches high and low", []float64{3, 3, 3, 3, 3, 3}, 0.250, assembly.StructureSlopes},
	} {
		r := assembly.Of(study(t, withCores(sloped(), c.inches), false))
		g := r.Regions[0]
		if len(r.Regions) != 1 || g.Kind != assembly.OnPlane || g.Verdict != c.want {
			t.Errorf("%s: %d regions, on %s, %s", c.name, len(r.Regions), g.Kind, g.Verdict)
		}
		mean := 0.0
		for _, inches := range c.inches {
			mean += inches / 6
		}
		if !(math.Abs(g.Mean/0.0254-mean) <= 1e-6) || !(math.Abs(g.Spread/0.0254-slices.Max(c.inches)+slices.Min(c.inches)) <= 1e-6) {
			t.Errorf("%s: on average %g in, %g apart", c.name, g.Mean/0.0254, g.Spread/0.0254)
		}
		if d := g.Deck.X * 12; !(math.Abs(d-c.deck) <= 0.0006) || !(math.Abs(g.Deck.Y) <= 1e-6) {
			t.Errorf("%s: deck rises %.4f in per ft, want %.3f", c.name, d, c.deck)
		}
	}
}

// TestCoresOnOneLine: the same three cores in one line make no plane. Taken by the elevation of the surface, the insulation makes 0.1/12 of the fall in
// (a) and 12.1/12 in (b) (by hand).
func TestCoresOnOneLine(t *testing.T) {
	for _, c := range []struct {
		inches []float64
		share  float64
		want   assembly.Verdict
	}{
		{[]float64{3.0, 3.0, 3.1}, 0.1 / 12, assembly.StructureSlopes},
		{[]float64{2.0, 8.0, 14.1}, 12.1 / 12, assembly.InsulationTapers},
	} {
		r := sloped()
		cut(r, "hand", []orb.Point{{1, 15}, {25, 15}, {49, 15}}, c.inches...)
		for _, catchments := range []bool{true, false} {
			got := assembly.Of(study(t, r, catchments))
			g := got.Regions[0]
			want := assembly.OnRoof
			if catchments {
				want = assembly.OnCatchment
			}
			if len(got.Regions) != 1 || g.Kind != want || g.Verdict != c.want || !(math.Abs(g.Share-c.share) <= 1e-4) {
				t.Errorf("%v: on %s, %s, share %.4f, want %.4f", c.inches, g.Kind, g.Verdict, g.Share, c.share)
			}
		}
	}
}

// TestErrorOfSlope: two stations d apart, the thickness at each good to e, give the slope of thickness to e sqrt(2)/d (by hand; with three on a
// side as here, e sqrt(2/3)/d). Hand cuts, e = 1/8 in, d = 48 ft at the ends; the middle ones do not tell.
func TestErrorOfSlope(t *testing.T) {
	r := sloped()
	cut(r, "hand", []orb.Point{{1, 4}, {1, 15}, {1, 26}, {49, 4}, {49, 15}, {49, 26}}, 3, 3, 3, 3, 3, 3)
	g := assembly.Of(study(t, r, false)).Regions[0]
	want := inch / 8 * math.Sqrt(2./3) / (48 * foot)
	if got := math.Sqrt(g.Thickness.XX); !(math.Abs(got/want-1) <= 1e-6) {
		t.Errorf("error of the taper %.3e, want %.3e", got, want)
	}
}

// TestErrorOfDeck: two stations d apart, each elevation and each core good to e, give the deck's slope to 2e/d (by hand; with three on a side
// 2e/(d sqrt(3))). e = 1/8 in at 20 ft is 0.0125 in per ft for one station on a side.
func TestErrorOfDeck(t *testing.T) {
	r := sloped()
	for i := range r.Spots {
		r.Spots[i].Sigma = quantity.Inch / 8
	}
	cut(r, "hand", []orb.Point{{15, 5.5}, {15, 15}, {15, 24.5}, {35, 5.5}, {35, 15}, {35, 24.5}}, 3, 3, 3, 3, 3, 3)
	g := assembly.Of(study(t, r, false)).Regions[0]
	if got := math.Sqrt(g.Deck.XX) * 12 * math.Sqrt(3); !(math.Abs(got-0.0125) <= 1e-5) {
		t.Errorf("error of the deck's slope %.5f in per ft for one station on a side, want 0.0125", got)
	}
}

// TestWetShare: five cores of phenolic foam (CRREL Special Report 98-13, table of cores, READ): those called wet keep 68, 37 and 25 % of their dry
// resistance, those called dry 96 and 92 %. The share from which insulation counts as wet must part them.
func TestWetShare(t *testing.T) {
	for kept, wet := range map[float64]bool{0.68: true, 0.37: true, 0.25: true, 0.96: false, 0.92: false} {
		if (kept < standard.WetShare) != wet {
			t.Errorf("insulation that keeps %g of its resistance: wet is %v", kept, wet)
		}
	}
}

// TestFewCores: one and two cores say what they can, and ask for more on the roof, off its edges, curb and drain.
func TestFewCores(t *testing.T) {
	for n := range 3 {
		r := sloped()
		shape.Curb(r, shape.Bare(10, 2), shape.Bare(12, 2), shape.Bare(12, 4), shape.Bare(10, 4))
		shape.Drain(r, 0.5, 6, 0.3)
		cut(r, "hand", []orb.Point{{20, 15}, {30, 15}}, []float64{3, 3.5}[:n]...)
		got := assembly.Of(study(t, r, false))
		if _, _, ok := got.Deck(orb.Point{5, 5}); ok {
			t.Errorf("%d cores: a deck everywhere", n)
		}
		if n == 0 {
			if len(got.Regions) != 0 || got.R.Known || got.Load.Known {
				t.Errorf("no core: %+v", got)
			}
			continue
		}
		g := got.Regions[0]
		if g.Verdict != assembly.NotResolved || len(g.Next) == 0 || g.More < 3-n {
			t.Errorf("%d cores: %s, %d more at %v", n, g.Verdict, g.More, g.Next)
		}
		for _, p := range g.Next {
			if p[0] < 0.6 || p[1] < 0.6 || p[0] > 50*foot-0.6 || p[1] > 30*foot-0.6 {
				t.Errorf("%v is at the edge", p)
			}
			if p[0] > 9.4 && p[0] < 12.6 && p[1] > 1.4 && p[1] < 4.6 {
				t.Errorf("%v is at the curb", p)
			}
			if math.Hypot(p[0]-0.5, p[1]-6) < 1.5 {
				t.Errorf("%v is at the drain", p)
			}
		}
		if !strings.Contains(g.Cannot.Format, "asbestos") {
			t.Errorf("%d cores: the caution is missing in %q", n, g.Cannot.Format)
		}
	}
}

// TestNextCoresSettle: where too few cores leave it open, cutting at the places shown settles it by the number said.
func TestNextCoresSettle(t *testing.T) {
	r := sloped()
	cut(r, "tube", []orb.Point{{20, 12}, {26, 12}, {23, 17}}, 3, 3, 3)
	g := assembly.Of(study(t, r, false)).Regions[0]
	if g.Verdict != assembly.NotResolved || g.More < 1 {
		t.Fatalf("%s, %d more", g.Verdict, g.More)
	}
	for i, p := range g.Next[:g.More] {
		c := r.Cores[0]
		c.Plan, c.Cutter, c.ID = p, "hand", "N"+string(rune('1'+i))
		r.Cores = append(r.Cores, c)
	}
	if v := assembly.Of(study(t, r, false)).Regions[0].Verdict; v != assembly.StructureSlopes {
		t.Errorf("after %d more: %s", g.More, v)
	}
}

// TestNextCoresKeepOffADrain: no core is proposed within 1.5 m of a drain, where the insulation is sumped, even where the best place is.
func TestNextCoresKeepOffADrain(t *testing.T) {
	r := sloped()
	cut(r, "tube", []orb.Point{{20, 12}, {26, 12}, {23, 17}}, 3, 3, 3)
	best := assembly.Of(study(t, r, false)).Regions[0].Next[0]
	o := shape.Drain(r, best[0], best[1], 0.3)
	o.HasInvert, o.Invert = true, 100*inch+quarter*best[0]
	next := assembly.Of(study(t, r, false)).Regions[0].Next
	if len(next) == 0 {
		t.Fatal("no place")
	}
	for _, p := range next {
		if d := math.Hypot(p[0]-best[0], p[1]-best[1]); d < 1.5 {
			t.Errorf("a core %.2f m from the drain", d)
		}
	}
}

// TestCoreWithItsOwnElevation: an inch above or below the spots round it is flagged, half an inch is not: the limit is 25 mm and three errors of
// the spots, here 3 mm each.
func TestCoreWithItsOwnElevation(t *testing.T) {
	r := withCores(sloped(), []float64{3, 3, 3, 3, 3, 3})
	off := []float64{0, 0.5, -0.5, 2, -2, 0}
	for i := range r.Cores {
		c := &r.Cores[i]
		c.Z, c.HasZ = 100*inch+quarter*c.Plan[0]+off[i]*inch, true
	}
	for i, c := range assembly.Of(study(t, r, false)).Cores {
		if got := slices.Contains(c.Flags, assembly.LevelsDisagree); got != (math.Abs(off[i]) > 1) {
			t.Errorf("%g in off: flagged %v", off[i], got)
		}
	}
}

// TestDeckBetweenCores: on a tapered roof the deck is level, between cores as at them.
func TestDeckBetweenCores(t *testing.T) {
	r := assembly.Of(study(t, withCores(sloped(), []float64{2, 8, 14, 2, 8, 14}), false))
	for _, p := range []orb.Point{{3, 3}, {10, 7}, {14, 2}} {
		z, sigma, ok := r.Deck(p)
		// by hand: the surface at 1 ft is 100.25 in, less 2 in
		if !ok || !(math.Abs(z-98.25*inch) <= 1e-4) || sigma < inch/20 || sigma > inch/4 {
			t.Errorf("deck at %v: %.5f give or take %.5f, %v", p, z, sigma, ok)
		}
	}
	if _, _, ok := r.Deck(orb.Point{-3, 2}); ok {
		t.Error("a deck beside the roof")
	}
}

// TestStatedFlute: a core that is said to have reached a flute comes off by half the flute's depth and counts for little.
func TestStatedFlute(t *testing.T) {
	r := withCores(sloped(), []float64{3, 3, 3, 3, 3, 3})
	r.Cores[2].Reached = "flute"
	r.Cores[2].Layers[0].Thickness = quantity.Length(4.5 * inch)
	got := assembly.Of(study(t, r, false))
	c := got.Cores[2]
	if !(math.Abs(c.Thickness-3.75*inch) <= 1e-9) || c.Sigma < 0.4*inch || len(c.Flags) == 0 || c.Flags[0] != assembly.InFlute {
		t.Errorf("%+v", c)
	}
	if v := got.Regions[0].Verdict; v != assembly.StructureSlopes {
		t.Errorf("verdict %s", v)
	}
}

// TestFlagsAndLists: wet and compressed layers are listed, unknown materials named, soft decks and places off the roof flagged.
func TestFlagsAndLists(t *testing.T) {
	r := withCores(sloped(), []float64{3, 3, 3, 3, 3})
	r.Cores[0].Layers[0].Condition = "wet"
	r.Cores[1].Layers = append(r.Cores[1].Layers, roof.Layer{Material: "seaweed mat", Thickness: quantity.Length(inch), Condition: "compressed"})
	r.Cores[2].Deck = "steel, rusted through"
	r.Cores[3].Plan = orb.Point{-5, 2}
	r.Cores[4].Layers = nil
	got := assembly.Of(study(t, r, false))
	if len(got.Wet) != 2 || got.Wet[0].Condition != "wet" || got.Wet[1].Core != 1 || got.Wet[1].Layer != 1 {
		t.Errorf("wet: %+v", got.Wet)
	}
	if len(got.Unknown) != 1 || got.Unknown[0].Material != "seaweed mat" || !got.Unknown[0].R || !got.Unknown[0].Load {
		t.Errorf("unknown: %+v", got.Unknown)
	}
	for i, want := range []assembly.Flag{assembly.LayerWet, assembly.LayerPressed, assembly.DeckSoft, assembly.OffRoof, assembly.NoLayers} {
		found := false
		for _, f := range got.Cores[i].Flags {
			found = found || f == want
		}
		if !found {
			t.Errorf("core %d: %v, want %q", i+1, got.Cores[i].Flags, want)
		}
	}
	if got.R.Known || got.R.Why == "" || got.Cores[1].RKnown || got.Cores[1].LoadKnown {
		t.Errorf("an unknown material got an R or a load: %+v", got.R)
	}
}

// TestLoad: by hand, 3 in of polyiso at 0.25 psf per inch, 1/2 in gypsum board at 2 psf (a published load example, READ; a sheet of 4 by 8 ft weighs 64 lb), a
// single-ply membrane at 0.7 psf: 3.45 psf.
func TestLoad(t *testing.T) {
	r := sloped()
	c := roof.Core{Position: shape.Bare(5, 5), Layers: []roof.Layer{
		{Material: "TPO membrane", Thickness: 0.0015},
		{Material: "gypsum cover board", Thickness: quantity.Length(inch / 2)},
		{Material: "Polyiso", Thickness: quantity.Length(3 * inch)},
	}}
	r.Cores = []roof.Core{c}
	got := assembly.Of(study(t, r, false))
	if psf := got.Load.Mean / quantity.PoundPerSquareFoot; !got.Load.Known || !(math.Abs(psf-3.45) <= 1e-9) {
		t.Errorf("load %.4f psf, want 3.45", psf)
	}
	if m, ok := standard.FindMaterial("gypsum"); !ok || !(math.Abs(m.Weight*inch/2*32/quantity.PoundPerSquareFoot-64) <= 1e-9) {
		t.Error("a sheet of 4 by 8 ft of 1/2 in gypsum board does not weigh 64 lb")
	}
}

// TestOddCoreAndFlute: nine cores on a steel deck, nobody said what they reached. One that is 1-1/4 in too thick may have gone into a flute of 1-1/2 in; one
// that is 4 in too thick did not, whatever else is odd about it.
func TestOddCoreAndFlute(t *testing.T) {
	at := []orb.Point{{3, 4}, {25, 4}, {47, 4}, {3, 15}, {25, 15}, {47, 15}, {3, 26}, {25, 26}, {47, 26}}
	for _, c := range []struct {
		over  float64
		flute bool
	}{{1.25, true}, {4, false}} {
		r := sloped()
		inches := []float64{3, 3, 3, 3, 3 + c.over, 3, 3, 3, 3}
		cut(r, "hand", at, inches...)
		for i := range r.Cores {
			r.Cores[i].Reached = ""
		}
		flags := assembly.Of(study(t, r, false)).Cores[4].Flags
		if !slices.Contains(flags, assembly.Odd) || slices.Contains(flags, assembly.FluteUnsaid) != c.flute {
			t.Errorf("%g in too thick: %v", c.over, flags)
		}
	}
}

// Nine cores of one fall, none of which says whether it reached a flute: that they agree says that none did, and nobody is asked.
func TestManyCoresThatAgreeAreNotAskedForFlutes(t *testing.T) {
	at := []orb.Point{{3, 4}, {25, 15}, {47, 4}, {25, 4}, {3, 15}, {47, 15}, {3, 26}, {25, 26}, {47, 26}}
	r := sloped()
	cut(r, "hand", at, 3, 3, 3, 3, 3, 3, 3, 3, 3)
	for i := range r.Cores {
		r.Cores[i].Reached = ""
	}
	for _, g := range assembly.Of(study(t, r, false)).Regions {
		if strings.Contains(g.Cannot.Format, "rib or a flute") {
			t.Errorf("asked: %s", g.Cannot.Format)
		}
	}
}
