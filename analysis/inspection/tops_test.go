package inspection_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// cornered is a roof of 20 x 12 m that falls at 2 % to a drain before its south wall, with a spot each 2 m from 1 m off the walls on. Its corners stand over the
// roof by these [m].
func cornered(over [4]float64) *roof.Roof {
	z := func(_, y float64) float64 { return 0.02 * y }
	r := shape.New("walled", shape.At(0, 0, over[0]), shape.At(20, 0, over[1]), shape.At(20, 12, 0.24+over[2]), shape.At(0, 12, 0.24+over[3]))
	shape.Grid(r, 1, 1, 19, 11, 9, 5, z)
	shape.Drain(r, 10, 0.5, 0.3).Invert = 0
	return r
}

// TestCornersOnWalls: the plane of the spots runs on to the corners, so what is said of them is what was put on them. It takes 4 in and 4 % of the way to the
// nearest spot, which is at (1, 1): 101.6 mm and 56.6 mm; and half of the corners.
func TestCornersOnWalls(t *testing.T) {
	needed := 0.1016 + 0.04*math.Sqrt2
	for _, c := range []struct {
		name string
		over [4]float64
		said int
		mean float64
	}{
		{"on the roof", [4]float64{}, 0, 0},
		{"on the walls", [4]float64{0.3, 0.3, 0.3, 0.3}, 4, 0.3},
		{"two on the walls", [4]float64{0.2, 0.4, 0, 0}, 2, 0.3},
		{"one on a wall", [4]float64{0.4, 0, 0, 0}, 0, 0},
		{"just too low", [4]float64{needed - 1e-4, needed - 1e-4, needed - 1e-4, needed - 1e-4}, 0, 0},
		{"just high enough", [4]float64{needed + 1e-4, needed + 1e-4, needed + 1e-4, needed + 1e-4}, 4, needed + 1e-4},
		{"below the roof", [4]float64{-0.3, -0.3, -0.3, -0.3}, 0, 0},
	} {
		found := of(run(t, cornered(c.over), nil), finding.CornersHigh)
		if c.said == 0 {
			if len(found) != 0 {
				t.Errorf("%s: %s", c.name, plain(found[0].What))
			}
			continue
		}
		if len(found) != 1 {
			t.Errorf("%s: %d findings", c.name, len(found))
			continue
		}
		f := found[0]
		if f.What.Args[0].Value != float64(c.said) || math.Abs(f.Measured[0].Value-c.mean) > 2e-5 || f.Severity != finding.Note {
			t.Errorf("%s: %s, %+v", c.name, plain(f.What), f.Measured)
		}
		if do := plain(f.Do); !strings.Contains(do, "elevations=tops") {
			t.Errorf("%s: %s", c.name, do)
		}
	}
	free := cornered([4]float64{0.3, 0.3, 0.3, 0.3})
	free.Outline.Edge = roof.Free
	if found := of(run(t, free, nil), finding.CornersHigh); len(found) != 0 {
		t.Errorf("a free edge has no wall: %s", plain(found[0].What))
	}
}
