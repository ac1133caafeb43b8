package storm

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// pan is a level walled floor of 12 m x 10 m at elevation 0 with a drain in the middle.
func pan(tb testing.TB) *surface.Surface {
	tb.Helper()
	r := shape.New("pan", shape.At(0, 0, 0), shape.At(12, 0, 0), shape.At(12, 10, 0), shape.At(0, 10, 0))
	shape.Drain(r, 6, 5, 0.3)
	shape.Spot(r, 6, 5, 0)
	return shape.Build(tb, r)
}

func route(tb testing.TB, s *surface.Surface, laws []Law, storm Storm, c Case) *Result {
	tb.Helper()
	m, err := New(s, laws)
	if err != nil {
		tb.Fatal(err)
	}
	r, err := m.route(storm, c)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func near(tb testing.TB, what string, got, want, relative float64) {
	tb.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		tb.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// TestPanRunsDryByItsLaw: from the level at the end of the rain a pan of area A falls as the closed forms say:
// through a weir q = c h^1.5 to h = (h0^-0.5 + c t / 2A)^-2, through an orifice q = k h^0.5 to
// h = (h0^0.5 - k t / 2A)^2, through q = k h to h = h0 exp(-k t / A).
func TestPanRunsDryByItsLaw(t *testing.T) {
	s, area := pan(t), 120.0
	const k = 0.02
	for _, c := range []struct {
		name  string
		law   Law
		after func(h0, t float64) float64
	}{
		{"weir", func(h float64) float64 { return k * h * math.Sqrt(h) }, func(h0, t float64) float64 {
			return math.Pow(1/math.Sqrt(h0)+k*t/(2*area), -2)
		}},
		{"orifice", func(h float64) float64 { return k * math.Sqrt(h) }, func(h0, t float64) float64 {
			return math.Pow(math.Max(0, math.Sqrt(h0)-k*t/(2*area)), 2)
		}},
		{"linear", func(h float64) float64 { return k * h }, func(h0, t float64) float64 { return h0 * math.Exp(-k*t/area) }},
	} {
		moments := []float64{3600, 3700, 4600, 5500}
		r := route(t, s, []Law{c.law}, Storm{Rain: Steps{[]float64{0, 3600}, []float64{5e-5}}}, Case{Moments: moments})
		h0 := r.Levels[0][0]
		for i, m := range moments {
			near(t, c.name, r.Levels[i][0], c.after(h0, m-3600), 1e-6)
		}
		near(t, c.name+": peak head", r.Outlets[0].PeakHead, h0, 1e-12)
		near(t, c.name+": peak flow", r.Outlets[0].PeakFlow, c.law(h0), 1e-12)
	}
}

// TestPanFillsByItsLaw: with q = k h and constant rain, h = Q/k (1 - exp(-k t / A)).
func TestPanFillsByItsLaw(t *testing.T) {
	const k, rain, area = 0.05, 4e-5, 120.0
	moments := []float64{10, 600, 3000, 20000}
	r := route(t, pan(t), []Law{func(h float64) float64 { return k * h }},
		Storm{Rain: Steps{[]float64{0, 20000}, []float64{rain}}}, Case{Moments: moments})
	for i, m := range moments {
		near(t, "level", r.Levels[i][0], rain*area/k*(1-math.Exp(-k*m/area)), 1e-6)
	}
}

// TestPanByStorageIndication: from h0 a pan of area A comes in a step of dt to h with A (h - h0) / dt = Q - k (h0 + h) / 2, and moments that are asked for
// end a step. By hand, two steps of 300 s: 0.0048 / (0.4 + 0.025) = 11.294 mm and (0.0048 + 0.011294 x 0.375) / 0.425 = 21.260 mm.
func TestPanByStorageIndication(t *testing.T) {
	storm := Storm{Rain: Steps{[]float64{0, 6000}, []float64{4e-5}}, Step: 600}
	r := route(t, pan(t), []Law{func(h float64) float64 { return 0.05 * h }}, storm, Case{Moments: []float64{300, 600}})
	h := 0.0048 / 0.425
	o := &r.Outlets[0]
	near(t, "after 300 s", r.Levels[0][0], h, 1e-9)
	near(t, "after 600 s", r.Levels[1][0], (0.0048+h*0.375)/0.425, 1e-9)
	for _, x := range o.Samples { // on a step the flow runs straight, as the level does
		if x.Time <= 300 && !(math.Abs(x.Flow-0.05*h*x.Time/300) <= 1e-12) {
			t.Errorf("%g m3/s at %g s", x.Flow, x.Time)
		}
	}
	near(t, "start", o.Start, 300*trickle/(0.05*h), 1e-6)
	// At rest the drain takes 4.8 L/s; when the rain ends the flow is still exp(-0.05 x 6000 / 120) = 8.2 % short of that.
	if o.PeakTime != 6000 || !(math.Abs(o.PeakFlow/0.0048-1+math.Exp(-2.5)) <= 0.002) {
		t.Errorf("peak of %g m3/s at %g s", o.PeakFlow, o.PeakTime)
	}
}

// TestEdgeTakesTheRain: a plane holds nothing, so a gutter along its foot takes what falls while it falls. By hand: 80 m2 at 1e-5 m/s for an hour in all
// are 0.8 L/s and 2.88 m3, from the first half hour to the third.
func TestEdgeTakesTheRain(t *testing.T) {
	s := shape.Build(t, shape.Plane(10, 8, 0.02, 4))
	o := route(t, s, make([]Law, len(s.Outlets)), Storm{Rain: Steps{[]float64{0, 1800, 3600, 5400}, []float64{1e-5, 0, 1e-5}}}, Case{}).Outlets[0]
	near(t, "volume", o.Volume, 2.88, 1e-9)
	near(t, "peak", o.PeakFlow, 8e-4, 1e-9)
	near(t, "stop", o.Stop, 5400, 1e-9)
	if len(o.Samples) == 0 || o.Start != 0 {
		t.Fatalf("%+v", o)
	}
	most := 0.0
	for _, x := range o.Samples {
		most = max(most, x.Flow)
	}
	near(t, "greatest sample", most, 8e-4, 1e-9)
}

// TestOutletsStartAndStop: with q = k h and steady rain a pan of area A takes Trickle from t = -A/k ln(1 - Trickle/Q) on; after
// the rain its flow falls as exp(-k t / A), to Trickle at A/k ln(q1/Trickle). A pan that stands over its invert when the rain
// begins takes water from the first moment.
func TestOutletsStartAndStop(t *testing.T) {
	const k, rain, area, end = 0.05, 4e-5, 120.0, 7200.0
	law := []Law{func(h float64) float64 { return k * h }}
	q := rain * area
	o := route(t, pan(t), law, Storm{Rain: Steps{[]float64{0, end}, []float64{rain}}}, Case{}).Outlets[0]
	near(t, "start", o.Start, -area/k*math.Log(1-trickle/q), 1e-5)
	near(t, "stop", o.Stop, end+area/k*math.Log(q*(1-math.Exp(-k*end/area))/trickle), 1e-5)
	jump := []Law{func(h float64) float64 { return 0.01 + k*h }}
	if o := route(t, pan(t), jump, Storm{Rain: Steps{[]float64{0, end}, []float64{rain * 10}}}, Case{}).Outlets[0]; o.Start != 0 {
		t.Errorf("an outlet that takes water at once starts at %v s", o.Start)
	}
}

// TestBlockedPan: with its drain blocked a pan holds the rain. By hand: 50 mm/h for an hour is 50 mm everywhere,
// 6 m3; evaporation of 4 mm a day takes 8 mm in 48 h, 0.96 m3.
func TestBlockedPan(t *testing.T) {
	storm := Storm{Rain: Steps{[]float64{0, 3600}, []float64{0.05 / 3600}}, Evaporation: 0.004 / 86400}
	r := route(t, pan(t), nil, storm, Case{Blocked: []bool{true}})
	near(t, "depth", r.Deepest.Depth, 0.05, 1e-9)
	near(t, "rain", r.Fallen, 6, 1e-12)
	near(t, "evaporated", r.Evaporated, 0.96, 1e-9)
	near(t, "left", r.Left, 5.04, 1e-9)
	if !r.Covered || r.Outlets[0].Volume != 0 || !r.Outlets[0].Blocked {
		t.Errorf("%+v", r.Outlets[0])
	}
}

// pyramid is 20 m x 16 m, falling at 2 % to a drain in the middle, with an overflow scupper in the middle of its
// east wall whose invert stands 60 mm over the drain.
func pyramid(tb testing.TB) *surface.Surface {
	tb.Helper()
	r := shape.Pyramid(20, 16, 0.02, 0.3)
	o := shape.Scupper(r, 10, 0, 0.4)
	o.Duty, o.Invert, o.HasInvert = roof.Overflow, 0.26, true
	return shape.Build(tb, r)
}

// weirHead is the head at which weir(width) takes q.
func weirHead(q, width float64) float64 { return math.Pow(q/(1.8*width), 2.0/3) }

// TestBlockedPrimary: with the drain blocked water stands to the overflow's invert and by the head over it that
// its law asks for the whole rain: Q = 1.8 b h^1.5 with b = 0.4 m and Q = 320 m2 x 100 mm/h, by hand 53.4 mm.
func TestBlockedPrimary(t *testing.T) {
	s := pyramid(t)
	r := route(t, s, []Law{weir(0.6), weir(0.4)}, Storm{Rain: Steps{[]float64{0, 40 * 3600}, []float64{0.1 / 3600}}},
		Case{Blocked: []bool{true, false}})
	head := weirHead(320*0.1/3600, 0.4)
	near(t, "head by hand", head, 0.0534, 0.005)
	near(t, "head", r.Outlets[1].PeakHead, head, 1e-6)
	near(t, "depth", r.Deepest.Depth, 0.26+head, 1e-6)
	if r.Outlets[1].Start < 0 || r.Outlets[0].Start >= 0 {
		t.Errorf("the overflow starts at %v, the blocked drain at %v", r.Outlets[1].Start, r.Outlets[0].Start)
	}
}

// TestSteadyDrain: rain that goes on brings the head at which the drain takes all of it, and the overflow works
// only when that stands above its invert.
func TestSteadyDrain(t *testing.T) {
	s := pyramid(t)
	storm := Storm{Rain: Steps{[]float64{0, 20 * 3600}, []float64{0.1 / 3600}}}
	r := route(t, s, []Law{weir(0.1), weir(0.4)}, storm, Case{})
	near(t, "head", r.Outlets[0].PeakHead, weirHead(320*0.1/3600, 0.1), 1e-6)
	if r.Outlets[1].PeakFlow != 0 {
		t.Errorf("the overflow took %g m3/s", r.Outlets[1].PeakFlow)
	}
	r = route(t, s, nil, storm, Case{})
	if r.Deepest.Vertex >= 0 && r.Deepest.Depth > 0 {
		t.Errorf("outlets that take everything leave %g m", r.Deepest.Depth)
	}
	near(t, "taken", r.Outlets[0].Volume, r.Fallen, 1e-9)
}

// TestWetPondsStandAtTheirOutlets: with every pond full to begin with, a dish is full to its rim and passes all of
// a storm on. By hand: a x a x d / 3 of water.
func TestWetPondsStandAtTheirOutlets(t *testing.T) {
	s := shape.Build(t, shape.Dish(4, 0.09))
	storm := Storm{Rain: Steps{[]float64{0, 600}, []float64{1e-5}}}
	r := route(t, s, nil, storm, Case{Wet: true})
	near(t, "before", r.Before, 4*4*0.09/3, 1e-9)
	near(t, "left", r.Left, r.Before, 1e-9)
	near(t, "out", r.Out, 12*12*1e-5*600, 1e-9)
	dry := route(t, s, nil, storm, Case{})
	near(t, "held", dry.Left, 4*4*1e-5*600, 1e-9)
	near(t, "out, dry", dry.Out, 8*16*1e-5*600, 1e-9)
}

// TestKronrod: fifteen points integrate powers up to 22 exactly, seven points up to 13.
func TestKronrod(t *testing.T) {
	for power := range 23 {
		fine, coarse := kronrod(0, 2, func(x float64) float64 {
			y := 1.0
			for range power {
				y *= x
			}
			return y
		})
		want := math.Pow(2, float64(power+1)) / float64(power+1)
		near(t, "fifteen points", fine, want, 1e-13)
		if power <= 13 {
			near(t, "seven points", coarse, want, 1e-13)
		}
	}
}

// TestWaterGoneInNoTime: rain that lasts two steps of the clock leaves so little over a crest at which the outlet takes
// flow at once that it is gone in less than the clock can tell. By hand: what falls leaves, but for nothing.
func TestWaterGoneInNoTime(t *testing.T) {
	s := pan(t)
	s.Outlets[0].Invert = -0.02 // below the floor: it takes 120 m2 x 5e-5 m/s = 0.006 m3/s as soon as water stands
	law := func(h float64) float64 { return 0.3 * h }
	late := math.Nextafter(math.Nextafter(50000, math.Inf(1)), math.Inf(1))
	for _, heavy := range []float64{5.1e-5, 6e-5, 9e-5} {
		rain := Steps{[]float64{0, 50000, late, 60000}, []float64{1e-6, heavy, 2e-6}}
		r := route(t, s, []Law{law}, Storm{Rain: rain}, Case{})
		near(t, "out", r.Out, 120*(0.05+0.02), 1e-9)
		if r.Left > 1e-9 {
			t.Errorf("%g m3 are left", r.Left)
		}
	}
}

// TestWatchedLevelHoldsItsCorners: a pan that nothing leaves takes 50 mm an hour for an hour, stands for one, takes 20 mm in the next and stands for another: by hand it stands at 50, 50, 70 and 70 mm on the hours, and what is watched runs straight between.
func TestWatchedLevelHoldsItsCorners(t *testing.T) {
	const hour = 3600.0
	r := route(t, pan(t), []Law{func(h float64) float64 { return 0.05 * h }}, Storm{Rain: Steps{[]float64{0, hour, 2 * hour, 3 * hour}, []float64{0.05 / hour, 0, 0.02 / hour}}, After: hour}, Case{Blocked: []bool{true}, Watch: []int32{0}, Moments: []float64{1800, 5400, 9000, 12000}})
	for i, want := range []float64{0.025, 0.05, 0.06, 0.07} {
		near(t, "level at a moment", r.Levels[i][0], want, 1e-9)
	}
	list := r.Watched[0]
	at := func(time float64) float64 {
		for i := 1; i < len(list); i++ {
			if a, b := list[i-1], list[i]; a.Time <= time && time <= b.Time {
				return a.Level + (b.Level-a.Level)*(time-a.Time)/math.Max(b.Time-a.Time, 1e-9)
			}
		}
		return math.NaN()
	}
	for time, want := range map[float64]float64{1: 0.05, 1.5: 0.05, 2: 0.05, 2.5: 0.06, 3: 0.07, 3.9: 0.07} {
		if got := at(time * hour); !(math.Abs(got-want) < 1e-4) {
			t.Errorf("after %g h %g m, want %g; %v", time, got, want, list)
		}
	}
}

// TestHydrographOfAPan: of steady rain for two hours on a pan with q = k h the samples, joined by straight lines, stand within 2 % of the peak of Q (1 - exp(-k t / A)) while it rains and of its decay after it: one is kept from 1 % on, and leaves no more than half a percent where it is thinned. They rise in time.
func TestHydrographOfAPan(t *testing.T) {
	const k, rain, area, end = 0.05, 4e-5, 120.0, 7200.0
	o := route(t, pan(t), []Law{func(h float64) float64 { return k * h }}, Storm{Rain: Steps{[]float64{0, end}, []float64{rain}}}, Case{}).Outlets[0]
	flow := func(time float64) float64 {
		q := rain * area * (1 - math.Exp(-k*math.Min(time, end)/area))
		return q * math.Exp(-k*math.Max(0, time-end)/area)
	}
	near(t, "peak", o.PeakFlow, flow(end), 1e-6)
	near(t, "when", o.PeakTime, end, 1e-9)
	near(t, "volume", o.Volume, rain*area*end, 1e-6)
	for i := 1; i < len(o.Samples); i++ {
		a, b := o.Samples[i-1], o.Samples[i]
		if !(b.Time > a.Time) {
			t.Fatalf("sample %d at %g s after %g s", i, b.Time, a.Time)
		}
		for _, part := range []float64{0, 0.25, 0.5, 0.75, 1} {
			time := a.Time + part*(b.Time-a.Time)
			if got := a.Flow + part*(b.Flow-a.Flow); !(math.Abs(got-flow(time)) <= 0.02*o.PeakFlow) {
				t.Errorf("at %g s: %g m3/s, want %g", time, got, flow(time))
			}
		}
	}
	if n := len(o.Samples); n < 10 || n > 400 {
		t.Errorf("%d samples", n)
	}
}

// TestTwoDrainsShareAPan: two drains of one pan that take k h and 3 k h take one and three quarters of the rain, and in the end of its flow. Where the second stands 40 mm higher, by hand it takes nothing while the first alone takes the rain at 48 mm x 2/3 = 32 mm; with half as much capacity it does from 40 mm on:
// k h + 3 k (h - 40 mm) = Q.
func TestTwoDrainsShareAPan(t *testing.T) {
	r := shape.New("pan", shape.At(0, 0, 0), shape.At(12, 0, 0), shape.At(12, 10, 0), shape.At(0, 10, 0))
	shape.Drain(r, 3, 5, 0.3)
	shape.Drain(r, 9, 5, 0.3)
	shape.Spot(r, 6, 5, 0)
	rain := Storm{Rain: Steps{[]float64{0, 80000}, []float64{4e-5}}} // 120 m2: 0.0048 m3/s
	for _, c := range []struct {
		k, step      float64
		first, level float64 // part that the first takes in the end, and where the water stands
	}{
		{0.05, 0, 0.25, 0.0048 / 0.2}, {0.15, 0.04, 1, 0.032}, {0.05, 0.04, 0.05 * (0.0048 + 0.006) / 0.2 / 0.0048, (0.0048 + 0.006) / 0.2},
	} {
		s := shape.Build(t, r)
		s.Outlets[1].Invert += c.step
		law := []Law{func(h float64) float64 { return c.k * h }, func(h float64) float64 { return 3 * c.k * h }}
		got := route(t, s, law, rain, Case{Moments: []float64{79999}})
		near(t, "level", got.Levels[0][0], c.level, 1e-5)
		near(t, "first", got.Outlets[0].PeakFlow, c.first*0.0048, 1e-5)
		if rest := (1 - c.first) * 0.0048; !(math.Abs(got.Outlets[1].PeakFlow-rest) <= 1e-7) {
			t.Errorf("second: %g, want %g", got.Outlets[1].PeakFlow, rest)
		}
		if c.step == 0 {
			near(t, "first in all", got.Outlets[0].Volume, 0.25*got.Fallen, 1e-6)
		}
		stepped := rain // in steps of a minute, a fortieth of the time in which the pan answers, each takes as much
		stepped.Step = 60
		for o, x := range route(t, s, law, stepped, Case{}).Outlets {
			near(t, "volume in steps", x.Volume, got.Outlets[o].Volume, 1e-4)
		}
	}
}

// TestWhatIsRefused: by hand what cannot be routed: an edge that is blocked, a list of another length, evaporation or time that are none, and more water than can be counted.
func TestWhatIsRefused(t *testing.T) {
	s := shape.Build(t, shape.Plane(10, 8, 0.02, 4)) // a gutter alone
	m, err := New(s, make([]Law, len(s.Outlets)))
	if err != nil {
		t.Fatal(err)
	}
	rain := Steps{[]float64{0, 60}, []float64{1e-5}}
	for name, c := range map[string]struct {
		storm Storm
		c     Case
		fails bool
	}{
		"good":             {Storm{Rain: rain}, Case{}, false},
		"none blocked":     {Storm{Rain: rain}, Case{Blocked: []bool{false}}, false},
		"an edge":          {Storm{Rain: rain}, Case{Blocked: []bool{true}}, true},
		"too many":         {Storm{Rain: rain}, Case{Blocked: []bool{false, false}}, true},
		"evaporation < 0":  {Storm{Rain: rain, Evaporation: -1e-9}, Case{}, true},
		"evaporation none": {Storm{Rain: rain, Evaporation: math.NaN()}, Case{}, true},
		"evaporation inf":  {Storm{Rain: rain, Evaporation: math.Inf(1)}, Case{}, true},
		"time < 0":         {Storm{Rain: rain, After: -1}, Case{}, true},
		"a flood":          {Storm{Rain: Steps{[]float64{0, 60}, []float64{1.01}}}, Case{}, true}, // on 80 m2 over the 80 m3/s that fit
		"nearly one":       {Storm{Rain: Steps{[]float64{0, 60}, []float64{0.99}}}, Case{}, false},
		"a river":          {Storm{Rain: rain, Inflows: []Inflow{{X: 5, Y: 5, Flow: Steps{[]float64{0, 60}, []float64{1e11}}}}}, Case{}, true},
	} {
		if _, err := m.route(c.storm, c.c); (err != nil) != c.fails {
			t.Errorf("%s: %v", name, err)
		}
	}
}
