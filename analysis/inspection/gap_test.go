package inspection_test

import (
	"math"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// A roof of 40 by 24 m with spots every 2 m and none within 5 m of (21, 13): by hand the nearest that are left are
// (17, 9), (25, 9), (17, 17) and (25, 17), 4 m off either way, so that the circle without a spot is 2 root(32) = 11.3 m wide. With all its spots the roof has no such part.
func TestPartOfTheRoofWithoutSpots(t *testing.T) {
	for _, hole := range []float64{5, 0} {
		r := shape.New("gap", shape.At(0, 0, 0), shape.At(40, 0, 0), shape.At(40, 24, 0.48), shape.At(0, 24, 0.48))
		shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(40, 0))
		for y := 1.0; y < 24; y += 2 {
			for x := 1.0; x < 40; x += 2 {
				if math.Hypot(x-21, y-13) >= hole {
					shape.Spot(r, x, y, 0.02*y)
				}
			}
		}
		var wide []float64
		for _, f := range of(run(t, r, standard.Overrides{}), finding.SurveyThin) {
			if w := measured(f, "across"); w > 0 {
				wide = append(wide, w)
			}
		}
		switch {
		case hole == 0 && len(wide) > 0:
			t.Errorf("a gap of %g m on a full grid", wide[0])
		case hole > 0 && (len(wide) != 1 || math.Abs(wide[0]-2*math.Sqrt(32)) > 0.01):
			t.Errorf("%g m wide, want %g", wide, 2*math.Sqrt(32))
		}
	}
}
