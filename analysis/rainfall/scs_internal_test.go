package rainfall

import (
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
