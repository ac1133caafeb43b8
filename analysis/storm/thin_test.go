package storm

import (
	"math"
	"testing"

	"runnel/analysis/roof"
	"runnel/analysis/surface"
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
			if j > 0 && x == o.Samples[j-1] {
				t.Errorf("outlet %d: sample %d stands there twice", i, j)
			}
			if j > 0 {
				sum += (x.Time - o.Samples[j-1].Time) * (x.Flow + o.Samples[j-1].Flow) / 2
			}
		}
		if peak != o.PeakFlow || !(math.Abs(sum-o.Volume) <= 0.015*o.PeakFlow*(r.Ended+3600)) || len(o.Samples) > 400 {
			t.Errorf("outlet %d: %d samples with a peak of %g and %g m3, it took %g and %g", i, len(o.Samples), peak, sum, o.PeakFlow, o.Volume)
		}
	}
}

// By hand: samples on one straight line are left out but for its ends, rising or falling; a corner stays.
func TestThinKeepsTheCornersOfAHydrograph(t *testing.T) {
	var list []Sample
	for i := range 21 {
		flow := 5 + float64(i)
		if i > 10 {
			flow = 15 - 0.5*float64(i-10)
		}
		list = append(list, Sample{Time: 60 * float64(i), Flow: flow})
	}
	got := thin(list, 15)
	if len(got) != 3 || got[0].Flow != 5 || got[1].Flow != 15 || got[2].Flow != 10 {
		t.Errorf("kept %v", got)
	}
}

// A drain takes water at the lowest of its vertices, whatever their numbers and order.
func TestMouthStandsAtTheLowestVertex(t *testing.T) {
	s := survey(t, 300)
	m, err := New(s, weirs(s, 0.2))
	if err != nil {
		t.Fatal(err)
	}
	high := int32(1)
	for m.z[high] <= m.z[0] {
		high++
	}
	for _, vertices := range [][]int32{{0, high}, {high, 0}} {
		if x := m.mouthOf(&surface.Outlet{Type: roof.Drain, Vertices: vertices}, weir(0.2)); x.vertex != 0 {
			t.Errorf("of %v at vertex %d", vertices, x.vertex)
		}
	}
}
