package standard_test

import (
	"math"
	"testing"

	"runnel/analysis/quantity"
	"runnel/analysis/standard"
)

// W17, READ (public presentation; Fanella, chapter on rain loads): 1, 5 and 12 in of water weigh 5.2, 26 and 62.4 psf.
// The constants of this package differ from the printed 5.2 by 0.05 %.
func TestDepthToLoadAsPublished(t *testing.T) {
	for inches, want := range map[float64]float64{1: 5.2, 5: 26, 12: 62.4} {
		printed := standard.RainLoadInch * inches
		computed := inches * float64(quantity.Inch) * standard.WaterDensity * standard.Gravity / quantity.PoundPerSquareFoot
		if !(math.Abs(printed-want) <= 1e-9) || !(math.Abs(computed-want) <= 0.001*want) {
			t.Errorf("%g in: printed factor %g, computed %g, want %g psf", inches, printed, computed, want)
		}
	}
	if got := standard.WaterDensity * standard.Gravity / 1e6; !(math.Abs(got-standard.RainLoadMillimetre) <= 0.001*got) {
		t.Errorf("a millimetre is %g kPa, the printed factor is %g", got, standard.RainLoadMillimetre)
	}
}

func TestRulesOnOverflowsNameTheirSource(t *testing.T) {
	rules := append([]standard.Rule{standard.OverflowPresent, standard.OverflowSeparate, standard.OverflowOpening, standard.TwoOutlets}, standard.OverflowHeights...)
	for _, v := range standard.OverflowVariants {
		rules = append(rules, v.Rule)
	}
	for _, r := range rules {
		if r.What == "" || r.Source.Text == "" {
			t.Errorf("rule %+v", r)
		}
	}
	if standard.OverflowVariants[0].Name != standard.OverflowByFlow {
		t.Error("the variant that is compared with does not stand first")
	}
}
