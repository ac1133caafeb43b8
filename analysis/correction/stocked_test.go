package correction_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/correction"
	"runnel/analysis/correction/mend"
	"runnel/analysis/finding"
	"runnel/analysis/geometry/shape"
	"runnel/analysis/roof"
	"runnel/analysis/standard"
)

// humped is a roof of 20 by 10 m that rises 1.1 % from a gutter to a crest at 12 m, dips 26 mm to 14 m and rises 1.7 % to the wall: surveyed every metre.
func humped(scale, datum float64) *roof.Roof {
	z := func(x, _ float64) float64 {
		switch x /= scale; {
		case x <= 12:
			return datum + scale*0.011*x
		case x <= 14:
			return datum + scale*(0.132-0.013*(x-12))
		default:
			return datum + scale*(0.106+0.017*(x-14))
		}
	}
	l, w := 20*scale, 10*scale
	r := shape.New("humped", shape.At(0, 0, z(0, 0)), shape.At(l, 0, z(l, 0)), shape.At(l, w, z(l, w)), shape.At(0, w, z(0, w)))
	shape.Grid(r, 0, 0, l, w, 20, 10, z)
	shape.Edge(r, roof.Gutter, shape.Bare(0, w), shape.Bare(0, 0))
	return r
}

// TestSectionIsLaidInStock: what lies behind the crest is re-tapered from a cut line to the wall in boards of a rate in stock, over whole and half boards, and flat boards in steps of the stock behind them; by hand their
// volume is 10 m x (run x thickness / 2 + flat x thickness). The new surface falls 1/8 in per ft or more from the wall to the cut line, and what lies before it stays.
func TestSectionIsLaidInStock(t *testing.T) {
	const half = standard.Board / 2
	for _, s := range sizes {
		r := humped(s.scale, s.sum)
		out := corrected(t, r, correction.Input{Rates: standard.BoardRates, Steering: mend.Steering{Only: []mend.Kind{mend.Retaper}}})
		a, o := first(t, out)
		if !slices.ContainsFunc(a.Questions, func(q mend.Question) bool { return q.Decides == finding.Owner }) {
			t.Errorf("%s: the owner is not asked whether %g m2 are worth it", s.name, o.Opened)
		}
		if !o.Meets || o.PondsLeft > 0 || len(o.Worse)+len(o.Limits) > 0 {
			t.Fatalf("%s: meets %t, %d ponds left, worse %+v, limits %+v", s.name, o.Meets, o.PondsLeft, o.Worse, o.Limits)
		}
		want, rate, run, thick, front := 0.0, 0.0, 0.0, 0.0, 20*s.scale
		for i := range o.Design.Facets {
			f := &o.Design.Facets[i]
			if f.Existing {
				continue
			}
			b := f.Polygon.Bound()
			front = math.Min(front, b.Min[0])
			if g := math.Hypot(f.Taper[0], f.Taper[1]); g > 0 {
				rate, run = g, b.Max[0]-b.Min[0]
			}
		}
		thick = rate * run
		want = 10 * s.scale * (run*thick/2 + (20*s.scale-front-run)*thick)
		if !slices.ContainsFunc(standard.BoardRates, func(v float64) bool { return math.Abs(v-rate) < 1e-9 }) {
			t.Errorf("%s: no boards of %g are in stock", s.name, rate)
		}
		if flat := 20*s.scale - front - run; flat > 1e-6 {
			near(t, s.name+": half boards", run/half, math.Round(run/half), 0.01)
			near(t, s.name+": steps of flat boards", thick/standard.BoardFillStep, math.Round(thick/standard.BoardFillStep), 0.01)
		}
		near(t, s.name+": boards", o.Fill-o.Design.Leveller.Volume, want, 1e-3*want)
		last := math.Inf(-1)
		for x := front + 0.1; x < 20*s.scale; x += 0.25 {
			z, ok := o.Design.Height([2]float64{x, 5.3 * s.scale})
			if !ok || z < last+0.25*(1.0/96)-0.001 {
				t.Errorf("%s: at %g m the new surface stands at %g m, 0.25 m before it at %g m", s.name, x, z, last)
			}
			last = z
		}
		if z, _ := o.Design.Height([2]float64{front - 1, 3}); math.Abs(z-(s.sum+0.011*(front-1))) > 1e-6 && front <= 12*s.scale {
			t.Errorf("%s: the roof before the cut line changed", s.name)
		}
	}
}

// TestSectionKeepsOffOutlets: where an overflow stands in the wall behind, boards would bury it. Nothing in stock is laid, and what could be built up to measure is asked of the engineer: no answer meets before.
func TestSectionKeepsOffOutlets(t *testing.T) {
	r := humped(1, 0)
	shape.Scupper(r, 20, 5, 0.3)
	o := &r.Outlets[len(r.Outlets)-1]
	o.Duty, o.Invert, o.HasInvert = roof.Overflow, 0.23, true
	out := corrected(t, r, correction.Input{Rates: standard.BoardRates, Steering: mend.Steering{Only: []mend.Kind{mend.Retaper}}})
	a, opt := first(t, out)
	for i := range opt.Design.Facets {
		if opt.Design.Facets[i].Taper != (orb.Point{}) {
			t.Error("boards lie before the overflow")
		}
	}
	if a.Meets || opt.PondsLeft == 0 && !slices.ContainsFunc(a.Questions, func(q mend.Question) bool { return q.Decides == finding.Engineer }) {
		t.Errorf("meets %t, %d ponds left, questions %+v", a.Meets, opt.PondsLeft, a.Questions)
	}
}

// TestNothingFitsBeforeOutletsAreSurveyed: of a walled roof with a hollow and no outlet surveyed nobody knows what drains where: no answer meets, and each asks for the outlets first.
func TestNothingFitsBeforeOutletsAreSurveyed(t *testing.T) {
	r := shape.Box(12, 8, 1, 0.04)
	r.Outlets, r.Outline.NoOutlets = nil, false
	for i, a := range corrected(t, r, correction.Input{}).Answers {
		if a.Meets || !slices.ContainsFunc(a.Questions, func(q mend.Question) bool { return q.Where == "the whole roof" }) {
			t.Errorf("answer %d: meets %t, questions %+v", i+1, a.Meets, a.Questions)
		}
	}
}
