package inspection

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/catchment"
	"runnel/analysis/cause"
	"runnel/analysis/drainage"
	"runnel/analysis/evidence"
	"runnel/analysis/finding"
	"runnel/analysis/flow"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/place"
	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// The rules here are asked one by one with what they read put in by hand.

// box is a level roof of 20 by 10 m with spots every 2 m, and its inspector.
func box(t *testing.T) *inspector {
	t.Helper()
	r := shape.New("box", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 10, 0), shape.At(0, 10, 0))
	shape.Grid(r, 0, 0, 20, 10, 10, 5, func(_, _ float64) float64 { return 0 })
	s := shape.Build(t, r)
	return &inspector{
		Results: &Results{Roof: r, Surface: s, Criteria: standard.Defaults(), Ponds: &ponding.Ponds{}, Slopes: &slope.Slopes{}},
		locate:  surface.NewLocator(s.TIN),
	}
}

// What is worse comes first: the deck, the opening, no way out, outlets blocked, outlets that take half at most, ponds, the rest, and last what is only to be looked at.
func TestRanks(t *testing.T) {
	flows := func(comes, takes float64) []finding.Quantity {
		return []finding.Quantity{finding.Discharge(flowComes, comes), finding.Discharge(flowTaken, takes)}
	}
	r := &Results{
		Ponds: &ponding.Ponds{Ponds: []ponding.Pond{{Depth: 0.05}, {Depth: 0.09}}}, Listed: []Listed{{Pond: 0}},
		Load: &rainload.Load{Depth: 0.06}, Drainage: &drainage.Drainage{Overflow: 1e-5},
	}
	for i, c := range []struct {
		f    finding.Finding
		want int
	}{
		{finding.Finding{Kind: finding.DeckSoft, Pond: 3}, rankStructure},
		{finding.Finding{Kind: finding.LoadOverLimit, Pond: -1}, rankStructure},
		{finding.Finding{Kind: finding.SillLow, Pond: -1}, rankEntry},
		{finding.Finding{Kind: finding.NoWayOut, Pond: 0}, rankNoWayOut},
		{finding.Finding{Kind: finding.OverflowHigh, Pond: -1}, rankBlocked},
		{finding.Finding{Kind: finding.OutletSmall, Pond: -1, Measured: flows(0.010, 0.005)}, rankHalf},
		{finding.Finding{Kind: finding.OutletSmall, Pond: -1, Measured: flows(0.010, 0)}, rankHalf},
		{finding.Finding{Kind: finding.OutletSmall, Pond: -1, Measured: flows(0.010, 0.0051)}, rankOther},
		{finding.Finding{Kind: finding.OutletSmall, Pond: -1, Measured: flows(0, 0)}, rankOther},
		{finding.Finding{Kind: finding.OutletSmall, Pond: -1, Measured: flows(0.010, 0.005)[:1]}, rankOther},
		{finding.Finding{Kind: finding.OutletHigh, Pond: -1}, rankHalf},
		{finding.Finding{Kind: finding.OutletHigh, Pond: 0}, rankPond},
		{finding.Finding{Kind: finding.RimBelowSpot, Pond: -1, Confidence: finding.NotResolved}, rankHalf},
		{finding.Finding{Kind: finding.RimBelowSpot, Pond: -1, Confidence: finding.Likely}, rankOther},
		{finding.Finding{Kind: finding.Dish, Pond: 0}, rankPond},
		{finding.Finding{Kind: finding.PlaneFlat, Pond: -1}, rankOther},
		{finding.Finding{Kind: finding.WallFlat, Pond: -1}, rankLook},
	} {
		if got := r.Rank(&c.f); got != c.want {
			t.Errorf("%d, %s: rank %d, want %d", i, c.f.Kind, got, c.want)
		}
	}
	// An overflow set high is worse than ponds only where blocked outlets make the water deeper than any listed pond, under a stated rain.
	high := &finding.Finding{Kind: finding.OverflowHigh, Pond: -1}
	for name, change := range map[string]func(r *Results){
		"a pond as deep":     func(r *Results) { r.Load = &rainload.Load{Depth: 0.05} },
		"a deeper pond":      func(r *Results) { r.Listed = []Listed{{Pond: 0}, {Pond: 1}} },
		"no rain":            func(r *Results) { r.Drainage = &drainage.Drainage{} },
		"nobody asked":       func(r *Results) { r.Drainage = nil },
		"no load worked out": func(r *Results) { r.Load = nil },
	} {
		c := *r
		change(&c)
		if got := c.Rank(high); got != rankOther {
			t.Errorf("%s: rank %d, want %d", name, got, rankOther)
		}
	}
	sorted := []finding.Finding{
		{Kind: finding.WallFlat, Pond: -1, Severity: finding.Note, Size: 9},
		{Kind: finding.PlaneFlat, Pond: -1, Severity: finding.Repair, Size: 1},
		{Kind: finding.PlaneFlat, Pond: -1, Severity: finding.Repair, Size: 2},
		{Kind: finding.Dish, Pond: 0, Severity: finding.Repair, Size: 0.1},
		{Kind: finding.Dish, Pond: 0, Severity: finding.Urgent, Size: 0.01},
	}
	r.sortWorstFirst(sorted)
	for i, want := range []float64{0.01, 0.1, 2, 1, 9} {
		if sorted[i].Size != want {
			t.Errorf("place %d: size %g, want %g", i, sorted[i].Size, want)
		}
	}
}

// Where the water of a place leaves with every pond full: by the outlet that holds its pond, by the one that the pond spills to, by way of the ponds between, or nowhere.
func TestWaterLeavesBy(t *testing.T) {
	in := &inspector{Results: &Results{
		Flow: &flow.Network{Ends: []flow.End{{Outlet: 5, Pit: -1}, {Outlet: -1, Pit: 0}, {Outlet: -1, Pit: 1}, {Outlet: -1, Pit: 2}, {Outlet: -1, Pit: 3}, {Outlet: -1, Pit: 4}, {Outlet: 0, Pit: -1}}},
		Ponds: &ponding.Ponds{
			OfPit: []int32{0, 1, 2, -1, 3},
			Ponds: []ponding.Pond{
				{HeldBy: 0, ToOutlet: -1, ToPond: -1}, {HeldBy: -1, ToOutlet: 0, ToPond: -1}, {HeldBy: -1, ToOutlet: -1, ToPond: 4}, {HeldBy: -1, ToOutlet: -1, ToPond: -1}, {HeldBy: -1, ToOutlet: 7, ToPond: -1},
			},
		},
	}}
	for label, want := range []int{5, 0, 0, 7, -1, -1, 0} {
		if got := in.leavesBy(flow.Label(label)); got != want {
			t.Errorf("end %d leaves by %d, want %d", label, got, want)
		}
	}
}

// By hand: half way along a bent line of 3 + 4 + 5 m is 3 m up its second piece; a doubled point changes nothing.
func TestHalfWay(t *testing.T) {
	for _, c := range []struct {
		line orb.LineString
		want orb.Point
	}{
		{orb.LineString{{0, 0}, {3, 0}, {3, 4}, {8, 4}}, orb.Point{3, 3}},
		{orb.LineString{{0, 0}, {0, 0}, {3, 0}, {3, 4}, {3, 4}, {8, 4}}, orb.Point{3, 3}},
		{orb.LineString{{1, 2}, {5, 5}}, orb.Point{3, 3.5}},
		{orb.LineString{{0, 0}, {2, 0}, {2, 2}}, orb.Point{2, 0}},
		{orb.LineString{{4, 1}, {4, 1}}, orb.Point{4, 1}},
	} {
		if got := half(c.line); !(math.Hypot(got[0]-c.want[0], got[1]-c.want[1]) <= 1e-12) {
			t.Errorf("half way along %v: %v, want %v", c.line, got, c.want)
		}
	}
}

// Of a cricket's two edges the flatter one speaks, of two alike the first; both lengths count, and the strip holds both.
func TestEdgesOfACricketAreOneFinding(t *testing.T) {
	edge := func(slope, length float64, name string) finding.Finding {
		return finding.Finding{Where: finding.Say(name), Size: length, Measured: []finding.Quantity{finding.Fall("slope", slope)}}
	}
	line := orb.LineString{{0, 0}, {4, 0}, {8, 0}}
	for _, c := range []struct {
		first, second float64
		lead          string
		told          float64
	}{{0.004, 0.006, "first", 0.006}, {0.006, 0.004, "second", 0.006}, {0.005, 0.005, "first", 0.005}} {
		f := both(edge(c.first, 4, "first"), edge(c.second, 3, "second"), line)
		if f.Where.Format != c.lead || f.Size != 7 || len(f.Why.Args) != 1 || f.Why.Args[0].Value != c.told {
			t.Errorf("%g and %g: %q leads, size %g, the other falls %v", c.first, c.second, f.Where.Format, f.Size, f.Why.Args)
		}
		if b := f.Geometry.Bound(); b.Max[0] != 8 || b.Min[0] != 0 {
			t.Errorf("the strip covers %v", b)
		}
	}
}

// A line rests on what nobody measured where one of its ends does; not where it is a fold that was found, nor where nobody coded it and the planes themselves meet too flat.
func TestLineThatWasAssumed(t *testing.T) {
	in := box(t)
	tin := in.Surface.TIN
	tin.Assumed, tin.Found = make([]bool, len(tin.X)), make([]bool, len(tin.X))
	tin.Assumed[3], tin.Found[7] = true, true
	for i, c := range []struct {
		l    slope.Line
		want bool
	}{
		{slope.Line{Named: true, Vertices: []int32{1, 2, 4}}, false},
		{slope.Line{Named: true, Vertices: []int32{1, 3, 4}}, false},
		{slope.Line{Named: true, Vertices: []int32{3, 2, 4}}, true},
		{slope.Line{Named: true, Vertices: []int32{1, 2, 3}}, true},
		{slope.Line{Named: true, Vertices: []int32{3, 7, 4}}, false},
		{slope.Line{Vertices: []int32{1, 2, 3}}, true},
		{slope.Line{Met: true, Vertices: []int32{1, 2, 3}}, false},
		{slope.Line{Named: true, Met: true, Vertices: []int32{1, 2, 3}}, true},
	} {
		if got := in.assumedLine(&c.l); got != c.want {
			t.Errorf("%d: %t, want %t", i, got, c.want)
		}
	}
}

// Low places of a shape are told by their number; what they hold is added to the finding, and none adds only that there is none.
func TestLowPlacesAreTold(t *testing.T) {
	in := box(t)
	for count, want := range map[int]string{0: "no low place", 1: "one low place, 0.03 deep", 4: "4 low places, the deepest 0.03 deep"} {
		low := &LowPlaces{Count: count, Depth: 0.03, Area: 5, Volume: 0.1}
		if said := spoken(low.Say()); !strings.Contains(said, want) {
			t.Errorf("%d: %q", count, said)
		}
		if count > 0 {
			continue
		}
		in.LowPlaces = low
		f := blank(finding.OutletsUnsurveyed, finding.Repair)
		in.tellLowPlaces(&f)
		if !strings.Contains(spoken(f.Why), want) || len(f.Measured) > 0 || f.Do.Format != "" {
			t.Errorf("%+v", f)
		}
	}
	in.LowPlaces = nil
	f := blank(finding.OutletsUnsurveyed, finding.Repair)
	if in.tellLowPlaces(&f); f.Why.Format != "" {
		t.Errorf("%+v", f)
	}
}

// A part of a roof without a way out is told where no listed pond says so: as large as it is, drawn where it is the largest.
func TestPartWithoutAWayOut(t *testing.T) {
	in := box(t)
	in.Roof.Outline.NoOutlets = true
	in.Places = place.New(in.Roof, in.Surface.TIN, nil)
	small, big := orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}}}, orb.Polygon{{{5, 5}, {8, 5}, {8, 7}, {5, 7}, {5, 5}}}
	in.Catchments = &catchment.Catchments{Undrained: 7, Undrawn: orb.MultiPolygon{small, big}}
	in.Ponds.Ponds = []ponding.Pond{{Depth: 0.01}, {Depth: 0.02, Undrained: true}}
	in.Listed = []Listed{{Pond: 0}}
	f := in.noWayOut()
	if len(f) != 1 || f[0].Size != 7 || f[0].Severity != finding.Urgent || f[0].Decides != finding.Engineer || f[0].Geometry.Bound() != big.Bound() {
		t.Fatalf("%+v", f)
	}
	if where := spoken(f[0].Where); where != spoken(in.Places.Of(orb.Point{0, 0})) {
		t.Errorf("it lies %q", where)
	}
	for _, drawn := range []orb.MultiPolygon{nil, {{}}} { // nothing that could be drawn
		in.Catchments.Undrawn = drawn
		if f := in.noWayOut(); len(f) != 1 || f[0].Size != 7 || f[0].Geometry != orb.Geometry(orb.Point{}) {
			t.Errorf("drawn as %v: %+v", drawn, f)
		}
	}
	in.Listed = append(in.Listed, Listed{Pond: 1})
	if f := in.noWayOut(); len(f) != 0 {
		t.Errorf("said twice: %+v", f)
	}
	in.Listed = nil
	in.Roof.Outline.NoOutlets = false
	if f := in.noWayOut(); len(f) != 1 || f[0].Kind != finding.OutletsUnsurveyed || f[0].Size != in.Surface.Area || f[0].Measured[0].Value != 0 || f[0].Measured[1].Value != in.Surface.Area {
		t.Errorf("nobody looked: %+v", f)
	}
	in.Catchments.Undrained = 0
	if f := in.noWayOut(); len(f) != 0 {
		t.Errorf("all is drained: %+v", f)
	}
}

// By hand: a stain of 4 by 2 m at (2, 1) lies half over pond 0, which ends at x = 4, and a quarter over pond 1, from x = 5 on: 75 % of it is under water, most of it under pond 0.
// Where only a quarter is under water less than half is under water, the survey does not show it.
func TestShareOfAStainUnderWater(t *testing.T) {
	quad := func(x0, y0, x1, y1 float64) orb.Polygon {
		return orb.Polygon{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}, {x0, y0}}}
	}
	in := &inspector{Results: &Results{}}
	stain := quad(2, 1, 6, 3)[0]
	ponds := []orb.MultiPolygon{{quad(0, 0, 4, 9)}, {quad(5, 0, 9, 9)}, {quad(20, 0, 30, 9)}}
	seen := make([]bool, 3)
	share, most := in.overlap(stain, ponds, seen)
	if !(math.Abs(share-0.75) <= 1e-9) || most != 0 || !seen[0] || !seen[1] || seen[2] {
		t.Errorf("%g of it under water, most under %d, seen %v", share, most, seen)
	}
	if share, most = in.overlap(stain, []orb.MultiPolygon{{quad(30, 0, 31, 9)}, {quad(5, 0, 9, 9)}}, make([]bool, 2)); !(math.Abs(share-0.25) <= 1e-9) || most != 1 {
		t.Errorf("%g of it under water, most under %d", share, most)
	}
	// A triangle: half of its box.
	if share, most = in.overlap(orb.Ring{{0, 0}, {4, 0}, {0, 4}, {0, 0}}, []orb.MultiPolygon{{quad(0, 0, 9, 2)}}, make([]bool, 1)); !(math.Abs(share-0.75) <= 0.02) || most != 0 {
		t.Errorf("of a triangle of 8 m2, 6 m2 of it under water: %g", share)
	}
	if share, most = in.overlap(stain, nil, nil); share != 0 || most != -1 {
		t.Errorf("without ponds %g, %d", share, most)
	}
}

// The size of a stain, its middle and its ring are those that were chalked; depths that differ by more than 10 mm are told.
func TestStainOfAnotherDepth(t *testing.T) {
	in := box(t)
	in.Places = place.New(in.Roof, in.Surface.TIN, nil)
	in.Ponds.Ponds = []ponding.Pond{{Depth: 0.020}}
	under := []orb.MultiPolygon{{{{{0, 0}, {20, 0}, {20, 10}, {0, 10}, {0, 0}}}}}
	stain := func(depth float64) *roof.Stain {
		s := &roof.Stain{}
		for _, p := range [][2]float64{{4, 2}, {4, 5}, {8, 5}, {8, 2}, {4, 2}} { // clockwise
			s.Ring = append(s.Ring, shape.Bare(p[0], p[1]))
		}
		s.Depth = quantity.Length(depth)
		return s
	}
	for _, c := range []struct {
		depth float64
		told  bool
	}{{0, false}, {0.021, false}, {0.019, false}, {0.0301, true}, {0.0299, false}, {0.0099, true}} {
		f, told := in.stain(stain(c.depth), under, make([]bool, 1))
		if told != c.told {
			t.Errorf("%g m deep: told %t", c.depth, told)
		}
		if told && (f.Size != 12 || f.Pond != -1 || f.Measured[2].Value != c.depth || f.Measured[3].Value != 0.020) {
			t.Errorf("%+v", f)
		}
	}
	f, told := in.stain(stain(0.02), []orb.MultiPolygon{{{{{30, 0}, {40, 0}, {40, 10}, {30, 10}, {30, 0}}}}}, make([]bool, 1))
	if !told || f.Size != 12 || f.Measured[1].Value != 0 {
		t.Errorf("on dry roof: %+v", f)
	}
	in.Surface.Spacing = 2.5
	s := stain(0)
	s.ID = "S1"
	if g := in.tooCoarse(s); g.Size != 12 || g.Measured[1].Value != 2.5 || spoken(g.What) != "The spots alone do not show the water that was chalked as S1." {
		t.Errorf("%+v", g)
	}
}

// How sure a pond's cause is: not resolved where error alone makes the pond or nobody measured its lip; likely where somebody saw it, where its place hangs on how the surface runs, where its leading cause scores under a half, or where the next scores over four
// fifths of it.
func TestConfidenceInACause(t *testing.T) {
	causes := func(scores ...float64) (out []cause.Candidate) {
		for _, s := range scores {
			out = append(out, cause.Candidate{Kind: finding.Dish, Score: s})
		}
		return out
	}
	in := &inspector{Results: &Results{Evidence: &evidence.Result{Ponds: []evidence.Verdict{{Shown: true}, {}}}}}
	for i, c := range []struct {
		l    Listed
		d    cause.Diagnosis
		want finding.Confidence
	}{
		{Listed{Pond: 0}, cause.Diagnosis{Causes: causes(0.9)}, finding.Shown},
		{Listed{Pond: 0}, cause.Diagnosis{Causes: causes(0.5)}, finding.Shown},
		{Listed{Pond: 0}, cause.Diagnosis{Causes: causes(0.49)}, finding.Likely},
		{Listed{Pond: 0}, cause.Diagnosis{Causes: causes(0.9, 0.71)}, finding.Shown},
		{Listed{Pond: 0}, cause.Diagnosis{Causes: causes(0.9, 0.73)}, finding.Likely},
		{Listed{Pond: 0}, cause.Diagnosis{Causes: causes(0.9), Uncertain: true}, finding.Likely},
		{Listed{Pond: 0}, cause.Diagnosis{Causes: causes(0.9), LipAssumed: true}, finding.NotResolved},
		{Listed{Pond: 1}, cause.Diagnosis{Causes: causes(0.9)}, finding.NotResolved},
		{Listed{Pond: 1, Seen: true}, cause.Diagnosis{Causes: causes(0.9), LipAssumed: true}, finding.Likely},
		{Listed{Pond: 0, Seen: true}, cause.Diagnosis{Causes: causes(0.9), LipAssumed: true}, finding.NotResolved},
	} {
		if got := in.confidence(&c.l, &c.d); got != c.want {
			t.Errorf("%d: %s, want %s", i, got, c.want)
		}
	}
}

// A pond that is held by an outlet's inlet, or by the roof at it, rests on a guess where nobody measured the inlet, the lip or any place of its footprint.
func TestHeldByAGuess(t *testing.T) {
	in := box(t)
	in.Surface.Outlets = []surface.Outlet{{Vertices: []int32{1, 2}, InvertAssumed: true}, {Vertices: []int32{1, 2}}, {Vertices: []int32{1, 3}, InvertAssumed: true}}
	guess := make([]bool, len(in.Surface.Cut.X))
	guess[1], guess[2], guess[4] = true, true, true
	in.Surface.Cut.Assumed = guess
	for i, c := range []struct {
		p    ponding.Pond
		want bool
	}{
		{ponding.Pond{HeldBy: 0, ToOutlet: -1, Lip: -1}, true},
		{ponding.Pond{HeldBy: -1, ToOutlet: 0, Lip: -1}, true},
		{ponding.Pond{HeldBy: -1, ToOutlet: 0, Lip: 4}, true},
		{ponding.Pond{HeldBy: -1, ToOutlet: 0, Lip: 3}, false},
		{ponding.Pond{HeldBy: -1, ToOutlet: 0, Lip: 0}, false},
		{ponding.Pond{HeldBy: 1, ToOutlet: 0, Lip: -1}, false},
		{ponding.Pond{HeldBy: 2, ToOutlet: -1, Lip: -1}, false},
		{ponding.Pond{HeldBy: -1, ToOutlet: -1, Lip: 4}, false},
	} {
		if got := in.heldByGuess(&c.p); got != c.want {
			t.Errorf("%d: %t, want %t", i, got, c.want)
		}
	}
}

// A pond lies near an outlet where all of its outline lies within 2 ft (610 mm) of a place of the footprint, here the spot at (4, 4).
func TestAllWithinTwoFeet(t *testing.T) {
	in := box(t)
	at := int32(-1)
	for v := range in.Surface.Cut.X {
		if in.Surface.Cut.X[v] == 4 && in.Surface.Cut.Y[v] == 4 {
			at = int32(v)
		}
	}
	in.Surface.Outlets = []surface.Outlet{{Vertices: []int32{at}}}
	for x, want := range map[float64]bool{4.6: true, 4.62: false} {
		if got := in.within(0, ponding.Outline{{{{3.8, 4}, {x, 4}, {4, 4.3}, {3.8, 4}}}}); got != want {
			t.Errorf("as far as %g m: %t", x, got)
		}
	}
	if in.within(0, ponding.Outline{{{{3.8, 4}, {4.1, 4}, {4, 4.3}, {3.8, 4}}}, {{{8, 4}, {8.1, 4}, {8, 4.3}, {8, 4}}}}) {
		t.Error("a second part lies 4 m off")
	}
}

// Planes that are not shown to be as steep as a limit, by two standard errors of the greater kind, count by their areas; a hundredth of a per cent is rounding.
func TestFlatterThan(t *testing.T) {
	in := box(t)
	in.Slopes.Planes = []slope.Plane{
		{Area: 1, Slope: 0.0200},
		{Area: 2, Slope: 0.01995},
		{Area: 4, Slope: 0.0198},
		{Area: 8, Slope: 0.024, Sigma: 0.001, ResidualSigma: 0.0005},
		{Area: 16, Slope: 0.0215, Sigma: 0.001, ResidualSigma: 0.0005},
		{Area: 32, Slope: 0.0215, Sigma: 0.0005, ResidualSigma: 0.001},
	}
	if got := in.flatterThan(0.02); got != 4+16+32 {
		t.Errorf("%g m2, want 52", got)
	}
	in.Surface.Outlets = nil
	f := blank(finding.BaySusceptible, finding.Note)
	if got := in.besideEdges(&f); got != 0 || f.Source != "" {
		t.Errorf("without an open edge %g m2, %q", got, f.Source)
	}
}

// Water stands deep over a place in a case where its level is more than 2 in (50.8 mm) above it.
func TestDeepInACase(t *testing.T) {
	in := box(t)
	n := len(in.Surface.Cut.X)
	level := make([]float64, n)
	in.Cases = []Case{{Level: make([]float64, n)}, {Level: level}}
	for _, c := range []struct {
		depth float64
		want  bool
	}{{0, false}, {0.0507, false}, {0.0509, true}} {
		level[n-1] = in.Surface.Cut.Z[n-1] + c.depth
		if got := in.deep(); got != c.want {
			t.Errorf("%g m: %t", c.depth, got)
		}
	}
	// Deep water of a storm warns of itself though no pond is listed.
	if got := Cautions(in.Results); got[0] != DeepPond || len(got) != 9 {
		t.Errorf("cautions %v", got)
	}
	in.Cases = nil
	if got := Cautions(in.Results); got[0] != Height || len(got) != 7 {
		t.Errorf("cautions %v", got)
	}
}

// Errors are summed up by the root mean square of those that were stated; an outlet stands high by more than 1.960 root 2 = 2.772 typical errors of a level.
func TestErrorsOfLevels(t *testing.T) {
	in := box(t)
	sigma := make([]float64, len(in.Surface.TIN.X))
	in.Surface.TIN.Sigma = sigma
	if got := in.sigma(); got != 0 {
		t.Errorf("none stated: %g", got)
	}
	sigma[0], sigma[5] = 0.003, 0.004
	if got := in.sigma(); !(math.Abs(got-0.005/math.Sqrt2) <= 1e-12) {
		t.Errorf("of 3 and 4 mm: %g", got)
	}
	in.Errors = &evidence.Errors{Typical: 0.01, Source: evidence.Usual}
	for above, want := range map[float64]bool{0.0277: false, 0.0278: true} {
		if got := in.standsHigh(&surface.Outlet{Invert: 1 + above, Low: 1}); got != want {
			t.Errorf("%g m above the roof: %t", above, got)
		}
		if in.standsHigh(&surface.Outlet{Invert: 1 + above, Low: 1, InvertAssumed: true}) {
			t.Error("nobody measured it")
		}
	}
	s := SurveyOf(in.Results)
	if s.Sigma != 0.01 || s.SigmaStated || !s.SigmaUsual {
		t.Errorf("%+v", s)
	}
	in.Errors = nil
	if s := SurveyOf(in.Results); !(math.Abs(s.Sigma-0.005/math.Sqrt2) <= 1e-12) || !s.SigmaStated {
		t.Errorf("%+v", s)
	}
	in.Surface.TIN.Sigma = make([]float64, len(sigma))
	in.Slopes.Noise = 0.0021
	if s := SurveyOf(in.Results); s.Sigma != 0.0021 || s.SigmaStated {
		t.Errorf("%+v", s)
	}
}
