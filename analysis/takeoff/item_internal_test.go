package takeoff

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// TestPricesByUnit: what a price of 2 makes of one unit in SI, by hand: a board foot is 0.002359737216 m3, a square foot 0.09290304 m2, a foot 0.3048 m, a cubic foot 0.028316846592 m3. A price counts for its own thing only, and in its own measure.
func TestPricesByUnit(t *testing.T) {
	const boardFoot, squareFoot, cubicFoot = 0.002359737216, 0.09290304, 0.028316846592
	for _, c := range []struct {
		name    string
		of      subject
		measure Measure
		unit    float64
	}{
		{"per_board_foot", insulation, Solid, boardFoot},
		{"per_m3", insulation, Solid, 1},
		{"per_board", insulation, Pieces, 1},
		{"per_sq_ft", covering, Area, squareFoot},
		{"per_m2", covering, Area, 1},
		{"per_ft_edge_strip", strip, Length, 0.3048},
		{"per_m_edge_strip", strip, Length, 1},
		{"per_ft_mitre", mitre, Length, 0.3048},
		{"per_m_mitre", mitre, Length, 1},
		{"per_ft_cut_line", cutLine, Length, 0.3048},
		{"per_m_cut_line", cutLine, Length, 1},
		{"per_outlet_reset", outletReset, Pieces, 1},
		{"per_outlet_new", outletNew, Pieces, 1},
		{"per_overflow_reset", overflowReset, Pieces, 1},
		{"per_board_foot_removed", removal, Solid, boardFoot},
		{"per_m3_removed", removal, Solid, 1},
		{"per_cu_ft_leveller", levelling, Solid, cubicFoot},
		{"per_m3_leveller", levelling, Solid, 1},
		{"per_board_foot_to_measure", toMeasure, Solid, boardFoot},
		{"per_m3_to_measure", toMeasure, Solid, 1},
	} {
		p, err := ParsePrices([]byte(`{"currency": "EUR", "` + c.name + `": 2}`))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		for of := insulation; of <= toMeasure; of++ {
			for _, m := range []Measure{Pieces, Area, Solid, Length} {
				k := &counter{in: &Input{Prices: p}, out: &TakeOff{}}
				k.item(Item{Measure: m, Value: 3}, of)
				i := k.out.Items[0]
				if want := of == c.of && m == c.measure; i.Priced != want || k.out.Priced != want {
					t.Errorf("%s for %d in measure %d: priced %v", c.name, of, m, i.Priced)
				}
				if i.Priced {
					near(t, c.name+": cost", i.Cost, 3*2/c.unit, 0.005)
					near(t, c.name+": sum", k.out.Cost, i.Cost, 0)
					if i.Per != c.name || i.Unit != 2 || k.out.Money != "EUR" {
						t.Errorf("%s: %+v in %q", c.name, i, k.out.Money)
					}
				}
			}
		}
	}
	if got := strings.Count(PriceNames(), ","); got != 19 {
		t.Errorf("%d names of prices, want 20: %s", got+1, PriceNames())
	}
}

// TestPriceLimits: from nothing to a thousand million, a currency of twelve characters, whatever bytes they take, and one only; each error says its name.
func TestPriceLimits(t *testing.T) {
	for text, want := range map[string]string{
		`{"per_m2": 0}`:                                   "",
		`{"per_m2": 1000000000}`:                          "",
		`{"per_m2": 1000000001}`:                          "line 1: per_m2: a price is a number from 0 to a thousand million",
		`{"per_m2": -0.01}`:                               "line 1: per_m2: a price is a number from 0 to a thousand million",
		`{"currency": "ééééééééééé£"}`:                    "",
		`{"currency": "ééééééééééé££"}`:                   "line 1: currency: one text of at most 12 characters",
		`{"currency": 5}`:                                 "line 1: currency: one text of at most 12 characters",
		"{\"currency\": \"a\",\n\"currency\": \"b\"}":     `line 2: "currency" stands already on line 1; leave one of the two out`,
		`{"per_m2": 1, "per_m3": 2, "per_m3_removed": 1}`: "",
		"{\"per_m3\": 1,\n\"per_board\": 2}":              "line 2: per_board: per_m3 gives a price for the same thing already",
	} {
		said := ""
		if _, err := ParsePrices([]byte(text)); err != nil {
			said = err.Error()
		}
		if said != want {
			t.Errorf("%s: %q, want %q", text, said, want)
		}
	}
	var none *Prices
	if _, _, ok := none.price(covering); ok {
		t.Error("no prices have one")
	}
	if r := rateNamed("per_gallon"); r != nil {
		t.Errorf("%+v", r)
	}
}

// counted returns a counter with prices, a tenth of waste and what was counted.
func counted(t *testing.T, prices string, out *TakeOff) *counter {
	t.Helper()
	p, err := ParsePrices([]byte(prices))
	if err != nil {
		t.Fatal(err)
	}
	return &counter{in: &Input{Prices: p, Waste: 0.1, Study: &study.Study{Roof: &roof.Roof{}}}, option: &correction.Option{}, out: out}
}

// find returns the item whose words begin so; none has no words.
func (c *counter) find(begin string) Item {
	for _, i := range c.out.Items {
		if strings.HasPrefix(i.What.Format, begin) {
			return i
		}
	}
	return Item{}
}

// TestBoardItems: 3 m3 of tapered and 1 m3 of flat boards in 10 and 6 boards: 4.4 m3 to order with a tenth on top, at 100 each; a row that is flat counts as flat. Without flat boards there is no line of them.
func TestBoardItems(t *testing.T) {
	tapered, flat := board.Row{Kind: board.Kind{Thin: 0.01, Thick: 0.02}, Boards: 10, Volume: 3}, board.Row{Kind: board.Kind{Thin: 0.05, Thick: 0.05}, Boards: 6, Volume: 1}
	c := counted(t, `{"per_m3": 100}`, &TakeOff{Boards: &board.Layout{Schedule: []board.Row{tapered, flat}, Volume: 4}})
	c.boardItems()
	near(t, "tapered", c.find("tapered boards").Value, 3, 0)
	near(t, "flat", c.find("flat boards").Value, 1, 0)
	order := c.find("insulation in boards to order")
	near(t, "to order", order.Value, 4.4, 1e-12)
	near(t, "cost", order.Cost, 440, 1e-9)
	if pieces := c.find("boards to order"); pieces.Value != 16 || pieces.Measure != Pieces || pieces.Priced {
		t.Errorf("%+v", pieces)
	}
	for _, one := range []board.Row{tapered, flat} {
		c = counted(t, `{"per_board": 30}`, &TakeOff{Boards: &board.Layout{Schedule: []board.Row{one}, Volume: one.Volume}})
		c.boardItems()
		if isTapered, isFlat := c.find("tapered boards").Measure == Solid, c.find("flat boards").Measure == Solid; isTapered == isFlat || isFlat != one.Kind.Flat() {
			t.Errorf("%+v: tapered %v, flat %v", one.Kind, isTapered, isFlat)
		}
		near(t, "cost of boards", c.out.Cost, 30*float64(one.Boards), 1e-9)
	}
	c = counted(t, `{}`, &TakeOff{})
	if c.boardItems(); len(c.out.Items) != 0 {
		t.Errorf("no boards: %+v", c.out.Items)
	}
}

// TestMeasuredItems: two patches of one use are one line with their places, volumes and areas; one alone names no count; what is under a cubic centimetre is none. The tenth of waste is on top. A price for what is cut to measure goes before that for insulation.
func TestMeasuredItems(t *testing.T) {
	patches := []Measured{{Use: Rise, Volume: 1, Area: 10}, {Use: Rise, Volume: 2, Area: 20}, {Use: Rise, Volume: 0.9e-6, Area: 5}, {Use: Fill, Volume: 1, Area: 4}, {Use: Sump, Volume: 1e-7, Area: 1}}
	for prices, cost := range map[string]float64{`{"per_m3": 10}`: 33, `{"per_m3": 10, "per_m3_to_measure": 20}`: 66, `{}`: 0} {
		c := counted(t, prices, &TakeOff{Measured: patches})
		c.measuredItem(Rise)
		i := c.find("rise taken off")
		if i.What.Format != "rise taken off, built up or cut to measure: {0} places, {1}" || i.What.Args[0].Value != 2 || i.What.Args[1].Value != 30 {
			t.Errorf("%s: %+v", prices, i.What)
		}
		near(t, "volume with waste", i.Value, 3.3, 1e-12)
		near(t, prices, i.Cost, cost, 1e-9)
	}
	c := counted(t, `{}`, &TakeOff{Measured: patches})
	c.measuredItem(Fill)
	if i := c.find("small taper"); i.What.Format != "small taper, built up or cut to measure: {0}" || i.What.Args[0].Value != 4 {
		t.Errorf("%+v", i.What)
	}
	for _, u := range []Use{Sump, Edge} {
		c.out.Items = nil
		if c.measuredItem(u); len(c.out.Items) > 0 {
			t.Errorf("%s: %+v", u, c.out.Items)
		}
	}
	// A patch under a pond on which a cricket is built is named with it; a cricket at another pond does not count.
	for pond, want := range map[string]string{"1": "replaced patch with the cricket on it, built up", "2": "replaced patch, built up"} {
		c = counted(t, `{}`, &TakeOff{Measured: []Measured{{Use: Patch, Volume: 1}}})
		c.option.Changes = []mend.Change{{Kind: mend.Cricket, Pond: pond}, {Kind: mend.ReplacePatch, Pond: "1"}}
		c.measuredItem(Patch)
		if c.find(want).Measure != Solid {
			t.Errorf("pond %s: %+v", pond, c.out.Items)
		}
	}
}

// TestOtherItems: what is listed of strips, mitres, cut lines and what is taken out, from which amounts on, and with which words.
func TestOtherItems(t *testing.T) {
	out := &TakeOff{
		Strips: []Strip{{Length: 2, Area: 1, Volume: 0.01}, {Length: 3, Area: 3, Volume: 0.05}}, Mitres: 7, CutLine: 8, Cut: 0.5, Deepest: 0.04, Fields: []Field{{Cut: 0.5}},
		Leveller: taper.Leveller{Poured: 0.3, Area: 6, Deepest: 0.02}, Area: 12,
	}
	c := counted(t, `{"per_m_edge_strip": 10, "per_m_mitre": 20, "per_m_cut_line": 30, "per_m3_removed": 40, "per_m3_leveller": 50, "per_m2": 60}`, out)
	c.items()
	for begin, want := range map[string][2]float64{
		"tapered edge strips": {5, 50}, "mitres": {7, 140}, "line along which": {8, 240}, "taken out": {0.5, 20}, "leveller": {0.33, 16.5}, "roof surface that is changed and covered anew": {12, 720},
	} {
		i := c.find(begin)
		near(t, begin, i.Value, want[0], 1e-12)
		near(t, begin+", cost", i.Cost, want[1], 1e-9)
	}
	near(t, "all", out.Cost, 50+140+240+20+16.5+720, 1e-9)
	near(t, "mean thickness of the strips", c.find("tapered edge strips").What.Args[0].Value, 0.06/4, 1e-12)
	if i := c.find("taken out"); i.What.Format != "taken out or cut down, {0} at the deepest" || i.Note.Format != "what goes back under a cut is not counted: how thick the roof is there is not known" {
		t.Errorf("%+v", i)
	}
	if i := c.find("leveller"); i.What.Args[0].Value != 6 || i.What.Args[1].Value != 0.02 {
		t.Errorf("%+v", i.What)
	}
	// From the deck up it is known what comes out; so it is where the cut is somewhere else.
	for _, f := range []Field{{Cut: 0.5, OnDeck: true}, {Cut: 0.5e-6}} {
		c = counted(t, `{}`, &TakeOff{Cut: 0.5, Fields: []Field{f}})
		if i := c.takenOut(); i.Note.Format != "" || i.What.Format != "taken out or cut down" {
			t.Errorf("%+v: %+v", f, i)
		}
	}
	c = counted(t, `{}`, &TakeOff{Mitres: 0.05, Cut: 1e-6, Leveller: taper.Leveller{Poured: 0.9e-6}})
	if c.items(); len(c.out.Items) != 0 {
		t.Errorf("amounts that are none: %+v", c.out.Items)
	}
	c = counted(t, `{}`, &TakeOff{Mitres: 0.051, Cut: 1.1e-6})
	if c.items(); len(c.out.Items) != 2 {
		t.Errorf("amounts just over that: %+v", c.out.Items)
	}
	c = counted(t, `{}`, &TakeOff{Strips: []Strip{{Length: 0.9, Area: 0.5, Volume: 0.01}}})
	if c.items(); len(c.out.Items) != 1 || c.out.Items[0].Value != 0.9 {
		t.Errorf("a strip of 0.9 m: %+v", c.out.Items)
	}
	if got := average(3, 0); got != 0 {
		t.Errorf("over no area the mean is %g", got)
	}
}

// TestCoveringItems: what is opened carries the price; without it what is changed does. Of patches the opened area counts, with what the core shows where the field is laid from the deck up.
func TestCoveringItems(t *testing.T) {
	for _, c := range []struct {
		name         string
		area, opened float64
		want         []string
		cost         float64
	}{
		{"both", 10, 15, []string{"roof surface that is changed", "membrane opened and covered anew"}, 30},
		{"nothing opened", 10, 0, []string{"roof surface that is changed and covered anew"}, 20},
		{"half a square metre", 0.5, 0, []string{"roof surface that is changed and covered anew"}, 1},
		{"half a square metre and more opened", 0.5, 0.75, []string{"roof surface that is changed", "membrane opened and covered anew"}, 1.5},
		{"opened alone", 0, 15, []string{"membrane opened and covered anew"}, 30},
		{"neither", 0, 0, nil, 0},
	} {
		k := counted(t, `{"per_m2": 2}`, &TakeOff{Area: c.area})
		k.option.Opened = c.opened
		k.coveringItems()
		var got []string
		for _, i := range k.out.Items {
			got = append(got, i.What.Format)
		}
		if !slices.Equal(got, c.want) || k.out.Cost != c.cost {
			t.Errorf("%s: %q for %g", c.name, got, k.out.Cost)
		}
	}
	for _, c := range []struct {
		f    Field
		note string
	}{
		{Field{Use: Patch, OnDeck: true}, "as thick as the core shows it and as far as the survey shows it low: how far it reaches is seen when it is opened"},
		{Field{Use: Patch}, "how thick it is and how far it reaches is seen when it is opened: what is replaced like for like is not in the volumes"},
		{Field{Use: Sump, OnDeck: true}, "how thick it is and how far it reaches is seen when it is opened: what is replaced like for like is not in the volumes"},
	} {
		k := counted(t, `{}`, &TakeOff{Fields: []Field{c.f}})
		k.option.Changes = []mend.Change{{Kind: mend.ReplacePatch, Opened: 2}, {Kind: mend.Fill, Opened: 5}, {Kind: mend.ReplacePatch, Opened: 3}}
		k.coveringItems()
		if i := k.find("of it, opened"); i.Value != 5 || i.Note.Format != c.note {
			t.Errorf("%+v: %+v", c.f, i)
		}
	}
}

// TestOutletItems: an inlet counts as set anew from a millimetre on, by its duty; one without a level, one of no source and one that is new are none of them. How much lower is said from a millimetre on.
func TestOutletItems(t *testing.T) {
	before := &roof.Roof{Outlets: make([]roof.Outlet, 3)}
	outlets := []surface.Outlet{{Source: 0, Invert: 1}, {Source: 1, Invert: 2}, {Source: 2, Invert: 3, Duty: roof.Overflow}, {Source: -1, Invert: 0}, {Source: 7}}
	for _, c := range []struct {
		name            string
		now             []float64 // NaN: no level
		reset, overflow float64
		lower           float64
	}{
		{"none", []float64{1, 2, 3}, 0, 0, 0},
		{"by 0.9 mm", []float64{0.9991, 2.0009, 3.0009}, 0, 0, 0},
		{"by 1.1 mm", []float64{0.9989, 2, 3}, 1, 0, 0.0011},
		{"both, one lower", []float64{0.95, 2.02, 3}, 2, 0, 0.05},
		{"both lower", []float64{0.95, 1.93, 3}, 2, 0, 0.07},
		{"raised", []float64{1.05, 2, 3}, 1, 0, 0},
		{"overflow lower", []float64{1, 2, 2.9}, 0, 1, 0},
		{"no level any more", []float64{math.NaN(), 2, 3}, 0, 0, 0},
	} {
		now := &roof.Roof{Outlets: make([]roof.Outlet, 3)}
		for i, z := range c.now {
			now.Outlets[i].Invert, now.Outlets[i].HasInvert = z, !math.IsNaN(z)
		}
		k := counted(t, `{"per_outlet_reset": 900, "per_overflow_reset": 400}`, &TakeOff{})
		k.in.Study = &study.Study{Roof: before, Surface: &surface.Surface{Outlets: outlets}}
		k.option.Roof = now
		k.outletItems()
		reset, overflow := k.find("drains and scuppers set"), k.find("overflows set")
		if reset.Value != c.reset || overflow.Value != c.overflow || k.out.Cost != 900*c.reset+400*c.overflow {
			t.Errorf("%s: %g and %g for %g", c.name, reset.Value, overflow.Value, k.out.Cost)
		}
		lower := 0.0
		if len(reset.Note.Args) > 0 {
			lower = reset.Note.Args[0].Value
		}
		near(t, c.name+": lower", lower, c.lower, 1e-12)
		want := 0
		for _, v := range []float64{c.reset, c.overflow} {
			if v > 0 {
				want++
			}
		}
		if len(k.out.Items) != want {
			t.Errorf("%s: %+v", c.name, k.out.Items)
		}
		if got := k.count("drains and scuppers set to a new level"); got != int(c.reset) {
			t.Errorf("%s: counted %d", c.name, got)
		}
	}
	k := counted(t, `{}`, &TakeOff{})
	if k.outletItems(); len(k.out.Items) != 0 {
		t.Errorf("no roof: %+v", k.out.Items)
	}
}

// TestPatchesOfOneReason: fields that touch and are cut to measure for one reason make one patch, whatever their order; the greatest of each number of the reason stands.
func TestPatchesOfOneReason(t *testing.T) {
	why := func(v float64) finding.Text { return finding.Say("off by {0}", finding.MM("off", v)) }
	fields := []Field{
		{Area: 1, Volume: 10, Cut: 0.1, Thinnest: 0.03, Thickest: 0.2, Why: why(0.004)},
		{Laid: true},
		{Area: 2, Volume: 20, Cut: 0.2, Thinnest: 0.01, Thickest: 0.1, Why: why(0.009)},
		{Area: 4, Volume: 40, Thinnest: 0.05, Thickest: 0.3, Why: why(0.005)},
		{Area: 8, Volume: 80, Why: why(0.001)},
	}
	c := &counter{design: &taper.Design{Lines: []taper.Line{{Left: 13, Right: 12}, {Left: 12, Right: 10}, {Left: 10, Right: 11}, {Left: 11, Right: 14}, {Left: 14, Right: 99}}}, out: &TakeOff{Fields: fields}, at: map[int]int{10: 0, 11: 1, 12: 2, 13: 3, 14: 4}}
	c.measured()
	if len(c.out.Measured) != 2 {
		t.Fatalf("%+v", c.out.Measured)
	}
	m := c.out.Measured[0]
	if !slices.Equal(m.Fields, []int{0, 2, 3}) || m.Area != 7 || m.Volume != 70 || !(math.Abs(m.Cut-0.3) <= 1e-12) || m.Thinnest != 0.01 || m.Thickest != 0.3 || m.Why.Args[0].Value != 0.009 {
		t.Errorf("%+v", m)
	}
	if alone := c.out.Measured[1]; !slices.Equal(alone.Fields, []int{4}) || alone.Area != 8 {
		t.Errorf("%+v", alone)
	}
	if fields[0].Why.Args[0].Value != 0.004 {
		t.Error("the reason of a field is changed with that of its patch")
	}
}

// TestDamagedCoreInReach: of cores with wet or pressed layers the nearest to a corner of the field counts, with all of its bad layers, up to correction.CoreReach; sound ones do not count, however near.
func TestDamagedCoreInReach(t *testing.T) {
	core := func(x float64, layers ...roof.Layer) roof.Core {
		return roof.Core{Position: roof.Position{Plan: orb.Point{x, 0}}, Layers: layers}
	}
	layer := func(mm float64, condition string) roof.Layer {
		return roof.Layer{Thickness: quantity.Length(mm / 1000), Condition: condition}
	}
	reach := mend.CoreReach
	for _, c := range []struct {
		name  string
		cores []roof.Core
		want  float64
	}{
		{"none", nil, 0},
		{"sound", []roof.Core{core(5, layer(50, "dry"))}, 0},
		{"wet and pressed under sound", []roof.Core{core(5, layer(50, "dry"), layer(30, "wet"), layer(20, "compressed"))}, 0.05},
		{"the nearer of two", []roof.Core{core(6, layer(60, "wet")), core(5, layer(50, "wet")), core(7, layer(70, "wet"))}, 0.05},
		{"a sound one nearer", []roof.Core{core(4.1, layer(50, "dry")), core(5, layer(30, "wet"))}, 0.03},
		{"just in reach", []roof.Core{core(4+reach-0.01, layer(30, "wet"))}, 0.03},
		{"just out of reach", []roof.Core{core(4+reach+0.01, layer(30, "wet"))}, 0},
	} {
		k := one(4, 2, under(4, 2, 0, 0, 0))
		k.in.Study = &study.Study{Roof: &roof.Roof{Cores: c.cores}}
		near(t, c.name, k.damaged(0), c.want, 1e-12)
	}
	k := one(4, 2, under(4, 2, 0, 0, 0))
	near(t, "3 m east and 4 m north of a corner", k.distance(0, orb.Point{7, 6}), 5, 1e-12)
}

// TestFromTheDeckUp: a patch always is; another use where a part of it cuts more than the tolerance; nothing where the deck under any part of it is not known. Then the thickness is what stands above the old surface and what comes out.
func TestFromTheDeckUp(t *testing.T) {
	known := []float64{0.1, 0.1, 0.1, 0.1}
	for _, c := range []struct {
		name string
		use  Use
		low  float64
		gone []float64
		want bool
	}{
		{"patch", Patch, 0, known, true},
		{"patch over an unknown deck", Patch, 0, nil, false},
		{"sump that cuts 4 mm", Sump, -0.004, known, true},
		{"sump that cuts 2 mm", Sump, -0.002, known, false},
		{"sump over an unknown deck", Sump, -0.004, nil, false},
		{"of another use", Rise, -0.004, known, false},
	} {
		k := one(4, 2, under(4, 2, c.low, 0, 0))
		k.parts[0][0].gone = c.gone
		k.out.Fields[0].Use = c.use
		u := c.use
		if c.use == Rise {
			u = Sump
		}
		if got := k.toDeck(u); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
		if !c.want || c.use == Rise {
			continue
		}
		k.onDeck(0, true)
		near(t, c.name+": thickness", k.parts[0][0].t[2], 0.1+c.low, 1e-12)
	}
}

// TestAverageThickness: half a cubic decimetre on a quarter of a square metre is 2 mm thick; on nothing nothing is.
func TestAverageThickness(t *testing.T) {
	for in, want := range map[[2]float64]float64{{0.0005, 0.25}: 0.002, {3, 1}: 3, {3, 6}: 0.5, {3, 0}: 0, {0, 0}: 0} {
		if got := average(in[0], in[1]); !(math.Abs(got-want) <= 1e-15) {
			t.Errorf("%g m3 on %g m2: %g", in[0], in[1], got)
		}
	}
}

// TestBoardsAsLaid: half a cubic metre of tapered boards and a quarter of flat ones are told apart; what is not there is not told.
func TestBoardsAsLaid(t *testing.T) {
	tapered, level := board.Row{Kind: board.Kind{Thin: 0.01, Thick: 0.03}, Volume: 0.5, Boards: 7}, board.Row{Kind: board.Kind{Thin: 0.02, Thick: 0.02}, Volume: 0.25, Boards: 4}
	for _, c := range []struct {
		rows           []board.Row
		tapered, level float64
		boards         float64
	}{{[]board.Row{tapered, level}, 0.5, 0.25, 11}, {[]board.Row{tapered}, 0.5, 0, 7}, {[]board.Row{level}, 0, 0.25, 4}} {
		k := &counter{in: &Input{}, out: &TakeOff{Boards: &board.Layout{Schedule: c.rows, Volume: 2}}}
		k.boardItems()
		got := map[string]float64{}
		for _, i := range k.out.Items {
			got[i.What.Format] = i.Value
		}
		if got["tapered boards, as laid"] != c.tapered || got["flat boards, as laid"] != c.level || got["boards to order"] != c.boards {
			t.Errorf("%v, want %g, %g and %g", got, c.tapered, c.level, c.boards)
		}
	}
}
