package rainfall_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/rainfall"
	"runnel/analysis/soak"
)

// What is read as a storm is one: its rain adds up, and no time or rate is out of order.
func patterns() *soak.Target {
	g := soak.New("FuzzReadPattern", "time_min", "time_h", "time_s", "cumulative_mm", "rate_in_per_h", "fraction_pct", "depth_in", "fraction", "depth (mm)")
	for _, seed := range []string{
		"time_min,cumulative_mm\n0,0\n20,10\n30,40\n", "Depth (mm), Time (min)\n10,20\n30,30\n",
		"time_h,rate_in_per_h\n0,3\n0.3,1\n0.5,0\n", "time_s,fraction_pct\n20,25\n30,100\n", "# a\n\"time_min\",depth_in\n1e-300,1\n1,1\n",
	} {
		g.Add(seed)
	}
	g.Property = func(t *testing.T, text string) {
		t.Helper()
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
		h, err := p.Storm(quantity.Length(depth), 0)
		if err != nil {
			return // steps too short or too heavy for a number
		}
		if err := h.Check(); err != nil {
			t.Fatal(err)
		}
		if got := h.Depth(); !(math.Abs(got-depth) <= 1e-6*depth) {
			t.Fatalf("%v m of rain, %v wanted", got, depth)
		}
	}
	return g
}

func FuzzReadPattern(f *testing.F) { patterns().Fuzz(f) }

func TestSoakReadPattern(t *testing.T) { patterns().Soak(t) }

// What is read as intensities by duration rises with the duration and falls with none.
func intensities() *soak.Target {
	g := soak.New("FuzzReadIDF", "duration_min", "duration_h", "depth_in", "rate_mm_per_h", "rate (mm/h)")
	for _, seed := range []string{
		"duration_min,depth_in\n5,0.5\n15,1\n60,2\n", "Duration (h), Rate (mm/h)\n0.1,100\n1,40\n24,4\n", "duration_s,depth_mm\n# a\n60,1e-9\n120,1e9\n",
	} {
		g.Add(seed)
	}
	g.Property = func(t *testing.T, text string) {
		t.Helper()
		idf, err := rainfall.ReadIDF(strings.NewReader(text), "rain.csv")
		if err != nil {
			if idf != nil || len(err.Error()) > 1000 {
				t.Fatalf("%v with %v", idf, err)
			}
			return
		}
		for i := range idf.Duration {
			if !(idf.Duration[i] > 0) || !(idf.Depth[i] >= 0) || math.IsInf(idf.Depth[i], 0) || i > 0 && !(idf.Duration[i] > idf.Duration[i-1]) {
				t.Fatalf("%v", idf)
			}
		}
		p, err := rainfall.Named(rainfall.Alternating, idf.Duration[len(idf.Duration)-1], idf)
		if err == nil && (p.Fraction[0] != 0 || !(math.Abs(p.Fraction[len(p.Fraction)-1]-1) <= 1e-9)) {
			t.Fatalf("%v", p)
		}
	}
	return g
}

func FuzzReadIDF(f *testing.F) { intensities().Fuzz(f) }

func TestSoakReadIDF(t *testing.T) { intensities().Soak(t) }
