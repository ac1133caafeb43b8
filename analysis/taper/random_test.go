package taper_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/taper"
	"runnel/analysis/taper/domain"
)

// TestRandomRoofsDrain: whatever the roof, the corrected one written as a survey is taken, and nothing deeper than a millimetre stands on it.
func TestRandomRoofsDrain(t *testing.T) {
	gauges := []func(orb.Point) domain.Gauge{
		domain.FourWay, domain.FourWay, domain.FourWay,
		func(axis orb.Point) domain.Gauge { return domain.TwoWay(axis, 0.6) },
	}
	roofs := 0
	for seed := range uint64(120) {
		r := shape.Random(seed, 150)
		if seed%2 == 1 {
			turn(r, 0.6+0.001*float64(seed%50))
		}
		s := built(t, r)
		if len(taper.Sources(s)) == 0 {
			continue
		}
		roofs++
		d := design(t, r, 1.0/48, 0.0127, gauges[seed%4])
		again := built(t, d.Roof(r, s))
		ponds, err := ponding.Find(again.Cut, again.Outlets, again.Cut.Z)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, p := range ponds.Ponds {
			if p.Depth > 0.001 {
				t.Errorf("seed %d: water %g m deep", seed, p.Depth)
			}
		}
		if got := len(again.Outlets); got != len(s.Outlets) {
			t.Errorf("seed %d: %d outlets of %d", seed, got, len(s.Outlets))
		}
	}
	if roofs < 80 {
		t.Errorf("only %d roofs", roofs)
	}
}

// turn turns a roof by an angle given by its sine.
func turn(r *roof.Roof, sin float64) {
	cos := math.Sqrt(1 - sin*sin)
	one := func(p orb.Point) orb.Point { return orb.Point{cos*p[0] - sin*p[1], sin*p[0] + cos*p[1]} }
	line := func(ps []roof.Position) {
		for i := range ps {
			ps[i].Plan = one(ps[i].Plan)
		}
	}
	for _, ring := range r.Outline.Rings {
		line(ring)
	}
	for i := range r.Edges {
		line(r.Edges[i].Line)
	}
	for i := range r.Breaklines {
		line(r.Breaklines[i].Line)
	}
	for i := range r.Curbs {
		line(r.Curbs[i].Ring)
	}
	for i := range r.Spots {
		r.Spots[i].Plan = one(r.Spots[i].Plan)
	}
	for i := range r.Outlets {
		r.Outlets[i].Plan = one(r.Outlets[i].Plan)
	}
}

// TestNothingToDrainTo: a roof without a primary outlet is refused.
func TestNothingToDrainTo(t *testing.T) {
	r := level(10, 8)
	shape.Drain(r, 5, 4, 0.3).Duty = roof.Overflow
	s := built(t, r)
	d := planOf(t, s)
	if _, err := least(&taper.Problem{
		Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s), Gauge: domain.FourWay(d.Axis), Slope: 0.02,
	}); err == nil {
		t.Error("a roof without outlets was given a surface")
	}
}

// TestProblemsThatAreNone: no source, a slope that is none, a gauge without directions, elevations of another surface, less thickness than none; and a part of the roof that a curb from wall to wall cuts off from the only drain.
func TestProblemsThatAreNone(t *testing.T) {
	r := level(10, 8)
	drain(r, 3, 4, 0)
	s := built(t, r)
	d := planOf(t, s)
	good := taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s), Gauge: domain.FourWay(d.Axis), Slope: 0.02, Thickness: 0.01}
	for name, change := range map[string]func(p *taper.Problem){
		"none":               func(*taper.Problem) {},
		"no source":          func(p *taper.Problem) { p.Sources = nil },
		"level":              func(p *taper.Problem) { p.Slope = 0 },
		"upwards":            func(p *taper.Problem) { p.Slope = -0.02 },
		"no number":          func(p *taper.Problem) { p.Slope = math.NaN() },
		"endless":            func(p *taper.Problem) { p.Slope = math.Inf(1) },
		"no direction":       func(p *taper.Problem) { p.Gauge.Normals = nil },
		"another surface":    func(p *taper.Problem) { p.Base.Z = p.Base.Z[1:] },
		"thinner than none":  func(p *taper.Problem) { p.Thickness = -0.01 },
		"no thickness known": func(p *taper.Problem) { p.Thickness = math.NaN() },
	} {
		p := good
		change(&p)
		if _, err := taper.Solve(&p); (err == nil) != (name == "none") {
			t.Errorf("%s: %v", name, err)
		}
		p.Slope, p.Thickness = good.Slope, good.Thickness
		_, err := taper.Lay(&p)
		if ok := len(p.Sources) > 0 && len(p.Gauge.Normals) > 0 && len(p.Base.Z) == len(good.Base.Z); (err == nil) != ok {
			t.Errorf("%s, laid: %v", name, err)
		}
	}
	shape.Curb(r, shape.Bare(5, 0), shape.Bare(6, 0), shape.Bare(6, 8), shape.Bare(5, 8))
	s = built(t, r)
	d = planOf(t, s)
	cut := taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Sources: taper.Sources(s), Gauge: domain.FourWay(d.Axis), Slope: 0.02}
	if _, err := taper.Solve(&cut); err == nil {
		t.Error("a part that is cut off was given a surface")
	}
	if _, err := taper.Lay(&cut); err == nil {
		t.Error("a part that is cut off was laid with boards")
	}
}
