package ponding

import (
	"fmt"
	"testing"

	"runnel/analysis/surface"
)

func BenchmarkFind(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		for _, noise := range []float64{0, 0.003} {
			tin := waves(random(6), n, noise)
			open := openBorder(tin)
			b.Run(fmt.Sprintf("n=%d/noise=%g", n, noise), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Find(tin, []surface.Outlet{open}, tin.Z); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

func BenchmarkPour(b *testing.B) {
	tin := waves(random(6), 100_000, 0.003)
	ps, err := Find(tin, nil, tin.Z)
	if err != nil {
		b.Fatal(err)
	}
	pour := make([]float64, len(ps.Tree))
	for k := range pour {
		if ps.Tree[k].Left < 0 {
			pour[k] = 0.01
		}
	}
	for b.Loop() {
		ps.Empty().Pour(pour)
	}
}
