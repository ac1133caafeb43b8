package correction

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/vector"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

func level3(float64, float64) float64 { return 3 }

// TestTapersInStock: boards up to 1/2 in per ft, in the order of the list; where there are none, the slope that is asked for. Two-way layouts have crickets of half or three quarters of the fields' taper where such boards are in stock too, along both axes; where water leaves over edges alone there are no crickets.
func TestTapersInStock(t *testing.T) {
	d := flat(t, lies[0], level3)
	for _, c := range []struct {
		rates, want []float64
		two         [2]int // layouts with crickets of a half, of three quarters
	}{
		{nil, []float64{d.slope}, [2]int{0, 0}},
		{[]float64{0.05}, []float64{d.slope}, [2]int{0, 0}},
		{[]float64{0.01, 0.02, 1.0 / 24, 0.05}, []float64{0.01, 0.02, 1.0 / 24}, [2]int{2, 0}},
		{[]float64{1.0/24 + 0.9e-9}, []float64{1.0/24 + 0.9e-9}, [2]int{0, 0}},
		{[]float64{1.0/24 + 1.1e-9}, []float64{d.slope}, [2]int{0, 0}},
		{[]float64{0.015, 0.02}, []float64{0.015, 0.02}, [2]int{0, 2}},
		{[]float64{0.01, 0.015, 0.02}, []float64{0.01, 0.015, 0.02}, [2]int{2, 2}},
	} {
		d.in.Rates = c.rates
		if got := d.tapers(); !slices.Equal(got, c.want) {
			t.Errorf("of %v: %v, want %v", c.rates, got, c.want)
		}
		list := d.layouts()
		if four := domain.FourWay(d.domain.Axis); !slices.Equal(list[0].gauge.Normals, four.Normals) || !slices.Equal(list[0].tapers, c.want) {
			t.Errorf("of %v the first is %+v", c.rates, list[0])
		}
		across := vector.Quarter(d.domain.Axis, 1)
		var two [2]int
		for _, l := range list[1:] {
			for k, ratio := range ratios {
				for _, axis := range []orb.Point{d.domain.Axis, across} {
					if g := domain.TwoWay(axis, ratio); slices.Equal(l.gauge.Normals, g.Normals) {
						two[k]++
						for _, r := range l.tapers {
							if !slices.ContainsFunc(c.rates, func(s float64) bool { return math.Abs(s-ratio*r) < 1e-9 }) {
								t.Errorf("of %v a cricket of %g of %g", c.rates, ratio, r)
							}
						}
						break
					}
				}
			}
		}
		if two != c.two || len(list) != 1+two[0]+two[1] {
			t.Errorf("of %v: %d layouts, %v with crickets, want %v", c.rates, len(list), two, c.two)
		}
	}
	d.sources[0].Line = orb.LineString{{0, 0}, {12, 0}}
	if list := d.layouts(); len(list) != 1 {
		t.Errorf("to an edge: %d layouts", len(list))
	}
}

// TestFallsOfNewWork, by hand: of 40 m2 that fall 2 % and 10 m2 that fall 1 % the mean is 1.8 %. Against a slope of 2 % asked, three quarters of it, 1.5 %, is the least of a plane: a fifth is flatter. What misses is the share over 5 % (25 % with crickets) and the mean under 98 %.
func TestFallsOfNewWork(t *testing.T) {
	d := &designer{slope: 0.02}
	f := d.fallsOver([]taper.Run{{Area: 40, Slope: 0.02}, {Area: 10, Slope: 0.01}})
	about(t, "mean", f.mean, 0.018)
	about(t, "flat", f.flat, 0.2)
	for s, want := range map[float64]float64{0.0151: 0, 0.0149: 1, 0.015: 0} {
		about(t, "one plane", d.fallsOver([]taper.Run{{Area: 3, Slope: s}}).flat, want)
	}
	if f := d.fallsOver(nil); f.mean != 0 || f.flat != 0 {
		t.Errorf("of nothing: %+v", f)
	}
	four, two := domain.FourWay(orb.Point{1, 0}), domain.TwoWay(orb.Point{1, 0}, 0.5)
	for _, c := range []struct {
		f    falls
		g    *domain.Gauge
		want float64
	}{
		{falls{mean: 0.02, flat: 0.05}, &four, 0},
		{falls{mean: 0.0196, flat: 0}, &four, 0},
		{falls{mean: 0.0186, flat: 0}, &four, 0.05},
		{falls{mean: 0.02, flat: 0.2}, &four, 0.15},
		{falls{mean: 0.0186, flat: 0.2}, &four, 0.2},
		{falls{mean: 0.02, flat: 0.2}, &two, 0},
		{falls{mean: 0.02, flat: 0.3}, &two, 0.05},
	} {
		about(t, "what misses", d.missing(c.f, c.g), c.want)
	}
}

// TestBoardsOnALevelRoof: on a level roof of 12 by 10 m, 2 % four ways to a drain at (6, 1.5) need the mean over the roof of 2 % of the greater of the distances along and across, and as much cut to measure as in boards: nothing is levelled. Without an outlet, and where boards in stock do not fall enough, words say so.
func TestBoardsOnALevelRoof(t *testing.T) {
	d := flat(t, lies[0], level3)
	mean, n := 0.0, 0
	for x := 0.025; x < 12; x += 0.05 {
		for y := 0.025; y < 10; y += 0.05 {
			mean, n = mean+math.Max(math.Abs(x-6), math.Abs(y-1.5)), n+1
		}
	}
	want := 120 * d.slope * mean / float64(n)
	list, err := d.tapered(d.base, 0, d.sources)
	if err != nil || len(list) != 1 || !list[0].Possible {
		t.Fatalf("%v, %+v", err, list)
	}
	o := &list[0]
	for name, got := range map[string]float64{"to measure": o.ToMeasure, "boards": o.Fill} {
		if !(math.Abs(got-want) <= 0.01*want) {
			t.Errorf("%s: %g m3, want %g", name, got, want)
		}
	}
	about(t, "slope", o.Slope, d.slope)
	if o.Study == nil || o.PondsLeft != 0 {
		t.Errorf("the roof is not read, or water stands: %+v", o.Why)
	}
	if list, err = d.tapered(d.base, 0, nil); err != nil || len(list) != 1 || list[0].Possible || list[0].Why.Format != noOutlet.Format {
		t.Errorf("without an outlet: %v, %+v", err, list)
	}
	// Of two rates the one that is asked for takes the least.
	d.in.Rates = []float64{d.slope, 1.5 * d.slope}
	if list, err = d.tapered(d.base, 0, d.sources); err != nil || len(list) != 1 || list[0].Slope != d.slope {
		t.Errorf("of two rates: %v, %+v", err, list)
	}
}

// TestSumpOfWholeBoards, by hand: a drain with a ring of 0.15 + 0.1524 m, whose roof lies level at 3 m. Set down by as much as a place beside it lies lower, over 2 ft and an edge strip of 1 ft its sides may rise by 1 in per ft: (0.9144 - 0.3024)/12 = 51 mm; over 4 ft and 1 ft it is 101.8 mm; deeper there is no sump. The sides are no flatter than 1/2 in per ft.
func TestSumpOfWholeBoards(t *testing.T) {
	d := flat(t, lies[0], level3)
	drain := d.s.Outlets[0].Plan
	for drop, want := range map[float64]float64{0.02: standard.SumpWidth, 0.05: standard.SumpWidth, 0.052: standard.SumpWidest, 0.1: standard.SumpWidest, 0.103: 0} {
		p := &pond{id: "P1", outlet: 0, low: 3 - drop, level: 3, pit: orb.Point{drain[0] + 0.2, drain[1]}}
		p.pits, p.lows = []orb.Point{p.pit}, []float64{p.low}
		m, ok := d.sump(p)
		if ok != (want > 0) || ok && m.sump != want {
			t.Errorf("down by %g m: %t, %g m wide, want %g", drop, ok, m.sump, want)
			continue
		}
		if !ok {
			continue
		}
		about(t, "area", m.area, want*want)
		for _, z := range m.inverts {
			about(t, "inlet", z, math.Floor((3-drop)*1e4)/1e4)
		}
		a := taper.Alter(d.domain, d.base)
		m.apply(a)
		design := a.Design()
		reach, ring := want/2+standard.SumpEdge, 0.15+standard.SumpRing
		side := math.Max(1.0/24, drop/(reach-ring))
		for _, off := range []float64{0, 0.2, ring, ring + 0.1, 0.7, reach - 0.01, reach + 0.05} {
			h, ok := design.Height(orb.Point{drain[0], drain[1] + off})
			if z := math.Min(3, 3-drop+side*math.Max(0, off-ring)); !ok || !(math.Abs(h-z) <= 2e-4) {
				t.Errorf("down by %g m, %g m off: %g, want %g", drop, off, h, z)
			}
		}
	}
}

// TestRowsOverACrest: beyond water that stands uphill of its lip the roof is read every 0.25 m across, the first row half of that in; from four rows on the line over which it spills is told. On a level roof it is even and in line.
func TestRowsOverACrest(t *testing.T) {
	for k, to := range lies {
		d := flat(t, to, level3)
		o, n := to(0, 0), to(0, 1)
		up := orb.Point{n[0] - o[0], n[1] - o[1]}
		for wide, want := range map[float64]bool{0.8: false, 0.86: false, 0.89: true, 1.2: true, 4: true} {
			p := &pond{lip: to(4, 4), place: orb.MultiPolygon{{{to(4, 4), to(4+wide, 4), to(4+wide, 6), to(4, 6), to(4, 4)}}}}
			if ring := p.place[0][0]; ring.Orientation() != orb.CCW {
				slices.Reverse(ring)
			}
			c, ok := d.crestOf(p, up)
			if ok != want {
				t.Errorf("laid %d, %g m wide: %t", k, wide, ok)
			}
			if ok && (c.rough > 1e-6 || !(math.Abs(c.z-3) <= 1e-5) || !(math.Abs(c.deep-2) <= 0.06)) {
				t.Errorf("laid %d, %g m wide: %+v", k, wide, c)
			}
		}
	}
}

// TestChannelsOfAPond: of three channels the first is the change's line, the others come after it; the longest and the flattest are told. One is told as one.
func TestChannelsOfAPond(t *testing.T) {
	d := flat(t, lies[0], level3)
	cuts := []channelCut{{orb.LineString{{0, 0}, {3, 4}}, 0.02}, {orb.LineString{{1, 0}, {1, 7}}, 0.01}, {orb.LineString{{2, 0}, {2, 1}}, 0.03}}
	p := &pond{id: "P1", outlet: 0}
	c := d.channelled(p, cuts)
	if !slices.Equal(c.Line, cuts[0].line) || c.At != (orb.Point{}) || len(c.More) != 2 || !slices.Equal(c.More[0], cuts[1].line) || !slices.Equal(c.More[1], cuts[2].line) {
		t.Errorf("%+v", c)
	}
	for i, want := range []float64{3, 7, 0.01, channelSide} {
		about(t, "said of three", c.What.Args[i].Value, want)
	}
	c = d.channelled(p, cuts[:1])
	if len(c.More) != 0 {
		t.Errorf("%+v", c)
	}
	for i, want := range []float64{5, 0.02, channelSide} {
		about(t, "said of one", c.What.Args[i].Value, want)
	}
}

// TestChannelsToALoweredDrain, by hand: a low place 2 m from a drain falls to it by 1.1 times the least of valleys: the drain goes down to 22.9 mm under that place, to a tenth of a millimetre, in a sump of 4 ft, and the channel runs from the place to where it enters that, 0.6096 m before the drain. It counts for more than any sump alone. No more than 2 in are taken off: what would go deeper is not cut. Two places have a channel each.
func TestChannelsToALoweredDrain(t *testing.T) {
	d := flat(t, lies[0], level3)
	o := &d.s.Outlets[0] // at (6, 1.5)
	least := fillRates[0] * d.in.Study.Criteria.MinValleySlope
	for _, c := range []struct {
		name string
		pits []orb.Point
		lows []float64
		cuts int
	}{
		{"one", []orb.Point{{6, 3.5}}, []float64{2.99}, 1},
		{"two", []orb.Point{{6, 3.5}, {8, 1.5}}, []float64{2.99, 2.991}, 2},
		{"nearly 2 in", []orb.Point{{6, 3.5}}, []float64{3 - 0.0507 + 2*least}, 1},
		{"more than 2 in", []orb.Point{{6, 3.5}}, []float64{3 - 0.0509 + 2*least}, 0},
		{"within the sump", []orb.Point{{6, 2}}, []float64{2.99}, 0},
	} {
		p := &pond{id: "P1", outlet: 0, pit: c.pits[0], low: c.lows[0], pits: c.pits, lows: c.lows, level: 3}
		m, ok := d.reached(p)
		if ok != (c.cuts > 0) {
			t.Errorf("%s: %t", c.name, ok)
		}
		if !ok {
			continue
		}
		z := math.Floor((c.lows[0]-2*least)*1e4) / 1e4
		for _, got := range m.inverts {
			about(t, "inlet", got, z)
		}
		about(t, "sump", m.sump, standard.SumpWidth)
		about(t, "counts for", m.area, standard.SumpWidest*standard.SumpWidest+1)
		samePlace(t, "begins", m.change.Line[0], c.pits[0])
		samePlace(t, "enters", m.change.Line[1], orb.Point{6, 1.5 + standard.SumpWidth/2})
		if len(m.change.More) != c.cuts-1 {
			t.Errorf("%s: %d channels more", c.name, len(m.change.More))
		}
		told := map[string]float64{}
		for _, q := range m.change.What.Args {
			told[q.Name] = q.Value
		}
		about(t, "long", told["length"], 2-standard.SumpWidth/2)
		about(t, "falls", told["fall"], (c.lows[0]-z)/2)
		a := taper.Alter(d.domain, d.base)
		m.apply(a)
		design := a.Design()
		for _, y := range []float64{1.6, 1.5 + 0.9, 3, 3.4} { // in the ring, on the sump's side and in the channel
			h, ok := design.Height(orb.Point{6, y})
			if want := math.Min(3, z+(c.lows[0]-z)*(y-1.5)/2); !ok || y > 1.9 && !(math.Abs(h-want) <= 2e-4) || y < 1.7 && !(math.Abs(h-z) <= 1e-6) {
				t.Errorf("%s: at y = %g it stands at %g, want %g", c.name, y, h, want)
			}
		}
	}
	p := &pond{id: "P1", outlet: 0, pit: orb.Point{6, 3.5}, low: 2.99, pits: []orb.Point{{6, 3.5}}, lows: []float64{2.99}, level: 3}
	o.Type = roof.Scupper
	if _, ok := d.reached(p); ok {
		t.Error("a scupper")
	}
	o.Type, p.outlet = roof.Drain, -1
	if _, ok := d.reached(p); ok {
		t.Error("no outlet")
	}
}

// TestOntoTheRoof: from a place on an edge the direction amid all that lead onto the roof leads there, 0.3 and 0.6 m on, within 15 degrees of square to a straight edge and of the middle of a corner; where none does it is east.
func TestOntoTheRoof(t *testing.T) {
	for k, to := range lies {
		d := flat(t, to, level3)
		for _, q := range []orb.Point{{0, 5}, {12, 5}, {6, 0}, {6, 10}, {0, 0}, {12, 10}} {
			p := to(q[0], q[1])
			u := d.inward(p)
			n, c := to((6-q[0])/math.Max(1, math.Abs(6-q[0])), (5-q[1])/math.Max(1, math.Abs(5-q[1]))), to(0, 0)
			if n = vector.Unit(vector.Minus(n, c)); !(vector.Dot(n, u) >= math.Cos(15.1*math.Pi/180)) {
				t.Errorf("laid %d: %v is askew from %v", k, u, q)
			}
			for _, off := range []float64{0.3, 0.6} {
				if _, ok := d.locate.HeightAt(p[0]+off*u[0], p[1]+off*u[1]); !ok {
					t.Errorf("laid %d: %v leads off the roof from %v", k, u, q)
				}
			}
		}
		if u := d.inward(to(-90, -90)); u != (orb.Point{1, 0}) {
			t.Errorf("laid %d: %v off the roof", k, u)
		}
	}
}

// TestRiseBeforeAnEdge: on a roof that falls 2 % to an edge the spots 1 and 2 m before it between x = 4 and 7 stand 30 mm over that plane, and one at x = 9 by 1.5 mm: the first come down onto the plane over 3 m of the edge, by 30 mm; that of 1.5 mm stays, and so does what stands 3 m before the edge. Where nothing stands over the plane nothing is lowered.
func TestRiseBeforeAnEdge(t *testing.T) {
	for k, to := range lies {
		raised := func(x, y float64) bool { return x >= 4 && x <= 7 && y <= 3 && (y == 1 || y == 2 || y == 3) }
		d := bumps(t, to, func(x, y float64) float64 {
			switch {
			case raised(x, y):
				return 0.02*y + 0.03
			case x == 9 && y == 1:
				return 0.02*y + 0.0015
			}
			return 0.02 * y
		})
		o, n := to(0, 0), to(0, 1)
		u := orb.Point{n[0] - o[0], n[1] - o[1]}
		plane := &slope.Plane{Gradient: [2]float64{0.02 * u[0], 0.02 * u[1]}, Offset: 3 - 0.02*(u[0]*o[0]+u[1]*o[1])}
		edge := orb.LineString{to(0, 0), to(12, 0)}
		set, long, high := d.trimmed(&pond{pit: to(5, 4)}, edge, plane)
		if len(set) != 7 { // four at 2 m, three at 1 m: at (6, 1) there is no spot
			t.Errorf("laid %d: %d spots come down", k, len(set))
		}
		for v, z := range set {
			if h := plane.At(orb.Point{d.s.TIN.X[v], d.s.TIN.Y[v]}); !(math.Abs(z-h) <= 1e-5) || !(math.Abs(d.s.TIN.Z[v]-z-0.03) <= 2e-5) {
				t.Errorf("laid %d: a spot at %g comes down to %g, the plane is at %g", k, d.s.TIN.Z[v], z, h)
			}
		}
		if !(math.Abs(long-3) <= 1e-4) || !(math.Abs(high-0.03) <= 1e-4) {
			t.Errorf("laid %d: over %g m, by %g m", k, long, high)
		}
		plane.Offset += 0.04
		if set, long, high := d.trimmed(&pond{pit: to(5, 4)}, edge, plane); set != nil || long != 0 || high != 0 {
			t.Errorf("laid %d: under the plane: %v, %g, %g", k, set, long, high)
		}
	}
}

// TestLayoutsAreDrawnOnce: a layout over the roof as found to its own outlets is drawn once for each gauge; one over another surface or to other outlets is drawn by itself.
func TestLayoutsAreDrawnOnce(t *testing.T) {
	d := designing(t, func(_, y float64) float64 { return 0.01 * y }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}})
	raised, other := d.base, slices.Clone(d.sources)
	raised.Z = slices.Clone(d.base.Z)
	other[0].Z -= 0.01
	turned := domain.FourWay(orb.Point{0.8, 0.6})
	for i, c := range []struct {
		p     *taper.Problem
		known int
	}{
		{d.problem(raised, d.sources, d.fourWay(), 0.02, 0), 0},
		{d.problem(d.base, other, d.fourWay(), 0.02, 0), 0},
		{d.problem(d.base, d.sources, d.fourWay(), 0.02, 0), 1},
		{d.problem(d.base, d.sources, d.fourWay(), 0.03, 0), 1},
		{d.problem(raised, d.sources, d.fourWay(), 0.02, 0), 1},
		{d.problem(d.base, other, d.fourWay(), 0.02, 0), 1},
		{d.problem(d.base, d.sources, turned, 0.02, 0), 2},
	} {
		if l, err := d.layings.lay(d, c.p); err != nil || l == nil || len(d.layings.known) != c.known {
			t.Errorf("%d: %v, %d layouts are kept, want %d", i, err, len(d.layings.known), c.known)
		}
	}
}

// TestFurtherMendsAreTold: an option with further mends tells these alone, each by its kind and its place, and asks what they ask.
func TestFurtherMendsAreTold(t *testing.T) {
	d := designing(t, func(_, y float64) float64 { return 0.02 * y }, []orb.Point{{0, 0}, {12, 0}, {12, 10}, {0, 10}})
	at := func(k Kind, x, y float64, name string) *mend {
		return &mend{kind: k, change: Change{Kind: k, At: orb.Point{x, y}, Brief: name, What: finding.Say(name)}, questions: []Question{{Where: name}}}
	}
	a, b, c := at(Fill, 3, 4, "a"), at(ReplacePatch, 3, 4, "b"), at(Fill, 9, 7, "c")
	for _, x := range []struct{ had, more []*mend }{{[]*mend{a, b}, []*mend{c}}, {[]*mend{a}, []*mend{b}}, {[]*mend{c}, []*mend{b, a}}} {
		got := d.added(&Option{mends: x.had}, x.more...)
		if len(got.Changes) != len(x.more) || len(got.questions) != len(x.more) || len(got.mends) != len(x.had)+len(x.more) {
			t.Errorf("%d changes and %d questions of %d", len(got.Changes), len(got.questions), len(x.more))
			continue
		}
		for i, m := range x.more {
			if got.Changes[i].Brief != m.change.Brief || got.questions[i].Where != m.change.Brief {
				t.Errorf("%s is told as %s and asked as %s", m.change.Brief, got.Changes[i].Brief, got.questions[i].Where)
			}
		}
	}
}
