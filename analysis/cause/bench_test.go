package cause_test

import (
	"testing"

	"runnel/analysis/cause"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
	"runnel/analysis/surface"
)

// BenchmarkOf diagnoses every pond of a rough roof of 20,000 spots; the ponds are counted.
func BenchmarkOf(b *testing.B) {
	c := standard.Defaults()
	s, err := surface.Build(shape.Random(7, 20000), surface.Options{})
	if err != nil {
		b.Fatal(err)
	}
	sl, err := slope.Of(s, nil, c)
	if err != nil {
		b.Fatal(err)
	}
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		b.Fatal(err)
	}
	all := make([]int32, len(ps.Ponds))
	for i := range all {
		all[i] = int32(i)
	}
	b.ReportAllocs()
	for b.Loop() {
		cause.Of(s, sl, ps, all, c)
	}
	b.ReportMetric(float64(len(all)), "ponds")
}
