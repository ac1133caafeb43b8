package shape_test

import (
	"testing"

	"runnel/analysis/geometry/shape"
)

// By hand: two by one squares of 0.5 m, six spots, four facets, none assumed.
func TestHeights(t *testing.T) {
	s := shape.Build(t, shape.Heights(0.5, []float64{0, 0.1, 0.2}, []float64{0.3, 0.3, 0.3}))
	if s.Area != 0.5 || s.TIN.Facets() != 4 || len(s.TIN.X) != 6 || s.AssumedShare != 0 {
		t.Errorf("area %g, %d facets, %d vertices, assumed %g", s.Area, s.TIN.Facets(), len(s.TIN.X), s.AssumedShare)
	}
	for v := range s.TIN.X {
		if x, y, z := s.TIN.X[v], s.TIN.Y[v], s.TIN.Z[v]; y == 0 && z != x/5 || y == 0.5 && z != 0.3 {
			t.Errorf("(%g, %g) stands at %g", x, y, z)
		}
	}
}
