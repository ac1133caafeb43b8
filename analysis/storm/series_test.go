package storm

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
)

// TestTwoBasinsInSeries: a hollow with a drain and a lip spills into a second one, lower, with a drain of its own.
// The volumes are integrated again here by the classical Runge-Kutta method in steps of half a second, with the
// curves of package ponding, which sum facets one by one.
func TestTwoBasinsInSeries(t *testing.T) {
	r := shape.Heights(2,
		[]float64{0.30, 0.25, 0.22, 0.25, 0.15, 0.20, 0.30},
		[]float64{0.30, 0.15, 0.10, 0.18, 0.10, 0.05, 0.30},
		[]float64{0.30, 0.10, 0.06, 0.16, 0.06, 0.00, 0.30},
		[]float64{0.30, 0.15, 0.10, 0.18, 0.10, 0.05, 0.30},
		[]float64{0.30, 0.25, 0.22, 0.25, 0.15, 0.20, 0.30},
	)
	upper := shape.Drain(r, 4, 4, 0.3)
	upper.Invert, upper.HasInvert = 0.08, true
	lower := shape.Drain(r, 10, 4, 0.3)
	lower.Invert, lower.HasInvert = 0, true
	s := shape.Build(t, r)
	laws := []Law{weir(0.004), weir(0.1)}
	rain := Steps{[]float64{0, 900, 1500, 2400}, []float64{2e-5, 6e-5, 1e-5}}
	got := route(t, s, laws, Storm{Rain: rain, After: 1200}, Case{})

	m, err := New(s, laws)
	if err != nil {
		t.Fatal(err)
	}
	ca, err := m.catchOf(make([]bool, 2))
	if err != nil {
		t.Fatal(err)
	}
	ps, err := ponding.Find(s.Cut, nil, s.Cut.Z)
	if err != nil || len(ps.Tree) != 3 {
		t.Fatal(err, len(ps.Tree))
	}
	high, low := m.mouths[0].node, m.mouths[1].node
	lip, room := ps.Tree[high].Level, m.full[high]
	level := func(k int32, v float64) float64 { return m.table.Level(k, v) }
	flows := func(v [2]float64, rain float64) (q, spill [2]float64, dv [2]float64) {
		l0, l1 := math.Min(lip, level(high, v[0])), level(low, v[1])
		q = [2]float64{m.mouths[0].takes(l0 - 0.08), m.mouths[1].takes(l1)}
		in0 := rain * ca.leaf[high]
		if v[0] >= room {
			spill[0] = math.Max(0, in0-q[0])
		}
		return q, spill, [2]float64{in0 - q[0] - spill[0], rain*ca.leaf[low] + spill[0] - q[1]}
	}
	const dt = 0.5
	v, out, spilled, highest, peak := [2]float64{}, [2]float64{}, 0.0, 0.0, [2]float64{}
	for i := range int(3600 / dt) {
		rate := rain.at(float64(i) * dt)
		var k, q, sp [4][2]float64
		at := v
		for j, h := range []float64{0, dt / 2, dt / 2, dt} {
			if j > 0 {
				at = [2]float64{math.Max(0, v[0]+h*k[j-1][0]), math.Max(0, v[1]+h*k[j-1][1])}
			}
			q[j], sp[j], k[j] = flows(at, rate)
		}
		for b := range 2 {
			v[b] += dt * (k[0][b] + 2*k[1][b] + 2*k[2][b] + k[3][b]) / 6
			out[b] += dt * (q[0][b] + 2*q[1][b] + 2*q[2][b] + q[3][b]) / 6
		}
		if v[0] > room { // the step in which it fills
			v[1] += v[0] - room
			spilled += v[0] - room
			v[0] = room
		}
		spilled += dt * (sp[0][0] + 2*sp[1][0] + 2*sp[2][0] + sp[3][0]) / 6
		highest = math.Max(highest, level(low, v[1]))
		peak[0], peak[1] = math.Max(peak[0], q[0][0]), math.Max(peak[1], q[0][1])
	}
	if spilled < 0.1 {
		t.Fatalf("only %g m3 spill from one into the other: the case shows nothing", spilled)
	}
	if highest >= lip {
		t.Fatal("the lower basin backs up")
	}
	for b := range 2 {
		near(t, "volume", got.Outlets[b].Volume, out[b], 2e-5)
		near(t, "peak", got.Outlets[b].PeakFlow, peak[b], 2e-5)
	}
	near(t, "left", got.Left, v[0]+v[1], 2e-5)
}

// TestExactWayOnARoof: on invented roofs the way without a step agrees with the storage-indication method in small
// steps, but for peaks: where a basin answers faster than the step the trapezoid rule overshoots.
func TestExactWayOnARoof(t *testing.T) {
	for seed := range uint64(25) {
		s := shape.Build(t, shape.Random(seed, 60))
		laws := make([]Law, len(s.Outlets))
		for i := range laws {
			laws[i] = weir(0.3)
		}
		storm := Storm{Rain: someRain(1), After: 1800}
		exact := route(t, s, laws, storm, Case{})
		storm.Step = 1
		steps := route(t, s, laws, storm, Case{})
		for i := range exact.Outlets {
			a, b := &exact.Outlets[i], &steps.Outlets[i]
			if !(math.Abs(a.Volume-b.Volume) <= 1e-4*exact.Fallen) || a.PeakFlow > b.PeakFlow*1.0001+1e-8 {
				t.Errorf("seed %d, outlet %d: %g m3 and %g m3/s, in steps %g and %g", seed, i, a.Volume, a.PeakFlow, b.Volume, b.PeakFlow)
			}
		}
		if !(math.Abs(exact.Deepest.Depth-steps.Deepest.Depth) <= 2e-5) {
			t.Errorf("seed %d: %g m deep, in steps %g", seed, exact.Deepest.Depth, steps.Deepest.Depth)
		}
	}
}

// TestBlockedDrainFollowsTheSurface: two falls to two drains; with one blocked its water rises over the ridge to the
// other, and not before.
func TestBlockedDrainFollowsTheSurface(t *testing.T) {
	h := func(x float64) float64 { return 0.02 * math.Min(math.Abs(x-5), math.Abs(x-15)) }
	r := shape.New("twins", shape.At(0, 0, 0.1), shape.At(20, 0, 0.1), shape.At(20, 8, 0.1), shape.At(0, 8, 0.1))
	shape.Grid(r, 0, 0, 20, 8, 20, 8, func(x, _ float64) float64 { return h(x) })
	shape.Drain(r, 5, 4, 0.3)
	shape.Drain(r, 15, 4, 0.3)
	s := shape.Build(t, r)
	laws := []Law{weir(0.5), weir(0.5)}
	storm := Storm{Rain: Steps{[]float64{0, 7200}, []float64{2e-5}}}
	both := route(t, s, laws, storm, Case{})
	near(t, "half each", both.Outlets[0].Volume, both.Outlets[1].Volume, 1e-6)
	one := route(t, s, laws, storm, Case{Blocked: []bool{true, false}, Watch: []int32{both.Deepest.Vertex}})
	// By hand: the west half is a trough of 10 m x 8 m, full at 0.1 m: 4 m3, reached after 4 / (80 x 2e-5) = 2500 s.
	near(t, "deep", one.Deepest.Depth, 0.1, 1e-9)
	near(t, "left", one.Left, 4, 1e-9)
	near(t, "taken", one.Outlets[1].Volume, one.Fallen-4, 1e-6)
	near(t, "full at", one.Deepest.Time, 2500, 1e-9)
	if n := len(one.Watched[0]); n < 2 || one.Watched[0][n-1].Time <= one.Watched[0][0].Time {
		t.Errorf("watched: %v", one.Watched[0])
	}
}

// TestOutletOnASlope: a scupper beside a wall that runs on falling catches no more than its law gives for the rise
// of the roof across it; the rest gathers in the corner and comes back when it stands high enough.
func TestOutletOnASlope(t *testing.T) {
	r := shape.New("run", shape.At(0, 0, 0), shape.At(20, 0, 0.4), shape.At(20, 5, 0.5), shape.At(0, 5, 0.1))
	shape.Grid(r, 0, 0, 20, 5, 10, 5, func(x, y float64) float64 { return 0.02*x + 0.02*y })
	o := shape.Scupper(r, 10, 0, 0.5)
	o.Duty = roof.Primary
	s := shape.Build(t, r)
	law := weir(0.5)
	m, err := New(s, []Law{law})
	if err != nil {
		t.Fatal(err)
	}
	x := &m.mouths[0]
	if !x.slope {
		t.Fatal("not on a slope")
	}
	near(t, "most", x.most, law(0.5*0.02), 1e-6)
	small, large := Steps{[]float64{0, 3600}, []float64{1e-5}}, Steps{[]float64{0, 3600}, []float64{1e-4}}
	a := route(t, s, []Law{law}, Storm{Rain: small}, Case{})
	ca, err := m.catchOf([]bool{false})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "caught", a.Outlets[0].Volume, ca.outlet[0]*1e-5*3600, 1e-9)
	if a.Outlets[0].Passed != 0 {
		t.Errorf("%g m3 pass with capacity to spare", a.Outlets[0].Passed)
	}
	b := route(t, s, []Law{law}, Storm{Rain: large}, Case{})
	near(t, "passed", b.Outlets[0].Passed, (ca.outlet[0]*1e-4-x.most)*3600, 1e-9)
}

// TestInflowAtAPlace: water let in at a place runs to that place's outlet, and off the roof it is refused.
func TestInflowAtAPlace(t *testing.T) {
	s := pyramid(t)
	let := Inflow{X: 5, Y: 3, Flow: Steps{[]float64{0, 1000}, []float64{0.002}}}
	r := route(t, s, []Law{weir(0.5), weir(0.5)}, Storm{Inflows: []Inflow{let}}, Case{})
	near(t, "let in", r.Let, 2, 1e-12)
	near(t, "taken", r.Outlets[0].Volume, 2, 1e-4)
	m, err := New(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	let.X = 100
	for name, storm := range map[string]Storm{
		"off the roof":   {Inflows: []Inflow{let}},
		"negative":       {Rain: Steps{[]float64{0, 1}, []float64{-1}}},
		"not a number":   {Rain: Steps{[]float64{0, 1}, []float64{math.NaN()}}},
		"back in time":   {Rain: Steps{[]float64{5, 1}, []float64{1e-5}}},
		"one too few":    {Rain: Steps{[]float64{0}, []float64{1e-5}}},
		"a lake at once": {Rain: Steps{[]float64{0, 1}, []float64{1}}},
		"rising vapour":  {Evaporation: -1},
	} {
		if _, err := m.route(storm, Case{}); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
	if _, err := m.route(Storm{}, Case{Blocked: []bool{true}}); err == nil {
		t.Error("one state for two outlets was taken")
	}
	if _, err := New(s, make([]Law, 1)); err == nil {
		t.Error("one law for two outlets was taken")
	}
}

// TestOutletOnASlopeUnderWater: the same scupper once water stands over it takes what its law gives for the head, and not what it catches on
// top of that. By hand: 100 m2 at 1e-4 m/s bring 0.01 m3/s, at rest a head of (0.01 / (1.8 x 0.5))^(2/3) over the lowest roof of its
// width, 0.02 x 9.75 m = 0.195 m over the corner.
func TestOutletOnASlopeUnderWater(t *testing.T) {
	r := shape.New("run", shape.At(0, 0, 0), shape.At(20, 0, 0.4), shape.At(20, 5, 0.5), shape.At(0, 5, 0.1))
	shape.Grid(r, 0, 0, 20, 5, 10, 5, func(x, y float64) float64 { return 0.02*x + 0.02*y })
	shape.Scupper(r, 10, 0, 0.5).Duty = roof.Primary
	s := shape.Build(t, r)
	long := Steps{[]float64{0, 40 * 3600}, []float64{1e-4}}
	got := route(t, s, []Law{weir(0.5)}, Storm{Rain: long}, Case{})
	near(t, "depth in the corner", got.Deepest.Depth, 0.195+math.Pow(0.01/0.9, 2.0/3), 1e-5)
}
