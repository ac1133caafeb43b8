package rainload_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/ponding"
	"runnel/analysis/rainload"
	"runnel/analysis/roof"
)

func BenchmarkOf(b *testing.B) {
	r := shape.Random(7, 100000)
	for i := range r.Outlets {
		r.Outlets[i].Duty = roof.Overflow
	}
	s := shape.Build(b, r)
	ps, err := ponding.Find(s.Cut, s.Outlets, s.Cut.Z)
	if err != nil {
		b.Fatal(err)
	}
	in := rainload.Input{TIN: s.Cut, Outlets: s.Outlets, Ponds: ps}
	for range s.Outlets {
		in.Inflow = append(in.Inflow, 1e-4*s.Area/float64(len(s.Outlets)))
		in.Laws = append(in.Laws, func(h float64) float64 { return 0.5 * h * math.Sqrt(h) })
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := rainload.Of(in); err != nil {
			b.Fatal(err)
		}
	}
}
