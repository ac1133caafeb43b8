package trial_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/ponding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
	"runnel/analysis/trial"
)

// pan is a roof of 10 x 10 m whose walls' feet stand at 10 m and whose middle at 9.9 m, an upside-down pyramid, with a scupper in the middle of
// the east wall at 10 m: the water that stands in it is 10 * 10 * 0.1 / 3 m3.
func pan(t *testing.T) (*surface.Surface, *ponding.Ponds) {
	t.Helper()
	at := func(x, y, z float64) roof.Position { return roof.Position{Plan: orb.Point{x, y}, Z: z, HasZ: true} }
	r := &roof.Roof{
		Frame:   roof.NewLocal(orb.Point{}, quantity.Metres),
		Outline: roof.Outline{Rings: [][]roof.Position{{at(0, 0, 10), at(10, 0, 10), at(10, 10, 10), at(0, 10, 10), at(0, 0, 10)}}},
		Spots:   []roof.Spot{{Position: at(5, 5, 9.9)}},
		Outlets: []roof.Outlet{{Plan: orb.Point{10, 5}, Type: roof.Scupper, Width: 0.2, Invert: 10, HasInvert: true, Label: "SC-1"}},
	}
	s, err := surface.Build(r, surface.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		t.Fatal(err)
	}
	return s, p
}

func tried(t *testing.T, s *surface.Surface, p *ponding.Ponds, changes ...trial.Change) *trial.Result {
	t.Helper()
	r, err := trial.Of(s, p, changes)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func water(r *trial.Result) (depth, volume float64) {
	for i := range r.Ponds.Ponds {
		depth, volume = max(depth, r.Ponds.Ponds[i].Depth), volume+r.Ponds.Ponds[i].Volume
	}
	return depth, volume
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.6f, want %.6f", what, got, want)
	}
}

// Without a change the water is that as found: a pyramid's third.
func TestNothingChanged(t *testing.T) {
	s, p := pan(t)
	depth, volume := water(tried(t, s, p))
	near(t, "depth", depth, 0.1, 1e-9)
	near(t, "volume", volume, 10*10*0.1/3, 1e-6)
}

// The outlet set half-way down lets half the depth go. By hand: on three sides a quarter of a triangle of 25 m2 stays wet, 6.25 m2 with a depth of
// 0.05 m at one corner and none at the others, a third of it on average. To the east the water reaches the scupper: half of two triangles
// of 5 by 4.9 m, and the one of 5 by 0.2 m between them, with the same average.
func TestOutletSetDown(t *testing.T) {
	s, p := pan(t)
	r := tried(t, s, p, trial.Change{Kind: trial.SetOutlet, Outlet: 0, Invert: 9.95})
	depth, volume := water(r)
	near(t, "depth", depth, 0.05, 1e-9)
	near(t, "volume", volume, (3*6.25+2*5*4.9/4+5*0.2/2)*0.05/3, 1e-6)
	near(t, "cut", r.Cut, 0.05, 1e-9)
	again, _ := water(tried(t, s, p))
	near(t, "depth as found, afterwards", again, 0.1, 1e-9)
}

// The outlet set up holds the water higher: the pan with walls of its own, a pyramid and a layer on it.
func TestOutletSetUp(t *testing.T) {
	s, p := pan(t)
	depth, volume := water(tried(t, s, p, trial.Change{Kind: trial.SetOutlet, Outlet: 0, Invert: 10.02}))
	near(t, "depth", depth, 0.12, 1e-9)
	near(t, "volume", volume, 10*10*0.1/3+10*10*0.02, 1e-6)
}

// A roof whose only outlet is blocked has no way out at any level.
func TestBlocked(t *testing.T) {
	s, p := pan(t)
	r := tried(t, s, p, trial.Change{Kind: trial.Block, Outlet: 0})
	if n := len(r.Ponds.Ponds); n != 1 || !r.Ponds.Ponds[0].Undrained {
		t.Errorf("%d ponds, want one without a way out", n)
	}
}

// A way out cut to a straight fall needs an outlet that takes water there: with the outlet set down to the pit the cut dries the pan.
func TestShaved(t *testing.T) {
	s, p := pan(t)
	depth, _ := water(tried(t, s, p, trial.Change{Kind: trial.Shave, Pond: 0}))
	near(t, "depth with an outlet that takes nothing so low", depth, 0.1, 1e-9)
	r := tried(t, s, p, trial.Change{Kind: trial.SetOutlet, Outlet: 0, Invert: 9.9}, trial.Change{Kind: trial.Shave, Pond: 0})
	depth, _ = water(r)
	near(t, "depth", depth, 0, 1e-9)
	near(t, "cut", r.Cut, 0.1, 1e-9)
}

// A fill stands at the lip's level and rises from there by a quarter inch in the foot. Source: the slope times the distance from the pit, and the pit's depth.
func TestFilled(t *testing.T) {
	s, p := pan(t)
	r := tried(t, s, p, trial.Change{Kind: trial.Fill, Pond: 0})
	depth, _ := water(r)
	near(t, "depth", depth, 0, 1e-9)
	lip := p.Ponds[0].Lip
	near(t, "built", r.Raised, 0.1+math.Hypot(s.Cut.X[lip]-5, s.Cut.Y[lip]-5)/48, 1e-9)
}
