package slope_test

import (
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
)

// A level strip one square wide between two falls has spots on its borders alone; of one three squares wide, the two rows inside bear it.
func TestInnerSpotsBearAPlane(t *testing.T) {
	for _, c := range []struct {
		levels []float64 // of the rows of spots
		inner  int       // of the flat plane: counted by hand
	}{
		{[]float64{0.6, 0.4, 0.2, 0.2, 0, -0.2}, 0},
		{[]float64{0.6, 0.4, 0.2, 0.2, 0.2, 0.2, 0, -0.2}, 2 * 6},
	} {
		var rows [][]float64
		for _, z := range c.levels {
			rows = append(rows, []float64{z, z, z, z, z, z})
		}
		s, err := slope.Of(shape.Build(t, shape.Heights(2, rows...)), nil, standard.Defaults())
		if err != nil {
			t.Fatal(err)
		}
		flat := 0
		for i := range s.Planes {
			if p := &s.Planes[i]; p.BelowMin {
				flat++
				if p.Inner != c.inner {
					t.Errorf("rows %v: %d inner spots, want %d", c.levels, p.Inner, c.inner)
				}
			}
		}
		if flat != 1 {
			t.Errorf("rows %v: %d flat planes, want 1", c.levels, flat)
		}
	}
}
