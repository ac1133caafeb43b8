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

// A roof of 18 by 9 m falls 2 % to two drains, as far below its walls as they are from them: 90 mm. Spots stand along the walls alone, where a square fall has one level all round. That they lie
// on one level plane says nothing of what is inside it, and nothing is to be repaired; with spots all over it no plane is flat at all.
func TestLevelRingIsNoLevelRoof(t *testing.T) {
	height := func(x, y float64) float64 {
		return 0.02 * math.Min(math.Max(math.Abs(x-4.5), math.Abs(y-4.5)), math.Max(math.Abs(x-13.5), math.Abs(y-4.5)))
	}
	r := shape.New("ring", shape.At(0, 0, 0.09), shape.At(18, 0, 0.09), shape.At(18, 9, 0.09), shape.At(0, 9, 0.09))
	for _, x := range []float64{4.5, 13.5} {
		o := shape.Drain(r, x, 4.5, 0.3)
		o.Invert, o.HasInvert = 0, true
	}
	for k := 1.5; k < 18; k += 1.5 {
		shape.Spot(r, k, 0.15, height(k, 0.15))
		shape.Spot(r, k, 8.85, height(k, 8.85))
	}
	for k := 1.5; k < 9; k += 1.5 {
		shape.Spot(r, 0.15, k, height(0.15, k))
		shape.Spot(r, 17.85, k, height(17.85, k))
	}
	all := run(t, r, standard.Overrides{})
	for _, f := range of(all, finding.PlaneFlat) {
		if f.Severity > finding.Note || f.Confidence != finding.NotResolved {
			t.Errorf("%s, %s: %s", f.Severity, f.Confidence, f.What.Format)
		}
	}
	if len(of(all, finding.SurveyThin)) == 0 {
		t.Error("nothing is said of the part without spots")
	}
}
