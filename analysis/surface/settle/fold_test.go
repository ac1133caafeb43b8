package settle_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/roof"
	"runnel/analysis/surface"
)

// uncoded is a walled roof of 30 by 20 m, turned by angle, shot on a grid of the given step that keeps to the axes, with nothing coded and no
// elevations on its outline; height is in its own axes, u from 0 to 30 and v from -10 to 10. A scupper stands at u = 0, v = 0, its floor 12 mm down.
func uncoded(step, angle float64, height func(u, v float64) float64) *roof.Roof {
	sin, cos := math.Sincos(angle)
	corner := func(u, v float64) roof.Position { return shape.Bare(u*cos-v*sin, u*sin+v*cos) }
	r := shape.New("uncoded", corner(0, -10), corner(30, -10), corner(30, 10), corner(0, 10))
	for x := -40.0; x < 40; x += step {
		for y := -40.0; y < 40; y += step {
			if u, v := x*cos+y*sin, y*cos-x*sin; u > 0.15 && u < 29.85 && math.Abs(v) < 9.85 {
				shape.Spot(r, x, y, height(u, v))
			}
		}
	}
	o := shape.Scupper(r, 0, 0, 0.2)
	o.Invert, o.HasInvert = height(0, 0)-0.012, true
	return r
}

// Shot without error, the surface of two planes is exact whatever the grid once their fold is found: over 30 by 20 m the integral of
// 0.005 u + 0.02 |v| is 600 (0.075 + 0.1) m3 for a valley and 600 (0.075 - 0.1) m3 for a ridge. The valley drains to its scupper: no pond, where
// triangles across it would dam it.
func TestUncodedFoldsAreFound(t *testing.T) {
	for _, step := range []float64{1.5, 2.3, 3, 4, 5} {
		for _, side := range []float64{0.02, -0.02} {
			s := build(t, uncoded(step, 0.44, func(u, v float64) float64 { return 0.005*u + side*math.Abs(v) }))
			if s.Folds != 1 || !says(s, "1 fold that nobody coded was found") {
				t.Errorf("step %g, side %g: %d folds, %v", step, side, s.Folds, s.Warnings)
			}
			if v, want := volume(s.TIN), 600*(0.075+5*side); !near(v, want, 0.01) {
				t.Errorf("step %g, side %g: volume %.4f, want %.4f", step, side, v, want)
			}
			for v := range s.TIN.X {
				if s.TIN.Found[v] != (s.TIN.Interpolation[v] > 0) {
					t.Errorf("step %g: vertex %d: found %v, doubt %g", step, v, s.TIN.Found[v], s.TIN.Interpolation[v])
				}
			}
			if side < 0 {
				continue
			}
			ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
			if err != nil {
				t.Fatal(err)
			}
			for i := range ps.Ponds {
				if d := ps.Ponds[i].Depth; d > 0.0005 {
					t.Errorf("step %g: a pond of %.1f mm", step, 1000*d)
				}
			}
		}
	}
}

// The same valley, coded: nothing is found, and the coded line bears the surface.
func TestCodedFoldsStay(t *testing.T) {
	r := uncoded(3, 0.44, func(u, v float64) float64 { return 0.005*u + 0.02*math.Abs(v) })
	sin, cos := math.Sincos(0.44)
	shape.Breakline(r, roof.Valley, shape.At(0, 0, 0), shape.At(30*cos, 30*sin, 0.15))
	s := build(t, r)
	if s.Folds != 0 || says(s, "nobody coded") {
		t.Errorf("%d folds found beside a coded line", s.Folds)
	}
	for e, flag := range s.TIN.Flag {
		if flag&surface.FoldEdge != 0 {
			t.Errorf("half-edge %d is a found fold", e)
		}
	}
}
