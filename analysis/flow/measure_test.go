package flow

import (
	"math"
	"testing"
)

// Measured in parts that are joined, a roof has the areas, means and longest ways that it has as a whole, from the same places.
func TestPartsAddUpToTheWhole(t *testing.T) {
	for k := range 12 {
		s, _ := randomRoof(t, k)
		n, err := Prepare(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		v := newSolver(n, n.options)
		v.solve()
		n.measure(v)
		facets := int32(n.t.Facets())
		joined := n.newSums(v)
		for from := int32(0); from < facets; from += 37 {
			part := n.newSums(v)
			part.add(from, min(facets, from+37))
			joined.join(part)
		}
		for l := range n.Ends {
			mean := 0.0
			if joined.areas[l] > 0 {
				mean = joined.travels[l] / joined.areas[l]
			}
			if !(math.Abs(joined.areas[l]-n.Area[l]) <= 1e-9) || !(math.Abs(joined.levels[l]-n.Level[l]) <= 1e-9) || !(math.Abs(mean-n.TravelMean[l]) <= 1e-9) ||
				joined.longest[l] != n.TravelMax[l] || joined.farthest[l] != n.Farthest[l] {
				t.Errorf("roof %d, label %d: %v m2, %v m at most from %v, in parts %v, %v, %v", k, l, n.Area[l], n.TravelMax[l], n.Farthest[l],
					joined.areas[l], joined.longest[l], joined.farthest[l])
			}
		}
	}
}

// For travel alone the figures are those of a whole trace.
func TestTravelOnly(t *testing.T) {
	s, _ := randomRoof(t, 3)
	whole, err := Trace(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	n, err := Trace(s, Options{TravelOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	if n.lists.list != nil || whole.lists.list == nil {
		t.Error("labels are kept for travel alone, or not kept otherwise")
	}
	for l := range whole.Ends {
		if whole.TravelMax[l] != n.TravelMax[l] || whole.Area[l] != n.Area[l] {
			t.Errorf("label %d: %v and %v m, %v and %v m2", l, whole.TravelMax[l], n.TravelMax[l], whole.Area[l], n.Area[l])
		}
	}
}
