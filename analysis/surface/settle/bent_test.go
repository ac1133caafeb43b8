package settle_test

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// edged is a roof of 40 by 20 m whose four corners have the elevations that relief gives them, with spots every 2.5 m, none nearer than 1.25 m to
// an edge.
func edged(relief func(x, y float64) float64, corner float64) *roof.Roof {
	at := func(x, y float64) roof.Position { return shape.At(x, y, relief(x, y)+corner) }
	r := shape.New("edged", at(0, 0), at(40, 0), at(40, 20), at(0, 20))
	shape.Grid(r, 1.25, 1.25, 38.75, 18.75, 16, 8, relief)
	return r
}

func gable(x, y float64) float64 { return 1 - 0.02*math.Abs(y-10) }

// A wall that crosses the ridge of a gable roof rises to it: between corners that alone were shot its foot is the roof's own profile, 200 mm over the straight line at the
// ridge, which the spots before it give to 7 mm (those next to the ridge have some from beyond it among their six nearest). The eaves are straight.
func TestWallAcrossARidgeIsNotStraight(t *testing.T) {
	s := build(t, edged(gable, 0))
	feet := 0
	for v := range s.TIN.X {
		x, y, z := s.TIN.X[v], s.TIN.Y[v], s.TIN.Z[v]
		switch {
		case (near(x, 0, 1e-9) || near(x, 40, 1e-9)) && y > 0.01 && y < 19.99:
			feet++
			if !(math.Abs(z-gable(x, y)) <= 0.007) {
				t.Errorf("foot at (%g, %g): %.4f, want %.4f", x, y, z, gable(x, y))
			}
		case (near(y, 0, 1e-9) || near(y, 20, 1e-9)) && x > 0.01 && x < 39.99:
			t.Errorf("a foot at (%g, %g) on the eaves", x, y)
		}
	}
	if feet < 16 || !says(s, "edges that do not run straight between their corners") {
		t.Errorf("%d feet", feet)
	}
	if s.AssumedShare == 0 {
		t.Error("nothing counts as assumed")
	}
}

// Where what the spots say lies along the straight line, or is off it alike all along, as before a curb at the edge, or by little, the edge stays straight. By hand: what is off
// a straight line by up to h in the middle, and by less toward the ends, is off by h over the root of 12 on the mean: 17 mm of 60, 29 mm of 100.
func TestStraightEdgesStayStraight(t *testing.T) {
	tent := func(h float64) func(x, y float64) float64 {
		return func(_, y float64) float64 { return 1 + h*(1-math.Abs(y-10)/10) }
	}
	plane := func(x, y float64) float64 { return 1 + 0.02*x + 0.01*y }
	drawn := edged(gable, 0)
	drawn.Outline.Elevations = roof.Drawn
	few := edged(gable, 0)
	few.Spots = slices.DeleteFunc(few.Spots, func(p roof.Spot) bool { return p.Plan[0] < 4 || p.Plan[0] > 36 })
	for _, y := range []float64{2, 10, 18} {
		shape.Spot(few, 1.25, y, gable(0, y))
		shape.Spot(few, 38.75, y, gable(0, y))
	}
	two := edged(plane, 0)
	shape.Edge(two, roof.Gutter, shape.Bare(0, 14), shape.Bare(0, 10))
	third := edged(func(_, y float64) float64 { return 1 + 0.04*math.Abs(y-5) }, 0)
	third.Spots = slices.DeleteFunc(third.Spots, func(p roof.Spot) bool { return p.Plan[1] > 9 && math.Abs(p.Plan[0]-20) > 16 })
	for name, c := range map[string]struct {
		r    *roof.Roof
		bent bool
	}{
		"a plane":                {edged(plane, 0), false},
		"edges 80 mm over it":    {edged(plane, 0.08), false},
		"60 mm in the middle":    {edged(tent(0.06), 0), false},
		"100 mm in the middle":   {edged(tent(0.1), 0), true},
		"100 mm down":            {edged(tent(-0.1), 0), true},
		"as designed":            {drawn, false},
		"wall, gutter, wall":     {two, false},
		"spots along a third":    {third, false},
		"three spots at an edge": {few, false},
	} {
		if s := build(t, c.r); (s.AssumedShare > 0) != c.bent {
			t.Errorf("%s: %g assumed", name, s.AssumedShare)
		}
	}
}

// Scatter of the spots bends no edge: with a stated error of 15 mm what is off by up to 100 mm in the middle, 29 mm on the mean, is less than four errors.
func TestScatterBendsNoEdge(t *testing.T) {
	r := edged(func(_, y float64) float64 { return 1 - 0.01*math.Abs(y-10) }, 0)
	for i := range r.Spots {
		r.Spots[i].Sigma = 0.015
	}
	if s := build(t, r); s.AssumedShare > 0 {
		t.Errorf("%g assumed", s.AssumedShare)
	}
	for i := range r.Spots {
		r.Spots[i].Sigma = 0.005
	}
	if s := build(t, r); s.AssumedShare == 0 {
		t.Error("an error of 5 mm hides 29 mm")
	}
}

// An edge whose kind changes at a point without an elevation is one stretch, and that point gets the roof's own profile as well.
func TestBentEdgeOfTwoKinds(t *testing.T) {
	r := edged(gable, 0)
	shape.Edge(r, roof.Gutter, shape.Bare(0, 20), shape.Bare(0, 8))
	s := build(t, r)
	if z := s.TIN.Z[at(t, s.TIN, 0, 8)]; !(math.Abs(z-gable(0, 8)) <= 0.007) {
		t.Errorf("where the kind changes: %.4f, want %.4f", z, gable(0, 8))
	}
}
