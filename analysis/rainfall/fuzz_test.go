package rainfall_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/rainfall"
)

// What is read as a storm is one: its rain adds up, and no time or rate is out of order.
func FuzzReadPattern(f *testing.F) {
	for _, seed := range []string{
		"time_min,cumulative_mm\n0,0\n20,10\n30,40\n", "Depth (mm), Time (min)\n10,20\n30,30\n",
		"time_h,rate_in_per_h\n0,3\n0.3,1\n0.5,0\n", "time_s,fraction_pct\n20,25\n30,100\n", "# a\n\"time_min\",depth_in\n1e-300,1\n1,1\n",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := rainfall.ReadPattern(strings.NewReader(text), "storm.csv")
		if err != nil {
			if p != nil {
				t.Fatalf("a pattern with %v", err)
			}
			return
		}
		depth := p.Depth
		if depth == 0 {
			depth = 0.05
		}
		h, err := p.Storm(depth, 0)
		if err != nil {
			return // steps too short or too heavy for a number
		}
		if err := h.Check(); err != nil {
			t.Fatal(err)
		}
		if got := h.Depth(); math.Abs(got-depth) > 1e-6*depth {
			t.Fatalf("%v m of rain, %v wanted", got, depth)
		}
	})
}
