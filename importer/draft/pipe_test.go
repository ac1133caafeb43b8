package draft_test

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/importer/draft"
)

// Sizes of leaders by hand: an inch is 0.0254 m, a foot 0.3048 m. A side without a unit takes that of the side after it; what has no size is told from what is none.
func TestSizesOfLeaders(t *testing.T) {
	for _, c := range []struct {
		text                   string
		bare                   quantity.Unit
		diameter, width, depth float64
		imperial               bool
		fault                  string
	}{
		{text: "4 in", bare: quantity.Metres, diameter: 0.1016, imperial: true},
		{text: "0.1", bare: quantity.Metres, diameter: 0.1},
		{text: "0.5", bare: quantity.Feet, diameter: 0.1524, imperial: true},
		{text: "3x4 in", bare: quantity.Metres, width: 0.0762, depth: 0.1016, imperial: true},
		{text: "75 mm × 10 cm", bare: quantity.Feet, width: 0.075, depth: 0.1},
		{text: "0 in", bare: quantity.Metres, fault: "zero or negative"},
		{text: "3x0 in", bare: quantity.Metres, fault: "zero or negative"},
		{text: "wide", bare: quantity.Metres, fault: "not a length"},
		{text: "1x2x3 in", bare: quantity.Metres, fault: "write it like 4 in or 3x4 in"},
	} {
		p, imperial, err := draft.ParsePipe(c.text, c.bare)
		if c.fault != "" {
			if err == nil || !strings.Contains(err.Error(), c.fault) || c.fault != "zero or negative" && strings.Contains(err.Error(), "zero") {
				t.Errorf("%q: %v, want %q", c.text, err, c.fault)
			}
			continue
		}
		want := roof.Pipe{Diameter: quantity.Length(c.diameter), Width: quantity.Length(c.width), Depth: quantity.Length(c.depth)}
		if err != nil || imperial != c.imperial || !(math.Abs(float64(p.Diameter-want.Diameter))+math.Abs(float64(p.Width-want.Width))+math.Abs(float64(p.Depth-want.Depth)) <= 1e-12) {
			t.Errorf("%q: %+v, %v, %v, want %+v", c.text, p, imperial, err, want)
		}
	}
}
