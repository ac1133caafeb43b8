package taper_test

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/taper"
)

// TestUnder: a gauge whose polygon of normals lies in another's measures no way longer. A two-way gauge of ratio 1 is the four-way one; the eight-way one's
// octagon, corners on the unit circle, holds the square of the four-way one; along and across neither holds the other; twice the slope holds all.
func TestUnder(t *testing.T) {
	east, north := orb.Point{1, 0}, orb.Point{0, 1}
	four, eight := taper.FourWay(east), taper.EightWay(east)
	narrow, wide := taper.TwoWay(east, 0.5), taper.TwoWay(east, 0.75)
	for _, c := range []struct {
		name string
		a, b taper.Problem
		want bool
	}{
		{"four-way under eight-way", taper.Problem{Gauge: four, Slope: 0.02}, taper.Problem{Gauge: eight, Slope: 0.02}, true},
		{"eight-way under four-way", taper.Problem{Gauge: eight, Slope: 0.02}, taper.Problem{Gauge: four, Slope: 0.02}, false},
		{"narrow under wide", taper.Problem{Gauge: narrow, Slope: 0.02}, taper.Problem{Gauge: wide, Slope: 0.02}, true},
		{"wide under narrow", taper.Problem{Gauge: wide, Slope: 0.02}, taper.Problem{Gauge: narrow, Slope: 0.02}, false},
		{"ratio 1 under four-way", taper.Problem{Gauge: taper.TwoWay(east, 1), Slope: 0.02}, taper.Problem{Gauge: four, Slope: 0.02}, true},
		{"four-way under ratio 1", taper.Problem{Gauge: four, Slope: 0.02}, taper.Problem{Gauge: taper.TwoWay(north, 1), Slope: 0.02}, true},
		{"along under across", taper.Problem{Gauge: narrow, Slope: 0.02}, taper.Problem{Gauge: taper.TwoWay(north, 0.5), Slope: 0.02}, false},
		{"flatter under steeper", taper.Problem{Gauge: eight, Slope: 0.01}, taper.Problem{Gauge: four, Slope: 0.02}, true},
		{"steeper under flatter", taper.Problem{Gauge: four, Slope: 0.03}, taper.Problem{Gauge: four, Slope: 0.02}, false},
	} {
		if got := c.a.Under(&c.b); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}

// TestUnderBoundsTheFill: over random bases, what a gauge that is under another begins with is no more than what the other begins or ends with.
func TestUnderBoundsTheFill(t *testing.T) {
	compared := 0
	for seed := range uint64(30) {
		s := built(t, shape.Random(seed, 60))
		sources := taper.Sources(s)
		if len(sources) == 0 {
			continue
		}
		d := domain(t, s)
		gauges := []taper.Gauge{taper.TwoWay(d.Axis, 0.5), taper.TwoWay(d.Axis, 0.75), taper.FourWay(d.Axis), taper.EightWay(d.Axis)}
		least := 0.0
		for i, g := range gauges {
			p := &taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Sources: sources, Gauge: g, Slope: 1.0 / 48, Thickness: 0.01}
			begun, err := taper.Start(p)
			if err != nil {
				t.Fatal(err)
			}
			ended, err := taper.Solve(p)
			if err != nil {
				t.Fatal(err)
			}
			v := begun.Volume()
			if i > 0 && (v < least-1e-6 || ended.Volume() < least-1e-6) {
				t.Errorf("seed %d: %s begins with %g and ends with %g m3, one under it begins with %g", seed, g.Name, v, ended.Volume(), least)
			}
			least = v
			compared++
		}
	}
	if compared < 60 {
		t.Errorf("only %d layouts", compared)
	}
}
