package correction_test

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
)

// TestFlatRoofIsRetaperedInFewSections: a roof of 3,000 m2 without any fall, six drains. What brings it to the limit is stock boards, no more than four sections a drain, flush at the drains; what is done at re-roofing
// is too, from the thin edge on. Each falls 1/8 and 1/4 in per ft: by hand, the boards over level ground are one taper and no leveller.
func TestFlatRoofIsRetaperedInFewSections(t *testing.T) {
	const l, w = 60.0, 50.0
	r := shape.New("flat", shape.At(0, 0, 5), shape.At(l, 0, 5), shape.At(l, w, 5), shape.At(0, w, 5))
	r.Outline.Edge = roof.Wall
	shape.Grid(r, 0, 0, l, w, 20, 16, func(_, _ float64) float64 { return 5 })
	for _, x := range []float64{10, 30, 50} {
		for _, y := range []float64{12.5, 37.5} {
			o := shape.Drain(r, x, y, 0.3)
			o.Invert, o.HasInvert = 5, true
			o = shape.Drain(r, x+1, y, 0.15)
			o.Duty, o.Invert, o.HasInvert = roof.Overflow, 5.05, true
		}
	}
	const eighth = 1.0 / 96
	res := corrected(t, r, correction.Input{Rates: []float64{eighth / 2, eighth, 1.5 * eighth, 2 * eighth, 3 * eighth, 4 * eighth}})
	for i, a := range res.Answers[1:] {
		o := &res.Options[a.Option]
		want := []mend.Kind{mend.Retaper, mend.Overlay}[i]
		if o.Kind != want || o.Design == nil || !o.Design.Stocked() || o.PondsLeft+o.FlatLeft > 0 {
			t.Errorf("%s: %s, %d ponds, %d flat", a.Name, o.Kind, o.PondsLeft, o.FlatLeft)
			continue
		}
		if n := len(o.Design.Facets); n > 24 {
			t.Errorf("%s: %d sections", a.Name, n)
		}
		if v := o.Design.Leveller.Volume; v > 0 {
			t.Errorf("%s: %g m3 of leveller on a level roof", a.Name, v)
		}
		near(t, a.Name+": thickness at the drains", o.Design.Thickness, []float64{0, inch / 2}[i], 1e-9)
	}
}

// TestOverflowHasAPlace: a walled roof without an overflow gets a place drawn for one, clear of the drain, in each answer, and no answer meets before the engineer has said so.
func TestOverflowHasAPlace(t *testing.T) {
	r := falls(2, 1, 12, 0, even)
	r.Outlets = slices.DeleteFunc(r.Outlets, func(o roof.Outlet) bool { return o.Duty == roof.Overflow })
	res := corrected(t, r, correction.Input{})
	if len(res.EngineerFirst) == 0 {
		t.Error("no engineer first")
	}
	for _, a := range res.Answers {
		o := &res.Options[a.Option]
		i := slices.IndexFunc(o.Changes, func(c mend.Change) bool { return c.Finding == finding.NoOverflow })
		if i < 0 || a.Meets {
			t.Fatalf("%s: no place, or it meets: %+v", a.Name, kinds(o))
		}
		if far := math.Hypot(o.Changes[i].At[0]-6, o.Changes[i].At[1]-6); far < 0.61 || far > 1.01 {
			t.Errorf("%s: the place is %g m from the drain", a.Name, far)
		}
	}
}
