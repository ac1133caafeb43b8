package study_test

import (
	"fmt"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
	"runnel/analysis/study"
)

// untied sets the spots of a roof off by up to a fifth of a millimetre each: where elevations are alike to the last digit, rounding decides.
func untied(r *roof.Roof) *roof.Roof {
	for i := range r.Spots {
		r.Spots[i].Z += 0.00001 * float64(i*i%41-20)
	}
	return r
}

// Whatever the roof, everything that a study holds is the same 384 m east and 640 m south of it, exact in binary: each number, word, index and
// place, the last 384 m east and 640 m south.
func TestAllOfAStudyElsewhere(t *testing.T) {
	by := orb.Point{384, -640}
	o := study.Options{
		Criteria: standard.Overrides{"rain_primary": 100 * float64(quantity.MillimetrePerHour), "rain_overflow": 200 * float64(quantity.MillimetrePerHour)}, NextSpots: 6,
	}
	ponds := 0
	compare := func(name string, make func() *roof.Roof) {
		here, err := study.Run(make(), o)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		r := make()
		shape.Places(r, func(p *orb.Point) { p[0], p[1] = p[0]+by[0], p[1]+by[1] })
		there, err := study.Run(r, o)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		ponds += len(here.Listed)
		for _, d := range shape.Differ(here, there, func(p orb.Point) orb.Point { return orb.Point{p[0] - by[0], p[1] - by[1]} }) {
			t.Errorf("%s: %s", name, d)
		}
	}
	for _, seed := range []uint64{0, 1, 4, 7, 11, 12, 13, 20, 26, 28, 34, 35} { // on which rounding settles no tie
		compare(fmt.Sprintf("random roof %d", seed), func() *roof.Roof { return untied(shape.Random(seed, 150)) })
	}
	compare("uneven roof", func() *roof.Roof { r, _ := uneven(); return r })
	compare("hollow", func() *roof.Roof {
		return shape.Scuppered(24, 12, 0.02, 8, 6, 1.5, func(x, y float64) float64 { return shape.Sagging(8, 6, 0.04, 4)(x, y) })
	})
	if ponds < 12 {
		t.Errorf("only %d ponds", ponds)
	}
}
