package takeoff

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/assembly"
	"runnel/analysis/board"
	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/taper"
)

const (
	foot = float64(quantity.Foot)
	inch = float64(quantity.Inch)
)

// near fails where got is farther than tolerance from want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// rectangle is l by w m from the origin, counter-clockwise, not closed.
func rectangle(l, w float64) []orb.Point { return []orb.Point{{0, 0}, {l, 0}, {l, w}, {0, w}} }

// under is a part of a field over a rectangle with the thickness t + dx x + dy y.
func under(l, w, t, dx, dy float64) part {
	p := part{on: rectangle(l, w)}
	for _, q := range p.on {
		p.t = append(p.t, t+dx*q[0]+dy*q[1])
	}
	p.above = slices.Clone(p.t)
	return p
}

// one is a counter of one field over a rectangle, with the usual stock.
func one(l, w float64, p part) *counter {
	ring := append(orb.Ring(rectangle(l, w)), orb.Point{})
	f := Field{Use: Taper, Thinnest: math.Inf(1), Area: l * w}
	for _, t := range p.t {
		f.Thinnest, f.Thickest = math.Min(f.Thinnest, t), math.Max(f.Thickest, t)
	}
	return &counter{
		in:     &Input{Study: &study.Study{Roof: &roof.Roof{}}, Stock: board.Usual()},
		option: &correction.Option{Kind: mend.Overlay},
		design: &taper.Design{Slope: 1. / 48, Facets: []taper.Facet{{Polygon: orb.Polygon{ring}, Plan: orb.Point{l, w}}}},
		out:    &TakeOff{Fields: []Field{f}}, parts: [][]part{{p}},
	}
}

// TestOverAndUnder: by hand, on 4 by 2 m: from -0.1 m at the west side to 0.3 m at the east side the part above 0 is 3 m long and half of 0.3 m thick, that below 1 m and half of 0.1; all above; all below; nothing.
func TestOverAndUnder(t *testing.T) {
	for _, c := range []struct {
		name        string
		t           []float64 // at the corners
		over, under float64
	}{
		{"both", []float64{-0.1, 0.3, 0.3, -0.1}, 2 * 3 * 0.15, 2 * 1 * 0.05},
		{"above", []float64{0.1, 0.3, 0.3, 0.1}, 8 * 0.2, 0},
		{"below", []float64{-0.1, -0.3, -0.3, -0.1}, 0, 8 * 0.2},
		{"nothing", []float64{0, 0, 0, 0}, 0, 0},
		{"from 0", []float64{0, 0.4, 0.4, 0}, 8 * 0.2, 0},
		{"to 0", []float64{-0.4, 0, 0, -0.4}, 0, 8 * 0.2},
	} {
		over, under := bothSides(rectangle(4, 2), c.t)
		near(t, c.name+": above", over, c.over, 1e-12)
		near(t, c.name+": below", under, c.under, 1e-12)
	}
	near(t, "0.1 m at one corner of a triangle of 3 m2", integral([]orb.Point{{0, 0}, {3, 0}, {0, 2}}, []float64{0, 0.1, 0}), 3*0.1/3, 1e-15)
	near(t, "a pyramid's side, over five corners", integral([]orb.Point{{0, 0}, {2, 0}, {4, 0}, {4, 2}, {0, 2}}, []float64{0, 0, 0, 0.2, 0.2}), 8*0.1, 1e-12)
}

// TestDiffering: on 10 by 1 m that rises from -20 to 30 mm above the old roof all is another surface but for what lies nearer to the old one than can be seen, correction.Seen to both sides: in 5 mm a metre.
func TestDiffering(t *testing.T) {
	on, above := rectangle(10, 1), []float64{-0.02, 0.03, 0.03, -0.02}
	near(t, "both sides", differing(on, above), 10-2*mend.Seen/0.005, 1e-9)
	near(t, "above", differing(on, []float64{0.01, 0.01, 0.01, 0.01}), 10, 1e-12)
	near(t, "below", differing(on, []float64{-0.01, -0.01, -0.01, -0.01}), 10, 1e-12)
	near(t, "neither", differing(on, []float64{mend.Seen / 2, mend.Seen / 2, -mend.Seen / 2, -mend.Seen / 2}), 0, 0)
	near(t, "exactly as much as is seen", differing(on, []float64{mend.Seen, mend.Seen, mend.Seen, mend.Seen}), 10, 1e-12)
}

// TestFit: planes come back as they are, whatever the parts they stand in; over a ridge that runs across the middle of a square of 2 m and stands h above its sides the best plane is level at h/2, off by h/2.
func TestFit(t *testing.T) {
	slanted := []part{
		{on: []orb.Point{{0, 0}, {4, 0}, {0, 3}}, t: []float64{0.1, 0.1 + 4*0.02, 0.1 - 3*0.01}},
		{on: []orb.Point{{4, 0}, {4, 3}, {0, 3}}, t: []float64{0.18, 0.15, 0.07}},
	}
	f, off := fit(slanted)
	near(t, "east", f.g[0], 0.02, 1e-12)
	near(t, "north", f.g[1], -0.01, 1e-12)
	near(t, "at (1, 1)", f.thickness(orb.Point{1, 1}), 0.11, 1e-12)
	near(t, "off", off, 0, 1e-12)
	const h = 0.04
	ridge := []part{{on: rectangle(1, 2), t: []float64{0, h, h, 0}}, {on: []orb.Point{{1, 0}, {2, 0}, {2, 2}, {1, 2}}, t: []float64{h, 0, 0, h}}}
	f, off = fit(ridge)
	near(t, "a ridge's mean", f.thickness(orb.Point{0.3, 1.7}), h/2, 1e-12)
	near(t, "a ridge's height over it", off, h/2, 1e-12)
	// Twice as wide on one side, from 0 to 1 m and from 1 to 3 m: the mean of x t is (h/3 + 5h/3)/3 = 2h/3, of x and t apart 3/2 and h/2, so they go together by -h/12; x varies by 9/12, and the slope is -h/9.
	uneven := []part{{on: rectangle(1, 1), t: []float64{0, h, h, 0}}, {on: []orb.Point{{1, 0}, {3, 0}, {3, 1}, {1, 1}}, t: []float64{h, 0, 0, h}}}
	f, _ = fit(uneven)
	near(t, "slope over an uneven ridge", f.g[0], -h/9, 1e-12)
	near(t, "across it", f.g[1], 0, 1e-12)
	if _, off = fit(nil); !math.IsInf(off, 1) {
		t.Errorf("nothing is %g off a plane", off)
	}
}

// TestClipByThickness: on 4 by 2 m with 2 % from 0 the line of 40 mm runs across the middle: 4 m2 are thicker, 4 thinner, cut along 2 m; with a hole in the thin half that part is less the hole; of what is thicker all over nothing is cut.
func TestClipByThickness(t *testing.T) {
	f := flat{g: orb.Point{0.02, 0}}
	outer := append(orb.Ring(rectangle(4, 2)), orb.Point{})
	hole := orb.Ring{{0.5, 0.5}, {0.5, 1}, {1.5, 1}, {1.5, 0.5}, {0.5, 0.5}}
	for _, c := range []struct {
		name      string
		of        orb.Polygon
		at        float64
		above     bool
		area, cut float64
		rings     int
	}{
		{"above", orb.Polygon{outer}, 0.04, true, 4, 2, 1},
		{"below", orb.Polygon{outer}, 0.04, false, 4, 2, 1},
		{"above at 10 mm", orb.Polygon{outer}, 0.01, true, 7, 2, 1},
		{"below at 10 mm", orb.Polygon{outer}, 0.01, false, 1, 2, 1},
		{"all above", orb.Polygon{outer}, -0.01, true, 8, 0, 1},
		{"none below", orb.Polygon{outer}, -0.01, false, 0, 0, 0},
		{"a hole below", orb.Polygon{outer, hole}, 0.04, false, 3.5, 2, 2},
		{"a hole above is not there", orb.Polygon{outer, hole}, 0.04, true, 4, 2, 1},
		{"a ring of two corners", orb.Polygon{{{0, 0}, {1, 0}, {0, 0}}}, 0.04, false, 0, 0, 0},
	} {
		out, cut := clip(c.of, &f, c.at, c.above)
		area := 0.0
		for _, ring := range out {
			area += vector.Area(ring)
			if ring[0] != ring[len(ring)-1] {
				t.Errorf("%s: %v is not closed", c.name, ring)
			}
		}
		near(t, c.name+": area", area, c.area, 1e-12)
		near(t, c.name+": cut", cut, c.cut, 1e-12)
		if len(out) != c.rings {
			t.Errorf("%s: %d rings", c.name, len(out))
		}
	}
}

// TestPlaneInStock: which plane a field is laid with, and what is said where there is none. The tolerance of 3 mm counts over the whole field: on 12 by 6 m, whose middle is 6 m from its ends, a taper may be off a rate by 0.5 in a thousand.
func TestPlaneInStock(t *testing.T) {
	quarter := 1. / 48
	for _, c := range []struct {
		name string
		l, w float64
		of   part
		rate float64
		why  string
	}{
		{"1/4 in per ft", 12, 6, under(12, 6, 0.02, quarter, 0), quarter, ""},
		{"1/4 in per ft to the north", 12, 6, under(12, 6, 0.02, 0, quarter), quarter, ""},
		{"slanted, 3-4-5", 12, 6, under(12, 6, 0.02, 0.6*quarter, 0.8*quarter), quarter, ""},
		{"level", 12, 6, under(12, 6, 0.05, 0, 0), 0, ""},
		{"off by 0.45 in a thousand", 12, 6, under(12, 6, 0.02, quarter+0.00045, 0), quarter, ""},
		{"off by 0.55 in a thousand", 12, 6, under(12, 6, 0.02, quarter+0.00055, 0), 0, "on what it is laid its taper is {0}, which lies between the rates {1} and {2} in stock"},
		{"nearly level", 12, 6, under(12, 6, 0.05, 0.00045, 0), 0, ""},
		{"not level enough", 12, 6, under(12, 6, 0.05, 0.00055, 0), 0, "on what it is laid its taper is {0}, less than any rate in stock"},
		{"steep", 12, 6, under(12, 6, 0.05, 0.06, 0), 0, "on what it is laid its taper is {0}, more than any rate in stock"},
		{"a cut of 2 mm", 12, 6, under(12, 6, -0.002, quarter, 0), quarter, ""},
		{"a cut of 4 mm", 12, 6, under(12, 6, -0.004, quarter, 0), 0, "it cuts up to {0} into the assembly, and no cores say how deep that is: what goes back is not counted"},
		{"as large as a board", 4 * foot, 4 * foot, under(4*foot, 4*foot, 0.02, quarter, 0), quarter, ""},
		{"smaller than a board", 4 * foot, 3.99 * foot, under(4*foot, 3.99*foot, 0.02, quarter, 0), 0, "it is smaller than one board"},
		{"3 mm off a plane, but too large", 12, 6, part{on: rectangle(12, 6), t: []float64{0.05, 0.05, 0.05, 0.07}}, 0, "what lies under it is no plane: its thickness is up to {0} off one"},
	} {
		k := one(c.l, c.w, c.of)
		_, ok := k.plane(0)
		f := k.out.Fields[0]
		if f.Why.Format != c.why || ok != (c.why == "") || !(math.Abs(f.Rate-c.rate) <= 1e-12) {
			t.Errorf("%s: %v at %g, %q", c.name, ok, f.Rate, f.Why.Format)
		}
	}
	// The plane that is laid has the rate in stock, and keeps the field's thickness in its middle.
	k := one(12, 6, under(12, 6, 0.02, 0.6*(quarter+0.0003), 0.8*(quarter+0.0003)))
	p, _ := k.plane(0)
	near(t, "gradient east", p.g[0], 0.6*quarter, 1e-9)
	near(t, "gradient north", p.g[1], 0.8*quarter, 1e-9)
	near(t, "thickness in the middle", p.thickness(orb.Point{6, 3}), 0.02+(quarter+0.0003)*(0.6*6+0.8*3), 1e-9)
	// What no rate fits names the rates on both sides of it.
	k = one(12, 6, under(12, 6, 0.02, 1./96+0.003, 0))
	k.plane(0)
	args := k.out.Fields[0].Why.Args
	if len(args) != 3 {
		t.Fatalf("%+v", args)
	}
	for i, want := range []float64{1./96 + 0.003, 1. / 96, 1. / 64} {
		near(t, "rate named", args[i].Value, want, 1e-12)
	}
}

// TestBoardsOfAPlane: boards begin where the field is thinnest. Where that is under 1/2 in they begin on the line of 1/2 in, and an edge strip lies before it: of 12 by 6 m from 0 at 1/4 in per ft that is 0.6096 m wide, 6 m long, half of 1/2 in thick on average. A flat field thinner than that is not laid, nor one that nowhere
// comes to it.
func TestBoardsOfAPlane(t *testing.T) {
	quarter := 1. / 48
	for _, c := range []struct {
		name       string
		of         part
		rate       float64
		low        orb.Point
		thickness  float64
		strip      float64 // m2
		strip0     float64 // thickness where it begins
		volume     float64
		laid       float64 // m2
		cannot     string
		facetAtLow bool
	}{
		{"from 1 in", under(12, 6, inch, quarter, 0), quarter, orb.Point{0, 0}, inch, 0, 0, 0, 72, "", false},
		{"from 1 in, thinnest in the north-east", under(12, 6, inch+quarter*12, -quarter, 0), quarter, orb.Point{12, 6}, inch, 0, 0, 0, 72, "", true},
		{"from 0", under(12, 6, 0, quarter, 0), quarter, orb.Point{0.6096, 3}, inch / 2, 6 * 0.6096, 0, 6 * 0.6096 * inch / 4, 72 - 6*0.6096, "", false},
		{"from 1/4 in", under(12, 6, inch/4, quarter, 0), quarter, orb.Point{0.3048, 3}, inch / 2, 6 * 0.3048, inch / 4, 6 * 0.3048 * inch * 3 / 8, 72 - 6*0.3048, "", false},
		{"2 mm thinner than a board", under(12, 6, inch/2-0.002, quarter, 0), quarter, orb.Point{0, 0}, inch / 2, 0, 0, 0, 72, "", false},
		{"flat", under(12, 6, inch, 0, 0), 0, orb.Point{12, 6}, inch, 0, 0, 0, 72, "", true},
		{"flat and thin", under(12, 6, 0.005, 0, 0), 0, orb.Point{}, 0, 0, 0, 0, 0, "it is {0} thick, thinner than the thinnest board", false},
		{"nowhere as thick", under(12, 6, 0.0001, 1./1000, 0), 1. / 1000, orb.Point{}, 0, 0, 0, 0, 0, "it is {0} thick at most, thinner than the thinnest board", false},
	} {
		k := one(12, 6, c.of)
		k.out.Fields[0].Rate = c.rate
		p, _ := fit(k.parts[0])
		laid, strip, ok := k.boards(0, p)
		if why := k.out.Fields[0].Why.Format; why != c.cannot || ok != (c.cannot == "") {
			t.Errorf("%s: %v, %q", c.name, ok, why)
			continue
		}
		if !ok {
			continue
		}
		if c.strip > 0 {
			near(t, c.name+": boards begin where it is 1/2 in", p.thickness(laid.Low), inch/2, 1e-9)
			near(t, c.name+": as far up the taper", laid.Low[0], c.low[0], 1e-9)
		} else if laid.Low != c.low && (c.facetAtLow || !(math.Abs(p.thickness(laid.Low)-p.thickness(c.low)) <= 1e-9)) {
			t.Errorf("%s: boards begin at %v, want %v", c.name, laid.Low, c.low)
		}
		near(t, c.name+": thickness there", laid.Thickness, c.thickness, 1e-9)
		near(t, c.name+": strip", strip.Area, c.strip, 1e-9)
		near(t, c.name+": strip's volume", strip.Volume, c.volume, 1e-9)
		area, _ := p.over(laid.Polygon)
		near(t, c.name+": laid", area, c.laid, 1e-9)
		if c.strip > 0 {
			near(t, c.name+": strip from", strip.From, c.strip0, 1e-9)
			near(t, c.name+": strip to", strip.To, inch/2, 1e-12)
			near(t, c.name+": strip's length", strip.Length, 6, 1e-9)
			near(t, c.name+": strip's width", strip.Wide, c.strip/6, 1e-9)
		}
	}
}

// TestAmounts: of 10 by 2 m: what is built up from 0 to 0.2 m; what is cut by 0.1 and built up by 0.1; what is cut by less than a millimetre, which nobody cuts; from the deck up all of it with what comes out.
func TestAmounts(t *testing.T) {
	for _, c := range []struct {
		name                        string
		use                         Use
		of                          part
		gone                        []float64
		volume, cut, area, thinnest float64
	}{
		{"taper built up", Taper, under(10, 2, 0, 0.02, 0), nil, 20 * 0.1, 0, 20, 0},
		{"fill built up", Fill, under(10, 2, 0, 0.02, 0), nil, 20 * 0.1, 0, 20 - 2*mend.Seen/0.02, 0},
		{"cut and built up", Fill, under(10, 2, -0.1, 0.02, 0), nil, 10 * 0.05, 10 * 0.05, 20 - 4*mend.Seen/0.02, -0.1},
		{"cut by 0.9 mm", Taper, under(10, 2, -0.0009, 0.02, 0), nil, 2 * 0.1991 * 0.1991 / 0.04, 0, 20, 0},
		{"cut by 1.1 mm", Taper, under(10, 2, -0.0011, 0.02, 0), nil, 2 * 0.1989 * 0.1989 / 0.04, 2 * 0.0011 * 0.0011 / 0.04, 20, -0.0011},
		{"from the deck up", Patch, under(10, 2, 0.1, 0, 0), []float64{0.05, 0.05, 0.05, 0.05}, 2, 1, 20, 0.1},
	} {
		k := one(10, 2, c.of)
		k.out.Fields[0] = Field{Use: c.use, OnDeck: c.gone != nil}
		k.parts[0][0].gone = c.gone
		k.amounts(0)
		f := k.out.Fields[0]
		near(t, c.name+": volume", f.Volume, c.volume, 1e-9)
		near(t, c.name+": cut", f.Cut, c.cut, 1e-9)
		near(t, c.name+": area", f.Area, c.area, 1e-9)
		near(t, c.name+": thinnest", f.Thinnest, c.thinnest, 1e-12)
		near(t, c.name+": thickest", f.Thickest, slices.Max(c.of.t), 1e-12)
	}
}

// TestUseOfAFacet: by the change that makes it, else by the option's kind; planes flatter than the design's slope are crickets, by more than a thousandth. Fill, patch, rise and edge follow the survey's facets.
func TestUseOfAFacet(t *testing.T) {
	for _, c := range []struct {
		name   string
		option correction.Option
		dx     float64
		want   Use
		mesh   bool
	}{
		{"overlay at the slope", correction.Option{Kind: mend.Overlay}, 0.02, Taper, false},
		{"overlay a little flatter", correction.Option{Kind: mend.Overlay}, 0.02 * 0.9992, Taper, false},
		{"overlay flatter", correction.Option{Kind: mend.Overlay}, 0.02 * 0.9988, Cricket, false},
		{"crickets", correction.Option{Kind: mend.Cricket}, 0.02, Cricket, false},
		{"fill", correction.Option{Kind: mend.Fill}, 0.02, Fill, true},
		{"made by a change", correction.Option{Kind: mend.Combined, Made: []mend.Kind{mend.LowerOutlet}}, 0.02, Sump, false},
		{"made by another", correction.Option{Kind: mend.Combined, Made: []mend.Kind{mend.LowerRise}}, 0.02, Rise, true},
		{"an edge", correction.Option{Kind: mend.Combined, Made: []mend.Kind{mend.LowerEdge}}, 0.02, Edge, true},
		{"a patch", correction.Option{Kind: mend.Combined, Made: []mend.Kind{mend.ReplacePatch}}, 0.02, Patch, true},
		{"made by a kind without a use", correction.Option{Kind: mend.Fill, Made: []mend.Kind{mend.Combined}}, 0.02, Fill, true},
		{"none made", correction.Option{Kind: mend.Combined, Made: nil}, 0.01, Cricket, false},
		{"a new section that is no facet of the survey", correction.Option{Kind: mend.Retaper}, 0.02, Retaper, false},
	} {
		k := one(4, 4, under(4, 4, 0, c.dx, 0))
		k.option = &c.option
		k.design.Slope, k.design.Facets[0].DX = 0.02, c.dx
		if got := k.use(0); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		if got := k.onMesh(0); got != c.mesh {
			t.Errorf("%s: follows the survey's facets %v", c.name, got)
		}
	}
}

// TestCornersOfAField: those of its outline and of its holes, each once.
func TestCornersOfAField(t *testing.T) {
	k := one(4, 2, under(4, 2, 0.1, 0, 0))
	f := &k.design.Facets[0]
	f.Polygon = append(f.Polygon, orb.Ring{{1, 1}, {1, 1.5}, {2, 1}, {1, 1}})
	if got, want := k.corners(0), append(rectangle(4, 2), orb.Point{1, 1}, orb.Point{1, 1.5}, orb.Point{2, 1}); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestWhereBoardsBegin: boards of a plane cut to measure begin where it is thinnest, 80 mm, however thick the design is at its outlets, 50 mm; courses of stock boards are counted from where they would be as thick as there: 30 mm at 1/4 in per ft are 1.44 m before.
func TestWhereBoardsBegin(t *testing.T) {
	quarter := 1. / 48
	k := one(12, 6, under(12, 6, 0.08, quarter, 0))
	k.design.Thickness, k.out.Fields[0].Rate = 0.05, quarter
	p, _ := fit(k.parts[0])
	laid, _, ok := k.boards(0, p)
	if !ok || !(math.Abs(laid.Low[0]) <= 1e-9) {
		t.Errorf("%t, at %v", ok, laid.Low)
	}
	near(t, "thickness there", laid.Thickness, 0.08, 1e-9)
}

// TestStripOfANarrowField: of 12 by 0.9 m from 0 at 1/4 in per ft the strip under 1/2 in is 0.9 m long and 0.6096 m wide.
func TestStripOfANarrowField(t *testing.T) {
	k := one(12, 0.9, under(12, 0.9, 0, 1./48, 0))
	k.out.Fields[0].Rate = 1. / 48
	p, _ := fit(k.parts[0])
	_, strip, ok := k.boards(0, p)
	if !ok {
		t.Fatal("not laid")
	}
	near(t, "length", strip.Length, 0.9, 1e-9)
	near(t, "width", strip.Wide, 0.6096, 1e-9)
}

// TestSumsOfFields: one field of 8 m2 built up by 0.4 m3 and one of 8 m2 where nothing is built: 0.05 m on average over what is covered, at 300 N/m3 15 N/m2 there and 120 N in all. Under a millionth of a cubic metre nothing is built, and what is deepest is where it cuts.
func TestSumsOfFields(t *testing.T) {
	k := one(4, 2, under(4, 2, 0, 0.025, 0))
	k.out.Fields = append(k.out.Fields, Field{Use: Taper, Area: 8})
	k.parts = append(k.parts, []part{under(4, 2, -0.002, 0, 0)})
	k.out.Fields[0].Volume, k.out.Fields[1].Cut = 0.4, 0.016
	k.material = &standard.Material{Weight: 300}
	k.sums()
	o := k.out
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"area", o.Area, 16},
		{"covered", o.Covered, 8},
		{"volume", o.Volume, 0.4},
		{"cut", o.Cut, 0.016},
		{"average", o.Average, 0.05},
		{"greatest", o.Greatest, 0.1},
		{"highest", o.Highest, 0.1},
		{"deepest", o.Deepest, 0.002},
		{"load", o.Load, 15},
		{"greatest load", o.GreatestLoad, 30},
		{"mass", o.Mass, 120 / 9.80665},
	} {
		near(t, c.what, c.got, c.want, 1e-12)
	}
	none := one(4, 2, under(4, 2, -0.002, 0.0005, 0))
	none.material, none.out.Fields[0].Volume = k.material, 0.9e-6
	none.sums()
	if o := none.out; o.Volume != 0 || o.Greatest != 0 || o.Average != 0 || o.Covered != 0 || o.At != o.CutAt || o.CutAt != (orb.Point{0, 0}) {
		t.Errorf("%+v", o)
	}
}

// TestCutsOverAKnownDeck: what is said of a field that cuts by 4 mm where cores tell the deck; one that cuts nothing, or 2 mm, is laid.
func TestCutsOverAKnownDeck(t *testing.T) {
	for from, why := range map[float64]string{
		0: "", -0.002: "", -0.004: "it cuts up to {0} into the assembly, and the deck under it is not known here: what goes back is not counted",
	} {
		k := one(12, 6, under(12, 6, from, 1./48, 0))
		k.in.Study = &study.Study{Roof: withCores(1), Assembly: &assembly.Result{}}
		if _, ok := k.plane(0); ok != (why == "") || k.out.Fields[0].Why.Format != why {
			t.Errorf("from %g m: %v, %q", from, ok, k.out.Fields[0].Why.Format)
		}
		if args := k.out.Fields[0].Why.Args; why != "" && (len(args) != 1 || !(math.Abs(args[0].Value+from) <= 1e-12)) {
			t.Errorf("from %g m: it says %+v", from, args)
		}
	}
}

// TestStockThatCannotBeLaid: a stock whose flat boards have no steps is refused, not laid around.
func TestStockThatCannotBeLaid(t *testing.T) {
	k := one(12, 6, under(12, 6, 0.02, 1./48, 0))
	k.in.Stock.FillStep = 0
	if err := k.lay(); err == nil {
		t.Error("laid")
	}
}

// TestPatchKeepsWhatIsSound: of 100 mm that insulate by 30 m K/W over air films of 0.2 a patch takes 40 mm out and lays 30 mm of 20 m K/W: 3.2 before, 0.6 and 2.0 after, on 8 m2. From the deck up nothing of the old stays.
func TestPatchKeepsWhatIsSound(t *testing.T) {
	w := &assembly.Resistance{Least: 0, LeastR: 0.2, PerMetre: 30}
	for use, want := range map[Use]float64{Patch: 20*0.03 + 0.2 + 30*0.06, Taper: 20 * 0.03} {
		k := one(4, 2, under(4, 2, 0.03, 0, 0))
		k.out.Thermal.PerMetre = 20
		p := &k.parts[0][0]
		p.old, p.gone = slices.Repeat([]float64{0.1}, 4), slices.Repeat([]float64{0.04}, 4)
		after := newTally()
		after.add(p.on, slices.Repeat([]float64{3.2}, 4))
		if !k.compare(w, &Field{Use: use, OnDeck: true}, p, &after) {
			t.Fatal("not compared")
		}
		near(t, "area", after.area, 8, 1e-12)
		near(t, string(use)+": resistance over the area", after.sum, 8*want, 1e-9)
		near(t, "lost", k.out.Thermal.Lost, 3.2-want, 1e-9)
	}
}
