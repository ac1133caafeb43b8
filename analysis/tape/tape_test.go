package tape_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/finding"
	"runnel/analysis/hold"
	"runnel/analysis/inspection"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/tape"
)

const (
	foot  = 0.3048
	inch  = 0.0254
	pound = 0.45359237
	psf   = 47.88026
)

func at(x, y float64) orb.Point { return orb.Point{x * foot, y * foot} }

// shed is a walled roof of 120 by 60 ft with a drain and an overflow, and an oval pond of 12 by 6 ft with one depth of 0.75 in.
func shed() *roof.Roof {
	r := &roof.Roof{Name: "Shed", Units: quantity.Feet, Imperial: true, Tape: &roof.Tape{Placed: true, Walls: true}}
	r.Outline.Rings = [][]roof.Position{nil}
	for _, p := range []orb.Point{at(0, 0), at(120, 0), at(120, 60), at(0, 60), at(0, 0)} {
		r.Outline.Rings[0] = append(r.Outline.Rings[0], roof.Position{Plan: p})
	}
	r.Outlets = []roof.Outlet{
		{Label: "RD-1", Plan: at(40, 30), Type: roof.Drain},
		{Label: "OS-1", Plan: at(120, 20), Type: roof.Scupper, Duty: roof.Overflow},
	}
	w := roof.Water{Number: "1", HoursSinceRain: 50, Soundings: []roof.Sounding{{Plan: at(50, 30), Depth: quantity.Length(0.75 * inch)}}}
	w.ID = "P1"
	for i := range 12 {
		turn := 2 * math.Pi * float64(i) / 12
		w.Edge = append(w.Edge, roof.Position{Plan: at(50+6*math.Cos(turn), 30+3*math.Sin(turn))})
	}
	r.Tape.Waters = []roof.Water{w}
	return r
}

func of(r *roof.Roof) *tape.Survey { return tape.Of(r, standard.Defaults()) }

func close(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.4f, want %.4f", what, got, want)
	}
}

// By hand: 12 x 6 x pi/4 = 56.55 sq ft; x 0.0625 ft x 62.43 lb/cu ft = 220.6 lb as a pan, a third 73.5 lb as a cone, half 110 lb as a
// paraboloid; 0.75 in x 5.202 psf = 3.90 psf. The water's west end lies 50 - 6 - 40 = 4 ft from the drain.
func TestOnePondByTape(t *testing.T) {
	s := of(shed())
	if s.Tier != tape.A || len(s.Ponds) != 1 {
		t.Fatalf("tier %v, %d ponds", s.Tier, len(s.Ponds))
	}
	p := &s.Ponds[0]
	close(t, "area", p.Bowl.Area/foot/foot, 56.55, 0.1)
	close(t, "least weight", p.WeightLeast/pound, 73.5, 0.3)
	close(t, "most weight", p.WeightMost/pound, 220.6, 0.6)
	close(t, "likely weight", p.Weight/pound, 110.3, 1)
	close(t, "load", p.Load/psf, 3.90, 0.01)
	close(t, "to the drain", p.Distance/foot, 4, 0.01)
	close(t, "roof", s.Area/foot/foot, 7200, 1e-6)
	if got := s.Exits[p.Exit].Name; got != "RD-1" {
		t.Errorf("nearest is %s", got)
	}
	if f := s.Findings; len(f) != 1 || f[0].Kind != finding.LowPlace || f[0].Severity != finding.Repair || f[0].Confidence != finding.NotResolved {
		t.Errorf("findings %+v", f)
	}
	if s.KeepOff.Is() {
		t.Errorf("keep off: %+v", s.KeepOff)
	}
	var codes []string
	for _, n := range s.Next {
		codes = append(codes, n.Code)
	}
	if got, want := strings.Join(codes, ", "), "INLET RD-1, BEFORE RD-1, BEFORE RD-1, BEFORE RD-1, BEFORE RD-1, LOW 1, INLET OS-1"; got != want {
		t.Errorf("next: %s, want %s", got, want)
	}
	for i, feet := range []float64{1, 2, 4, 8} {
		close(t, "before the drain", s.Next[i+1].Plan[0]/foot, 40+feet, 1e-9)
	}
}

func TestDeepWaterKeepsPeopleOff(t *testing.T) {
	r := shed()
	r.Tape.Waters[0].Soundings[0].Depth = quantity.Length(2.125 * inch)
	s := of(r)
	if !s.KeepOff.Is() || s.KeepOff.Reasons[0].Hazard != inspection.DeepWaterSeen || s.Findings[0].Severity != finding.Urgent || s.Findings[0].Decides != finding.Engineer {
		t.Errorf("%+v, %+v", s.KeepOff, s.Findings)
	}
	if s.Cautions[0] != inspection.DeepPond {
		t.Errorf("cautions %v", s.Cautions)
	}
	r = shed()
	r.Tape.Waters[0].Note = "roof sags here"
	if s = of(r); !s.KeepOff.Is() || s.KeepOff.Reasons[0].Hazard != inspection.Overload {
		t.Errorf("a sag that was noted: %+v", s.KeepOff)
	}
	r = shed()
	r.Cores = []roof.Core{{Deck: "rusted steel"}}
	if s = of(r); !s.KeepOff.Is() || s.KeepOff.Reasons[0].Hazard != inspection.DoubtfulDeck {
		t.Errorf("a rusted deck: %+v", s.KeepOff)
	}
}

// read adds heights [in over 100 ft] as rods with a level give them.
func read(r *roof.Roof, low, inlet float64, before ...float64) {
	z := func(in float64) float64 { return 100*foot + in*inch }
	r.Outlets[0].Invert, r.Outlets[0].HasInvert = z(inlet), true
	r.Tape.Probes = append(r.Tape.Probes, roof.Probe{Kind: roof.LowProbe, Of: "1", Position: roof.Position{Plan: at(50, 30), Z: z(low), HasZ: true}})
	for i, b := range before {
		r.Tape.Probes = append(r.Tape.Probes, roof.Probe{Kind: roof.BeforeProbe, Of: "rd-1", Position: roof.Position{Plan: at(40+[]float64{1, 2, 4}[i], 30), Z: z(b), HasZ: true}})
	}
}

func TestAFewHeightsTellWhatHolds(t *testing.T) {
	for _, tt := range []struct {
		name       string
		low, inlet float64
		before     []float64
		verdict    hold.Verdict
		kind       finding.Kind
		depth      float64 // in
		decides    string
		off        bool
	}{
		{"inlet 1.25 in high", 0, 1.25, []float64{0.75, 0.5, 0.25}, hold.OutletHigh, finding.OutletHigh, 1.25, finding.Plumber, false},
		{"rise of 1.5 in", 0, -1, []float64{1.5, 0, 0}, hold.RiseBefore, finding.RiseBefore, 1.5, finding.Roofer, false},
		{"both", 0, 0.75, []float64{0, 1.5, 0}, hold.Both, finding.OutletHigh, 1.5, finding.Plumber, false},
		{"both, and deep", 0, 1.25, []float64{0, 2.75, 0}, hold.Both, finding.OutletHigh, 2.75, finding.Engineer, true},
		{"1.75 in may be over 2 in", 0, 1.75, []float64{0, 0, 0}, hold.OutletHigh, finding.OutletHigh, 1.75, finding.Engineer, true}, // 1.75 + 1.645 x 0.167 = 2.02
		{"within the error", 0, 0.3, []float64{0, 0, 0}, hold.NotResolved, finding.LowPlace, 0.3, finding.Roofer, false},
	} {
		r := shed()
		read(r, tt.low, tt.inlet, tt.before...)
		s := of(r)
		p := &s.Ponds[0]
		if s.Tier != tape.B || p.Holding.Verdict != tt.verdict {
			t.Errorf("%s: tier %v, verdict %d, want %d", tt.name, s.Tier, p.Holding.Verdict, tt.verdict)
		}
		close(t, tt.name+": depth when full", p.Holding.Depth.Value/inch, tt.depth, 1e-6)
		f := s.Findings[0]
		if f.Kind != tt.kind || f.Decides != tt.decides || s.KeepOff.Is() != tt.off {
			t.Errorf("%s: %s, decides the %s, keep off %v", tt.name, f.Kind, f.Decides, s.KeepOff.Is())
		}
		if text := s.Holds(p).Format; !strings.Contains(text, "The highest roof that was read before it") {
			t.Errorf("%s: %s", tt.name, text)
		}
		if tt.verdict != hold.NotResolved && !s.Grid() || tt.verdict == hold.NotResolved && s.Grid() {
			t.Errorf("%s: next %+v", tt.name, s.Next[0])
		}
	}
}

// A rise that is there for certain is named where only the outlet is in doubt, and the other way round.
func TestHalfAnAnswerIsSaid(t *testing.T) {
	for _, tt := range []struct {
		low, inlet, before float64 // in
		kind               finding.Kind
	}{{0, 0.3, 2, finding.RiseBefore}, {0, 1.25, 1.4, finding.OutletHigh}, {0, 0.3, 0.3, finding.LowPlace}} {
		r := shed()
		read(r, tt.low, tt.inlet, tt.before, 0, 0)
		s := of(r)
		f := &s.Findings[0]
		if s.Ponds[0].Holding.Verdict != hold.NotResolved || f.Kind != tt.kind || f.Confidence == finding.Shown {
			t.Errorf("%+v: verdict %d, %s, %s", tt, s.Ponds[0].Holding.Verdict, f.Kind, f.Confidence)
		}
	}
}

// Two readings of one place count as their mean, with an error of 3 mm over the root of two.
func TestReadingsOfOnePlaceAreAveraged(t *testing.T) {
	r := shed()
	read(r, 0, 1.25, 0, 0, 0)
	read(r, 0.5, 1.25, 0.5, 0.25, 0)
	for range 2 {
		r.Tape.Probes = append(r.Tape.Probes, roof.Probe{Kind: roof.InletProbe, Of: "RD-1", Position: roof.Position{Plan: at(40, 30), Z: 100*foot + 1.25*inch, HasZ: true}})
	}
	h := of(r).Ponds[0].Holding
	close(t, "inlet over the mean of the lowest place", h.Outlet.Value/inch, 1, 1e-6)
	close(t, "its error", h.Outlet.Sigma, 0.003, 1e-9) // both 3 mm / 1.414
	close(t, "rise over the inlet", h.Rise.Value/inch, 0.25-1.25, 1e-6)
}

// The level of the water less the deepest sounding stands for the lowest place: 100 ft + 0.75 in less 0.75 in.
func TestAWaterlineGivesTheLowestPlace(t *testing.T) {
	r := shed()
	read(r, 0, 1.25, 0, 0, 0)
	r.Tape.Probes = r.Tape.Probes[1:]
	for _, i := range []int{0, 3, 6, 9} {
		e := &r.Tape.Waters[0].Edge[i]
		e.Z, e.HasZ = 100*foot+0.75*inch, true
	}
	s := of(r)
	p := &s.Ponds[0]
	close(t, "inlet over the lowest place", p.Holding.Outlet.Value/inch, 1.25, 1e-6)
	// four heights of 3 mm have a mean good to 1.5 mm, a ruler 1.5875 mm, the inlet 3 mm
	close(t, "its error", p.Holding.Outlet.Sigma, math.Sqrt(1.5*1.5+1.5875*1.5875+3*3)/1000, 1e-9)
	if p.SpreadOver {
		t.Error("heights that agree are said to differ")
	}
	r.Tape.Waters[0].Edge[3].Z += 0.012 // up to 3 x 1.414 x 3 mm = 12.7 mm
	if s = of(r); s.Ponds[0].SpreadOver {
		t.Error("heights that errors set apart are said to differ")
	}
	r.Tape.Waters[0].Edge[3].Z += 0.001
	if s = of(r); !s.Ponds[0].SpreadOver {
		t.Error("heights that differ are not")
	}
}

// A water of known level gives its edge, its depth and, on twelve ways half-way and 0.8 of the way out, the bowl: of a paraboloid 3/4 and 0.36
// of the depth. The error of each is that of the level, a ruler and a part of the bowl's depth: a tenth with five soundings, else a quarter.
func TestWaterGivesHeights(t *testing.T) {
	w := shed().Tape.Waters[0]
	level := hold.Reading{Z: 50, Sigma: 0.003, Known: true}
	for _, tt := range []struct {
		soundings int
		part      float64
	}{{1, 0.25}, {5, 0.1}} {
		w.Soundings = w.Soundings[:1]
		for i := 1; i < tt.soundings; i++ { // beside the first, as a paraboloid has them
			x := 0.3 * float64(i)
			w.Soundings = append(w.Soundings, roof.Sounding{Plan: at(50+x, 30), Depth: quantity.Length(0.75 * inch * (1 - x*x/36))})
		}
		spots, bowl := tape.WaterSpots(&w, level)
		if bowl != 24 || len(spots) != 12+tt.soundings+24 {
			t.Fatalf("%d spots, %d of the bowl", len(spots), bowl)
		}
		close(t, "the edge", spots[0].Z, 50, 1e-12)
		close(t, "its error", float64(spots[0].Sigma), math.Sqrt(3*3+1.5875*1.5875)/1000, 1e-9)
		close(t, "the depth", spots[12].Z, 50-0.75*inch, 1e-12)
		half := spots[12+tt.soundings]
		depth := 50 - half.Z
		close(t, "half-way", depth/inch, 0.75*0.75, 0.01)
		close(t, "its error", float64(half.Sigma), math.Sqrt(0.003*0.003+0.0015875*0.0015875+tt.part*tt.part*depth*depth), 1e-9)
	}
}

// The bowl stands for the bottom on twelve ways to the edge, to all sides: by hand half-way and 0.8 of the way to the points of the oval.
func TestBowlStandsToAllSides(t *testing.T) {
	w := shed().Tape.Waters[0]
	spots, bowl := tape.WaterSpots(&w, hold.Reading{Z: 50, Sigma: 0.003, Known: true})
	spots = spots[len(spots)-bowl:]
	for i := range 12 {
		turn := 2 * math.Pi * float64(i) / 12
		for _, part := range []float64{0.5, 0.8} {
			want := at(50+part*6*math.Cos(turn), 30+part*3*math.Sin(turn))
			if !slices.ContainsFunc(spots, func(s roof.Spot) bool { return math.Hypot(s.Plan[0]-want[0], s.Plan[1]-want[1]) < 1e-6 }) {
				t.Errorf("no height at %g of the way to point %d of the edge", part, i+1)
			}
		}
	}
}

// By hand: six heights 10 mm over and under their mean scatter by the root of 6 x 100 / 5 = 10.95 mm; of six neighbours two are independent: 7.75 mm.
func TestLevelFromTheRoofRoundAWater(t *testing.T) {
	w := shed().Tape.Waters[0]
	w.Edge = w.Edge[:6]
	k := 0
	heights := func(orb.Point) (float64, bool) {
		k++
		return 50 + 0.01*float64(2*(k%2)-1), true
	}
	level := tape.LevelFrom(&w, heights)
	close(t, "level", level.Z, 50, 1e-12)
	close(t, "its error", level.Sigma, math.Sqrt(6*1e-4/5/2), 1e-12)
	w.Edge = w.Edge[:2]
	if tape.LevelFrom(&w, heights).Known {
		t.Error("two heights make a level")
	}
}

// Readings are complete where the lowest place, the inlet and the roof before it were read; an overflow that stands nearer, and before which the
// roof was read too, is not what the water should reach.
func TestWhichReadingsCount(t *testing.T) {
	r := shed()
	if of(r).Read() {
		t.Error("nothing was read")
	}
	read(r, 0, 0.3)
	if of(r).Read() {
		t.Error("the roof before the inlet was not read")
	}
	read(r, 0, 0.3, 0, 0, 0)
	if !of(r).Read() {
		t.Error("all was read")
	}
	r = shed()
	r.Outlets = append(r.Outlets, roof.Outlet{Label: "OD-1", Plan: at(46, 30), Type: roof.Drain, Duty: roof.Overflow})
	read(r, 0, 1.25, 0.75, 0.5, 0.25)
	for i := range r.Tape.Probes {
		if q := r.Tape.Probes[i]; q.Kind == roof.BeforeProbe {
			q.Of = "OD-1"
			r.Tape.Probes = append(r.Tape.Probes, q)
		}
	}
	s := of(r)
	if k := s.Ponds[0].HoldExit; k < 0 || s.Exits[k].Name != "RD-1" {
		t.Errorf("the water should reach exit %d of %+v", k, s.Exits)
	}
}

// Nobody is sent onto a roof with a doubtful deck for a grid of heights; where heights were read before, people have been there.
func TestNoGridOverADoubtfulDeck(t *testing.T) {
	r := shed()
	r.Tape.Waters = nil
	r.Cores = []roof.Core{{Deck: "rusted steel"}}
	if s := of(r); s.Tier != tape.A || !s.KeepOff.Is() || len(s.Next) != 0 {
		t.Errorf("tier %v, next %d", s.Tier, len(s.Next))
	}
	r.Spots = []roof.Spot{{Position: roof.Position{Plan: at(20, 20), Z: 10, HasZ: true}}}
	if s := of(r); s.Tier != tape.B || !s.Grid() {
		t.Errorf("tier %v, next %d", s.Tier, len(s.Next))
	}
}

// TestTiers: a height, one that was read for a pond, or an inlet is a few heights; eight that stand round half the roof are heights all over it.
func TestTiers(t *testing.T) {
	r := shed()
	r.Outlets = slices.Clone(r.Outlets)
	r.Tape.Probes = nil
	for i := range r.Outlets {
		r.Outlets[i].HasInvert = false
	}
	if got := tape.TierOf(r); got != tape.A {
		t.Errorf("no height: %v", got)
	}
	r.Tape.Probes = make([]roof.Probe, 1)
	if got := tape.TierOf(r); got != tape.B {
		t.Errorf("one that was read for a pond: %v", got)
	}
	r.Tape.Probes = nil
	r.Outlets[0].HasInvert = true
	if got := tape.TierOf(r); got != tape.B {
		t.Errorf("one inlet: %v", got)
	}
	r = shed()
	for i, p := range []orb.Point{at(1, 1), at(110, 1), at(110, 50), at(1, 50), at(20, 20), at(50, 20), at(80, 20), at(60, 40)} {
		if got := tape.TierOf(r); i > 0 && got != tape.B {
			t.Errorf("%d heights: %v", i, got)
		}
		r.Spots = append(r.Spots, roof.Spot{Position: roof.Position{Plan: p, Z: 10, HasZ: true}})
	}
	if got := tape.TierOf(r); got != tape.C { // by hand: 109 x 49 of 7200 sq ft
		t.Errorf("eight heights round 74 %% of the roof: %v", got)
	}
	for i := range r.Spots {
		r.Spots[i].Plan[1] *= 0.75
	}
	if got := tape.TierOf(r); got != tape.C {
		t.Errorf("round 56 %%: %v", got)
	}
	for i := range r.Spots {
		r.Spots[i].Plan[1] *= 0.6666
	}
	if got := tape.TierOf(r); got != tape.B {
		t.Errorf("round 37 %%: %v", got)
	}
	r.Tape.Placed = false
	if got := tape.TierOf(r); got != tape.C {
		t.Errorf("places by coordinates: %v", got)
	}
	if got := tape.TierOf(&roof.Roof{}); got != tape.C {
		t.Errorf("no tape: %v", got)
	}
}

func TestWhatIsMissingIsAskedFor(t *testing.T) {
	r := shed()
	r.Outlets = r.Outlets[:1]
	r.Outline.EdgeAssumed = true
	if s := of(r); s.Findings[0].Kind == finding.NoOverflow {
		t.Error("walls that nobody stated make a finding")
	}
	r.Outline.EdgeAssumed = false
	if s := of(r); s.Findings[0].Kind != finding.NoOverflow || s.Findings[0].Severity != finding.Urgent {
		t.Errorf("%+v", s.Findings)
	}
	r.Edges = []roof.Edge{{Type: roof.Gutter, Line: []roof.Position{{Plan: at(0, 60)}, {Plan: at(120, 60)}}}}
	if s := of(r); len(s.Findings) != 1 {
		t.Errorf("with a gutter: %+v", s.Findings)
	}
	r.Outlets, r.Edges = nil, nil
	if s := of(r); len(s.Findings) != 2 || s.Findings[1].Kind != finding.OutletsUnsurveyed || s.Ponds[0].Exit != -1 {
		t.Errorf("%+v", s.Findings)
	}
}

func TestWaterBehindBlockedOutletsIsANote(t *testing.T) {
	r := shed()
	r.Tape.Waters[0].Outlets = roof.OutletsBlocked
	if f := of(r).Findings[0]; f.Severity != finding.Note || !strings.Contains(f.Do.Format, "Clear the outlets") {
		t.Errorf("%+v", f)
	}
}

func TestWaterSeenSoonAfterRainIsANote(t *testing.T) {
	for _, tt := range []struct {
		hours    float64
		severity finding.Severity
	}{{0, finding.Note}, {47, finding.Note}, {48, finding.Repair}, {-1, finding.Repair}} {
		r := shed()
		r.Tape.Waters[0].HoursSinceRain = tt.hours
		if f := of(r).Findings[0]; f.Severity != tt.severity {
			t.Errorf("%g hours: %v", tt.hours, f.Severity)
		}
	}
}

// A gap of 1/2 in under a level of 4 ft: 0.5/48; a ruler's 1/16 in and the level's 0.5 mm in a metre over 4 ft.
func TestSlopesByLevel(t *testing.T) {
	r := shed()
	r.Tape.Gaps = []roof.Gap{{Plan: at(10, 10), Level: 4 * quantity.Foot, Gap: quantity.Inch / 2, Toward: [2]float64{1, 0}}}
	s := of(r).Slopes[0]
	close(t, "slope", s.Slope, 0.5/48, 1e-12)
	close(t, "error", s.Error, math.Sqrt(1.5875*1.5875+0.6096*0.6096)/1219.2, 1e-9)
}

// On an L the grid keeps off what is cut away and off curbs. By hand: 13 by 7 places on 120 by 60 ft; of the 80 by 10 ft cut away at the
// north-west those at y = 51 and 59 ft and x under 80 ft go: 8 of 13 twice; a curb of 4 ft square round (61, 31) takes one.
func TestTheGridKeepsToTheRoof(t *testing.T) {
	r := shed()
	r.Outline.Rings[0] = nil
	for _, p := range []orb.Point{at(0, 0), at(120, 0), at(120, 60), at(80, 60), at(80, 50), at(0, 50), at(0, 0)} {
		r.Outline.Rings[0] = append(r.Outline.Rings[0], roof.Position{Plan: p})
	}
	curb := roof.Curb{}
	for _, p := range []orb.Point{at(59, 29), at(63, 29), at(63, 33), at(59, 33), at(59, 29)} {
		curb.Ring = append(curb.Ring, roof.Position{Plan: p})
	}
	r.Curbs = []roof.Curb{curb}
	read(r, 0, 1.25, 0, 0, 0)
	s := of(r)
	if len(s.Next) != 13*7-2*8-1 {
		t.Errorf("%d spots", len(s.Next))
	}
	for i, n := range s.Next {
		if want := "the grid, spot " + strconv.Itoa(i+1); n.For.Fill(func(q finding.Quantity) string { return q.Word }) != want {
			t.Errorf("spot %d is for %v, want %s", i+1, n.For, want)
		}
	}
	close(t, "area", s.Area/foot/foot, 7200-800-16, 1e-6)
	if got := s.Where(at(90, 55)).Fill(func(q finding.Quantity) string { return q.Word }); !strings.Contains(got, "wall 4") {
		t.Errorf("two walls face west, and a place is called %q", got)
	}
}

// A water's level is its one height on the edge, or the mean of all, which is better by the root of their number; without any nobody knows it.
func TestLevelOfHeightsOnTheEdge(t *testing.T) {
	w := roof.Water{Edge: make([]roof.Position, 6)}
	if level, _ := tape.LevelOf(&w, 0.003); level.Known {
		t.Errorf("no height: %+v", level)
	}
	w.Edge[2].Z, w.Edge[2].HasZ = 7.5, true
	level, spread := tape.LevelOf(&w, 0.003)
	if !level.Known || level.Z != 7.5 || level.Sigma != 0.003 || spread != 0 {
		t.Errorf("one height: %+v, %g apart", level, spread)
	}
	for i, z := range []float64{7.51, 7.53, 7.46} {
		w.Edge[3*i%5].Z, w.Edge[3*i%5].HasZ = z, true
	}
	level, spread = tape.LevelOf(&w, 0.003)
	close(t, "mean of four", level.Z, 7.5, 1e-12)
	close(t, "its error", level.Sigma, 0.0015, 1e-12)
	close(t, "they lie apart", spread, 0.07, 1e-12)
	w.Level, w.HasLevel = 9, true
	if level, spread = tape.LevelOf(&w, 0.003); level.Z != 9 || spread != 0 {
		t.Errorf("as stated: %+v", level)
	}
}

// Heights are counted once each: an inlet probe is its outlet's height. Of two drains the roof was read before the first, which holds the pond though the other is nearer; before none, the nearer does.
func TestWhichOutletIsAskedToHoldThePond(t *testing.T) {
	r := shed()
	before := of(r).Heights
	read(r, 0, 1.25, 0.5, 0.25, 0.25)
	r.Tape.Probes = append(r.Tape.Probes, roof.Probe{Kind: roof.InletProbe, Of: "rd-1", Position: roof.Position{Plan: at(40, 30), Z: 100*foot + 1.25*inch, HasZ: true}})
	s := of(r)
	if got := s.Heights - before; got != 5 { // the inlet, the lowest place, three before the drain
		t.Errorf("%d heights more", got)
	}
	near := r.Outlets[0]
	near.ID, near.Label, near.Plan, near.HasInvert = "RD-9", "RD-9", at(52, 31), false
	r.Outlets = append(r.Outlets, near)
	s = of(r)
	if p := &s.Ponds[0]; p.HoldExit < 0 || s.Exits[p.HoldExit].Name != r.Outlets[0].Label && s.Exits[p.HoldExit].Name != r.Outlets[0].ID {
		t.Errorf("read before %+v, asked of %d of %+v", r.Outlets[0], p.HoldExit, s.Exits)
	}
	r.Tape.Probes = nil
	s = of(r)
	if p := &s.Ponds[0]; p.HoldExit >= 0 && s.Exits[p.HoldExit].Name != "RD-9" {
		t.Errorf("nothing was read before any: %+v", s.Exits[p.HoldExit])
	}
	r.Outlets, r.Edges = nil, nil
	for _, f := range of(r).Findings {
		if f.Kind == finding.OutletsUnsurveyed && (f.Pond != -1 || f.Outlet != -1) {
			t.Errorf("of the whole roof: %+v", f)
		}
	}
}

// Heights are as good as the file says, on the tape's own word before that of the roof; where nobody says, as a level is.
func TestErrorThatIsStated(t *testing.T) {
	for _, c := range []struct {
		roof, tape, want quantity.Length
		stated           bool
	}{{0, 0, standard.LevelError, false}, {0.004, 0, 0.004, true}, {0, 0.006, 0.006, true}, {0.004, 0.006, 0.006, true}} {
		if got, stated := tape.SigmaOf(&roof.Roof{Sigma: c.roof, Tape: &roof.Tape{Sigma: c.tape}}); got != float64(c.want) || stated != c.stated {
			t.Errorf("%+v: %g, stated %v", c, got, stated)
		}
	}
}

// By hand: eight heights round 53 % of a roof of 120 by 60 ft are heights all over it (half), round 48 % they are not; one place to read next is a grid too.
func TestHalfOfTheRoof(t *testing.T) {
	for share, want := range map[float64]tape.Tier{0.53: tape.C, 0.48: tape.B} {
		r := shed()
		for k := range 8 {
			r.Spots = append(r.Spots, roof.Spot{Position: roof.Position{Plan: at(float64(k%2)*120*share, float64(k/4)*60), Z: 10, HasZ: true}})
		}
		if got := tape.TierOf(r); got != want {
			t.Errorf("round %g of it: %v", share, got)
		}
	}
	for code, want := range map[string]bool{"SPOT": true, "LOW": false} {
		if s := (tape.Survey{Next: []tape.Spot{{Code: code}}}); s.Grid() != want {
			t.Errorf("%s is a grid: %v", code, s.Grid())
		}
	}
}
