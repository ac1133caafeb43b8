package record_test

import (
	"math"
	"testing"

	"runnel/analysis/roof"
	"runnel/export/record"
	"runnel/export/sample"
)

// Where no outlet is primary no water is that of blocked primary outlets, though none of them runs.
func TestNoPrimaryOutletsNoPrimaryWater(t *testing.T) {
	s := sample.Storm(sample.Local())
	for i := range s.Surface.Outlets {
		s.Surface.Outlets[i].Duty = roof.Overflow
	}
	for _, w := range record.NewBook(s, "", record.SI).Waters {
		if w.Primary {
			t.Errorf("with %s every primary outlet is blocked, of none", w.Case)
		}
	}
}

// Water is drawn in eight bands at most, by hand: 200 mm in bands of 25 mm, 225 mm in five of 50; 8 in of it in bands of 1 in, 9 in in five of 2.
// Bands follow each other without gap, the last to the deepest.
func TestBandsOfDeepWater(t *testing.T) {
	for _, c := range []struct {
		u           record.Units
		deep, width float64
		bands       int
	}{
		{record.SI, 0.199, 0.025, 8}, {record.SI, 0.224, 0.05, 5}, {record.US, 7.9 * 0.0254, 0.0254, 8}, {record.US, 8.9 * 0.0254, 2 * 0.0254, 5},
	} {
		s := sample.Storm(sample.Local())
		first := &s.Storm.Cases[0]
		low := math.Inf(1)
		for _, z := range s.Surface.Cut.Z {
			low = math.Min(low, z)
		}
		for i := range first.Envelope {
			first.Envelope[i] = low + c.deep
		}
		first.Deepest.Depth = c.deep
		bands := record.NewBook(s, "", c.u).Waters[0].Bands
		if len(bands) != c.bands {
			t.Errorf("%s, %v m: %d bands, want %d: %+v", c.u, c.deep, len(bands), c.bands, bands)
			continue
		}
		for i := 1; i < len(bands); i++ {
			if bands[i].From != bands[i-1].To || !(math.Abs(bands[i].From-float64(i)*c.width) <= 1e-9) {
				t.Errorf("%s: band %d from %v, the one before to %v, want %v", c.u, i, bands[i].From, bands[i-1].To, float64(i)*c.width)
			}
		}
	}
}
