package capacity_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/capacity"
	"runnel/analysis/quantity"
)

// The table of broad crests is for heads of 0.2 to 5.5 ft. By hand, a foot of a crest of 1.75 ft, half way between 1.5 and 2 ft, under 0.3 ft, half way between 0.2 and 0.4 ft: the
// coefficient is the mean of 2.62, 2.54, 2.64 and 2.61, 2.6025, and 2.6025 * 0.3^1.5 is 0.42763 ft3/s.
func TestBroadCrestBetweenTheRows(t *testing.T) {
	r, err := capacity.Of(capacity.Fitting{Kind: capacity.Edge, Method: capacity.BroadCrested, Width: quantity.Foot, CrestBreadth: 1.75 * quantity.Foot})
	if err != nil {
		t.Fatal(err)
	}
	foot := float64(quantity.Foot)
	if !(math.Abs(r.Low-0.2*foot) <= 1e-9) || !(math.Abs(r.High-5.5*foot) <= 1e-9) {
		t.Errorf("heads of %g to %g m", r.Low, r.High)
	}
	cubic := foot * foot * foot
	if got, want := r.Flow(0.3*foot)/cubic, 2.6025*math.Pow(0.3, 1.5); !(math.Abs(got-want) <= 1e-4*want) {
		t.Errorf("%.5f ft3/s, want %.5f", got, want)
	}
}

// Where both the leader and the pipe are asked for by methods that there are not, the error speaks of the first on the water's way.
func TestFirstErrorOnTheWay(t *testing.T) {
	f := capacity.Fitting{
		Kind: capacity.Drain, Diameter: 4 * quantity.Inch, Leader: capacity.Section{Width: 4 * quantity.Inch}, LeaderMethod: "by eye",
		Pipe: 4 * quantity.Inch, PipeSlope: 0.01, PipeMethod: "by ear",
	}
	if _, err := capacity.Of(f); err == nil || !strings.Contains(err.Error(), "by eye") {
		t.Errorf("%v", err)
	}
	f.LeaderMethod = ""
	if _, err := capacity.Of(f); err == nil || !strings.Contains(err.Error(), "by ear") {
		t.Errorf("%v", err)
	}
	f.PipeMethod = ""
	if _, err := capacity.Of(f); err != nil {
		t.Error(err)
	}
}
