package correction_test

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/quantity"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// shop falls at 2 % to a gutter whose edge was left 45 mm high, with a unit behind which the insulation is pressed down by 35 mm and wet.
func shop(scale, datum float64) *roof.Roof {
	l, w := 16*scale, 12*scale
	c := orb.Point{8 * scale, 8*scale + 0.5}
	h := func(x, y float64) float64 {
		z := datum + 0.02*y + 0.045*math.Max(0, 1-y/1.2)
		return z - 0.035*math.Max(0, 1-math.Max(math.Abs(x-c[0])/1.2, math.Abs(y-c[1])/1.0))
	}
	r := shape.New("shop", shape.At(0, 0, h(0, 0)), shape.At(l, 0, h(l, 0)), shape.At(l, w, h(l, w)), shape.At(0, w, h(0, w)))
	a, b := 8*scale-1, 8*scale+1
	shape.Curb(r, shape.Bare(a, 8*scale-1.5), shape.Bare(b, 8*scale-1.5), shape.Bare(b, 8*scale), shape.Bare(a, 8*scale))
	for y := 0.0; y <= w+1e-9; y += 0.5 {
		for x := 0.0; x <= l+1e-9; x += 0.5 {
			if x > a-0.05 && x < b+0.05 && y > 8*scale-1.55 && y < 8*scale+0.05 {
				continue
			}
			shape.Spot(r, math.Min(x, l), math.Min(y, w), h(math.Min(x, l), math.Min(y, w)))
		}
	}
	for _, x := range []float64{a, (a + b) / 2, b} {
		shape.Spot(r, x, 8*scale, h(x, 8*scale))
		shape.Spot(r, x, 8*scale-1.5, h(x, 8*scale-1.5))
	}
	shape.Edge(r, roof.Gutter, shape.Bare(0, 0), shape.Bare(l, 0))
	r.Cores = append(r.Cores, core("K1", c, 0.05, "wet"))
	return r
}

// TestHighEdgeAndWetInsulation: the extent of the wet is found and it is replaced, a cricket follows if any, the edge comes last; no drain is cut through the deck, nothing is
// laid over what is wet, and no pond is left. Sizes, a datum and units in feet make no difference.
func TestHighEdgeAndWetInsulation(t *testing.T) {
	for _, s := range sizes {
		for _, feet := range []bool{false, true} {
			r := shop(s.scale, s.sum)
			if feet {
				shape.ReadInFeet(r)
			}
			a, o := first(t, corrected(t, r, correction.Input{}))
			if o.PondsLeft > 0 || o.NewOutlets > 0 || len(o.Worse)+len(o.Limits) > 0 {
				t.Errorf("%s, feet %t: %v, %d ponds left, %d new outlets, worse %+v, limits %+v", s.name, feet, kinds(o), o.PondsLeft, o.NewOutlets, o.Worse, o.Limits)
			}
			list := kinds(o)
			patch, edge := slices.Index(list, mend.ReplacePatch), slices.Index(list, mend.LowerEdge)
			if patch < 0 || edge < patch || slices.Contains(list, mend.Fill) {
				t.Errorf("%s, feet %t: %v", s.name, feet, list)
			}
			if !slices.ContainsFunc(a.Questions, func(q mend.Question) bool { return strings.HasPrefix(q.Where, "cores outward from") }) {
				t.Errorf("%s, feet %t: nobody asks how far the wet reaches: %+v", s.name, feet, a.Questions)
			}
		}
	}
}

// TestWhatNoSurfaceMends: a sound roof whose leader is too small for the rain and whose overflow stands 6-1/2 in over its drain: an engineer first, nothing is built, and no
// answer meets.
func TestWhatNoSurfaceMends(t *testing.T) {
	for _, s := range sizes {
		r := falls(2, 1, 12*s.scale, s.sum, even)
		r.Criteria = standard.Overrides{"rain_primary": 4 * float64(quantity.InchPerHour), "rain_overflow": 8 * float64(quantity.InchPerHour)}
		for i := range r.Outlets {
			r.Outlets[i].Diameter = quantity.Length(6 * inch)
		}
		r.Outlets[0].Diameter, r.Outlets[0].Leader = quantity.Length(4*inch), roof.Pipe{Diameter: quantity.Length(2 * inch)}
		r.Outlets[3].Invert = s.sum + 6.5*inch
		out := corrected(t, s.surveyed(r), correction.Input{})
		a, o := first(t, out)
		if len(out.EngineerFirst) == 0 || out.Best >= 0 || o.Opened > 0 || !slices.Equal(kinds(o), []mend.Kind{mend.Clear, mend.Structure}) {
			t.Errorf("%s: engineer %+v, best %d, %v, opens %g", s.name, out.EngineerFirst, out.Best, kinds(o), o.Opened)
		}
		// With the overflow's height as the engineer allows it nobody has to be asked first, and the leader is still too small.
		allowed := *r
		allowed.Criteria = maps.Clone(r.Criteria)
		allowed.Criteria["overflow_height"] = 7 * inch
		if out := corrected(t, &allowed, correction.Input{}); len(out.EngineerFirst) > 0 || out.Best >= 0 || !out.Options[out.Answers[0].Option].Overtaxed() {
			t.Errorf("%s, overflow allowed: engineer %+v, best %d", s.name, out.EngineerFirst, out.Best)
		}
		for _, k := range []finding.Kind{finding.OutletSmall, finding.OverflowHigh} {
			if !slices.ContainsFunc(a.Left, func(l correction.Leftover) bool { return l.Kind == k }) {
				t.Errorf("%s: %s is not named as left: %+v", s.name, k, a.Left)
			}
		}
	}
}
