package study_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/study"
)

// ringSurvey is a roof of two by two four-way bays that drain, shot with an error of 3 mm round its edge every step and at its drains: at each, or at four places half a metre off it.
// Nobody shot the ridges between the bays.
func ringSurvey(bay, slope, step float64, round bool, seed uint64) *roof.Roof {
	const sigma = 0.003
	random := rand.New(rand.NewPCG(seed, 3))
	l := 2 * bay
	r := shape.New("ring", shape.Bare(0, 0), shape.Bare(l, 0), shape.Bare(l, l), shape.Bare(0, l))
	shot := func(x, y float64) {
		off := func(v float64) float64 { return math.Abs(math.Mod(v, bay) - bay/2) }
		shape.Spot(r, x, y, slope*math.Max(off(x), off(y))+sigma*random.NormFloat64())
	}
	const inset = 0.15
	for x := inset; x < l; x += step {
		shot(x, inset)
		shot(x, l-inset)
	}
	for y := inset + step; y < l-inset; y += step {
		shot(inset, y)
		shot(l-inset, y)
	}
	for i := range 4 {
		x, y := (float64(i%2)+0.5)*bay, (math.Floor(float64(i)/2)+0.5)*bay
		o := shape.Drain(r, x, y, 0.3)
		o.Invert, o.HasInvert = sigma*random.NormFloat64(), true
		if !round {
			shape.Spot(r, x, y, o.Invert)
			continue
		}
		for k := range 4 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 2)
			shot(x+0.5*cos, y+0.5*sin)
		}
	}
	for i := range r.Spots {
		r.Spots[i].Sigma = quantity.Length(sigma)
	}
	return r
}

// TestRingSurveys: a survey round the edge and at the drains says nothing of the middle of a roof. The planes that it does show were laid on until they met there, 50 to 100 mm below all
// that was measured: of these 240 drained roofs 37 had a pond, of 100 m2 most. One in a hundred may have one by errors alone, give or take two of their own.
func TestRingSurveys(t *testing.T) {
	roofs, bad := 0, 0
	for _, step := range []float64{1.5, 2, 3, 4.5} {
		for _, bay := range []float64{8, 11, 16} {
			for _, slope := range []float64{0.01, 0.0208} {
				for seed := range uint64(10) {
					s, err := study.Run(ringSurvey(bay, slope, step, seed%2 == 0, seed), study.Options{FindingsOnly: true})
					if err != nil {
						t.Fatal(err)
					}
					roofs++
					for i := range s.Findings {
						if f := &s.Findings[i]; f.Pond >= 0 && f.Severity >= finding.Repair {
							bad++
							break
						}
					}
				}
			}
		}
	}
	t.Logf("%d of %d drained roofs have a pond", bad, roofs)
	if bad > 5 {
		t.Errorf("%d of %d drained roofs have a pond", bad, roofs)
	}
}
