package storm

import (
	"math"
	"testing"
)

// Fifteen points are exact for polynomials to the degree 23, seven to the degree 13 (Gauss and Kronrod); by hand the integral of x^n from 1 to 3 is (3^(n+1) - 1)/(n+1).
func TestKronrodIsExactOnPolynomials(t *testing.T) {
	for n := 0; n <= 23; n++ {
		fine, coarse := kronrod(1, 3, func(x float64) float64 { return math.Pow(x, float64(n)) })
		want := (math.Pow(3, float64(n+1)) - 1) / float64(n+1)
		if !(math.Abs(fine-want) <= 1e-12*want) {
			t.Errorf("x^%d by fifteen points: %.15g, want %.15g", n, fine, want)
		}
		if n <= 13 && !(math.Abs(coarse-want) <= 1e-12*want) {
			t.Errorf("x^%d by seven points: %.15g, want %.15g", n, coarse, want)
		}
	}
	if fine, _ := kronrod(3, 1, func(float64) float64 { return 2 }); !(math.Abs(fine+4) <= 1e-12) {
		t.Errorf("back from 3 to 1: %g", fine)
	}
}

// By hand: of a way from 2 to 10 on which all past 7 is beyond, the last place is 7; where nothing is beyond it is the end, to the last digit.
func TestLastBefore(t *testing.T) {
	if got := lastBefore(2, 10, func(v float64) bool { return v > 7 }); !(math.Abs(got-7) <= 1e-12) || got > 7 {
		t.Errorf("%.17g", got)
	}
	if got := lastBefore(10, 2, func(v float64) bool { return v < 7 }); !(math.Abs(got-7) <= 1e-12) || got < 7 {
		t.Errorf("downwards %.17g", got)
	}
	if got := lastBefore(2, 10, func(float64) bool { return false }); !(math.Abs(got-10) <= 1e-12) {
		t.Errorf("to the end %.17g", got)
	}
	if got := lastBefore(2, 10, func(float64) bool { return true }); got != 2 {
		t.Errorf("nowhere %.17g", got)
	}
}

// By hand, of flows by time those on a straight line go, to half a percent of the peak; the ends, the peak and what stands off stay.
func TestThin(t *testing.T) {
	list := []Sample{{Time: 0, Flow: 0}, {Time: 1, Flow: 1}, {Time: 3, Flow: 3.049}, {Time: 4, Flow: 4}, {Time: 5, Flow: 10}, {Time: 6, Flow: 8}, {Time: 8, Flow: 4}, {Time: 9, Flow: 2.06}, {Time: 10, Flow: 0}}
	got := thin(append([]Sample{}, list...), 10)
	want := []float64{0, 4, 5, 9, 10}
	if len(got) != len(want) {
		t.Fatalf("%+v, want those at %v", got, want)
	}
	for i := range want {
		if got[i].Time != want[i] {
			t.Errorf("%+v, want those at %v", got, want)
		}
	}
	if got := thin(list[:2], 10); len(got) != 2 {
		t.Errorf("of two: %+v", got)
	}
	// The middle one of three that stands 0.06 off a line that falls and rises: kept at a peak of 10, not of 20.
	for peak, n := range map[float64]int{10: 3, 20: 2} {
		if got := thin([]Sample{{Time: 0, Flow: 2}, {Time: 2, Flow: 4.06}, {Time: 6, Flow: 8}}, peak); len(got) != n {
			t.Errorf("peak %g: %+v", peak, got)
		}
	}
}
