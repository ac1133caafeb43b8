package mend

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction/mend/mendtest"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/taper"
)

// TestHowLowAnOutletMustStand: by hand: a low place 1 m off in the gauge and 30 mm down runs to an inlet as low less half an inch in the foot over what the level ring leaves of the way: 30 mm - (1 - 0.3)/24 = 59 mm down. The farthest of several within reach decides; one that is out of reach counts where it is the lowest, as far as the rim, if the roof
// to it is level. An inlet that is low enough stays.
func TestHowLowAnOutletMustStand(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 3 }, orb.Point{6, 5}, orb.Point{9, 5})
	o := &d.Surface.Outlets[0]
	g := d.FourWay()
	const ring, reach = 0.3, 1.2
	at := func(east, north float64) orb.Point { return orb.Point{6 + east, 1.5 + north} }
	for _, c := range []struct {
		name   string
		pits   []orb.Point
		lows   []float64
		invert float64
		want   float64
		ok     bool
	}{
		{"1 m off", []orb.Point{at(1, 0.5)}, []float64{2.97}, 3, 2.97 - 0.7/24, true},
		{"in the ring", []orb.Point{at(0.2, 0)}, []float64{2.97}, 3, 2.97, true},
		{"the farther one decides", []orb.Point{at(0.5, 0), at(0, 1.1)}, []float64{2.97, 2.975}, 3, 2.975 - 0.8/24, true},
		{"the lower one decides", []orb.Point{at(0.5, 0), at(0, 1.1)}, []float64{2.93, 2.99}, 3, 2.93 - 0.2/24, true},
		{"a second one out of reach", []orb.Point{at(1, 0), at(3, 0)}, []float64{2.97, 2.5}, 3, 2.97 - 0.7/24, true},
		{"the lowest out of reach, level to it", []orb.Point{at(2, 0)}, []float64{3}, 3, 3 - (1.2+0.3048-0.3)/24, true},
		{"the lowest out of reach, below the roof", []orb.Point{at(2, 0)}, []float64{2.97}, 3, 0, false},
		{"low enough", []orb.Point{at(0.2, 0)}, []float64{2.97}, 2.9, 2.9, true},
	} {
		o.Invert, o.Low = c.invert, 3
		z, ok := d.needed(&Pond{pits: c.pits, lows: c.lows, low: c.lows[0], Pit: c.pits[0]}, o, &g, ring, reach)
		if ok != c.ok || ok && !(math.Abs(z-c.want) <= 1e-9) {
			t.Errorf("%s: %g, %v; want %g", c.name, z, ok, c.want)
		}
	}
}

// TestInletThatItsOverflowHolds: where an inlet would come so low that its overflow stood farther over it than allowed, it stays as high as that, if no more than half a pond's depth is left by it.
func TestInletThatItsOverflowHolds(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 3 }, orb.Point{6, 5})
	most, film := d.Study.Criteria.OverflowMost(), d.Study.Criteria.PondDepth/2
	o := &d.Surface.Outlets[0]
	d.Surface.Outlets = append(d.Surface.Outlets, surface.Outlet{Source: 1, Duty: roof.Overflow, Plan: orb.Point{7, 1.5}, Invert: 3 + most, Low: 2})
	least := 3 - standard.InletTolerance + 0.001
	for _, c := range []struct {
		name         string
		z, low, want float64
		change       func(over *surface.Outlet)
	}{
		{"high enough", 3, 2.99, 3, nil},
		{"as low as it may", least + 1e-6, 2.99, least + 1e-6, nil},
		{"too low, a film is left", least - 0.01, least - film + 1e-4, least, nil},
		{"too low, more than a film is left", least - 0.01, least - film - 1e-4, least - 0.01, nil},
		{"no overflow", least - 0.01, least, least - 0.01, func(over *surface.Outlet) { over.Duty = roof.Primary }},
		{"one that nobody surveyed", least - 0.01, least, least - 0.01, func(over *surface.Outlet) { over.Source = -1 }},
	} {
		over := d.Surface.Outlets[1]
		if c.change != nil {
			c.change(&d.Surface.Outlets[1])
		}
		mendtest.About(t, c.name, d.notBelow(&Pond{low: c.low}, o, c.z), c.want)
		d.Surface.Outlets[1] = over
	}
}

// TestNearestOutletInSight: by hand, of a drain and a gutter the one that is nearer in the gauge, the gutter by its nearest place; one in sight before all that are hidden by a slit of the roof. Without any there is none.
func TestNearestOutletInSight(t *testing.T) {
	d := designing(t, func(_, y float64) float64 { return 0.02 * y }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {8.5, 10}, {8.5, 4}, {8, 4}, {8, 10}, {0, 10}})
	gutter := taper.Source{Outlet: 4, Plan: orb.Point{0, 0}, Line: orb.LineString{{0, 0}, {12, 0}}}
	drain := func(outlet int, x, y float64) taper.Source {
		return taper.Source{Outlet: outlet, Plan: orb.Point{x, y}}
	}
	for _, c := range []struct {
		q       orb.Point
		sources []taper.Source
		want    int
	}{
		{orb.Point{7, 3}, []taper.Source{drain(2, 3.5, 3), gutter}, 4},
		{orb.Point{7, 3}, []taper.Source{drain(2, 4.5, 3), gutter}, 2},
		{orb.Point{7, 3}, []taper.Source{gutter, drain(2, 4.5, 3)}, 2},
		{orb.Point{7, 3}, []taper.Source{gutter, drain(2, 4.5, 0.5)}, 2},
		{orb.Point{9.5, 6}, []taper.Source{drain(1, 7.5, 6), drain(3, 9.5, 1)}, 3},
		{orb.Point{9.5, 6}, []taper.Source{drain(3, 9.5, 1), drain(1, 7.5, 6)}, 3},
		{orb.Point{9.5, 6}, []taper.Source{drain(1, 7.5, 6), drain(3, 7, 9)}, 1},
		{orb.Point{9.5, 6}, nil, -1},
	} {
		if d.Sources = c.sources; d.nearest(c.q) != c.want {
			t.Errorf("%+v: %d", c, d.nearest(c.q))
		}
	}
}

// TestNoOpeningWhereAnEngineerSaidNo: a mend that cuts an opening there is none, any other is, and so is one where the answer was yes or about something else.
func TestNoOpeningWhereAnEngineerSaidNo(t *testing.T) {
	at := orb.Point{3, 4}
	answer := func(asked roof.Asked, yes bool) []roof.Answer {
		return []roof.Answer{{Question: string(asked), Plan: at, Placed: true, Yes: yes, On: "2026-03-14"}}
	}
	for _, c := range []struct {
		name    string
		answers []roof.Answer
		adds    []orb.Point
		want    bool
	}{
		{"no", answer(roof.AskOpening, false), []orb.Point{at}, true},
		{"no, of the second", answer(roof.AskOpening, false), []orb.Point{{9, 9}, at}, true},
		{"yes", answer(roof.AskOpening, true), []orb.Point{at}, false},
		{"elsewhere", answer(roof.AskOpening, false), []orb.Point{{9, 9}}, false},
		{"of the deck", answer(roof.AskDeck, false), []orb.Point{at}, false},
		{"nothing is cut", answer(roof.AskOpening, false), nil, false},
		{"nobody answered", nil, []orb.Point{at}, false},
	} {
		d := &Designer{Input: Input{Study: &study.Study{Roof: &roof.Roof{Answers: c.answers}}}}
		m := Mend{}
		for _, q := range c.adds {
			m.Adds = append(m.Adds, roof.Outlet{Plan: q})
		}
		if got := d.forbidden(&m); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// TestOutletsThatMayMove: a drain or scupper that water should reach and that the user does not keep: by label or id, in any case; where the plumber answered that it cannot be set down it stays.
func TestOutletsThatMayMove(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 3 }, orb.Point{6, 5})
	d.Surface.Outlets[0].Label, d.Surface.Outlets[0].ID, d.Roof.Outlets[0].ID = "RD-1", "D01", "drain-7"
	for _, keep := range [][]string{{"rd-1"}, {"D01"}, {"other", "DRAIN-7"}} {
		if d.Steering.Keep = keep; !d.Kept(0) || d.movable(&Pond{Outlet: 0}) != nil {
			t.Errorf("%v is not kept", keep)
		}
	}
	d.Steering.Keep = []string{"RD-2"}
	if d.Kept(0) || d.movable(&Pond{Outlet: 0}) != &d.Surface.Outlets[0] || d.movable(&Pond{Outlet: -1}) != nil {
		t.Error("an outlet that nobody keeps does not move")
	}
	for yes, want := range map[bool]bool{true: false, false: true} {
		own := *d.Study.Roof
		own.Answers = []roof.Answer{{Question: string(roof.AskLower), Yes: yes, Plan: d.Surface.Outlets[0].Plan, Placed: true}}
		study := *d.Study
		study.Roof = &own
		d.Study = &study
		if got := d.Kept(0); got != want {
			t.Errorf("the plumber says %v: kept %v", yes, got)
		}
	}
	d.Surface.Outlets[0].Source = -1
	if d.movable(&Pond{Outlet: 0}) != nil {
		t.Error("what nobody surveyed moves")
	}
}

// TestOverflowBesideAnOutlet: an overflow drain beside a drain stands where the roof is lower than its inlet by a millimetre at least and clear of walls, whichever way the roof rises; where it is higher all round there is no place.
func TestOverflowBesideAnOutlet(t *testing.T) {
	for _, g := range []orb.Point{{0.2, 0}, {-0.2, 0}, {0, 0.2}, {0, -0.2}} {
		z := func(x, y float64) float64 { return 5 + g[0]*x + g[1]*y }
		d := designing(t, z, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}})
		o, ok := d.OverflowBeside(0)
		if !ok || !(math.Abs(float64(o.Invert)-z(6, 1.5)-d.Study.Criteria.OverflowMost()) <= 1e-9) || o.Duty != roof.Overflow || !(z(o.Plan[0], o.Plan[1]) <= float64(o.Invert)-0.001+1e-9) || !(o.Plan[1] >= standard.OutletClear-1e-9) {
			t.Errorf("on a roof of %v: %+v, %v", g, o, ok)
		}
		d.Surface.Outlets[0].Invert -= 2
		if o, ok := d.OverflowBeside(0); ok {
			t.Errorf("in a pit: %v", o.Plan)
		}
	}
}

// TestOverflowsGoDownToo: an overflow drain beside an outlet that goes down goes down to the limit over it, from half an inch over that on, where the new surface lets it: in a sump with sides of 1/24, a ring of 0.3 m and a reach of 1.5. A scupper stays, and one that the user keeps.
func TestOverflowsGoDownToo(t *testing.T) {
	most := 0.0
	for _, c := range []struct {
		name         string
		x            float64 // east of the drain
		invert, low  float64
		change       func(d *Designer, over *surface.Outlet)
		want         bool
		slope, reach float64
	}{
		{"beside it", 1, 3.05, 3, nil, true, 1. / 24, 1.5},
		{"just over the limit", 1, 2.9 + standard.InletTolerance - 1e-4, 3, nil, false, 1. / 24, 1.5},
		{"beyond the sump, the roof is higher", 1.6, 3.05, 3, nil, false, 1. / 24, 1.5},
		{"beyond the sump, the roof is lower", 1.6, 3.05, 2.85, nil, true, 1. / 24, 1.5},
		{"on a side that is too high", 1, 3.05, 3, nil, false, 0.2, 1.5},
		{"of a section, no bound", 1.4, 3.05, 3, nil, true, 1. / 24, 0},
		{"a scupper", 1, 3.05, 3, func(_ *Designer, over *surface.Outlet) { over.Type = roof.Scupper }, false, 1. / 24, 1.5},
		{"a primary", 1, 3.05, 3, func(_ *Designer, over *surface.Outlet) { over.Duty = roof.Primary }, false, 1. / 24, 1.5},
		{"kept", 1, 3.05, 3, func(d *Designer, _ *surface.Outlet) { d.Steering.Keep = []string{"over"} }, false, 1. / 24, 1.5},
	} {
		d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 3 }, orb.Point{6, 5})
		most = d.Study.Criteria.OverflowMost()
		d.Roof.Outlets = append(slices.Clone(d.Roof.Outlets), roof.Outlet{Duty: roof.Overflow})
		over := surface.Outlet{Source: 1, Duty: roof.Overflow, Type: roof.Drain, Plan: orb.Point{6 + c.x, 1.5}, Invert: c.invert + most, Low: c.low + most, Label: "OVER"}
		d.Surface.Outlets = append(d.Surface.Outlets, over)
		if c.change != nil {
			c.change(d, &d.Surface.Outlets[1])
		}
		m := Mend{Inverts: map[int]float64{}}
		z := 2.9
		d.overflowsDown(&m, &Pond{Outlet: 0}, &d.Surface.Outlets[0], z, c.slope, 0.3, c.reach)
		got, down := m.Inverts[1]
		if down != c.want || down && !(math.Abs(got-z-most) <= 1e-9) || down != strings.Contains(m.Change.What.Format, "with OVER beside it down to") {
			t.Errorf("%s: %v at %g, %q", c.name, down, got, m.Change.What.Format)
		}
	}
}

// TestQuestionsOfASump: how thick the insulation is is asked where no core tells the deck, and whether the drain can be set down always.
func TestQuestionsOfASump(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 3 }, orb.Point{6, 5})
	o := &d.Surface.Outlets[0]
	if q := d.sumpQuestions(o); len(q) != 2 || q[0].Decides != finding.Roofer || q[1].Decides != finding.Plumber || q[1].Asked != roof.AskLower {
		t.Errorf("%+v", q)
	}
	d.Deck = func(p orb.Point) (float64, float64, bool) { return 0, 0, p == o.Plan }
	if q := d.sumpQuestions(o); len(q) != 1 || q[0].Asked != roof.AskLower || len(d.thickness(&Pond{}, o.Plan)) != 0 || len(d.thickness(&Pond{}, orb.Point{})) != 1 {
		t.Errorf("with a deck: %+v", q)
	}
	if ask := d.leaderFrom(orb.Point{6, 4.5}); len(ask.Args) != 2 || !(math.Abs(ask.Args[0].Value-3) <= 1e-9) {
		t.Errorf("%+v", ask)
	}
	d.Surface.Outlets[0].Duty = roof.Overflow
	if ask := d.leaderFrom(orb.Point{6, 4.5}); len(ask.Args) != 0 {
		t.Errorf("without a drain: %+v", ask)
	}
}

// TestRetaperRound: by hand: of low places 2 and 4 m off in the gauge, 50 and 90 mm down, planes of a slope s from the outlet reach the first at 2s and the second at 4s under their levels; the lower of both is the inlet, to a tenth of a millimetre.
func TestRetaperRound(t *testing.T) {
	d := flat(t, mendtest.Lies[0], func(_, _ float64) float64 { return 3 }, orb.Point{6, 5})
	s := math.Max(1.5*d.Study.Criteria.MinSlope, 1.45*d.Study.Criteria.MinValleySlope)
	p := &Pond{Outlet: 0, pits: []orb.Point{{8, 2.5}, {7, 5.5}}, lows: []float64{2.95, 2.91}}
	m, ok := d.retaper(p)
	want := math.Floor(1e4*(2.91-4*s)) / 1e4
	if !ok || m.Inverts[0] != want || m.Area != 64 || m.Kind != Retaper || !(math.Abs(m.Change.What.Args[0].Value-(3-want)) <= 1e-12) || m.Change.What.Args[2].Value != s {
		t.Errorf("%v, %+v, want %g", ok, m.Inverts, want)
	}
	p.lows[0] = 2.80
	if m, _ = d.retaper(p); m.Inverts[0] != math.Floor(1e4*(2.80-2*s))/1e4 {
		t.Errorf("%+v", m.Inverts)
	}
	a := taper.Alter(d.Domain, d.Base)
	m.Apply(a)
	if z, on := a.Design().Height(orb.Point{7, 1.5}); !on || !(math.Abs(z-m.Inverts[0]-s) <= 1e-6) {
		t.Errorf("a metre off it stands at %g, want %g", z, m.Inverts[0]+s)
	}
}

// TestRimOfASump: the highest place of the square round an outlet: on a plane that rises 2 % to the north, a metre out, 20 mm up; at its corners 30 mm where it rises 1 % to the east as well. What lies off the roof does not count.
func TestRimOfASump(t *testing.T) {
	for k, to := range mendtest.Lies {
		for _, c := range []struct {
			east, reach, want float64
		}{{0, 1, 0.02}, {0.01, 1, 0.03}, {0, 3, 0.06}} {
			d := flat(t, to, func(x, y float64) float64 { return 0.02*(y-1.5) + c.east*(x-6) }, orb.Point{6, 5})
			g := d.FourWay()
			if got := d.rim(&d.Surface.Outlets[0], &g, c.reach); !(math.Abs(got-c.want) <= 2e-5) {
				t.Errorf("laid %d, %g m off: %g, want %g", k, c.reach, got, c.want)
			}
		}
	}
}

// TestRingOfASump: half the bowl, or the scupper's width, and 6 in; 12 in where nobody stated it.
func TestRingOfASump(t *testing.T) {
	for _, c := range []struct {
		of   roof.Outlet
		want float64
	}{{roof.Outlet{Type: roof.Drain, Bowl: 0.4, Width: 9}, 0.2 + 0.1524}, {roof.Outlet{Type: roof.Scupper, Bowl: 9, Width: 0.3}, 0.15 + 0.1524}, {roof.Outlet{Type: roof.Drain}, 0.1524 + 0.1524}} {
		r := &roof.Roof{Outlets: []roof.Outlet{{}, c.of}}
		mendtest.About(t, "ring", RingOf(r, &surface.Outlet{Source: 1, Type: c.of.Type}), c.want)
	}
}

// TestRoofBetweenAPondAndASump: the roof on the way from a sump's rim to a pond's lowest place is level where it rises by no more than a film, half of what is a pond; a hump of 50 mm half way is on it where the rim lies before that. Whichever way that is.
func TestRoofBetweenAPondAndASump(t *testing.T) {
	for k, to := range mendtest.Lies {
		z := func(x, y float64) float64 {
			if x == 8 && y == 3 {
				return 3.05
			}
			return 3
		}
		var spots []orb.Point
		for x := 1.0; x < 12; x++ {
			for y := 2.0; y < 10; y++ {
				spots = append(spots, orb.Point{x, y})
			}
		}
		d := flat(t, to, z, spots...)
		film := d.Study.Criteria.PondDepth / 2
		for _, c := range []struct {
			pit  orb.Point
			low  float64
			part float64
			want bool
		}{
			{to(10, 4.5), 3, 0.2, false},
			{to(10, 4.5), 3, 0.45, false},
			{to(10, 4.5), 3, 0.76, true},
			{to(10, 4.5), 3.05 - film*0.9, 0.2, true},
			{to(2, 4.5), 3, 0.2, true},
			{to(2, 4.5), 3 - film*1.1, 0.2, false},
			{to(2, 4.5), 3 - film*0.9, 0.2, true},
			{to(20, 4.5), 3, 0.2, false},
		} {
			if got := d.levelTo(&Pond{Pit: c.pit, low: c.low}, &d.Surface.Outlets[0], c.part); got != c.want {
				t.Errorf("laid %d, %+v: %v", k, c, got)
			}
		}
	}
}

// TestSizeOfANewOutlet: as large as the largest primary one of its kind, with its leader and bowl; else a drain of 4 in with a bowl of 12, a scupper 8 in wide and 4 high. A width that was assumed is no measure.
func TestSizeOfANewOutlet(t *testing.T) {
	d := &Designer{Roof: &roof.Roof{}}
	p := &Pond{ID: "P7", index: 6}
	o := d.newOutlet(p, roof.Drain, orb.Point{1, 2})
	if o.Diameter != quantity.Length(standard.NewDrain) || o.Bowl != standard.Bowl || o.Width != 0 || o.Plan != (orb.Point{1, 2}) || o.Label != "new drain P7" || o.ID != "new-P7" || o.Origin.Line != 7 || !o.HasInvert || o.Type != roof.Drain {
		t.Errorf("%+v", o)
	}
	o = d.newOutlet(p, roof.Scupper, orb.Point{})
	if o.Width != standard.ScupperWidth || float64(o.OpeningHeight) != standard.NewScupperHeight || o.Diameter != 0 || o.Bowl != 0 || o.Label != "new scupper P7" {
		t.Errorf("%+v", o)
	}
	d.Roof.Outlets = []roof.Outlet{
		{Type: roof.Drain, Diameter: 0.15, Bowl: 0.4}, {Type: roof.Drain, Diameter: 0.12, Bowl: 0.9}, {Type: roof.Drain, Diameter: 0.3, Duty: roof.Overflow}, {Type: roof.Scupper, Width: 0.5, WidthAssumed: true}, {Type: roof.Scupper, Width: 0.3, OpeningHeight: 0.2}, {Type: roof.Scupper, Width: 0.25, OpeningHeight: 0.9},
	}
	if o = d.newOutlet(p, roof.Drain, orb.Point{}); o.Diameter != 0.15 || o.Bowl != 0.4 {
		t.Errorf("%+v", o)
	}
	if o = d.newOutlet(p, roof.Scupper, orb.Point{}); o.Width != 0.3 || o.OpeningHeight != 0.2 {
		t.Errorf("%+v", o)
	}
	// In whatever order they stand. Of two as large the one with the larger leader and bowl counts, or the higher opening; one no larger than the usual counts for nothing.
	slices.Reverse(d.Roof.Outlets)
	if o = d.newOutlet(p, roof.Scupper, orb.Point{}); o.Width != 0.3 || o.OpeningHeight != 0.2 {
		t.Errorf("the other way round: %+v", o)
	}
	slices.Reverse(d.Roof.Outlets)
	alike := &Designer{Roof: &roof.Roof{Outlets: []roof.Outlet{
		{Type: roof.Drain, Diameter: 0.15, Bowl: 0.9},
		{Type: roof.Drain, Diameter: 0.15, Bowl: 0.3, Leader: roof.Pipe{Diameter: 0.1}},
		{Type: roof.Drain, Diameter: 0.15, Bowl: 0.4, Leader: roof.Pipe{Diameter: 0.1}},
		{Type: roof.Scupper, Width: 0.3, OpeningHeight: 0.1},
		{Type: roof.Scupper, Width: 0.3, OpeningHeight: 0.2},
	}}}
	for range 2 {
		if o = alike.newOutlet(p, roof.Drain, orb.Point{}); o.Bowl != 0.4 || o.Leader.Diameter != 0.1 {
			t.Errorf("of two as large: %+v", o)
		}
		if o = alike.newOutlet(p, roof.Scupper, orb.Point{}); o.OpeningHeight != 0.2 {
			t.Errorf("of two as wide: %+v", o)
		}
		slices.Reverse(alike.Roof.Outlets)
	}
	usual := &Designer{Roof: &roof.Roof{Outlets: []roof.Outlet{{Type: roof.Drain, Diameter: quantity.Length(standard.NewDrain), Bowl: 0.9}, {Type: roof.Scupper, Width: standard.ScupperWidth, OpeningHeight: 0.9}}}}
	if o = usual.newOutlet(p, roof.Drain, orb.Point{}); o.Bowl != standard.Bowl {
		t.Errorf("the usual drain: %+v", o)
	}
	if o = usual.newOutlet(p, roof.Scupper, orb.Point{}); float64(o.OpeningHeight) != standard.NewScupperHeight {
		t.Errorf("the usual scupper: %+v", o)
	}
	d.Roof.Outlets[0].Bowl = 0
	if o = d.newOutlet(p, roof.Drain, orb.Point{}); o.Diameter != 0.15 || o.Bowl != standard.Bowl {
		t.Errorf("without a bowl: %+v", o)
	}
}

// TestWhereAParapetMayBeCut: on walls within reach of the lowest place, the nearest first: square to it, then 0.3 m to either side, at most twelve; none near corners, on walls under 4 ft or where a higher roof adjoins.
func TestWhereAParapetMayBeCut(t *testing.T) {
	for k, to := range mendtest.Lies {
		d := flat(t, to, falling, orb.Point{6, 5})
		got := d.parapets(&Pond{Pit: to(3, 0.5)}, 1.0)
		want := []orb.Point{to(3, 0), to(3.3, 0), to(2.7, 0), to(3.6, 0), to(2.4, 0)}
		if len(got) != len(want) {
			t.Errorf("laid %d: %d places, want %d", k, len(got), len(want))
			continue
		}
		for i, w := range want {
			if far := math.Hypot(got[i].plan[0]-w[0], got[i].plan[1]-w[1]); i == 0 && !(far <= 1e-9) {
				t.Errorf("laid %d: the first at %v, want %v", k, got[i].plan, w)
			}
			if !slices.ContainsFunc(got, func(p parapet) bool { return math.Hypot(p.plan[0]-w[0], p.plan[1]-w[1]) <= 1e-9 }) {
				t.Errorf("laid %d: none at %v", k, w)
			}
		}
		u := to(1, 0)
		if o := to(0, 0); !(math.Hypot(got[0].unit[0]-u[0]+o[0], got[0].unit[1]-u[1]+o[1]) <= 1e-9) {
			t.Errorf("laid %d: along %v", k, got[0].unit)
		}
		// Near a corner the places are pushed 2 ft along the wall, and the other wall is in reach as well.
		corner := d.parapets(&Pond{Pit: to(0.3, 0.3)}, 1.0)
		if len(corner) == 0 || !(math.Min(math.Hypot(corner[0].plan[0]-to(0.6096, 0)[0], corner[0].plan[1]-to(0.6096, 0)[1]), math.Hypot(corner[0].plan[0]-to(0, 0.6096)[0], corner[0].plan[1]-to(0, 0.6096)[1])) <= 1e-9) {
			t.Errorf("laid %d, in a corner: %+v", k, corner)
		}
		if len(corner) > mostPlaces {
			t.Errorf("laid %d: %d places", k, len(corner))
		}
		e := roof.Edge{AdjoiningHeight: 2, Line: []roof.Position{{Plan: to(2, 0)}, {Plan: to(3.5, 0)}}}
		d.Roof.Edges = []roof.Edge{e}
		for _, p := range d.parapets(&Pond{Pit: to(3, 0.5)}, 1.5) {
			if math.Hypot(p.plan[0]-to(3, 0)[0], p.plan[1]-to(3, 0)[1]) < 0.61 {
				t.Errorf("laid %d: at %v, where a roof adjoins", k, p.plan)
			}
		}
		d.Roof.Edges[0].AdjoiningHeight = 0
		if len(d.parapets(&Pond{Pit: to(3, 0.5)}, 1.0)) != len(want) {
			t.Errorf("laid %d: an edge that nothing adjoins counts", k)
		}
	}
	w := parapet{orb.Point{1, 2}, orb.Point{0.6, 0.8}}
	for i, want := range []orb.Point{{2.2, 3.6}, {-0.2, 0.4}, {2.8, 4.4}, {-0.8, -0.4}} {
		mendtest.SamePlace(t, "along the wall", w.along(2)[i], want)
	}
	d := flat(t, mendtest.Lies[0], falling, orb.Point{6, 5})
	if d.Roof.Outline.Rings = nil; d.parapets(&Pond{}, 9) != nil {
		t.Error("without an outline")
	}
}

// TestWhereAnOutletMayStand: 2 ft clear of curbs, other outlets and, a drain, of walls; a scupper 2 ft clear of corners alone; both 6 ft clear of open edges. A wide bowl counts with half of itself and a foot. However the roof lies.
func TestWhereAnOutletMayStand(t *testing.T) {
	for k, to := range mendtest.Lies {
		d := flat(t, to, falling, orb.Point{6, 5})
		ring := func(x0, y0, x1, y1 float64) (out []roof.Position) {
			for _, p := range [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}} {
				out = append(out, roof.Position{Plan: to(p[0], p[1])})
			}
			return out
		}
		d.Roof.Curbs = []roof.Curb{{Ring: ring(2, 6, 4, 8)}, {}}
		d.Roof.Outlets[0].Bowl = 0.3
		for _, c := range []struct {
			name           string
			x, y           float64
			drain, scupper bool
		}{
			{"in the field", 8, 5, true, true},
			{"0.62 m from a wall", 11.38, 5, true, true},
			{"0.6 m from a wall", 11.4, 5, false, true},
			{"on a wall", 12, 5, false, true},
			{"on a wall, 0.62 m from its corner", 12, 0.62, false, true},
			{"on a wall, 0.6 m from its corner", 12, 0.6, false, false},
			{"0.62 m from a curb", 4.62, 7, true, true},
			{"0.6 m from a curb", 4.6, 7, false, false},
			{"0.62 m from the drain", 6, 2.12, true, true},
			{"0.6 m from the drain", 6, 2.1, false, false},
		} {
			if a, b := d.clearFor(to(c.x, c.y), roof.Drain), d.clearFor(to(c.x, c.y), roof.Scupper); a != c.drain || b != c.scupper {
				t.Errorf("laid %d, %s: a drain %v, a scupper %v", k, c.name, a, b)
			}
		}
		d.Roof.Outlets[0].Bowl = 1 // half of it and a foot: 0.805 m
		for y, want := range map[float64]bool{1.5 + 0.80: false, 1.5 + 0.81: true} {
			if got := d.clearFor(to(6, y), roof.Drain); got != want {
				t.Errorf("laid %d, %g m from a drain with a bowl of 1 m: %v", k, y-1.5, got)
			}
		}
		d.Surface.Outlets = append(d.Surface.Outlets, surface.Outlet{Source: -1, Line: orb.LineString{to(0, 10), to(12, 10)}})
		for y, want := range map[float64]bool{10 - 1.83: true, 10 - 1.82: false} {
			if got := d.clearFor(to(9, y), roof.Scupper); got != want {
				t.Errorf("laid %d, %g m from an open edge: %v", k, 10-y, got)
			}
		}
		d.Surface.Outlets = d.Surface.Outlets[:1]
		d.Roof.Outline.Rings = append(d.Roof.Outline.Rings, ring(8, 6, 10, 8)) // a hole of the outline is a wall to scuppers too
		if d.clearFor(to(10.6, 7), roof.Scupper) || !d.clearFor(to(10.7, 7), roof.Scupper) {
			t.Errorf("laid %d: a scupper beside a hole", k)
		}
	}
	if closer(nil, orb.Point{}, 9) {
		t.Error("no line is close")
	}
}

// falling is a height that rises by 2 % to the north, from 0.
func falling(_, y float64) float64 { return 0.02 * y }
