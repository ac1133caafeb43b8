package drawing

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/study"
	"runnel/export/sample"
)

// area returns the area of rings, each counted with the sign of its sense.
func area(rings [][]orb.Point) float64 {
	sum := 0.0
	for _, ring := range rings {
		for i := range ring {
			a, b := ring[i], ring[(i+1)%len(ring)]
			sum += (a[0]*b[1] - b[0]*a[1]) / 2
		}
	}
	return sum
}

// TestDepthClassesAreLevels: at the full level the rings hold the pond's area, which package ponding computes facet by facet;
// the integral of the area over all levels is the pond's volume.
func TestDepthClassesAreLevels(t *testing.T) {
	s, err := study.Run(sample.Local(), study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Listed) == 0 {
		t.Fatal("the sample has no pond")
	}
	for _, l := range s.Listed {
		p := &s.Ponds.Ponds[l.Pond]
		if got := area(below(s.Surface.Cut, p.Facets, p.Level)); !(math.Abs(got-p.Area) <= 1e-6) {
			t.Errorf("%s: %.7f m2, want %.7f", l.ID, got, p.Area)
		}
		volume := 0.0
		const steps = 2000
		for i := range steps {
			volume += area(below(s.Surface.Cut, p.Facets, p.Level-p.Depth*(float64(i)+0.5)/steps)) * p.Depth / steps
		}
		if !(math.Abs(volume-p.Volume) <= 1e-4*p.Volume) {
			t.Errorf("%s: %.7f m3, want %.7f", l.ID, volume, p.Volume)
		}
	}
}
