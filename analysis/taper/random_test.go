package taper_test

import (
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/study"
	"runnel/analysis/taper"
)

func TestRandomTry(t *testing.T) {
	for seed := range uint64(400) {
		r := shape.Random(seed, 150)
		s := built(t, r)
		src := taper.Sources(s)
		if len(src) == 0 {
			continue
		}
		d := domain(t, s)
		out, err := taper.Least(&taper.Problem{Domain: d, Base: taper.Existing(s.TIN), Sources: src, Gauge: taper.FourWay(d.Axis), Slope: 1.0 / 48, Thickness: 0.0127})
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		again, err := study.Run(out.Roof(r, s), study.Options{})
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		for _, l := range again.Listed {
			p := again.Ponds.Ponds[l.Pond]
			t.Errorf("seed %d pond %+v", seed, p)
		}
		t.Logf("seed %d facets %d fill %.3f thin %.4f flow ok, area %g %g", seed, len(out.Facets), out.Fill.Volume, out.Fill.Thinnest, out.Fill.Area, s.Area)
	}
}
