package evidence_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
)

// A lone pit sqrt(12) standard errors deep behind a lone lip has an evidence of 12/2 = 6. That is less than any roof of spots asks for, 7; but at the foot of the one curb of a roof
// error alone makes it in fewer than one of a hundred (5.41 = 2.326 squared), while one of two curbs would have it by chance in more (6.63 = 2.576 squared). Quantiles of the normal
// distribution at 1 and 0.5 %, from a published table (recalled).
func TestThresholdBesideCurbs(t *testing.T) {
	const sigma = 0.005
	deep := math.Sqrt(12) * sigma
	for _, c := range []struct {
		name  string
		curbs []float64 // x of their western faces; the pit is at 1
		shown bool
	}{
		{"none", nil, false},
		{"one beside the pit", []float64{1.1}, true},
		{"one elsewhere", []float64{1.6}, false},
		{"two", []float64{1.1, 1.6}, false},
	} {
		r := channel(1, 0, deep, -0.1)
		for _, x := range c.curbs {
			shape.Curb(r, shape.At(x, 1.2, 0.5), shape.At(x+0.2, 1.2, 0.5), shape.At(x+0.2, 1.4, 0.5), shape.At(x, 1.4, 0.5))
		}
		_, ps, got := equal(t, r, sigma)
		if len(ps.Ponds) != 1 || got.Ponds[0].Shown != c.shown || math.Abs(got.Ponds[0].Evidence-6) > 0.01 {
			t.Errorf("%s: %+v, want one pond of evidence 6, shown %v", c.name, got.Ponds, c.shown)
		}
	}
}
