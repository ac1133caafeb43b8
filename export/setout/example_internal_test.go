package setout

import (
	"math"
	"regexp"
	"testing"

	"runnel/analysis/quantity"
	"runnel/export/record"
	"runnel/export/sample"
)

var example = regexp.MustCompile(`the rod reads (.+) on the bench mark\. At point (\d+) \(surface ([+–]?)(.+?)( above| below|)\) it should read (.+)\.$`)

// A rod reads less on what stands higher: what it should read and how high the point stands add up to what it reads on the bench mark, to what is
// written: a millimetre, or an eighth of an inch for each number.
func TestTheExampleOfARodAddsUp(t *testing.T) {
	for name, b := range map[string]*record.Book{
		"si": record.NewBook(sample.Study(sample.Local()), "", record.SI), "us": record.NewBook(sample.Study(sample.Feet()), "", record.US),
	} {
		s, err := New(b, "")
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for len(s.Points) > 0 { // each point once the first
			text := s.example()
			if text != "" {
				m := example.FindStringSubmatch(text)
				if m == nil {
					t.Fatalf("%s: %q", name, text)
				}
				length := func(text string) float64 {
					l, err := quantity.ParseLength(text, quantity.Unstated)
					if err != nil {
						t.Fatalf("%s: %q: %v", name, text, err)
					}
					return float64(l)
				}
				height := length(m[4])
				if m[3] == "–" || m[5] == " below" {
					height = -height
				}
				seen++
				if off := length(m[1]) - height - length(m[6]); !(math.Abs(off) <= 0.0032) || height == 0 {
					t.Errorf("%s: %q is off by %g m", name, text, off)
				}
			}
			s.Points = s.Points[1:]
		}
		if seen == 0 {
			t.Errorf("%s: no example", name)
		}
	}
}
