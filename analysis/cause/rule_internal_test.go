package cause

import (
	"math"
	"testing"

	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// halves is a pond 30 mm deep of which what every rule asks stands half way between nothing and full: its way out climbs to a lip at 30 mm and ends
// 22.5 mm up, gap metres on, and a height of 30 mm is half resolved.
func halves(gap float64) *view {
	t := &surface.TIN{X: []float64{0, 1, 1 + gap}, Y: []float64{0, 0, 0}, Z: []float64{0, 0.03, 0.0225}}
	return &view{
		model: &model{t: t, s: &surface.Surface{TIN: t, Cut: t}, sink: none(3), noise: 0.02 / math.Sqrt2, scale: 1, c: standard.Defaults()},
		site: &site{
			p: &ponding.Pond{HeldBy: -1, Depth: 0.03}, outlet: -1, long: 3, wide: 1,
			way: way{v: []int32{0, 1, 2}, s: []float64{0, 1, 1 + gap}, lip: 1, end: -1},
		},
		depth: 0.03,
		crest: crest{ok: true, hump: 0.375},
	}
}

// The scores of rules, by hand from the distances and shares that they are drawn between.
func TestScoresHalfWay(t *testing.T) {
	// A dam 1.5 m long over a rise of 0.35 m: of its length in widths 2 to 5, of its rise 0.6096 to 0.3048 m, of its length 0.8 to 1.6 m.
	const dam = (1.5/0.7 - 2) / 3 * ((0.6096 - 0.35) / 0.3048) * ((1.5 - 0.8) / 0.8)
	on := func(change func(v *view), gap float64) *view {
		v := halves(gap)
		change(v)
		return v
	}
	dammed := func(v *view) {
		v.crest.rise, v.crest.length, v.crest.height, v.crest.beyond = 0.35, 1.5, 0.03, true
	}
	if got := on(dammed, 1).straightDam(); !(math.Abs(got-dam) <= 1e-12) {
		t.Errorf("a dam of %g, want %g", got, dam)
	}
	for _, c := range []struct {
		name string
		rule func(v *view) (Candidate, bool)
		v    *view
		want float64
	}{
		// half of 1.8 to 0.9 m, of 0 to 0.5 of the depth, 0.6 and half of 0.4 for 12 to 3 m, half resolved, half a hump
		{"rise", riseBefore, on(func(v *view) { v.crest.rise = 1.35 }, 7.5), 0.9 * 0.5 * 0.5 * 0.8 * 0.5 * 0.5},
		{"rise on a dam", riseBefore, on(func(v *view) { dammed(v) }, 7.5), 0.9 * 1 * 0.5 * 0.8 * 0.5 * 0.5 * (1 - 0.5*dam)},
		// the roof goes on at 0.425 of the height beyond, half of 0.25 to 0.6; 0.4 m on, half of 0.2 to 0.6
		{"ridge", ridgeOnLine, on(func(v *view) { dammed(v); v.crest.up, v.crest.down = 0.02, 0.0085 }, 0.4), 0.95 * dam * 0.5 * 0.5 * 0.5},
		{"step", step, on(func(v *view) { dammed(v); v.crest.up, v.crest.down = 0.04, 0.017 }, 0.4), 0.95 * dam * 0.5 * 0.15 * 0.5},
		// a bowl of curvatures 0.025 to 1, half of -0.1 to 0.15; three times as long as wide, half of 4 to 2; shores of 0.65 of its length, half of 0.3 to 1; a rise of 0.325 m,
		// half of 0.2 to 0.45
		{"dish", dish, on(func(v *view) {
			v.basin = basin{ok: true, big: 0.02, small: 0.0005}
			v.shore = shore{curb: 0.5, wall: 0.95, open: 0.5}
			v.crest.rise = 0.325
		}, 1), 0.9 * 0.5 * 0.5 * (0.6 + 0.4*0.5) * (0.3 + 0.7*0.5) * 0.5 * 0.5},
		{"level", levelArea, on(func(v *view) { v.basin.typical = v.c.MinSlope }, 1), 0.96 * 0.5},
		{"level enough", levelArea, on(func(v *view) { v.basin.typical = 1.1 * v.c.MinSlope }, 1), 0.96 * 0.25},
	} {
		got, ok := c.rule(c.v)
		if !ok || !(math.Abs(got.Score-c.want) <= 1e-9) {
			t.Errorf("%s: %g, %t, want %g", c.name, got.Score, ok, c.want)
		}
	}
	for name, rule := range map[string]func(v *view) (Candidate, bool){"rise": riseBefore, "ridge": ridgeOnLine, "step": step} {
		if _, ok := rule(on(func(v *view) { dammed(v); v.crest.ok = false }, 1)); ok {
			t.Errorf("%s: of no crest", name)
		}
	}
	for name, rule := range map[string]func(v *view) (Candidate, bool){"ridge": ridgeOnLine, "step": step} {
		if _, ok := rule(on(func(v *view) { dammed(v); v.crest.beyond = false }, 1)); ok {
			t.Errorf("%s: with nothing beyond", name)
		}
	}
}

// By hand: an edge of which a part is under water, and how far places lie off lines.
func TestPartsOfEdges(t *testing.T) {
	for _, c := range [][4]float64{{0, 4, 1, 0.25}, {4, 0, 1, 0.25}, {0, 4, 3, 0.75}, {2, 4, 1, 0}, {4, 2, 2, 0}, {0, 1, 5, 1}, {1, 1, 1, 0}} {
		if got := wetPart(c[0], c[1], c[2]); got != c[3] {
			t.Errorf("from %g to %g under %g: %g, want %g", c[0], c[1], c[2], got, c[3])
		}
	}
	for _, c := range []struct{ x, y, d, k float64 }{{1, 3, 3, 0.25}, {-3, 4, 5, 0}, {7, -4, 5, 1}, {4, 2, 2, 1}} {
		if d, k := apart(c.x, c.y, [2]float64{0, 0}, [2]float64{4, 0}); !(math.Abs(d-c.d) <= 1e-12) || !(math.Abs(k-c.k) <= 1e-12) {
			t.Errorf("(%g, %g): %g off at %g, want %g at %g", c.x, c.y, d, k, c.d, c.k)
		}
	}
	if d, k := apart(3, 4, [2]float64{0, 0}, [2]float64{0, 0}); d != 5 || k != 0 {
		t.Errorf("off a place: %g at %g", d, k)
	}
}

// By hand: an outlet holds the water from its deep part where its foot lies more than half the depth under the level: 16 mm of 30, not 14.
func TestOutletInTheDeepPart(t *testing.T) {
	for low, want := range map[float64]bool{0.014: true, 0.016: false, 0.03: false, -0.05: true} {
		v := halves(1)
		v.p.HeldBy, v.p.Level = 0, 0.03
		v.s.Outlets = []surface.Outlet{{Low: low}}
		if v.heldClose() != want {
			t.Errorf("its foot at %g m: %t", low, !want)
		}
	}
}

// Water that the first outlet holds, a primary one, is held by that: rules that look for a rise, a crest or a flat valley have nothing to say, whatever the shape; where an overflow holds it they look at the way to the primary outlet, as where none does. An arch holds none that any outlet does.
func TestWaterThatAnOutletHolds(t *testing.T) {
	shaped := func() *view {
		v := halves(1)
		v.crest.rise, v.crest.length, v.crest.height, v.crest.beyond, v.crest.up, v.crest.down = 0.35, 1.5, 0.03, true, 0.02, 0.0085
		v.valley = wetValley{line: &slope.Line{Named: true, Type: roof.Valley}, length: 1.5, beside: 0.01}
		v.s.Outlets = []surface.Outlet{{Duty: roof.Primary, Low: 5}, {Duty: roof.Overflow, Low: 5}}
		return v
	}
	cricket := func(v *view) (Candidate, bool) {
		v.valley.line.Type = roof.Cricket
		return cricketFlat(v)
	}
	for name, rule := range map[string]func(v *view) (Candidate, bool){"rise": riseBefore, "ridge": ridgeOnLine, "step": step, "valley": valleyFlat, "cricket": cricket} {
		for held, want := range map[int32]bool{-1: true, 0: false, 1: true} {
			v := shaped()
			v.p.HeldBy = held
			if _, ok := rule(v); ok != want {
				t.Errorf("%s, held by %d: %t", name, held, ok)
			}
		}
	}
	for held := range int32(2) {
		v := shaped()
		v.p.HeldBy = held
		if _, ok := camber(v); ok {
			t.Errorf("an arch that outlet %d holds", held)
		}
		if v.overflowHolds() != (held == 1) {
			t.Errorf("an overflow holds it, outlet %d: %t", held, v.overflowHolds())
		}
		if got := v.inTrough(); got != 0 {
			t.Errorf("a trough of water that outlet %d holds: %g", held, got)
		}
	}
}

// By hand: of a crest 20 mm over the pond's side of which 10 mm are lost beyond it, a half; of one that is level with that side, or beyond which nothing
// was read, none.
func TestShareOfACrestLostBeyond(t *testing.T) {
	for want, c := range map[float64]crest{0.5: {beyond: true, up: 0.02, down: 0.01}, 0: {beyond: true, down: 0.01}} {
		v := view{}
		v.crest = c
		if got := v.beyondShare(); !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("%+v: %g, want %g", c, got, want)
		}
		v.crest.beyond = false
		if got := v.beyondShare(); got != 0 {
			t.Errorf("beyond what was read: %g", got)
		}
	}
}
