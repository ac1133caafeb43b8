package cause

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// TestShavenWay, by hand: the way climbs from 0 by 30 mm and 50 mm and falls to 20 mm and -10 mm, a metre apart. Cut down to a straight fall of 10 mm over its 4 m it loses 32.5, 55 and 27.5 mm at three places that stand for a metre each. Where it ends 20 mm up at an outlet after 3 m, the outlet's inlet says how deep: no lower than the lowest water; an edge has no inlet of its own.
func TestShavenWay(t *testing.T) {
	for _, c := range []struct {
		name        string
		z           []float64
		end         int32
		out         surface.Outlet
		cut, length float64
		left        []float64
	}{
		{"past the rise", []float64{0, 0.03, 0.05, 0.02, -0.01, -0.2}, -1, surface.Outlet{}, 0.055, 3, []float64{0, -0.0025, -0.005, -0.0075, -0.01, -0.2}},
		{"to a low drain", []float64{0, 0.03, 0.05, 0.02}, 0, surface.Outlet{Invert: -0.02}, 0.05, 2.5, []float64{0, 0, 0, 0}},
		{"to a drain half way up", []float64{0, 0.03, 0.05, 0.02}, 0, surface.Outlet{Invert: 0.009}, 0.044, 2.5, []float64{0, 0.003, 0.006, 0.009}},
		{"to a drain above the roof", []float64{0, 0.03, 0.05, 0.021}, 0, surface.Outlet{Invert: 0.04}, 0.036, 2, []float64{0, 0.007, 0.014, 0.021}},
		{"to an edge", []float64{0, 0.03, 0.05, 0.021}, 0, surface.Outlet{Type: roof.EdgeOutlet, Invert: -1}, 0.036, 2, []float64{0, 0.007, 0.014, 0.021}},
		{"to a drain far on", []float64{0, 0.03, 0.05, 0.02, -0.01, -0.2}, 0, surface.Outlet{Invert: -0.3}, 0.055, 3, []float64{0, -0.0025, -0.005, -0.0075, -0.01, -0.2}},
		{"no way", []float64{0.02}, -1, surface.Outlet{}, 0, 0, []float64{0.02}},
		{"a straight fall", []float64{0, -0.01, -0.02}, -1, surface.Outlet{}, 0, 0, []float64{0, -0.01, -0.02}},
	} {
		m := straight(c.z...)
		m.z = append([]float64(nil), c.z...)
		m.s.Outlets = []surface.Outlet{c.out}
		lip := 0
		for i := range c.z {
			if c.z[i] > c.z[lip] {
				lip = i
			}
		}
		st := &site{way: wayAlong(m, lip), low: c.z[0]}
		st.way.end = c.end
		ch := change{outlet: -1}
		cut, length := m.shave(st, &ch)
		near(t, c.name+": cut", cut, c.cut, 1e-12)
		near(t, c.name+": length", length, c.length, 1e-12)
		for i, want := range c.left {
			near(t, c.name+": left", m.z[i], want, 1e-12)
		}
		m.restore(ch)
		for i, want := range c.z {
			near(t, c.name+": put back", m.z[i], want, 0)
		}
	}
}

// TestOutletToSetDown: a drain or scupper whose inlet lies above the lowest water can be set down to it, the roof in its footprint with it; where its roof lies lower, that stays.
func TestOutletToSetDown(t *testing.T) {
	for _, c := range []struct {
		name string
		to   int32
		out  surface.Outlet
		want bool
	}{
		{"none", -1, surface.Outlet{Invert: 1}, false},
		{"a drain", 0, surface.Outlet{Type: roof.Drain, Invert: 0.02}, true},
		{"a scupper", 0, surface.Outlet{Type: roof.Scupper, Invert: 0.02}, true},
		{"an edge", 0, surface.Outlet{Type: roof.EdgeOutlet, Invert: 0.02}, false},
		{"low already", 0, surface.Outlet{Invert: 0.01}, false},
		{"within the grid", 0, surface.Outlet{Invert: 0.01 + 0.9*surface.Grid}, false},
		{"beyond the grid", 0, surface.Outlet{Invert: 0.01 + 1.1*surface.Grid}, true},
	} {
		m := straight(0.03, 0.005, 0.02, 0.04)
		m.z = append([]float64(nil), m.t.Z...)
		c.out.Vertices = []int32{0, 1, 2}
		m.s.Outlets = []surface.Outlet{c.out}
		st := &site{outlet: c.to, low: 0.01}
		if got := m.canDrop(st); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
		if !c.want {
			if got := m.try(st, DropOutlet); got.Tried || got.Cut != 0 {
				t.Errorf("%s: %+v", c.name, got)
			}
			continue
		}
		ch := m.drop(st)
		if ch.outlet != 0 || ch.invert != 0.01 || len(ch.lowered) != 3 {
			t.Errorf("%s: %+v", c.name, ch)
		}
		for i, want := range []float64{0.01, 0.005, 0.01, 0.04} {
			near(t, c.name, m.z[i], want, 0)
		}
		near(t, c.name+": its inlet", m.invert(0, 0, ch), 0.01, 0)
		near(t, c.name+": as it was", m.invert(0, 0, change{outlet: -1}), c.out.Invert, 0)
		near(t, c.name+": never raised", m.invert(0, 0, change{outlet: 0, invert: 9}), c.out.Invert, 0)
	}
}

// TestArchBeyondATrough: between supports 8 m apart the roof stands up by a parabola of 0.1 m; water along the support at x = 4 leaves over the back of the span, at x = 8.
func TestArchBeyondATrough(t *testing.T) {
	height := func(x, _ float64) float64 {
		s := math.Mod(x+4, 8) - 4 // supports at 4, 12 and 20, backs at 0, 8, 16
		if s > 4 {
			s -= 8
		}
		return 0.1 * (1 - s*s/16)
	}
	v := terrain(t, height)
	at := func(x, y float64) int32 { return spotAt(t, v, x, y) }
	v.deep = at(4, 8)
	v.way = way{v: []int32{v.deep, at(8, 8), at(12, 8)}, s: []float64{0, 4, 8}, lip: 1, end: -1}
	v.noise = 0.0001
	v.crest = crest{ok: true, x: 8, y: 8, z: 0.1, across: [2]float64{1, 0}}
	near(t, "back to the trough", v.toTrough([2]float64{1, 0}), 4, 2*riseStep)
	a := v.archOver([2]float64{1, 0}, 4, 4)
	near(t, "arched", a.arched, 1, 0.01)
	near(t, "high", a.height, 0.1, 0.003)
	near(t, "span", a.span, 8, 0)
	best := v.backOf([2]float64{1, 0})
	if !best.ok {
		t.Fatal("no arch")
	}
	near(t, "the best: high", best.height, 0.1, 0.003) // twice as far beyond it no parabola explains the ground
	// Half of an arch: from 2 m before the crest to 2 m beyond it it stands a quarter as high.
	near(t, "half the span", v.archOver([2]float64{1, 0}, 2, 2).height, 0.025, 0.002)
	// Along the crest nothing is arched; from the wall on there is nothing to read.
	near(t, "along the crest", v.archOver([2]float64{0, 1}, 4, 4).height, 0, 1e-6)
	if got := v.backOf([2]float64{0, 1}); got.ok {
		t.Errorf("along the crest: %+v", got)
	}
	if got := v.archOver([2]float64{0, 1}, 4, 20); got.ok {
		t.Errorf("most of it beyond the wall: %+v", got)
	}
	// A trough is not arched.
	v.crest.x = 4
	if got := v.archOver([2]float64{1, 0}, 3, 3); !got.ok || got.arched != 0 || !(got.height < -0.04) {
		t.Errorf("a trough: %+v", got)
	}

	// The rule: arched ground counts from 0.25 to 0.6, a pond 2.25 times as long as wide is half of 1.5 to 3, and a climb of 1.125 m half of 0.45 to 1.8.
	v.crest.x, v.crest.rise = 8, (shortRise/2+longRise)/2
	v.long, v.wide, v.axis = 4.5, 2, [2]float64{0, 1}
	got, ok := camber(v)
	if !ok || !(math.Abs(got.Score-0.9*0.5*0.5) <= 1e-9) {
		t.Errorf("%g, %t", got.Score, ok)
	}
	// Square to its way out counts; with 0.725 of that, half of 0.6 to 0.85; along it not.
	v.axis = [2]float64{math.Sqrt(1 - 0.725*0.725), 0.725}
	if got, ok := camber(v); !ok || !(math.Abs(got.Score-0.9*0.5*0.5*0.5) <= 1e-9) {
		t.Errorf("askew: %g, %t", got.Score, ok)
	}
	v.axis = [2]float64{1, 0}
	if got, ok := camber(v); !ok || got.Score != 0 {
		t.Errorf("along its way out: %g, %t", got.Score, ok)
	}
	v.crest.ok = false
	if _, ok := camber(v); ok {
		t.Error("without a crest")
	}
	v.crest.ok, v.p.HeldBy = true, 0
	if _, ok := camber(v); ok {
		t.Error("held by an outlet")
	}
}

// TestInletThatStandsHigh: over a dome of 5 % the roof at 1 ft lies 15 mm below an outlet's middle. An inlet 30 mm over that ring holds 0.1 m of water by half of nothing to 0.6: 0.95 times a half; an overflow by 0.4 of it. In a point of the roof, where too little of the ring lies on it, the roof at the outlet itself counts.
func TestInletThatStandsHigh(t *testing.T) {
	on := func(at orb.Point, height func(x, y float64) float64, duty roof.Duty, over func(ring float64) (invert, low float64)) *view {
		v := terrain(t, height, at)
		ring, _ := v.ring(0, rings[0])
		v.depth, v.noise, v.p.HeldBy = 0.1, 0.0001, 0
		v.s.Outlets[0].Duty = duty
		v.s.Outlets[0].Invert, v.s.Outlets[0].Low = over(ring)
		return v
	}
	dome := func(x, y float64) float64 { return -0.05 * math.Hypot(x-10, y-8) }
	for _, c := range []struct {
		name   string
		at     orb.Point
		height func(x, y float64) float64
		duty   roof.Duty
		over   func(ring float64) (float64, float64)
		want   float64
	}{
		{"30 mm over the ring", orb.Point{10, 8}, dome, roof.Primary, func(ring float64) (float64, float64) { return ring + 0.03, ring + 1 }, 0.95 * 0.5},
		{"an overflow", orb.Point{10, 8}, dome, roof.Overflow, func(ring float64) (float64, float64) { return ring + 0.03, ring + 1 }, 0.95 * 0.5 * 0.4},
		{"its own roof lower than the ring", orb.Point{10, 8}, dome, roof.Primary, func(ring float64) (float64, float64) { return ring + 0.01, ring - 0.02 }, 0.95 * 0.5},
		{"more than 0.6 of the depth", orb.Point{10, 8}, dome, roof.Primary, func(ring float64) (float64, float64) { return ring + 0.07, ring }, 0.95},
		{"flush", orb.Point{10, 8}, dome, roof.Primary, func(ring float64) (float64, float64) { return ring, ring }, 0},
	} {
		v := on(c.at, c.height, c.duty, c.over)
		got, ok := outletHigh(v)
		if !ok {
			t.Errorf("%s: nothing said", c.name)
		}
		near(t, c.name, got.Score, c.want, 1e-9)
	}
	// Where a roof runs out in a point of 11 degrees too little of the ring lies on it.
	r := shape.New("point", shape.At(0, 0, 1), shape.At(20, 0, 1), shape.At(20, 4, 1))
	shape.Spot(r, 15, 1, 1)
	o := shape.Drain(r, 0.8, 0.05, 0.02)
	o.Invert, o.HasInvert = 1, true
	v := viewOn(t, r)
	v.depth, v.noise, v.p.HeldBy = 0.1, 0.0001, 0
	v.s.Outlets[0].Invert, v.s.Outlets[0].Low = 5.03, 5
	if _, ok := v.ring(0, rings[0]); ok {
		t.Error("the ring is read in a point")
	}
	if got, ok := outletHigh(v); !ok || !(math.Abs(got.Score-0.95*0.5) <= 1e-9) {
		t.Errorf("in a point: %g, %t", got.Score, ok)
	}
	v.p.HeldBy = -1
	if _, ok := outletHigh(v); ok {
		t.Error("held by no outlet")
	}
}

// TestWallTooShortToTell: beside a scupper in a wall of 1.6 m only two places along the wall lie on the roof, 0.6 m to either side: too few to say that the roof rises along the wall. In one of 4 m there are enough. A scupper without a line of its own has no wall.
func TestWallTooShortToTell(t *testing.T) {
	for width, want := range map[float64]float64{1.6: 0, 4: 1} {
		r := shape.New("wall", shape.Bare(0, 0), shape.Bare(width, 0), shape.Bare(width, 12), shape.Bare(0, 12))
		for _, y := range []float64{0, 0.9, 2, 4, 8, 12} {
			for k := range 5 {
				z := 0.02 * y
				if y == 0 {
					z = 0.04
				}
				shape.Spot(r, width*float64(k)/4, y, z)
			}
		}
		o := shape.Scupper(r, width/2, 0, 0.2)
		o.Invert, o.HasInvert = 0.04, true
		m, st := modelOf(t, r)
		v := &view{model: m, site: st, depth: 0.022}
		near(t, "rises along the wall", v.wallRises(&m.s.Outlets[0]), want, 1e-9)
		near(t, "without a line", v.wallRises(&surface.Outlet{Plan: m.s.Outlets[0].Plan}), 0, 0)
	}
}

// TestWaterAgainstACurb: a curb of 2 m stands across a fall of 2 %, and water along its uphill side from x = 9 to x = 14: 2 of its 5 m are curb, half of 0.2 to 0.6. How far off the curb it is deepest counts from half a spacing and half its width to a quarter of its width, and how far the roof rises away from the curb from nothing to a quarter of the depth.
func TestWaterAgainstACurb(t *testing.T) {
	h := func(_, y float64) float64 { return 0.02 * y }
	r := shape.New("curb", shape.At(0, 0, 0), shape.At(20, 0, 0), shape.At(20, 16, 0.32), shape.At(0, 16, 0.32))
	for x := 0.5; x < 20; x += 0.5 {
		for y := 0.5; y < 16; y += 0.5 {
			if x < 9 || x > 11 || y < 6 || y > 8 {
				shape.Spot(r, x, y, h(x, y))
			}
		}
	}
	shape.Curb(r, shape.At(9, 6, h(9, 6)), shape.At(11, 6, h(11, 6)), shape.At(11, 8, h(11, 8)), shape.At(9, 8, h(9, 8)))
	v := viewOn(t, r)
	at := func(x, y float64) int32 {
		best, far := int32(-1), math.Inf(1)
		for i := range v.t.X {
			if d := math.Hypot(v.t.X[i]-x, v.t.Y[i]-y); d < far {
				best, far = int32(i), d
			}
		}
		return best
	}
	box := orb.Bound{Min: orb.Point{8.99, 7.99}, Max: orb.Point{14.01, 9.01}}
	for f := range int32(v.t.Facets()) {
		inside := true
		for _, c := range v.t.V[3*f : 3*f+3] {
			inside = inside && box.Contains(orb.Point{v.t.X[c], v.t.Y[c]})
		}
		if inside {
			v.p.Facets = append(v.p.Facets, f)
		}
	}
	v.p.Level, v.noise = 9, 0.0001
	v.shore.curb, v.shore.curbIn = 2, [2]float64{0, -1}
	v.scale, v.wide, v.depth = 1, 2, 0.04
	near(t, "along the curb", v.extent([2]float64{1, 0}), 5, 1e-6)
	near(t, "across", v.extent([2]float64{0, 1}), 1, 1e-6)
	for _, c := range []struct {
		name   string
		x, y   float64
		off    float64 // of the deepest water from the curb
		deep   float64 // what that counts
		depth  float64
		up     float64 // what counts of the rise from it over 3 m: 60 mm
		atCurb bool
	}{
		{"at the curb", 9, 8, 0, 1, 0.04, 1, true},
		{"0.5 m off", 10, 8.5, 0.5, 1, 0.04, 1, false},
		{"1 m off", 10, 9, 1, 0.5, 0.04, 1, false},
		{"1.5 m off", 10, 9.5, 1.5, 0, 0.04, 1, false},
		{"beside its corner", 11.5, 8.5, math.Sqrt(0.5), 1.5 - math.Sqrt(0.5), 0.04, 1, false},
		{"deep water", 9, 8, 0, 1, 0.48, 0.5, true},
	} {
		v.deep, v.depth = at(c.x, c.y), c.depth
		v.low = v.t.Z[v.deep]
		off := v.curbDistance()
		near(t, c.name+": off the curb", off, c.off, 1e-6)
		near(t, c.name+": rise", v.upFromCurb(), 0.06, 1e-6)
		got, ok := cricketMissing(v)
		if !ok {
			t.Errorf("%s: nothing said", c.name)
		}
		near(t, c.name, got.Score, 0.95*0.5*c.deep*c.up, 1e-6)
		if two := len(got.Why.Args) == 2; two == c.atCurb {
			t.Errorf("%s: %+v", c.name, got.Why)
		}
	}
	v.shore.curb = 0
	if _, ok := cricketMissing(v); ok {
		t.Error("against no curb")
	}
	v.shore.curb, v.p.HeldBy = 2, 0
	v.s.Outlets = []surface.Outlet{{Duty: roof.Primary}}
	if _, ok := cricketMissing(v); ok {
		t.Error("held by an outlet")
	}
	// Near a wall the rise is read 0.6 or 0.3 of the way, and is none where nothing can be read.
	v.wide, v.scale = 4, 1
	for y, want := range map[float64]float64{8: 0.1, 12: 0.06, 14: 0.03, 15.5: 0} {
		v.deep = at(10, y)
		v.low = v.t.Z[v.deep]
		near(t, "rise near a wall", v.upFromCurb(), want, 1e-6)
	}
}

// TestOneSpotOnALap: on a plane of 2 % with spots a metre apart one stands 40 mm high: by lapOf it is the lap, 40 mm over the plane of the others. With the error of 1 mm that is more than six of it; the score is full but for half of what the gap of 0.4 m counts from 0.2 to 0.6 m. Spots that stand high may be a cricket's own.
func TestOneSpotOnALap(t *testing.T) {
	make := func(high float64, raised ...orb.Point) *view {
		h := func(x, y float64) float64 {
			for _, p := range raised {
				if math.Hypot(x-p[0], y-p[1]) < 0.1 {
					return 0.02*x + high
				}
			}
			return 0.02 * x
		}
		r := shape.New("lap", shape.At(0, 0, 0), shape.At(20, 0, 0.4), shape.At(20, 16, 0.4), shape.At(0, 16, 0))
		shape.Grid(r, 0, 0, 20, 16, 20, 16, h)
		v := viewOn(t, r)
		at := func(x, y float64) int32 { return spotAt(t, v, x, y) }
		v.scale, v.noise, v.depth = 1, 0.0005, 0.03
		v.deep = at(12, 8)
		v.low = v.t.Z[v.deep]
		v.way = way{v: []int32{v.deep, at(10, 8), at(9, 8)}, s: []float64{0, 2, 2.4}, lip: 1, end: -1}
		v.crest = crest{ok: true, rise: 1}
		return v
	}
	v := make(0.04, orb.Point{10, 8})
	l := v.lapOf()
	if !l.ok || l.spots != 1 || l.error != leastError {
		t.Errorf("%+v", l)
	}
	near(t, "high", l.high, 0.04, 1e-9)
	got, ok := lapOnSpots(v)
	if !ok {
		t.Fatal("nothing said")
	}
	near(t, "score", got.Score, 0.93*0.5, 1e-9)
	v.between = between{ok: true, crown: 1.5 * v.noise * math.Sqrt2}
	got, _ = lapOnSpots(v)
	near(t, "score between outlets", got.Score, 0.93*0.5*(1-0.6*0.5), 1e-9)
	v.between.crown = 0
	got, _ = lapOnSpots(v)
	near(t, "score between outlets without a crown", got.Score, 0.93*0.5, 1e-9)
	if v := make(0.04, orb.Point{10, 7}, orb.Point{10, 8}, orb.Point{10, 9}); v.lapOf().spots != 3 || !v.lapOf().ok {
		t.Errorf("three in a row: %+v", v.lapOf())
	}
	if l := make(0).lapOf(); l.ok {
		t.Errorf("a plane: %+v", l)
	}
	if l := make(-0.04, orb.Point{10, 9}).lapOf(); l.ok {
		t.Errorf("beside a hollow: %+v", l)
	}
	if l := make(0.04, orb.Point{11, 8}).lapOf(); !l.ok || !(math.Abs(l.high) <= 1e-9) {
		t.Errorf("beside the lip: %+v", l)
	}
	// A floor below the plane by more than a quarter of the height is a sag's.
	for low, want := range map[float64]bool{0.009: true, 0.011: false} {
		v := make(0.04, orb.Point{10, 8})
		v.low -= low
		if l := v.lapOf(); l.ok != want {
			t.Errorf("a floor %g m below: %+v", low, l)
		}
	}
	for name, change := range map[string]func(v *view){
		"no crest":                         func(v *view) { v.crest.ok = false },
		"a rise of 1 ft, less than counts": func(v *view) { v.crest.rise = rings[1]/2 - 0.001 },
		"held":                             func(v *view) { v.p.HeldBy, v.s.Outlets = 0, []surface.Outlet{{Duty: roof.Primary}} },
	} {
		v := make(0.04, orb.Point{10, 8})
		change(v)
		if _, ok := lapOnSpots(v); ok {
			t.Error(name)
		}
	}
}

// TestGroundOfABasin: on a plane nothing is left for a bend to explain; in z = 0.01 x² + 0.0025 y² about the water the curvatures are 0.02 and 0.005, and the bend explains all that a plane leaves.
func TestGroundOfABasin(t *testing.T) {
	on := func(height func(x, y float64) float64) basin {
		v := terrain(t, height)
		st := &site{p: &ponding.Pond{}, centre: orb.Point{10, 8}, axis: [2]float64{0, 1}, long: 4, wide: 4}
		for f := range int32(v.t.Facets()) {
			if v.beside(st, f, 0) {
				st.p.Facets = append(st.p.Facets, f)
			}
		}
		return v.basinOf(st)
	}
	b := on(func(x, y float64) float64 { return 0.01*(x-10)*(x-10) + 0.0025*(y-8)*(y-8) })
	if !b.ok {
		t.Fatal("no basin")
	}
	near(t, "greater curvature", b.big, 0.02, 0.0005)
	near(t, "lesser curvature", b.small, 0.005, 0.0005)
	if !(b.explained > 0.98 && b.explained <= 1) {
		t.Errorf("explained: %g", b.explained)
	}
	// In z = 0.01 x² the columns of facets to 3 m off x = 10 slope 0.5 to 5.5 %, by 1 % a column: half of them 2.5 % or less.
	b = on(func(x, _ float64) float64 { return 0.01 * (x - 10) * (x - 10) })
	near(t, "typical slope", b.typical, 0.025, 1e-6)
	// A ripple that no bend follows: nothing is explained.
	b = on(func(x, _ float64) float64 { return 0.02 * math.Abs(math.Mod(x, 1)-0.5) })
	if !(math.Abs(b.explained) < 0.05) {
		t.Errorf("a ripple explained by %g", b.explained)
	}
	v := terrain(t, func(x, y float64) float64 { return 0.02*x + 0.01*y })
	near(t, "of no facet", v.typicalSlope(nil), 0, 0)
	if b := v.basinOf(&site{p: &ponding.Pond{}}); b.ok || b.typical != 0 {
		t.Errorf("of no ground: %+v", b)
	}
	// The deepest place 50 mm below the plane through the ground.
	v.basin.plane = bend{c: 1, gx: 0.02, gy: -0.01}
	v.centre, v.deep = orb.Point{v.t.X[0] - 2, v.t.Y[0] - 3}, 0
	v.low = 1 + 0.04 - 0.03 - 0.05
	near(t, "sag", v.sag(), 0.05, 1e-12)
	v.low = 2
	near(t, "above it", v.sag(), 0, 0)
}

// TestFallsAwayInACorner: from a drain at the tip of a roof of 60 degrees four of the directions lie on the roof, which are enough; it falls away in all of them.
func TestFallsAwayInACorner(t *testing.T) {
	h := 10 * math.Sqrt(3)
	r := shape.New("tip", shape.At(0, 0, 1), shape.At(20, 0, -1), shape.At(10, h, -1))
	o := shape.Drain(r, 0.0866, 0.05, 0.02)
	o.Invert, o.HasInvert = 0, true
	v := viewOn(t, r)
	if got, top := v.fallsAway(0); got != 1 || !(math.Abs(top-1) <= 0.02) {
		t.Errorf("%g of the directions, from %g m", got, top)
	}
}

// TestFloodFromOnePlace: where the drain of a roof that stood a metre under water takes it at 0.2 m from now on, and one place alone was changed, all of the roof stands 0.2 m under water; what is higher than that is dry.
func TestFloodFromOnePlace(t *testing.T) {
	v := terrain(t, func(x, _ float64) float64 { return math.Max(0, x-18) * 0.4 }, orb.Point{10, 8})
	m := v.model
	m.s.Outlets[0].Invert = 0.2
	m.ps.Level = make([]float64, len(m.t.X))
	for i := range m.ps.Level {
		m.ps.Level[i] = math.Max(1, m.t.Z[i])
	}
	first := m.s.Outlets[0].Vertices[0]
	level := m.flood(nil, change{lowered: []int32{first}, outlet: -1})
	for i := range m.t.X {
		near(t, "level", level(int32(i)), math.Max(0.2, m.t.Z[i]), 1e-12)
	}
	m.ps.Ponds = []ponding.Pond{{}}
	for f := range int32(m.t.Facets()) {
		m.ps.Ponds[0].Facets = append(m.ps.Ponds[0].Facets, f)
	}
	got := m.escape(0, []int32{first}, change{outlet: -1})
	near(t, "depth", got.depth, 0.2, 1e-12)
	near(t, "volume", got.volume, 16*(18*0.2+0.5*0.2*0.5), 1e-6) // over 18 m of level roof, and over the half metre on which it rises to the water
}

// TestRiseToAWallWhereverItStands: a roof that falls 2 % to a wall and stands 40 mm high on it rises by 21.5 mm from 0.9 m off to 20 mm before it, which is more than half of a depth of 41 mm and not of one of 45 mm, on whichever side of the roof the wall stands.
func TestRiseToAWallWhereverItStands(t *testing.T) {
	for name, to := range map[string]func(p orb.Point) orb.Point{
		"south": func(p orb.Point) orb.Point { return p },
		"east":  func(p orb.Point) orb.Point { return orb.Point{-p[1], p[0]} },
		"north": func(p orb.Point) orb.Point { return orb.Point{-p[0], -p[1]} },
		"west":  func(p orb.Point) orb.Point { return orb.Point{p[1], -p[0]} },
	} {
		r := shape.New("wall", shape.Bare(0, 0), shape.Bare(4, 0), shape.Bare(4, 12), shape.Bare(0, 12))
		for _, y := range []float64{0, 0.85, 0.9, 0.95, 2, 4, 8, 12} {
			for k := range 9 {
				z := 0.02 * y
				if y == 0 {
					z = 0.04
				}
				shape.Spot(r, float64(k)/2, y, z)
			}
		}
		o := shape.Scupper(r, 2, 0, 0.2)
		o.Invert, o.HasInvert = 0.04, true
		shape.Places(r, func(p *orb.Point) { *p = to(*p) })
		m, st := modelOf(t, r)
		for depth, want := range map[float64]float64{0.041: 1, 0.045: 0} {
			v := &view{model: m, site: st, depth: depth}
			near(t, name, v.wallRises(&m.s.Outlets[0]), want, 1e-9)
		}
	}
}

// spotAt returns the vertex at (x, y).
func spotAt(t *testing.T, v *view, x, y float64) int32 {
	t.Helper()
	for i := range v.t.X {
		if math.Hypot(v.t.X[i]-x, v.t.Y[i]-y) < 1e-6 {
			return int32(i)
		}
	}
	t.Fatalf("no spot at (%g, %g)", x, y)
	return -1
}
