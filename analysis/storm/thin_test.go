package storm

import (
	"math"
	"testing"
)

// TestHydrographHoldsTheVolume: the samples of an outlet enclose what it took, and its peak is one of them. The
// hydrograph may be off by thinFlow and by what was kept before, a hundredth of the peak, at any time.
func TestHydrographHoldsTheVolume(t *testing.T) {
	s := survey(t, 300)
	r := route(t, s, weirs(s, 0.2), Storm{Rain: hours(2), After: 3600}, Case{})
	for i, o := range r.Outlets {
		if o.PeakFlow == 0 {
			continue
		}
		sum, peak := 0.0, 0.0
		for j, x := range o.Samples {
			peak = math.Max(peak, x.Flow)
			if j > 0 {
				sum += (x.Time - o.Samples[j-1].Time) * (x.Flow + o.Samples[j-1].Flow) / 2
			}
		}
		if peak != o.PeakFlow || math.Abs(sum-o.Volume) > 0.015*o.PeakFlow*(r.Ended+3600) || len(o.Samples) > 400 {
			t.Errorf("outlet %d: %d samples with a peak of %g and %g m3, it took %g and %g", i, len(o.Samples), peak, sum, o.PeakFlow, o.Volume)
		}
	}
}
