package correction_test

import (
	"slices"
	"strings"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// TestMoneyDecides: a drain that is 12 mm high is set down; where its resetting costs a thousand and a cubic metre of fill a hundred, filling to it is taken, and
// where fill costs more it is not. Money never takes what leaves a pond: doing nothing is cheapest.
func TestMoneyDecides(t *testing.T) {
	r := falls(2, 1, 10, 0, even)
	r.Outlets[0].Invert += 0.012
	for _, c := range []struct {
		reset, solid float64
		want         mend.Kind
	}{{1000, 100, mend.Fill}, {1000, 1e6, mend.LowerOutlet}} {
		price := func(o *correction.Option) (float64, bool) {
			sum := c.solid*o.Fill + 1e5*float64(o.NewOutlets)
			if o.Roof.Outlets[0].Invert != r.Outlets[0].Invert || o.Cut > 0.001 {
				sum += c.reset
			}
			if change(o, mend.Retaper) != nil {
				sum += 1e5
			}
			return sum, true
		}
		_, o := first(t, corrected(t, r, correction.Input{Cost: price}))
		if o.Kind != c.want || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 {
			t.Errorf("reset at %g, fill at %g: %s, %d ponds left", c.reset, c.solid, o.Kind, o.PondsLeft)
		}
	}
}

// tilt makes all elevations of a surface so many times as great.
func tilt(r *roof.Roof, times float64) {
	for i := range r.Spots {
		r.Spots[i].Z *= times
	}
	for i := range r.Outline.Rings[0] {
		r.Outline.Rings[0][i].Z *= times
	}
}

// TestReroofingSaysWhatIsAskedApart: planes of 1.5 % are under 1/4 in per ft: the code's exemption is named; planes of 2.5 % are not. A roof without an overflow is told what the
// code asks of one.
func TestReroofingSaysWhatIsAskedApart(t *testing.T) {
	r := falls(2, 1, 10, 0, even)
	tilt(r, 0.75)
	r.Outlets = slices.DeleteFunc(r.Outlets, func(o roof.Outlet) bool { return o.Duty == roof.Overflow })
	a := corrected(t, r, correction.Input{}).Answers[2]
	if len(a.Asked) != 3 || !strings.Contains(a.Asked[0].Format, "drains within 48 h") || !strings.HasPrefix(a.Asked[1].Format, "Overflow") || len(a.Practice) == 0 {
		t.Errorf("asked %+v, practice %+v", a.Asked, a.Practice)
	}
	steep := falls(2, 1, 10, 0, even)
	tilt(steep, 1.25)
	out := corrected(t, steep, correction.Input{})
	if a = out.Answers[2]; len(a.Asked) != 2 || strings.Contains(a.Asked[0].Format, "exempt") {
		t.Errorf("asked %+v", a.Asked)
	}
	for i, b := range out.Answers[:2] {
		if len(b.Asked)+len(b.Practice) > 0 {
			t.Errorf("answer %d asks for %+v", i+1, b.Asked)
		}
	}
}

// TestEngineersFigureForOverflows: an overflow 3 in over its drain is for an engineer by the rule of 2 in, and not where the engineer has said 4 in.
func TestEngineersFigureForOverflows(t *testing.T) {
	asks := func(stated float64) bool {
		r := falls(1, 1, 12, 0, even)
		r.Outlets[1].Invert = 3 * inch
		if stated > 0 {
			r.Criteria = standard.Overrides{"overflow_height": stated}
		}
		out := corrected(t, r, correction.Input{})
		return slices.ContainsFunc(out.EngineerFirst, func(e correction.Reason) bool {
			return strings.Contains(e.Why.Format, "overflow stands more") && e.Decides == finding.Engineer
		})
	}
	if !asks(0) || asks(4*float64(quantity.Inch)) || !asks(2.2*float64(quantity.Inch)) {
		t.Errorf("unstated %t, 4 in %t, 2.2 in %t", asks(0), asks(4*inch), asks(2.2*inch))
	}
}
