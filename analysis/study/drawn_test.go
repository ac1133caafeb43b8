package study_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// TestDrawnRoofIsNotDoubted: a spot 100 mm below an even fall of 2 % is odd on a survey and asked for again; on a design it is meant. A spot that the design
// took from those round it is no more measured than it was.
func TestDrawnRoofIsNotDoubted(t *testing.T) {
	h := func(x, _ float64) float64 { return 0.02 * x }
	r := shape.New("drawn", shape.At(0, 0, h(0, 0)), shape.At(12, 0, h(12, 0)), shape.At(12, 10, h(12, 10)), shape.At(0, 10, h(0, 10)))
	r.Sigma = 0.002
	r.Edges = append(r.Edges, roof.Edge{Line: []roof.Position{shape.At(0, 10, 0), shape.At(0, 0, 0)}, Type: roof.Gutter})
	shape.Grid(r, 0, 0, 12, 10, 12, 10, h)
	k := 0
	for i := range r.Spots {
		if r.Spots[i].Plan == shape.At(6, 5, 0).Plan {
			r.Spots[i].Z -= 0.1
			k = i
		}
	}
	for _, drawn := range []bool{false, true} {
		r.Outline.Elevations = map[bool]roof.Elevations{true: roof.Drawn}[drawn]
		s, err := study.Run(r, study.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if (len(s.Odd) == 0) != drawn || s.Survey.Odd > 0 == drawn || drawn && len(s.NextSpots) > 0 {
			t.Errorf("drawn %t: %d odd, %d places to shoot", drawn, len(s.Odd), len(s.NextSpots))
		}
	}
	r.Spots[k].Assumed = true
	s, err := study.Run(r, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for v := range s.Surface.TIN.X {
		if s.Surface.TIN.Assumed[v] {
			n++
			if math.Hypot(s.Surface.TIN.X[v]-6, s.Surface.TIN.Y[v]-5) > 1e-6 {
				t.Errorf("a vertex at %g, %g is assumed", s.Surface.TIN.X[v], s.Surface.TIN.Y[v])
			}
		}
	}
	if n != 1 {
		t.Errorf("%d assumed vertices, want the one", n)
	}
}
