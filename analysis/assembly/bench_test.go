package assembly_test

import (
	"math"
	"testing"

	"runnel/analysis/assembly"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// waves is a roof of n by n spots a metre apart on gentle waves: many ponds.
func waves(n int) *roof.Roof {
	l := float64(n)
	r := shape.New("waves", shape.At(0, 0, 0), shape.At(l, 0, 0), shape.At(l, l, 0), shape.At(0, l, 0))
	for y := 1.0; y < l; y++ {
		for x := 1.0; x < l; x++ {
			shape.Spot(r, x, y, math.Round(1e5*0.05*math.Sin(x/3)*math.Cos(y/4))/1e5)
		}
	}
	return r
}

// BenchmarkWithoutCores is what a roof pays that has none: the places to cut first in its ponds.
func BenchmarkWithoutCores(b *testing.B) { bench(b, 0) }

// BenchmarkTenCores adds the regions and the thermal resistance over every facet.
func BenchmarkTenCores(b *testing.B) { bench(b, 10) }

func bench(b *testing.B, cores int) {
	b.Helper()
	r := waves(100)
	for i := range cores {
		r.Cores = append(r.Cores, core("K", [2]float64{float64(7*i + 3), float64((37*i)%90 + 4)}, 0.1, "wood"))
	}
	in := study(b, r, false)
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		assembly.Of(in)
	}
}
