package change_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/change"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
	"runnel/analysis/surface"
	"runnel/analysis/tape"
)

// grid is a roof of 20 m by 12 m with a gutter along its south side, surveyed at every 2 m, half a metre off the walls. Each spot stands at
// height plus normal errors of noise; shift moves the whole.
func grid(t *testing.T, seed uint64, noise, shift float64, height func(x, y float64) float64) *study.Study {
	t.Helper()
	random := rand.New(rand.NewPCG(seed, 17))
	r := shape.New("grid", shape.Bare(0, 0), shape.Bare(20, 0), shape.Bare(20, 12), shape.Bare(0, 12))
	for i := range 11 {
		for k := range 7 {
			x, y := math.Min(math.Max(float64(2*i), 0.3), 19.7), math.Min(math.Max(float64(2*k), 0.3), 11.7)
			shape.Spot(r, x, y, math.Round((height(x, y)+shift+noise*random.NormFloat64())*1e4)/1e4)
			r.Spots[len(r.Spots)-1].Sigma = quantity.Length(noise)
		}
	}
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(20, 0))
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func plain(_, y float64) float64 { return 10 + 0.02*y }

// The normal quantiles 0.975, 0.9975 and 0.99975: 1.95996, 2.80703, 3.48076 (from memory: tables of the normal distribution; for instance Abramowitz and
// Stegun, "Handbook of Mathematical Functions", table 26.5).
func TestThresholds(t *testing.T) {
	for n, want := range map[int]float64{1: 1.95996, 10: 2.80703, 100: 3.48076} {
		if got := change.Threshold(n); !(math.Abs(got-want) <= 1e-5) {
			t.Errorf("of %d: %v, want %v", n, got, want)
		}
	}
}

// Two surveys of the same points of a roof on which nothing moved: no change is named in 95 % of pairs. Of 200 pairs with a chance of one in twenty
// each, more than 19 fall out in one run of a thousand, of 80 more than 10 (binomial).
func TestTwoSurveysOfOneRoof(t *testing.T) {
	changed, pairs, most := 0, uint64(80), 10
	if os.Getenv("RUNNEL_LONG") == "1" {
		pairs, most = 200, 19
	}
	for pair := range pairs {
		r := change.Of(grid(t, 2*pair+1, 0.003, 0, plain), grid(t, 2*pair+2, 0.003, 0, plain), change.Options{})
		if len(r.Spots) != 77 || r.Off != 0 {
			t.Fatalf("%d spots compared, %d off the roof", len(r.Spots), r.Off)
		}
		if len(r.Regions) > 0 {
			changed++
		}
	}
	t.Logf("%d of %d pairs name a change", changed, pairs)
	if changed > most {
		t.Errorf("%d of %d pairs name a change", changed, pairs)
	}
}

// A part that sank: spots of 4 m by 2 m about (10, 7) are 30 mm lower, errors 3 mm. The six spots at x = 8, 10, 12 and y = 6, 8 are found, no others;
// each stands for the facets round it, 4 m2 in a grid of 2 m by 2 m on average.
func TestAPartThatSank(t *testing.T) {
	sunk := func(x, y float64) float64 {
		if math.Abs(x-10) <= 2 && math.Abs(y-7) <= 1 {
			return plain(x, y) - 0.03
		}
		return plain(x, y)
	}
	r := change.Of(grid(t, 1, 0.003, 0, plain), grid(t, 2, 0.003, 0, sunk), change.Options{})
	if len(r.Regions) != 1 || len(r.Regions[0].Spots) != 6 {
		t.Fatalf("%d regions: %+v", len(r.Regions), r.Regions)
	}
	g := r.Regions[0]
	if !(g.Rise <= -0.02) || !(g.Rise >= -0.045) || !(math.Abs(g.Area-24) <= 1) {
		t.Errorf("rise %v over %v m2, want about -0.03 over about 24", g.Rise, g.Area)
	}
	// The standard error of a difference of two readings of 3 mm.
	if want := 0.003 * math.Sqrt2; !(math.Abs(g.Error-want) <= 1e-9) {
		t.Errorf("error %v, want %v", g.Error, want)
	}
	if up := change.Of(grid(t, 2, 0.003, 0, sunk), grid(t, 1, 0.003, 0, plain), change.Options{}); len(up.Regions) != 1 || !(up.Regions[0].Rise >= 0.02) {
		t.Errorf("the other way round: %+v", up.Regions)
	}
}

// A bench mark 12 mm off moves every spot. The shift is told with its error; taken off, nothing else changed.
func TestAnotherBenchMark(t *testing.T) {
	before, after := grid(t, 5, 0.003, 0, plain), grid(t, 6, 0.003, 0.012, plain)
	r := change.Of(before, after, change.Options{})
	if !r.Shift.Shown || !(math.Abs(r.Shift.Median-0.012) <= 3*r.Shift.Error) || !(r.Shift.Error <= 0.001) || r.Shift.Taken {
		t.Errorf("shift %+v, want 12 mm", r.Shift)
	}
	if r = change.Of(before, after, change.Options{Level: true}); len(r.Regions) > 0 || !r.Shift.Taken {
		t.Errorf("taken off: %+v", r.Regions)
	}
	if r = change.Of(before, grid(t, 7, 0.003, 0, plain), change.Options{}); r.Shift.Shown {
		t.Errorf("one bench mark: %+v", r.Shift)
	}
}

// dip makes a low place round (x0, y0), 40 mm deep at one spot.
func dip(x0, y0, deep float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		if math.Abs(x-x0) < 0.5 && math.Abs(y-y0) < 0.5 {
			return plain(x, y) - 0.04 - deep
		}
		return plain(x, y)
	}
}

// Ponds that went, came, deepened and stayed. A spot of the 2 % plane lies 40 mm over the next one down the fall, so a spot 40 mm lower is level with
// that; deep is what is left.
func TestWhatBecomesOfPonds(t *testing.T) {
	shallow, deep, other := dip(6, 6, 0.02), dip(6, 6, 0.06), dip(14, 6, 0.02)
	for name, c := range map[string]struct {
		before, after func(x, y float64) float64
		want          []change.State
	}{
		"gone":   {shallow, plain, []change.State{change.Gone}},
		"new":    {plain, shallow, []change.State{change.New}},
		"same":   {shallow, shallow, []change.State{change.Same}},
		"deeper": {shallow, deep, []change.State{change.Deeper}},
		"less":   {deep, shallow, []change.State{change.Less}},
		"moved":  {shallow, other, []change.State{change.New, change.Gone}},
	} {
		r := change.Of(grid(t, 1, 0.002, 0, c.before), grid(t, 2, 0.002, 0, c.after), change.Options{})
		var got []change.State
		for _, p := range r.Ponds {
			got = append(got, p.State)
			if p.Unsure {
				t.Errorf("%s: unsure, though the same spots were shot", name)
			}
		}
		if len(got) != len(c.want) || got[0] != c.want[0] || got[len(got)-1] != c.want[len(c.want)-1] {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// Where the earlier survey has no spot at the place, its mesh counts with what it stands off the roof: a crown of 20 mm over 20 m between spots of other
// places is no change.
func TestOtherPlaces(t *testing.T) {
	crown := func(x, y float64) float64 { return plain(x, y) + 0.02*math.Sin(1.3*x)*math.Sin(0.9*y) }
	elsewhere := func(height func(x, y float64) float64) *change.Result {
		moved := grid(t, 2, 0.002, 0, height).Roof
		for i := range moved.Spots {
			p := &moved.Spots[i].Plan
			if p[0] > 1 && p[0] < 19 && p[1] > 1 && p[1] < 11 {
				p[0], p[1] = p[0]+0.9, p[1]+0.7
				moved.Spots[i].Z = math.Round(height(p[0], p[1])*1e4) / 1e4
			}
		}
		after, err := study.Run(moved, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return change.Of(grid(t, 1, 0.002, 0, height), after, change.Options{})
	}
	// On a plane the differences scatter by no more than the errors make: the mesh stands off the roof by nothing.
	if r := elsewhere(plain); r.Roughness > 0.0005 {
		t.Errorf("a plane is rough by %v", r.Roughness)
	}
	r := elsewhere(crown)
	if len(r.Regions) > 0 || !(r.Roughness >= 0.004) {
		t.Errorf("roughness %v, %d regions", r.Roughness, len(r.Regions))
	}
}

// A chalk cross is found again within 150 mm: a spot of the later survey 140 mm from one of the earlier stands at its place, one 160 mm off between.
func TestWhatCountsAsOnePlace(t *testing.T) {
	for off, between := range map[float64]bool{0: false, 0.14: false, 0.16: true} {
		moved := grid(t, 2, 0.002, 0, plain).Roof
		at := -1
		for i := range moved.Spots {
			if moved.Spots[i].Plan == (orb.Point{10, 6}) {
				at = i
				moved.Spots[i].Plan[0] += off
			}
		}
		after, err := study.Run(moved, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range change.Of(grid(t, 1, 0.002, 0, plain), after, change.Options{}).Spots {
			if s.Spot == at && s.Between != between {
				t.Errorf("%g m off: between %v", off, s.Between)
			}
		}
		if at < 0 {
			t.Fatal("no such spot")
		}
	}
}

// Places against a limit of 6 mm by readings of 1 mm: 1.645 standard errors stay under 2 mm, so 3 mm off is within, 9 mm outside, 6 mm not resolved.
func TestAcceptance(t *testing.T) {
	planned := grid(t, 1, 0.001, 0, plain)
	built := grid(t, 2, 0.001, 0, func(x, y float64) float64 {
		switch {
		case math.Abs(x-4) < 0.1:
			return plain(x, y) + 0.009
		case math.Abs(x-8) < 0.1:
			return plain(x, y) - 0.0095
		case math.Abs(x-12) < 0.1:
			return plain(x, y) + 0.006
		}
		return plain(x, y)
	})
	var wanted []change.Wanted
	for _, x := range []float64{2, 4, 8, 12} {
		wanted = append(wanted, change.Wanted{Plan: orb.Point{x, 6}, Z: plain(x, 6)})
	}
	wanted = append(wanted, change.Wanted{Plan: orb.Point{7, 7}, Z: plain(7, 7)}, change.Wanted{Plan: orb.Point{30, 7}, Z: 10})
	got := change.Accept(planned, built, wanted, 0.006)
	for i, want := range []change.Verdict{change.Within, change.Outside, change.Outside, change.NotResolved, change.NotMeasured, change.NotMeasured} {
		if got[i].Verdict != want {
			t.Errorf("place %d: %+v, want %s", i, got[i], want)
		}
	}
	if !(math.Abs(got[0].Error-0.001) <= 1e-12) || !(math.Abs(got[1].Off-0.009) <= 0.004) {
		t.Errorf("%+v", got[:2])
	}
}

// A place that lies eight parts of ten on one spot and one part on each of two more has as much of their errors, 1, 2 and 3 tenths of a millimetre and so on from spot to spot, by squares.
func TestErrorAmidThreeSpots(t *testing.T) {
	planned, built := grid(t, 1, 0.001, 0, plain), grid(t, 2, 0.001, 0, plain)
	tin := built.Surface.TIN
	for v := range built.Errors.Sigma {
		built.Errors.Sigma[v] = 0.0001 * float64(v+1)
	}
	told := 0
	for f := range tin.Facets() {
		w, sum := change.Wanted{}, 0.0
		for k, v := range tin.V[3*f : 3*f+3] {
			part := 0.1
			if k == f%3 {
				part = 0.8
			}
			w.Plan[0], w.Plan[1] = w.Plan[0]+part*tin.X[v], w.Plan[1]+part*tin.Y[v]
			sum += part * part * built.Errors.Sigma[v] * built.Errors.Sigma[v]
		}
		got := change.Accept(planned, built, []change.Wanted{w}, 0.006)[0]
		if got.Verdict == change.NotMeasured { // beside a corner that was assumed
			continue
		}
		if told++; !(math.Abs(got.Error-math.Sqrt(sum)) <= 1e-9) {
			t.Errorf("at %v: %g, want %g", w.Plan, got.Error, math.Sqrt(sum))
		}
	}
	if told < 50 {
		t.Errorf("only %d places are told of", told)
	}
}

// By hand: of two outlets near the place of one that was set out at 10 m, the nearer has an assumed inlet, which nobody measured; the other was
// found 4 mm high. One that stands 3 m off is another outlet.
func TestInletsThatWereMeasuredAreAccepted(t *testing.T) {
	planned, built := grid(t, 1, 0.001, 0, plain), grid(t, 2, 0.001, 0, plain)
	w := change.Wanted{Plan: orb.Point{5, 5}, Z: 10}
	built.Surface.Outlets = []surface.Outlet{
		{Plan: orb.Point{5, 5}, Invert: 9, InvertAssumed: true}, {Plan: orb.Point{8, 5}, Invert: 9.5}, {Plan: orb.Point{5.1, 5}, Invert: 10.004},
	}
	got := change.AcceptInlet(planned, built, w, 0.006)
	if got.Verdict != change.Within || !(math.Abs(got.Off-0.004) <= 1e-9) {
		t.Errorf("%+v", got)
	}
	for off, want := range map[orb.Point]bool{{0.29, 0.39}: true, {-0.39, 0.29}: true, {0.31, -0.41}: false, {-0.41, -0.31}: false, {0, 0.49}: true, {0, 0.51}: false} { // to half a metre
		built.Surface.Outlets[2].Plan = orb.Point{5 + off[0], 5 + off[1]}
		if got = change.AcceptInlet(planned, built, w, 0.006); (got.Verdict == change.Within) != want {
			t.Errorf("%v off: %+v", off, got)
		}
	}
	built.Surface.Outlets = built.Surface.Outlets[:2]
	if got = change.AcceptInlet(planned, built, w, 0.006); got.Verdict != change.NotMeasured {
		t.Errorf("without it: %+v", got)
	}
}

// A few heights read on a finished roof, by hand, each good to 1 mm: the one nearest to a place that was set out counts, to half a metre, by how far it stands off the planned roof at its own place; that of an inlet counts for the inlet alone.
func TestReadingsAreAccepted(t *testing.T) {
	planned := grid(t, 1, 0.001, 0, plain)
	spot := func(x, y, off float64) roof.Spot {
		s := roof.Spot{}
		s.Plan, s.Z, s.HasZ, s.ID = orb.Point{x, y}, plain(x, y)+off, true, "R"
		return s
	}
	r := &roof.Roof{Tape: &roof.Tape{}, Frame: planned.Roof.Frame, Spots: []roof.Spot{spot(4.3, 6, 0.009), spot(4.2, 6.1, 0.002), spot(8, 6.45, -0.012), spot(12, 6.51, 0), spot(15, 6.2, 0.006)}}
	r.Outlets = []roof.Outlet{{Label: "A", Plan: orb.Point{5, 5.1}, Invert: 9.996, HasInvert: true}, {Label: "B", Plan: orb.Point{5.3, 5}, Invert: 9.9, HasInvert: true}}
	built := &tape.Survey{Roof: r, Sigma: 0.001}
	var wanted []change.Wanted
	for _, x := range []float64{4, 8, 12, 15} {
		wanted = append(wanted, change.Wanted{Plan: orb.Point{x, 6}, Z: plain(x, 6)})
	}
	got := change.AcceptReadings(planned, built, wanted, 0.006)
	for i, want := range []struct {
		verdict change.Verdict
		off     float64
	}{{change.Within, 0.002}, {change.Outside, -0.012}, {change.NotMeasured, 0}, {change.NotResolved, 0.006}} {
		if got[i].Verdict != want.verdict || !(math.Abs(got[i].Off-want.off) <= 0.0025) { // the planned roof was read to 1 mm as well
			t.Errorf("place %d: %+v, want %s by %g", i, got[i], want.verdict, want.off)
		}
	}
	inlet := change.AcceptReadInlet(planned, built, change.Wanted{Plan: orb.Point{5, 5}, Z: 10}, 0.006)
	if inlet.Verdict != change.Within || !(math.Abs(inlet.Off+0.004) <= 1e-9) || inlet.Error != 0.001 {
		t.Errorf("the inlet: %+v", inlet)
	}
	if far := change.AcceptReadInlet(planned, built, change.Wanted{Plan: orb.Point{5, 6}, Z: 10}, 0.006); far.Verdict != change.NotMeasured {
		t.Errorf("0.9 m off: %+v", far)
	}
}
