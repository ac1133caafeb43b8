package rainfall

import (
	"math"
	"testing"

	"runnel/analysis/standard"
)

// By brute force over beginnings a minute apart no stretch of a day has more rain than the one taken. By hand: 75 minutes of type II are heaviest up to
// 12.5 h: 0.024 of the half hour before the peak, 0.38 in it and 0.072 after.
func TestSteepestStretch(t *testing.T) {
	for _, s := range standard.ScsStorms {
		for _, duration := range []float64{600, 2700, 4500, 8100, 20000, 80000} {
			begin := steepest(s.Cumulative, duration)
			rain := fallen(s.Cumulative, begin+duration) - fallen(s.Cumulative, begin)
			for other := 0.0; other+duration <= day; other += 60 {
				if more := fallen(s.Cumulative, other+duration) - fallen(s.Cumulative, other); more > rain+1e-9 {
					t.Fatalf("%s, %g s: %g from %g s on, but %g from %g s on", s.Name, duration, rain, begin, more, other)
				}
			}
			if s.Name == "scs-ii" && duration == 4500 && begin != 12.5*3600-4500 {
				t.Errorf("75 minutes begin at %g s", begin)
			}
		}
	}
}

// By hand: of 6 mm in 5 min, 8 in 10 and 20 in 60 as much again between as the time tells, and nothing before the first or beyond the last.
func TestDepthByDuration(t *testing.T) {
	f := &IDF{Duration: []float64{300, 600, 3600}, Depth: []float64{6, 8, 20}}
	for at, want := range map[float64]float64{300: 6, 450: 7, 600: 8, 1100: 10, 3600: 20} {
		if got, err := f.depth(at); err != nil || !(math.Abs(got-want) <= 1e-12) {
			t.Errorf("%g s: %g, %v, want %g", at, got, err, want)
		}
	}
	for _, at := range []float64{0, 299, 3601} {
		if got, err := f.depth(at); err == nil {
			t.Errorf("%g s: %g", at, got)
		}
	}
	if got, err := (&IDF{}).depth(300); err == nil {
		t.Errorf("of nothing: %g", got)
	}
}
