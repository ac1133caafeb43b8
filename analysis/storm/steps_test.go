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

// By hand: rates of 1, 0, 2 and 0 from 10, 60, 120 and 180 s to 240 s: each holds from its moment to the next, none before and after; the greatest is 2, and the last one above zero ends at 180 s.
func TestRatesBetweenMoments(t *testing.T) {
	s := Steps{[]float64{10, 60, 120, 180, 240}, []float64{1, 0, 2, 0}}
	for time, want := range map[float64]float64{0: 0, 9.9: 0, 10: 1, 59.9: 1, 60: 0, 119.9: 0, 120: 2, 179.9: 2, 180: 0, 240: 0, 300: 0} {
		if got := s.at(time); got != want {
			t.Errorf("at %g s: %g, want %g", time, got, want)
		}
	}
	if s.most() != 2 || s.end() != 180 {
		t.Errorf("most %g, ends at %g s", s.most(), s.end())
	}
	for _, none := range []Steps{{}, {[]float64{0, 60}, []float64{0}}} {
		if none.most() != 0 || none.end() != 0 || none.at(30) != 0 {
			t.Errorf("of %+v: most %g, end %g", none, none.most(), none.end())
		}
	}
	storm := Storm{Rain: s, Inflows: []Inflow{{Flow: Steps{[]float64{0, 500}, []float64{1}}}, {Flow: Steps{[]float64{0, 50}, []float64{1}}}}}
	if got := storm.ends(); got != 500 {
		t.Errorf("rain and inflow end at %g s", got)
	}
}
