package storm

import (
	"math"
	"testing"
)

// Moments begin at 0 or later and rise, all finite; rates are finite and not negative, one between every two moments.
func TestStepsThatAreNone(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, s := range []Steps{{}, {[]float64{0, 60}, []float64{0}}, {[]float64{5, 60, 90}, []float64{1e-5, 0}}} {
		if err := s.check(); err != nil {
			t.Errorf("%+v: %v", s, err)
		}
	}
	for _, s := range []Steps{
		{[]float64{-1, 60}, []float64{0}},
		{[]float64{nan, 60}, []float64{0}},
		{[]float64{0, inf}, []float64{0}},
		{[]float64{0, nan}, []float64{0}},
		{[]float64{0, 60, 60}, []float64{0, 0}},
		{[]float64{60, 0}, []float64{0}},
		{[]float64{0, 60}, []float64{-1}},
		{[]float64{0, 60}, []float64{nan}},
		{[]float64{0, 60}, []float64{inf}},
		{[]float64{0, 60}, nil},
		{nil, []float64{1}},
		{[]float64{0, 60}, []float64{0, 0}},
		{[]float64{0}, []float64{0}},
	} {
		if s.check() == nil {
			t.Errorf("%+v is taken", s)
		}
	}
}
