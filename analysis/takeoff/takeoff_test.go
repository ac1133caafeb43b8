package takeoff_test

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
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/takeoff"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

const (
	foot    = float64(quantity.Foot)
	inch    = float64(quantity.Inch)
	quarter = 1.0 / 48
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %.2g", what, got, want, tolerance)
	}
}

// level is a level roof of l by w, its edges walls.
func level(l, w float64) *roof.Roof {
	r := shape.New("level", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, w, 0), shape.At(0, w, 0))
	shape.Spot(r, l/2, w/2, 0)
	return r
}

// bench is a roof with what a take-off is made of.
type bench struct {
	*testing.T
	s      *study.Study
	domain *domain.Domain
}

func newBench(t *testing.T, r *roof.Roof) *bench {
	t.Helper()
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := domain.New(s.Surface.TIN)
	if err != nil {
		t.Fatal(err)
	}
	return &bench{t, s, d}
}

// tapered is the four-way taper of 1/4 in per ft from sources.
func (b *bench) tapered(thin float64, sources ...taper.Source) *taper.Design {
	b.Helper()
	return b.least(taper.Existing(b.s.Surface.TIN), thin, sources...)
}

// least is the lowest four-way taper of 1/4 in per ft over a base.
func (b *bench) least(base taper.Base, thin float64, sources ...taper.Source) *taper.Design {
	b.Helper()
	s, err := taper.Solve(&taper.Problem{Domain: b.domain, Base: base, Sources: sources, Gauge: domain.FourWay(b.domain.Axis), Slope: quarter, Thickness: thin})
	if err != nil {
		b.Fatal(err)
	}
	return s.Design()
}

// of takes off a design.
func (b *bench) of(kind mend.Kind, d *taper.Design, change func(*takeoff.Input)) *takeoff.TakeOff {
	b.Helper()
	in := &takeoff.Input{
		Study: b.s, Result: &correction.Result{Options: []correction.Option{{Kind: kind, Possible: true, Design: d, Roof: b.s.Roof, Study: b.s}}}, Stock: board.Usual(),
	}
	if change != nil {
		change(in)
	}
	out, err := takeoff.Of(in)
	if err != nil {
		b.Fatal(err)
	}
	return out
}

// whole holds that the parts add up to the volume of the design.
func (b *bench) whole(o *takeoff.TakeOff) {
	b.Helper()
	sum := 0.0
	if o.Boards != nil {
		sum = o.Boards.Volume
	}
	for _, m := range o.Measured {
		sum += m.Volume
	}
	for _, s := range o.Strips {
		sum += s.Volume
	}
	near(b.T, "boards, strips and what is cut to measure", sum, o.Volume, 1e-6*o.Volume+takeoff.Tolerance*o.Area)
}

func line(p ...orb.Point) taper.Source { return taper.Source{Outlet: 0, Plan: p[0], Line: p} }

// TestBoardFeet: a published estimate gives 8,400 board feet for 40 by 40 ft at 1/4 in per ft, which is 5.25 in on average. By hand it is 8,000
// from 0 to 10 in and 8,800 from 1/2 to 10-1/2 in. Square with the low centre 6,133 (3.833 in), high centre 3,467 (2.167 in): by hand,
// t0 + (2/3) s a/2 and t0 + (1/3) s a/2.
func TestBoardFeet(t *testing.T) {
	a := 40 * foot
	centre := orb.Point{a / 2, a / 2}
	for _, c := range []struct {
		name             string
		thin             float64
		from             []taper.Source
		feet, average    float64
		laid, strips     bool
		greatest, mitres float64
	}{
		{"one-way from 0", 0, []taper.Source{line(orb.Point{0, 0}, orb.Point{a, 0})}, 8000, 5, true, true, 10, 0},
		{"one-way from 1/2 in", inch / 2, []taper.Source{line(orb.Point{0, 0}, orb.Point{a, 0})}, 8800, 5.5, true, false, 10.5, 0},
		{"low centre", inch / 2, []taper.Source{{Plan: centre}}, 6133.33, 23.0 / 6, true, false, 5.5, 4 * 20 * math.Sqrt2},
		{"high centre", inch / 2, []taper.Source{line(orb.Point{0, 0}, orb.Point{a, 0}, orb.Point{a, a}, orb.Point{0, a}, orb.Point{0, 0})}, 3466.67, 13.0 / 6, true, false, 5.5, 4 * 20 * math.Sqrt2},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBench(t, level(a, a))
			o := b.of(mend.Overlay, b.tapered(c.thin, c.from...), nil)
			near(t, "board feet", o.Volume/standard.BoardFoot, c.feet, 0.01)
			near(t, "average in", o.Average/inch, c.average, 1e-5)
			near(t, "greatest in", o.Greatest/inch, c.greatest, 1e-5)
			near(t, "mitres ft", o.Mitres/foot, c.mitres, 1e-4)
			if (len(o.Laid) > 0) != c.laid || (len(o.Strips) > 0) != c.strips || len(o.Measured) > 0 {
				t.Errorf("%d fields laid, %d strips, measured %+v", len(o.Laid), len(o.Strips), o.Measured)
			}
			b.whole(o)
		})
	}
}

// TestPublishedEstimate: 8,400 board feet of the published estimate lie between both ends of the sum above.
func TestPublishedEstimate(t *testing.T) {
	a := 40 * foot
	b := newBench(t, level(a, a))
	low := b.of(mend.Overlay, b.tapered(0, line(orb.Point{0, 0}, orb.Point{a, 0})), nil).Volume / standard.BoardFoot
	high := b.of(mend.Overlay, b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{a, 0})), nil).Volume / standard.BoardFoot
	if !(low < 8400 && 8400 < high) {
		t.Errorf("8,400 is not between %.0f and %.0f", low, high)
	}
}

// TestOrder: a published chain for orders, 1,800 sq ft by a slope factor of 1.25 by 1.10 of waste, gives 2,475 sq ft. Of a level layer 1 in thick over 45 by 50 ft (2,250
// sq ft) 2,475 board feet are to order.
func TestOrder(t *testing.T) {
	b := newBench(t, level(50*foot, 45*foot))
	flat := make([]float64, len(b.s.Surface.TIN.X))
	for i := range flat {
		flat[i] = inch
	}
	d := taper.Raised(b.domain, taper.Existing(b.s.Surface.TIN), flat)
	o := b.of(mend.Overlay, d, func(in *takeoff.Input) { in.Waste = 0.10 })
	order := 0.0
	for _, i := range o.Items {
		if strings.HasPrefix(i.What.Format, "insulation in boards to order") {
			order = i.Value
		}
	}
	near(t, "board feet to order", order/standard.BoardFoot, 2475, 0.01)
}

// TestCricket: half-diamond at a wall, outlets 40 ft apart, 10 ft deep, field 1/4, material 1/2 in per ft: valley 22.36 ft, 4.472 in at the wall, 298 board
// feet without a thin edge (by hand: 200 sq ft by a third of 4.472 in). Strips 1 ft wide taper from nothing to the thinnest board along both valleys.
func TestCricket(t *testing.T) {
	r := shape.New("field", shape.At(0, 0, 0), shape.At(40*foot, 0, 0), shape.At(40*foot, 20*foot, 5*inch), shape.At(0, 20*foot, 5*inch))
	shape.Spot(r, 20*foot, 10*foot, 2.5*inch)
	b := newBench(t, r)
	a := taper.Alter(b.domain, taper.Existing(b.s.Surface.TIN))
	sin, cos := 1/math.Sqrt(5), 2/math.Sqrt(5)
	m := 1.0 / 24
	tip := orb.Point{20 * foot, 10 * foot}
	a.Raise(
		taper.Patch{On: []orb.Point{{0, 0}, {20 * foot, 0}, tip}, DX: m * sin, DY: quarter - m*cos},
		taper.Patch{On: []orb.Point{{20 * foot, 0}, {40 * foot, 0}, tip}, Plan: orb.Point{40 * foot, 0}, DX: -m * sin, DY: quarter - m*cos},
	)
	o := b.of(mend.Cricket, a.Design(), nil)
	near(t, "board feet", o.Volume/standard.BoardFoot, 298.14, 0.05)
	near(t, "greatest in", o.Greatest/inch, 4.472, 1e-3)
	near(t, "area sq ft", o.Area/quantity.SquareFoot, 200, 1e-3)
	near(t, "cut line ft", o.CutLine/foot, 2*22.3607, 1e-3)
	if len(o.Laid) != 2 || len(o.Strips) != 2 || o.Fields[0].Use != takeoff.Cricket {
		t.Fatalf("%d laid, %d strips, %+v", len(o.Laid), len(o.Strips), o.Fields)
	}
	for _, s := range o.Strips {
		near(t, "strip to in", s.To/inch, 0.5, 1e-6)
		// By hand: the valley less what the level line 1 ft up takes off; 22.361 - 1/tan(26.565) at the wall, less 1*tan(26.565) at the ridge.
		near(t, "strip ft", s.Length/foot, 22.3607-2-0.5, 1e-3)
	}
	b.whole(o)
}

// TestNoPlaneUnder: over a roof with a hump the taper is cut to measure, with its volume and the reason; none of it is lost.
func TestNoPlaneUnder(t *testing.T) {
	a := 12.0
	r := shape.New("hump", shape.At(0, 0, 0), shape.At(a, 0, 0), shape.At(a, a, 0), shape.At(0, a, 0))
	shape.Grid(r, 0, 0, a, a, 8, 8, func(x, y float64) float64 { return 0.02 * math.Exp(-((x-4)*(x-4) + (y-7)*(y-7))) })
	b := newBench(t, r)
	o := b.of(mend.Overlay, b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{a, 0})), nil)
	if len(o.Measured) != 1 || o.Boards != nil || !strings.Contains(o.Measured[0].Why.Format, "no plane") {
		t.Fatalf("measured %+v", o.Measured)
	}
	near(t, "volume", o.Measured[0].Volume, b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{a, 0})).Fill.Volume, 1e-9)
}

// TestRateNotInStock: on a roof that falls at 1/16 in per ft the other way a taper of 1/4 becomes 5/16 in per ft, which nobody stocks.
func TestRateNotInStock(t *testing.T) {
	a := 12.0
	r := shape.New("back", shape.At(0, 0, a/192), shape.At(a, 0, a/192), shape.At(a, a, 0), shape.At(0, a, 0))
	shape.Spot(r, a/2, a/2, a/384)
	b := newBench(t, r)
	o := b.of(mend.Overlay, b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{a, 0})), nil)
	if len(o.Measured) != 1 || len(o.Measured[0].Why.Args) != 3 {
		t.Fatalf("measured %+v", o.Measured)
	}
	for i, want := range []float64{5, 4, 6} { // sixteenths of an inch per foot
		near(t, "rate", o.Measured[0].Why.Args[i].Value*192, want, 1e-6)
	}
}

// TestResistance: a taper from 1/2 to 10-1/2 in at per inch has R 31.4 by its average thickness and 19.5 by area-weighted U, 20.2 with films of 0.78. By hand:
// ln(60.63/3.63)/57.
func TestResistance(t *testing.T) {
	a := 40 * foot
	b := newBench(t, level(a, a))
	o := b.of(mend.Overlay, b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{a, 0})), func(in *takeoff.Input) {
		in.PerMetre = 5.7 * quantity.RUnit / inch
	})
	n := o.Thermal.New
	near(t, "R of the average", n.Average/quantity.RUnit, 31.35, 1e-3)
	near(t, "true R", n.True/quantity.RUnit, 57/math.Log(60.63/3.63)-0.78, 1e-6)
	near(t, "least R", n.Least/quantity.RUnit, 2.85, 1e-5)
	if !o.Thermal.Own || o.Thermal.Before.Known || o.Thermal.After.Known || o.Thermal.Before.Why == "" {
		t.Errorf("%+v", o.Thermal)
	}
}

// TestMaterialThatInsulates: what is no insulation is taken for none, unless the user states what it does.
func TestMaterialThatInsulates(t *testing.T) {
	b := newBench(t, level(12, 12))
	d := b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{12, 0}))
	for _, c := range []struct {
		material string
		perMetre float64
		taken    bool
	}{{"", 0, true}, {"xps", 0, true}, {"vapour retarder", 0, false}, {"vapour retarder", 20, true}, {"seaweed mat", 20, false}} {
		_, err := takeoff.Of(&takeoff.Input{
			Study: b.s, Result: &correction.Result{Options: []correction.Option{{Kind: mend.Overlay, Possible: true, Design: d, Roof: b.s.Roof, Study: b.s}}},
			Stock: board.Usual(), Material: c.material, PerMetre: c.perMetre,
		})
		if (err == nil) != c.taken {
			t.Errorf("%q at %g m K/W: %v", c.material, c.perMetre, err)
		}
	}
}

// cored is that roof with 4 in of polyiso in four cores.
func cored(a float64) *roof.Roof {
	r := level(a, a)
	for i, p := range [][2]float64{{2, 2}, {9, 2}, {9, 9}, {2, 9}, {5, 7}, {7, 4}} {
		c := roof.Core{Position: shape.At(p[0], p[1], 0), Cutter: "hand", Reached: "rib", Layers: []roof.Layer{{Material: "polyiso", Thickness: quantity.Length(4 * inch)}}}
		c.ID = "K" + string(rune('1'+i))
		r.Cores = append(r.Cores, c)
	}
	return r
}

// TestBeforeAndAfter: 4 in of polyiso has R-23.6 (published long-term values). With a four-way taper on it, thinnest at the centre, U is (2/b)(1 - (a/b) ln(1 + b/a)), a the
// least R with films and b the rise of R: ISO 6946, annex on tapered layers (form recalled), own integration.
func TestBeforeAndAfter(t *testing.T) {
	side := 40 * foot
	b := newBench(t, cored(side))
	o := b.of(mend.Overlay, b.tapered(inch/2, taper.Source{Plan: orb.Point{side / 2, side / 2}}), nil)
	th := &o.Thermal
	if !th.Before.Known || !th.After.Known || th.Reduced {
		t.Fatalf("%+v", th)
	}
	near(t, "before", th.Before.True/quantity.RUnit, 23.6, 1e-6)
	near(t, "least after", th.After.Least/quantity.RUnit, 23.6+2.8, 1e-6)
	a, rise := 23.6+2.8+0.78, 5*5.6
	near(t, "U after", th.After.U*quantity.RUnit, 2/rise*(1-a/rise*math.Log(1+rise/a)), 1e-8)
}

// TestLeastOfWhatStays: where 1 in of polyiso is laid on a part of 4 in, the least after is that of the 4 in round it, R-23.6, and the greatest that of 5.
func TestLeastOfWhatStays(t *testing.T) {
	b := newBench(t, cored(40*foot))
	a := taper.Alter(b.domain, taper.Existing(b.s.Surface.TIN))
	a.Raise(taper.Patch{On: []orb.Point{{3, 3}, {8, 3}, {8, 8}, {3, 8}}, Plan: orb.Point{3, 3}, Z: inch})
	d := a.Design()
	th := b.of(mend.Fill, d, made(mend.Fill, d)).Thermal
	if !th.After.Known {
		t.Fatalf("%+v", th)
	}
	near(t, "least", th.After.Least/quantity.RUnit, 23.6, 1e-6)
	near(t, "greatest", th.After.Greatest/quantity.RUnit, 23.6+5.6, 1e-6)
	near(t, "average", th.After.Average/quantity.RUnit, 23.6+5.6*25/(40*foot*40*foot), 1e-6)
}

// onTwo is that roof with 3 in of mineral wool in its cores, whose figure is not that of polyiso.
func onTwo(a float64) *roof.Roof {
	r := cored(a)
	for i := range r.Cores {
		r.Cores[i].Layers = []roof.Layer{{Material: "mineral wool", Thickness: quantity.Length(3 * inch)}}
	}
	return r
}

// TestTaperOnFlatBoardsOfAnotherInsulant: 3 in of mineral wool, flat, and on it polyiso at per inch (published figure). By the forms of ISO 6946, annex on tapered layers
// (recalled), with a the least R and films, b the rise of R:
// one way, from 1/2 to 10-1/2 in: U = ln((a+b)/a)/b;
// triangles thinnest at the apex, 1/2 in at the drain and 5-1/2 in at the walls: U = (2/b)(1 - (a/b) ln(1+b/a)).
func TestTaperOnFlatBoardsOfAnotherInsulant(t *testing.T) {
	side := 40 * foot
	wool, ok := standard.FindMaterial("mineral wool")
	if !ok {
		t.Fatal("no mineral wool in the table")
	}
	flat := 3 * inch * wool.PerMetre / quantity.RUnit
	least := flat + 2.8 + 0.78
	b := newBench(t, onTwo(side))
	one := b.of(mend.Overlay, b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{side, 0})), nil).Thermal
	four := b.of(mend.Overlay, b.tapered(inch/2, taper.Source{Plan: orb.Point{side / 2, side / 2}}), nil).Thermal
	if !one.After.Known || !four.After.Known {
		t.Fatalf("%+v\n%+v", one, four)
	}
	near(t, "before", one.Before.True/quantity.RUnit, flat, 1e-6)
	near(t, "U one way", one.After.U*quantity.RUnit/(math.Log((least+56)/least)/56), 1, 1e-6)
	near(t, "U to a drain", four.After.U*quantity.RUnit/(2./28*(1-least/28*math.Log(1+28/least))), 1, 1e-6)
	if math.Abs(flat/3-5.6) < 0.5 {
		t.Error("the insulants are too much alike to tell them apart")
	}
}

// TestLossIsTold: a new taper on the deck from 1 in is less than 4 in near the drain: by hand 1 - 5.6/23.6 of the resistance goes there.
func TestLossIsTold(t *testing.T) {
	side := 40 * foot
	b := newBench(t, cored(side))
	deck := taper.Existing(b.s.Surface.TIN)
	deck.Z = make([]float64, len(deck.Z))
	for i := range deck.Z {
		deck.Z[i] = -4 * inch
	}
	d := b.least(deck, inch, taper.Source{Plan: orb.Point{side / 2, side / 2}, Z: math.Inf(-1)})
	o := b.of(mend.Replace, d, nil)
	if !o.Thermal.Reduced || len(o.Laid) != 4 {
		t.Fatalf("%d laid, %+v", len(o.Laid), o.Thermal)
	}
	near(t, "loss", o.Thermal.Lost/quantity.RUnit, 23.6-5.6, 0.01)
	near(t, "taken out m3", o.Cut, side*side*4*inch, 1e-3)
	found := false
	for _, a := range o.Approvals {
		found = found || a.Who == takeoff.Energy
	}
	if !found {
		t.Errorf("approvals %+v", o.Approvals)
	}
}

// TestWeight: by hand, 10.5 in of polyiso at 1/4 psf an inch are 2.625 psf, under the 3 psf of the clause on second layers; 8,800 board feet weigh 2,200 lb.
func TestWeight(t *testing.T) {
	a := 40 * foot
	b := newBench(t, level(a, a))
	o := b.of(mend.Overlay, b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{a, 0})), nil)
	near(t, "psf", o.GreatestLoad/quantity.PoundPerSquareFoot, 2.625, 1e-5)
	near(t, "lb", o.Mass/0.45359237, 2200, 0.01)
}

// TestCost: by hand, 8,800 board feet with 5 % of waste at 1.55 and 1,600 sq ft at 4.
func TestCost(t *testing.T) {
	a := 40 * foot
	b := newBench(t, level(a, a))
	p, err := takeoff.ParsePrices([]byte("{\"currency\": \"$\",\n\"per_board_foot\": 1.55, \"per_sq_ft\": 4}"))
	if err != nil {
		t.Fatal(err)
	}
	o := b.of(mend.Overlay, b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{a, 0})), func(in *takeoff.Input) {
		in.Prices, in.Waste = p, 0.05
	})
	near(t, "cost", o.Cost, 8800*1.05*1.55+1600*4, 0.02)
	if !o.Priced || o.Money != "$" {
		t.Errorf("priced %t in %q", o.Priced, o.Money)
	}
}

// TestPricesAreRefused: with the line, and the name.
func TestPricesAreRefused(t *testing.T) {
	for text, want := range map[string]string{
		"{\"per_board_foot\": 1,\n\n \"per_gallon\": 2}":  "line 3: \"per_gallon\" is no price",
		"{\"per_board_foot\": 1,\n \"per_board\": 2}":     "line 2: per_board: per_board_foot gives a price",
		"{\"per_board_foot\": \"1\"}":                     "line 1: per_board_foot: a price is a number",
		"{\"per_board_foot\": -1}":                        "a price is a number from 0 to",
		"{\"per_m2\": 1, \"per_m2\": 2}":                  "already",
		"[1]":                                             "one JSON object",
		"{\"per_m2\": 1} 2":                               "something follows",
		"{\"per_m2\": 1":                                  "one JSON object",
		"{\"currency\": \"more than twelve characters\"}": "at most 12",
		"{\"per_m2\": 1e300}":                             "per_m2: a price is a number from 0 to a thousand million",
		"{\"per_m2\": -1}":                                "per_m2: a price is a number from 0",
		"{\"per_m2\": {\"a\": 1}}":                        "a price is a number",
	} {
		if _, err := takeoff.ParsePrices([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
}

// TestApprovals: outlets that move ask for plumber and engineer, and each approver stands once.
func TestApprovals(t *testing.T) {
	r := level(40*foot, 40*foot)
	d := shape.Drain(r, 20*foot, 20*foot, 12*inch)
	d.Invert, d.HasInvert = 0, true
	d = shape.Drain(r, 23*foot, 20*foot, 6*inch)
	d.Duty, d.Invert, d.HasInvert = roof.Overflow, 2*inch, true
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	res, err := correction.Of(&correction.Input{Study: s, Steering: mend.Steering{Only: []mend.Kind{mend.Overlay}}})
	if err != nil {
		t.Fatal(err)
	}
	overlay := slices.IndexFunc(res.Options, func(o correction.Option) bool { return o.Kind == mend.Overlay })
	o, err := takeoff.Of(&takeoff.Input{Study: s, Result: res, Option: overlay, Stock: board.Usual(), Waste: standard.BoardWaste})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]finding.Text{}
	for _, a := range o.Approvals {
		if _, twice := seen[a.Who]; twice {
			t.Errorf("%s stands twice", a.Who)
		}
		seen[a.Who] = a.Why
	}
	for _, who := range []string{takeoff.Engineer, takeoff.Plumbing, takeoff.Building} {
		if seen[who].Format == "" {
			t.Errorf("no approval of the %s", who)
		}
	}
}

// TestOutletsSetLower: of two drains one is set 3 in and one 1 in lower, an overflow 2 in: the item counts two drains and says 3 in at most. One that
// goes up is counted too, and makes none lower.
func TestOutletsSetLower(t *testing.T) {
	r := level(40*foot, 40*foot)
	for _, x := range []float64{10, 30} {
		d := shape.Drain(r, x*foot, 20*foot, 12*inch)
		d.Invert, d.HasInvert = 0, true
	}
	d := shape.Scupper(r, 40*foot, 20*foot, 8*inch)
	d.Duty, d.Invert, d.HasInvert = roof.Overflow, 2*inch, true
	b := newBench(t, r)
	for _, c := range []struct{ first, second, lower float64 }{{-3, -1, 3}, {-3, 1, 3}, {2, 1, 0}} {
		now := *b.s.Roof
		now.Outlets = slices.Clone(now.Outlets)
		now.Outlets[0].Invert, now.Outlets[1].Invert, now.Outlets[2].Invert = c.first*inch, c.second*inch, 0
		o := b.of(mend.LowerOutlet, nil, func(in *takeoff.Input) { in.Result.Options[0].Roof = &now })
		found := 0
		for _, i := range o.Items {
			switch what := i.What.Format; {
			case strings.Contains(what, "drains and scuppers set to a new level"):
				found++
				near(t, "drains", i.Value, 2, 0)
				lower := 0.0
				if len(i.Note.Args) > 0 {
					lower = i.Note.Args[0].Value
				}
				near(t, "lower at most", lower, c.lower*inch, 1e-9)
			case strings.Contains(what, "overflows set to a new level"):
				found++
				near(t, "overflows", i.Value, 1, 0)
			}
		}
		if found != 2 {
			t.Errorf("%+v: %d items of outlets in %+v", c, found, o.Items)
		}
	}
}

// TestOpenedApartFromChanged: of a level layer over 30 by 20 ft 600 sq ft are changed. Where 750 sq ft of membrane are opened for it, of them 128 for a wet patch, each stands in a line of its own.
func TestOpenedApartFromChanged(t *testing.T) {
	const square = foot * foot
	b := newBench(t, level(30*foot, 20*foot))
	flat := make([]float64, len(b.s.Surface.TIN.X))
	for i := range flat {
		flat[i] = inch
	}
	d := taper.Raised(b.domain, taper.Existing(b.s.Surface.TIN), flat)
	o := b.of(mend.Overlay, d, func(in *takeoff.Input) {
		x := &in.Result.Options[0]
		x.Opened = 750 * square
		x.Changes = []mend.Change{{Kind: mend.ReplacePatch, Opened: 128 * square}, {Kind: mend.Cricket, Opened: 40 * square}}
	})
	want := map[string]float64{
		"roof surface that is changed": 600, "membrane opened and covered anew": 750, "of it, opened to replace wet or crushed insulation": 128,
	}
	for _, i := range o.Items {
		if w, ok := want[i.What.Format]; ok {
			near(t, i.What.Format, i.Value/square, w, 1e-6)
			delete(want, i.What.Format)
		}
	}
	if len(want) > 0 {
		t.Errorf("no lines %v", want)
	}
}

// TestNewOutletsByTheirKind: a new drain opens the deck, two new scuppers the parapet; each is counted under its own name, and an engineer approves the openings.
func TestNewOutletsByTheirKind(t *testing.T) {
	a := 40 * foot
	b := newBench(t, level(a, a))
	more := *b.s.Roof
	more.Outlets = append(slices.Clone(more.Outlets), roof.Outlet{Type: roof.Drain}, roof.Outlet{Type: roof.Scupper}, roof.Outlet{Type: roof.Scupper, Duty: roof.Overflow})
	o := b.of(mend.Combined, b.tapered(0, line(orb.Point{0, 0}, orb.Point{a, 0})), func(in *takeoff.Input) { in.Result.Options[0].Roof = &more })
	for _, want := range []struct {
		what, note string
		n          float64
	}{{"new drains", "deck", 1}, {"new scuppers", "parapet", 2}} {
		k := slices.IndexFunc(o.Items, func(i takeoff.Item) bool { return i.What.Format == want.what })
		if k < 0 || o.Items[k].Value != want.n || !strings.Contains(o.Items[k].Note.Format, want.note) {
			t.Errorf("%s: %+v", want.what, o.Items)
		}
	}
	k := slices.IndexFunc(o.Approvals, func(a takeoff.Approval) bool {
		return a.Who == takeoff.Engineer && strings.Contains(a.Why.Format, "Openings")
	})
	if k < 0 || o.Approvals[k].Why.Args[len(o.Approvals[k].Why.Args)-1].Value != 3 {
		t.Errorf("approvals %+v", o.Approvals)
	}
}

// TestBoardFeetElsewhere: where the roof stands and which way it is turned changes nothing of the sums above: a one-way taper, and one with the low centre, on a roof of 40 by 40 ft far from the origin, turned by the angle of the triangle 3, 4, 5.
func TestBoardFeetElsewhere(t *testing.T) {
	a := 40 * foot
	at := func(x, y float64) orb.Point { return orb.Point{210 + 0.8*x - 0.6*y, -95 + 0.6*x + 0.8*y} }
	corner := func(x, y float64) roof.Position { return roof.Position{Plan: at(x, y), HasZ: true} }
	r := shape.New("elsewhere", corner(0, 0), corner(a, 0), corner(a, a), corner(0, a))
	r.Spots = append(r.Spots, roof.Spot{Position: corner(a/2, a/2)})
	b := newBench(t, r)
	for name, c := range map[string]struct {
		from           taper.Source
		feet, greatest float64
	}{
		"one-way":    {line(at(0, 0), at(a, 0)), 8800, 10.5},
		"low centre": {taper.Source{Plan: at(a/2, a/2)}, 6133.33, 5.5},
	} {
		o := b.of(mend.Overlay, b.tapered(inch/2, c.from), nil)
		near(t, name+": board feet", o.Volume/standard.BoardFoot, c.feet, 0.5)
		near(t, name+": greatest in", o.Greatest/inch, c.greatest, 1e-3)
		if len(o.Laid) == 0 || len(o.Measured) > 0 {
			t.Errorf("%s: %d fields laid, measured %+v", name, len(o.Laid), o.Measured)
		}
		b.whole(o)
	}
}

// TestSourcesOfStock: where the user states how thick boards come, nobody else is named for it; else the usual source is.
func TestSourcesOfStock(t *testing.T) {
	b := newBench(t, level(12, 12))
	d := b.tapered(inch/2, line(orb.Point{0, 0}, orb.Point{12, 0}))
	text := strings.TrimPrefix(standard.BoardThickestSource.Text, standard.CommonPractice)
	for _, own := range []bool{false, true} {
		o := b.of(mend.Overlay, d, func(in *takeoff.Input) {
			if own {
				in.Stock.Greatest += 0.01
			}
		})
		named := false
		for _, s := range o.Allowances {
			named = named || strings.Contains(s.Format, text)
		}
		if named == own {
			t.Errorf("own thickness %t: the usual source is named %t in %+v", own, named, o.Allowances)
		}
	}
}
